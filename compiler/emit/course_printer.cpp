#include "emit/course_printer.hpp"

#include <algorithm>

namespace stepward::emit {

using graph::Entry;
using graph::Target;
using wording::Phrase;

namespace {

bool is_ending(const Entry& entry) { return entry.what == Entry::What::finish || entry.what == Entry::What::resume; }

/// Whether every answer of the question at `asked` says by itself where it leads to, so that who reads on below it at `at` has been told.
bool is_told(const std::vector<Entry>& entries, std::size_t asked, std::size_t at) {
  const Entry& entry = entries[asked];
  if (entry.what == Entry::What::repeat_asks) return asked + 1 == at;
  return entry.what == Entry::What::question && entry.skip_to == at && (at == asked + 1 || is_ending(entries[at - 1]));
}

/// The same of whatever question stands before.
bool is_told(const std::vector<Entry>& entries, std::size_t at) {
  for (std::size_t asked = 0; asked < at; ++asked) {
    if (is_told(entries, asked, at)) return true;
  }
  return false;
}

/// The answers whose readers stand behind the question's branches: that of the trunk, or all that have nothing to do first.
std::vector<std::size_t> answers_behind(const Entry& entry, bool trunk_has_lines) {
  std::vector<std::size_t> answers;
  for (std::size_t i = 0; i < entry.forks.size(); ++i) {
    const graph::Fork& fork = entry.forks[i];
    if (trunk_has_lines ? fork.is_trunk : fork.is_trunk || fork.go_on.what != Target::What::nowhere) answers.push_back(i);
  }
  return answers;
}

/// The answers that go on behind the trunk's lines without having read them.
std::vector<std::size_t> answers_that_skip(const Entry& entry) {
  std::vector<std::size_t> answers;
  for (std::size_t i = 0; i < entry.forks.size(); ++i) {
    if (!entry.forks[i].is_trunk && entry.forks[i].go_on.what != Target::What::nowhere) answers.push_back(i);
  }
  return answers;
}

/// Notes every box that a run sends to, with the boxes that those send to.
void note_wanted(const graph::Course& course, graph::RunId from, std::vector<bool>& wanted) {
  std::vector<graph::RunId> left{from};
  while (!left.empty()) {
    const graph::Run& run = course[left.back()];
    left.pop_back();
    for (const Entry& entry : run.entries) {
      for (const graph::Fork& fork : entry.forks) {
        if (fork.run) left.push_back(fork.run);
      }
      if (entry.what != Entry::What::box || wanted[entry.box.value]) continue;
      wanted[entry.box.value] = true;
      left.push_back(course[entry.box].run);
    }
  }
}

}  // namespace

CoursePrinter::CoursePrinter(const PaperSource& source) : source_(source), wanted_(source.course.boxes.size(), false) {}

std::vector<Block> CoursePrinter::print() {
  if (const model::ZoneId zone = first_zone(source_.protocol)) blocks_.push_back(zone_band(source_, zone));
  note_wanted(source_.course, source_.course.trunk, wanted_);
  run(source_.course.trunk, 0);
  return print_breaches();
}

std::vector<Block> CoursePrinter::print_breaches() {
  for (const graph::Breach& each : source_.course.breaches) breach(each);
  boxes();
  return std::move(blocks_);
}

void CoursePrinter::run(graph::RunId id, Level level, bool is_closed) {
  const auto& entries = source_.course[id].entries;
  for (std::size_t i = 0; i < entries.size(); ++i) {
    const bool told = is_ending(entries[i]) && is_told(entries, i);
    if (!told) entry(entries[i], level, i + 1 < entries.size() && is_ending(entries[i + 1]));
    who_goes_on(entries, i, level, is_closed);
  }
}

/// Behind what ends the run: whose the next line is, if anybody's.
void CoursePrinter::who_goes_on(const std::vector<Entry>& entries, std::size_t at, Level level, bool is_closed) {
  const std::size_t next = at + 1;
  const bool read = next < entries.size() ? !(is_ending(entries[next]) && is_told(entries, next)) : is_closed;
  if (!read) return;
  const auto say = [&](const Entry& asked, const std::vector<std::size_t>& answers) {
    if (asked.what == Entry::What::repeat_asks || !answers.empty()) blocks_.push_back(Notice{goes_on_text(source_, asked, answers), level, {}});
  };
  // An ending in a row of the frame is not read on from to a numbered step, but it is to a line without a number.
  const bool numbered = next < entries.size() && !is_ending(entries[next]);
  const auto ends = [&](const graph::Fork& fork) { return fork.run && fork.go_on.what == Target::What::nowhere && (has_branch(fork) || !numbered); };
  const Entry& here = entries[at];
  if (std::any_of(here.forks.begin(), here.forks.end(), ends)) say(here, answers_behind(here, here.skip_to > next));
  if (!is_ending(here)) return;
  for (std::size_t asked = 0; asked < at; ++asked) {
    if (entries[asked].what == Entry::What::question && entries[asked].skip_to == next) return say(entries[asked], answers_that_skip(entries[asked]));
  }
}

void CoursePrinter::entry(const Entry& entry, Level level, bool last_words) {
  const model::Protocol& protocol = source_.protocol;
  switch (entry.what) {
    case Entry::What::phase: blocks_.push_back(Heading{protocol.phases[entry.phase.value].name}); break;
    case Entry::What::step: {
      const model::Line& line = protocol[entry.line];
      blocks_.push_back(step(line, entry, level));
      if (level == 0 && line.verb == model::VerbKind::move && line.who == protocol.acts) blocks_.push_back(zone_band(source_, line.zone));
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
      Text text = box_text(source_, entry, box_phrase());
      if (!last_words) text = then(source_, std::move(text), go_on_text(source_, entry.go_on));
      blocks_.push_back(box_step(text, entry, level));
      break;
    }
    case Entry::What::finish: {
      Text text{{source_.said(Phrase::stop_here) + " ", true, ""}};
      add(text, ending_text(source_, entry.ending));
      blocks_.push_back(EndMark{std::move(text), level, true});
      break;
    }
    case Entry::What::resume: blocks_.push_back(resume_mark(source_, level)); break;
  }
}

void CoursePrinter::question(const Entry& entry, Level level) {
  blocks_.push_back(question_frame(source_, entry, level));
  for (const std::size_t answer : answer_order(source_, entry)) branch(entry, answer, level);
}

void CoursePrinter::repeat_asks(const Entry& entry, Level level) {
  blocks_.push_back(loop_frame(source_, entry, level));
  branch(entry, 0, level);
}

/// Something is printed below the frame for this answer.
bool CoursePrinter::has_branch(const graph::Fork& fork) const { return fork.run && !fits_in_row(source_, fork); }

void CoursePrinter::branch(const Entry& entry, std::size_t fork, Level level) {
  const graph::Fork& arm = entry.forks[fork];
  if (!has_branch(arm)) return;
  const Level inner = static_cast<Level>(level + 1);
  blocks_.push_back(BranchMark{branch_name(source_, entry, fork), inner});
  const auto& entries = source_.course[arm.run].entries;
  // A box step says itself where to go on, and so do the answers of a question; but not below an ending, where it would be read past.
  const bool is_said = entries.back().what == Entry::What::box || (is_told(entries, entries.size()) && !ends_in_branch(entries.back()));
  run(arm.run, inner, !is_said && arm.go_on.what != Target::What::nowhere);
  if (!is_said) closing(arm.go_on, inner);
}

/// A branch below this question or loop never comes back.
bool CoursePrinter::ends_in_branch(const Entry& entry) const {
  return std::any_of(entry.forks.begin(), entry.forks.end(), [&](const graph::Fork& fork) { return has_branch(fork) && fork.go_on.what == Target::What::nowhere; });
}

void CoursePrinter::closing(const Target& target, Level level) {
  Text text = go_on_text(source_, target);
  if (text.empty() || target.what == Target::What::ending) return;
  blocks_.push_back(EndMark{phrase_text(source_, Phrase::then_go_on, {{"go on", std::move(text)}}), level});
}

void CoursePrinter::boxes() {
  for (std::size_t i = 0; i < wanted_.size(); ++i) {
    if (wanted_[i]) box(source_.course.boxes[i]);
  }
}

void CoursePrinter::box(const graph::Box& box) {
  const std::string it = box.has_it ? " " + source_.said(Phrase::it_is_what_is_named) : "";
  const std::string gaps = letters_.before(source_, box.label);
  blocks_.push_back(BoxMark{box.label,
                            wording::capitalised(box_title(source_, box)),
                            {{source_.said(Phrase::only_when_sent) + it + (gaps.empty() ? "" : " ") + gaps, false, ""}},
                            false});
  run(box.run, 0, true);
  blocks_.push_back(
      EndMark{{{source_.said(Phrase::end_of_box, {{"box", box.label}}) + " ", true, ""}, {source_.said(Phrase::go_on_where_sent_from) + ".", false, ""}}, 0});
}

void CoursePrinter::breach(const graph::Breach& breach) {
  note_wanted(source_.course, breach.run, wanted_);
  const auto& interruption = source_.protocol[breach.interruption];
  blocks_.push_back(BoxMark{
      breach.label, wording::capitalised(interruption.name), {{source_.said(Phrase::stop_then), false, ""}}, true});
  run(breach.run, 0);
}

}  // namespace stepward::emit
