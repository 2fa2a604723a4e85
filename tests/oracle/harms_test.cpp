// One case a code of the families P and F: the plainest run that has it, and next to it one that has not.
#include <doctest/doctest.h>

#include "kit.hpp"

using namespace stepward::oracle;
using namespace stepward::oracle::kit;

namespace {

/// A wearer who starts in the given zone; the rest of the run is the test's.
Ward wearing(ZoneId zone, const std::vector<ItemId>& items) {
  Ward ward;
  ward.begins(ward.wearer, zone, items);
  return ward;
}

}  // namespace

TEST_CASE("oracle: unclean gloves on the mask are a harm at the face, clean ones are not") {
  Ward ward = wearing(Ward().room, {});
  ward.p.people[0].wearing = {{item(ward.inner), {}}, {item(ward.mask), {}}};
  ward.off("mask off", {ward.mask}, ward.straps);
  ward.finish(ward.fled);
  CHECK(ward.found(Code::P101, "mask off", "mask") == 1);
  ward.p.people[0].zone = ward.bay;
  CHECK(ward.found(Code::P101, "mask off", "mask") == -1);
}

TEST_CASE("oracle: dirt that the mask gave the hand is no harm to the same mask") {
  Ward ward = wearing(Ward().room, {Ward().mask});
  ward.p.techniques[ward.straps.value].handles.push_back({TechniqueThing{}, false});
  ward.off("mask off", {ward.mask}, ward.straps);
  ward.finish(ward.fled);
  CHECK(ward.found(Code::P101, "mask off", "mask") == -1);
  CHECK(ward.found(Code::P102, "mask off", "mask") == 1);
}

TEST_CASE("oracle: bare hands meet a gown from the room") {
  Ward ward = wearing(Ward().room, {Ward().gown});
  ward.off("gown off", {ward.gown}, ward.pull);
  ward.finish(ward.fled);
  CHECK(ward.found(Code::P102, "gown off", "gown") == 1);
  CHECK(ward.found(Code::P801, "gown off", "gown") == 1);
}

TEST_CASE("oracle: unclean gloves reach scrubs and skin") {
  Ward ward = wearing(Ward().room, {Ward().inner});
  ward.p.people[0].zone = ward.bay;
  ward.p.items[ward.scrubs.value].surfaces[0].reach = Reach::exposed;
  ward.add(VerbKind::act, ward.wearer, "dirty", {spot(ward.patch)});
  ward.add(VerbKind::act, ward.wearer, "scratch", {site(ward.torso)});
  ward.finish(ward.fled);
  CHECK(ward.found(Code::P103, "scratch", "torso") == 2);
  ward.p.people[0].wearing.push_back({item(ward.scrubs), {}});
  ward.p.lines[1].things = {item(ward.scrubs)};
  CHECK(ward.found(Code::P103, "scratch", "scrubs") == 2);
}

TEST_CASE("oracle: a brush against clothing reaches it, a slip that may brush does not") {
  Ward ward = wearing(Ward().room, {});
  ward.p.people[0].wearing = {{item(ward.scrubs), {}}, {item(ward.gown), {}}, {item(ward.outer), {}}};
  TechniqueThing it, covered;
  it.part = "outside";
  covered.what = TechniqueThing::What::what_it_covers;
  ward.p.techniques[ward.wear.value].brushes = {{it, covered, true}};
  ward.off("gown off", {ward.gown}, ward.wear);
  ward.finish(ward.fled);
  CHECK(ward.found(Code::P103, "gown off", "scrubs") == 1);
  ward.p.techniques[ward.wear.value].brushes[0].always = false;
  CHECK(ward.found(Code::P103, "gown off", "scrubs") == -1);
}

TEST_CASE("oracle: an inside that was met rests on what lies beneath unless it is held away") {
  Ward ward = wearing(Ward().bay, {});
  ward.p.people[0].wearing = {{item(ward.scrubs), {}}, {item(ward.gown), {}}, {item(ward.outer), {}}};
  ward.p.items[ward.gown.value].inside_rests = true;
  ward.add(VerbKind::act, ward.wearer, "dirty", {spot(ward.patch)});
  ward.off("gown off", {ward.gown}, ward.peel);
  ward.finish(ward.fled);
  CHECK(ward.found(Code::P103, "gown off", "scrubs") == 2);
  ward.p.techniques[ward.peel.value].handles[1].held_away = true;
  CHECK(ward.found(Code::P103, "gown off", "scrubs") == -1);
}

