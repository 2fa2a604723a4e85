#pragma once
// Makes the band of one run of a course. Part of `from_course`.
//
// A run is read from its end: the place that a reader lands at behind an entry is then known when the entry is met, as in
// graph/targets.cpp. Shapes are collected that way round and turned over at the end, with the branches of a question
// between it and what follows.

#include <map>
#include <optional>

#include "emit/flow_chart/chart.hpp"
#include "emit/flow_chart/main_way.hpp"
#include "emit/graph/node_ids.hpp"

namespace stepward::emit::flow_chart {

/// Ids that are in use in a chart; what is wanted twice gets a number.
class UsedIds {
 public:
  std::string unused(const std::string& wanted);

 private:
  std::map<std::string, std::size_t> counts_;
};

class BandMaker {
 public:
  BandMaker(const PaperSource& source, const step_graph::NodeIds& ids, const MainWay& way, UsedIds& used, Band band)
      : source_(source), ids_(ids), way_(way), used_(used), band_(std::move(band)) {}

  /// The entries of a run from `begin` to before `end`. `last`: what stands behind them all. `main`: whether it has a heavy line.
  Band make(graph::RunId run, std::size_t begin, std::size_t end, std::optional<Shape> last, bool main);

 private:
  using Entry = graph::Entry;

  std::size_t add(Shape shape);
  void connect(std::size_t from, std::size_t to, std::string label = "", std::string condition = "", bool is_main = false);
  std::size_t behind_all();

  std::optional<std::size_t> place(graph::RunId run, std::size_t begin, std::size_t end, std::optional<std::size_t> after, bool main);
  /// Which arm of a question the main way takes; none: it does not come there, or nobody can tell.
  using MainArm = std::optional<std::size_t>;

  /// `trunk`: what stands behind a question on the arm that is none of its branches; none: nothing.
  std::size_t put(const Entry& entry, const Entry* trunk, std::size_t next, std::size_t skip, bool main, MainArm arm);
  std::size_t step(const Entry& entry);
  std::size_t box(const Entry& entry);
  std::size_t ending(model::EndingId id);
  std::size_t question(const Entry& entry, const Entry* trunk, std::size_t next, std::size_t skip, MainArm arm);
  std::size_t asked(const Entry& entry, const Text& text, std::size_t part);
  std::size_t loop_test(const Entry& entry, std::size_t next, bool main);
  std::string key_of_arm(const graph::Fork& fork, const Entry* first, const std::string& key) const;
  bool is_never_taken(const graph::Fork& fork, const Entry* first) const;
  const Entry* first_entry(const graph::Fork& fork) const;
  std::size_t first_of(const graph::Fork& fork, std::size_t next, std::size_t skip, bool main);
  std::size_t together(const std::vector<Entry>& entries, std::size_t begin, std::size_t end, std::size_t next, bool main);
  void turn_over();

  const PaperSource& source_;
  const step_graph::NodeIds& ids_;
  const MainWay& way_;
  UsedIds& used_;
  Band band_;
  std::optional<std::size_t> loose_;
  struct OpenLoop { std::size_t test; std::string again; };  ///< the shape that asks, and the answer that leads back
  std::vector<OpenLoop> open_loops_;                         ///< whose first entry is still to be met
};

/// Runs joined to plain text.
std::string plain(const Text& text);

}  // namespace stepward::emit::flow_chart
