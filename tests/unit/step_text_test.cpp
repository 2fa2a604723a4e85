// The wording of a line: what the author says, else the library, else the model, and nothing lost on the way.
#include <doctest/doctest.h>

#include "model/variants.hpp"
#include "paper_protocol.hpp"
#include "wording/act_phrases.hpp"
#include "wording/step_text.hpp"

using namespace stepward;
using model::VerbKind;
using wording::StepText;

namespace {

struct Worded {
  test::PaperProtocol made;
  model::Variant variant = model::all_variants(made.protocol)[0];

  StepText text(const model::Line& line, std::vector<model::ItemId> hands = {}) const {
    return wording::step_text(made.protocol, variant, line, {std::move(hands), {}});
  }
};

}  // namespace

TEST_CASE("step text: the verb's words with the technique in their gap") {
  const Worded w;
  const StepText text = w.text(w.made.line(VerbKind::doff, w.made.wearer, {w.made.item(w.made.outer)}));
  CHECK(text.words == "TAKE OFF the outer gloves. Pinch the cuff and turn it inside out.");
  CHECK(text.act.verb == "TAKE OFF");
  CHECK(text.act.rest == "the outer gloves");
  CHECK(text.manner == "Pinch the cuff and turn it inside out.");
  CHECK(text.echo == "Taking off the outer gloves.");
}

TEST_CASE("step text: watch and if not fall back each by itself") {
  const Worded w;
  model::Line line = w.made.line(VerbKind::doff, w.made.wearer, {w.made.item(w.made.outer)});
  CHECK(w.text(line).watch == "No snap of the cuff.");  // the technique's
  CHECK(w.text(line).if_not == "Stop. Hands still.");   // the verb's
  line.details.if_not = "Wait for me.";
  CHECK(w.text(line).watch == "No snap of the cuff.");
  CHECK(w.text(line).if_not == "Wait for me.");
}

TEST_CASE("step text: words for a kind of thing come before words for everything else") {
  const Worded w;
  CHECK(w.text(w.made.line(VerbKind::disinfect, w.made.wearer, {w.made.item(w.made.outer)})).manner == "Wrists too.");
  CHECK(w.text(w.made.line(VerbKind::disinfect, w.made.wearer, {w.made.item(w.made.apron)})).manner ==
        "Top to bottom.");
  CHECK(w.text(w.made.line(VerbKind::disinfect, w.made.wearer, {w.made.hands()}), {w.made.inner}).manner ==
        "Wrists too.");
}

TEST_CASE("step text: hands are named by the layer that all paths agree on") {
  const Worded w;
  const model::Line line = w.made.line(VerbKind::disinfect, w.made.wearer, {w.made.hands()});
  CHECK(w.text(line, {w.made.inner}).act.rest == "your hands (inner gloves) with strong chlorine");
  CHECK(w.text(line, {model::ItemId{}}).act.rest == "your hands (bare) with strong chlorine");
  CHECK(w.text(line, {w.made.inner, w.made.outer}).act.rest == "your hands (outer gloves or inner gloves) with strong chlorine");
  CHECK(w.text(line, {w.made.outer, model::ItemId{}}).act.rest == "your hands (outer gloves or bare) with strong chlorine");
  CHECK(w.text(line, {w.made.inner, w.made.outer}).echo == "Disinfecting my gloved hands.");
  CHECK(w.text(line).act.rest == "your hands with strong chlorine");
  CHECK(w.text(line, {w.made.inner}).echo == "Disinfecting my inner gloves.");
}

TEST_CASE("step text: what is for the ear has no brackets") {
  const Worded w;
  const model::Line line = w.made.line(VerbKind::disinfect, w.made.wearer, {w.made.hands()});
  CHECK(w.text(line, {w.made.outer}).spoken == "DISINFECT your outer gloves with strong chlorine. Wrists too.");
  CHECK(w.text(line, {w.made.inner, w.made.outer}).spoken == "DISINFECT your gloved hands with strong chlorine. Wrists too.");
  CHECK(w.text(line, {model::ItemId{}}).spoken == "DISINFECT your bare hands with strong chlorine. Wrists too.");
}

TEST_CASE("step text: a say of one's own never costs the act") {
  const Worded w;
  model::Line line = w.made.line(VerbKind::disinfect, w.made.wearer, {w.made.hands()});
  line.details.say = "Two full presses, worked in until dry.";
  const StepText text = w.text(line);
  CHECK(text.act.verb == "DISINFECT");
  CHECK(text.manner == "Two full presses, worked in until dry.");
  CHECK(text.spoken == "Two full presses, worked in until dry.");
}

