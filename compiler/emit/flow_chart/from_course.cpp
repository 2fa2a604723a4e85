#include <algorithm>

#include <fmt/format.h>

#include "emit/flow_chart/band_maker.hpp"
#include "model/variants.hpp"

namespace stepward::emit::flow_chart {
namespace {

using graph::Entry;
using wording::Phrase;

/// A piece of the trunk that becomes a band of its own.
struct Stretch {
  model::PhaseId phase;
  std::size_t begin = 0, end = 0;
  bool is_continued = false;
};

/// How far the entries belong together that begin at each position: a loop and its test, two people at once, a question and
/// what follows on its trouble-free arm.
std::vector<std::size_t> reaches(const std::vector<Entry>& entries) {
  std::vector<std::size_t> reach(entries.size());
  std::vector<std::size_t> loops;
  for (std::size_t i = 0; i < entries.size(); ++i) {
    const Entry& entry = entries[i];
    reach[i] = i + 1;
    if (entry.what == Entry::What::question) reach[i] = entry.skip_to;
    if (entry.what == Entry::What::repeat_begins) loops.push_back(i);
    if (entry.what == Entry::What::repeat_asks && !loops.empty()) {
      reach[loops.back()] = i + 1;
      loops.pop_back();
    }
    if (entry.what != Entry::What::together_begins) continue;
    std::size_t last = i + 1;
    while (last < entries.size() && entries[last].label != entry.to) ++last;
    if (last < entries.size()) reach[i] = last + 1;
  }
  return reach;
}

/// A branch counts by what is drawn of it.
std::size_t drawn(const graph::Course& course, const Entry& entry) {
  std::size_t count = 1;
  for (const graph::Fork& fork : entry.forks) {
    if (!fork.run) continue;
    for (const Entry& inner : course[fork.run].entries) count += drawn(course, inner);
  }
  return count;
}

/// The trunk, cut at phases and, where a phase is long, where nothing but the main way passes.
std::vector<Stretch> stretches(const graph::Course& course) {
  const std::vector<Entry>& entries = course[course.trunk].entries;
  const std::vector<std::size_t> reach = reaches(entries);
  std::vector<Stretch> all;
  std::size_t open_until = 0, count = 0;
  for (std::size_t i = 0; i < entries.size(); ++i) {
    const bool new_phase = entries[i].what == Entry::What::phase;
    const bool is_full = count >= entries_of_a_band && i >= open_until;
    if (new_phase || all.empty() || is_full) {
      const model::PhaseId phase = new_phase ? entries[i].phase : all.empty() ? model::PhaseId{} : all.back().phase;
      if (!all.empty()) all.back().end = i;
      all.push_back({phase, i, entries.size(), !new_phase && is_full});
      count = 0;
    }
    count += drawn(course, entries[i]);
    open_until = std::max(open_until, reach[i]);
  }
  return all;
}

/// What a committee asks of a document first; what is not given is said to be so.
std::vector<std::string> control_facts(const Sheet& sheet) {
  const Control& control = sheet.control;
  const Captions& captions = sheet.captions;
  const auto fact = [&](const std::string& caption, const std::string& value) { return filled(caption, value.empty() ? captions.not_given : value); };
  std::vector<std::string> facts{fact(captions.version, control.version)};
  if (!control.status.empty()) facts.push_back(control.status);
  facts.push_back(fact(captions.in_force, date_words(control.in_force, captions)));
  facts.push_back(fact(captions.review_due, date_words(control.review_due, captions)));
  facts.push_back(fact(captions.owner, control.owner));
  facts.push_back(fact(captions.approved_by, control.approver));
  return facts;
}

bool any_shape(const std::vector<Band>& bands, bool (*is)(const Shape&)) {
  return std::any_of(bands.begin(), bands.end(), [&](const Band& band) { return std::any_of(band.shapes.begin(), band.shapes.end(), is); });
}

bool any_loop(const std::vector<Band>& bands) {
  return std::any_of(bands.begin(), bands.end(), [](const Band& band) { return std::any_of(band.ways.begin(), band.ways.end(), [](const Way& way) { return way.goes_back; }); });
}

std::vector<KeyLine> key_of(const PaperSource& source, const std::vector<Band>& bands) {
  std::vector<KeyLine> key;
  const auto add = [&](bool is_there, KeyLine::What what, Phrase words) {
    if (is_there) key.push_back({what, source.said(words)});
  };
  add(any_shape(bands, [](const Shape& s) { return s.what == Shape::What::step; }), KeyLine::What::step, Phrase::chart_key_step);
  add(any_shape(bands, [](const Shape& s) { return !s.critical_word.empty(); }), KeyLine::What::critical, Phrase::chart_key_critical);
  add(any_shape(bands, [](const Shape& s) { return s.what == Shape::What::box; }), KeyLine::What::box, Phrase::chart_key_box);
  add(any_shape(bands, [](const Shape& s) { return s.what == Shape::What::question; }), KeyLine::What::question, Phrase::chart_key_question);
  add(any_shape(bands, [](const Shape& s) { return s.what == Shape::What::ending && !s.emergency; }), KeyLine::What::ending, Phrase::chart_key_ending);
  add(any_shape(bands, [](const Shape& s) { return s.emergency; }), KeyLine::What::emergency, Phrase::chart_key_emergency);
  add(any_shape(bands, [](const Shape& s) { return s.what == Shape::What::back || s.what == Shape::What::resume; }), KeyLine::What::way_back, Phrase::chart_key_way_back);
  add(true, KeyLine::What::main_way, Phrase::chart_key_main_way);
  add(any_loop(bands), KeyLine::What::again, Phrase::chart_key_again);
  add(any_shape(bands, [](const Shape& s) { return s.what == Shape::What::fork; }), KeyLine::What::both, Phrase::chart_key_both);
  add(true, KeyLine::What::cut, Phrase::chart_key_cut);
  return key;
}

class ChartMaker {
 public:
  explicit ChartMaker(const PaperSource& source) : source_(source), ids_(source.protocol), way_(source.protocol, source.variant, source.course) {}

