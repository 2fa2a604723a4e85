// One case a rule pattern: a run that breaks it and one that keeps it. And how a walk goes: loops, interruptions.
#include <doctest/doctest.h>

#include "kit.hpp"

using namespace stepward::oracle;
using namespace stepward::oracle::kit;

namespace {

/// Two pairs of gloves and a mask in the bay.
Ward dressed() {
  Ward ward;
  ward.begins(ward.wearer, ward.bay, {ward.inner, ward.outer, ward.mask});
  ward.p.rules.resize(1);
  ward.p.rules[0].number = "R01";
  return ward;
}

Event takes_off_any_item(const Ward&) {
  return event(Event::What::takes_off, anyone(), subject(Subject::What::any_item));
}

Event disinfects_hands() { return event(Event::What::disinfects, that_person(), subject(Subject::What::hands)); }

}  // namespace

TEST_CASE("oracle: pattern 1 looks back to the last time hands touched something unclean") {
  Ward ward = dressed();
  Rule& rule = ward.p.rules[0];
  rule.pattern = Pattern::before_each;
  rule.trigger = events({takes_off_any_item(ward)});
  rule.require = events({disinfects_hands()});
  ward.disinfect("rub", hands_of_doer());
  ward.add(VerbKind::act, ward.wearer, "bin", {spot(ward.patch)});
  ward.off("mask off", {ward.mask}, {});
  ward.finish(ward.fled);
  CHECK(ward.all_found().empty());  // pattern 2: rubbed before, whatever came between
  rule.has_since = true;
  rule.since = events({event(Event::What::hands_touch_unclean, that_person())});
  CHECK(ward.found(Code::R101, "mask off", "R01") == 4);
  rule.severity = stepward::model::Severity::advisory;
  CHECK(ward.found(Code::R102, "mask off", "R01") == 4);
}

TEST_CASE("oracle: pattern 2 tells a run that never did it") {
  Ward ward = dressed();
  ward.p.rules[0].pattern = Pattern::before_each;
  ward.p.rules[0].trigger = events({takes_off_any_item(ward)});
  ward.p.rules[0].require = events({disinfects_hands()});
  ward.off("mask off", {ward.mask}, {});
  ward.finish(ward.fled);
  CHECK(ward.found(Code::R101, "mask off", "R01") == 1);
}

TEST_CASE("oracle: pattern 3 is settled by the required event, by its chain, and starts anew") {
  Ward ward = dressed();
  Rule& rule = ward.p.rules[0];
  rule.pattern = Pattern::after_each;
  rule.trigger = events({event(Event::What::takes_off, role(ward.wearer), subject(ward.mask))});
  rule.require = events({event(Event::What::disinfects, role(ward.wearer), subject(Subject::What::hands))});
  rule.before = events({event(Event::What::takes_off, role(ward.wearer), subject(ward.outer))});
  ward.off("mask off", {ward.mask}, {});
  ward.disinfect("rub", hands_of_doer());
  ward.off("outer off", {ward.outer}, {});
  ward.finish(ward.fled);
  CHECK(ward.all_found().empty());
  rule.has_then = true;
  rule.then = events({event(Event::What::inspects, role(ward.wearer), subject(ward.outer))});
  CHECK(ward.found(Code::R101, "outer off", "R01") == 4);
}

TEST_CASE("oracle: pattern 4 wants the very next line of that person") {
  Ward ward = dressed();
  Rule& rule = ward.p.rules[0];
  rule.pattern = Pattern::right_after_each;
  rule.trigger = events({event(Event::What::takes_off, role(ward.wearer), subject(ward.mask))});
  rule.require = events({event(Event::What::disinfects, role(ward.wearer), subject(Subject::What::hands))});
  ward.off("mask off", {ward.mask}, {});
  Line& between = ward.add(VerbKind::record, ward.wearer, "between");
  between.records = {ward.log};
  ward.disinfect("rub", hands_of_doer());
  ward.finish(ward.fled);
  CHECK(ward.all_found().empty());
  ward.p.lines[1].verb = VerbKind::act;
  CHECK(ward.found(Code::R101, "between", "R01") == 2);
  ward.p.blocks[0].statements.erase(ward.p.blocks[0].statements.begin() + 1, ward.p.blocks[0].statements.begin() + 3);
  CHECK(ward.all_found().empty());  // an emergency leaves the rest to whoever takes over
  ward.p.endings[1].normal = true;
  CHECK(ward.found(Code::R101, "fled", "R01") == 1);
}

TEST_CASE("oracle: of what is not there no event comes, and its line is the next one all the same") {
  Ward ward = dressed();
  ward.p.rules.resize(3);
  for (Rule& rule : ward.p.rules) rule.pattern = Pattern::never;
  ward.p.rules[0].trigger = events({event(Event::What::disinfects, role(ward.wearer), subject(ward.gown))});
  ward.p.rules[1].number = "R02";
  ward.p.rules[1].trigger = events({event(Event::What::inspects, role(ward.wearer), subject(ward.gown))});
  ward.p.rules[2].number = "R03";
  ward.p.rules[2].pattern = Pattern::right_after_each;
  ward.p.rules[2].trigger = events({event(Event::What::takes_off, role(ward.wearer), subject(ward.mask))});
  ward.p.rules[2].require = ward.p.rules[0].trigger;
  ward.off("mask off", {ward.mask}, {});
  ward.disinfect("rub", item(ward.gown));
  ward.look("look", item(ward.gown), {ward.soil});
  ward.finish(ward.fled);
  CHECK(ward.found(Code::R101, "rub", "R01") == -1);
  CHECK(ward.found(Code::R101, "rub", "R03") == 2);
  ward.p.rules.pop_back();
  CHECK(ward.found(Code::P405, "look", "gown") == 4);
  CHECK(ward.found(Code::R101, "look", "R02") == -1);
}

