#include "emit/badge/badge_card.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "emit/card/card.hpp"
#include "emit/document/check_words.hpp"
#include "wording/act_phrases.hpp"

namespace stepward::emit {

using wording::Phrase;

namespace {

std::set<std::string> targets_of(const Text& text) {
  std::set<std::string> targets;
  for (const Run& run : text) {
    if (!run.target.empty()) targets.insert(run.target);
  }
  return targets;
}

// Of the way of doing an act: three lines of such a card.
constexpr std::size_t most_letters = 100;

/// Numbered, so that something can lead to it.
bool is_place(const Block& block) {
  return (std::holds_alternative<Step>(block) || std::holds_alternative<Frame>(block) || std::holds_alternative<Notice>(block)) && !label_of(block).empty();
}

class BadgePrinter {
 public:
  BadgePrinter(const PaperSource& source, std::vector<Block> breaches) : source_(source), all_(std::move(breaches)) { note_boxes(); }

  std::vector<Block> print() {
    for (at_ = 0; at_ < all_.size();) {
      const auto* mark = std::get_if<BoxMark>(&all_[at_]);
      if (!mark || !mark->breach) break;  // behind the breaches stand the boxes
      end_ = ++at_;
      while (end_ < all_.size() && !std::holds_alternative<BoxMark>(all_[end_])) ++end_;
      breach(*mark);
      at_ = end_;
    }
    return std::move(blocks_);
  }

 private:
  /// A question that is being answered: it is said in front of each act behind it.
  struct Answer {
    Level level = 0;
    std::string condition;
  };

  void note_boxes() {
    for (const graph::Box& box : source_.course.boxes) boxes_.insert(box.label);
    for (const graph::Run& run : source_.course.runs) {
      for (const graph::Entry& entry : run.entries) {
        if (entry.what == graph::Entry::What::box && !entry.label.empty()) box_steps_[entry.label] = &entry;
      }
    }
  }

  void breach(const BoxMark& mark) {
    blocks_.push_back(BoxMark{mark.label, mark.title, {{source_.said(Phrase::stop_first), true, ""}}, true});
    answers_.clear();
    asked_.clear();
    passed_.clear();
    acts_ = 0;
    for (; at_ < end_ && !(acts_ == acts_on_badge && has_more()) && !cannot_be_asked(); ++at_) block(all_[at_]);
    closing();
  }

  /// Whether anything is left that is done or asked.
  bool has_more() const { return std::any_of(all_.begin() + static_cast<std::ptrdiff_t>(at_), all_.begin() + static_cast<std::ptrdiff_t>(end_), is_place); }

  void closing() {
    if (at_ < end_) {
      const auto next = std::find_if(all_.begin() + static_cast<std::ptrdiff_t>(at_), all_.end(), is_place);
      blocks_.push_back(EndMark{phrase_text(source_, Phrase::goes_on_on_breach_card, {{"step", {{label_of(*next), true, ""}}}}), 0});
    } else if (!std::holds_alternative<EndMark>(blocks_.back())) {
      // The breach card has no line for it where every answer of the last question has said it.
      blocks_.push_back(resume_mark(source_, 0));
    }
  }

  void block(const Block& block) {
    leave_answers(block);
    if (const auto* step = std::get_if<Step>(&block)) act(*step);
    if (const auto* frame = std::get_if<Frame>(&block)) question(*frame);
    if (const auto* mark = std::get_if<BranchMark>(&block)) branch(*mark);
    if (const auto* notice = std::get_if<Notice>(&block)) {
      Text text = conditions();
      add(text, with_place(notice->text));
      blocks_.push_back(Notice{std::move(text), 0, notice->label});
    }
    if (const auto* end = std::get_if<EndMark>(&block)) ending(*end);
    if (is_place(block)) passed_.insert(label_of(block));
  }

  /// A branch mark stands on the level that it opens, so it leaves its neighbours behind as well.
  void leave_answers(const Block& block) {
    const std::size_t inside = level_of(block) - (std::holds_alternative<BranchMark>(block) ? 1u : 0u);
    while (answers_.size() > inside) answers_.pop_back();
  }

  // ---- acts