TEST_CASE("oracle: a glove on an unclean hand, and a fresh pair met by an unclean hand") {
  Ward ward = wearing(Ward().bay, {});
  ward.p.people[0].wearing = {{item(ward.inner), {}}};
  ward.add(VerbKind::act, ward.wearer, "dirty", {spot(ward.patch)});
  ward.on("second pair", ward.outer, ward.wear);
  ward.finish(ward.fled);
  CHECK(ward.found(Code::P104, "second pair", "outer gloves") == 2);
  ward.p.lines[1].verb = VerbKind::take;
  CHECK(ward.found(Code::P105, "second pair", "fresh outer gloves") == 2);
}

TEST_CASE("oracle: a glove that is on already is put on by the layer beneath") {
  Ward ward = wearing(Ward().bay, {Ward().inner, Ward().outer});
  ward.p.items[ward.inner.value].begins_sterile = true;
  ward.p.items[ward.outer.value].inside_rests = true;
  ward.on("again", ward.outer, ward.wear);
  ward.finish(ward.fled);
  CHECK(ward.found(Code::P403, "again", "outer gloves") == 1);
  CHECK(ward.found(Code::P107, "again", "inner gloves") == -1);  // it met the outside before the inside came to rest
  ward.p.lines[0].technique = {};
  CHECK(ward.found(Code::P107, "again", "inner gloves") == 1);  // nothing was met
}

TEST_CASE("oracle: a helper with unclean hands puts gloves on somebody") {
  Ward ward = wearing(Ward().bay, {});
  ward.begins(ward.helper, ward.bay, {ward.inner});
  ward.add(VerbKind::act, ward.helper, "dirty", {spot(ward.patch)});
  ward.on("glove on", ward.outer, ward.wear).who = ward.helper;
  ward.finish(ward.fled);
  CHECK(ward.found(Code::P105, "glove on", "outer gloves") == 2);
  CHECK(ward.found(Code::P104, "glove on", "outer gloves") == -1);
}

TEST_CASE("oracle: an unclean hand on the bench or on somebody else, but not on the bin") {
  Ward ward = wearing(Ward().bay, {});
  ward.begins(ward.helper, ward.bay, {ward.gown});
  ward.p.people[0].wearing = {{item(ward.inner), {}}};
  ward.add(VerbKind::act, ward.wearer, "dirty", {spot(ward.patch)});
  ward.add(VerbKind::act, ward.wearer, "lean", {spot(ward.bench)});
  ward.finish(ward.fled);
  CHECK(ward.found(Code::P106, "lean", "bench") == 2);
  ward.p.lines[1].things = {spot(ward.bin)};
  CHECK(ward.found(Code::P106, "lean", "bin") == -1);
  ward.p.lines[1].things = {item(ward.gown, {}, ward.helper)};
  CHECK(ward.found(Code::P106, "lean", "helper's gown") == 2);
}

TEST_CASE("oracle: an unclean gown over the border, unless the border lets it through") {
  Ward ward = wearing(Ward().room, {Ward().gown});
  ward.move_to("out", ward.lobby);
  ward.finish(ward.fled);
  CHECK(ward.found(Code::P201, "out", "gown") == 1);
  ward.p.zones[0].leads_to[1].lets_through = {{ward.gown, {}}};
  CHECK(ward.found(Code::P201, "out", "gown") == -1);
}

TEST_CASE("oracle: protection that a zone needs is missing on entry and when it comes off") {
  Ward ward = wearing(Ward().bay, {Ward().gown});
  ward.p.zones[0].needs = {{{}, ward.gloves}};
  ward.p.zones[1].needs = {{{}, ward.suit}};
  ward.move_to("in", ward.room);
  ward.finish(ward.fled);
  CHECK(ward.found(Code::P202, "in", "gloves") == 1);
  Ward undressed = wearing(ward.bay, {ward.gown});
  undressed.p.zones[1].needs = {{{}, ward.suit}};
  undressed.off("gown off", {ward.gown}, ward.pull);
  undressed.finish(ward.fled);
  CHECK(undressed.found(Code::P202, "gown off", "gown") == 1);
}

TEST_CASE("oracle: a place that may not be entered, and one that nothing leads to") {
  Ward ward = wearing(Ward().bay, {});
  ward.p.roles[0].may_enter = {ward.bay};
  ward.move_to("out", ward.lobby);
  ward.finish(ward.fled);
  CHECK(ward.found(Code::P203, "out", "lobby") == 1);
  CHECK(ward.found(Code::P204, "out", "lobby") == -1);
  ward.p.roles[0].may_enter.clear();
  CHECK(ward.found(Code::P203, "out", "lobby") == -1);  // a role that names no place may enter every one
  ward.p.zones[1].leads_to.clear();
  CHECK(ward.found(Code::P204, "out", "lobby") == 1);
}

