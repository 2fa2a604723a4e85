// The walk against a plain one: maps, no threads, no masks, every operation worked out each time.

#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <random>

#include "explore/state_set.hpp"
#include "explore/walk.hpp"

using namespace stepward;
using namespace stepward::explore;
using effects::FieldId;
using effects::OpKind;

namespace {

/// Random systems: some fields, guards and operations of all kinds, crossings, and one interruption that comes back.
class RandomSystem {
 public:
  explicit RandomSystem(std::uint32_t seed) : random_(seed) {}

  effects::System make(std::uint32_t places, std::uint32_t fields) {
    system_.guards.resize(1);
    system_.guards[0].any = {{}};
    for (std::uint32_t f = 0; f < fields; ++f) {
      effects::Field field;
      field.maximum = f % 3 == 0 ? 3 : 1;
      field.meaning.what = effects::FieldMeaning::What::worn;  // kept, whoever asks
      system_.fields.push_back(field);
    }
    for (int s = 0; s < 3; ++s) {
      effects::Field scratch;
      scratch.maximum = 3;
      scratch.scratch = true;
      system_.fields.push_back(scratch);
    }
    system_.interruptions = 1;
    for (int r = 0; r < 6; ++r) {
      system_.reports.push_back({});
      system_.reports.back().severity = r == 0 ? diagnostics::Severity::error : diagnostics::Severity::warning;
    }
    system_.start = graph::NodeId(0u);
    // Place k leads to k+1 and k+2; every fourth is a crossing; the last two places are the interruption's own.
    for (std::uint32_t n = 0; n < places; ++n) place(n, places);
    return std::move(system_);
  }

 private:
  std::uint32_t below(std::uint32_t n) { return static_cast<std::uint32_t>(random_() % n); }

  /// Only operations may ask scratch fields.
  effects::GuardId guard(bool of_operation) {
    if (below(3) == 0) return effects::GuardId(0u);
    if (of_operation && below(3) == 0 && system_.guards.size() > 1) return effects::GuardId(1 + below(static_cast<std::uint32_t>(system_.guards.size()) - 1));
    effects::Guard g;
    for (std::uint32_t c = 0; c < 1 + below(2); ++c) {
      effects::Clause clause;
      for (std::uint32_t t = 0; t < 1 + below(3); ++t) {
        const std::uint32_t f = below(static_cast<std::uint32_t>(system_.fields.size()) - (of_operation ? 0 : 3));
        if (std::any_of(clause.begin(), clause.end(), [&](const effects::Test& x) { return x.field.value == f; })) continue;
        clause.push_back({FieldId(f), 1 + below((2u << system_.fields[f].maximum) - 2)});
      }
      g.any.push_back(clause);
    }
    system_.guards.push_back(g);
    return effects::GuardId(system_.guards.size() - 1);
  }

  void operation() {
    effects::Op op;
    op.kind = static_cast<OpKind>(below(6));
    op.guard = guard(true);
    const std::uint32_t count = static_cast<std::uint32_t>(system_.fields.size());
    const auto any = [&] { return FieldId(below(count)); };
    const auto level = [&] { std::uint32_t f = below(count); while (system_.fields[f].maximum != 3) f = (f + 1) % count; return FieldId(f); };
    if (op.kind == OpKind::report) op.value = below(12) == 0 ? 0 : 1 + below(5);
    else if (op.kind == OpKind::set) { op.a = any(); op.value = below(system_.fields[op.a.value].maximum + 1); }
    else { op.a = level(); op.b = level(); op.value = below(4); }
    if (op.kind == OpKind::raise) op.b = {};
    system_.ops.push_back(op);
  }

  effects::Edge edge() {
    effects::Edge e;
    e.guard = guard(false);
    e.first_op = static_cast<std::uint32_t>(system_.ops.size());
    const std::uint32_t count = below(7);
    for (std::uint32_t i = 0; i < count; ++i) operation();
    e.op_count = static_cast<std::uint32_t>(system_.ops.size()) - e.first_op;
    return e;
  }

