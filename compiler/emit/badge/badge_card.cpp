#include "emit/badge/badge_card.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "emit/card/card.hpp"
#include "emit/document/check_words.hpp"

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
  /// A question that is being answered: said in front of each act behind it, or printed.
  struct Answer {
    Level level = 0;
    bool folded = false;
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
    for (; at_ < end_ && !(acts_ == acts_on_badge && has_more()) && !is_tangled(); ++at_) block(all_[at_]);
    closing();
  }

  /// Whether anything is left that is done or asked.
  bool has_more() const { return std::any_of(all_.begin() + static_cast<std::ptrdiff_t>(at_), all_.begin() + static_cast<std::ptrdiff_t>(end_), is_place); }

  void closing() {
    if (at_ < end_) {
      const auto next = std::find_if(all_.begin() + static_cast<std::ptrdiff_t>(at_), all_.end(), is_place);
      blocks_.push_back(EndMark{phrase_text(source_, Phrase::goes_on_on_breach_card, {{"step", {{label_of(*next), true, ""}}}}), 0});
    }
  }

  void block(const Block& block) {
    leave_answers(block);
    if (const auto* step = std::get_if<Step>(&block)) act(*step);
    if (const auto* frame = std::get_if<Frame>(&block)) question(*frame);
    if (const auto* mark = std::get_if<BranchMark>(&block)) branch(*mark);
    if (const auto* notice = std::get_if<Notice>(&block)) blocks_.push_back(Notice{with_place(notice->text), shown(notice->level), notice->label});
    if (const auto* end = std::get_if<EndMark>(&block)) ending(*end);
    if (is_place(block)) passed_.insert(label_of(block));
  }

  /// A branch mark stands on the level that it opens, so it leaves its neighbours behind as well.
  void leave_answers(const Block& block) {
    const std::size_t inside = level_of(block) - (std::holds_alternative<BranchMark>(block) ? 1u : 0u);
    while (answers_.size() > inside) answers_.pop_back();
  }

  /// A folded question takes no level on the badge.
  Level shown(Level level) const {
    const auto folded = std::count_if(answers_.begin(), answers_.end(), [](const Answer& answer) { return answer.folded; });
    return static_cast<Level>(level - folded);
  }

  // ---- acts

  void act(const Step& step) {
    Step act;
    act.label = step.label;
    act.level = shown(step.level);
    act.critical = step.critical;
    act.clock = step.clock;
    act.warnings = step.warnings;
    for (const Answer& answer : answers_) {
      if (answer.folded) act.act.push_back({answer.condition + " ", false, ""});
    }
    add(act.act, with_place(without_next(step)));
    blocks_.push_back(std::move(act));
    ++acts_;
  }

  /// "DO box H, then go on at B2.3" needs no more than the box where B2.3 stands below.
  Text without_next(const Step& step) const {
    const auto box = box_steps_.find(step.label);
    if (box == box_steps_.end()) return step.act;
    const graph::Target& on = box->second->go_on;
    const bool is_next = on.what == graph::Target::What::nowhere || (on.what == graph::Target::What::label && on.label == label_after(at_, level_of(all_[at_])));
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
    const bool folded = folds(frame);
    if (asked_.size() <= frame.level) asked_.resize(frame.level + 1u);
    asked_[frame.level] = {frame.level, folded, plain_text(frame.ask)};
    if (folded) return;
    // A frame would be taller than a face of this size: each answer is a line by itself.
    const Level level = shown(frame.level);
    blocks_.push_back(Notice{frame.ask, level, frame.label});
    for (const FrameRow& row : frame.rows) {
      Text line{{row.key.empty() ? "" : row.key + "  ", true, ""}};
      add(line, with_place(row.text));
      blocks_.push_back(Notice{std::move(line), level, {}});
    }
  }

  /// A question with questions behind its answers is nothing for a card of this size: the breach card asks it.
  bool is_tangled() const {
    const auto* frame = std::get_if<Frame>(&all_[at_]);
    for (std::size_t i = at_ + 1; frame && i < end_ && level_of(all_[i]) > frame->level; ++i) {
      if (std::holds_alternative<Frame>(all_[i])) return true;
    }
    return false;
  }

  /// Whether every answer leads to a step of its branch or to where all of them meet, so that a condition in front of the steps says it all.
  bool folds(const Frame& frame) const {
    const std::string meeting = label_after(at_, frame.level);
    std::set<std::string> branch;
    for (std::size_t i = at_ + 1; i < end_ && level_of(all_[i]) > frame.level; ++i) branch.insert(label_of(all_[i]));
    return std::all_of(frame.rows.begin(), frame.rows.end(), [&](const FrameRow& row) {
      const std::set<std::string> targets = targets_of(row.text);
      return !row.key.empty() && !targets.empty() && std::all_of(targets.begin(), targets.end(), [&](const std::string& target) {
        return target == meeting || (branch.count(target) == 1 && passed_.count(target) == 0);
      });
    });
  }

  void branch(const BranchMark& mark) {
    const Answer& asked = asked_.at(mark.level - 1u);
    const std::size_t colon = mark.text.find(": ");
    const std::string key = colon == std::string::npos ? mark.text : mark.text.substr(colon + 2);
    if (!asked.folded) blocks_.push_back(BranchMark{mark.text, shown(mark.level)});
    answers_.push_back({mark.level, asked.folded, asked.condition + " " + key + ":"});
  }

  /// Where a branch ends by meeting the others, the next act says so by standing there.
  void ending(const EndMark& end) {
    const std::set<std::string> targets = targets_of(end.text);
    const Level outside = end.level > 0 ? static_cast<Level>(end.level - 1) : Level{0};
    const bool meets = targets.size() == 1 && *targets.begin() == label_after(at_, outside);
    if (!meets) blocks_.push_back(EndMark{with_place(end.text), shown(end.level)});
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

std::optional<Sheet> badge_card(const PaperSource& source) {
  const std::optional<Sheet> breaches = breach_card(source);
  if (!breaches) return std::nullopt;
  Sheet sheet = begun_sheet(source, SheetKind::badge, source.said(Phrase::badge_card));
  sheet.control.reminder = no_name_words(source, Phrase::no_name_in_short);
  sheet.blocks = BadgePrinter(source, breaches->blocks).print();
  stamp(sheet);
  return sheet;
}

}  // namespace stepward::emit
