// Every slip of every variant followed, then brought together by the line of the source that it is a slip of.

#include <algorithm>
#include <map>

#include "base/side_by_side.hpp"
#include "check/stories.hpp"
#include "check/variant_check.hpp"
#include "explore/fewer_answers.hpp"
#include "model/variants.hpp"
#include "rules/advice.hpp"
#include "slips/answers.hpp"
#include "slips/same_harm.hpp"
#include "slips/timed.hpp"
#include "slips/variant_slips.hpp"
#include "wording/messages.hpp"
#include "wording/step_text.hpp"
#include "wording/story.hpp"

namespace stepward::slips {
namespace {

using explore::Followed;
using graph::SlipKind;

// Brings the ways of all variants together and words what is told.
class TableMaker {
 public:
  TableMaker(const model::Protocol& protocol, const std::vector<VariantSlips>& variants) : protocol_(protocol), variants_(variants) {}

  Table make(const Options& options) {
    for (const VariantSlips& v : variants_) add_variant(v);
    table_.at_once = options.at_once;
    table_.limit = options.limit;
    if (protocol_.rhythm.given && protocol_.rhythm.confirms) table_.confirms = protocol_[protocol_.rhythm.confirms].name;
    for (const VariantSlips& v : variants_) add_pairs(v);
    for (const VariantSlips& v : variants_) add_triples(v);
    leave_out_what_fewer_do();
    choose_outcomes();
    sort_rows();
    table_.interruptions = options.interruptions;
    return std::move(table_);
  }

 private:
  const model::Line& line_of(const VariantSlips& v, graph::NodeId node) const { return protocol_[v.made.ways.graph[node].line]; }

  Key key_of(const VariantSlips& v, const graph::SlipWay& way) const { return slips::key_of(protocol_, v.made, way); }

  void add_variant(const VariantSlips& v) {
    table_.variants.push_back(model::variant_name(protocol_, v.made.ways.graph.variant));
    table_.complete &= v.complete;
    table_.not_walked += !v.trodden;
    for (std::size_t k = 0; k < v.reach.size(); ++k) {
      table_.reach[k].done += v.reach[k].done;
      table_.reach[k].of += v.reach[k].of;
    }
    if (!v.trodden) return;
    table_.states += v.trodden->walk.size();
    count_lists(v.made.ways.graph);
    for (std::uint32_t w = 0; w < v.outcomes.size(); ++w) {
      if (!v.outcomes[w].tried) continue;
      table_.states_off += v.outcomes[w].followed.states;
      add_way(v, w);
    }
  }

  Row& row_of(const VariantSlips& v, const graph::SlipWay& way) {
    const Key key = key_of(v, way);
    const auto [at, is_new] = index_.try_emplace(key, table_.rows.size());
    if (is_new) {
      Row row;
      row.key = key;
      row.at = line_of(v, way.slipped).span;
      table_.rows.push_back(std::move(row));
    }
    return table_.rows[at->second];
  }

  /// Of a look at one thing, which the line names, what is missed on it is enough.
  std::string look_in_words(const VariantSlips& v, const graph::SlipWay& way) const {
    const model::Line& line = line_of(v, way.slipped);
    if (way.kind != SlipKind::overlooked) return "";
    const std::size_t findings = line.findings.size();
    const model::Finding& missed = protocol_[line.findings[way.look % findings]];
    const std::string& finding = missed.called.empty() ? missed.name : missed.called;
    if (line.things.size() == 1) return finding;
    return finding + " on " + wording::thing_phrase(protocol_, v.made.ways.graph.variant, line.things[way.look / findings], {});
  }

  std::string what_the_confirm_sees(const VariantSlips& v, const graph::SlipWay& way, const model::Line& line) const {
    return way.kind == SlipKind::cut_short ? timed_by(protocol_, v.made, *v.trodden, way.at, line) : seen_by_confirm(protocol_, v.made, way);
  }