  void place(std::uint32_t n, std::uint32_t places) {
    effects::Edges node;
    const bool own = n + 2 >= places;
    node.may_be_struck = n % 4 != 3 || own;
    node.struck_returns_to = graph::NodeId(n % 8 == 5 && !own ? n - 1 : n);
    node.first = static_cast<std::uint32_t>(system_.edges.size());
    node.count = n % 4 == 3 ? 2 : 1 + below(3);
    for (std::uint32_t k = 0; k < node.count; ++k) {
      effects::Edge e = edge();
      const std::uint32_t last = places - 3;
      if (n + 1 == places) e.goes_back = model::InterruptionId(0u);
      else if (own) e.target = graph::NodeId(n + 1);
      else if (n >= last) e.ends = true;
      else e.target = graph::NodeId(std::min(last, n + 1 + k % 2));
      if (k + 1 == node.count) e.guard = effects::GuardId(0u);
      system_.edges.push_back(e);
    }
    node.first_strike = static_cast<std::uint32_t>(system_.strikes.size());
    if (!own && node.may_be_struck) {
      node.strike_count = 1;
      effects::Edge strike = edge();
      strike.target = graph::NodeId(places - 2);
      strike.label.interruption = model::InterruptionId(0u);
      system_.strikes.push_back(strike);
    }
    system_.nodes.push_back(node);
  }

  std::mt19937 random_;
  effects::System system_;
};

/// Values of all fields, then where the run stands, then where the interruption comes back to and one more.
using State = std::vector<std::uint32_t>;

class PlainWalk {
 public:
  explicit PlainWalk(const effects::System& system) : s_(system) {}

  std::vector<State> states;
  std::vector<std::uint32_t> parent;
  std::vector<std::pair<std::uint32_t, std::uint32_t>> found;  ///< report, steps
  std::size_t transitions = 0;

  void run() {
    State start;
    for (const effects::Field& f : s_.fields) start.push_back(f.initial);
    start.push_back(s_.start.value);
    start.push_back(0);
    depth_of_step_ = 0;
    if (settle(start)) meet(start, UINT32_MAX);
    for (std::uint32_t i = 0; i < states.size(); ++i) {
      depth_of_step_ = depth_[i] + 1;
      const effects::Edges& n = s_.nodes[node(states[i])];
      for (std::uint32_t e = n.first; e < n.first + n.count; ++e) try_edge(i, s_.edges[e], false);
      for (std::uint32_t e = n.first_strike; i > 0 && e < n.first_strike + n.strike_count; ++e) try_edge(i, s_.strikes[e], true);
    }
  }

 private:
  std::uint32_t& node(State& s) const { return s[s_.fields.size()]; }
  std::uint32_t& back(State& s) const { return s[s_.fields.size() + 1]; }

  bool holds(effects::GuardId g, const State& s) const {
    for (const effects::Clause& c : s_.guards[g.value].any)
      if (std::all_of(c.begin(), c.end(), [&](const effects::Test& t) { return t.allowed >> s[t.field.value] & 1; })) return true;
    return false;
  }

  void try_edge(std::uint32_t from, const effects::Edge& e, bool strikes) {
    State s = states[from];
    if (!holds(e.guard, s)) return;
    ++transitions;
    cut_ = false;
    if (strikes) back(s) = s_.nodes[node(s)].struck_returns_to.value + 1;
    if (take(s, e) && settle(s) && !cut_) meet(s, from);
  }

  bool take(State& s, const effects::Edge& e) {
    for (std::uint32_t i = 0; i < e.op_count; ++i) {
      const effects::Op& op = s_.ops[e.first_op + i];
      if (!holds(op.guard, s)) continue;
      switch (op.kind) {
        case OpKind::set: s[op.a.value] = op.value; break;
        case OpKind::raise: s[op.a.value] = std::max(s[op.a.value], op.value); break;
        case OpKind::lift: s[op.a.value] = std::max(s[op.a.value], s[op.b.value]); break;
        case OpKind::lift_suspect: s[op.a.value] = std::max(s[op.a.value], std::min(s[op.b.value], effects::kSuspect)); break;
        case OpKind::copy: s[op.a.value] = s[op.b.value]; break;
        case OpKind::report: report(op.value); break;
        case OpKind::moment:
        case OpKind::mark: break;
      }
    }
    for (std::size_t f = 0; f < s_.fields.size(); ++f) if (s_.fields[f].scratch) s[f] = 0;
    if (e.ends) return false;
    node(s) = e.goes_back ? back(s) - 1 : e.target.value;
    if (e.goes_back) back(s) = 0;
    return true;
  }