  Chart make() {
    fill_head();
    phases();
    for (const graph::Box& box : source_.course.boxes) add_box(box);
    for (const graph::Breach& breach : source_.course.breaches) add_breach(breach);
    chart_.key = key_of(source_, chart_.bands);
    return std::move(chart_);
  }

 private:
  void fill_head() {
    const model::DocumentControl& document = source_.protocol.document;
    chart_.title = document.title;
    chart_.number = document.number;
    chart_.version = document.version;
    chart_.status = document.status;
    chart_.control = control_facts(begun_sheet(source_, SheetKind::card, ""));
    chart_.key_title = source_.said(Phrase::chart_key);
    chart_.page = wording::unfilled(source_.protocol.tongue, Phrase::page);
    chart_.continued = wording::unfilled(source_.protocol.tongue, Phrase::continued);
    chart_.part = wording::unfilled(source_.protocol.tongue, Phrase::chart_part);
    chart_.goes_on_at = wording::unfilled(source_.protocol.tongue, Phrase::chart_goes_on_at);
    chart_.comes_from = wording::unfilled(source_.protocol.tongue, Phrase::chart_comes_from);
    chart_.answer_goes_on_at = wording::unfilled(source_.protocol.tongue, Phrase::chart_answer_goes_on_at);
    chart_.answer_comes_from = wording::unfilled(source_.protocol.tongue, Phrase::chart_answer_comes_from);
    chart_.variant = model::variant_name(source_.protocol, source_.variant);
    chart_.caution = source_.said(Phrase::caution);
    chart_.heading = source_.said(Phrase::flow_chart);
    chart_.language = source_.protocol.tongue.tag;
    for (const model::PersonStart& person : source_.protocol.people) chart_.people.push_back(source_.protocol[person.role].name);
    if (source_.protocol.acts) chart_.acts = source_.protocol[source_.protocol.acts].name;
  }

