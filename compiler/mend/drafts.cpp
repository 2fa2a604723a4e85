#include "mend/drafts.hpp"

#include <algorithm>
#include <array>
#include <set>
#include <tuple>

#include <fmt/format.h>

#include "mend/positions.hpp"
#include "mend/vocabulary.hpp"
#include "mend/wants.hpp"
#include "model/blocks.hpp"

namespace stepward::mend {
namespace {

using diagnostics::Code;
using syntax::NodeKind;

constexpr std::uint32_t farthest_move = 8;    ///< statements of one block that are passed

bool begins_in(const source::Span& span, const source::Span& other) { return span.file == other.file && span.begin == other.begin; }

bool stands_in(const model::Protocol& p, const model::Statement& s, source::Span at) {
  if (begins_in(s.span, at) || (s.line && begins_in(p[s.line].span, at))) return true;
  return std::any_of(s.arms.begin(), s.arms.end(), [&](const auto& arm) { return begins_in(arm.span, at); });
}

/// Whether the routine that is called holds the place of a finding.
bool call_holds(const model::Protocol& p, model::BlockId called, source::Span at) {
  const std::vector<bool> within = model::blocks_within(p, {called});
  for (std::uint32_t b = 0; b < within.size(); ++b)
    if (within[b] && std::any_of(p.blocks[b].statements.begin(), p.blocks[b].statements.end(), [&](const auto& s) { return stands_in(p, s, at); })) return true;
  return false;
}

class Drafter {
 public:
  Drafter(const diagnostics::Diagnostic& finding, const Reading& reading, bool when_struck)
      : finding_(finding), reading_(reading), outline_(outline_of(reading.loaded, reading.files, reading.protocol)), where_(reading.loaded, reading.files, outline_), when_struck_(when_struck) {}

  std::vector<Draft> all() {
    find_places();
    const Wants wants = wants_of(finding_, reading_.findings, reading_.protocol, outline_, doer());
    for (const auto& [place, distance] : places_) {
      insert_before(place, distance, wants);
      if (outline_.all[place].parent == nowhere) continue;
      if (wants.moves) move_near(place, distance);
      if (wants.moves) move_from_afar(place, distance, wants);
      // Where hands were not cleaned that is far likelier than a line in the wrong place.
      if (wants.moves && distance == 0) move_afar(place, wants.verbs.count(model::VerbKind::disinfect) != 0 ? 12 : 3);
      if (wants.moves && distance == 0) move_with_its_look(place, wants.verbs.count(model::VerbKind::disinfect) != 0 ? 12 : 0);
      for (const std::string& question : wants.questions) put_around(place, question);
      part_question(place);
      exchange_arms(place);
    }
    for (std::uint32_t block = 0; block < outline_.all.size(); ++block)
      if (outline_.all[block].kind == NodeKind::only_for) insert_in_own_block(block, wants);
    insert_under(wants);
    insert_behind_looks(wants);
    if (finding_.code == Code::F301) look_again_in_repeat();
    std::stable_sort(drafts_.begin(), drafts_.end(), [](const Draft& a, const Draft& b) { return std::tie(a.weight, a.distance) < std::tie(b.weight, b.distance); });
    return std::move(drafts_);
  }

 private:
  void find_places() {
    for (std::uint32_t f = 0; f < outline_.paths.size(); ++f)
      if (reading_.loaded.files[f].tree.file == finding_.at.file)
        if (const std::uint32_t at = outline_.at(f, line_of(finding_.at)); at != nowhere) places_.push_back({at, 0});
    for (std::uint32_t s = 0; s < outline_.all.size(); ++s)
      if (outline_.all[s].called && call_holds(reading_.protocol, outline_.all[s].called, finding_.at)) places_.push_back({s, places_.empty() ? 0 : 1});
    if (when_struck_) add_ends_of_interruptions();
  }

  /// What an interruption leaves behind is answered before it ends.
  void add_ends_of_interruptions() {
    for (std::uint32_t s = 0; s < outline_.all.size(); ++s) {
      const std::uint32_t in = outline_.all[s].parent;
      const bool ends = outline_.all[s].kind == NodeKind::resume || outline_.all[s].kind == NodeKind::finish_as;
      if (ends && in != nowhere && outline_.all[in].kind == NodeKind::any_time) places_.push_back({s, 1});
    }
  }

  std::uint32_t line_of(source::Span at) const { return reading_.files.position(at.file, at.begin).line; }

