// The whole protocols of the standard library: each walks to its end without an error and without a warning under the packs that it
// uses, and what a hospital changes first is one line.

#include <algorithm>
#include <map>

#include "doctest/doctest.h"

#include "orders.hpp"
#include "resolve/standard_library.hpp"

using namespace stepward;
using namespace stepward::published;

namespace {

/// Names and texts of the library's protocols.
const std::map<std::string, std::string>& protocols() {
  static const std::map<std::string, std::string> all = [] {
    std::map<std::string, std::string> found;
    for (const auto& file : resolve::standard_files()) {
      const std::string path(file.path), folder = "protocols/";
      if (path.rfind(folder, 0) == 0) found[path.substr(folder.size(), path.rfind('.') - folder.size())] = std::string(file.text);
    }
    return found;
  }();
  return all;
}

std::size_t count(const model::Protocol& protocol, model::Statement::What what, model::BlockId block) {
  std::size_t found = 0;
  if (!block) return 0;
  for (const model::Statement& statement : protocol[block].statements) {
    found += statement.what == what;
    found += count(protocol, what, statement.block) + count(protocol, what, statement.fallback);
    for (const auto& arm : statement.arms) found += count(protocol, what, arm.block);
  }
  return found;
}

std::size_t count(const model::Protocol& protocol, model::Statement::What what) {
  std::size_t found = 0;
  for (const auto& phase : protocol.phases) found += count(protocol, what, phase.block);
  return found;
}

std::size_t warnings(const Checked& checked) {
  return static_cast<std::size_t>(std::count_if(checked.all.begin(), checked.all.end(), [](const auto& d) { return d.severity == diagnostics::Severity::warning; }));
}

/// The protocol with one piece of one line put in the place of another.
std::string edited(const std::string& name, const std::string& from, const std::string& to) {
  std::string text = protocols().at(name);
  const std::size_t at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

Checked check_clean(const std::string& text) {
  Checked checked = check_text(text);
  CAPTURE(codes(checked));
  CHECK(checked.complete);
  CHECK(checked.errors.empty());
  return checked;
}

}  // namespace

TEST_CASE("library: every protocol walks complete, without an error or a warning") {
  for (const auto& [name, text] : protocols()) {
    CAPTURE(name);
    const Checked checked = check_text(text);
    CAPTURE(codes(checked));
    CHECK(checked.complete);
    CHECK(checked.errors.empty());
    CHECK(warnings(checked) == 0);
  }
}

TEST_CASE("library: there are at least fourteen protocols, eight of them long and with a branch") {
  CHECK(protocols().size() >= 14);
  std::size_t long_ones = 0;
  for (const auto& [name, text] : protocols()) {
    const Checked checked = check_text(text);
    REQUIRE(checked.protocol.has_value());
    using What = model::Statement::What;
    long_ones += count(*checked.protocol, What::line) >= 25 && count(*checked.protocol, What::question) > 0;
  }
  CHECK(long_ones >= 8);
}

TEST_CASE("library: what has nothing to do with protective equipment uses no word of it") {
  for (const char* name : {"hand-rub", "hand-wash"}) {
    CAPTURE(name);
    const Checked checked = check_text(protocols().at(name));
    REQUIRE(checked.protocol.has_value());
    CHECK(checked.protocol->items.empty());
  }
  for (const char* name : {"hand-rub", "hand-wash", "central-line-insertion"}) {
    const Checked checked = check_text(protocols().at(name));
    REQUIRE(checked.protocol.has_value());
    for (const char* kind : {"suit", "apron", "head cover", "eye cover", "foot cover", "breathing cover"}) {
      CAPTURE(kind);
      CHECK(std::none_of(checked.protocol->kinds.begin(), checked.protocol->kinds.end(), [&](const auto& each) { return each.name == kind; }));
    }
  }
}

TEST_CASE("library: another disinfectant is one line, and one that does not reach everything is refused") {
  const std::string usual = "disinfect with strong chlorine unless", own = "disinfect with ward fluid unless";
  const std::string declared = R"(
agent ward fluid
  ready to use
  works on gloves, suit, apron, head cover, eye cover, foot cover, blower unit, clothing, hard surface
  never on bare hands, face, eyes
  contact time 2 minutes otherwise
end agent

variants
)";
  for (const char* name : {"respirator-exit", "respirator-entry", "powered-hood-exit", "powered-hood-entry", "field-exit", "field-entry"}) {
    CAPTURE(name);
    const std::string text = edited(name, "\nvariants\n", declared);
    const std::size_t at = text.find(usual);
    REQUIRE(at != std::string::npos);
    const Checked checked = check_clean(std::string(text).replace(at, usual.size(), own));
    const auto& agents = checked.protocol->agents;
    CHECK(std::none_of(checked.protocol->lines.begin(), checked.protocol->lines.end(), [&](const auto& line) {
      return line.agent && agents[line.agent.value].name == "strong chlorine";
    }));
  }
  const Checked rubbed = check_text(edited("respirator-exit", usual, "disinfect with hand rub unless"));
  CHECK_MESSAGE(!rubbed.errors.empty(), "hand rub reaches no boots");
}

TEST_CASE("library: another suit, another eye cover or another stock is one line") {
  for (const char* left_out : {"coverall", "gown", "goggles", "face shield", "rubber boots", "boot covers"}) {
    CAPTURE(left_out);
    check_clean(edited("respirator-exit", "\nend variants", std::string("\n  never together ") + left_out + "\nend variants"));
  }
  check_clean(edited("respirator-exit", "eye choice is goggles or face shield", "eye choice is face shield"));
  check_clean(edited("respirator-exit", "\nvariants\n", "\nstock for strong chlorine is powder \"calcium hypochlorite\" at 70 percent\n\nvariants\n"));
  check_clean(edited("field-exit", "\nvariants\n", "\nstock for strong chlorine is \"thick bleach\" at 5 percent\n\nvariants\n"));
}