  void phases() {
    const std::vector<Stretch> all = stretches(source_.course);
    for (std::size_t i = 0; i < all.size(); ++i) {
      Band band;
      band.title = all[i].phase ? source_.protocol.phases[all[i].phase.value].name : chart_.title;
      band.id = used_.unused(step_graph::nmtoken(band.title));
      band.is_continued = all[i].is_continued;
      if (band.is_continued) band.title = source_.said(Phrase::continued, {{"where", band.title}});
      std::optional<Shape> onward;
      if (i + 1 < all.size()) {
        onward.emplace();
        onward->what = Shape::What::onward;
        onward->id = used_.unused(band.id + ":onward");
      }
      add(std::move(band), source_.course.trunk, all[i].begin, all[i].end, std::move(onward));
    }
  }

  void add_box(const graph::Box& box) {
    Band band;
    band.what = Band::What::box;
    band.label = box.label;
    band.id = used_.unused("box_" + box.label);
    band.title = wording::capitalised(box_title(source_, box));
    band.hint = source_.said(Phrase::only_when_sent) + (box.has_it ? " " + source_.said(Phrase::it_is_what_is_named) : "");
    Shape back;
    back.what = Shape::What::back;
    back.id = used_.unused(band.id + ":back");
    back.text = wording::capitalised(source_.said(Phrase::go_on_where_left_for_box, {{"box", box.label}}));
    add(std::move(band), box.run, 0, source_.course[box.run].entries.size(), std::move(back));
  }

  void add_breach(const graph::Breach& breach) {
    Band band;
    band.what = Band::What::breach;
    band.label = breach.label;
    band.id = used_.unused(ids_.of(breach.interruption));
    band.title = wording::capitalised(source_.protocol[breach.interruption].name);
    band.hint = source_.said(Phrase::stop_then);
    add(std::move(band), breach.run, 0, source_.course[breach.run].entries.size(), std::nullopt);
  }

  void add(Band band, graph::RunId run, std::size_t begin, std::size_t end, std::optional<Shape> last) {
    chart_.bands.push_back(BandMaker(source_, ids_, way_, used_, std::move(band)).make(run, begin, end, std::move(last), run == source_.course.trunk || !way_.comes_to_emergency(run)));
    drop_unreached(chart_.bands.back());
  }

  /// What no way leads to, such as the end of a box that always finishes, is not drawn.
  static void drop_unreached(Band& band);

  const PaperSource& source_;
  step_graph::NodeIds ids_;
  MainWay way_;
  UsedIds used_;
  Chart chart_;
};

void ChartMaker::drop_unreached(Band& band) {
  std::vector<bool> reached(band.shapes.size(), false);
  if (!reached.empty()) reached[0] = true;
  for (bool more = true; more;) {
    more = false;
    for (const Way& way : band.ways) {
      if (!reached[way.from] || reached[way.to]) continue;
      reached[way.to] = more = true;
    }
  }
  std::vector<std::size_t> position(band.shapes.size());
  std::vector<Shape> shapes;
  for (std::size_t i = 0; i < band.shapes.size(); ++i) {
    position[i] = shapes.size();
    if (reached[i]) shapes.push_back(std::move(band.shapes[i]));
  }
  std::vector<Way> ways;
  for (Way& way : band.ways) {
    if (!reached[way.from]) continue;
    way.from = position[way.from];
    way.to = position[way.to];
    ways.push_back(std::move(way));
  }
  band.shapes = std::move(shapes);
  band.ways = std::move(ways);
}

}  // namespace

Chart from_course(const PaperSource& source) { return ChartMaker(source).make(); }

}  // namespace stepward::emit::flow_chart
