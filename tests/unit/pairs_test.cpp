// The example's exit and entry as a pair: whatever is dropped from one of the two is noticed.
#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <sstream>

#include "base/file_access.hpp"
#include "check/pairing.hpp"
#include "driver/pipeline.hpp"
#include "wording/messages.hpp"

using namespace stepward;

namespace {

std::string example(const std::string& name) {
  std::ifstream in(std::string(STEPWARD_SOURCE_DIR) + "/examples/" + name, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

std::string without(std::string text, const std::string& what) {
  const std::size_t at = text.find(what);
  REQUIRE_MESSAGE(at != std::string::npos, what);
  return text.erase(at, what.size());
}

/// What the comparison says of both texts, "V202 plastic apron are …" one a line; without the walk of the exit.
std::string differences(const std::string& exit, const std::string& entry) {
  FilesInMemory access;
  access.put("aldermoss-exit.ward", exit);
  access.put("aldermoss-entry.ward", entry);
  for (const char* other : {"aldermoss-library.ward", "aldermoss-rules.ward", "aldermoss-exit.es.ward"}) access.put(other, example(other));
  driver::Compilation made = driver::read("aldermoss-exit.ward", access, "2030-11-01");
  REQUIRE(made.protocol);
  REQUIRE(made.partners.size() == 1);
  const driver::Partner& partner = made.partners.front();
  if (!partner.protocol) return "the entry cannot be read";
  diagnostics::Sink found;
  const std::size_t compared = check::check_pair({*made.protocol, *partner.protocol, partner.said.named, partner.said.span, partner.said.name_span, false}, {}, found);
  CHECK((compared == 6 || !found.empty()));
  std::string text;
  for (const diagnostics::Diagnostic& finding : found)
    text += std::string(diagnostics::code_name(finding.code)) + " " + wording::headline(finding.code, finding.args) + "\n";
  return text;
}

const char* const worn_both[] = {"inner gloves", "suit choice", "respirator", "cloth hood", "eye choice", "plastic apron"};

}  // namespace

TEST_CASE("pairs: the example's entry ends as its exit begins") {
  CHECK(differences(example("aldermoss-exit.ward"), example("aldermoss-entry.ward")).empty());
}

TEST_CASE("pairs: an item that the exit forgets at its start is named") {
  const std::string exit = example("aldermoss-exit.ward"), entry = example("aldermoss-entry.ward");
  const std::size_t start = exit.find("wearer begins wearing foot choice");
  REQUIRE(start != std::string::npos);
  for (const std::string item : worn_both) {
    std::string mutant = exit;
    const std::size_t at = mutant.find(item + ", ", start);
    REQUIRE(at != std::string::npos);
    mutant.erase(at, item.size() + 2);
    const std::string said = differences(mutant, entry);
    CHECK_MESSAGE(said.find("V202") != std::string::npos, item << ": " << said);
    if (item.find("choice") == std::string::npos) CHECK_MESSAGE(said.find("V202 " + item) != std::string::npos, item << ": " << said);
  }
}

TEST_CASE("pairs: an item that the entry no longer puts on is named") {
  const std::string exit = example("aldermoss-exit.ward"), entry = example("aldermoss-entry.ward");
  // Without an apron the entry is still clean by itself: the care room does not ask for one.
  std::string mutant = without(entry, "plastic apron, ");
  mutant = without(mutant, "  put on plastic apron using loop over the head\n");
  mutant = without(mutant, "  helper acts \"Tie the apron behind, in a bow.\" touching tie of plastic apron of wearer\n");
  CHECK(differences(exit, mutant) == "V203 plastic apron is on here, not at the end of aldermoss-entry.ward\n");
  // Without a hood nobody may go in, so the entry itself is at fault.
  mutant = without(entry, "cloth hood, ");
  CHECK(differences(exit, mutant) == "V201 aldermoss-entry.ward has mistakes of its own\n");
}

TEST_CASE("pairs: where the entry ends is named") {
  std::string entry = example("aldermoss-entry.ward");
  entry = without(entry, "  move to care room\n    say \"Go in. Call through the glass if anything tears.\"\n");
  const std::size_t at = entry.find("wearer is in care room");
  REQUIRE(at != std::string::npos);
  entry.replace(at, 22, "wearer is in dressing room");
  CHECK(differences(example("aldermoss-exit.ward"), entry).find("V205 aldermoss-entry.ward ends in dressing room") != std::string::npos);
}