  void add_way(const VariantSlips& v, std::uint32_t w) {
    const graph::SlipWay& way = v.made.ways.ways[w];
    const Followed& f = v.outcomes[w].followed;
    Row& row = row_of(v, way);
    note_confirm(v, way, row, !f.harms.empty());
    ++row.places;
    row.list_lines = std::max(row.list_lines, lists_.at(list_of(v.made.ways.graph[way.slipped])).size());
    note_place(v, way, tried_[row.key]);
    if (!f.harms.empty()) note_place(v, way, harmful_[row.key]);
    for (std::uint32_t n : f.notes) row.breaks.insert(protocol_[report_of(v, n).rule].number);
    for (const explore::Halt& h : f.halts) add_catch(v, h, row);
    for (const explore::Halt& h : f.harms) {
      keep_worst(row.harm, v, way, h);
      keep_worst_here(row.harm_in, v, way, h);
    }
    if (!f.changes_nothing || !is_words_only(line_of(v, way.slipped)) || way.kind != SlipKind::left_out) moves_something_.insert(row.key);
  }

  /// One place of harm that nobody sees is enough for the row to be silent.
  void note_confirm(const VariantSlips& v, const graph::SlipWay& way, Row& row, bool harms) {
    if (unseen_.count(row.key)) return;
    const std::string watch = what_the_confirm_sees(v, way, line_of(v, way.slipped));
    if (row.watch.empty() || (harms && watch.empty())) row.watch = watch;
    if (harms && watch.empty()) unseen_.insert(row.key);
  }

  /// What a line is in words, by the calls and variants that say it otherwise.
  using Sentences = std::vector<std::pair<model::LineId, std::string>>;

  /// Where a line stands, and what it is about there.
  struct Places {
    std::map<std::size_t, std::set<std::string, StepOrder>> steps_in, before_in;
    std::set<model::LineId> lines, passes;
    std::set<std::size_t> variants;
    Sentences in_words, looks;
    model::LineId in_first;
  };

  /// Of an act its own words: what it touches is told in the story.
  std::string line_as_told(const VariantSlips& v, graph::NodeId node) const {
    const model::Line& line = line_of(v, node);
    if (line.verb == model::VerbKind::act) return check::deed_in_words(protocol_, line);
    return check::line_in_words(protocol_, v.made.ways.graph.variant, line);
  }

  static void once(Sentences& list, model::LineId line, const std::string& words) {
    if (std::none_of(list.begin(), list.end(), [&](const auto& each) { return each.second == words; })) list.emplace_back(line, words);
  }

