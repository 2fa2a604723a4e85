// Each kind of action line, resolved to exactly what it says.

#include "model_sample.hpp"

namespace {

using namespace stepward;
using namespace stepward::model;
using sample::at;

/// The only line of a protocol that is otherwise empty.
struct One {
  sample::Built built;
  const Line* line = nullptr;
  explicit One(const std::string& words) : built(sample::protocol("  " + words + "\n  finish as out\n")) {
    REQUIRE_MESSAGE(built.protocol, words << ": " << built.codes());
    REQUIRE(built->lines.size() == 1);
    line = &built->lines[0];
  }
  std::uint32_t item(const char* name) const { return at(built->items, name); }
  std::uint32_t role(const char* name) const { return at(built->roles, name); }
};

}  // namespace

TEST_CASE("put on") {
  const One one("put on coverall and mask together using pull on");
  CHECK(one.line->verb == VerbKind::don);
  CHECK(one.line->who.value == one.role("wearer"));
  CHECK(one.line->of == one.line->who);
  CHECK(one.line->together);
  REQUIRE(one.line->things.size() == 2);
  CHECK(one.line->things[1].item.value == one.item("mask"));
  CHECK(one.built->techniques[one.line->technique.value].name == "pull on");
}

TEST_CASE("take off, in both forms and by somebody else") {
  const One plain("doff inner gloves");
  CHECK(plain.line->verb == VerbKind::doff);
  CHECK(plain.built->techniques[plain.line->technique.value].name == "peel inside out");
  const One third("wearer takes off inner gloves");
  CHECK(third.line->who.value == third.role("wearer"));
  const One helped("helper takes off coverall of wearer using roll down");
  CHECK(helped.line->who.value == helped.role("helper"));
  CHECK(helped.line->of.value == helped.role("wearer"));
  const One set("take off plastic apron and outer gloves together using roll up in one");
  CHECK(set.line->together);
  CHECK(set.line->things.size() == 2);
}

TEST_CASE("disinfect") {
  const One one("disinfect hands and outside of coverall of wearer with strong chlorine without waiting");
  CHECK(one.line->agent.value == at(one.built->agents, "strong chlorine"));
  CHECK(one.line->without_waiting);
  REQUIRE(one.line->things.size() == 2);
  CHECK(one.line->things[0].what == Thing::What::hands);
  CHECK_FALSE(one.line->things[0].of);
  CHECK(one.line->things[1].part == "outside");
  CHECK(one.line->things[1].of.value == one.role("wearer"));
  CHECK_FALSE(One("disinfect work top with strong chlorine").line->without_waiting);
}

TEST_CASE("bare hands are the site that is the hands") {
  const One one("disinfect bare hands of observer with hand rub");
  CHECK(one.line->things[0].what == Thing::What::site);
  CHECK(one.line->things[0].site.value == at(one.built->sites, "bare hands"));
  CHECK(one.line->things[0].of.value == one.role("observer"));
}

TEST_CASE("clean, inspect, test") {
  const One clean("clean soil from front of coverall using wipe down");
  CHECK(clean.line->verb == VerbKind::clean);
  CHECK(clean.line->things[0].part == "front");
  CHECK(clean.line->findings.size() == 1);
  const One inspect("observer inspects coverall and mask for soil or tear");
  CHECK(inspect.line->things.size() == 2);
  REQUIRE(inspect.line->findings.size() == 2);
  CHECK(inspect.line->findings[1].value == at(inspect.built->findings, "tear"));
  const One test("test mask using seal check");
  CHECK(test.line->technique.value == at(test.built->techniques, "seal check"));
}

TEST_CASE("declare, record, report, call") {
  const One declare("declare exposure to splash");
  CHECK(declare.built->marks[declare.line->mark.value].name == "exposure to splash");
  const One record("observer records time, place and torn glove");
  REQUIRE(record.line->records.size() == 3);
  CHECK(record.built->records[record.line->records[2].value].name == "torn glove");
  const One report("observer reports \"it leaks\" to ward office");
  CHECK(report.line->text == "it leaks");
  CHECK(report.built->recipients[report.line->recipient.value].name == "ward office");
  CHECK(One("call \"a runner\"").line->text == "a runner");
}

