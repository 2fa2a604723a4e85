#include "emit/flow_chart/band_maker.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "emit/act_line.hpp"

namespace stepward::emit::flow_chart {

using graph::Entry;
using graph::Fork;
using wording::Phrase;

namespace {
using What = Shape::What;
}

std::string plain(const Text& text) {
  std::string all;
  for (const Run& run : text) all += run.text;
  return all;
}

std::string UsedIds::unused(const std::string& wanted) {
  const std::size_t count = ++counts_[wanted];
  return count == 1 ? wanted : unused(fmt::format("{}.{}", wanted, count));
}

Band BandMaker::make(graph::RunId run, std::size_t begin, std::size_t end, std::optional<Shape> last, bool main) {
  std::optional<std::size_t> after;
  if (last) after = add(std::move(*last));
  const std::optional<std::size_t> first = place(run, begin, end, after, main);
  Shape entry;
  entry.what = What::entry;
  entry.id = used_.unused(band_.id + ":entry");
  const std::size_t into = add(std::move(entry));
  connect(into, first ? *first : behind_all(), "", "", main);
  turn_over();
  return std::move(band_);
}

std::size_t BandMaker::add(Shape shape) {
  band_.shapes.push_back(std::move(shape));
  return band_.shapes.size() - 1;
}

void BandMaker::connect(std::size_t from, std::size_t to, std::string label, std::string condition, bool is_main) {
  band_.ways.push_back({"", from, to, std::move(label), std::move(condition), is_main, false});
}

/// The last line of all leads nowhere: the chart says so instead of leaving a way that ends in the air.
std::size_t BandMaker::behind_all() {
  if (!loose_) {
    Shape loose;
    loose.what = What::loose_end;
    loose.id = used_.unused(band_.id + ":loose_end");
    loose_ = add(std::move(loose));
  }
  return *loose_;
}

/// Where the entries of a `together` begin that ends at each position; only where two people do have lines in it.
static std::map<std::size_t, std::size_t> groups_in(const std::vector<Entry>& entries) {
  std::map<std::size_t, std::size_t> groups;
  for (std::size_t i = 0; i < entries.size(); ++i) {
    if (entries[i].what != Entry::What::together_begins || entries[i].from == entries[i].to) continue;
    std::size_t last = i + 1;
    while (last < entries.size() && entries[last].label != entries[i].to) ++last;
    if (last < entries.size()) groups[last] = i + 1;
  }
  return groups;
}

std::optional<std::size_t> BandMaker::place(graph::RunId run, std::size_t begin, std::size_t end, std::optional<std::size_t> after, bool main) {
  const std::vector<Entry>& entries = source_.course[run].entries;
  const auto groups = groups_in(entries);
  const std::vector<bool> passed = way_.passes(run);
  // at[i]: the shape where a reader lands who is to go on at position i
  std::vector<std::optional<std::size_t>> at(end + 1, after);
  for (std::size_t i = end; i-- > begin;) {
    const Entry& entry = entries[i];
    const bool on_way = main && passed[i];
    const auto next = [&] { return at[i + 1] ? *at[i + 1] : behind_all(); };
    if (const auto group = groups.find(i); group != groups.end()) {
      const std::size_t first = group->second;
      at[first] = together(entries, first, i + 1, next(), on_way);
      i = first;
    } else if (entry.what == Entry::What::repeat_begins) {
      at[i] = at[i + 1];
      if (open_loops_.empty()) continue;
      if (entry.at_most > 1) {
        // The count of the card, which includes the first time: a chart that only said "again" would permit one round more.
        const std::string times = source_.said(Phrase::times_with_the_first, {{"count", std::to_string(entry.at_most)}});
        connect(open_loops_.back().test, next(), source_.said(Phrase::again_times, {{"answer", open_loops_.back().again}, {"times", times}}));
        band_.ways.back().goes_back = true;
      }
      open_loops_.pop_back();
    } else if (entry.what == Entry::What::phase || entry.what == Entry::What::together_begins) {
      at[i] = at[i + 1];
    } else if (entry.what == Entry::What::finish || entry.what == Entry::What::resume) {
      at[i] = put(entry, nullptr, 0, 0, on_way, std::nullopt);
    } else {
      const bool skips = entry.what == Entry::What::question;
      const std::size_t skip = skips ? (at[entry.skip_to] ? *at[entry.skip_to] : behind_all()) : 0;
      const Entry* trunk = skips && entry.skip_to > i + 1 ? &entries[i + 1] : nullptr;
      at[i] = put(entry, trunk, next(), skip, on_way, on_way ? way_.arm(run, i) : std::nullopt);
    }
  }
  return at[begin];
}

std::size_t BandMaker::put(const Entry& entry, const Entry* trunk, std::size_t next, std::size_t skip, bool main, MainArm arm) {
  switch (entry.what) {
    case Entry::What::step:
    case Entry::What::box: {
      const std::size_t shape = entry.what == Entry::What::step ? step(entry) : box(entry);
      connect(shape, next, "", "", main);
      return shape;
    }
    case Entry::What::question: return question(entry, trunk, next, skip, arm);
    case Entry::What::repeat_asks: return loop_test(entry, next, main);
    case Entry::What::finish: return ending(entry.ending);
    case Entry::What::resume: {
      Shape shape;
      shape.what = What::resume;
      shape.id = used_.unused(band_.id + ":resume");
      shape.text = wording::capitalised(source_.said(Phrase::go_back_where_stopped));
      return add(std::move(shape));
    }
    case Entry::What::phase:
    case Entry::What::repeat_begins:
    case Entry::What::together_begins: break;
  }
  return next;
}

std::size_t BandMaker::step(const Entry& entry) {
  const model::Line& line = source_.protocol[entry.line];
  wording::Setting setting = setting_of(source_, entry);
  setting.hands.clear();  // layers are the card's; a chart is told of any run
  const wording::StepText words = wording::step_text(source_.protocol, source_.variant, line, setting);
  Shape shape;
  shape.id = used_.unused(ids_.of(entry.line));
  shape.number = entry.label;
  shape.text = act_line(is_received(source_.protocol, line) ? act_received(source_, line, words, setting.anew) : words.act);
  shape.who = source_.protocol[line.who].name;
  shape.is_others = line.who != source_.protocol.acts && !is_received(source_.protocol, line);
  shape.words = words.words;
  if (!line.details.critical_because.empty()) shape.critical_word = source_.said(Phrase::critical);
  const model::Duration contact = clock_of(source_, entry).time;
  if (contact.seconds > 0) {
    shape.clock = source_.said(Phrase::contact_time) + " " + wording::duration_phrase(contact);
  } else if (line.wait.seconds > 0) {
    shape.clock = source_.said(Phrase::time) + " " + wording::duration_phrase(line.wait);
  }
  return add(std::move(shape));
}

std::size_t BandMaker::box(const Entry& entry) {
  Shape shape;
  shape.what = What::box;
  shape.box = source_.course[entry.box].label;
  shape.id = used_.unused(fmt::format("{}:do_box_{}", band_.id, shape.box));
  shape.number = entry.label;
  shape.called = source_.said(Phrase::box_step, {{"box", shape.box}});
  shape.text = wording::capitalised(plain(box_text(source_, entry, Phrase::do_box)));
  return add(std::move(shape));
}

std::size_t BandMaker::ending(model::EndingId id) {
  const model::Ending& ending = source_.protocol[id];
  Shape shape;
  shape.what = What::ending;
  shape.id = used_.unused(band_.id + ":ending:" + step_graph::nmtoken(ending.name));
  shape.text = plain(ending_text(source_, id));
  shape.emergency = !ending.normal;
  shape.continue_with = ending.continue_with;
  shape.ending = id;
  return add(std::move(shape));
}

// ------------------------------------------------------------------ questions

/// The rows of a frame that belong to one question: a chain of questions is one frame on paper, but several shapes here.
struct Asked {
  Text text;
  std::vector<std::size_t> forks;
  std::vector<std::string> keys;
};

/// `order`: the fork that each row with a key belongs to; a frame has YES above NO, whatever the source asks for.
static std::vector<Asked> asked_in(const Frame& frame, const std::vector<std::size_t>& order) {
  std::vector<Asked> all{{frame.ask, {}, {}}};
  auto fork = order.begin();
  for (std::size_t i = 0; i < frame.rows.size(); ++i) {
    const FrameRow& row = frame.rows[i];
    if (row.key.empty()) {
      all.push_back({row.text, {}, {}});
      continue;
    }
    // In front of a further question stands the NO that leads to it; a chart draws it as a way.
    if (i + 1 < frame.rows.size() && frame.rows[i + 1].key.empty()) continue;
    all.back().forks.push_back(*fork++);
    all.back().keys.push_back(row.key);
  }
  return all;
}

std::size_t BandMaker::question(const Entry& entry, const Entry* trunk, std::size_t next, std::size_t skip, MainArm arm) {
  const std::vector<Asked> all = asked_in(question_frame(source_, entry, 0), answer_order(source_, entry));
  std::optional<std::size_t> later;  // the question behind this one
  bool leads_later = false;          // the main way goes on there
  for (std::size_t part = all.size(); part-- > 0;) {
    const Asked& one = all[part];
    std::vector<std::size_t> targets(one.forks.size());
    for (std::size_t k = one.forks.size(); k-- > 0;) targets[k] = first_of(entry.forks[one.forks[k]], next, skip, arm == one.forks[k]);
    const std::size_t shape = asked(entry, one.text, part);
    for (std::size_t k = 0; k < one.forks.size(); ++k) {
      const Fork& fork = entry.forks[one.forks[k]];
      const std::string condition =
          fork.is_otherwise ? "" : wording::condition_phrase(source_.protocol, source_.variant, fork.condition, {{}, entry.named});
      connect(shape, targets[k], key_of_arm(fork, fork.is_trunk ? trunk : first_entry(fork), one.keys[k]), condition, arm == one.forks[k]);
    }
    if (later) connect(shape, *later, source_.said(Phrase::no), "", leads_later);
    leads_later |= std::find(one.forks.begin(), one.forks.end(), arm) != one.forks.end();
    later = shape;
  }
  return *later;
}

/// "YES", or "YES: no run comes here" where that is known.
std::string BandMaker::key_of_arm(const Fork& fork, const Entry* first, const std::string& key) const {
  return is_never_taken(fork, first) ? source_.said(Phrase::chart_never_taken, {{"answer", key}}) : key;
}

/// One routine stands in several places: what no run gives at one of them alone shows at its lines. `first`: what stands on the arm.
bool BandMaker::is_never_taken(const Fork& fork, const Entry* first) const {
  if (source_.facts.arms_never.count(fork.place)) return true;
  if (!first || (first->what != Entry::What::step && first->what != Entry::What::box)) return false;
  const Entry* step = first;
  if (first->what == Entry::What::box) {
    const auto& inner = source_.course[source_.course[first->box].run].entries;
    step = inner.empty() || inner.front().what != Entry::What::step ? nullptr : &inner.front();
  }
  if (!step) return false;
  const auto lines = source_.course.lines_at.find(step->label);
  if (lines == source_.course.lines_at.end()) return false;
  return std::all_of(lines->second.begin(), lines->second.end(), [&](model::LineId line) { return source_.facts.lines_never.count(line) != 0; });
}

std::size_t BandMaker::asked(const Entry& entry, const Text& text, std::size_t part) {
  Shape shape;
  shape.what = What::question;
  const bool is_loop = entry.what == Entry::What::repeat_asks;
  const model::Condition& condition = is_loop ? entry.until : entry.forks[part].condition;
  shape.id = used_.unused(band_.id + (is_loop ? ":until_" : ":if_") + step_graph::nmtoken(step_graph::condition_key(source_.protocol, condition)));
  shape.number = is_loop ? entry.label : entry.forks[part].label;
  shape.text = plain(text);
  return add(std::move(shape));
}

const Entry* BandMaker::first_entry(const Fork& fork) const {
  return fork.run && !source_.course[fork.run].entries.empty() ? &source_.course[fork.run].entries.front() : nullptr;
}

std::size_t BandMaker::first_of(const Fork& fork, std::size_t next, std::size_t skip, bool main) {
  if (fork.is_trunk) return next;
  if (!fork.run) return skip;
  const std::optional<std::size_t> first = place(fork.run, 0, source_.course[fork.run].entries.size(), skip, main);
  return first ? *first : skip;
}

std::size_t BandMaker::loop_test(const Entry& entry, std::size_t next, bool main) {
  const LoopKeys keys = loop_keys(source_, entry);
  const std::size_t given_up = first_of(entry.forks.front(), next, next, false);
  const std::size_t shape = asked(entry, keys.ask, 0);
  connect(shape, next, keys.leave, wording::condition_phrase(source_.protocol, source_.variant, entry.until, {{}, entry.named}), main);
  connect(shape, given_up, key_of_arm(entry.forks.front(), first_entry(entry.forks.front()), entry.at_most > 1 ? still_words(source_, entry) : keys.again));
  open_loops_.push_back({shape, keys.again});
  return shape;
}

// ------------------------------------------------------------------ two people at once

std::size_t BandMaker::together(const std::vector<Entry>& entries, std::size_t begin, std::size_t end, std::size_t next, bool main) {
  Shape bar;
  bar.what = What::join;
  bar.id = used_.unused(band_.id + ":both_done");
  const std::size_t join = add(bar);
  connect(join, next, "", "", main);
  std::map<std::uint32_t, std::size_t> first_of_person;  // by role
  std::vector<std::uint32_t> order;
  for (std::size_t i = end; i-- > begin;) {
    if (entries[i].what != Entry::What::step) continue;
    const std::uint32_t who = source_.protocol[entries[i].line].who.value;
    const std::size_t shape = step(entries[i]);
    const auto later = first_of_person.find(who);
    connect(shape, later == first_of_person.end() ? join : later->second);
    if (later == first_of_person.end()) order.push_back(who);
    first_of_person[who] = shape;
  }
  bar.what = What::fork;
  bar.id = used_.unused(band_.id + ":both_begin");
  const std::size_t fork = add(bar);
  for (auto who = order.rbegin(); who != order.rend(); ++who) connect(fork, first_of_person[*who]);
  return fork;
}

// ------------------------------------------------------------------ reading order

void BandMaker::turn_over() {
  const std::size_t count = band_.shapes.size();
  std::reverse(band_.shapes.begin(), band_.shapes.end());
  for (Way& way : band_.ways) {
    way.from = count - 1 - way.from;
    way.to = count - 1 - way.to;
  }
  std::stable_sort(band_.ways.begin(), band_.ways.end(), [](const Way& a, const Way& b) { return a.from < b.from; });
  std::map<std::size_t, std::size_t> counts;
  for (Way& way : band_.ways) way.id = used_.unused(fmt::format("{}:way_{}", band_.shapes[way.from].id, ++counts[way.from]));
}

}  // namespace stepward::emit::flow_chart
