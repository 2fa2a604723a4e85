#include "kit.hpp"

#include "model/variants.hpp"

namespace stepward::oracle::kit {
namespace {

template <class Declared>
Declared named(const std::string& name) {
  Declared declared;
  declared.name = name;
  return declared;
}

Zone zone(const std::string& name, Risk risk, Exposes exposes, const std::vector<ZoneId>& leads_to) {
  Zone made = named<Zone>(name);
  made.risk = risk;
  made.exposes = exposes;
  for (const ZoneId to : leads_to) made.leads_to.push_back({to, {}});
  return made;
}

Item worn_item(const std::string& name, KindId kind, const std::vector<SiteId>& sites,
               const std::vector<model::Surface>& surfaces) {
  Item made = named<Item>(name);
  made.kinds = {kind};
  made.worn_on = sites;
  made.surfaces = surfaces;
  return made;
}

TechniqueThing it(const std::string& part) {
  TechniqueThing thing;
  thing.part = part;
  return thing;
}

Technique technique(const std::string& name, const std::vector<std::string>& parts) {
  Technique made = named<Technique>(name);
  for (const std::string& part : parts) made.handles.push_back({it(part), false});
  return made;
}

model::Finding finding(const std::string& name, FindingMeans means, const std::vector<Answer>& answers,
                       Deadline before) {
  model::Finding made = named<model::Finding>(name);
  made.means = means;
  made.answered_by = answers;
  made.before = before;
  return made;
}

Spot place(const std::string& name, Level begins, bool meant_for_dirty, KindId made_of) {
  Spot made = named<Spot>(name);
  made.begins = begins;
  made.meant_for_dirty = meant_for_dirty;
  made.made_of = made_of;
  return made;
}

const model::Surface outside{"outside", Reach::exposed, {}};
const model::Surface cuff{"cuff", Reach::sheltered, {}};
const model::Surface inside{"inside", Reach::inside, {}};

}  // namespace

Ward::Ward() {
  p.zones = {zone("room", Risk::high, Exposes::all_round, {bay, lobby}),
             zone("bay", Risk::middle, Exposes::nothing, {lobby, room}),
             zone("lobby", Risk::low, Exposes::nothing, {room})};
  p.roles = {named<Role>("wearer"), named<Role>("helper")};
  for (Role& each : p.roles) each.may_enter = {room, bay, lobby};
  p.sites = {named<Site>("bare hands"), named<Site>("face"), named<Site>("torso")};
  p.sites[0].is_hands = true;
  p.sites[1].nature = SiteNature::mucous;
  for (const char* name : {"gloves", "suit", "mask kind", "hard surface", "clothing"})
    p.kinds.push_back(named<Kind>(name));
  p.findings = {
      finding("soil", FindingMeans::surface_soiled, {{AnswerKind::cleaning, {}}, {AnswerKind::removal, {}}},
              Deadline::any_removal),
      finding("tear", FindingMeans::barrier_broken, {{AnswerKind::removal, {}}}, Deadline::any_removal),
      finding("gap", FindingMeans::skin_showing, {{AnswerKind::declaring, "exposure"}}, Deadline::normal_ending)};
  p.items = {worn_item("scrubs", clothing, {torso}, {outside}),
             worn_item("inner gloves", gloves, {hands}, {outside, cuff, inside}),
             worn_item("outer gloves", gloves, {hands}, {outside, cuff, inside}),
             worn_item("gown", suit, {torso}, {outside, {"ties", Reach::sheltered, {}}, inside}),
             worn_item("mask", mask_kind, {face}, {{"front", Reach::exposed, {}}, {"straps", Reach::sheltered, {}}})};
  p.items[0].clothing = true;
  p.items[0].stays_on = true;
  p.items[2].goes_over.push_back({inner, {}, std::nullopt, false, {}});
  p.items[3].goes_over.push_back({scrubs, {}, std::nullopt, false, {}});
  p.spots = {place("bench", Level::clean, false, hard), place("bin", Level::clean, true, hard),
             place("patch", Level::soiled, false, hard)};
  p.agents = {named<Agent>("rub")};
  for (const KindId kind : {gloves, suit, hard}) p.agents[0].works_on.push_back({{}, kind, {}, {}, false});
  p.agents[0].works_on.push_back({{}, {}, hands, {}, false});
  p.agents[0].never_on.push_back({{}, {}, face, {}, false});
  p.techniques = {technique("peel", {"outside", "inside"}), technique("pull", {""}), technique("wear", {"outside"}),
                  technique("straps first", {"straps"})};
  p.endings = {named<Ending>("clear"), named<Ending>("fled")};
  p.endings[1].normal = false;
  p.marks = {named<Mark>("exposure")};
  p.records = {named<Record>("log")};
  p.recipients = {named<Recipient>("leader")};
  p.decisions = {named<Decision>("fit")};
  p.decisions[0].answers = {"good", "poor"};
  p.blocks.emplace_back();
  p.phases = {named<Phase>("all of it")};
  p.phases[0].block = main;
  p.acts = wearer;
}

void Ward::begins(RoleId who, ZoneId zone, const std::vector<ItemId>& items) {
  PersonStart start;
  start.role = who;
  start.zone = zone;
  for (const ItemId each : items) start.wearing.push_back({item(each, {}, who), {}});
  start.ends_dressed = who == helper;
  p.people.push_back(start);
}

BlockId Ward::new_block() {
  p.blocks.emplace_back();
  return BlockId{p.blocks.size() - 1};
}

Statement& Ward::statement(BlockId block, Statement::What what) {
  p.blocks[block.value].statements.emplace_back();
  p.blocks[block.value].statements.back().what = what;
  return p.blocks[block.value].statements.back();
}

Line& Ward::add_to(BlockId block, VerbKind verb, RoleId who, const std::string& id, const std::vector<Thing>& things) {
  Line line;
  line.verb = verb;
  line.who = who;
  line.id = id;
  line.things = things;
  line.of = wearer;
  p.lines.push_back(line);
  statement(block, Statement::What::line).line = LineId{p.lines.size() - 1};
  return p.lines.back();
}

Line& Ward::add(VerbKind verb, RoleId who, const std::string& id, const std::vector<Thing>& things) {
  return add_to(main, verb, who, id, things);
}

Line& Ward::off(const std::string& id, const std::vector<ItemId>& items, TechniqueId technique) {
  std::vector<Thing> things;
  for (const ItemId each : items) things.push_back(item(each));
  Line& line = add(VerbKind::doff, wearer, id, things);
  line.technique = technique;
  line.together = items.size() > 1;
  return line;
}

Line& Ward::on(const std::string& id, ItemId what, TechniqueId technique) {
  Line& line = add(VerbKind::don, wearer, id, {item(what)});
  line.technique = technique;
  return line;
}

Line& Ward::disinfect(const std::string& id, const Thing& thing) {
  Line& line = add(VerbKind::disinfect, wearer, id, {thing});
  line.agent = rub;
  return line;
}

Line& Ward::look(const std::string& id, const Thing& thing, const std::vector<FindingId>& findings) {
  Line& line = add(VerbKind::inspect, wearer, id, {thing});
  line.findings = findings;
  return line;
}

Line& Ward::move_to(const std::string& id, ZoneId zone) {
  Line& line = add(VerbKind::move, wearer, id);
  line.zone = zone;
  return line;
}

void Ward::finish_in(BlockId block, EndingId ending) { statement(block, Statement::What::finish).ending = ending; }
void Ward::finish(EndingId ending) { finish_in(main, ending); }

InterruptionId Ward::interruption(const std::string& name, const std::vector<Happening>& happens) {
  Interruption made = named<Interruption>(name);
  made.happens = happens;
  made.block = new_block();
  p.interruptions.push_back(made);
  return InterruptionId{p.interruptions.size() - 1};
}

Result Ward::walk() const { return explore(p, model::all_variants(p).front()); }

int Ward::found(Code code, const std::string& where, const std::string& thing) const {
  for (const auto& [finding, steps] : walk().shortest) {
    if (finding.code == code && finding.where == where && finding.thing == thing) return steps;
  }
  return -1;
}

std::vector<std::string> Ward::all_found() const {
  std::vector<std::string> found;
  for (const auto& [finding, steps] : walk().shortest) found.push_back(to_string(finding));
  return found;
}

// ---------------------------------------------------------------- words for tests

Thing item(ItemId id, const std::string& part, RoleId of) {
  Thing thing;
  thing.what = Thing::What::item;
  thing.item = id;
  thing.part = part;
  thing.of = of;
  return thing;
}

Thing site(SiteId id, RoleId of) {
  Thing thing;
  thing.what = Thing::What::site;
  thing.site = id;
  thing.of = of;
  return thing;
}

Thing spot(SpotId id) {
  Thing thing;
  thing.what = Thing::What::spot;
  thing.spot = id;
  return thing;
}

Thing hands_of_doer(RoleId of) {
  Thing thing;
  thing.what = Thing::What::hands;
  thing.of = of;
  return thing;
}

Thing person(RoleId id) {
  Thing thing;
  thing.what = Thing::What::role;
  thing.role = id;
  return thing;
}

Atom asks(const Thing& thing, const std::vector<FindingId>& findings) {
  Atom atom;
  atom.what = Atom::What::found;
  atom.thing = thing;
  atom.findings = findings;
  return atom;
}

Condition question(const std::vector<Atom>& atoms) {
  Condition condition;
  condition.atoms = atoms;
  return condition;
}

Person role(RoleId id) {
  Person made;
  made.role = id;
  return made;
}

Person anyone() {
  Person made;
  made.what = Person::What::anyone;
  return made;
}

Person that_person() {
  Person made;
  made.what = Person::What::that_person;
  return made;
}

Subject subject(Subject::What what) {
  Subject made;
  made.what = what;
  made.any = what == Subject::What::any_item;
  return made;
}

Subject subject(ItemId id) {
  Subject made;
  made.what = Subject::What::item;
  made.item = id;
  return made;
}

Event event(Event::What what, const Person& who, const Subject& about) {
  Event made;
  made.what = what;
  made.who = who;
  made.subject = about;
  return made;
}

Events events(const std::vector<Event>& list, bool all) {
  Events made;
  made.events = list;
  made.all = all;
  return made;
}

State state(State::What what, const Person& who, const Subject& about) {
  State made;
  made.what = what;
  made.who = who;
  made.subject = about;
  return made;
}

States states(const std::vector<State>& list) {
  States made;
  made.states = list;
  return made;
}

}  // namespace stepward::oracle::kit