TEST_CASE("take, pass, act, move, wait") {
  const One take("take 2 pair inner gloves");
  CHECK(take.line->count == 2);
  CHECK(take.line->things[0].item.value == take.item("inner gloves"));
  const One pass("helper passes 3 box wipe to wearer");
  CHECK(pass.line->count == 3);
  CHECK(pass.line->to.value == pass.role("wearer"));
  CHECK(pass.line->things[0].what == Thing::What::supply);
  const One act("act \"Open the zip.\" touching zip of coverall, low bench and face");
  CHECK(act.line->text == "Open the zip.");
  CHECK(act.line->things.size() == 3);
  CHECK(One("act \"Stand.\"").line->things.empty());
  const One move("move to store room");
  CHECK(move.line->zone.value == at(move.built->zones, "store room"));
  CHECK(One("wait 2 minutes").line->wait == Duration{120});
  CHECK(One("wait contact time").line->wait_contact_time);
}

TEST_CASE("decide, with the answers in their order") {
  const auto built = sample::protocol(
      "  observer decides seal holds as yes or no or not known\n  if seal holds is not known\n    act \"Again.\"\n  "
      "end if\n  finish as out\n");
  REQUIRE_MESSAGE(built.protocol, built.codes());
  CHECK(built->decisions[0].name == "seal holds");
  CHECK(built->decisions[0].answers == std::vector<std::string>{"yes", "no", "not known"});
  const Atom& atom = built->blocks[built->phases[0].block.value].statements[1].arms[0].condition.atoms[0];
  CHECK(atom.what == Atom::What::answer);
  CHECK(atom.answer == 2);
  CHECK_FALSE(atom.negated);  // "not known" is the answer; nothing is denied
}

TEST_CASE("details stand under their line") {
  const auto built = sample::protocol(
      "  take off inner gloves\n    critical because \"skin\"\n    say \"Peel.\"\n    watch \"cuffs\"\n    if not "
      "\"Stop.\"\n"
      "    warning \"slow\"\n    note \"n\"\n    because \"b\"\n    known as gloves off\n  out of rhythm\n  finish as "
      "out\n");
  REQUIRE_MESSAGE(built.protocol, built.codes());
  const Line& line = built->lines[0];
  CHECK(line.details.critical_because == "skin");
  CHECK(line.details.say == "Peel.");
  CHECK(line.details.watch == "cuffs");
  CHECK(line.details.if_not == "Stop.");
  CHECK(line.details.warning == "slow");
  CHECK(line.details.note == "n");
  CHECK(line.details.because == "b");
  CHECK(line.id == "One / gloves off");
  CHECK(line.id_is_given);
  CHECK_FALSE(line.in_rhythm);
}

TEST_CASE("lines without a name of their own are counted by verb and thing") {
  const auto built = sample::protocol(
      "  disinfect hands with hand rub\n  wearer disinfects hands with hand rub\n  act \"One.\"\n  act \"Two.\"\n    "
      "known as act 3\n  act \"Three.\"\n  finish as out\n");
  REQUIRE_MESSAGE(built.protocol, built.codes());
  std::vector<std::string> ids;
  for (const Line& line : built->lines) ids.push_back(line.id);
  CHECK(ids == std::vector<std::string>{"One / disinfect hands", "One / disinfect hands 2", "One / act", "One / act 3",
                                        "One / act 2"});
}

TEST_CASE("a misspelt line is shown corrected") {
  const auto built = sample::protocol(
      "  take off plastik apron using break the band\n  nurs acts \"Wait.\"\n  wearr takes off inner gloves\n  finish "
      "as out\n");
  REQUIRE(built.sink.size() == 3);
  CHECK(built.sink[0].fix == "take off plastic apron using break the band");
  CHECK(built.sink[1].fix.empty());
  CHECK(built.sink[2].fix == "wearer takes off inner gloves");
}

TEST_CASE("a line that is too long is refused, not tried") {
  std::string things = "coverall";
  for (int i = 0; i < 300; ++i) things += ", coverall";
  const auto built = sample::protocol("  inspect " + things + " for soil\n  finish as out\n");
  CHECK(built.codes() == "N125");
}
