// graph_paths [--quick]: holds the exported step graph against the second, slow walk.
//
// For every variant of every protocol of the library (--quick: for the first one, and not so far) the slow walk, which knows nothing of graphs, tells each way that some run
// takes from one line to what comes next: questions with the arm that was followed, loops with how they were left. Each of these
// must be a path of the step graph, edge by edge. The edges of all these paths are then held against those that the graph itself
// says are taken (`graph --walk`): the same ones, not one more and not one less. Where interruptions make too many worlds for the
// slow walk, both are walked without them; where it still comes to no end, nothing is asserted but that its paths are paths.
//
// Exit 0: they agree. 1: they differ. 2: wrong arguments.
#include <cstdio>
#include <cstring>
#include <map>
#include <set>

#include "emit/graph/node_ids.hpp"
#include "emit/graph/step_graph.hpp"
#include "emit/graph/taken.hpp"
#include "explorer.hpp"
#include "graph/numbering.hpp"
#include "model/variants.hpp"
#include "resolve/standard_library.hpp"
#include "trial.hpp"

namespace {

using namespace stepward::oracle;
namespace step_graph = stepward::emit::step_graph;
using step_graph::EdgeKind;
using step_graph::NodeKind;
using What = Passed::What;

/// How far the slow walk goes, in worlds.
struct HowFar { std::size_t with_interruptions = 1'000, without = 60'000; bool all_variants = true; };
constexpr HowFar quick{300, 3'000, false};

class PathFinder {
 public:
  PathFinder(const Protocol& protocol, const step_graph::VariantGraph& graph) : ids_(protocol), graph_(graph), used_(graph.edges.size(), false) {
    for (std::size_t e = 0; e < graph.edges.size(); ++e) leaving_[graph.edges[e].from].push_back(e);
    for (const step_graph::Node& node : graph.nodes) nodes_[node.id] = &node;
  }

  /// Marks the edges of a path; false: the graph has no such path.
  bool follow(const Path& path) {
    if (path.front().what == What::strike) strike(path.front());
    for (std::size_t i = 0; i + 1 < path.size(); ++i) {
      if (!take(path[i], path[i + 1])) return false;
    }
    return true;
  }

  /// The edges that one side says are taken and the other does not.
  std::size_t differences() const {
    std::size_t count = 0;
    for (std::size_t e = 0; e < used_.size(); ++e) {
      const bool taken = graph_.edges[e].taken == step_graph::Edge::Taken::by_some_run;
      if (taken == used_[e]) continue;
      ++count;
      std::printf("  %s is %s by the graph, %s by the slow walk\n", graph_.edges[e].id.c_str(), taken ? "taken" : "never taken", used_[e] ? "taken" : "never taken");
    }
    return count;
  }

  /// Edges that a path took and that the graph calls never taken: wrong even where the slow walk came to no end.
  bool all_used_are_taken() const {
    for (std::size_t e = 0; e < used_.size(); ++e) {
      if (used_[e] && graph_.edges[e].taken != step_graph::Edge::Taken::by_some_run) return false;
    }
    return true;
  }

  std::size_t never_taken() const {
    std::size_t count = 0;
    for (const step_graph::Edge& edge : graph_.edges) count += edge.taken == step_graph::Edge::Taken::never ? 1 : 0;
    return count;
  }

 private:
  std::string id_of(const Passed& passed) const {
    switch (passed.what) {
      case What::start: return "start";
      case What::strike: return ids_.of(stepward::model::InterruptionId{passed.id});
      case What::line: return ids_.of(LineId{passed.id});
      case What::question:
      case What::loop: return ids_.of(*passed.asked);
      case What::ending: {
        stepward::graph::Node node;
        node.kind = stepward::graph::NodeKind::finish;
        node.ending = stepward::model::EndingId{passed.id};
        return ids_.of(node);
      }
      case What::resume:
      case What::off_the_end: return "";
    }
    return "";
  }

  static EdgeKind kind_of(const Passed& passed) {
    if (passed.what == What::question) return passed.way == 0 ? EdgeKind::otherwise : EdgeKind::yes;
    if (passed.what == What::loop) return passed.way == 1 ? EdgeKind::yes : passed.way == 2 ? EdgeKind::given_up : EdgeKind::again;
    return EdgeKind::next;
  }

  bool leads_to(const step_graph::Edge& edge, const Passed& to) const {
    if (to.what == What::resume) return nodes_.at(edge.to)->kind == NodeKind::resume;
    if (to.what == What::off_the_end) return nodes_.at(edge.to)->kind == NodeKind::loose_end;
    return edge.to == id_of(to);
  }

  /// Of two people at once, the graph has the lines in the order of the source, and runs mix them: there any end will do.
  bool is_at_once(const Passed& passed) const {
    if (passed.what != What::line) return false;
    const auto node = nodes_.find(id_of(passed));
    return node != nodes_.end() && node->second->at_once > 0;
  }

  bool take(const Passed& from, const Passed& to) {
    const std::size_t order = from.what == What::question ? from.way : 0;
    for (const std::size_t e : leaving_[id_of(from)]) {
      const step_graph::Edge& edge = graph_.edges[e];
      if (edge.kind != kind_of(from) || (order > 0 && edge.order != order)) continue;
      if (!leads_to(edge, to) && !is_at_once(from)) continue;
      used_[e] = true;
      return true;
    }
    std::printf("  no edge from %s to %s\n", id_of(from).c_str(), id_of(to).c_str());
    return false;
  }

  void strike(const Passed& passed) {
    for (const std::size_t e : leaving_["start"]) {
      if (graph_.edges[e].kind == EdgeKind::strikes && graph_.edges[e].to == id_of(passed)) used_[e] = true;
    }
  }

  step_graph::NodeIds ids_;
  const step_graph::VariantGraph& graph_;
  std::vector<bool> used_;
  std::map<std::string, std::vector<std::size_t>> leaving_;
  std::map<std::string, const step_graph::Node*> nodes_;
};

bool all_are_paths(PathFinder& finder, const std::set<Path>& paths) {
  bool all = true;
  for (const Path& path : paths) all = finder.follow(path) && all;
  return all;
}

/// A way that the graph has not, and an edge that is marked wrongly, must come to light.
bool planted_faults_show(const Protocol& protocol, const step_graph::VariantGraph& graph, const Result& walk) {
  std::printf("planted faults:\n");
  step_graph::VariantGraph torn = graph, mistaken = graph;
  torn.edges.erase(torn.edges.begin() + static_cast<std::ptrdiff_t>(torn.edges.size() / 2));
  mistaken.edges[graph.edges.size() / 2].taken = step_graph::Edge::Taken::never;
  PathFinder in_torn(protocol, torn), in_mistaken(protocol, mistaken);
  return !all_are_paths(in_torn, walk.paths) && all_are_paths(in_mistaken, walk.paths) && in_mistaken.differences() == 1;
}

struct Totals { std::size_t variants = 0, whole = 0, without_interruptions = 0, paths = 0, edges = 0, never = 0; bool agree = true; };

void hold_against(const std::string& name, Protocol protocol, const stepward::source::Files& files, const Variant& variant, const HowFar& how_far, Totals& totals) {
  Result walk = explore(protocol, variant, how_far.with_interruptions);
  const bool whole = walk.is_complete;
  if (!whole) {
    protocol.interruptions.clear();
    walk = explore(protocol, variant, how_far.without);
  }
  const auto course = stepward::graph::number_steps(protocol, variant);
  auto graph = step_graph::make(protocol, variant, course, files);
  const auto walking = step_graph::mark_taken(graph, protocol, variant, {});
  bool agree = walking.came == step_graph::Walking::Came::to_its_end && walking.strangers.empty();
  PathFinder finder(protocol, graph);
  agree = all_are_paths(finder, walk.paths) && agree;
  agree = finder.all_used_are_taken() && agree;
  if (walk.is_complete) agree = finder.differences() == 0 && agree;
  if (totals.variants == 0) agree = planted_faults_show(protocol, graph, walk) && agree;
  totals.agree = totals.agree && agree;
  ++totals.variants;
  totals.whole += walk.is_complete ? 1 : 0;
  totals.without_interruptions += walk.is_complete && !whole ? 1 : 0;
  totals.paths += walk.paths.size();
  totals.edges += graph.edges.size();
  totals.never += finder.never_taken();
  std::printf("%s, %s: %zu paths, %zu edges, %zu never taken%s%s\n", name.c_str(), graph.name.c_str(), walk.paths.size(), graph.edges.size(), finder.never_taken(),
              !walk.is_complete ? ", not walked to the end" : whole ? "" : ", without interruptions", agree ? "" : " DIFFER");
}

}  // namespace

int main(int count, char** words) {
  const bool is_quick = count == 2 && std::strcmp(words[1], "--quick") == 0;
  if (count != 1 && !is_quick) {
    std::fputs("graph_paths [--quick]\n", stderr);
    return 2;
  }
  const HowFar how_far = is_quick ? quick : HowFar{};
  Totals totals;
  for (const auto& file : stepward::resolve::standard_files()) {
    if (!stepward::resolve::is_protocol(file)) continue;
    const Trial trial = read_text(std::string(file.text));
    totals.agree = totals.agree && trial.protocol.has_value();
    if (!trial.protocol) continue;
    for (const Variant& variant : stepward::model::all_variants(*trial.protocol)) {
      hold_against(std::string(file.path), *trial.protocol, trial.files, variant, how_far, totals);
      if (!how_far.all_variants) break;
    }
  }
  std::printf("%zu variants, %zu walked to their end (%zu of them without interruptions); %zu paths, %zu edges, %zu never taken\n", totals.variants, totals.whole,
              totals.without_interruptions, totals.paths, totals.edges, totals.never);
  const bool says_something = totals.whole * 2 > totals.variants && totals.never > 0;
  return totals.agree && says_something ? 0 : 1;
}
