// Blocks, questions, routines where they are called, interruptions.

#include "model_sample.hpp"

namespace {

using namespace stepward;
using namespace stepward::model;
using sample::at;
using What = Statement::What;

const std::vector<Statement>& top(const sample::Built& built) {
  return built->blocks[built->phases.at(0).block.value].statements;
}
const std::vector<Statement>& in(const sample::Built& built, BlockId block) {
  return built->blocks[block.value].statements;
}

/// The one atom of a question, asked in an otherwise empty protocol.
struct Asked {
  sample::Built built;
  Atom atom;
  explicit Asked(const std::string& question)
      : built(sample::protocol("  declare spill\n  record entry\n  if " + question +
                               "\n    act \"Stop.\"\n  end if\n  finish as out\n")) {
    REQUIRE_MESSAGE(built.protocol, question << ": " << built.codes());
    const Condition& condition = top(built)[2].arms[0].condition;
    REQUIRE(condition.atoms.size() == 1);
    atom = condition.atoms[0];
  }
};

}  // namespace

TEST_CASE("questions about findings") {
  const Asked found("soil or tear on front of coverall of wearer");
  CHECK(found.atom.what == Atom::What::found);
  CHECK(found.atom.findings.size() == 2);
  CHECK(found.atom.thing.part == "front");
  CHECK_FALSE(found.atom.negated);
  CHECK(Asked("no tear on hands of wearer").atom.negated);
}

TEST_CASE("questions about what is worn, bare hands, places, marks and records") {
  const Asked worn("outer gloves are not worn by observer");
  CHECK(worn.atom.what == Atom::What::worn);
  CHECK(worn.atom.negated);
  CHECK(worn.atom.who.value == at(worn.built->roles, "observer"));
  const Asked kind("no suit is worn");
  CHECK(kind.atom.thing.kind.value == at(kind.built->kinds, "suit"));
  CHECK(kind.atom.negated);
  CHECK(kind.atom.who == kind.built->acts);
  const Asked bare("hands of wearer are not bare");
  CHECK(bare.atom.what == Atom::What::hands_bare);
  CHECK(bare.atom.negated);
  const Asked zone("helper is in store room");
  CHECK(zone.atom.what == Atom::What::in_zone);
  CHECK(zone.atom.who.value == at(zone.built->roles, "helper"));
  const Asked mark("spill was not declared");
  CHECK(mark.atom.what == Atom::What::declared);
  CHECK(mark.atom.negated);
  CHECK(Asked("entry was recorded").atom.what == Atom::What::recorded);
}

TEST_CASE("questions joined by and, or by or") {
  const auto built = sample::protocol(
      "  decide fit as yes or no\n  if fit is yes and mask is worn and outer gloves are worn\n    act \"A\"\n"
      "  otherwise if soil or tear on mask or fit is no\n    act \"B\"\n  otherwise\n    act \"C\"\n  end if\n  finish "
      "as out\n");
  REQUIRE_MESSAGE(built.protocol, built.codes());
  const auto& arms = top(built)[1].arms;
  REQUIRE(arms.size() == 3);
  CHECK(arms[0].condition.all);
  CHECK(arms[0].condition.atoms.size() == 3);
  CHECK_FALSE(arms[1].condition.all);
  CHECK(arms[1].condition.atoms.size() == 2);
  CHECK(arms[1].condition.atoms[0].findings.size() == 2);
  CHECK(arms[2].is_otherwise);
  CHECK(built->lines[in(built, arms[2].block)[0].line.value].text == "C");
}

TEST_CASE("a bounded loop has a body, a question and a fallback") {
  const auto built = sample::protocol(
      "  repeat at most 3 times\n    inspect mask for soil\n  until no soil on mask\n  if still not\n    act "
      "\"Stop.\"\n    finish as stopped early\n  end repeat\n  finish as out\n");
  REQUIRE_MESSAGE(built.protocol, built.codes());
  const Statement& loop = top(built)[0];
  CHECK(loop.what == What::repeat);
  CHECK(loop.at_most == 3);
  CHECK(in(built, loop.block).size() == 1);
  CHECK(loop.until.atoms.size() == 1);
  REQUIRE(in(built, loop.fallback).size() == 2);
  CHECK(in(built, loop.fallback)[1].ending.value == at(built->endings, "stopped early"));
}

TEST_CASE("only for, as a block and as the tail of a line") {
  const auto built = sample::protocol(
      "  only for gown with low\n    act \"One.\"\n  end only\n  act \"Two.\" only for coverall\n  finish as out\n", "",
      "variants\n  suit choice is coverall or gown\n  bench choice is low or high\nend variants\n");
  REQUIRE_MESSAGE(built.protocol, built.codes());
  CHECK(top(built)[0].what == What::only_for);
  REQUIRE(top(built)[0].only_for.size() == 2);
  CHECK(top(built)[0].only_for[0].value == 1);
  CHECK(built->lines[1].only_for.size() == 1);
}

