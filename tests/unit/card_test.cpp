// The wearer's card: what it says, in which order, and what it never says.
#include <doctest/doctest.h>

#include "emit/card/card.hpp"
#include "model/variants.hpp"
#include "paper_protocol.hpp"

using namespace stepward;
using namespace stepward::emit;

namespace {

struct Printed {
  test::PaperProtocol made;
  graph::Course course;
  Sheet sheet;

  explicit Printed(std::size_t which = 0, WalkFacts facts = {}) {
    const auto variant = model::all_variants(made.protocol)[which];
    course = graph::number_steps(made.protocol, variant);
    sheet = wearers_card(made.protocol, variant, course, facts, made.protocol);
  }
  const Block& at(const std::string& label) const {
    for (const Block& block : sheet.blocks) {
      if (label_of(block) == label) return block;
    }
    FAIL("no block is called " << label);
    return sheet.blocks.front();
  }
  const Step& step(const std::string& label) const { return std::get<Step>(at(label)); }
  std::string row(const std::string& label, std::size_t i) const {
    const Frame& frame = std::get<Frame>(at(label));
    return frame.rows[i].key + " " + plain_text(frame.rows[i].text);
  }
};

}  // namespace

TEST_CASE("card: the act opens with its verb, the manner follows, the bin is a field") {
  const Printed p;
  CHECK(plain_text(p.step("4").act) == "TAKE OFF the outer gloves");
  CHECK(p.step("4").act[0].strong);
  CHECK(plain_text(p.step("4").manner) == "Pinch the cuff and turn it inside out. Into the waste drum.");
}

TEST_CASE("card: contact time, critical mark and warning stand with their step") {
  const Printed p;
  CHECK(p.step("2").clock == "1 min");
  CHECK(p.step("2").critical);
  REQUIRE(p.step("2").warnings.size() == 1);
  CHECK(plain_text(p.step("2").warnings[0]) == "WARNING before step 2. Hands stay below the shoulders.");
  CHECK_FALSE(p.step("3").critical);
}

TEST_CASE("card: a look by somebody else tells the wearer what to do, never in the observer's person") {
  const Printed p;
  CHECK(plain_text(p.step("1").act) == "SHOW me your hands");
  CHECK(plain_text(p.step("6").act) == "HOLD STILL, arms away from the body");
  CHECK(plain_text(p.step("6").manner) == "The observer looks at the inner gloves for soil or a tear.");
  CHECK(plain_text(p.sheet).find("I look") == std::string::npos);
}

TEST_CASE("card: questions lead to their branches and say where to go on") {
  const Printed p;
  CHECK(p.row("Q1", 0) == "YES steps 1a to 1c, then go on at Q3");
  CHECK(p.row("Q1", 1) == "NO go on at Q3");
  CHECK(p.row("Q3", 0) == "YES do box A (change gloves), then go on at 2");
  CHECK(p.row("Q2", 0) == "YES back to 1a, 3 times at most in all; after that: step 1b1");
  CHECK(p.row("Q2", 1) == "NO go on at 1c");
}

TEST_CASE("card: who is past a state-only question already is told in one line") {
  const Printed p;
  CHECK(plain_text(std::get<Notice>(p.at("Q4")).text) == "Are the outer gloves off? Go on at 5.");
}

TEST_CASE("card: somebody else's lines are addressed to them, paperwork is set aside") {
  const Printed p;
  CHECK(plain_text(p.step("5").act) == "Helper: TAKE OFF the visor");
  CHECK(plain_text(p.step("5").manner).find("You: stand still") != std::string::npos);
  CHECK(plain_text(p.step("8").act) == "Observer: RECORD leaving time");
  CHECK(p.step("8").aside);
  CHECK_FALSE(p.step("5").aside);
}

TEST_CASE("card: only this variant's steps") {
  const Printed visor(0), goggles(1);
  CHECK(plain_text(visor.sheet).find("visor") != std::string::npos);
  CHECK(plain_text(goggles.sheet).find("TAKE OFF the visor") == std::string::npos);
  CHECK(goggles.sheet.control.variant == "goggles");
  CHECK(visor.sheet.control.check_words != goggles.sheet.control.check_words);
}

TEST_CASE("card: the zone is a band at the start and after each move of the wearer") {
  const Printed p;
  std::vector<std::string> zones;
  for (const Block& block : p.sheet.blocks) {
    if (const auto* band = std::get_if<ZoneBand>(&block)) zones.push_back(band->name + ", " + band->risk);
  }
  CHECK(zones.front() == "bay, high risk");
  CHECK(zones.back() == "lobby, low risk");
}

TEST_CASE("card: breaches stand at the end with their steps and where they go on") {
  const Printed p;
  std::size_t breaches = 0;
  bool trunk_after = false;
  for (const Block& block : p.sheet.blocks) {
    const auto* box = std::get_if<BoxMark>(&block);
    if (box && box->breach) ++breaches;
    if (breaches > 0 && std::holds_alternative<Heading>(block)) trunk_after = true;
  }
  CHECK(breaches == 2);
  CHECK_FALSE(trunk_after);
  CHECK(plain_text(std::get<EndMark>(p.sheet.blocks.back()).text) == "Go back to the step where you stopped.");
}

TEST_CASE("card: what the walk saw on the hands is printed where all paths agree") {
  test::PaperProtocol made;
  const auto course = graph::number_steps(made.protocol, model::all_variants(made.protocol)[0]);
  WalkFacts facts;
  for (const auto line : course.lines_at.at("2")) facts.hands_before[line] = {made.outer};
  for (const auto line : course.lines_at.at("4")) facts.hands_after[line] = {made.inner};
  // the two calls of box A: the layers differ, so both are said
  facts.hands_before[course.lines_at.at("A1")[0]] = {made.outer};
  facts.hands_before[course.lines_at.at("A1")[1]] = {made.inner};
  facts.verdict = "checked against 4 rules: 2 variants, complete";
  const Printed p(0, facts);
  CHECK(plain_text(p.step("2").act) == "DISINFECT your hands (outer gloves) with strong chlorine");
  CHECK(p.step("4").side == std::vector<std::string>{"hands: inner gloves"});
  CHECK(plain_text(p.step("A1").act) == "DISINFECT your hands (outer gloves or inner gloves) with strong chlorine");
  CHECK(p.sheet.control.verdict == facts.verdict);
}

TEST_CASE("card: errors and drafts are watermarked, and nothing is called safe") {
  WalkFacts facts;
  facts.has_errors = true;
  CHECK(Printed(0, facts).sheet.control.watermark == "DRAFT");
  CHECK(Printed().sheet.control.watermark.empty());
  CHECK(plain_text(Printed().sheet).find("safe") == std::string::npos);
  CHECK(Printed().sheet.control.verdict == "not checked yet");
}
