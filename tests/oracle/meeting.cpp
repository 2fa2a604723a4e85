// Section 3 (meeting, exposure, rise) and the first half of section 5 (harms at a meeting).
#include <algorithm>

#include "rule_memory.hpp"
#include "step.hpp"

namespace stepward::oracle {

std::string to_string(const Finding& finding) {
  std::string text(diagnostics::code_name(finding.code));
  text += " at " + finding.where;
  if (!finding.thing.empty()) text += ": " + finding.thing;
  if (!finding.who.empty()) text += " of " + finding.who;
  return text;
}

void Step::say(Code code, const std::string& thing, RoleId who) {
  if (!harms_count) return;
  findings.insert({code, where, thing, who ? protocol()[who].name : std::string()});
}

void Step::say(Code code, const Object& thing) { say(code, name_with_owner(c(), thing), thing.who ? thing.who : doer); }

bool Step::has_error() const {
  return std::any_of(findings.begin(), findings.end(), [](const Finding& finding) {
    const bool is_of_time = finding.code == Code::R103 || finding.code == Code::T811;
    return !is_of_time && diagnostics::default_severity(finding.code) == diagnostics::Severity::error;
  });
}

// ---------------------------------------------------------------- what is known

namespace {

void end_if_not_found(World& world, const Question& question) {
  const auto entry = world.known.find(question);
  if (entry != world.known.end() && entry->second == Known::not_found) entry->second = Known::ended;
}

/// All findings of one meaning.
std::vector<FindingId> findings_that_mean(const Protocol& protocol, FindingMeans means) {
  std::vector<FindingId> found;
  for (std::uint32_t at = 0; at < protocol.findings.size(); ++at) {
    if (protocol.findings[at].means == means) found.push_back(FindingId{at});
  }
  return found;
}

}  // namespace

void end_not_found_for_soil(Step& step, const Surface& surface) {
  for (const FindingId soil : findings_that_mean(step.protocol(), FindingMeans::surface_soiled)) {
    end_if_not_found(step.world, {surface.of, whole, soil});
    end_if_not_found(step.world, {surface.of, surface.part, soil});
  }
}

void end_known(Step& step, const Object& of, int part, FindingMeans means) {
  const std::vector<FindingId> which = findings_that_mean(step.protocol(), means);
  for (auto& [question, known] : step.world.known) {
    const bool same_thing = question.of == of && (part == whole || question.part == whole || question.part == part);
    if (same_thing && std::find(which.begin(), which.end(), question.finding) != which.end()) known = Known::ended;
  }
}

void end_all_known(Step& step, const Object& of) {
  for (auto& [question, known] : step.world.known) {
    if (question.of == of) known = Known::ended;
  }
}

// ---------------------------------------------------------------- rises

void note_worst(Step& step, RoleId who, ItemId item) {
  const Level now = level_of(step.world, showing_surfaces(step.c(), step.world, worn_copy(who, item)));
  if (now <= Level::clean) return;
  Level& worst = step.world.worst[{who, item}];
  worst = std::max(worst, now);
}

void raise(Step& step, const Surface& surface, Level level) {
  const Level before = step.world.level(surface);
  if (level <= before) return;
  step.world.set_level(surface, level);
  if (!is_unclean(level)) return;  // sterile no longer, but nothing to be seen or to be cleaned
  // "Whatever of this raises a site to unclean sets reached there."
  const bool is_site = surface.of.what == Object::What::site;
  if (step.is_suffered && is_site && !is_unclean(before) && is_unclean(level)) {
    step.world.reached.insert({surface.of.who, surface.of.site()});
    step.note("effect: a body site is reached");
  }
  // "A rise of a showing surface ends not found for soil on that thing and on that part; it lifts worst. (A fresh copy
  // in hand has no such memory.)"
  if (surface.of.what == Object::What::fresh || !shows(step.c(), step.world, surface)) return;
  end_not_found_for_soil(step, surface);
  if (surface.of.what == Object::What::item) note_worst(step, surface.of.who, surface.of.item());
}

// ---------------------------------------------------------------- harms at a meeting

namespace {

/// What a meeting is judged by: the levels before it.
struct Meeting {
  const Hand& hand;
  Surface surface;
  bool hand_is_unclean = false;
  bool surface_is_unclean = false;
  bool surface_is_clean = false;  ///< clean, and not more
  bool is_first = false;  ///< of this hand with this thing in the line
};

/// "s belongs to an item worn (or being put on) on a mucous site, or is such a site"
bool is_at_the_face(const Step& step, const Object& of) {
  if (of.what == Object::What::site) return step.protocol()[of.site()].nature == SiteNature::mucous;
  return of.what == Object::What::item && is_on_mucous_site(step.c(), of.item());
}

/// "a site (not a mucous one) or an item of clothing (not worn on one)"
bool is_skin_or_clothing(const Step& step, const Object& of) {
  if (of.what == Object::What::site) return step.protocol()[of.site()].nature != SiteNature::mucous;
  return of.is_item() && step.protocol()[of.item()].clothing && !is_on_mucous_site(step.c(), of.item());
}

/// "worn by somebody else, or a fixture or surface not meant for dirty things, and not of a kind that P101 or P103
/// speak of"
bool is_to_be_kept_clean(const Step& step, const Hand& hand, const Object& of) {
  if (of.what == Object::What::spot) return !step.protocol()[of.spot()].meant_for_dirty;
  return of.what == Object::What::item && of.who != hand.who && !is_at_the_face(step, of) &&
         !is_skin_or_clothing(step, of);
}

void say_unclean_hands_at_the_face(Step& step, const Meeting& m) {
  if (is_at_the_face(step, m.surface.of) && m.hand_is_unclean && m.is_first) step.say(Code::P101, m.surface.of);
}

void say_bare_hands_meet_unclean(Step& step, const Meeting& m) {
  if (m.hand.bare && m.surface_is_unclean) step.say(Code::P102, m.surface.of);
}

void say_skin_or_clothing_reached(Step& step, const Meeting& m) {
  if (m.hand_is_unclean && m.surface_is_clean && is_skin_or_clothing(step, m.surface.of)) {
    step.say(Code::P103, m.surface.of);
  }
}

void say_clean_person_or_place_reached(Step& step, const Meeting& m) {
  if (m.hand_is_unclean && m.surface_is_clean && m.is_first && is_to_be_kept_clean(step, m.hand, m.surface.of)) {
    step.say(Code::P106, m.surface.of);
  }
}

/// "a sterile thing touched by one that is not"
void say_sterile_thing_reached(Step& step, const Surface& surface, Level of_hand) {
  if (step.world.level(surface) != Level::sterile || of_hand == Level::sterile) return;
  step.note("effect: a sterile thing is reached");
  step.say(Code::P107, surface.of);
}

/// Section 4, "Reach" and "Hands off".
void say_out_of_reach_or_hands_off(Step& step, const Meeting& m) {
  const RoleId other = m.surface.of.who;
  if (!other || other == m.hand.who) return;
  const std::string name = step.protocol()[other].name;
  if (!may_reach(step, m.hand.who, other)) step.say(Code::P205, name, m.hand.who);
  const auto& off = step.protocol()[m.hand.who].keeps_hands_off;
  if (std::find(off.begin(), off.end(), other) != off.end()) step.say(Code::P301, name, m.hand.who);
}

/// "Wet things that are met by a hand: P503"
void say_left_wet(Step& step, const Meeting& m) {
  if (step.world.wet.count(m.surface) > 0) step.say(Code::P503, m.surface.of);
}

}  // namespace

void hand_meets(Step& step, const Hand& hand, const Surface& surface) {
  if (hand.surfaces.empty() && !hand.layer.who) return;  // nobody declared hands
  const Level of_hand = level_of(step.world, hand.surfaces);
  const Level of_surface = step.world.level(surface);
  const bool is_first = step.met.insert({hand.layer, surface.of}).second;
  const Meeting meeting{hand, surface, is_unclean(of_hand), is_unclean(of_surface), of_surface == Level::clean,
                        is_first};
  touches(step, hand.who, surface);
  say_unclean_hands_at_the_face(step, meeting);
  say_bare_hands_meet_unclean(step, meeting);
  say_skin_or_clothing_reached(step, meeting);
  say_clean_person_or_place_reached(step, meeting);
  say_sterile_thing_reached(step, surface, of_hand);
  say_out_of_reach_or_hands_off(step, meeting);
  say_left_wet(step, meeting);
  if (meeting.hand_is_unclean && !meeting.surface_is_unclean) step.note("effect: a hand dirties what it meets");
  if (!meeting.hand_is_unclean && meeting.surface_is_unclean) step.note("effect: a hand is dirtied by what it meets");
  // "s becomes max(l, min(h, suspect)) and every surface x of the hand becomes max(x, min(l, suspect))"
  raise(step, surface, std::min(of_hand, Level::suspect));
  for (const Surface& part : hand.surfaces) raise(step, part, std::min(of_surface, Level::suspect));
}

void hand_meets_each(Step& step, const Hand& hand, const Surfaces& surfaces) {
  for (const Surface& surface : surfaces) hand_meets(step, hand, surface);
}

void dirt_reaches(Step& step, const Surface& surface, Level level) {
  const bool is_clothing = surface.of.is_item() && step.protocol()[surface.of.item()].clothing;
  const bool is_site = surface.of.what == Object::What::site;
  const Level before = step.world.level(surface);
  if (is_unclean(level) && before == Level::clean && (is_site || is_clothing)) step.say(Code::P103, surface.of);
  if (before == Level::sterile && level != Level::sterile) step.say(Code::P107, surface.of);
  raise(step, surface, std::min(level, Level::suspect));
}

void surfaces_meet(Step& step, const Surface& one, const Surface& other) {
  if (one == other) return;
  step.note("effect: a brush");
  const Level of_one = step.world.level(one), of_other = step.world.level(other);
  dirt_reaches(step, one, of_other);
  dirt_reaches(step, other, of_one);
}

// ---------------------------------------------------------------- places

void expose(Step& step, RoleId who, ZoneId zone) {
  const Exposes exposes = step.protocol()[zone].exposes;
  if (exposes == Exposes::nothing) return;
  for (const ItemId item : worn_by(step.world, who)) {
    for (const Surface& surface : showing_surfaces(step.c(), step.world, worn_copy(who, item))) {
      const Reach reach = step.protocol()[item].surfaces[static_cast<std::size_t>(surface.part)].reach;
      if (reach == Reach::sheltered && exposes == Exposes::front_only) continue;
      step.note("effect: exposure to a zone");
      raise(step, surface, Level::suspect);
      step.world.not_looked_at.insert({who, item});  // "each item so raised is not looked at"
    }
  }
  // "What is not found on that person's worn items ends."
  for (auto& [question, known] : step.world.known) {
    const bool is_worn =
        question.of.what == Object::What::item && question.of.who == who && step.world.wears(who, question.of.item());
    if (is_worn && known == Known::not_found) known = Known::ended;
  }
}

namespace {

ZoneId place_of(const Step& step, RoleId who) {
  const auto found = step.world.place.find(who);
  return found == step.world.place.end() ? ZoneId{} : found->second;
}

bool sees(const Protocol& protocol, ZoneId from, ZoneId to) {
  const auto& in_sight = protocol[from].in_sight_of;
  return std::find(in_sight.begin(), in_sight.end(), to) != in_sight.end();
}

}  // namespace

bool may_reach(const Step& step, RoleId who, RoleId other) {
  return who == other || place_of(step, who) == place_of(step, other);
}

bool is_same_or_in_sight(const Step& step, RoleId who, RoleId other) {
  if (may_reach(step, who, other)) return true;
  const ZoneId here = place_of(step, who), there = place_of(step, other);
  return here && there && (sees(step.protocol(), here, there) || sees(step.protocol(), there, here));
}

}  // namespace stepward::oracle