  /// All of them stand at the edge: who an act is for, its condition says.
  void act(const Step& step) {
    Step act;
    act.label = step.label;
    act.critical = step.critical;
    act.clock = step.clock;
    act.warnings = step.warnings;
    act.act = conditions();
    add(act.act, with_place(without_next(step)));
    blocks_.push_back(std::move(act));
    add_manner(manner(step));
    ++acts_;
  }

  /// What the author says of this very step, not what is said wherever hands are rubbed. Notes are for the breach card.
  std::string manner(const Step& step) const {
    const auto lines = source_.course.lines_at.find(step.label);
    if (lines == source_.course.lines_at.end()) return {};
    const model::Line& line = source_.protocol[lines->second.front()];
    const bool is_own = !line.details.say.empty() || line.verb == model::VerbKind::act;
    if (!is_own || line.verb == model::VerbKind::decide) return {};
    std::string text = plain_text(step.manner);
    const std::size_t note = text.find(source_.said(Phrase::note));
    if (note != std::string::npos) text.resize(note);
    while (!text.empty() && text.back() == ' ') text.pop_back();
    return text;
  }

  /// In one piece where a face holds it, else a sentence at a time.
  void add_manner(std::string more) {
    const bool whole = more.size() <= most_letters;
    while (!more.empty()) {
      std::string rest;
      const std::string sentence = wording::first_sentence(more, rest);
      blocks_.push_back(Notice{{{whole ? more : sentence, false, ""}}, 0, {}});
      more = whole ? std::string() : rest;
    }
  }

  Text conditions() const {
    Text text;
    for (const Answer& answer : answers_) text.push_back({answer.condition + " ", false, ""});
    return text;
  }

  /// "DO box H, then go on at B2.3" needs no more than the box where B2.3 stands below.
  Text without_next(const Step& step) const {
    const auto box = box_steps_.find(step.label);
    if (box == box_steps_.end()) return step.act;
    const graph::Target& on = box->second->go_on;
    const bool is_last = label_after(at_, 0).empty() && meets(go_on_text(source_, on), {});
    const bool is_next = is_last || on.what == graph::Target::What::nowhere || (on.what == graph::Target::What::label && on.label == label_after(at_, level_of(all_[at_])));
    return is_next ? box_text(source_, *box->second, Phrase::do_box_step) : step.act;
  }

  /// "box H on the breach card": there is none on this one.
  Text with_place(const Text& text) const {
    Text placed;
    for (const Run& run : text) {
      placed.push_back(run);
      if (run.strong && boxes_.count(run.text) == 1) placed.push_back({" " + source_.said(Phrase::on_breach_card), false, ""});
    }
    return placed;
  }

  /// The next place that is no deeper than `level`; empty: none up to the end of the breach.
  std::string label_after(std::size_t at, Level level) const {
    for (std::size_t i = at + 1; i < end_; ++i) {
      if (is_place(all_[i]) && level_of(all_[i]) <= level) return label_of(all_[i]);
    }
    return {};
  }

  // ---- questions

  void question(const Frame& frame) {
    if (asked_.size() <= frame.level) asked_.resize(frame.level + 1u);
    asked_[frame.level] = {frame.level, plain_text(frame.ask)};
  }

  /// The card stops at a question that no condition in front of an act can say, sooner than tear its answers off it. Questions behind
  /// answers are among them.
  bool cannot_be_asked() const {
    const auto* frame = std::get_if<Frame>(&all_[at_]);
    return frame && (is_tangled(*frame) || !folds(*frame));
  }

  /// Behind the last block of a question's branches.
  std::size_t behind(const Frame& frame) const {
    std::size_t i = at_ + 1;
    while (i < end_ && level_of(all_[i]) > frame.level) ++i;
    return i;
  }

  bool is_tangled(const Frame& frame) const {
    return std::any_of(all_.begin() + static_cast<std::ptrdiff_t>(at_) + 1, all_.begin() + static_cast<std::ptrdiff_t>(behind(frame)),
                       [](const Block& block) { return std::holds_alternative<Frame>(block); });
  }

