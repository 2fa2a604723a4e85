#include "paper_protocol.hpp"

#include <utility>

namespace stepward::test {

using namespace model;

namespace {

Item glove(const std::string& name, const std::string& called, KindId kind, SiteId site) {
  Item item;
  item.name = name;
  item.called = called;
  item.kinds = {kind};
  item.worn_on = {site};
  item.surfaces = {{"outside", Reach::exposed, {}}, {"cuff", Reach::exposed, {}}, {"inside", Reach::inside, {}}};
  return item;
}

Target on_kind(KindId kind) {
  Target target;
  target.kind = kind;
  return target;
}

Target on_site(SiteId site) {
  Target target;
  target.site = site;
  return target;
}

const KindId gloves{0u};
const SiteId bare_hands{0u}, face{1u};
const AgentId chlorine{0u}, rub{1u};
const TechniqueId peel{0u}, break_loop{1u}, wipe{2u};
const FindingId soil{0u}, tear{1u};
const ZoneId bay{0u}, lobby{1u};
const EndingId out{0u}, carried_out{1u};

}  // namespace

PaperProtocol::PaperProtocol() {
  declare();
  word();
  write_phases();
  write_interruptions();
}

void PaperProtocol::declare() {
  Protocol& p = protocol;
  p.document = {"Leaving the test bay",
                "TST-01",
                "1.2",
                "approved",
                {{"Ada Quill", "author's office", ""}},
                {},
                {{"Bo Rune", "approver's office", "2031-01-02"}},
                "2031-01-05",
                "2032-01-05",
                "",
                "the test bay",
                {"English"},
                {}};
  p.zones.resize(2);
  p.zones[0].name = "bay";
  p.zones[0].risk = Risk::high;
  p.zones[1].name = "lobby";
  p.roles.resize(3);
  p.roles[0].name = "wearer";
  p.roles[1].name = "observer";
  p.roles[1].keeps_hands_off = {wearer};
  p.roles[2].name = "helper";
  p.sites.resize(2);
  p.sites[0].name = "bare hands";
  p.sites[0].is_hands = true;
  p.sites[1].name = "face";
  p.kinds.resize(2);
  p.kinds[0].name = "gloves";
  p.kinds[0].counted_by = "pair";
  p.kinds[1].name = "apron";
  p.findings.resize(2);
  p.findings[0].name = "soil";
  p.findings[1].name = "tear";
  p.findings[1].called = "a tear";
  p.items = {glove("inner gloves", "", gloves, bare_hands), glove("outer gloves", "", gloves, bare_hands),
             glove("plastic apron", "", KindId{1u}, SiteId{}), glove("visor", "", KindId{1u}, face),
             glove("goggles", "", KindId{1u}, face)};
  p.items[2].worn_on.clear();
  p.agents.resize(2);
  p.agents[0].name = "strong chlorine";
  p.agents[0].contact_times = {{{on_kind(gloves)}, {60}}, {{}, {120}}};
  p.agents[1].name = "hand rub";
  p.agents[1].contact_times = {{{}, {30}}};
  p.choices.resize(1);
  p.choices[0].name = "eye choice";
  p.choices[0].values = {{"visor", visor}, {"goggles", goggles}};
  p.people.resize(3);
  p.people[0].role = wearer;
  p.people[0].zone = bay;
  Thing eyes;
  eyes.what = Thing::What::choice;
  eyes.choice = ChoiceId{0u};
  p.people[0].wearing = {{item(inner), {}}, {eyes, {}}, {item(apron), {}}, {item(outer), {}}};
  p.people[1].role = observer;
  p.people[2].role = helper;
  p.acts = wearer;
  p.endings.resize(2);
  p.endings[0].name = "clear exit";
  p.endings[1].name = "assisted exit";
  p.endings[1].normal = false;
  p.endings[1].continue_with = "TST-02";
  p.rhythm = {true, observer, wearer, wearer, observer, {}};
  p.decisions.resize(1);
  p.decisions[0].name = "still able";
  p.decisions[0].answers = {"yes", "no"};
  p.recipients.resize(1);
  p.recipients[0].name = "shift lead";
  p.records.resize(1);
  p.records[0].name = "leaving time";
  p.marks.resize(1);
  p.marks[0].name = "exposure";
  p.routines.resize(2);
  p.routines[0].name = "clear soil";
  p.routines[1].name = "change gloves";
}

void PaperProtocol::word() {
  Protocol& p = protocol;
  p.techniques.resize(3);
  p.techniques[0].name = "peel inside out";
  p.techniques[0].drops_into = "waste drum";
  p.techniques[0].wording.words = {{"Pinch the cuff and turn it inside out.", {}, false, {}}};
  p.techniques[0].wording.watch = {{"No snap of the cuff.", {}, false, {}}};
  p.techniques[1].name = "break the loop";
  p.techniques[1].wording.words = {{"Pull until the neck loop snaps.", {}, false, {}}};
  p.techniques[1].wording.spoken = {{"Pull it forward until it snaps.", {}, false, {}}};
  p.techniques[1].wording.warning = {{"Do not roll it against your chest.", {}, false, {}}};
  p.techniques[2].name = "wipe down";
  p.techniques[2].wording.words = {{"One way only, a fresh face for each pass.", {}, false, {}}};
  p.verb_wordings.resize(4);
  p.verb_wordings[0].verb = VerbKind::doff;
  p.verb_wordings[0].wording.words = {{"TAKE OFF [item]. [technique]", {}, false, {}}};
  p.verb_wordings[0].wording.watch = {{"One slow movement.", {}, false, {}}};
  p.verb_wordings[0].wording.if_not = {{"Stop. Hands still.", {}, false, {}}};
  p.verb_wordings[1].verb = VerbKind::disinfect;
  p.verb_wordings[1].wording.words = {
      {"DISINFECT [surface] with [agent]. Wrists too.", {on_kind(gloves), on_site(bare_hands)}, false, {}},
      {"DISINFECT [surface] with [agent]. Top to bottom.", {}, true, {}}};
  p.verb_wordings[2].verb = VerbKind::clean;
  p.verb_wordings[2].wording.words = {{"Wipe all soil from [surface]. [technique]", {}, false, {}}};
  p.verb_wordings[3].verb = VerbKind::inspect;
  p.verb_wordings[3].wording.words = {{"Hold still, arms away from the body.", {}, false, {}}};
  p.verb_wordings[3].wording.spoken = {{"Hold still. I look at [item] for [findings].", {}, false, {}}};
}

Thing PaperProtocol::item(ItemId id, std::string part) const {
  Thing thing;
  thing.item = id;
  thing.part = std::move(part);
  return thing;
}

Thing PaperProtocol::hands() const {
  Thing thing;
  thing.what = Thing::What::hands;
  return thing;
}

Line PaperProtocol::line(VerbKind verb, RoleId who, std::vector<Thing> things) const {
  Line line;
  line.verb = verb;
  line.who = who;
  line.things = std::move(things);
  if (verb == VerbKind::doff || verb == VerbKind::don) line.of = wearer;
  if (verb == VerbKind::disinfect) line.agent = chlorine;
  if (verb == VerbKind::clean) line.technique = wipe;
  if (verb == VerbKind::doff) line.technique = peel;
  if (verb == VerbKind::inspect) line.findings = {soil, tear};
  return line;
}

Statement PaperProtocol::add(Line line) {
  protocol.lines.push_back(std::move(line));
  Statement statement;
  statement.line = LineId{protocol.lines.size() - 1};
  return statement;
}

BlockId PaperProtocol::block(std::vector<Statement> statements) {
  protocol.blocks.push_back({std::move(statements), {}});
  return BlockId{protocol.blocks.size() - 1};
}

Condition PaperProtocol::found(FindingId finding, Thing thing, bool negated) const {
  Atom atom;
  atom.negated = negated;
  atom.findings = {finding};
  atom.thing = std::move(thing);
  return {{atom}, true, {}};
}

Condition PaperProtocol::worn(ItemId id) const {
  Atom atom;
  atom.what = Atom::What::worn;
  atom.thing = item(id);
  atom.who = wearer;
  return {{atom}, true, {}};
}

Statement PaperProtocol::question(Condition condition, BlockId yes, BlockId no) const {
  Statement statement;
  statement.what = Statement::What::question;
  statement.arms.push_back({std::move(condition), false, yes, {}});
  if (no) statement.arms.push_back({{}, true, no, {}});
  return statement;
}

Statement PaperProtocol::call(RoutineId routine, BlockId id) const {
  Statement statement;
  statement.what = Statement::What::call;
  statement.routine = routine;
  statement.block = id;
  return statement;
}

Statement PaperProtocol::finish(EndingId ending) const {
  Statement statement;
  statement.what = Statement::What::finish;
  statement.ending = ending;
  return statement;
}

BlockId PaperProtocol::clear_soil(Thing thing) {
  Line report = line(VerbKind::report, observer);
  report.text = "soil that stays";
  report.details.because = "Nobody goes on as if it were clean.";
  Statement repeat;
  repeat.what = Statement::What::repeat;
  repeat.at_most = 3;
  repeat.block = block({add(line(VerbKind::clean, wearer, {thing})), add(line(VerbKind::inspect, observer, {thing}))});
  repeat.until = found(soil, thing, true);
  report.recipient = RecipientId{0u};
  repeat.fallback = block({add(report), finish(carried_out)});
  return block({repeat, add(line(VerbKind::disinfect, wearer, {thing}))});
}

BlockId PaperProtocol::change_gloves() {
  Line rub_hands = line(VerbKind::disinfect, wearer, {hands()});
  rub_hands.agent = rub;
  Line pass = line(VerbKind::pass, helper, {item(inner)});
  pass.to = wearer;
  std::vector<Statement> lines{add(line(VerbKind::disinfect, wearer, {hands()})),
                               add(line(VerbKind::doff, wearer, {item(inner)})),
                               add(line(VerbKind::inspect, observer, {hands()})), add(rub_hands), add(pass)};
  Statement washed = add(line(VerbKind::clean, wearer, {hands()}));
  lines.push_back(question(found(soil, hands()), block({washed})));
  lines.push_back(add(line(VerbKind::don, wearer, {item(inner)})));
  return block(std::move(lines));
}

void PaperProtocol::write_phases() {
  Protocol& p = protocol;
  Line show = line(VerbKind::inspect, observer, {item(outer)});
  show.details.say = "Show me your hands. Spread the fingers.";
  show.details.watch = "Fingertips and webs.";
  Line first = line(VerbKind::disinfect, wearer, {hands()});
  first.details.critical_because = "Everything after it is touched with these hands.";
  first.details.warning = "Hands stay below the shoulders.";
  p.phases.resize(2);
  p.phases[0].name = "Arrive";
  p.phases[0].block =
      block({add(show), question(found(soil, item(outer)), block({call(RoutineId{0u}, clear_soil(item(outer)))})),
             question(found(tear, item(outer)), block({call(RoutineId{1u}, change_gloves())})), add(first)});
  Line off = line(VerbKind::doff, wearer, {item(apron)});
  off.technique = break_loop;
  off.details.note = "The loop is meant to break.";
  Line helped = line(VerbKind::doff, helper, {item(visor)});
  Statement visor_only;
  visor_only.what = Statement::What::only_for;
  visor_only.only_for = {{ChoiceId{0u}, 0}};
  visor_only.block = block({add(helped)});
  Line leave = line(VerbKind::move, wearer);
  leave.zone = lobby;
  p.phases[1].name = "Take off";
  Line record = line(VerbKind::record, observer);
  record.records = {RecordId{0u}};
  p.phases[1].block = block({add(off), question(worn(outer), block({add(line(VerbKind::doff, wearer, {item(outer)}))})),
                             visor_only, add(line(VerbKind::inspect, observer, {item(inner)})),
                             question(found(tear, item(inner)), block({call(RoutineId{1u}, change_gloves())}),
                                      block({add(line(VerbKind::disinfect, wearer, {hands()}))})),
                             add(record), add(leave), finish(out)});
}

void PaperProtocol::write_interruptions() {
  Line calls = line(VerbKind::call, observer);
  calls.text = "second team";
  calls.details.say = "Sit down. Hands off your face.";
  calls.in_rhythm = false;
  protocol.interruptions.resize(2);
  protocol.interruptions[0].name = "wearer unwell";
  protocol.interruptions[0].block = block({add(calls), finish(carried_out)});
  Line disinfects = line(VerbKind::disinfect, observer, {hands()});
  Statement resume;
  resume.what = Statement::What::resume;
  protocol.interruptions[1].name = "observer touched wearer";
  Happening touch;
  touch.what = Happening::What::touches;
  touch.who = observer;
  protocol.interruptions[1].happens = {touch};
  protocol.interruptions[1].block = block({add(disinfects), resume});
}

}  // namespace stepward::test