  model::RoleId doer() const {
    for (const model::Line& line : reading_.protocol.lines)
      if (begins_in(line.span, finding_.at)) return line.who;
    return reading_.protocol.acts;
  }

  void insert_before(std::uint32_t place, std::uint32_t distance, const Wants& wants) {
    for (const Position& at : where_.backwards(place, distance)) insert_at(at, wants);
  }

  void insert_at(const Position& at, const Wants& wants) {
    for (const Want& want : wants.lines) {
      Change change{want.lines.size() == 1 ? Change::Kind::insert : Change::Kind::branch, outline_.paths[at.file], at.before, {}, 0, 0, 0};
      for (const std::string& line : want.lines) change.lines.push_back(at.margin + line);
      change.written = static_cast<std::uint32_t>(change.lines.size());
      const bool branch = change.lines.size() > 1;
      add(std::move(change), at.distance, want.rank + 2 * at.distance + (branch ? 1 : 0));
    }
  }

  /// What one choice alone needs belongs where that choice's other lines are: the removal of a gown beside that of its ties.
  void insert_in_own_block(std::uint32_t block, const Wants& wants) {
    std::uint32_t last = nowhere;
    for (const Want& want : wants.lines) {
      if (want.lines.size() != 1 || !where_.is_about_choice_of(block, want.lines.front())) continue;
      std::uint32_t far = 1;
      for (std::uint32_t s = 0; s < outline_.all.size(); ++s) {
        if (outline_.all[s].parent != block) continue;
        last = s;
        insert_line(where_.before(s, far), want);
        ++far;
      }
      if (last != nowhere) insert_line(where_.behind(last, 0), want);
    }
  }

  void insert_line(const Position& at, const Want& want) {
    add({Change::Kind::insert, outline_.paths[at.file], at.before, {at.margin + want.lines.front()}, 0, 0, 1}, at.distance, want.rank + at.distance);
  }

  /// The answer to a repeat's question is looked for again before it is asked again.
  void look_again_in_repeat() {
    const Vocabulary words(reading_.protocol, outline_);
    const std::uint32_t until = line_of(finding_.at);
    for (const auto& [place, distance] : places_) {
      if (distance != 0) continue;
      const Position at{outline_.all[place].file, until, margin_of(where_.text(outline_.all[place].file, until)) + "  ", 0};
      for (const model::Atom& atom : atoms_asked_at(finding_.at))
        for (const std::string& line : answered_by(atom, words)) insert_line(at, {{line}, 0});
    }
  }

  std::vector<model::Atom> atoms_asked_at(source::Span at) const {
    for (const model::Block& block : reading_.protocol.blocks)
      for (const model::Statement& s : block.statements)
        if (begins_in(s.until.span, at)) return s.until.atoms;
    return {};
  }

  std::vector<std::string> answered_by(const model::Atom& atom, const Vocabulary& words) const {
    if (atom.what == model::Atom::What::answer) return {fmt::format("decide {} as {}", reading_.protocol[atom.decision].name, fmt::join(reading_.protocol[atom.decision].answers, " or "))};
    if (atom.what != model::Atom::What::found) return {};
    std::vector<std::string> findings;
    for (const model::FindingId f : atom.findings) findings.push_back(reading_.protocol[f].name);
    return words.looks_at(std::string(reading_.files.text(atom.thing.span)), fmt::format("{}", fmt::join(findings, " or ")));
  }

  /// What was found is best answered where it was found.
  void insert_behind_looks(const Wants& wants) {
    for (std::uint32_t s = 0; s < outline_.all.size(); ++s) {
      const Statement& look = outline_.all[s];
      const bool looks = look.line && reading_.protocol[look.line].verb == model::VerbKind::inspect;
      const bool at_it = looks && std::any_of(wants.looked.begin(), wants.looked.end(), [&](const std::string& name) { return look.words.find(' ' + name + " for ") != std::string::npos; });
      if (at_it) insert_at(where_.behind(s, 0), wants);
    }
  }

  /// At the end of what is done where a question of the protocol was answered with yes.
  void insert_under(const Wants& wants) {
    for (std::uint32_t s = 0; s < outline_.all.size(); ++s) {
      if (std::find(wants.asked.begin(), wants.asked.end(), outline_.all[s].words) == wants.asked.end()) continue;
      const std::uint32_t far = 1 + questions_between(s);
      const Position at = end_of_arm(s, far);
      for (const Want& want : wants.under)
        add({Change::Kind::insert, outline_.paths[at.file], at.before, {at.margin + want.lines.front()}, 0, 0, 1}, far, want.rank + far);
    }
  }