TEST_CASE("oracle: a helper in another zone cannot reach, but can look where zones are in sight") {
  Ward ward = wearing(Ward().bay, {Ward().gown});
  ward.begins(ward.helper, ward.lobby, {});
  ward.off("gown off", {ward.gown}, ward.pull).who = ward.helper;
  ward.finish(ward.fled);
  CHECK(ward.found(Code::P205, "gown off", "wearer") == 1);
  Ward looking = wearing(ward.bay, {ward.gown});
  looking.begins(ward.helper, ward.lobby, {});
  looking.look("look", item(ward.gown), {ward.soil}).who = ward.helper;
  looking.finish(ward.fled);
  CHECK(looking.found(Code::P205, "look", "wearer") == 1);
  looking.p.zones[ward.bay.value].in_sight_of = {ward.lobby};
  CHECK(looking.found(Code::P205, "look", "wearer") == -1);
}

TEST_CASE("oracle: hands that must keep off") {
  Ward ward = wearing(Ward().bay, {Ward().gown});
  ward.begins(ward.helper, ward.bay, {});
  ward.p.roles[1].keeps_hands_off = {ward.wearer};
  ward.off("gown off", {ward.gown}, ward.pull).who = ward.helper;
  ward.finish(ward.fled);
  CHECK(ward.found(Code::P301, "gown off", "wearer") == 1);
}

TEST_CASE("oracle: still covered, unless what covers it leaves too") {
  Ward ward = wearing(Ward().bay, {});
  ward.p.people[0].wearing = {{item(ward.inner), {}}, {item(ward.outer), {}}};
  ward.off("inner off", {ward.inner}, ward.peel);
  ward.finish(ward.fled);
  CHECK(ward.found(Code::P401, "inner off", "inner gloves") == 1);
  ward.p.lines[0].things.push_back(item(ward.outer));
  ward.p.lines[0].together = true;
  CHECK(ward.found(Code::P401, "inner off", "inner gloves") == -1);
}

TEST_CASE("oracle: not worn, already worn, put on under, nobody can see it") {
  Ward ward = wearing(Ward().bay, {Ward().outer});
  ward.off("mask off", {ward.mask}, ward.straps);
  ward.finish(ward.fled);
  CHECK(ward.found(Code::P402, "mask off", "mask") == 1);
  Ward twice = wearing(ward.bay, {ward.outer});
  twice.on("again", ward.outer);
  CHECK(twice.found(Code::P403, "again", "outer gloves") == 1);
  Ward under = wearing(ward.bay, {ward.outer});
  under.on("under", ward.inner);
  CHECK(under.found(Code::P404, "under", "inner gloves") == 1);
  under.p.items[ward.inner.value].goes_over.push_back({ward.outer, {}, std::nullopt, true, {}});
  CHECK(under.found(Code::P404, "under", "inner gloves") == -1);
  Ward unseen = wearing(ward.bay, {ward.outer});
  unseen.look("look", item(ward.inner), {ward.soil});
  CHECK(unseen.found(Code::P405, "look", "inner gloves") == 1);
}

TEST_CASE("oracle: agents that must not, do not, or cannot clean") {
  Ward ward = wearing(Ward().bay, {Ward().mask});
  ward.disinfect("face", site(ward.face));
  ward.finish(ward.fled);
  CHECK(ward.found(Code::P501, "face", "face") == 1);
  ward.p.lines[0].things = {item(ward.mask)};
  CHECK(ward.found(Code::P505, "face", "mask") == 1);
  ward.p.people[0].wearing = {{item(ward.inner), {}}};
  ward.p.lines[0].things = {spot(ward.patch)};
  CHECK(ward.found(Code::P502, "face", "patch") == 2);  // at the end of the contact time
}

