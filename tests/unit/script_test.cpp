// The observer's script: say, hear, look for, if not, under the same numbers as the card.
#include <doctest/doctest.h>

#include <algorithm>

#include "emit/card/card.hpp"
#include "emit/script/script.hpp"
#include "model/variants.hpp"
#include "paper_protocol.hpp"

using namespace stepward;
using namespace stepward::emit;

namespace {

struct Printed {
  test::PaperProtocol made;
  model::Variant variant = model::all_variants(made.protocol)[0];
  graph::Course course = graph::number_steps(made.protocol, variant);
  Sheet sheet = observers_script(made.protocol, variant, course, {}, made.protocol);

  const SayRow& row(const std::string& label) const {
    for (const Block& block : sheet.blocks) {
      if (label_of(block) == label) return std::get<SayRow>(block);
    }
    FAIL("no row is called " << label);
    return std::get<SayRow>(sheet.blocks.front());
  }
};

}  // namespace

TEST_CASE("script: what is said, what comes back, what is looked for, what is said if it is not so") {
  const Printed p;
  const SayRow& off = p.row("4");
  CHECK(off.say == "TAKE OFF the outer gloves. Pinch the cuff and turn it inside out. Into the waste drum.");
  CHECK(off.hear == "Taking off the outer gloves.");
  CHECK(off.look_for == "No snap of the cuff.");
  CHECK(off.if_not == "Stop. Hands still.");
}

TEST_CASE("script: the reader's own look goes where her eyes go") {
  const Printed p;
  CHECK(p.row("1").say == "Show me your hands. Spread the fingers.");
  CHECK(p.row("1").look_for == "Soil or a tear on the outer gloves. Fingertips and webs.");
  CHECK(p.row("1").hear.empty());
  CHECK(p.row("6").say == "Hold still. I look at the inner gloves for soil or a tear.");
}

TEST_CASE("script: what the reader wears on her own hands is not said of the hands that she looks at") {
  test::PaperProtocol made;
  const model::Variant variant = model::all_variants(made.protocol)[0];
  const graph::Course course = graph::number_steps(made.protocol, variant);
  const model::LineId look = course.lines_at.at("6").front();
  model::Line& line = made.protocol.lines[look.value];
  REQUIRE(line.who != made.protocol.acts);
  line.things = {{}};
  line.things.front().what = model::Thing::What::hands;
  line.things.front().of = made.protocol.acts;
  WalkFacts facts;
  facts.hands_before[look] = {made.outer};
  const Sheet sheet = observers_script(made.protocol, variant, course, facts, made.protocol);
  const auto row = std::find_if(sheet.blocks.begin(), sheet.blocks.end(), [](const Block& b) { return label_of(b) == "6"; });
  REQUIRE(row != sheet.blocks.end());
  CHECK(std::get<SayRow>(*row).say == "Hold still. I look at your hands for soil or a tear.");
}

TEST_CASE("script: the clock, the critical reason, the note and the reason stand with their step") {
  const Printed p;
  CHECK(p.row("2").clock == "1 min");
  CHECK(p.row("2").critical);
  CHECK(plain_text(p.row("2").remarks.at(0)) == "CRITICAL: Everything after it is touched with these hands.");
  CHECK(plain_text(p.row("3").remarks.at(0)) == "Note: The loop is meant to break.");
  CHECK(plain_text(p.row("1b1").remarks.at(0)) == "Why: Nobody goes on as if it were clean.");
}

TEST_CASE("script: a helper is spoken to by name") {
  const Printed p;
  CHECK(p.row("5").say.rfind("Helper: TAKE OFF the visor.", 0) == 0);
  CHECK(p.row("5").hear.empty());
}

TEST_CASE("script: out of rhythm nothing is heard") {
  const Printed p;
  CHECK(p.row("B1.1").say == "Sit down. Hands off your face.");
  CHECK(p.row("B1.1").hear.empty());
}

