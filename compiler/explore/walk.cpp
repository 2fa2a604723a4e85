#include "explore/walk.hpp"

#include <algorithm>
#include <cstring>

namespace stepward::explore {
namespace {

using effects::OpKind;

std::uint64_t hash_of(const std::uint64_t* w, std::uint32_t words) {
  std::uint64_t h = 0x9E3779B97F4A7C15ull;
  for (std::uint32_t i = 0; i < words; ++i) {
    h ^= w[i];
    h *= 0xFF51AFD7ED558CCDull;
    h ^= h >> 32;
  }
  return h;
}

// An open-addressing table of positions in the array of states; it stores no state itself. Beside each position stands
// a part of the state's hash, so that other states are hardly ever looked at.
class StateTable {
 public:
  StateTable(Result& result) : result_(result), slots_(1u << 12) {}

  /// The position of the state, and whether it is new; a new one is appended.
  std::pair<std::uint32_t, bool> insert(const std::uint64_t* w) {
    if (std::size_t(result_.size()) * 2 >= slots_.size()) grow();
    const std::uint32_t words = result_.words;
    const std::uint64_t hash = hash_of(w, words);
    const auto tag = static_cast<std::uint32_t>(hash >> 32);
    std::size_t at = hash & (slots_.size() - 1);
    for (; slots_[at].position != UINT32_MAX; at = (at + 1) & (slots_.size() - 1))
      if (slots_[at].tag == tag && std::equal(w, w + words, result_.state(slots_[at].position))) return {slots_[at].position, false};
    const std::uint32_t position = result_.size();
    slots_[at] = {position, tag};
    result_.states.insert(result_.states.end(), w, w + words);
    return {position, true};
  }

 private:
  struct Slot { std::uint32_t position = UINT32_MAX, tag = 0; };

  void grow() {
    slots_.assign(slots_.size() * 4, Slot());
    for (std::uint32_t i = 0; i < result_.size(); ++i) {
      const std::uint64_t hash = hash_of(result_.state(i), result_.words);
      std::size_t at = hash & (slots_.size() - 1);
      while (slots_[at].position != UINT32_MAX) at = (at + 1) & (slots_.size() - 1);
      slots_[at] = {i, static_cast<std::uint32_t>(hash >> 32)};
    }
  }

  Result& result_;
  std::vector<Slot> slots_;
};

class Walk {
 public:
  Walk(const Packed& packed, const Options& options)
      : packed_(packed), options_(options), table_(result_), said_(packed.reports.size(), false) {
    result_.words = packed.words;
    result_.edge_taken.assign(packed.edges.size(), false);
    result_.node_reached.assign(packed.nodes.size(), false);
  }

  Result run() {
    std::uint64_t w[most_words + most_scratch_words] = {};
    std::memcpy(w, packed_.initial.data(), packed_.words * 8);
    // The start itself may be a crossing.
    if (settle(w)) {
      forget(w);
      store(w, UINT32_MAX);
    }
    std::uint32_t next = 0;
    while (next < result_.size()) {
      const std::uint32_t end = result_.size();
      result_.depth_ends.push_back(end);
      ++steps_;
      for (; next < end; ++next) {
        if (result_.size() > options_.limit) return std::move(result_);
        expand(next);
        result_.successor_ends.push_back(static_cast<std::uint32_t>(result_.successors.size()));
      }
    }
    result_.complete = true;
    return std::move(result_);
  }

 private:
  void expand(std::uint32_t from) {
    std::uint64_t here[most_words];
    std::memcpy(here, result_.state(from), packed_.words * 8);
    const PackedNode& node = packed_.nodes[get(here, packed_.node)];
    from_ = from;
    for (std::uint32_t e = node.edges.first; e < node.edges.last; ++e)
      if (holds(packed_, packed_.edges[e].guard, here)) follow(here, e, node);
    if (!options_.interruptions || from == 0) return;
    for (std::uint32_t e = node.strikes.first; e < node.strikes.last; ++e)
      if (holds(packed_, packed_.edges[e].guard, here)) follow(here, e, node);
  }

  void follow(const std::uint64_t* here, std::uint32_t edge, const PackedNode& node) {
    std::uint64_t w[most_words + most_scratch_words];
    std::memcpy(w, here, packed_.words * 8);
    via_ = edge;
    cut_ = false;
    ++result_.transitions;
    if (const PackedEdge& e = packed_.edges[edge]; e.strikes != UINT32_MAX) {
      if (e.leaves_context) for (const Slot& back : packed_.back) put(w, back, 0);
      else put(w, packed_.back[e.strikes], node.returns_to + 1);
    }
    if (take(w, edge) && settle(w) && !cut_) {
      forget(w);
      const auto [to, fresh] = table_.insert(w);
      if (fresh) {
        result_.parent.push_back(from_);
        result_.via.push_back(edge);
      }
      result_.successors.push_back(to);
    } else {
      result_.successors.push_back(UINT32_MAX);
    }
  }