  /// As one sentence, the alternatives in the order of the lines.
  static std::string in_one(Sentences& list) {
    std::stable_sort(list.begin(), list.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    std::vector<std::string> words;
    for (auto& each : list) words.push_back(std::move(each.second));
    return one_sentence(words);
  }

  void note_place(const VariantSlips& v, const graph::SlipWay& way, Places& told) const {
    const graph::Graph& graph = v.made.ways.graph;
    const model::LineId line = graph[way.slipped].line;
    if (told.lines.empty()) told.in_first = line;
    told.variants.insert(v.number);
    told.lines.insert(line);
    if (way.before) told.passes.insert(graph[way.before].line);
    if (way.before && !v.made.course.label(graph[way.before].line).empty()) told.before_in[v.number].insert(v.made.course.label(graph[way.before].line));
    if (const std::string& step = v.made.course.label(line); !step.empty()) told.steps_in[v.number].insert(step);
    once(told.in_words, line, line_as_told(v, way.slipped));
    once(told.looks, line, look_in_words(v, way));
  }

  /// A slip that comes to harm is told of where it does, and of no other call or variant of the same line.
  static void keep_places(Row& row, Places& places) {
    for (const auto& [variant, steps] : places.steps_in) row.steps.insert(steps.begin(), steps.end());
    row.steps_in = std::move(places.steps_in);
    row.before_in = std::move(places.before_in);
    row.lines = std::move(places.lines);
    row.passes = std::move(places.passes);
    row.variants = std::move(places.variants);
    row.in_first = places.in_first;
    row.line = in_one(places.in_words);
    row.look = in_one(places.looks);
  }

  /// A phase, or what is done when something happens.
  using List = std::pair<model::PhaseId, model::InterruptionId>;
  static List list_of(const graph::Node& node) { return {node.phase, node.handler}; }

  void count_lists(const graph::Graph& graph) {
    lists_.clear();
    for (const graph::Node& n : graph.nodes)
      if (n.kind == graph::NodeKind::line) lists_[list_of(n)].insert(n.line);
  }

  static bool is_words_only(const model::Line& line) {
    using V = model::VerbKind;
    return (line.verb == V::act && line.things.empty()) || line.verb == V::call || line.verb == V::record || line.verb == V::start_timer ||
           line.verb == V::stop_timer || (line.verb == V::wait && !line.wait_contact_time);
  }

  const effects::Report& report_of(const VariantSlips& v, std::uint32_t packed) const { return v.made.system.reports[v.made.packed.reports[packed].value]; }

  void add_catch(const VariantSlips& v, const explore::Halt& h, Row& row) const {
    Catch c;
    const graph::Graph& graph = v.made.ways.graph;
    model::LineId line;
    if (h.report == UINT32_MAX) {
      const graph::NodeId node = v.made.system.edges[h.edge].by;
      c.by = Catch::By::look;
      c.at = line_of(v, node).span;
      line = graph[node].line;
      c.words = check::line_in_words(protocol_, graph.variant, line_of(v, node));
    } else {
      const effects::Report& r = report_of(v, h.report);
      const char family = diagnostics::code_name(r.code)[0];
      c.by = r.ending ? Catch::By::ending : family == 'F' ? Catch::By::question : Catch::By::cannot_be_done;
      c.at = check::place_of_report(protocol_, graph, r);
      line = r.line;
      c.words = wording::headline(r.code, wording::report_args(protocol_, r));
    }
    if (line) c.step = v.made.course.label(line);
    auto known = std::find_if(row.caught.begin(), row.caught.end(), [&](const Catch& each) { return each.by == c.by && check::key_of(each.at) == check::key_of(c.at); });
    if (known == row.caught.end()) known = row.caught.insert(row.caught.end(), c);
    Catch::Here& here = known->where[v.number];
    if (line) here.lines.insert(line);
    if (here.words.empty()) here.words = c.words;
  }

  /// Harm that the line itself does comes before all other: no confirm holds it back.
  void keep_worst(std::optional<Harm>& kept, const VariantSlips& v, const graph::SlipWay& way, const explore::Halt& h) const {
    const effects::Report& r = report_of(v, h.report);
    const bool at_once = is_at_once(v, way, r);
    if (kept && rank_of(*kept) <= std::tuple(!at_once, consequence_of(protocol_, r), h.run.steps)) return;
    kept = harm_of(v, h.report, h.run);
    kept->at_once = at_once;
  }

  /// The same for one variant, which needs no story of its own.
  void keep_worst_here(std::map<std::size_t, WorstHere>& kept, const VariantSlips& v, const graph::SlipWay& way, const explore::Halt& h) const {
    const effects::Report& r = report_of(v, h.report);
    WorstHere here{r.code, consequence_of(protocol_, r), is_at_once(v, way, r), h.run.steps, "", r.line, r.ending, v.made.ways.graph[way.slipped].line};
    const auto known = kept.find(v.number);
    if (known != kept.end() && rank_of(known->second) <= rank_of(here)) return;
    here.headline = wording::headline(r.code, wording::report_args(protocol_, r));
    kept[v.number] = std::move(here);
  }

  /// What is only dirty, or no longer sterile, can still be kept away from everybody once somebody sees it.
  bool is_at_once(const VariantSlips& v, const graph::SlipWay& way, const effects::Report& r) const {
    return r.line && r.line == v.made.ways.graph[way.slipped].line && consequence_of(protocol_, r) != Consequence::clean_side;
  }

  template <typename AnyHarm>
  static std::tuple<bool, Consequence, std::uint32_t> rank_of(const AnyHarm& harm) { return {!harm.at_once, harm.consequence, harm.steps}; }

  Harm harm_of(const VariantSlips& v, std::uint32_t report, const explore::RunOff& run) const {
    const effects::Report& r = report_of(v, report);
    Harm out{r.code, consequence_of(protocol_, r), check::place_of_report(protocol_, v.made.ways.graph, r), "", wording::headline(r.code, wording::report_args(protocol_, r)), {}, run.steps, false, v.number, r.line, r.ending};
    if (r.line) out.step = v.made.course.label(r.line);
    std::vector<std::uint32_t> edges = explore::run_to(v.trodden->walk, {0, v.trodden->walk.parent[run.state], v.trodden->walk.via[run.state], 0});
    edges.insert(edges.end(), run.edges.begin(), run.edges.end());
    edges = explore::with_fewer_answers(v.made.system, v.made.packed, v.made.signs, v.trodden->walk.state(0), std::move(edges), report);
    const explore::Story story = explore::tell(v.made.whole, v.made.packed, edges, report);
    out.story = check::story_lines(protocol_, v.made.ways.graph, v.made.course, v.made.whole, v.made.packed, story, r, out.headline);
    return out;
  }

  std::size_t row_of_way(const VariantSlips& v, std::uint32_t way) const { return index_.at(key_of(v, v.made.ways.ways[way])); }
  bool has_confirm(std::size_t row) const { return !table_.rows[row].watch.empty(); }

  void add_pairs(const VariantSlips& v) {
    for (const JointHarm& j : v.joints) {
      const std::size_t a = row_of_way(v, j.ways[0]), b = row_of_way(v, j.ways[1]);
      if (a == b) continue;  // two places of one line, or one of them in two variants
      if (table_.rows[a].harm || table_.rows[b].harm) continue;  // somewhere else one of them is enough
      const bool first_seen = is_seen_in_time(v, j, 0), second_seen = is_seen_in_time(v, j, 1);
      if (!first_seen && !second_seen) keep_worst(pairs_, std::minmax(a, b), v, j, Pair{a, b, {}});
      else third_needed_.insert(std::minmax(a, b));
      if (table_.at_once < 3) continue;
      if (first_seen && second_seen) more_needed_.insert({std::min(a, b), std::max(a, b)});
      else if (first_seen || second_seen) keep_worst(triples_, {std::min(a, b), std::max(a, b)}, v, j, Triple{a, b, first_seen ? a : b, {}});
    }
  }

  /// Whether a confirm shows the k-th slip of the run before harm: of the last one not, where its own line does the harm.
  bool is_seen_in_time(const VariantSlips& v, const JointHarm& j, std::size_t k) const {
    const bool is_last = k + 1 == j.ways.size();
    return has_confirm(row_of_way(v, j.ways[k])) && !(is_last && is_at_once(v, v.made.ways.ways[j.ways[k]], report_of(v, j.report)));
  }

  /// What comes to harm with fewer slips at another place, or in another order, is told there.
  void leave_out_what_fewer_do() {
    for (const auto& [rows, pair] : pairs_) {
      third_needed_.erase(rows);
      more_needed_.erase({rows.first, rows.second});
      triples_.erase({rows.first, rows.second});
    }
    for (const auto& [rows, triple] : triples_) more_needed_.erase(rows);
  }

  // After the pairs of all variants: somewhere else two of them may be enough.
  void add_triples(const VariantSlips& v) {
    const auto is_enough = [&](std::size_t a, std::size_t b) { return a == b || pairs_.count(std::minmax(a, b)) || third_needed_.count(std::minmax(a, b)); };
    for (const JointHarm& j : v.threefold) {
      std::vector<std::size_t> rows;
      for (const std::uint32_t w : j.ways) rows.push_back(row_of_way(v, w));
      if (std::any_of(rows.begin(), rows.end(), [&](std::size_t r) { return table_.rows[r].harm.has_value(); })) continue;
      if (is_enough(rows[0], rows[1]) || is_enough(rows[0], rows[2]) || is_enough(rows[1], rows[2])) continue;
      const Triple triple{rows[0], rows[1], rows[2], {}};
      std::sort(rows.begin(), rows.end());
      if (is_seen_in_time(v, j, 0) || is_seen_in_time(v, j, 1) || is_seen_in_time(v, j, 2)) more_needed_.insert(rows);
      else keep_worst(triples_, rows, v, j, triple);
    }
  }

  template <typename Rows, typename Set>
  void keep_worst(std::map<Rows, Set>& kept, const typename std::map<Rows, Set>::key_type& rows, const VariantSlips& v, const JointHarm& j, Set set) const {
    const Consequence c = consequence_of(protocol_, report_of(v, j.report));
    const auto known = kept.find(rows);
    if (known != kept.end() && std::tie(known->second.harm.consequence, known->second.harm.steps) <= std::tie(c, j.run.steps)) return;
    set.harm = harm_of(v, j.report, j.run);
    kept[rows] = std::move(set);
  }

  void choose_outcomes() {
    for (std::size_t i = 0; i < table_.rows.size(); ++i) {
      Row& row = table_.rows[i];
      keep_places(row, row.harm ? harmful_.at(row.key) : tried_.at(row.key));
      const bool is_held_back = row.harm && !row.harm->at_once && !row.watch.empty();
      if (is_held_back) {
        row.outcome = Outcome::caught;
        row.caught.insert(row.caught.begin(), {Catch::By::confirm, row.at, row.steps.empty() ? "" : *row.steps.begin(), row.watch});
        if (table_.at_once > 1) pairs_[{i, i}] = {i, i, *row.harm};
      } else if (row.harm) row.outcome = Outcome::harm;
      else if (!row.caught.empty()) row.outcome = Outcome::caught;
      else row.outcome = moves_something_.count(row.key) ? Outcome::harmless : Outcome::not_modelled;
    }
  }

  void sort_rows() {
    std::vector<std::size_t> order(table_.rows.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    const auto rank = [&](std::size_t i) {
      const Row& r = table_.rows[i];
      return std::tuple(r.outcome, r.harm ? static_cast<int>(r.harm->consequence) : 9, r.harm ? r.harm->steps : 0, r.at.file.value, r.at.begin, r.key.kind, r.key.look);
    };
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return rank(a) < rank(b); });
    std::vector<std::size_t> now(order.size());
    std::vector<Row> rows;
    for (std::size_t k = 0; k < order.size(); ++k) {
      now[order[k]] = k;
      rows.push_back(std::move(table_.rows[order[k]]));
    }
    table_.rows = std::move(rows);
    for (auto& [both, pair] : pairs_) table_.pairs.push_back({now[pair.first], now[pair.second], std::move(pair.harm)});
    for (auto& [all, triple] : triples_) table_.triples.push_back({now[triple.first], now[triple.second], now[triple.third], std::move(triple.harm)});
    std::sort(table_.pairs.begin(), table_.pairs.end(), [&](const Pair& a, const Pair& b) {
      return std::tie(a.harm.consequence, a.harm.steps, a.first, a.second) < std::tie(b.harm.consequence, b.harm.steps, b.first, b.second);
    });
    std::sort(table_.triples.begin(), table_.triples.end(), [&](const Triple& a, const Triple& b) {
      return std::tie(a.harm.consequence, a.harm.steps, a.first, a.second, a.third) < std::tie(b.harm.consequence, b.harm.steps, b.first, b.second, b.third);
    });
    table_.held_by_confirms = third_needed_.size();
    table_.held_by_more = more_needed_.size();
  }