TEST_CASE("oracle: left wet, in every way") {
  Ward ward = wearing(Ward().bay, {});
  ward.p.people[0].wearing = {{item(ward.inner), {}}, {item(ward.gown), {}}};
  ward.disinfect("wipe", item(ward.gown)).without_waiting = true;
  ward.off("gown off", {ward.gown}, {});
  ward.finish(ward.fled);
  CHECK(ward.found(Code::P503, "gown off", "gown") == 2);
  ward.p.lines[1].verb = VerbKind::act;
  CHECK(ward.found(Code::P503, "gown off", "gown") == 2);
  ward.p.lines[1].verb = VerbKind::move;
  ward.p.lines[1].zone = ward.lobby;
  CHECK(ward.found(Code::P503, "gown off", "gown") == 2);
  ward.p.lines[1].verb = VerbKind::disinfect;
  ward.p.lines[1].agent = ward.rub;
  CHECK(ward.found(Code::P503, "gown off", "gown") == 2);
  ward.p.lines[1].verb = VerbKind::wait;
  ward.p.lines[1].wait_contact_time = true;
  CHECK(ward.all_found() == std::vector<std::string>{});
}

TEST_CASE("oracle: what is left wet is ended by its own doer's waiting, and was disinfected with its own agent") {
  Ward ward = wearing(Ward().bay, {});
  ward.p.people[0].wearing = {{item(ward.inner), {}}, {item(ward.gown), {}}};
  ward.begins(ward.helper, ward.bay, {ward.inner});
  ward.p.rules.resize(1);
  Rule& rule = ward.p.rules[0];
  rule.number = "R01";
  rule.pattern = Pattern::before_each;
  rule.trigger = events({event(Event::What::takes_off, anyone(), subject(ward.gown))});
  Event wiped = event(Event::What::disinfects, role(ward.wearer), subject(ward.gown));
  wiped.agent = ward.rub;
  rule.require = events({wiped});
  ward.disinfect("wipe", item(ward.gown)).without_waiting = true;
  ward.add(VerbKind::wait, ward.wearer, "wait").wait_contact_time = true;
  ward.off("gown off", {ward.gown}, {});
  ward.finish(ward.fled);
  CHECK(ward.all_found() == std::vector<std::string>{});
  ward.p.rules[0].require.events[0].agent = stepward::model::AgentId{1u};
  CHECK(ward.found(Code::R101, "gown off", "R01") == 3);
  ward.p.rules[0].require.events[0].agent = ward.rub;
  ward.p.lines[1].who = ward.helper;
  CHECK(ward.found(Code::P503, "gown off", "gown") == 3);
  CHECK(ward.found(Code::R101, "gown off", "R01") == 3);
}

TEST_CASE("oracle: cleaning where no soil is, unless an interruption did it") {
  Ward ward = wearing(Ward().bay, {Ward().gown});
  ward.add(VerbKind::act, ward.wearer, "breathe");
  ward.add(VerbKind::clean, ward.wearer, "wipe", {item(ward.gown)});
  ward.finish(ward.fled);
  CHECK(ward.found(Code::P504, "wipe", "gown") == 2);
}

TEST_CASE("oracle: found soil is owed before the next removal, and cleaning or removal answers it") {
  Ward ward = wearing(Ward().room, {});
  ward.p.people[0].wearing = {{item(ward.gown), {}}, {item(ward.outer), {}}, {item(ward.mask), {}}};
  ward.look("look", item(ward.gown), {ward.soil});
  ward.off("mask off", {ward.mask}, {});
  ward.finish(ward.fled);
  CHECK(ward.found(Code::P601, "mask off", "gown") == 2);
  ward.p.lines[1].things = {item(ward.gown)};
  CHECK(ward.found(Code::P601, "mask off", "gown") == -1);
  ward.p.lines[1].verb = VerbKind::act;
  ward.p.lines[1].things.clear();
  ward.p.endings[1].normal = true;
  CHECK(ward.found(Code::P601, "fled", "gown") == 2);
  ward.p.lines[1].verb = VerbKind::clean;
  ward.p.lines[1].things = {item(ward.gown)};
  CHECK(ward.found(Code::P601, "fled", "gown") == -1);
}

TEST_CASE("oracle: a gap is owed before a normal ending until it is declared") {
  Ward ward = wearing(Ward().bay, {Ward().gown});
  ward.look("look", item(ward.gown), {ward.gap});
  ward.add(VerbKind::act, ward.wearer, "breathe");
  ward.finish(ward.clear);
  CHECK(ward.found(Code::P601, "clear", "gown") == 2);
  ward.p.lines[1].verb = VerbKind::declare;
  ward.p.lines[1].mark = ward.exposure;
  CHECK(ward.found(Code::P601, "clear", "gown") == -1);
}