  void store(const std::uint64_t* w, std::uint32_t parent) {
    table_.insert(w);
    result_.parent.push_back(parent);
    result_.via.push_back(UINT32_MAX);
  }

  // Runs an edge's operations and stands at its target. False: the run is over.
  bool take(std::uint64_t* w, std::uint32_t edge) {
    const PackedEdge& e = packed_.edges[edge];
    result_.edge_taken[edge] = true;
    std::memset(w + packed_.words, 0, e.scratch_words * 8u);
    for (std::uint32_t i = e.ops.first; i < e.ops.last; ++i) apply(packed_.ops[i], w);
    if (e.ends) return false;
    std::uint32_t target = e.target;
    if (e.goes_back != UINT32_MAX) {
      target = get(w, packed_.back[e.goes_back]) - 1;
      put(w, packed_.back[e.goes_back], 0);
    }
    put(w, packed_.node, target);
    result_.node_reached[target] = true;
    return true;
  }

  bool settle(std::uint64_t* w) {
    while (!packed_.nodes[get(w, packed_.node)].standing) {
      const PackedNode& node = packed_.nodes[get(w, packed_.node)];
      std::uint32_t e = node.edges.first;
      while (e < node.edges.last && !holds(packed_, packed_.edges[e].guard, w)) ++e;
      if (e == node.edges.last || !take(w, e)) return false;
    }
    return true;
  }

  // What is asked neither from here on nor where an interruption comes back to tells no two runs apart.
  void forget(std::uint64_t* w) const {
    if (packed_.asked.empty()) return;
    std::uint32_t mode = 0;
    for (std::size_t k = 0; k < packed_.modes.size(); ++k) mode |= get(w, packed_.modes[k]) << k;
    const auto at = [&](std::uint32_t node) { return (node << packed_.modes.size()) + mode; };
    std::uint64_t asked[most_words];
    const Mask& here = packed_.asked[at(get(w, packed_.node))];
    std::copy(here.begin(), here.end(), asked);
    for (const Slot& back : packed_.back)
      if (const std::uint32_t to = get(w, back))
        for (std::uint32_t i = 0; i < packed_.words; ++i) asked[i] |= packed_.asked_on_return[at(to - 1)][i];
    for (std::uint32_t i = 0; i < packed_.words; ++i) w[i] &= asked[i];
  }

  void apply(const PackedOp& op, std::uint64_t* w) {
    if (op.kind == OpKind::report) {
      if (holds(packed_, op.guard, w)) report(op);
    } else {
      explore::apply(packed_, op, w);
    }
  }

  void report(const PackedOp& op) {
    cut_ |= op.cuts;
    if (said_[op.value]) return;
    said_[op.value] = true;
    result_.found.push_back({op.value, from_, via_, steps_});
  }

  const Packed& packed_;
  const Options& options_;
  Result result_;
  StateTable table_;
  std::vector<bool> said_;
  std::uint32_t from_ = 0, via_ = UINT32_MAX, steps_ = 0;
  bool cut_ = false;
};

}  // namespace

Result walk(const Packed& packed, const Options& options) { return Walk(packed, options).run(); }

std::vector<std::uint32_t> run_to(const Result& result, const Found& found) {
  std::vector<std::uint32_t> out;
  if (found.edge == UINT32_MAX) return out;
  out.push_back(found.edge);
  for (std::uint32_t s = found.state; s != 0; s = result.parent[s]) out.push_back(result.via[s]);
  std::reverse(out.begin(), out.end());
  return out;
}

// Kahn's order over the stored successors; a state that is never released would lie on a cycle.
PathSums path_sums(const Result& r) {
  PathSums sums;
  const std::uint32_t n = r.size();
  std::vector<std::uint32_t> waiting(n, 0), longest(n, 0), order;
  std::vector<double> ways(n, 0);
  for (std::uint32_t to : r.successors) if (to != UINT32_MAX) ++waiting[to];
  order.reserve(n);
  if (n) { order.push_back(0); ways[0] = 1; }
  for (std::size_t i = 0; i < order.size(); ++i) {
    const std::uint32_t s = order[i];
    for (std::uint32_t k = s ? r.successor_ends[s - 1] : 0; k < r.successor_ends[s]; ++k) {
      const std::uint32_t to = r.successors[k];
      if (to == UINT32_MAX) { sums.paths += ways[s]; sums.longest = std::max(sums.longest, longest[s] + 1); continue; }
      ways[to] += ways[s];
      longest[to] = std::max(longest[to], longest[s] + 1);
      if (--waiting[to] == 0) order.push_back(to);
    }
  }
  sums.acyclic = order.size() == n;
  return sums;
}

}  // namespace stepward::explore