  /// Whether every answer leads to a step of its branch or to where all of them meet, so that a condition in front of the steps says it all.
  bool folds(const Frame& frame) const {
    const std::string meeting = label_after(at_, frame.level);
    std::set<std::string> branch;
    for (std::size_t i = at_ + 1; i < behind(frame); ++i) {
      branch.insert(label_of(all_[i]));
      const auto* end = std::get_if<EndMark>(&all_[i]);
      if (end && !meets(end->text, meeting)) return false;
    }
    return std::all_of(frame.rows.begin(), frame.rows.end(), [&](const FrameRow& row) {
      const std::set<std::string> targets = targets_of(row.text);
      if (row.key.empty() || targets.empty()) return !row.key.empty() && meets(row.text, meeting);
      return std::all_of(targets.begin(), targets.end(), [&](const std::string& target) { return target == meeting || (branch.count(target) == 1 && passed_.count(target) == 0); });
    });
  }

  /// What says so leads to the step at which all answers meet, or, where none follows, to what the breach ends with.
  bool meets(const Text& text, const std::string& meeting) const {
    const std::set<std::string> targets = targets_of(text);
    if (!meeting.empty()) return targets.size() == 1 && *targets.begin() == meeting;
    const auto* last = std::get_if<EndMark>(&all_[end_ - 1]);
    if (!targets.empty()) return false;
    if (!last || last->level > 0) return plain_text(text).find(source_.said(Phrase::go_back_where_stopped)) != std::string::npos;
    // "then go back to the step where you stopped", "Go back to the step where you stopped.": without the first letter and the stop.
    std::string end = plain_text(last->text);
    if (!end.empty() && end.back() == '.') end.pop_back();
    std::size_t first = 1;
    while (first < end.size() && (static_cast<unsigned char>(end[first]) & 0xC0U) == 0x80U) ++first;
    return end.size() > first && plain_text(text).find(end.substr(first)) != std::string::npos;
  }

  void branch(const BranchMark& mark) {
    const Answer& asked = asked_.at(mark.level - 1u);
    const std::size_t colon = mark.text.find(": ");
    const std::string key = colon == std::string::npos ? mark.text : mark.text.substr(colon + 2);
    answers_.push_back({mark.level, asked.condition + " " + key + ":"});
  }

  /// Where a branch ends by meeting the others, the next act says so by standing there.
  void ending(const EndMark& end) {
    if (end.level == 0) blocks_.push_back(EndMark{by_number(with_place(end.text)), 0});
  }

  /// A face has no room for the title of the document that an ending goes on in; whoever looks for it looks for its number.
  Text by_number(Text text) const {
    for (Run& run : text) {
      for (const model::Ending& ending : source_.protocol.endings) {
        const std::size_t title = ending.continue_with.find(' ');
        const std::size_t at = title == std::string::npos ? std::string::npos : run.text.find(ending.continue_with);
        if (at != std::string::npos) run.text.erase(at + title, ending.continue_with.size() - title);
      }
    }
    return text;
  }

  const PaperSource& source_;
  const std::vector<Block> all_;
  std::vector<Block> blocks_;
  std::map<std::string, const graph::Entry*> box_steps_;
  std::set<std::string> boxes_;
  std::size_t at_ = 0, end_ = 0;
  std::vector<Answer> answers_, asked_;  ///< asked: the last question, by level
  std::set<std::string> passed_;
  int acts_ = 0;
};

}  // namespace

std::optional<Sheet> badge_card(const PaperSource& for_who_acts) {
  // Everybody in the room carries one: what is asked of the wearer names the wearer.
  PaperSource source = for_who_acts;
  source.by_name = reader_of(source.protocol) != source.protocol.acts;
  const std::optional<Sheet> breaches = breach_card(source);
  if (!breaches) return std::nullopt;
  Sheet sheet = begun_sheet(source, SheetKind::badge, source.said(Phrase::badge_card));
  sheet.control.reminder = no_name_words(source, Phrase::no_name_in_short);
  sheet.captions.page = std::string(wording::unfilled(source.protocol.tongue, Phrase::face));
  sheet.blocks = BadgePrinter(source, breaches->blocks).print();
  stamp(sheet);
  return sheet;
}

}  // namespace stepward::emit