TEST_CASE("a routine is put in place where it is called, with what it is given") {
  const auto built =
      sample::protocol("  do clear given place is coverall\n  do clear given place is work top\n  finish as out\n",
                       "routine clear\n  given place, any surface\n  may finish as stopped early\n  clean soil from "
                       "place\n    known as wipe\n  do last look given spot is place\nend routine\n"
                       "routine last look\n  given spot, any surface\n  inspect spot for soil\nend routine\n");
  REQUIRE_MESSAGE(built.protocol, built.codes());
  REQUIRE(built->lines.size() == 4);
  CHECK(built->lines[0].id == "One / clear / wipe");
  CHECK(built->lines[1].id == "One / clear / last look / inspect spot");
  CHECK(built->lines[2].id == "One / clear 2 / wipe");
  CHECK(built->lines[1].things[0].item.value == at(built->items, "coverall"));
  CHECK(built->lines[3].things[0].spot.value == at(built->spots, "work top"));
  const Statement& call = top(built)[0];
  CHECK(call.what == What::call);
  CHECK(call.routine.value == at(built->routines, "clear"));
  CHECK(call.arguments.at(0).item.value == at(built->items, "coverall"));
  const Routine& routine = built->routines[call.routine.value];
  CHECK(routine.parameters == std::vector<std::string>{"place"});
  CHECK(routine.may_finish_as == std::vector<EndingId>{EndingId{at(built->endings, "stopped early")}});
}

TEST_CASE("a part, or somebody's thing, may be given, and a part of what is given may be named") {
  const auto built = sample::protocol(
      "  do look given place is front of coverall of helper\n  do open given garment is gown\n  finish as out\n",
      "routine look\n  given place, any surface\n  inspect place for soil\nend routine\n"
      "routine open\n  given garment, any suit\n  act \"Pull.\" touching ties of garment\nend routine\n");
  REQUIRE_MESSAGE(built.protocol, built.codes());
  CHECK(built->lines[0].things[0].part == "front");
  CHECK(built->lines[0].things[0].of.value == at(built->roles, "helper"));
  CHECK(built->lines[1].things[0].part == "ties");
}

TEST_CASE("out of rhythm exempts its block and what is called from it") {
  const auto built = sample::protocol(
      "  act \"A\"\n  if mask is worn\n    out of rhythm\n    act \"B\"\n    do r\n  end if\n  finish as out\n",
      "routine r\n  act \"C\"\nend routine\n");
  REQUIRE_MESSAGE(built.protocol, built.codes());
  CHECK(built->lines[0].in_rhythm);
  CHECK_FALSE(built->lines[1].in_rhythm);
  CHECK_FALSE(built->lines[2].in_rhythm);
}

TEST_CASE("interruptions say what happens and how it goes on") {
  const auto built =
      sample::protocol("  act \"A\"\n  finish as out\n",
                       "any time splash to the face\n  happens face is soiled\n  happens hands of wearer are soiled\n  "
                       "happens inner gloves is torn\n  happens observer touches wearer\n"
                       "  happens helper touches front of coverall of wearer\n  happens wearer falls\n  act \"B\"\n  "
                       "resume\nend any time\n"
                       "any time alarm\n  happens nothing of its own\n  finish as stopped early\nend any time\n");
  REQUIRE_MESSAGE(built.protocol, built.codes());
  REQUIRE(built->interruptions.size() == 2);
  const auto& happens = built->interruptions[0].happens;
  REQUIRE(happens.size() == 6);
  CHECK(happens[0].what == Happening::What::soiled);
  CHECK(happens[0].thing.site.value == at(built->sites, "face"));
  CHECK(happens[1].thing.what == Thing::What::hands);
  CHECK(happens[2].what == Happening::What::torn);
  CHECK(happens[3].what == Happening::What::touches);
  CHECK(happens[3].thing.what == Thing::What::role);
  CHECK(happens[3].thing.role.value == at(built->roles, "wearer"));
  CHECK(happens[4].thing.part == "front");
  CHECK(happens[5].what == Happening::What::falls);
  CHECK(built->interruptions[1].happens[0].what == Happening::What::nothing);
  CHECK(built->lines[1].id == "any time splash to the face / act");
  CHECK(in(built, built->interruptions[0].block).back().what == What::resume);
}

TEST_CASE("blocks nest, and routines that call each other nest, up to a bound") {
  std::string declarations;
  for (int i = 0; i < 70; ++i) {
    declarations += "routine r" + std::to_string(i) + "\n  " +
                    (i < 69 ? "do r" + std::to_string(i + 1) : "act \"End.\"") + "\nend routine\n";
  }
  const auto built = sample::protocol("  do r0\n  finish as out\n", declarations);
  CHECK_FALSE(built.protocol);
  CHECK(built.codes().find("F108") != std::string::npos);
}

TEST_CASE("routines that multiply are stopped") {
  std::string declarations;
  for (int i = 0; i < 20; ++i) {
    const std::string next = i < 19 ? "do r" + std::to_string(i + 1) : "act \"End.\"";
    declarations += "routine r" + std::to_string(i) + "\n  " + next + "\n  " + next + "\nend routine\n";
  }
  const auto built = sample::protocol("  do r0\n  finish as out\n", declarations);
  CHECK(built.codes() == "F107");
}

TEST_CASE("a library gives a protocol without phases, and its routines are checked") {
  const auto built = sample::library("routine r\n  given place, any surface\n  inspect place for soil\nend routine\n");
  REQUIRE_MESSAGE(built.protocol, built.codes());
  CHECK(built->phases.empty());
  CHECK(built->lines.empty());
  CHECK(built->routines.size() == 1);
}

TEST_CASE("an error of arithmetic or of dates still gives a model, an unknown name does not") {
  CHECK(prevents_walk(diagnostics::Code::N101));
  CHECK(prevents_walk(diagnostics::Code::L101));
  CHECK(prevents_walk(diagnostics::Code::V104));
  CHECK_FALSE(prevents_walk(diagnostics::Code::D105));
  CHECK_FALSE(prevents_walk(diagnostics::Code::T702));
  CHECK_FALSE(prevents_walk(diagnostics::Code::F401));
  CHECK_FALSE(prevents_walk(diagnostics::Code::X101));
}