  Position end_of_arm(std::uint32_t question, std::uint32_t distance) const {
    std::uint32_t last = nowhere;
    for (std::uint32_t inner = 0; inner < outline_.all.size(); ++inner)
      if (outline_.all[inner].parent == question && outline_.all[inner].arm == 0) last = inner;
    if (last != nowhere) return where_.behind(last, distance);
    const Statement& s = outline_.all[question];
    return {s.file, s.first + 1, margin_of(where_.text(s.file, s.first)) + "  ", distance};
  }

  /// How many questions stand between one and the finding; those behind the finding come last.
  std::uint32_t questions_between(std::uint32_t question) const {
    if (places_.empty()) return 0;
    const Statement& from = outline_.all[places_.front().first];
    const Statement& to = outline_.all[question];
    const bool behind_it = to.file == from.file && to.first > from.first;
    std::uint32_t count = behind_it ? farthest : 0;
    for (const Statement& s : outline_.all)
      if (s.kind == NodeKind::if_question && s.file == from.file && s.first > std::min(from.first, to.first) && s.first < std::max(from.first, to.first)) ++count;
    return count;
  }

  /// A statement and its neighbours in another order.
  void move_near(std::uint32_t place, std::uint32_t distance) {
    for (int by = 1; by <= static_cast<int>(farthest_move); ++by) {
      const std::uint32_t above = where_.neighbour(place, -by), below = where_.neighbour(place, by);
      const std::uint32_t far = distance + static_cast<std::uint32_t>(by);
      if (above != nowhere) move(place, above, where_.before(above, far));
      if (above != nowhere && by > 1) move(above, place, where_.before(place, far));
      if (above != nowhere) move(above, place, where_.behind(place, far));
      if (below != nowhere) move(place, below, where_.behind(below, far));
      if (below != nowhere && by > 1) move(below, place, where_.before(place, far));
    }
  }

  /// What is wanted here and done elsewhere. How far it comes matters little: it is one line, and known to be the right one.
  void move_from_afar(std::uint32_t place, std::uint32_t distance, const Wants& wants) {
    for (std::uint32_t s = 0; s < outline_.all.size(); ++s) {
      const Statement& other = outline_.all[s];
      const bool wanted = other.line && wants.verbs.count(reading_.protocol[other.line].verb) != 0;
      const bool near = other.parent == outline_.all[place].parent && other.arm == outline_.all[place].arm;
      // Hands are disinfected in many places, each for a reason of its own.
      if (wanted && !near && reading_.protocol[other.line].verb != model::VerbKind::disinfect) move(s, place, where_.before(place, distance + 3));
    }
  }

  /// A line that comes far too soon, to the other side of each line behind it; one that comes too late, to each line before it. That a
  /// place is far makes it hardly less likely.
  void move_afar(std::uint32_t place, std::uint32_t weight) {
    if (!outline_.all[place].line) return;
    const Statement& from = outline_.all[place];
    std::uint32_t far = 0;
    for (std::uint32_t s = place + 1; s < outline_.all.size(); ++s)
      if (outline_.all[s].file == from.file && outline_.all[s].first > from.last) move(place, s, where_.behind(s, far), weight + far / 16), ++far;
    far = 0;
    for (std::uint32_t s = place; s-- > 0;)
      if (outline_.all[s].file == from.file && outline_.all[s].first < from.first) move(place, s, where_.before(s, far), weight + far / 16), ++far;
  }

  /// Statements of one block, from the first to the last, that move as one.
  struct Run { std::uint32_t first = nowhere, last = nowhere; };

  /// What comes off far too soon has its look and the questions about it in front, and the hands behind: none of them makes sense elsewhere.
  void move_with_its_look(std::uint32_t place, std::uint32_t weight) {
    const Statement& off = outline_.all[place];
    if (!off.line || reading_.protocol[off.line].verb != model::VerbKind::doff) return;
    const Run with_look{look_before(place), place};
    if (with_look.first == place) return;
    const std::uint32_t next = where_.neighbour(place, 1);
    const bool then_hands = next != nowhere && outline_.all[next].line && reading_.protocol[outline_.all[next].line].verb == model::VerbKind::disinfect;
    move_run_afar(then_hands ? Run{with_look.first, next} : with_look, weight);
  }

