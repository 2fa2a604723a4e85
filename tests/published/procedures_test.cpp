// Published procedures that are no removal orders: putting on, washing and rubbing hands, spills, a central line, a
// needlestick. Each is a source file in procedures/, whose remarks at the top say where it comes from and how far that was
// checked, and what is expected of it:
//   # keeps:  packs that state this procedure: every rule of theirs holds
//   # under:  packs that it is read under
//   # breaks: the rules of those packs that it breaks, all of them
// Every file walks clean by itself, under ordinary hands. The text shown is the text tested.

#include <algorithm>
#include <set>

#include "doctest/doctest.h"

#include "matrix.hpp"
#include "procedures.hpp"

using namespace stepward::published;

namespace {

bool is_about_rules(const stepward::diagnostics::Diagnostic& d) { return stepward::diagnostics::code_name(d.code).starts_with("R"); }

}  // namespace

TEST_CASE("every published procedure says where it comes from and walks clean") {
  const std::set<std::string> marks = {"read", "read in another's account", "from memory", "read, steps between from memory"};
  for (const std::string& file : all_procedures()) {
    const std::string text = file_text(file);
    CAPTURE(file);
    CHECK(!remarks(text, "source").empty());
    REQUIRE(remarks(text, "mark").size() == 1);
    CHECK(marks.count(remarks(text, "mark").front()) == 1);
    const Checked checked = check_text(text);
    CAPTURE(codes(checked));
    CHECK(checked.complete);
    CHECK(checked.errors.empty());
  }
}

TEST_CASE("every published procedure keeps the packs that state it and breaks exactly the rules it names of the others") {
  for (const std::string& file : all_procedures()) {
    const std::string text = file_text(file);
    CAPTURE(file);
    for (const std::string& pack : listed(text, "keeps", ',')) {
      const Checked checked = check_text(with_packs(text, {pack}));
      CAPTURE(pack);
      CAPTURE(codes(checked));
      REQUIRE(checked.protocol);
      CHECK(checked.complete);
      CHECK(broken_rules(checked).empty());
      CHECK(std::any_of(checked.protocol->rules.begin(), checked.protocol->rules.end(),
                        [&](const auto& rule) { return checked.verdict.rules_tested.count(rule.number) != 0; }));
    }
    std::set<std::string> broken;
    for (const std::string& pack : listed(text, "under", ',')) {
      const Checked checked = check_text(with_packs(text, {pack}));
      CAPTURE(pack);
      CAPTURE(codes(checked));
      CHECK(checked.complete);
      CHECK(std::all_of(checked.errors.begin(), checked.errors.end(), is_about_rules));
      for (const std::string& number : broken_rules(checked)) broken.insert(number);
    }
    const auto said = listed(text, "breaks", ' ');
    std::string is, should;
    for (const std::string& number : broken) is += number + " ";
    for (const std::string& number : std::set<std::string>(said.begin(), said.end())) should += number + " ";
    CHECK(is == should);
  }
}

TEST_CASE("washing and rubbing hands and putting a line in need no word of an outfit") {
  for (const char* name : {"procedures/hand-rub.ward", "procedures/hand-wash.ward"}) {
    CAPTURE(name);
    const Checked checked = check_text(file_text(name));
    REQUIRE(checked.protocol);
    CHECK(checked.protocol->items.empty());
  }
  for (const char* name : {"procedures/line-barriers-first.ward", "procedures/line-skin-first.ward"}) {
    CAPTURE(name);
    const Checked checked = check_text(file_text(name));
    REQUIRE(checked.protocol);
    CHECK(std::none_of(checked.protocol->lines.begin(), checked.protocol->lines.end(),
                       [](const auto& line) { return line.verb == stepward::model::VerbKind::doff; }));
  }
}

TEST_CASE("a hand that closes the tap is told to be unclean, and a cloth gets no credit on the floor") {
  std::string wash = file_text("procedures/hand-wash.ward");
  const std::string with_towel = "act \"Dry both hands. Close the tap with the towel, not with the hand.\"";
  wash.replace(wash.find(with_towel), with_towel.size(), "act \"Close the tap.\" touching tap");
  const Checked touched = check_text(wash);
  CHECK(std::any_of(touched.errors.begin(), touched.errors.end(), [](const auto& d) { return d.code == stepward::diagnostics::Code::P102; }));

  std::string spill = file_text("procedures/spill-cloth-first.ward");
  const std::string lift = "clean soil from spill patch using lift with the cloth\n";
  spill.replace(spill.find(lift), lift.size(), "disinfect spill patch with poster chlorine\n");
  const Checked soaked = check_text(spill);
  CHECK(std::any_of(soaked.all.begin(), soaked.all.end(), [](const auto& d) { return d.code == stepward::diagnostics::Code::P502; }));
}