TEST_CASE("oracle: pattern 5 asks a state at the moment") {
  Ward ward = dressed();
  Rule& rule = ward.p.rules[0];
  rule.pattern = Pattern::never;
  rule.trigger = events({event(Event::What::takes_off, role(ward.wearer), subject(ward.outer))});
  rule.has_while = true;
  rule.while_states = states({state(State::What::worn, role(ward.wearer), subject(ward.mask))});
  ward.off("outer off", {ward.outer}, {});
  ward.finish(ward.fled);
  CHECK(ward.found(Code::R101, "outer off", "R01") == 1);
  std::swap(rule.has_while, rule.has_unless);
  rule.unless = rule.while_states;
  CHECK(ward.all_found().empty());
}

TEST_CASE("oracle: pattern 6 asks at the ending") {
  Ward ward = dressed();
  ward.p.rules[0].pattern = Pattern::at_ending;
  ward.p.rules[0].any_ending = true;
  ward.p.rules[0].at_end = states({state(State::What::none_worn, role(ward.wearer), subject(ward.mask))});
  ward.add(VerbKind::act, ward.wearer, "breathe");
  ward.finish(ward.fled);
  CHECK(ward.found(Code::R101, "fled", "R01") == 1);
}

TEST_CASE("oracle: a binding keeps one memory for each item, and a set is one moment") {
  Ward ward = dressed();
  Rule& rule = ward.p.rules[0];
  rule.pattern = Pattern::after_each;
  rule.trigger = events({takes_off_any_item(ward)});
  rule.require = events({disinfects_hands()});
  rule.before = events({event(Event::What::takes_off, that_person(), subject(Subject::What::any_other_item))});
  ward.off("both off", {ward.outer, ward.mask}, {});
  ward.finish(ward.fled);
  CHECK(ward.all_found().empty());
  ward.p.lines[0].things = {item(ward.outer)};
  ward.off("mask off", {ward.mask}, {});
  ward.p.blocks[0].statements[1].what = Statement::What::line;
  ward.p.blocks[0].statements[1].line = LineId{1u};
  CHECK(ward.found(Code::R101, "mask off", "R01") == 2);
}

TEST_CASE("oracle: every answer of a decision is followed") {
  Ward ward = dressed();
  Line& decide = ward.add(VerbKind::decide, ward.wearer, "decide");
  decide.decision = ward.fit;
  ward.finish(ward.fled);
  CHECK(ward.walk().states == 1);  // one state before the line; both runs then end
  ward.p.blocks[0].statements.pop_back();
  ward.add(VerbKind::act, ward.wearer, "breathe");
  CHECK(ward.walk().states == 3);
}

TEST_CASE("oracle: a loop does its body until the answer, at most so often, then its fallback") {
  Ward ward = dressed();
  const BlockId body = ward.new_block(), fallback = ward.new_block();
  ward.add_to(body, VerbKind::act, ward.wearer, "again");
  ward.finish_in(fallback, ward.fled);
  Atom never;
  never.what = Atom::What::declared;
  never.mark = ward.exposure;
  Statement& loop = ward.statement(ward.main, Statement::What::repeat);
  loop.block = body;
  loop.fallback = fallback;
  loop.at_most = 3;
  loop.until = question({never});
  ward.p.rules[0].pattern = Pattern::at_ending;
  ward.p.rules[0].any_ending = true;
  ward.p.rules[0].at_end = states({state(State::What::none_worn, role(ward.wearer), subject(ward.mask))});
  CHECK(ward.found(Code::R101, "fled", "R01") == 3);
  ward.p.blocks[0].statements[0].until.atoms[0].negated = true;
  CHECK(ward.found(Code::F101, "end", "") == 1);
}

TEST_CASE("oracle: an interruption strikes before each line but the first, and within a contact time") {
  Ward ward = dressed();
  ward.disinfect("rub", hands_of_doer());
  ward.add(VerbKind::act, ward.wearer, "breathe");
  ward.finish(ward.fled);
  ward.p.rules.clear();
  CHECK(ward.walk().states == 3);  // before the line, within its contact time, before the second
  ward.interruption("call", {});
  ward.add_to(ward.p.interruptions[0].block, VerbKind::act, ward.wearer, "answer it");
  ward.statement(ward.p.interruptions[0].block, Statement::What::resume);
  // Struck: at "answer it" within the rub or after it; then before the rub again, within it, and before the second
  // line.
  CHECK(ward.walk().states == 3 + 2 + 3);
  CHECK(ward.walk().is_complete);
}
