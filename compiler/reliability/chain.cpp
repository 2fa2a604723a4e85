#include "reliability/chain.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "reliability/exact_chain.hpp"
#include "reliability/strong_parts.hpp"

namespace stepward::reliability {
namespace {

/// How far a sum of doubles may be from 1.
constexpr double rounding = 1e-12;

bool is_one(double sum) { return std::abs(sum - 1) <= rounding; }
bool is_one(const ExactFraction& sum) { return sum == 1; }
bool is_chance(double value) { return value >= 0 && value <= 1; }
bool is_chance(const ExactFraction& value) { return value >= 0 && value <= 1; }
double as_double(double value) { return value; }
double as_double(const ExactFraction& value) { return value.get_d(); }

/// What leads out of each node, with no arc of chance nought; by node, none twice.
template <class Number>
using Rows = std::vector<std::vector<std::pair<std::uint32_t, Number>>>;

/// The same while nodes are taken out.
template <class Number>
using Row = std::map<std::uint32_t, Number>;

template <class Number>
std::optional<Refusal> unless_arcs_fit(const Chain<Number>& chain) {
  if (chain.start.value >= chain.nodes) return Refusal{Why::unknown_node, std::to_string(chain.start.value)};
  for (const Arc<Number>& arc : chain.arcs) {
    if (arc.from.value >= chain.nodes) return Refusal{Why::unknown_node, std::to_string(arc.from.value)};
    if (arc.to.value >= chain.nodes) return Refusal{Why::unknown_node, std::to_string(arc.to.value)};
    if (is_chance(arc.chance)) continue;
    return Refusal{Why::outside_0_to_1, std::to_string(arc.from.value) + ' ' + std::to_string(arc.to.value),
                   as_double(arc.chance)};
  }
  return std::nullopt;
}

/// Arcs of one node in order, those to the same place made one, and divided by their sum: a last digit that is off would otherwise add
/// up along a long procedure.
template <class Number>
void put_in_order(std::vector<std::pair<std::uint32_t, Number>>& row, const Number& sum) {
  std::stable_sort(row.begin(), row.end(), [](const auto& one, const auto& other) { return one.first < other.first; });
  std::size_t kept = 0;
  for (std::size_t i = 0; i < row.size(); ++i) {
    if (kept > 0 && row[kept - 1].first == row[i].first) row[kept - 1].second += row[i].second;
    else if (kept++ != i) row[kept - 1] = row[i];
  }
  row.resize(kept);
  for (auto& arc : row) arc.second /= sum;
}

template <class Number>
Answer<Rows<Number>> rows_of(const Chain<Number>& chain) {
  Rows<Number> rows(chain.nodes);
  std::vector<Number> sums(chain.nodes, Number(0));
  std::vector<bool> has_arcs(chain.nodes, false);
  for (const Arc<Number>& arc : chain.arcs) {
    has_arcs[arc.from.value] = true;
    sums[arc.from.value] += arc.chance;
    if (arc.chance > 0) rows[arc.from.value].emplace_back(arc.to.value, arc.chance);
  }
  for (std::uint32_t node = 0; node < chain.nodes; ++node) {
    if (!has_arcs[node]) continue;
    if (!is_one(sums[node])) return Refusal{Why::does_not_add_up, std::to_string(node), as_double(sums[node])};
    put_in_order(rows[node], sums[node]);
  }
  return rows;
}

template <class Number>
Successors successors_of(const Rows<Number>& rows) {
  Successors result(rows.size());
  for (std::size_t node = 0; node < rows.size(); ++node) {
    for (const auto& [to, chance] : rows[node]) result[node].push_back(to);
  }
  return result;
}

/// One strongly connected part, solved for how often each of its nodes is come to.
template <class Number>
class Loop {
 public:
  /// `inflow`: what comes into each node of the whole graph from outside this part.
  Loop(const Rows<Number>& rows, const std::vector<std::uint32_t>& nodes, const std::vector<Number>& inflow)
      : nodes_(nodes), out_(nodes.size()), in_(nodes.size()), leaves_(nodes.size(), Number(0)), gone_(nodes.size(), false) {
    std::map<std::uint32_t, std::uint32_t> place;
    for (std::uint32_t i = 0; i < nodes.size(); ++i) place[nodes[i]] = i;
    for (std::uint32_t i = 0; i < nodes.size(); ++i) {
      flow_.push_back(inflow[nodes[i]]);
      for (const auto& [to, chance] : rows[nodes[i]]) {
        const auto it = place.find(to);
        if (it == place.end()) leaves_[i] += chance;
        else if (it->second != i) connect(i, it->second, chance);
      }
    }
  }

  /// How often each node is come to, in the order of `nodes`; nothing when what comes in can never leave.
  std::optional<std::vector<Number>> solve() {
    for (std::size_t left = nodes_.size(); left > 0; --left) {
      if (!take_out(cheapest())) return std::nullopt;
    }
    std::vector<Number> times(nodes_.size(), Number(0));
    for (auto step = taken_.rbegin(); step != taken_.rend(); ++step) {
      Number sum = step->flow;
      for (const auto& [from, chance] : step->in) sum += times[from] * chance;
      times[step->node] = sum / step->leaving;
    }
    return times;
  }

