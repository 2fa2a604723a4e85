#include "orders.hpp"

#include <algorithm>
#include <fstream>
#include <sstream>

#include <fmt/format.h>

#include "base/file_access.hpp"
#include "model/from_syntax.hpp"
#include "resolve/imports.hpp"

namespace stepward::published {
namespace {

/// What an order that names no technique does. Suits are opened by the wearer alone; the rest is as the item says.
std::string technique_of(std::string_view item) {
  if (item == "gown") return " using untie and roll";
  if (item == "coverall") return " using unzip and roll";
  if (item == "rubber boots") return " using heel against heel";
  return "";
}

std::string removal(const std::string& thing) {
  if (thing.find(" using ") != std::string::npos) return "  take off " + thing + "\n";
  if (const auto both = thing.find(" & "); both != std::string::npos)
    return fmt::format("  take off {} and {} together using roll into one\n", thing.substr(0, both), thing.substr(both + 3));
  return "  take off " + thing + technique_of(thing) + "\n";
}

std::string look(const std::string& thing) {
  return fmt::format("  observer inspects {0} for soil\n  if soil on {0}\n    clean soil from {0} using wipe from the top down\n  end if\n", thing);
}

// One act of an order as lines of the language.
std::string lines_of(std::string_view act, bool chlorine) {
  const auto rest = [&](std::string_view head) { return std::string(act.substr(head.size())); };
  if (act == "enter") return "  move to exit area\n";
  if (act == "leave") return "  move to clean lobby\n";
  if (act == "exit") return "  move to corridor\n";
  if (act == "hh") return fmt::format("  disinfect hands with {}\n", chlorine ? "strong chlorine" : "hand rub");
  if (act == "rub") return fmt::format("  disinfect bare hands with {}\n", chlorine ? "mild chlorine" : "hand rub");
  if (act == "soap") return "  disinfect bare hands with hand soap\n";
  if (act.starts_with("don ")) return "  put on " + rest("don ") + "\n";
  if (act.starts_with("look ")) return look(rest("look "));
  if (act.starts_with("wipe ")) return fmt::format("  disinfect {} with strong chlorine\n", rest("wipe "));
  if (act.starts_with("say ")) return "  " + rest("say ") + "\n";
  return removal(rest("off "));
}

std::string uses(const std::vector<std::string>& packs) {
  std::string out;
  for (const std::string& pack : packs)
    out += pack.find(".ward") == std::string::npos ? fmt::format("use rules standard \"{}\"\n", pack) : fmt::format("use rules \"{}\"\n", pack);
  return out;
}

constexpr std::string_view head = R"(stepward 1 protocol

document
  title "{}"
  number PUB-1
  version 1.0
  status draft
  written by "test suite", "office"
end document

use library "kit.ward"
{}
reading {}

zone care room
  risk high
  exposes {}
  leads to exit area, corridor
  in sight of exit area
end zone
zone exit area
  risk middle
  leads to clean lobby
end zone
zone clean lobby
  risk low
  leads to care room
end zone
# Basic sheets speak of four items, not of shoes at a border: so the risk here is not low.
zone corridor
  risk middle
  leads to care room
end zone

endings
  done is normal
{}end endings

people
  wearer begins in care room wearing scrubs, {}
  observer begins in exit area wearing scrubs, clogs, boot covers, inner gloves, gown, face shield, outer gloves
  helper begins in exit area wearing scrubs, clogs, boot covers, inner gloves, gown, face shield, outer gloves
  observer ends dressed, continue with PUB-2
  helper ends dressed, continue with PUB-2
  wearer acts unless a line names someone else
end people

phase "All of it"
)";

/// What an order promises at its end: that the wearer is out, and clean.
std::string end_of(const Order& order) {
  const auto has = [&](std::string_view act) { return std::find(order.acts.begin(), order.acts.end(), act) != order.acts.end(); };
  if (!has("leave") && !has("exit")) return "";
  // Scrubs under an apron alone are splashed whatever one does.
  const bool covered = order.wearing.find("gown") != std::string_view::npos || order.wearing.find("coverall") != std::string_view::npos;
  return fmt::format("    wearer is in {}\n    clean bare hands of wearer{}\n", has("leave") ? "clean lobby" : "corridor", covered ? ", scrubs of wearer" : "");
}

}  // namespace

bool is_regression_only(Mark mark) { return mark == Mark::memory_medium || mark == Mark::reconstructed; }

std::string_view words(Mark mark) {
  switch (mark) {
    case Mark::read: return "read";
    case Mark::read_in_another: return "read in another's account";
    case Mark::memory_high: return "from memory";
    case Mark::memory_medium: return "from memory, regression only";
    case Mark::reconstructed: return "reconstructed, regression only";
  }
  return "";
}

std::string protocol_text(const Order& order, const Written& how) {
  std::string text = fmt::format(head, order.id, uses(how.packs), how.reading, how.exposes, end_of(order), order.wearing);
  for (std::string_view act : order.acts) text += lines_of(act, order.chlorine);
  return text + "  finish as done\nend phase\n";
}

std::vector<std::string> own_packs(const Order& order) {
  std::vector<std::string> out;
  std::istringstream packs{std::string(order.own_packs)};
  for (std::string pack; std::getline(packs, pack, ',');) out.push_back(pack.substr(pack.find_first_not_of(' ')));
  return out;
}

std::string_view reading_of(const Order& order) {
  return order.wearing.find("single gloves") == std::string_view::npos ? "ordinary hands" : "perfect hands";
}

std::string file_text(const std::string& name) {
  std::ifstream in(std::string(STEPWARD_SOURCE_DIR) + "/tests/published/" + name, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

FilesInMemory files_of(const std::string& text) {
  FilesInMemory memory;
  memory.put("order.ward", text);
  for (const char* name : {"kit.ward", "matrix-rules.ward"}) memory.put(name, file_text(name));
  return memory;
}

Checked check_text(const std::string& text, std::string_view only_rule) {
  const FilesInMemory memory = files_of(text);
  diagnostics::Sink sink;
  Checked out;
  out.text = text;
  const auto loaded = resolve::load("order.ward", memory, out.files, sink);
  out.protocol = model::build(loaded, out.files, sink);
  if (out.protocol) {
    if (!only_rule.empty()) std::erase_if(out.protocol->rules, [&](const model::Rule& r) { return r.number != only_rule; });
    check::Options options;
    options.workers = 1;
    out.verdict = check::check(*out.protocol, options, sink);
    out.complete = out.verdict.complete;
  }
  for (const auto& d : sink) if (d.severity == diagnostics::Severity::error) out.errors.push_back(d);
  out.all = std::move(sink);
  return out;
}

std::string codes(const Checked& checked) {
  std::string out;
  for (const auto& d : checked.errors) {
    const auto at = checked.files.position(d.at.file, d.at.begin);
    std::string line = checked.files.path(d.at.file) + ":" + std::to_string(at.line) + " " + std::string(diagnostics::code_name(d.code));
    for (const std::string& arg : d.args) line += " | " + arg;
    out += line + "\n";
  }
  return out;
}

}  // namespace stepward::published
