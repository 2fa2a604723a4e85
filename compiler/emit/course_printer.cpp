#include "emit/course_printer.hpp"

namespace stepward::emit {

using graph::Entry;
using graph::Target;
using wording::Phrase;

CoursePrinter::CoursePrinter(const PaperSource& source) : source_(source), placed_(source.course.boxes.size(), false) {}

std::vector<Block> CoursePrinter::print() {
  zone_ = first_zone(source_.protocol);
  if (zone_) blocks_.push_back(zone_band(source_, zone_));
  run(source_.course.trunk, 0);
  wanted_boxes();
  for (const graph::Breach& each : source_.course.breaches) {
    breach(each);
    wanted_boxes();
  }
  return std::move(blocks_);
}

std::vector<Block> CoursePrinter::print_breaches() {
  for (const graph::Breach& each : source_.course.breaches) breach(each);
  wanted_boxes();
  return std::move(blocks_);
}

void CoursePrinter::run(graph::RunId id, Level level) {
  const auto& entries = source_.course[id].entries;
  for (std::size_t i = 0; i < entries.size(); ++i) {
    const bool last_words = i + 1 < entries.size() &&
                            (entries[i + 1].what == Entry::What::finish || entries[i + 1].what == Entry::What::resume);
    entry(entries[i], level, last_words);
  }
}

void CoursePrinter::entry(const Entry& entry, Level level, bool last_words) {
  const model::Protocol& protocol = source_.protocol;
  switch (entry.what) {
    case Entry::What::phase:
      // Behind boxes the reader is told again where the trunk is.
      if (wanted_boxes() && zone_) blocks_.push_back(zone_band(source_, zone_));
      blocks_.push_back(Heading{protocol.phases[entry.phase.value].name});
      break;
    case Entry::What::step: {
      const model::Line& line = protocol[entry.line];
      blocks_.push_back(step(line, entry, level));
      if (level == 0 && line.verb == model::VerbKind::move && line.who == protocol.acts) {
        blocks_.push_back(zone_band(source_, line.zone));
        zone_ = line.zone;
      }
      break;
    }
    case Entry::What::question: question(entry, level); break;
    case Entry::What::repeat_begins:
      if (!entry.from.empty() && entry.at_most > 1) blocks_.push_back(Notice{repeat_notice(source_, entry), level, {}});
      break;
    case Entry::What::together_begins:
      if (entry.from != entry.to) blocks_.push_back(Notice{together_notice(source_, entry), level, {}});
      break;
    case Entry::What::repeat_asks: repeat_asks(entry, level); break;
    case Entry::What::box: {
      want_box(entry);
      Text text = box_text(source_, entry, box_phrase());
      if (!last_words) text = then(source_, std::move(text), go_on_text(source_, entry.go_on));
      blocks_.push_back(box_step(text, entry, level));
      break;
    }
    case Entry::What::finish: blocks_.push_back(EndMark{ending_text(source_, entry.ending), level}); break;
    case Entry::What::resume:
      blocks_.push_back(EndMark{{{wording::capitalised(source_.said(Phrase::go_back_where_stopped)) + ".", true, ""}}, level});
      break;
  }
}

void CoursePrinter::question(const Entry& entry, Level level) {
  const Text skip = skip_notice(source_, entry);
  if (!skip.empty())
    blocks_.push_back(Notice{skip, level, entry.label});
  else
    blocks_.push_back(question_frame(source_, entry, level));
  for (std::size_t i = 0; i < entry.forks.size(); ++i) branch(entry, i, level);
}

void CoursePrinter::repeat_asks(const Entry& entry, Level level) {
  blocks_.push_back(loop_frame(source_, entry, level));
  branch(entry, 0, level);
}

void CoursePrinter::branch(const Entry& entry, std::size_t fork, Level level) {
  const graph::Fork& arm = entry.forks[fork];
  if (!arm.run) return;
  if (fits_in_row(source_, arm)) {
    want_box(source_.course[arm.run].entries.front());
    return;
  }
  const Level inner = static_cast<Level>(level + 1);
  blocks_.push_back(BranchMark{branch_name(source_, entry, fork), inner});
  run(arm.run, inner);
  const graph::Entry& last = source_.course[arm.run].entries.back();
  if (last.what != Entry::What::box) closing(arm.go_on, inner);  // a box step says itself where to go on
}

void CoursePrinter::closing(const Target& target, Level level) {
  Text text = go_on_text(source_, target);
  if (text.empty() || target.what == Target::What::ending) return;
  blocks_.push_back(EndMark{phrase_text(source_, Phrase::then_go_on, {{"go on", std::move(text)}}), level});
}

void CoursePrinter::want_box(const Entry& entry) {
  if (entry.what != Entry::What::box || placed_[entry.box.value]) return;
  placed_[entry.box.value] = true;
  wanted_.push_back(entry.box);
}

bool CoursePrinter::wanted_boxes() {
  const bool any = !wanted_.empty();
  while (!wanted_.empty()) {
    const graph::Box& box = source_.course[wanted_.front()];
    wanted_.erase(wanted_.begin());
    blocks_.push_back(BoxMark{box.label,
                              wording::capitalised(box_title(source_, box)),
                              {{source_.said(Phrase::only_when_sent) + (box.has_it ? " " + source_.said(Phrase::it_is_what_is_named) : ""), false, ""}},
                              false});
    run(box.run, 0);
    blocks_.push_back(
        EndMark{{{source_.said(Phrase::end_of_box, {{"box", box.label}}) + " ", true, ""}, {source_.said(Phrase::go_on_where_sent_from) + ".", false, ""}}, 0});
  }
  return any;
}

void CoursePrinter::breach(const graph::Breach& breach) {
  const auto& interruption = source_.protocol[breach.interruption];
  blocks_.push_back(BoxMark{
      breach.label, wording::capitalised(interruption.name), {{source_.said(Phrase::stop_then), false, ""}}, true});
  run(breach.run, 0);
}

}  // namespace stepward::emit