 private:
  /// A node as it was when it was taken out.
  struct Taken {
    std::uint32_t node;
    Number flow, leaving;
    Row<Number> in;
  };

  void connect(std::uint32_t from, std::uint32_t to, const Number& chance) {
    out_[from].emplace(to, Number(0)).first->second += chance;
    in_[to].emplace(from, Number(0)).first->second += chance;
  }

  /// The node whose neighbours need the fewest new connections.
  std::uint32_t cheapest() const {
    std::uint32_t best = UINT32_MAX;
    for (std::uint32_t i = 0; i < nodes_.size(); ++i) {
      if (!gone_[i] && (best == UINT32_MAX || cost(i) < cost(best))) best = i;
    }
    return best;
  }

  std::size_t cost(std::uint32_t node) const { return out_[node].size() * in_[node].size(); }

  bool take_out(std::uint32_t node) {
    Number leaving = leaves_[node];
    for (const auto& [to, chance] : out_[node]) leaving += chance;
    if (leaving == 0) return false;
    for (const auto& [from, chance] : in_[node]) pass_by(from, node, Number(chance / leaving));
    for (const auto& [to, chance] : out_[node]) {
      flow_[to] += flow_[node] * chance / leaving;
      in_[to].erase(node);
    }
    gone_[node] = true;
    taken_.push_back({node, flow_[node], leaving, std::move(in_[node])});
    return true;
  }

  /// What went from `from` through `node` now goes directly. What comes back to `from` needs no arc: its chance to leave is the sum
  /// of the others.
  void pass_by(std::uint32_t from, std::uint32_t node, const Number& share) {
    out_[from].erase(node);
    leaves_[from] += share * leaves_[node];
    for (const auto& [to, chance] : out_[node]) {
      if (to != from) connect(from, to, Number(share * chance));
    }
  }

  const std::vector<std::uint32_t>& nodes_;
  std::vector<Row<Number>> out_, in_;
  std::vector<Number> leaves_, flow_;
  std::vector<bool> gone_;
  std::vector<Taken> taken_;
};

template <class Number>
bool is_reached(const std::vector<std::uint32_t>& part, const std::vector<Number>& inflow) {
  for (const std::uint32_t node : part) {
    if (inflow[node] > 0) return true;
  }
  return false;
}

template <class Number>
bool leads_to_itself(const Rows<Number>& rows, std::uint32_t node) {
  return std::any_of(rows[node].begin(), rows[node].end(), [&](const auto& arc) { return arc.first == node; });
}

/// How often the nodes of a part are come to.
template <class Number>
Answer<std::vector<Number>> times_in(const Rows<Number>& rows, const std::vector<std::uint32_t>& part,
                                     const std::vector<Number>& inflow) {
  if (part.size() == 1 && !leads_to_itself(rows, part.front())) return std::vector<Number>{inflow[part.front()]};
  if (part.size() > largest_loop) return Refusal{Why::too_large, "loop", static_cast<double>(part.size())};
  auto solved = Loop<Number>(rows, part, inflow).solve();
  if (!solved) return Refusal{Why::never_ends, std::to_string(part.front())};
  return std::move(*solved);
}

/// Says how often the nodes of a part are come to, and passes on what flows out of it.
template <class Number>
std::optional<Refusal> pass_on(const Rows<Number>& rows, const std::vector<std::uint32_t>& part,
                               std::vector<Number>& inflow, std::vector<Number>& times) {
  if (!is_reached(part, inflow)) return std::nullopt;
  const Answer<std::vector<Number>> solved = times_in(rows, part, inflow);
  if (const Refusal* no = refused(solved)) return *no;
  for (std::size_t i = 0; i < part.size(); ++i) {
    times[part[i]] = (*given(solved))[i];
    for (const auto& [to, chance] : rows[part[i]]) inflow[to] += times[part[i]] * chance;
  }
  return std::nullopt;
}

}  // namespace

template <class Number>
Answer<Visits<Number>> visits_of(const Chain<Number>& chain) {
  if (const auto no = unless_arcs_fit(chain)) return *no;
  const Answer<Rows<Number>> rows = rows_of(chain);
  if (const Refusal* no = refused(rows)) return *no;
  std::vector<Number> inflow(chain.nodes, Number(0));
  inflow[chain.start.value] = 1;
  Visits<Number> visits{std::vector<Number>(chain.nodes, Number(0)), {}, Number(0), Number(0)};
  for (const auto& part : strong_parts(successors_of(*given(rows)))) {
    if (const auto no = pass_on(*given(rows), part, inflow, visits.times)) return *no;
  }
  for (std::uint32_t node = 0; node < chain.nodes; ++node) {
    const bool is_exit = (*given(rows))[node].empty();
    if (is_exit) visits.exits.push_back(NodeId(node));
    (is_exit ? visits.ended : visits.moves) += visits.times[node];
  }
  if (!is_one(visits.ended)) return Refusal{Why::does_not_add_up, "exits", as_double(visits.ended)};
  return visits;
}

template Answer<Visits<double>> visits_of(const Chain<double>&);
template Answer<Visits<ExactFraction>> visits_of(const Chain<ExactFraction>&);

}  // namespace stepward::reliability