TEST_CASE("script: the foot reminds of hands off and names the breach") {
  const Printed p;
  CHECK(p.sheet.control.reminder == "Stand out of reach, touch nothing. Otherwise: breach B2. SAY with no name: to the wearer.");
}

TEST_CASE("script: it carries the numbers of the card, in the same order") {
  const Printed p;
  const Sheet card = wearers_card(p.made.protocol, p.variant, p.course, {}, p.made.protocol);
  REQUIRE(card.blocks.size() == p.sheet.blocks.size());
  for (std::size_t i = 0; i < card.blocks.size(); ++i) CHECK(label_of(card.blocks[i]) == label_of(p.sheet.blocks[i]));
}

TEST_CASE("script and card: a rule that is set aside at a step is named there, with what was agreed") {
  test::PaperProtocol made;
  const model::Variant variant = model::all_variants(made.protocol)[0];
  const graph::Course course = graph::number_steps(made.protocol, variant);
  WalkFacts facts;
  facts.set_aside[course.lines_at.at("4").front()].push_back({"R07", "No wipe within reach. Until 2031-06-01."});
  const std::string script = plain_text(observers_script(made.protocol, variant, course, facts, made.protocol));
  CHECK(script.find("SET ASIDE: rule R07. No wipe within reach. Until 2031-06-01.") != std::string::npos);
  const std::string card = plain_text(wearers_card(made.protocol, variant, course, facts, made.protocol));
  CHECK(card.find("SET ASIDE: rule R07") != std::string::npos);
  CHECK(plain_text(wearers_card(made.protocol, variant, course, {}, made.protocol)).find("SET ASIDE") == std::string::npos);
}

TEST_CASE("script: what a step's fields tell is said aloud: what is taken, with what, and into which bin") {
  test::PaperProtocol made;
  const model::Variant variant = model::all_variants(made.protocol)[0];
  const graph::Course course = graph::number_steps(made.protocol, variant);
  const auto line_at = [&](const std::string& label) -> model::Line& { return made.protocol.lines[course.lines_at.at(label).front().value]; };
  line_at("2").details.say = "Rub it in. Then wait.";
  model::Line& handed = line_at("5");
  handed.verb = model::VerbKind::pass;
  handed.of = {};
  handed.to = made.wearer;
  handed.count = 1;
  handed.things = {made.item(made.outer)};
  const Sheet sheet = observers_script(made.protocol, variant, course, {}, made.protocol);
  const auto say = [&](const std::string& label) {
    return std::get<SayRow>(*std::find_if(sheet.blocks.begin(), sheet.blocks.end(), [&](const Block& b) { return label_of(b) == label; })).say;
  };
  CHECK(say("2") == "Rub it in. Use strong chlorine. Then wait.");
  CHECK(say("4").find("Into the waste drum.") != std::string::npos);
  CHECK(say("5").rfind("TAKE 1 new pair of outer gloves from the helper. ", 0) == 0);
}

TEST_CASE("script: the library's words for other people's acts are not said to oneself") {
  test::PaperProtocol made;
  made.protocol.verb_wordings.resize(5);
  made.protocol.verb_wordings[4].verb = model::VerbKind::act;
  made.protocol.verb_wordings[4].wording.if_not = {{"Stop. We put that right first.", {}, false, {}}};
  const model::Variant variant = model::all_variants(made.protocol)[0];
  const graph::Course course = graph::number_steps(made.protocol, variant);
  model::Line& line = made.protocol.lines[course.lines_at.at("8").front().value];
  line.verb = model::VerbKind::act;
  line.text = "stop. Stand back.";
  const auto row = [&] {
    const Sheet sheet = observers_script(made.protocol, variant, course, {}, made.protocol);
    return std::get<SayRow>(*std::find_if(sheet.blocks.begin(), sheet.blocks.end(), [&](const Block& b) { return label_of(b) == "8"; }));
  };
  CHECK(row().if_not.empty());
  CHECK(plain_text(row().act) == "STOP. Stand back.");
  line.who = made.helper;
  CHECK(row().if_not == "Stop. We put that right first.");
}
