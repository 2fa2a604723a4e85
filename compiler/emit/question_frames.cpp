// Questions and loop tests as frames: the second half of paper_parts.hpp.

#include <algorithm>
#include <numeric>

#include <fmt/format.h>

#include "base/text.hpp"
#include "emit/paper_parts.hpp"

namespace stepward::emit {

using graph::Entry;
using graph::Fork;
using model::Atom;
using model::Condition;
using wording::Phrase;

namespace {

const Atom* single(const Condition& condition) { return condition.atoms.size() == 1 ? &condition.atoms[0] : nullptr; }

std::string answer_key(const PaperSource& source, const model::Decision& decision, const std::vector<Fork>& forks, const Fork& fork) {
  if (!fork.is_otherwise) return text::upper(decision.answers[fork.condition.atoms[0].answer]);
  std::vector<std::string> left;
  for (std::size_t answer = 0; answer < decision.answers.size(); ++answer) {
    const bool taken = std::any_of(forks.begin(), forks.end(), [&](const Fork& other) {
      return !other.is_otherwise && other.condition.atoms[0].answer == answer;
    });
    if (!taken) left.push_back(text::upper(decision.answers[answer]));
  }
  return left.size() == 1 ? left[0] : source.said(Phrase::other);
}

/// "no soil on X" is asked as "soil on X?", with the answers changed over.
bool is_turned(const Condition& condition) {
  const Atom* atom = single(condition);
  return atom && atom->negated &&
         (atom->what == Atom::What::found || atom->what == Atom::What::answer || atom->what == Atom::What::declared ||
          atom->what == Atom::What::recorded);
}

/// Turning works for a question with two answers only; in a chain the second question would hang on the wrong one.
bool is_turned(const Entry& entry, const Condition& condition) {
  return entry.forks.size() == 2 && is_turned(condition);
}

/// The keys of all forks, in order.
std::vector<std::string> keys_of(const PaperSource& source, const Entry& entry) {
  std::vector<std::string> keys;
  const auto decision = graph::shared_decision(entry.forks);
  for (std::size_t i = 0; i < entry.forks.size(); ++i) {
    const Fork& fork = entry.forks[i];
    if (decision) {
      keys.push_back(answer_key(source, source.protocol[decision], entry.forks, fork));
    } else if (fork.is_otherwise) {
      keys.push_back(i == 1 && is_turned(entry, entry.forks[0].condition) ? source.said(Phrase::yes) : source.said(Phrase::no));
    } else {
      keys.push_back(is_turned(entry, fork.condition) ? source.said(Phrase::no) : source.said(Phrase::yes));
    }
  }
  return keys;
}

/// YES and NO, in the wrong order.
bool says_no_first(const PaperSource& source, const std::vector<FrameRow>& rows) {
  return rows.size() == 2 && rows[0].key == source.said(Phrase::no) && rows[1].key == source.said(Phrase::yes);
}

/// First and last number of a run, whatever it holds.
void label_range(const graph::Course& course, graph::RunId id, std::string& first, std::string& last) {
  for (const Entry& entry : course[id].entries) {
    const bool numbered = entry.what == Entry::What::step || (entry.what == Entry::What::box && !entry.label.empty());
    if (numbered) {
      if (first.empty()) first = entry.label;
      last = entry.label;
    }
    for (const Fork& fork : entry.forks) {
      if (fork.run) label_range(course, fork.run, first, last);
    }
  }
}

/// Whether a way through a run comes to an ending before it has come to the run's own end: then nobody may be told where all of them go on.
bool may_end_inside(const graph::Course& course, graph::RunId id) {
  std::vector<graph::RunId> left{id};
  while (!left.empty()) {
    const graph::RunId run = left.back();
    left.pop_back();
    const auto& entries = course[run].entries;
    for (std::size_t i = 0; i < entries.size(); ++i) {
      const bool ends = entries[i].what == Entry::What::finish || entries[i].what == Entry::What::resume;
      if (ends && (run != id || i + 1 < entries.size())) return true;
      for (const Fork& fork : entries[i].forks) {
        if (fork.run) left.push_back(fork.run);
      }
    }
  }
  return false;
}

Text steps_text(const PaperSource& source, const Fork& fork) {
  std::string first, last;
  label_range(source.course, fork.run, first, last);
  if (first.empty()) return {{source.said(Phrase::see_below), false, ""}};
  if (first == last) return phrase_text(source, Phrase::one_step, {{"step", {{first, true, first}}}});
  const std::string range = source.said(Phrase::from_to, {{"from", first}, {"to", last}});
  return phrase_text(source, Phrase::several_steps, {{"steps", {{range, true, first}}}});
}

Text row_text(const PaperSource& source, const Fork& fork) {
  if (fork.is_trunk || !fork.run) return go_on_text(source, fork.first);
  const Entry& only = source.course[fork.run].entries.front();
  Text text;
  if (only.what == Entry::What::finish) return ending_text(source, only.ending);
  if (only.what == Entry::What::resume) return go_on_text(source, fork.first);
  const bool is_box = only.what == Entry::What::box && only.label.empty();
  // The branch says at each of its ends where one goes on.
  if (only.what == Entry::What::question || (!is_box && may_end_inside(source.course, fork.run))) return go_on_text(source, fork.first);
  text = is_box ? box_text(source, only) : steps_text(source, fork);
  if (fork.go_on.what == graph::Target::What::nowhere) return text;
  return then(source, std::move(text), go_on_text(source, fork.go_on));
}

Text decision_asked(const PaperSource& source, const model::Decision& decision) {
  return {{source.said(Phrase::question_mark, {{"question", wording::capitalised(decision.name)}}), true, ""}};
}

Text question_text(const PaperSource& source, const Entry& entry, const Condition& condition, bool turned) {
  Condition asked = condition;
  if (turned) asked.atoms[0].negated = false;
  return {{wording::question_phrase(source.protocol, source.variant, asked, {{}, entry.named, false, source.by_name}), true, ""}};
}

/// "go on at Q4", which is the next line: no page is named, and nobody needs to be led there.
Text to_next_line(const PaperSource& source, const std::string& label) {
  Text text = go_on_text(source, {graph::Target::What::label, label, {}});
  for (Run& run : text) run.target.clear();
  return text;
}

}  // namespace

bool fits_in_row(const PaperSource& source, const Fork& fork) {
  if (fork.is_trunk || !fork.run) return true;
  const auto& entries = source.course[fork.run].entries;
  if (entries.size() != 1) return false;
  const Entry& only = entries.front();
  return only.what == Entry::What::finish || only.what == Entry::What::resume ||
         (only.what == Entry::What::box && only.label.empty());
}

Frame question_frame(const PaperSource& source, const Entry& entry, Level level) {
  Frame frame;
  frame.label = entry.label;
  frame.level = level;
  frame.aloud = entry.aloud;
  const auto decision = graph::shared_decision(entry.forks);
  const auto keys = keys_of(source, entry);
  if (decision)
    frame.ask = decision_asked(source, source.protocol[decision]);
  else
    frame.ask =
        question_text(source, entry, entry.forks.front().condition, is_turned(entry, entry.forks.front().condition));
  for (std::size_t i = 0; i < entry.forks.size(); ++i) {
    const Fork& fork = entry.forks[i];
    const bool asks_again = i > 0 && !fork.is_otherwise && !decision;
    if (asks_again) {
      frame.rows.push_back({source.said(Phrase::no), to_next_line(source, fork.label)});
      frame.rows.push_back({"", question_text(source, entry, fork.condition, false), fork.label});
    }
    frame.rows.push_back({keys[i], row_text(source, fork)});
  }
  if (says_no_first(source, frame.rows)) std::swap(frame.rows[0], frame.rows[1]);
  return frame;
}

std::vector<std::size_t> answer_order(const PaperSource& source, const Entry& entry) {
  std::vector<std::size_t> order(entry.forks.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  if (entry.what != Entry::What::question || order.size() != 2) return order;
  const auto keys = keys_of(source, entry);
  if (says_no_first(source, {{keys[0], {}}, {keys[1], {}}})) std::swap(order[0], order[1]);
  return order;
}

std::string still_words(const PaperSource& source, const Entry& entry) {
  const std::string again = loop_keys(source, entry).again;
  if (entry.at_most < 2) return source.said(Phrase::still, {{"answer", again}});
  return source.said(Phrase::still_after, {{"answer", again}, {"count", std::to_string(entry.at_most)}});
}

std::string branch_name(const PaperSource& source, const Entry& entry, std::size_t fork) {
  if (entry.what == Entry::What::repeat_asks) return fmt::format("{}: {}", entry.label, still_words(source, entry));
  const std::string key = keys_of(source, entry)[fork];
  return fmt::format("{}: {}", entry.forks[fork].label, key);
}

Text goes_on_text(const PaperSource& source, const Entry& entry, const std::vector<std::size_t>& forks) {
  std::vector<std::string> answers;
  if (entry.what == Entry::What::repeat_asks) answers.push_back(fmt::format("{}: {}", entry.label, loop_keys(source, entry).leave));
  const std::string* last = nullptr;
  for (const std::size_t fork : forks) {
    if (entry.what == Entry::What::repeat_asks) break;
    const std::string& label = entry.forks[fork].label;
    const std::string key = keys_of(source, entry)[fork];
    answers.push_back(last && *last == label ? key : fmt::format("{}: {}", label, key));
    last = &label;
  }
  const std::string said = wording::any_of(source.protocol.tongue, answers);
  return {{source.said(Phrase::goes_on_here, {{"answers", said}}), true, ""}};
}

LoopKeys loop_keys(const PaperSource& source, const Entry& entry) {
  const Atom* atom = single(entry.until);
  const bool by_answer = graph::asks_for_answer(entry.until) && source.protocol[atom->decision].answers.size() == 2;
  LoopKeys keys;
  keys.turned = is_turned(entry.until);
  keys.leave = source.said(keys.turned ? Phrase::no : Phrase::yes);
  keys.again = source.said(keys.turned ? Phrase::yes : Phrase::no);
  keys.ask = question_text(source, entry, entry.until, keys.turned);
  if (by_answer) {
    const model::Decision& decision = source.protocol[atom->decision];
    keys.ask = decision_asked(source, decision);
    keys.leave = text::upper(decision.answers[atom->answer]);
    keys.again = text::upper(decision.answers[1 - atom->answer]);
  }
  return keys;
}

Frame loop_frame(const PaperSource& source, const Entry& entry, Level level) {
  const LoopKeys keys = loop_keys(source, entry);
  Frame frame;
  frame.label = entry.label;
  frame.level = level;
  frame.aloud = entry.aloud;
  frame.ask = keys.ask;
  const Fork& fallback = entry.forks.front();
  FrameRow leave{keys.leave, go_on_text(source, entry.go_on)}, stay{keys.again, row_text(source, fallback)};
  if (entry.at_most > 1) {
    stay.text = phrase_text(source, Phrase::back_to, {{"step", {{entry.from, true, entry.from}}},
                                                      {"count", {{std::to_string(entry.at_most), false, ""}}},
                                                      {"then", row_text(source, fallback)}});
  }
  frame.rows = keys.turned ? std::vector<FrameRow>{stay, leave} : std::vector<FrameRow>{leave, stay};
  if (says_no_first(source, frame.rows)) std::swap(frame.rows[0], frame.rows[1]);
  return frame;
}

}  // namespace stepward::emit
