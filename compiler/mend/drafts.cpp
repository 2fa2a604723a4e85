#include "mend/drafts.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "mend/draft_list.hpp"
#include "mend/moves.hpp"
#include "mend/positions.hpp"
#include "mend/vocabulary.hpp"
#include "mend/wants.hpp"
#include "model/blocks.hpp"

namespace stepward::mend {
namespace {

using diagnostics::Code;
using syntax::NodeKind;

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
      if (wants.moves) moves_.around(place, distance, wants);
      for (const std::string& question : wants.questions) put_around(place, question);
      part_question(place);
      exchange_arms(place);
    }
    for (std::uint32_t block = 0; block < outline_.all.size(); ++block)
      if (outline_.all[block].kind == NodeKind::only_for) insert_in_own_block(block, wants);
    insert_under(wants);
    insert_behind_looks(wants);
    if (finding_.code == Code::F301) look_again_in_repeat();
    return drafts_.take();
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
      drafts_.add(std::move(change), at.distance, want.rank + 2 * at.distance + (branch ? 1 : 0));
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
    drafts_.add({Change::Kind::insert, outline_.paths[at.file], at.before, {at.margin + want.lines.front()}, 0, 0, 1}, at.distance, want.rank + at.distance);
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
        drafts_.add({Change::Kind::insert, outline_.paths[at.file], at.before, {at.margin + want.lines.front()}, 0, 0, 1}, far, want.rank + far);
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

  void put_around(std::uint32_t place, const std::string& question) {
    const Statement& s = outline_.all[place];
    if (s.kind != NodeKind::plain && s.kind != NodeKind::do_routine) return;
    const std::string margin = margin_of(where_.text(s.file, s.first));
    Change change{Change::Kind::branch, outline_.paths[s.file], s.first, {margin + question}, s.first, s.last, 2};
    for (std::uint32_t line = s.first; line <= s.last; ++line) change.lines.push_back("  " + std::string(where_.text(s.file, line)));
    change.lines.push_back(margin + "end if");
    drafts_.add(std::move(change), 0, 1);
  }

  /// "otherwise if" as a question of its own, so that what the arm above does not answer is answered.
  void part_question(std::uint32_t place) {
    const Statement& s = outline_.all[place];
    const std::uint32_t line = line_of(finding_.at);
    const std::string words = without_margin(where_.text(s.file, line));
    if (finding_.code != Code::F601 || words.rfind("otherwise if ", 0) != 0) return;
    const std::string margin = margin_of(where_.text(s.file, s.first));
    drafts_.add({Change::Kind::branch, outline_.paths[s.file], line, {margin + "end if", margin + words.substr(10)}, line, line, 2}, 0, 0);
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
    drafts_.add(std::move(change), 0, 0);
  }

  bool has_two_arms(const Statement& question) const {
    const std::string margin = margin_of(where_.text(question.file, question.first));
    std::size_t divided = 0;
    for (std::uint32_t l = question.first + 1; l < question.last; ++l) divided += where_.text(question.file, l).rfind(margin + "otherwise", 0) == 0;
    return divided == 1;
  }

  const diagnostics::Diagnostic& finding_;
  const Reading& reading_;
  Outline outline_;
  Positions where_;
  bool when_struck_;
  std::vector<std::pair<std::uint32_t, std::uint32_t>> places_;  ///< a statement, and how far it is from the finding
  DraftList drafts_;
  Moves moves_{reading_, outline_, where_, drafts_};
};

}  // namespace

std::vector<Draft> drafts_for(const diagnostics::Diagnostic& finding, const Reading& reading, bool when_struck) {
  return Drafter(finding, reading, when_struck).all();
}

}  // namespace stepward::mend
