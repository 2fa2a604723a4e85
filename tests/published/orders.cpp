#include "orders.hpp"

#include <sstream>

#include <fmt/format.h>

#include "base/file_access.hpp"
#include "model/from_syntax.hpp"

namespace stepward::published {
namespace {

// Straps, ties and zips are sheltered: with the front exposed, what a clean hand handles to open them is clean.
constexpr std::string_view kit = R"(stepward 1 library

document
  title "Equipment of the published orders"
  number PUB-KIT
  version 1.0
  status draft
  written by "test suite", "office"
end document

role wearer
end role
role observer
end role
role helper
end role

body site bare hands is skin, these are the hands
body site face is mucous
body site eyes is mucous
body site hair is hair
body site torso is skin
body site legs is skin
body site feet is skin

finding soil
  means surface soiled
  answered by cleaning, removal
  before any removal
end finding
finding tear
  means barrier broken
  answered by removal
  before normal ending
end finding

kind gloves
kind suit
kind garment
kind face cover
kind foot cover
kind head cover

item scrubs
  kind garment
  worn on torso, legs
  clothing
  stays on
  surfaces outside
end item
item shoes
  kind foot cover
  worn on feet
  reusable
  stays on
  surfaces outside
end item
item boot covers
  kind foot cover
  worn on feet
  surfaces outside, inside
  goes over shoes
end item
item inner gloves
  kind gloves
  worn on bare hands
  surfaces outside, cuff, inside
  goes over bare hands
end item
item outer gloves
  kind gloves
  worn on bare hands
  surfaces outside, cuff, inside
  goes over inner gloves
end item
item gown
  kind suit
  worn on torso, legs
  surfaces outside, sleeve, ties sheltered, inside
  goes over scrubs
  goes over cuff of inner gloves loosely
end item
item coverall
  kind suit
  worn on torso, legs
  surfaces outside, sleeve, zip sheltered, inside
  goes over scrubs
  goes over cuff of inner gloves loosely
end item
item apron
  kind garment
  worn on torso
  surfaces outside, neck band sheltered, inside
  goes over outside of gown, outside of coverall
end item
item respirator
  kind face cover
  worn on face
  surfaces front, straps sheltered
end item
item face shield
  kind face cover
  worn on eyes
  surfaces front, strap sheltered
end item
item hood
  kind head cover
  worn on hair
  surfaces outside, back sheltered, inside
end item
item powered hood
  kind face cover
  worn on face, eyes, hair
  surfaces outside, hem sheltered, inside
end item

agent glove wash
  ready to use
  works on gloves, bare hands, foot cover
  contact time 30 seconds otherwise
end agent

verb take off
  words "TAKE OFF [item]."
end verb
verb put on
  words "PUT ON [item]."
end verb
verb disinfect
  words "Disinfect [surface]."
end verb
verb inspect
  words "Look at [item]."
end verb
verb clean
  words "Wipe [surface]."
end verb
verb move
  words "Go to [place]."
end verb
verb pass
  words "Take [item]."
end verb

technique peel
  takes off any gloves
  handles cuff of it, inside of it
  words "Peel."
end technique
technique open and roll
  takes off gown, coverall
  handles inside of it held away from the body
  words "Roll."
end technique
technique untie and roll
  takes off gown
  handles ties of it
  handles inside of it held away from the body
  words "Untie."
end technique
technique unzip and roll
  takes off coverall
  handles zip of it
  handles inside of it held away from the body
  words "Unzip."
end technique
technique roll into one
  takes off any suit with any gloves
  handles outside of suit
  handles inside of suit held away from the body
  handles inside of gloves
  words "Roll into one."
end technique
technique pull over the head
  takes off gown
  handles outside of it
  brushes outside of it against hair
  words "Pull over the head."
end technique
technique break neck band
  takes off apron
  handles neck band of it, inside of it
  words "Break."
end technique
technique lift by the straps
  takes off respirator
  handles straps of it
  words "Straps."
end technique
technique lift by the strap
  takes off face shield
  handles strap of it
  words "Strap."
end technique
technique draw from behind
  takes off hood
  handles back of it
  words "From behind."
end technique
technique lift by the hem
  takes off powered hood
  handles hem of it
  words "Hem."
end technique
technique turn from the inside
  takes off boot covers
  handles inside of it held away from the body
  words "From the inside."
end technique
technique pull on
  puts on any item
  handles outside of it
  words "Pull on."
end technique
technique slip in
  puts on any gloves
  handles cuff of it
  words "Slip in."
end technique
technique wipe
  cleans anything
  handles it
  words "Wipe."
end technique
)";

std::string usual_technique(std::string_view item) {
  if (item == "gown") return "untie and roll";
  if (item == "coverall") return "unzip and roll";
  if (item == "apron") return "break neck band";
  if (item == "respirator") return "lift by the straps";
  if (item == "face shield") return "lift by the strap";
  if (item == "hood") return "draw from behind";
  if (item == "powered hood") return "lift by the hem";
  if (item == "boot covers") return "turn from the inside";
  return "peel";
}

// One act of an order as a line of the language.
std::string line_of(std::string_view act) {
  const auto rest = [&](std::string_view head) { return std::string(act.substr(head.size())); };
  if (act == "hh") return "  disinfect hands with glove wash\n";
  if (act == "exit") return "  move to corridor\n";
  if (act == "change inner gloves")
    return line_of("off inner gloves") + line_of("hh") + "  put on inner gloves using slip in\n";
  if (act.starts_with("don ")) return fmt::format("  put on {} using {}\n", rest("don "), act.ends_with("gloves") ? "slip in" : "pull on");
  if (act.starts_with("look ")) {
    const std::string thing = rest("look ");
    return fmt::format("  inspect {0} for soil\n  if soil on {0}\n    clean soil from {0} using wipe\n  end if\n", thing);
  }
  if (act.starts_with("wipe ")) return fmt::format("  disinfect {} with glove wash\n", rest("wipe "));
  if (act.starts_with("say ")) return "  " + rest("say ") + "\n";
  const std::string thing = rest("off ");
  if (const auto with = thing.find(" using "); with != std::string::npos) return fmt::format("  take off {}\n", thing);
  if (const auto both = thing.find(" & "); both != std::string::npos)
    return fmt::format("  take off {} and {} together using roll into one\n", thing.substr(0, both), thing.substr(both + 3));
  return fmt::format("  take off {} using {}\n", thing, usual_technique(thing));
}

}  // namespace