TEST_CASE("oracle: a tear found in the hand is owed when the pair is put on") {
  Ward ward = wearing(Ward().bay, {});
  ward.add(VerbKind::take, ward.wearer, "take", {item(ward.inner)});
  ward.look("look", item(ward.inner), {ward.tear});
  ward.on("on", ward.inner);
  ward.finish(ward.fled);
  CHECK(ward.found(Code::P601, "on", "inner gloves") == 3);
  ward.p.lines[1].verb = VerbKind::take;  // a fresh one instead
  CHECK(ward.found(Code::P601, "on", "inner gloves") == -1);
}

TEST_CASE("oracle: a splash that reached the face is owed at a normal ending and before new equipment") {
  Ward ward = wearing(Ward().bay, {});
  ward.add(VerbKind::act, ward.wearer, "breathe");
  ward.add(VerbKind::act, ward.wearer, "breathe again");
  ward.on("mask on", ward.mask);
  ward.off("mask off", {ward.mask}, {});
  ward.add(VerbKind::act, ward.wearer, "breathe out");
  ward.finish(ward.clear);
  Happening splash;
  splash.what = Happening::What::soiled;
  splash.thing = site(ward.face);
  ward.interruption("splash", {splash});
  ward.statement(ward.p.interruptions[0].block, Statement::What::resume);
  CHECK(ward.found(Code::P602, "mask on", "face") == 4);
  CHECK(ward.found(Code::P602, "clear", "face") == 6);
}

TEST_CASE("oracle: an ending that is not as it says") {
  Ward ward = wearing(Ward().room, {});
  ward.p.people[0].wearing = {{item(ward.scrubs), {}}, {item(ward.gown), {}}};
  Ending& ending = ward.p.endings[0];
  ending.where = {{ward.wearer, ward.lobby, {}}};
  ending.wears = {{ward.wearer, {{item(ward.mask), {}}}, {}}};
  ending.clean = {item(ward.gown)};
  ward.add(VerbKind::act, ward.wearer, "breathe");
  ward.finish(ward.clear);
  CHECK(ward.all_found() == std::vector<std::string>{"P701 at clear: gown of wearer", "P702 at clear: lobby of wearer",
                                                     "P702 at clear: mask of wearer", "P703 at clear: gown of wearer"});
}

TEST_CASE("oracle: a run that just stops") {
  Ward ward = wearing(Ward().bay, {});
  ward.add(VerbKind::act, ward.wearer, "breathe");
  CHECK(ward.found(Code::F101, "end", "") == 1);
}

TEST_CASE("oracle: a question for a decision that nobody made") {
  Ward ward = wearing(Ward().room, {Ward().gown});
  ward.add(VerbKind::act, ward.wearer, "breathe");
  Statement& asked = ward.statement(ward.main, Statement::What::question);
  Atom good;
  good.what = Atom::What::answer;
  good.decision = DecisionId{0u};
  asked.arms.push_back({question({good}), false, BlockId{1u}, {}});
  ward.new_block();
  ward.finish(ward.fled);
  CHECK(ward.found(Code::F203, "question at 0", "fit") == 1);
  ward.p.lines[0].verb = VerbKind::decide;
  ward.p.lines[0].decision = DecisionId{0u};
  CHECK(ward.all_found().empty());
}

TEST_CASE("oracle: a question nobody can answer, and one whose answer is stale") {
  Ward ward = wearing(Ward().room, {Ward().gown});
  ward.add(VerbKind::act, ward.wearer, "breathe");
  Statement& asked = ward.statement(ward.main, Statement::What::question);
  asked.arms.push_back({question({asks(item(ward.gown), {ward.soil})}), false, BlockId{1u}, {}});
  ward.new_block();
  ward.finish(ward.fled);
  CHECK(ward.found(Code::F201, "question at 0", "gown") == 1);
  ward.p.lines[0].verb = VerbKind::inspect;
  ward.p.lines[0].things = {item(ward.gown)};
  ward.p.lines[0].findings = {ward.soil};
  CHECK(ward.all_found().empty());
  // Walking into the room again makes "no soil" stale.
  ward.p.lines.push_back(ward.p.lines[0]);
  ward.p.lines[1].verb = VerbKind::move;
  ward.p.lines[1].zone = ward.room;
  ward.p.zones[0].leads_to.push_back({ward.room, {}});
  Statement walk_in;
  walk_in.line = LineId{1u};
  auto& statements = ward.p.blocks[0].statements;
  statements.insert(statements.begin() + 1, walk_in);
  CHECK(ward.found(Code::F202, "question at 0", "gown") == 2);
}