TEST_CASE("step text: spoken words of a technique keep the verb's sentence") {
  const Worded w;
  model::Line line = w.made.line(VerbKind::doff, w.made.wearer, {w.made.item(w.made.apron)});
  line.technique = model::TechniqueId{1u};
  CHECK(w.text(line).words == "TAKE OFF the plastic apron. Pull until the neck loop snaps.");
  CHECK(w.text(line).spoken == "TAKE OFF the plastic apron. Pull it forward until it snaps.");
  CHECK(w.text(line).warning == "Do not roll it against your chest.");
}

TEST_CASE("step text: a line that no words reach has an act and no words") {
  const Worded w;
  model::Line line = w.made.line(VerbKind::record, w.made.observer);
  line.records = {model::RecordId{0u}};
  CHECK(w.text(line).words.empty());
  CHECK(w.text(line).act.verb == "RECORD");
  CHECK(w.text(line).act.rest == "leaving time");
}

TEST_CASE("step text: the act of a free line opens with its own verb") {
  CHECK(wording::act_from_text("open the flap over the zip").verb == "OPEN");
  CHECK(wording::act_from_text("take off rings and watch").verb == "TAKE OFF");
  CHECK(wording::act_from_text("take off rings and watch").rest == "rings and watch");
  CHECK(wording::act_from_text("Hold still, arms away").rest == ", arms away");
  CHECK(wording::act_from_text("Sit.").verb == "SIT");
}

TEST_CASE("step text: contact time is that of the kind of thing, for hands that of what lies on them") {
  const Worded w;
  const auto seconds = [&](const model::Line& line, std::vector<model::ItemId> hands) {
    return wording::contact_time(w.made.protocol, w.variant, line, {std::move(hands), {}}).seconds;
  };
  CHECK(seconds(w.made.line(VerbKind::disinfect, w.made.wearer, {w.made.item(w.made.apron)}), {}) == 120);
  CHECK(seconds(w.made.line(VerbKind::disinfect, w.made.wearer, {w.made.item(w.made.outer)}), {}) == 60);
  CHECK(seconds(w.made.line(VerbKind::disinfect, w.made.wearer, {w.made.hands()}), {w.made.inner}) == 60);
  CHECK(seconds(w.made.line(VerbKind::doff, w.made.wearer, {w.made.item(w.made.outer)}), {}) == 0);
}

TEST_CASE("step text: questions in words") {
  const Worded w;
  const auto question = [&](const model::Condition& c) {
    return wording::question_phrase(w.made.protocol, w.variant, c);
  };
  CHECK(question(w.made.found(model::FindingId{1u}, w.made.item(w.made.outer))) == "A tear on the outer gloves?");
  CHECK(question(w.made.worn(w.made.outer)) == "Are the outer gloves still on?");
  CHECK(question(w.made.worn(w.made.apron)) == "Is the plastic apron still on?");
  model::Condition both = w.made.worn(w.made.outer);
  both.atoms.push_back(w.made.worn(w.made.apron).atoms[0]);
  both.all = false;
  CHECK(question(both) == "Are the outer gloves still on or is the plastic apron still on?");
  both.all = true;
  CHECK(question(both) == "Are the outer gloves still on and is the plastic apron still on?");
  both.atoms[1] = w.made.found(model::FindingId{1u}, w.made.item(w.made.outer)).atoms[0];
  CHECK(question(both) == "The outer gloves are still on and a tear on the outer gloves?");
}

TEST_CASE("step text: a thing that the text before has named is it") {
  const Worded w;
  const model::Line line = w.made.line(VerbKind::disinfect, w.made.wearer, {w.made.item(w.made.apron)});
  const StepText text = wording::step_text(w.made.protocol, w.variant, line, {{}, {w.made.item(w.made.apron)}});
  CHECK(text.words == "DISINFECT it with strong chlorine. Top to bottom.");
}

TEST_CASE("step text: times as they are printed") {
  CHECK(wording::duration_phrase({45}) == "45 s");
  CHECK(wording::duration_phrase({60}) == "1 min");
  CHECK(wording::duration_phrase({90}) == "1 min 30 s");
  CHECK(wording::duration_phrase({86400}) == "24 h");
}