  bool settle(State& s) {
    while (!s_.nodes[node(s)].may_be_struck) {
      const effects::Edges& n = s_.nodes[node(s)];
      std::uint32_t e = n.first;
      while (e < n.first + n.count && !holds(s_.edges[e].guard, s)) ++e;
      if (e == n.first + n.count || !take(s, s_.edges[e])) return false;
    }
    return true;
  }

  void report(std::uint32_t r) {
    cut_ |= s_.reports[r].severity == diagnostics::Severity::error;
    if (std::none_of(found.begin(), found.end(), [&](const auto& f) { return f.first == r; })) found.push_back({r, depth_of_step_});
  }

  void meet(const State& s, std::uint32_t from) {
    if (!known_.try_emplace(s, static_cast<std::uint32_t>(states.size())).second) return;
    states.push_back(s);
    parent.push_back(from);
    depth_.push_back(depth_of_step_);
  }

  const effects::System& s_;
  std::map<State, std::uint32_t> known_;
  std::vector<std::uint32_t> depth_;
  std::uint32_t depth_of_step_ = 0;
  bool cut_ = false;
};

template <class A, class B>
bool same(const A& a, const B& b) {
  if (a.size() != b.size()) return false;
  for (std::size_t i = 0; i < a.size(); ++i) if (a[i] != b[i]) return false;
  return true;
}

bool same_found(const Found& a, const Found& b) { return a.report == b.report && a.state == b.state && a.edge == b.edge && a.steps == b.steps; }

/// Bit for bit.
void check_same(const Result& a, const Result& b) {
  REQUIRE(a.size() == b.size());
  CHECK(a.complete == b.complete);
  CHECK(a.stopped == b.stopped);
  bool equal = true;
  for (std::uint32_t s = 0; s < a.size(); ++s) equal = equal && std::equal(a.state(s), a.state(s) + a.words, b.state(s));
  CHECK(equal);
  CHECK(same(a.parent, b.parent));
  CHECK(same(a.via, b.via));
  CHECK(same(a.successors, b.successors));
  CHECK(same(a.successor_ends, b.successor_ends));
  CHECK(a.depth_ends == b.depth_ends);
  CHECK(a.edge_taken == b.edge_taken);
  CHECK(a.node_reached == b.node_reached);
  CHECK(std::equal(a.found.begin(), a.found.end(), b.found.begin(), b.found.end(), same_found));
}

Options shared(unsigned threads) {
  Options options;
  options.threads = threads;
  options.shared_from = 1;
  return options;
}

}  // namespace

