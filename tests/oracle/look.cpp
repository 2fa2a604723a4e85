// Section 4, inspect; section 5, duties; and the questions between lines.
#include "look.hpp"

#include <algorithm>

#include "lines.hpp"

namespace stepward::oracle {

// ---------------------------------------------------------------- duties

bool is_answered_by(const model::Finding& finding, AnswerKind kind) {
  return std::any_of(finding.answered_by.begin(), finding.answered_by.end(),
                     [&](const Answer& answer) { return answer.kind == kind; });
}

void answer_duties(Step& step, AnswerKind kind, const std::string& mark) {
  for (auto duty = step.world.duties.begin(); duty != step.world.duties.end();) {
    const auto& answers = step.protocol()[duty->second].answered_by;
    const bool is_answered = std::any_of(answers.begin(), answers.end(), [&](const Answer& answer) {
      return answer.kind == kind && (kind != AnswerKind::declaring || answer.mark == mark);
    });
    if (is_answered)
      step.note(kind == AnswerKind::declaring ? "effect: a declaration answers a duty"
                                              : "effect: a report answers a duty");
    duty = is_answered ? step.world.duties.erase(duty) : std::next(duty);
  }
}

/// "before any removal (of another thing of that person; of itself, where removal is no answer …)"
void say_unanswered_before_removal(Step& step, RoleId owner, const std::set<ItemId>& removed) {
  for (const auto& [thing, finding] : step.world.duties) {
    const model::Finding& declared = step.protocol()[finding];
    if (declared.before != Deadline::any_removal || thing.who != owner) continue;
    const bool is_itself = thing.what == Object::What::item && removed.count(thing.item()) > 0;
    if (!is_itself || !is_answered_by(declared, AnswerKind::removal)) step.say(Code::P601, thing);
  }
}

// ---------------------------------------------------------------- inspect

namespace {

struct Look {
  NamedThing thing;
  Surfaces seen;
  FindingId finding;
};

bool answers_can_be_found(const Step& step, const Look& look) {
  switch (step.protocol()[look.finding].means) {
    case FindingMeans::surface_soiled:  // "can be found if a looked-at surface is unclean"
      return is_unclean(level_of(step.world, look.seen));
    case FindingMeans::barrier_broken:  // "items only; can be found always"
    case FindingMeans::skin_showing: return look.thing.of.is_item();
  }
  return false;
}

bool must_be_found(const Step& step, const Look& look) {
  switch (step.protocol()[look.finding].means) {
    case FindingMeans::surface_soiled: return level_of(step.world, look.seen) == Level::soiled;
    case FindingMeans::barrier_broken: {  // "must be found while it is already known as found"
      const auto known = step.world.known.find({look.thing.known_as, look.thing.part, look.finding});
      return known != step.world.known.end() && known->second == Known::found;
    }
    case FindingMeans::skin_showing: return false;
  }
  return false;
}

void raise_what_a_tear_lets_through(Step& step, const Object& of) {
  if (of.what != Object::What::item) return;  // nothing is beneath a copy in the hand
  const auto worst = step.world.worst.find({of.who, of.item()});
  const Level through = worst == step.world.worst.end() ? Level::clean : std::min(worst->second, Level::suspect);
  if (is_unclean(through)) step.note("effect: a tear lets dirt through");
  step.is_suffered = true;
  for (const Surface& surface : beneath(step.c(), step.world, of.who, of.item())) raise(step, surface, through);
  step.is_suffered = false;
}

void make_found(Step& step, const Look& look) {
  const FindingMeans means = step.protocol()[look.finding].means;
  if (means == FindingMeans::surface_soiled) {  // "found makes the unclean ones soiled"
    for (const Surface& surface : look.seen) {
      if (is_unclean(step.world.level(surface))) raise(step, surface, Level::soiled);
    }
  }
  if (means == FindingMeans::barrier_broken) raise_what_a_tear_lets_through(step, look.thing.of);
  step.note(means == FindingMeans::surface_soiled   ? "effect: soil is found"
            : means == FindingMeans::barrier_broken ? "effect: a tear is found"
                                                    : "effect: a gap is found");
  step.world.duties.insert({look.thing.known_as, look.finding});
}

/// "not found sets *worst* to the highest level that shows now"
void make_not_found(Step& step, const Look& look) {
  const Object& of = look.thing.of;
  if (step.protocol()[look.finding].means != FindingMeans::barrier_broken || of.what != Object::What::item) return;
  step.world.worst.erase({of.who, of.item()});
  note_worst(step, of.who, of.item());
}

Step with_answer(Step step, const Look& look, bool is_found) {
  Fact fact = fact_about(step, is_found ? Event::What::found : Event::What::not_found, look.thing);
  fact.finding = look.finding;
  at_once(step, {fact});
  if (is_found)
    make_found(step, look);
  else
    make_not_found(step, look);
  step.world.known[{look.thing.known_as, look.thing.part, look.finding}] = is_found ? Known::found : Known::not_found;
  return step;
}

std::vector<Step> with_every_answer(const std::vector<Step>& steps, const Look& look) {
  std::vector<Step> answered;
  for (const Step& step : steps) {
    if (answers_can_be_found(step, look)) answered.push_back(with_answer(step, look, true));
    if (!must_be_found(step, look)) answered.push_back(with_answer(step, look, false));
  }
  return answered;
}

/// Reach: "a look needs one zone or zones in sight of each other".
void say_out_of_sight(Step& step, const NamedThing& thing) {
  const RoleId other = thing.of.who;
  if (other && !is_same_or_in_sight(step, step.doer, other)) {
    step.say(Code::P205, step.protocol()[other].name, step.doer);
  }
}

Moment moment_of_look(const Step& step, const Line& line, const std::vector<NamedThing>& things) {
  Moment moment;
  for (const NamedThing& thing : things) {
    for (const FindingId finding : line.findings) {
      moment.push_back(fact_about(step, Event::What::inspects, thing));
      moment.back().finding = finding;
    }
  }
  return moment;
}

}  // namespace

/// "Else every combination of answers", one after the other: things in the order written, and each thing's findings.
std::vector<Step> inspect(Step step, const Line& line) {
  const std::vector<NamedThing> things = things_of(step, line);
  const Moment own = moment_of_look(step, line, things);
  ask_own(step, line, own);
  std::vector<Step> steps{step};
  for (std::size_t at = 0; at < things.size(); ++at) {
    const NamedThing& thing = things[at];
    const Surfaces seen = seen_surfaces(step.c(), step.world, thing);
    for (Step& each : steps) {
      if (thing.exists) say_out_of_sight(each, thing);
      if (seen.empty()) {  // "P405 and nothing is found"
        each.say(Code::P405, thing.exists ? name_with_owner(step.c(), thing.of) : std::string("nothing"), thing.of.who);
      } else if (thing.of.what == Object::What::item) {
        each.world.not_looked_at.erase({thing.of.who, thing.of.item()});  // "X is looked at"
      }
    }
    if (seen.empty()) continue;
    for (const FindingId finding : line.findings) steps = with_every_answer(steps, {thing, seen, finding});
  }
  for (Step& each : steps) happen_own(each, line, own);
  return steps;
}

// ---------------------------------------------------------------- questions

namespace {

/// "`F on X` with X never looked at for F: F201; ended: F202; either way it counts as not found."
bool is_known_found(Step& step, const Atom& atom) {
  const NamedThing thing = named_by(step.c(), step.world, atom.thing, step.protocol().acts);
  if (!thing.exists) return false;  // "a choice that is not open in this variant is … never found"
  bool found = false;
  for (const FindingId finding : atom.findings) {
    const auto entry = step.world.known.find({thing.known_as, thing.part, finding});
    const Known known = entry == step.world.known.end() ? Known::never : entry->second;
    if (known == Known::never) step.say(Code::F201, name_with_owner(step.c(), thing.of), thing.known_as.who);
    if (known == Known::ended) step.say(Code::F202, name_with_owner(step.c(), thing.of), thing.known_as.who);
    found = found || known == Known::found;
  }
  return found;
}

bool is_worn(const Step& step, const Atom& atom) {
  const RoleId who = atom.who ? atom.who : atom.thing.of ? atom.thing.of : step.protocol().acts;
  if (atom.thing.what == Thing::What::kind) {
    const std::vector<ItemId> worn = worn_by(step.world, who);
    return std::any_of(worn.begin(), worn.end(),
                       [&](ItemId item) { return is_of_kind(step.c(), item, atom.thing.kind); });
  }
  const ItemId item = model::item_of(step.protocol(), atom.thing, step.c().variant);
  return item && step.world.wears(who, item);
}

/// "A decision that nobody made yet: F203, and none of its answers holds."
bool is_answered(Step& step, const Atom& atom) {
  const auto answer = step.world.answers.find(atom.decision);
  if (answer == step.world.answers.end()) step.say(Code::F203, step.protocol()[atom.decision].name, RoleId{});
  return answer != step.world.answers.end() && answer->second == atom.answer;
}

bool is_in_zone(const Step& step, const Atom& atom) {
  const auto place = step.world.place.find(atom.who ? atom.who : step.protocol().acts);
  return place != step.world.place.end() && place->second == atom.zone;
}

bool holds_plainly(Step& step, const Atom& atom) {
  switch (atom.what) {
    case Atom::What::found: return is_known_found(step, atom);
    case Atom::What::worn: return is_worn(step, atom);
    case Atom::What::hands_bare: {
      const RoleId who = atom.who ? atom.who : atom.thing.of ? atom.thing.of : step.protocol().acts;
      return hand_of(step.c(), step.world, who).bare;
    }
    case Atom::What::answer: return is_answered(step, atom);
    case Atom::What::declared: return step.world.declared.count(atom.mark) > 0;
    case Atom::What::recorded: return step.world.recorded.count(atom.record) > 0;
    case Atom::What::in_zone: return is_in_zone(step, atom);
  }
  return false;
}

}  // namespace

bool answer(Step& step, const Condition& condition) {
  step.where = "question at " + std::to_string(condition.span.begin);
  bool all = true, any = false;
  for (const Atom& atom : condition.atoms) {  // every part of a question is asked
    const bool holds = holds_plainly(step, atom) != atom.negated;
    all = all && holds;
    any = any || holds;
  }
  return condition.all ? all : any;
}

}  // namespace stepward::oracle
