#include "mend/moves.hpp"

#include <algorithm>

namespace stepward::mend {
namespace {

using model::VerbKind;
using syntax::NodeKind;

constexpr std::uint32_t farthest_move = 8;    ///< statements of one block that are passed

bool share(const std::set<std::uint32_t>& a, const std::set<std::uint32_t>& b) {
  return std::any_of(a.begin(), a.end(), [&](std::uint32_t item) { return b.count(item) != 0; });
}

}  // namespace

void Moves::around(std::uint32_t place, std::uint32_t distance, const Wants& wants) {
  near(place, distance);
  from_elsewhere(place, distance, wants);
  if (distance != 0) return;
  // Where hands were not cleaned that is far likelier than a line in the wrong place.
  const bool hands_first = wants.verbs.count(VerbKind::disinfect) != 0;
  if (outline_.all[place].line) {
    downwards({place, place}, {hands_first ? 12u : 3u, 16});
    upwards({place, place}, place, {hands_first ? 12u : 3u, 16});
  }
  removal_with_its_look(place, hands_first ? 12 : 0);
  put_on_sooner(place, wants);
}

/// A statement and its neighbours in another order.
void Moves::near(std::uint32_t place, std::uint32_t distance) {
  for (int by = 1; by <= static_cast<int>(farthest_move); ++by) {
    const std::uint32_t above = where_.neighbour(place, -by), below = where_.neighbour(place, by);
    const std::uint32_t far = distance + static_cast<std::uint32_t>(by);
    if (above != nowhere) move_near(place, above, where_.before(above, far));
    if (above != nowhere && by > 1) move_near(above, place, where_.before(place, far));
    if (above != nowhere) move_near(above, place, where_.behind(place, far));
    if (below != nowhere) move_near(place, below, where_.behind(below, far));
    if (below != nowhere && by > 1) move_near(below, place, where_.before(place, far));
  }
}

/// What is wanted here and done elsewhere. How far it comes matters little: it is one line, and known to be the right one.
void Moves::from_elsewhere(std::uint32_t place, std::uint32_t distance, const Wants& wants) {
  for (std::uint32_t s = 0; s < outline_.all.size(); ++s) {
    const Statement& other = outline_.all[s];
    const bool wanted = other.line && wants.verbs.count(reading_.protocol[other.line].verb) != 0;
    const bool is_near = other.parent == outline_.all[place].parent && other.arm == outline_.all[place].arm;
    // Hands are disinfected in many places, each for a reason of its own.
    if (wanted && !is_near && !does(s, VerbKind::disinfect)) move_near(s, place, where_.before(place, distance + 3));
  }
}

/// What comes far too soon, to the other side of each line behind it. That a place is far makes it hardly less likely.
void Moves::downwards(const Run& run, Weight weight) {
  const Statement& last = outline_.all[run.last];
  std::uint32_t far = 0;
  for (std::uint32_t s = run.last + 1; s < outline_.all.size(); ++s)
    if (outline_.all[s].file == last.file && outline_.all[s].first > last.last) move(run, s, where_.behind(s, far), weight.least + far / weight.places), ++far;
}

/// What comes too late, in front of `from` and of each line before it.
void Moves::upwards(const Run& run, std::uint32_t from, Weight weight) {
  const Statement& first = outline_.all[run.first];
  std::uint32_t far = 0;
  for (std::uint32_t s = from + 1; s-- > 0;)
    if (outline_.all[s].file == first.file && outline_.all[s].first < first.first) move(run, s, where_.before(s, far), weight.least + far / weight.places), ++far;
}

/// What comes off far too soon has its look and the questions about it in front, and the hands behind: none of them makes sense elsewhere.
void Moves::removal_with_its_look(std::uint32_t place, std::uint32_t weight) {
  if (!does(place, VerbKind::doff)) return;
  Run run{look_before(place), place};
  if (is_one(run)) return;
  const std::uint32_t next = where_.neighbour(place, 1);
  if (next != nowhere && does(next, VerbKind::disinfect)) run.last = next;
  downwards(run, {weight, 32});
  upwards(run, run.first, {weight + 3, 16});
}

/// The look at the same thing, with nothing but questions between; the place itself: there is none.
std::uint32_t Moves::look_before(std::uint32_t place) const {
  const About mine = about(place);
  for (int by = 1; by <= static_cast<int>(farthest_move); ++by) {
    const std::uint32_t above = where_.neighbour(place, -by);
    if (above == nowhere) break;
    if (outline_.all[above].kind == NodeKind::if_question) continue;
    return does(above, VerbKind::inspect) && share(mine.items, about(above).items) ? above : place;
  }
  return place;
}

/// What is put on too late, here or further on, to each place from here upwards, with what belongs to it.
void Moves::put_on_sooner(std::uint32_t place, const Wants& wants) {
  if (wants.verbs.count(VerbKind::don) == 0) return;
  for (std::uint32_t s = place; s < outline_.all.size(); ++s) {
    const bool is_late = s == place || (outline_.all[s].file == outline_.all[place].file && outline_.all[s].first > outline_.all[place].last);
    if (!is_late || !does(s, VerbKind::don)) continue;
    const Run run = with_what_follows(s);
    if (s != place || !is_one(run)) upwards(run, place, {4, 32});
  }
}

/// What is put on, with the lines behind it that are about the same thing, and the questions between them: looks, ties, seals.
Moves::Run Moves::with_what_follows(std::uint32_t place) const {
  Run run{place, place};
  std::set<std::uint32_t> items = with_alternatives(about(place).items);
  for (std::uint32_t next = where_.neighbour(place, 1); next != nowhere; next = where_.neighbour(next, 1)) {
    const About other = about(next);
    if (!share(items, other.items) && outline_.all[next].kind != NodeKind::if_question) break;
    items.merge(with_alternatives(other.items));
    run.last = next;
  }
  return run;
}

/// Coverall or gown: a line for each stands there, and each card has one of them.
std::set<std::uint32_t> Moves::with_alternatives(std::set<std::uint32_t> items) const {
  for (const model::Choice& choice : reading_.protocol.choices) {
    std::set<std::uint32_t> values;
    for (const model::ChoiceOption& value : choice.values)
      if (value.item) values.insert(value.item.value);
    if (share(items, values)) items.merge(values);
  }
  return items;
}

Moves::About Moves::about(std::uint32_t statement) const {
  About out;
  const auto add_choice = [&](const model::Choice& choice) {
    for (const auto& value : choice.values)
      if (value.item) out.items.insert(value.item.value);
  };
  const Statement& whole = outline_.all[statement];
  for (const Statement& s : outline_.all) {
    if (!s.line || s.file != whole.file || s.first < whole.first || s.last > whole.last) continue;
    const model::Line& line = reading_.protocol[s.line];
    out.is_free = out.is_free || line.verb == VerbKind::act;
    for (const model::Thing& t : line.things) {
      if (t.item) out.items.insert(t.item.value);
      if (t.choice) add_choice(reading_.protocol[t.choice]);
    }
  }
  return out;
}

/// A free act says in the author's words what nobody else can order: "draw the zip down" belongs before the suit comes off.
/// So it and lines about the same thing keep their order; only a removal may come to stand behind what is done to the thing, and what
/// is put on in front of it.
bool Moves::keeps_acts_in_order(std::uint32_t statement, const Run& run, const Position& to) const {
  const Statement& s = outline_.all[statement];
  const About moved = about(statement);
  const std::uint32_t first = outline_.all[run.first].first, last = outline_.all[run.last].last;
  const bool is_upwards = to.before <= first;
  const bool is_worn_meanwhile = does(statement, is_upwards ? VerbKind::don : VerbKind::doff);
  for (std::uint32_t other = 0; other < outline_.all.size(); ++other) {
    const Statement& o = outline_.all[other];
    const bool passed = o.file == s.file && o.line && (is_upwards ? o.first >= to.before && o.last < first : o.first > last && o.last < to.before);
    if (!passed) continue;
    const About crossed = about(other);
    if (!moved.is_free && !crossed.is_free) continue;
    // What is tied or closed on a thing goes where the thing goes; a free act by itself has its place among the others.
    if (moved.is_free && crossed.is_free && is_one(run)) return false;
    if (is_worn_meanwhile) continue;
    if (share(moved.items, crossed.items)) return false;
  }
  return true;
}

void Moves::move(const Run& run, std::uint32_t beside, const Position& to, std::uint32_t weight) {
  const Statement &first = outline_.all[run.first], &last = outline_.all[run.last];
  const bool is_within = to.before >= first.first && to.before <= last.last + 1;
  if (!is_step(first.kind) || first.file != to.file || is_within || !where_.on_every_run_of(run.first, beside)) return;
  for (std::uint32_t s = run.first; s <= run.last; ++s) {
    const bool has_turn = is_one(run) || (outline_.all[s].parent == first.parent && outline_.all[s].line);  // what a question does goes with its look
    if (has_turn && !keeps_acts_in_order(s, run, to)) return;
  }
  // Two neighbours change places whichever of them is moved.
  const auto order = to.before < first.first ? std::array{first.file, to.before, first.first, last.last + 1} : std::array{first.file, first.first, last.last + 1, to.before};
  if (!orders_.insert(order).second) return;
  Change change{Change::Kind::move, outline_.paths[first.file], to.before, {}, first.first, last.last, 0};
  const std::size_t margin = margin_of(where_.text(first.file, first.first)).size();
  for (std::uint32_t line = first.first; line <= last.last; ++line) {
    const std::string_view old = where_.text(first.file, line);
    change.lines.push_back(to.margin + std::string(old.substr(std::min(margin, margin_of(old).size()))));
  }
  drafts_.add(std::move(change), to.distance, weight);
}

bool Moves::does(std::uint32_t statement, VerbKind verb) const {
  const Statement& s = outline_.all[statement];
  return s.line && reading_.protocol[s.line].verb == verb;
}

}  // namespace stepward::mend