std::string kit_text() { return std::string(kit); }

std::string protocol_text(const Order& order, std::string_view reading, std::string_view exposes) {
  std::string text = fmt::format(R"(stepward 1 protocol

document
  title "{}"
  number PUB-1
  version 1.0
  status draft
  written by "test suite", "office"
end document

use library "kit.ward"

reading {}

zone care room
  risk high
  exposes {}
  leads to corridor
end zone
zone corridor
  risk {}
  leads to care room
end zone

endings
  done is normal
end endings

people
  wearer begins in care room wearing scrubs, shoes, {}
  observer begins in care room wearing scrubs, shoes, inner gloves, outer gloves
  observer ends dressed, continue with PUB-2
  wearer acts unless a line names someone else
end people

phase "All of it"
)", order.id, reading, exposes, order.beyond_the_door, order.wearing);
  for (std::string_view act : order.acts) text += line_of(act);
  return text + "  finish as done\nend phase\n";
}

Checked check_text(const std::string& text) {
  FilesInMemory memory;
  memory.put("order.ward", text);
  memory.put("kit.ward", kit_text());
  source::Files files;
  diagnostics::Sink sink;
  Checked out;
  out.text = text;
  const auto loaded = resolve::load("order.ward", memory, files, sink);
  if (const auto protocol = model::build(loaded, files, sink)) {
    check::Options options;
    options.workers = 1;
    out.complete = check::check(*protocol, options, sink).complete;
  }
  for (const auto& d : sink) if (d.severity == diagnostics::Severity::error) out.errors.push_back(d);
  return out;
}

std::string codes(const Checked& checked) {
  std::string out;
  for (const auto& d : checked.errors) {
    std::string line = std::to_string(d.at.begin) + " ";
    line += diagnostics::code_name(d.code);
    for (const std::string& arg : d.args) line += " | " + arg;
    out += line + "\n";
  }
  return out;
}

}  // namespace stepward::published