  const model::Protocol& protocol_;
  const std::vector<VariantSlips>& variants_;
  Table table_;
  std::map<Key, std::size_t> index_;
  std::map<Key, Places> tried_, harmful_;
  std::set<Key> moves_something_, unseen_;
  std::map<List, std::set<model::LineId>> lists_;  ///< of the variant that is being added
  std::map<std::pair<std::size_t, std::size_t>, Pair> pairs_;
  std::map<std::vector<std::size_t>, Triple> triples_;  ///< by the rows of its slips in order; with a confirm, of the two
  std::set<std::pair<std::size_t, std::size_t>> third_needed_;
  std::set<std::vector<std::size_t>> more_needed_;
};

}  // namespace

Table analyse(const model::Protocol& protocol, const Options& options) {
  const model::Protocol advised = rules::with_rules_as_advice(protocol);
  const std::vector<model::Variant> all = model::all_variants(protocol);
  std::vector<VariantSlips> variants;
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (options.only_variant && *options.only_variant != i) continue;
    variants.emplace_back();
    variants.back().number = variants.size() - 1;
  }
  const unsigned side = static_cast<unsigned>(std::min<std::size_t>(variants.size(), std::max(1u, options.workers)));
  side_by_side(variants.size(), side, [&](std::size_t i) {
    follow_slips(advised, all[options.only_variant.value_or(i)], options, std::max(1u, options.workers / side), variants[i]);
  });
  Table table = TableMaker(advised, variants).make(options);
  lay_answers(protocol, options, table);
  join_same_harm(advised, table);
  return table;
}

}  // namespace stepward::slips
