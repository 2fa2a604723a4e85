// The wearer's card: what it says, in which order, and what it never says.
#include <doctest/doctest.h>

#include <algorithm>

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
  CHECK(p.row("Q1", 0) == "YES go on at 1a");  // its loop may end the run, so nothing is promised behind it
  CHECK(p.row("Q1", 1) == "NO go on at Q3");
  CHECK(p.row("Q3", 0) == "YES do box A (change gloves), then go on at 2");
  CHECK(p.row("Q2", 0) == "YES back to 1a, unless it was done 3 times; after that: step 1b1");
  CHECK(p.row("Q2", 1) == "NO go on at 1c");
}

TEST_CASE("card: a question about a state has its answers as any other, YES first") {
  const Printed p;
  CHECK(plain_text(std::get<Frame>(p.at("Q4")).ask) == "Are the outer gloves still on?");
  CHECK(p.row("Q4", 0) == "YES go on at 4");
  CHECK(p.row("Q4", 1) == "NO go on at 5");
}

TEST_CASE("card: an ending stops the reader, and the line behind it says whose it is") {
  const Printed p;
  const auto stop = std::find_if(p.sheet.blocks.begin(), p.sheet.blocks.end(), [](const Block& b) { return std::holds_alternative<EndMark>(b) && std::get<EndMark>(b).stops; });
  REQUIRE(stop != p.sheet.blocks.end());
  CHECK(plain_text(std::get<EndMark>(*stop).text).rfind("STOP HERE. END: ", 0) == 0);
  CHECK(plain_text(std::get<Notice>(*std::next(stop)).text) == "Q2: NO. Go on here.");
}

TEST_CASE("card: other people's own hands are not the reader's, and their calls are steps to tick") {
  test::PaperProtocol made;
  const model::Variant variant = model::all_variants(made.protocol)[0];
  const graph::Course course = graph::number_steps(made.protocol, variant);
  model::Line& line = made.protocol.lines[course.lines_at.at("5").front().value];
  line.of = {};
  line.things = {made.hands()};
  line.verb = model::VerbKind::disinfect;
  made.protocol.lines[course.lines_at.at("8").front().value].verb = model::VerbKind::call;
  const Sheet sheet = wearers_card(made.protocol, variant, course, {}, made.protocol);
  const auto step = [&](const std::string& label) {
    return std::get<Step>(*std::find_if(sheet.blocks.begin(), sheet.blocks.end(), [&](const Block& b) { return label_of(b) == label; }));
  };
  CHECK(plain_text(step("5").act).rfind("Helper: DISINFECT own hands", 0) == 0);
  CHECK_FALSE(step("8").aside);
}

TEST_CASE("card: somebody else's lines are addressed to them, paperwork is smaller") {
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

TEST_CASE("card: breaches stand behind the run with their steps and where they go on, and boxes last of all") {
  const Printed p;
  std::string order, resumes;
  for (const Block& block : p.sheet.blocks) {
    if (const auto* box = std::get_if<BoxMark>(&block)) order += box->label + " ";
    if (std::holds_alternative<Heading>(block)) order += "phase ";
    const auto* end = std::get_if<EndMark>(&block);
    if (end && plain_text(end->text) == "Go back to the step where you stopped.") resumes += order.substr(order.size() - 3);
  }
  CHECK(order.find("B1 B2 A ") == order.size() - 8);
  CHECK(order.find("B1") > order.rfind("phase"));
  CHECK(resumes == "B2 ");
  CHECK(plain_text(std::get<EndMark>(p.sheet.blocks.back()).text) == "End of box A: go on where you left for it.");
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

TEST_CASE("card: who “me” is stands in the foot where a text says it, and nowhere else") {
  CHECK(Printed().sheet.control.reminder == "No name: the wearer. “I”, “me”: the observer.");
  test::PaperProtocol made;
  for (model::Line& line : made.protocol.lines) line.details.say.clear();
  const model::Variant variant = model::all_variants(made.protocol)[0];
  const graph::Course course = graph::number_steps(made.protocol, variant);
  CHECK(wearers_card(made.protocol, variant, course, {}, made.protocol).control.reminder == "No name on a line: the wearer.");
}
