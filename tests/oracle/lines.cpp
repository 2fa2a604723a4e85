// Section 4, the lines that are short: clean, test, act, take, pass, move, decide, declare, record, report, call.
#include "lines.hpp"

#include <algorithm>

#include "clocks.hpp"

namespace stepward::oracle {

std::vector<NamedThing> things_of(const Step& step, const Line& line) {
  std::vector<NamedThing> things;
  for (const Thing& thing : line.things) things.push_back(named_by(step.c(), step.world, thing, line.who));
  return things;
}

Fact plain_fact(const Step& step, Event::What what) {
  Fact fact;
  fact.what = what;
  fact.doer = step.doer;
  fact.line = step.line;
  return fact;
}

bool is_there(const World& world, const NamedThing& thing) {
  const bool is_left = thing.of.what == Object::What::item && !world.wears(thing.of.who, thing.of.item());
  return thing.exists && !is_left;
}

Fact fact_about(const Step& step, Event::What what, const NamedThing& thing) {
  Fact fact = plain_fact(step, what);
  fact.has_object = is_there(step.world, thing);
  fact.object = thing.of;
  fact.part = thing.part;
  const RoleId owner = thing.of.who ? thing.of.who : step.doer;
  fact.object_is_hand = thing.exists && hand_of(step.c(), step.world, owner).layer == thing.of;
  return fact;
}

namespace {

/// Pattern 4: "take off, put on, disinfect, clean, inspect, test, declare, take, pass, act, move"
bool can_be_next_line(VerbKind verb) {
  switch (verb) {
    case VerbKind::don:
    case VerbKind::doff:
    case VerbKind::disinfect:
    case VerbKind::clean:
    case VerbKind::inspect:
    case VerbKind::test:
    case VerbKind::declare:
    case VerbKind::take:
    case VerbKind::pass:
    case VerbKind::act:
    case VerbKind::move: return true;
    case VerbKind::decide:
    case VerbKind::record:
    case VerbKind::report:
    case VerbKind::call:
    case VerbKind::wait:
    case VerbKind::start_timer:
    case VerbKind::stop_timer: return false;
  }
  return false;
}

}  // namespace

void ask_own(Step& step, const Line& line, Moment moment) {
  moment.push_back(plain_fact(step, Event::What::does_line));
  ask(step, moment);
  if (can_be_next_line(line.verb)) next_line(step, moment);
}

void happen_own(Step& step, const Line& line, Moment moment) {
  pass_time(step, line);
  moment.push_back(plain_fact(step, Event::What::does_line));
  happen(step, moment);
}

namespace {

constexpr const char* verb_word(VerbKind verb) {
  switch (verb) {
    case VerbKind::don: return "put on";
    case VerbKind::doff: return "take off";
    case VerbKind::disinfect: return "disinfect";
    case VerbKind::clean: return "clean";
    case VerbKind::inspect: return "inspect";
    case VerbKind::test: return "test";
    case VerbKind::decide: return "decide";
    case VerbKind::declare: return "declare";
    case VerbKind::record: return "record";
    case VerbKind::report: return "report";
    case VerbKind::call: return "call";
    case VerbKind::take: return "take";
    case VerbKind::pass: return "pass";
    case VerbKind::act: return "act";
    case VerbKind::move: return "move";
    case VerbKind::wait: return "wait";
    case VerbKind::start_timer: return "start timer";
    case VerbKind::stop_timer: return "stop timer";
  }
  return "";
}

}  // namespace

std::vector<Step> do_line(Step step, const Line& line) {
  step.line = &line;
  step.where = line.id;
  step.doer = line.who;
  step.note(std::string("verb: ") + verb_word(line.verb));
  switch (line.verb) {
    case VerbKind::inspect: return inspect(std::move(step), line);
    case VerbKind::decide: return decide(std::move(step), line);
    case VerbKind::don: put_on(step, line); break;
    case VerbKind::doff: take_off(step, line); break;
    case VerbKind::disinfect: wet(step, line); break;
    case VerbKind::clean: clean_soil(step, line); break;
    case VerbKind::test: test(step, line); break;
    case VerbKind::declare: declare(step, line); break;
    case VerbKind::record: record(step, line); break;
    case VerbKind::report: report(step, line); break;
    case VerbKind::call: call(step, line); break;
    case VerbKind::take: take(step, line); break;
    case VerbKind::pass: pass(step, line); break;
    case VerbKind::act: act(step, line); break;
    case VerbKind::move: move(step, line); break;
    case VerbKind::wait: wait(step, line); break;
    case VerbKind::start_timer: start_timer(step, line); break;
    case VerbKind::stop_timer: stop_timer(step, line); break;
  }
  return {step};
}

// ---------------------------------------------------------------- clean soil

namespace {

Surfaces soiled_among(const World& world, const Surfaces& surfaces) {
  Surfaces soiled;
  for (const Surface& surface : surfaces) {
    if (world.level(surface) == Level::soiled) soiled.push_back(surface);
  }
  return soiled;
}

void answer_duties_on(Step& step, const Object& of, AnswerKind kind) {
  for (auto duty = step.world.duties.begin(); duty != step.world.duties.end();) {
    const bool is_answered = duty->first == of && is_answered_by(step.protocol()[duty->second], kind);
    if (is_answered) step.note("effect: cleaning answers a duty");
    duty = is_answered ? step.world.duties.erase(duty) : std::next(duty);
  }
}

}  // namespace

/// "no surface of S is soiled: if an interruption has struck in this run the line is passed over, else P504. P's hand
/// meets each surface of S, unless S is that hand; soiled surfaces of S become suspect; what is known of soil there
/// ends; the duty is answered."
void clean_soil(Step& step, const Line& line) {
  const std::vector<NamedThing> things = things_of(step, line);
  Surfaces all;
  for (const NamedThing& thing : things) {
    for (const Surface& surface : surfaces_of(step.c(), step.world, thing)) all.push_back(surface);
  }
  const bool nothing_there = soiled_among(step.world, all).empty();
  if (nothing_there && !step.world.struck.empty()) return;
  if (nothing_there) {
    for (const NamedThing& thing : things) {
      if (thing.exists) step.say(Code::P504, thing.of);
    }
  }
  Moment own;
  for (const NamedThing& thing : things) own.push_back(fact_about(step, Event::What::cleans, thing));
  ask_own(step, line, own);
  if (nothing_there) return;  // "else P504, and nothing is met"
  const Hand hand = hand_of(step.c(), step.world, step.doer);
  for (const Surface& surface : all) {
    if (!is_part_of_hand(hand, surface)) hand_meets(step, hand, surface);
  }
  step.note("effect: soil is wiped off");
  for (const Surface& surface : soiled_among(step.world, all)) step.world.set_level(surface, Level::suspect);
  for (const NamedThing& thing : things) {
    if (!thing.exists) continue;
    end_known(step, thing.known_as, thing.part, FindingMeans::surface_soiled);
    answer_duties_on(step, thing.known_as, AnswerKind::cleaning);
  }
  happen_own(step, line, own);
}

// ---------------------------------------------------------------- test, act

/// "not worn: P402. P's hand meets what the technique handles."
void test(Step& step, const Line& line) {
  Moment own;
  std::vector<std::pair<RoleId, ItemId>> tested;
  for (const NamedThing& thing : things_of(step, line)) {
    if (!thing.exists) continue;
    if (thing.of.is_item() &&
        !(thing.of.what == Object::What::item && step.world.wears(thing.of.who, thing.of.item()))) {
      step.say(Code::P402, thing.known_as);  // a fresh copy in hand is not the one that ought to be worn
      continue;
    }
    own.push_back(fact_about(step, Event::What::tests, thing));
    if (thing.of.is_item()) tested.push_back({thing.of.who, thing.of.item()});
  }
  ask_own(step, line, own);
  const Hand hand = hand_of(step.c(), step.world, step.doer);
  for (const auto& [owner, item] : tested) {
    const Handling handling{owner, {item}, model::technique_of(step.protocol(), line, item)};
    if (!handling.technique) continue;
    for (const Handled& handled : step.protocol()[handling.technique].handles) {
      if (names(step.c(), handled.thing, item)) {
        hand_meets_each(step, hand, handled_surfaces(step, handling, handled.thing, item));
      }
    }
  }
  happen_own(step, line, own);
}

/// "P's hand meets each surface of S; what is known of skin showing there ends."
void act(Step& step, const Line& line) {
  const std::vector<NamedThing> things = things_of(step, line);
  ask_own(step, line, {});
  const Hand hand = hand_of(step.c(), step.world, step.doer);
  for (const NamedThing& thing : things) {
    if (!thing.exists) continue;
    hand_meets_each(step, hand, surfaces_of(step.c(), step.world, thing));
    end_known(step, thing.known_as, thing.part, FindingMeans::skin_showing);
  }
  happen_own(step, line, {});
}

// ---------------------------------------------------------------- take, pass

namespace {

bool hand_is_unclean(const Step& step, RoleId who) {
  return is_unclean(level_of(step.world, hand_of(step.c(), step.world, who).surfaces));
}

/// "The fresh copy is clean and in hand; what is known of X ends where X is not worn (on the person who acts by
/// default), and its duty there with it."
void bring_fresh_copy(Step& step, ItemId item) {
  step.world.in_hand.insert(item);
  step.note("effect: a fresh copy comes to hand");
  for (std::size_t at = 0; at < step.protocol()[item].surfaces.size(); ++at) {
    const Surface surface{fresh_copy(item), static_cast<int>(at)};
    step.world.set_level(surface, new_level(step.c(), item, static_cast<int>(at)));
    step.world.wet.erase(surface);
  }
  const RoleId owner = step.protocol().acts;
  if (step.world.wears(owner, item)) return;
  end_all_known(step, worn_copy(owner, item));
  for (auto duty = step.world.duties.begin(); duty != step.world.duties.end();) {
    duty = duty->first == worn_copy(owner, item) ? step.world.duties.erase(duty) : std::next(duty);
  }
}

/// "P's hand unclean: P105 … P's hand meets its surfaces but insides."
void hand_meets_fresh_copy(Step& step, RoleId who, ItemId item) {
  if (who == step.doer && hand_is_unclean(step, who)) step.say(Code::P105, fresh_copy(item));
  const Hand hand = hand_of(step.c(), step.world, who);
  hand_meets_each(step, hand, showing_surfaces(step.c(), step.world, fresh_copy(item)));
}

Moment moment_of_stock(const Step& step, Event::What what, const Thing& thing, RoleId to) {
  const ItemId item = model::item_of(step.protocol(), thing, step.c().variant);
  Fact fact = plain_fact(step, what);
  fact.has_object = static_cast<bool>(item);
  if (item) fact.object = fresh_copy(item);
  fact.to = to;
  return {fact};
}

}  // namespace

/// "take N X by P … Supplies meet nothing."
void take(Step& step, const Line& line) {
  const Thing& thing = line.things.front();
  const Moment own = moment_of_stock(step, Event::What::takes, thing, {});
  ask_own(step, line, own);
  if (const ItemId item = model::item_of(step.protocol(), thing, step.c().variant)) {
    bring_fresh_copy(step, item);
    hand_meets_fresh_copy(step, step.doer, item);
  }
  happen_own(step, line, own);
}

/// "as `take` by P (unless it is in hand already: then only P's meeting, with P105 the same), then Q's hand meets it."
void pass(Step& step, const Line& line) {
  const Thing& thing = line.things.front();
  const Moment own = moment_of_stock(step, Event::What::passes, thing, line.to);
  ask_own(step, line, own);
  if (!may_reach(step, step.doer, line.to)) step.say(Code::P205, step.protocol()[line.to].name, step.doer);
  if (const ItemId item = model::item_of(step.protocol(), thing, step.c().variant)) {
    if (step.world.in_hand.count(item) == 0) bring_fresh_copy(step, item);
    hand_meets_fresh_copy(step, step.doer, item);
    if (line.to != step.doer) hand_meets_fresh_copy(step, line.to, item);
  }
  happen_own(step, line, own);
}

// ---------------------------------------------------------------- move

namespace {

const Border* border_to(const Zone& from, ZoneId to) {
  for (const Border& border : from.leads_to) {
    if (border.to == to) return &border;
  }
  return nullptr;
}

bool is_let_through(const Step& step, const Border* border, ItemId item) {
  return border != nullptr && std::any_of(border->lets_through.begin(), border->lets_through.end(),
                                          [&](const ItemOrKind& entry) { return meets_need(step.c(), entry, item); });
}

/// "each worn item with an unclean surface (insides apart) that the border does not let through, each unclean site"
void say_unclean_over_border(Step& step, const Border* border) {
  for (const ItemId item : worn_by(step.world, step.doer)) {
    const Surfaces surfaces = all_but_insides(step.c(), step.world, thing_part(worn_copy(step.doer, item)));
    if (is_unclean(level_of(step.world, surfaces)) && !is_let_through(step, border, item)) {
      step.say(Code::P201, worn_copy(step.doer, item));
    }
  }
  for (std::uint32_t at = 0; at < step.protocol().sites.size(); ++at) {
    const Object site = body_site(step.doer, SiteId{at});
    if (is_unclean(step.world.level({site, 0}))) step.say(Code::P201, site);
  }
}

void say_needs_of(Step& step, const Zone& zone) {
  for (const ItemOrKind& need : zone.needs) {
    const std::vector<ItemId> worn = worn_by(step.world, step.doer);
    if (std::any_of(worn.begin(), worn.end(), [&](ItemId item) { return meets_need(step.c(), need, item); })) continue;
    step.say(Code::P202, need.item ? step.protocol()[need.item].name : step.protocol()[need.kind].name, step.doer);
  }
}

void say_carried_wet(Step& step) {
  for (const auto& [surface, wetting] : step.world.wet) {
    if (surface.of.what == Object::What::item && surface.of.who == step.doer) step.say(Code::P503, surface.of);
  }
}

}  // namespace

/// "Z is not led to from where P is: P204. P may not enter: P203. Z is of low risk and P comes from a higher one: …
/// P201. Something P wears is wet: P503. P is in Z; exposure to Z; each need of Z that P does not wear: P202."
void move(Step& step, const Line& line) {
  const ZoneId from = step.world.place[step.doer];
  const Zone& to = step.protocol()[line.zone];
  const Border* border = from ? border_to(step.protocol()[from], line.zone) : nullptr;
  Moment own{plain_fact(step, Event::What::moves_to), plain_fact(step, Event::What::leaves)};
  own[0].zone = line.zone;
  own[1].zone = from;
  ask_own(step, line, own);
  if (border == nullptr) step.say(Code::P204, to.name, step.doer);
  const auto& may_enter = step.protocol()[step.doer].may_enter;  // no place named: all of them
  if (!may_enter.empty() && std::find(may_enter.begin(), may_enter.end(), line.zone) == may_enter.end()) {
    step.say(Code::P203, to.name, step.doer);
  }
  const bool comes_from_higher = from && step.protocol()[from].risk > Risk::low;
  if (to.risk == Risk::low && comes_from_higher) say_unclean_over_border(step, border);
  say_carried_wet(step);
  step.world.place[step.doer] = line.zone;
  expose(step, step.doer, line.zone);
  say_needs_of(step, to);
  happen_own(step, line, own);
}

// ---------------------------------------------------------------- words only

std::vector<Step> decide(Step step, const Line& line) {
  std::vector<Step> steps;
  for (std::size_t answer = 0; answer < step.protocol()[line.decision].answers.size(); ++answer) {
    Step with = step;
    Fact fact = plain_fact(with, Event::What::answered);
    fact.decision = line.decision;
    fact.answer = static_cast<std::uint8_t>(answer);
    ask_own(with, line, {fact});
    with.world.answers[line.decision] = fact.answer;
    happen_own(with, line, {fact});
    steps.push_back(with);
  }
  return steps;
}

void declare(Step& step, const Line& line) {
  Fact fact = plain_fact(step, Event::What::declares);
  fact.mark = line.mark;
  ask_own(step, line, {fact});
  step.world.declared.insert(line.mark);
  answer_duties(step, AnswerKind::declaring, step.protocol().marks[line.mark.value].name);
  happen_own(step, line, {fact});
}

void record(Step& step, const Line& line) {
  Moment own;
  for (const RecordId id : line.records) {
    own.push_back(plain_fact(step, Event::What::records));
    own.back().record = id;
  }
  ask_own(step, line, own);
  step.world.recorded.insert(line.records.begin(), line.records.end());
  happen_own(step, line, own);
}

void report(Step& step, const Line& line) {
  Fact fact = plain_fact(step, Event::What::reports);
  fact.recipient = line.recipient;
  ask_own(step, line, {fact});
  answer_duties(step, AnswerKind::reporting, {});
  happen_own(step, line, {fact});
}

void call(Step& step, const Line& line) {
  const Moment own{plain_fact(step, Event::What::calls)};
  ask_own(step, line, own);
  happen_own(step, line, own);
}

}  // namespace stepward::oracle