TEST_CASE("the walk meets the states, in the order, of a plain one") {
  std::size_t states = 0, reports = 0;
  for (std::uint32_t seed = 1; seed <= 150; ++seed) {
    CAPTURE(seed);
    const effects::System system = RandomSystem(seed).make(12 + seed % 30, 6 + seed % 7);
    const Packed packed = pack(system, true);
    const Result result = walk(packed, {});
    PlainWalk plain(system);
    plain.run();
    states += plain.states.size();
    reports += plain.found.size();
    REQUIRE(result.size() == plain.states.size());
    CHECK(result.transitions == plain.transitions);
    CHECK(same(result.parent, plain.parent));
    bool equal = true;
    for (std::uint32_t s = 0; s < result.size(); ++s) {
      equal = equal && get(result.state(s), packed.node) == plain.states[s][system.fields.size()];
      for (std::size_t f = 0; f < system.fields.size(); ++f)
        if (packed.fields[f].mask) equal = equal && get(result.state(s), packed.fields[f]) == plain.states[s][f];
    }
    CHECK(equal);
    std::vector<std::pair<std::uint32_t, std::uint32_t>> found;
    for (const Found& f : result.found) found.push_back({packed.reports[f.report].value, f.steps});
    CHECK(found == plain.found);
  }
  CHECK(states > 20'000);  // else the systems were too tame to show anything
  CHECK(reports > 200);
}

TEST_CASE("two and three threads give bit for bit the walk of one") {
  for (std::uint32_t seed = 1; seed <= 40; ++seed) {
    CAPTURE(seed);
    const Packed packed = pack(RandomSystem(seed).make(40, 12), true);
    const Result one = walk(packed, {});
    check_same(one, walk(packed, shared(2)));
    check_same(one, walk(packed, shared(3)));
  }
}

TEST_CASE("a walk that stops at its limit stops at the same state with one thread and with two") {
  std::size_t stopped = 0;
  for (std::uint32_t seed = 1; seed <= 40; ++seed) {
    CAPTURE(seed);
    const Packed packed = pack(RandomSystem(seed).make(40, 12), true);
    Options options;
    options.limit = 300;
    Options two = shared(2);
    two.limit = 300;
    const Result one = walk(packed, options);
    stopped += one.stopped == Stopped::by_limit;
    CHECK(one.complete == (one.stopped == Stopped::no));
    check_same(one, walk(packed, two));
  }
  CHECK(stopped > 5);
}

TEST_CASE("a walk over wide states stops by memory, within what its limit allows") {
  // 22 questions of two answers, each remembered, beside fields that make a state 24 words wide.
  effects::System system;
  system.guards.resize(1);
  system.guards[0].any = {{}};
  system.interruptions = 0;
  constexpr std::uint32_t questions = 22, wide = 24 * 64 - 64;
  for (std::uint32_t f = 0; f < wide; ++f) {
    effects::Field field;
    field.meaning.what = effects::FieldMeaning::What::worn;
    system.fields.push_back(field);
  }
  for (std::uint32_t n = 0; n <= questions; ++n) {
    effects::Edges node;
    node.may_be_struck = true;
    node.struck_returns_to = graph::NodeId(n);
    node.first = static_cast<std::uint32_t>(system.edges.size());
    node.count = n < questions ? 2 : 1;
    for (std::uint32_t answer = 0; answer < node.count; ++answer) {
      effects::Edge e;
      e.guard = effects::GuardId(0u);
      e.first_op = static_cast<std::uint32_t>(system.ops.size());
      e.op_count = n < questions ? 1 : 0;
      if (n < questions) {
        system.ops.push_back({OpKind::set, effects::GuardId(0u), FieldId(n * 60), {}, answer, 0});
        e.target = graph::NodeId(n + 1);
      } else {
        e.ends = true;
      }
      system.edges.push_back(e);
    }
    system.nodes.push_back(node);
  }
  system.start = graph::NodeId(0u);
  const Packed packed = pack(system, true);
  REQUIRE(packed.fits);
  REQUIRE(packed.words == 24);
  Options options;
  options.limit = 500'000;
  const Result result = walk(packed, options);
  CHECK_FALSE(result.complete);
  CHECK(result.stopped == Stopped::by_memory);
  CHECK(result.size() < options.limit);
  const std::uint64_t kept = result.size() * (24ull * 8 + 12) + result.successors.size() * 4;
  CHECK(kept < most_bytes(options.limit));
  CHECK(kept > most_bytes(options.limit) / 2);
  Options two = shared(2);
  two.limit = options.limit;
  check_same(result, walk(packed, two));
}

TEST_CASE("the set of states keeps what it was given while it grows") {
  SteadyArray<std::uint64_t> states(2);
  StateSet set(states, 2);
  constexpr std::uint64_t count = 300'000;  // beyond one piece of the array
  for (std::uint64_t i = 0; i < count; ++i) {
    const std::uint64_t w[2] = {i * 7, i >> 3};
    REQUIRE((set.make_room(1) && states.make_room(1)));
    REQUIRE(set.insert(w, StateSet::hash(w, 2), static_cast<std::uint32_t>(i)) == i);
    std::copy_n(w, 2, states.append_row());
  }
  bool all = true;
  for (std::uint64_t i = 0; i < count; ++i) {
    const std::uint64_t w[2] = {i * 7, i >> 3};
    all = all && set.insert(w, StateSet::hash(w, 2), UINT32_MAX) == i;
  }
  CHECK(all);
}
