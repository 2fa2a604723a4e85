#include "random_block.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <random>
#include <vector>

#include "base/file_access.hpp"
#include "diagnostics/render.hpp"
#include "model/from_syntax.hpp"
#include "resolve/imports.hpp"

namespace stepward::tests {
namespace {

const char* const frame = R"(stepward 1 protocol

document
  title   "Any order"
  number  ASH-01
  version 1.0
end document

use library standard "layered-equipment"
use library standard "team"
use library standard "disinfectants"
use library standard "cleansing"

surface used tray
  made of hard surface
  begins suspect
  stands in exit area
end surface
surface clean shelf
  made of hard surface
  begins clean
  stands in exit area
end surface

variants
  eye choice is goggles or face shield
end variants

)";

constexpr const char* counted[] = {"one", "two", "three", "four", "five"};

class Maker {
 public:
  explicit Maker(const Wanted& wanted) : wanted_(wanted), random_(wanted.seed) {}

  std::string make() {
    std::string blocks;
    for (unsigned b = 0; b < wanted_.blocks; ++b) blocks += block(b);
    return frame + people() + interruption() + (wanted_.called_twice ? routine(blocks) : "") + phases(blocks) + rules();
  }

 private:
  unsigned pick(unsigned below) { return static_cast<unsigned>(random_() % below); }

  std::string block(unsigned number) {
    std::string out = "  in any safe order\n";
    for (unsigned i = 0; i < wanted_.lines; ++i) {
      const std::string name = std::string(number == 0 ? "left" : "right") + " " + counted[i];
      names_.push_back(name);
      out += line(name);
    }
    return out + "  end order\n";
  }

  std::string line(const std::string& name) {
    const std::string known = "      known as " + name + "\n";
    switch (wanted_.acts_only ? 0 : pick(11)) {
      case 9:
      case 10:
      case 0: return "    act \"Wait for the sign.\"\n" + known;
      case 1: return "    act \"Push the tray away.\" touching used tray\n" + known;
      case 2: return "    disinfect hands with strong chlorine\n" + known;
      case 3: return worn("plastic apron") ? plain(known) : "    take off plastic apron using break the loop\n" + known;
      case 4: return worn("eye choice") ? plain(known) : "    take off eye choice using strap from behind\n" + known;
      case 5: return worn("coverall") ? plain(known) : "    take off coverall using roll down from inside\n" + known;
      case 6: return "    act \"Hold the shelf.\" touching clean shelf\n" + known;
      case 7: return "    act \"Look down.\" only for goggles\n" + known;
      default: return look(name, known);
    }
  }

  static std::string plain(const std::string& known) { return "    act \"Stand still.\"\n" + known; }

  /// False the first time; from then on it is worn.
  bool worn(const std::string& item) {
    if (std::find(worn_.begin(), worn_.end(), item) != worn_.end() || wanted_.called_twice) return true;
    worn_.push_back(item);
    return false;
  }

  std::string look(const std::string& name, const std::string& known) {
    looked_ = !looked_;
    if (looked_) return "    observer inspects inner gloves for tear\n" + known;
    return "    if tear on inner gloves\n      act \"Keep the hand up.\" touching used tray\n        known as " + name + "\n    end if\n";
  }

  std::string people() const {
    std::string out = "people\n  wearer begins in exit area wearing scrubs, inner gloves";
    for (const char* item : {"coverall", "plastic apron", "eye choice"})
      if (std::find(worn_.begin(), worn_.end(), item) != worn_.end()) out += std::string(", ") + item;
    return out + "\n  observer begins in exit area wearing scrubs, clogs, inner gloves\n  observer ends dressed, continue with ASH-02\n"
                 "  wearer acts unless a line names someone else\nend people\n\nendings\n  done is normal\n    wearer wears inner gloves\nend endings\n\n";
  }

  std::string interruption() {
    if (pick(2) == 0) return "";
    return std::string("any time bell rings\n  happens nothing of its own\n  act \"Press the button.\"") + (pick(2) ? " touching used tray" : "") + "\n  resume\nend any time\n\n";
  }

  static std::string routine(const std::string& blocks) { return "routine all of it\n" + blocks + "end routine\n\n"; }

  std::string phases(const std::string& blocks) {
    if (wanted_.called_twice) return "phase \"First\"\n  act \"Begin.\"\n  do all of it\nend phase\nphase \"Then\"\n  act \"Again.\"\n  do all of it\n  finish as done\nend phase\n\n";
    return std::string("phase \"All\"\n") + (pick(2) ? "  act \"Begin.\"\n" : "") + blocks + (pick(3) ? "  disinfect hands with strong chlorine\n  act \"Hold the shelf again.\" touching clean shelf\n" : "") + "  finish as done\nend phase\n\n";
  }

  std::string rules() {
    std::string out;
    const unsigned count = wanted_.acts_only ? 4 : pick(5);
    for (unsigned r = 0; r < count; ++r) {
      const unsigned at = pick(static_cast<unsigned>(names_.size())), by = 1 + pick(static_cast<unsigned>(names_.size()) - 1);
      const std::string a = names_[at], b = names_[(at + by) % names_.size()], c = names_[pick(static_cast<unsigned>(names_.size()))];
      out += "rule R" + std::to_string(r + 1) + " number " + std::to_string(r + 1) + "\n";
      switch (wanted_.acts_only ? 0 : pick(4)) {
        case 0:
        case 1: out += "  before each wearer does " + a + "\n  require someone does " + b + "\n"; break;
        case 2: out += "  after each someone does " + a + "\n  require someone does " + b + "\n  before someone does " + c + "\n"; break;
        default: out += "  before each wearer takes off any item\n  require wearer disinfects hands\n  since hands of wearer touch anything unclean\n"; break;
      }
      out += std::string("  severity ") + (pick(6) == 0 ? "advisory" : "major") + "\n  because \"It matters here.\"\n  source common practice\nend rule\n\n";
    }
    return out;
  }

  Wanted wanted_;
  std::mt19937 random_;
  std::vector<std::string> names_, worn_;
  bool looked_ = false;
};

}  // namespace

std::string random_block(const Wanted& wanted) { return Maker(wanted).make(); }

ReadBlock read_block(const std::string& text) {
  FilesInMemory memory;
  memory.put("any.ward", text);
  ReadBlock out;
  diagnostics::Sink sink;
  const resolve::Loaded loaded = resolve::load("any.ward", memory, out.files, sink);
  auto protocol = model::build(loaded, out.files, sink, {"2031-01-15"});
  INFO(text);
  INFO(diagnostics::as_text(sink, out.files, {}));
  REQUIRE(protocol.has_value());
  out.protocol = std::move(*protocol);
  return out;
}

}  // namespace stepward::tests