  /// The look at the same thing, with nothing but questions between; the place itself: there is none.
  std::uint32_t look_before(std::uint32_t place) const {
    std::uint32_t look = place;
    const About mine = about(place);
    for (int by = 1; by <= static_cast<int>(farthest_move); ++by) {
      const std::uint32_t above = where_.neighbour(place, -by);
      if (above == nowhere) break;
      const Statement& s = outline_.all[above];
      if (s.kind == NodeKind::if_question) continue;
      const About other = about(above);
      const bool looks = s.line && reading_.protocol[s.line].verb == model::VerbKind::inspect;
      const bool at_it = std::any_of(mine.items.begin(), mine.items.end(), [&](std::uint32_t item) { return other.items.count(item) != 0; });
      if (looks && at_it) look = above;
      break;
    }
    return look;
  }

  void move_run_afar(const Run& run, std::uint32_t weight) {
    const Statement &from = outline_.all[run.first], &to = outline_.all[run.last];
    std::uint32_t far = 0;
    for (std::uint32_t s = run.last + 1; s < outline_.all.size(); ++s)
      if (outline_.all[s].file == from.file && outline_.all[s].first > to.last) move_run(run, s, where_.behind(s, far / 16), weight + far / 32), ++far;
    far = 0;
    for (std::uint32_t s = run.first; s-- > 0;)
      if (outline_.all[s].file == from.file && outline_.all[s].first < from.first) move_run(run, s, where_.before(s, far), weight + 3 + far / 16), ++far;
  }

  void move_run(const Run& run, std::uint32_t beside, const Position& to, std::uint32_t weight) {
    const Statement &first = outline_.all[run.first], &last = outline_.all[run.last];
    const bool is_within = to.before >= first.first && to.before <= last.last + 1;
    if (first.file != to.file || is_within || !where_.on_every_run_of(run.first, beside)) return;
    for (std::uint32_t s = run.first; s <= run.last; ++s)
      if (outline_.all[s].parent == first.parent && outline_.all[s].line && !keeps_acts_in_order(s, to)) return;  // what a question does goes with its look
    add_move(first, last, to, weight);
  }

  /// The things that a statement is about, by their names in its text, and whether it is a free act or holds one.
  struct About { std::set<std::uint32_t> items; bool is_free = false; };

  About about(std::uint32_t statement) const {
    About out;
    const Statement& whole = outline_.all[statement];
    for (const Statement& s : outline_.all) {
      if (!s.line || s.file != whole.file || s.first < whole.first || s.last > whole.last) continue;
      const model::Line& line = reading_.protocol[s.line];
      out.is_free = out.is_free || line.verb == model::VerbKind::act;
      for (const model::Thing& t : line.things) {
        if (t.item) out.items.insert(t.item.value);
        if (t.choice)
          for (const auto& value : reading_.protocol[t.choice].values)
            if (value.item) out.items.insert(value.item.value);
      }
    }
    return out;
  }

  /// A free act says in the author's words what nobody else can order: "draw the zip down" belongs before the suit comes off.
  /// So it and lines about the same thing keep their order; only a removal may come to stand behind what is done to the thing before.
  bool keeps_acts_in_order(std::uint32_t statement, const Position& to) const {
    const Statement& s = outline_.all[statement];
    const About moved = about(statement);
    const bool upwards = to.before <= s.first;
    const bool comes_off_later = !upwards && s.line && reading_.protocol[s.line].verb == model::VerbKind::doff;
    for (std::uint32_t other = 0; other < outline_.all.size(); ++other) {
      const Statement& o = outline_.all[other];
      const bool passed = o.file == s.file && o.line && (upwards ? o.first >= to.before && o.last < s.first : o.first > s.last && o.last < to.before);
      if (!passed) continue;
      const About crossed = about(other);
      if (!moved.is_free && !crossed.is_free) continue;
      if (moved.is_free && crossed.is_free) return false;
      if (comes_off_later) continue;
      if (std::any_of(moved.items.begin(), moved.items.end(), [&](std::uint32_t item) { return crossed.items.count(item) != 0; })) return false;
    }
    return true;
  }

  void move(std::uint32_t statement, std::uint32_t beside, const Position& to) { move(statement, beside, to, 2 * to.distance + 1); }

  void move(std::uint32_t statement, std::uint32_t beside, const Position& to, std::uint32_t weight) {
    const Statement& s = outline_.all[statement];
    if (!is_step(s.kind) || !where_.on_every_run_of(statement, beside) || !keeps_acts_in_order(statement, to) || s.file != to.file || (to.before >= s.first && to.before <= s.last + 1)) return;
    // Two neighbours change places whichever of them is moved.
    const auto order = to.before < s.first ? std::array{s.file, to.before, s.first, s.last + 1} : std::array{s.file, s.first, s.last + 1, to.before};
    if (!orders_.insert(order).second) return;
    add_move(s, s, to, weight);
  }

