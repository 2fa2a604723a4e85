#include "gathered.hpp"

#include <doctest/doctest.h>

#include <variant>

#include "driver/disk.hpp"
#include "driver/papers.hpp"

namespace stepward::test {

using namespace stepward::emit;

namespace {

const char* const ten_lines = R"(stepward 1 protocol
document
  title   "Ten lines out"
  number  ASH-77
  version 1.0
  status  approved
  written by  "Ann Other", "charge nurse" on 2030-12-01
  reviewed by "Bo Nemo", "infection prevention" on 2030-12-02
  approved by "Cy Else", "medical director" on 2030-12-03
  in force from 2031-01-01
  review due    2032-01-01
end document
use library standard "layered-equipment"
use library standard "team"
use library standard "disinfectants"
surface used bench
  made of hard surface
  begins suspect
  stands in exit area
end surface
surface clean shelf
  made of hard surface
  stands in exit area
end surface
people
  wearer begins in exit area wearing scrubs, inner gloves, outer gloves, plastic apron
  wearer acts unless a line names someone else
end people
endings
  clean exit is normal
end endings
rule TL1 clean hands before the apron
  before each wearer takes off plastic apron
  require wearer disinfects hands
  severity critical
  because "What the gloves carry would reach the neck."
  source read "A handbook, page 7"
end rule
rule TL2 no hood without a look
  before each wearer takes off cloth hood
  require wearer inspects cloth hood
  severity major
  because "Soil on a hood falls on the neck."
  source local "round"
end rule
rule TL3 hands after the bench
  right after each hands of wearer touch used bench
  require wearer disinfects hands
  severity advisory
  because "The bench is the dirtiest place."
  source from memory "A course"
end rule
phase "Out"
  act "Push it aside." touching BENCH
  disinfect hands with strong chlorine
  take off plastic apron using break the loop
  disinfect hands with strong chlorine
  take off outer gloves
  disinfect hands with strong chlorine
  take off inner gloves
  disinfect hands with hand rub
  act "Close it." touching SHELF
  act "Breathe out."
  finish as clean exit
end phase
)";

}  // namespace

std::string with(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  REQUIRE_MESSAGE(at != std::string::npos, from);
  return text.replace(at, from.size(), to);
}

std::string ten_lines_touching(const std::string& first, const std::string& last) { return with(with(ten_lines, "BENCH", first), "SHELF", last); }

std::string with_a_weak_rub() {
  return with(ten_lines_touching("used bench", "clean shelf"), "  take off plastic apron using", "    known as rub after the bench\n  act \"Set it down.\" touching clean shelf\n  take off plastic apron using");
}

Sheet Gathered::sheet(const translation::Dictionary* words) const { return driver::papers_of_dossier(made, facts, words).at(0).sheet; }

Gathered gather(const std::string& text, const std::string& today) {
  FilesInMemory files;
  files.put("a.ward", text);
  Gathered out{driver::read("a.ward", files, today), {}};
  driver::walk(out.made, {});
  REQUIRE(out.made.walked);
  std::string why;
  auto facts = driver::dossier_facts(out.made, files, {today}, why);
  REQUIRE_MESSAGE(facts.has_value(), why);
  out.facts = std::move(*facts);
  return out;
}

Gathered gather_file(const std::string& file) {
  const std::string path = std::string(STEPWARD_SOURCE_DIR) + '/' + file;
  const driver::FilesOnDisk disk(path);
  Gathered out{driver::read(path, disk, "2030-11-01"), {}};
  driver::walk(out.made, {});
  REQUIRE(out.made.walked);
  std::string why;
  auto facts = driver::dossier_facts(out.made, disk, {"2030-11-01"}, why);
  REQUIRE_MESSAGE(facts.has_value(), why);
  out.facts = std::move(*facts);
  return out;
}

std::string words_of(const Block& block) {
  if (const auto* heading = std::get_if<Heading>(&block)) return heading->text;
  if (const auto* paragraph = std::get_if<Paragraph>(&block)) return plain_text(paragraph->text);
  std::string words;
  if (const auto* row = std::get_if<TableRow>(&block))
    for (const Text& cell : row->cells) words += (words.empty() ? "" : " | ") + plain_text(cell);
  return words;
}

std::vector<std::string> headings(const Sheet& sheet) {
  std::vector<std::string> all;
  for (const Block& block : sheet.blocks)
    if (const auto* heading = std::get_if<Heading>(&block)) all.push_back(heading->text);
  return all;
}

std::string under(const Sheet& sheet, const std::string& heading) {
  std::string text;
  bool inside = false, found = false;
  for (const Block& block : sheet.blocks) {
    if (const auto* each = std::get_if<Heading>(&block)) {
      inside = each->text == heading || each->text.ends_with(". " + heading);
      found |= inside;
    } else if (inside) {
      text += words_of(block) + '\n';
    }
  }
  CHECK_MESSAGE(found, heading);
  return text;
}

void has(const std::string& text, const std::string& part) { CHECK_MESSAGE(text.find(part) != std::string::npos, "\"" << part << "\" in:\n" << text); }
void has_not(const std::string& text, const std::string& part) { CHECK_MESSAGE(text.find(part) == std::string::npos, "\"" << part << "\" in:\n" << text); }

}  // namespace stepward::test