  void add_move(const Statement& first, const Statement& last, const Position& to, std::uint32_t weight) {
    Change change{Change::Kind::move, outline_.paths[first.file], to.before, {}, first.first, last.last, 0};
    const std::size_t margin = margin_of(where_.text(first.file, first.first)).size();
    for (std::uint32_t line = first.first; line <= last.last; ++line) {
      const std::string_view old = where_.text(first.file, line);
      change.lines.push_back(to.margin + std::string(old.substr(std::min(margin, margin_of(old).size()))));
    }
    add(std::move(change), to.distance, weight);
  }

  void put_around(std::uint32_t place, const std::string& question) {
    const Statement& s = outline_.all[place];
    if (s.kind != NodeKind::plain && s.kind != NodeKind::do_routine) return;
    const std::string margin = margin_of(where_.text(s.file, s.first));
    Change change{Change::Kind::branch, outline_.paths[s.file], s.first, {margin + question}, s.first, s.last, 2};
    for (std::uint32_t line = s.first; line <= s.last; ++line) change.lines.push_back("  " + std::string(where_.text(s.file, line)));
    change.lines.push_back(margin + "end if");
    add(std::move(change), 0, 1);
  }

  /// "otherwise if" as a question of its own, so that what the arm above does not answer is answered.
  void part_question(std::uint32_t place) {
    const Statement& s = outline_.all[place];
    const std::uint32_t line = line_of(finding_.at);
    const std::string words = without_margin(where_.text(s.file, line));
    if (finding_.code != Code::F601 || words.rfind("otherwise if ", 0) != 0) return;
    const std::string margin = margin_of(where_.text(s.file, s.first));
    add({Change::Kind::branch, outline_.paths[s.file], line, {margin + "end if", margin + words.substr(10)}, line, line, 2}, 0, 0);
  }

  /// A question with two arms as two questions, the second one first: what the first arm does may take away what the other asks for.
  void exchange_arms(std::uint32_t place) {
    const Statement& s = outline_.all[place];
    const std::uint32_t line = line_of(finding_.at);
    const std::string words = without_margin(where_.text(s.file, line));
    if (finding_.code != Code::F601 || words.rfind("otherwise if ", 0) != 0 || !has_two_arms(s)) return;
    const std::string margin = margin_of(where_.text(s.file, s.first));
    Change change{Change::Kind::branch, outline_.paths[s.file], s.first, {margin + words.substr(10)}, s.first, s.last, 2};
    const auto take = [&](std::uint32_t from, std::uint32_t to) { for (std::uint32_t l = from; l < to; ++l) change.lines.emplace_back(where_.text(s.file, l)); };
    take(line + 1, s.last + 1);
    take(s.first, line);
    change.lines.push_back(margin + "end if");
    add(std::move(change), 0, 0);
  }

  bool has_two_arms(const Statement& question) const {
    const std::string margin = margin_of(where_.text(question.file, question.first));
    std::size_t divided = 0;
    for (std::uint32_t l = question.first + 1; l < question.last; ++l) divided += where_.text(question.file, l).rfind(margin + "otherwise", 0) == 0;
    return divided == 1;
  }

  void add(Change change, std::uint32_t distance, std::uint32_t weight) {
    const auto known = std::find_if(drafts_.begin(), drafts_.end(), [&](const Draft& d) { return d.change == change; });
    if (known != drafts_.end()) {
      known->weight = std::min(known->weight, weight);
      known->distance = std::min(known->distance, distance);
      return;
    }
    const std::uint32_t size = std::max(1u, change.written);
    drafts_.push_back({std::move(change), size, distance, weight});
  }

  const diagnostics::Diagnostic& finding_;
  const Reading& reading_;
  Outline outline_;
  Positions where_;
  bool when_struck_;
  std::vector<std::pair<std::uint32_t, std::uint32_t>> places_;  ///< a statement, and how far it is from the finding
  std::vector<Draft> drafts_;
  std::set<std::array<std::uint32_t, 4>> orders_;  ///< of moves: where two runs of lines that change places begin and end
};

}  // namespace

std::vector<Draft> drafts_for(const diagnostics::Diagnostic& finding, const Reading& reading, bool when_struck) {
  return Drafter(finding, reading, when_struck).all();
}

}  // namespace stepward::mend
