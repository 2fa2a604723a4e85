#include "effects/simplify.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "effects/formula.hpp"
#include "effects/still_asked.hpp"

namespace stepward::effects {
namespace {

using Values = std::vector<std::uint32_t>;  ///< per field, bit v: it may be v


std::uint32_t lifted(std::uint32_t a, std::uint32_t b) {
  std::uint32_t out = 0;
  for (std::uint32_t x = 0; x < 4; ++x)
    for (std::uint32_t y = 0; y < 4; ++y)
      if ((a >> x & 1) && (b >> y & 1)) out |= 1u << std::max(x, y);
  return out;
}
std::uint32_t at_most_suspect(std::uint32_t b) { return (b & 0b111) | (b & 0b1000 ? 1u << kSuspect : 0); }

std::uint32_t value_after(const Op& op, std::uint32_t a, std::uint32_t b) {
  switch (op.kind) {
    case OpKind::set: return 1u << op.value;
    case OpKind::raise: return lifted(a, 1u << op.value);
    case OpKind::lift: return lifted(a, b);
    case OpKind::lift_suspect: return lifted(a, at_most_suspect(b));
    case OpKind::copy: return b;
    case OpKind::report:
    case OpKind::moment:
    case OpKind::mark: break;
  }
  return a;
}

class PossibleValues {
 public:
  explicit PossibleValues(System& system) : system_(system), at_(system.nodes.size()), written_(system.interruptions) {
    for (std::size_t i = 0; i < system.fields.size(); ++i) if (!system.fields[i].scratch) stored_.push_back(static_cast<std::uint32_t>(i));
    now_.assign(system.fields.size(), 1);
    for (const Edges& n : system.nodes) if (n.context >= anywhere_.size()) anywhere_.resize(n.context + 1);
  }

  void run() {
    find_handlers();
    Values start(stored_.size());
    for (std::size_t i = 0; i < stored_.size(); ++i) start[i] = 1u << system_.fields[stored_[i]].initial;
    join(system_.start.value, start, nullptr);
    // Blocks are laid out from their end, so a higher node comes earlier in a run.
    while (!work_.empty() || strike_everywhere()) {
      const std::uint32_t node = *work_.rbegin();
      work_.erase(node);
      flow_from(node);
    }
  }

  void rewrite() {
    std::vector<Op> kept;
    kept.reserve(system_.ops.size() / 2);
    for (std::uint32_t n = 0; n < system_.nodes.size(); ++n)
      for (std::uint32_t e = 0; e < system_.nodes[n].count; ++e) rewrite_edge(system_.edges[system_.nodes[n].first + e], at_[n], kept);
    for (std::uint32_t s = 0; s < system_.strikes.size(); ++s) rewrite_edge(system_.strikes[s], anywhere_[s / system_.interruptions], kept);
    system_.ops = std::move(kept);
  }

  // A strike does at each place only what can happen there.
  void specialise_strikes() {
    std::vector<Edge> strikes;
    std::vector<Op> kept;
    for (std::uint32_t n = 0; n < system_.nodes.size(); ++n) {
      Edges& node = system_.nodes[n];
      const std::uint32_t first = static_cast<std::uint32_t>(strikes.size());
      for (std::uint32_t i = 0; i < node.strike_count; ++i) {
        Edge e = system_.strikes[node.first_strike + i];
        rewrite_edge(e, at_[n], kept);
        if (!system_.guards[e.guard.value].any.empty()) strikes.push_back(e);
      }
      node.first_strike = first;
      node.strike_count = static_cast<std::uint32_t>(strikes.size()) - first;
    }
    // The operations of ordinary edges stay where they are; those of strikes follow.
    const std::uint32_t shift = static_cast<std::uint32_t>(system_.ops.size());
    for (Edge& e : strikes) e.first_op += shift;
    system_.ops.insert(system_.ops.end(), kept.begin(), kept.end());
    system_.strikes = std::move(strikes);
  }

 private:
  void load(const Values& values) {
    for (std::size_t i = 0; i < stored_.size(); ++i) now_[stored_[i]] = values[i];
    for (std::uint32_t s : dirty_scratch_) now_[s] = 1;
    dirty_scratch_.clear();
  }
  Values save() const {
    Values out(stored_.size());
    for (std::size_t i = 0; i < stored_.size(); ++i) out[i] = now_[stored_[i]];
    return out;
  }

  Truth truth(const Guard& g) const {
    Truth best = Truth::never;
    for (const Clause& clause : g.any) {
      Truth t = Truth::always;
      for (const Test& test : clause) {
        const std::uint32_t v = now_[test.field.value];
        if (!(v & test.allowed)) { t = Truth::never; break; }
        if (v & ~test.allowed) t = Truth::maybe;
      }
      if (t == Truth::always) return t;
      if (t == Truth::maybe) best = t;
    }
    return best;
  }

  void write(const Op& op, bool surely) {
    std::uint32_t& a = now_[op.a.value];
    const std::uint32_t after = value_after(op, a, op.b ? now_[op.b.value] : 0);
    if (system_.fields[op.a.value].scratch) dirty_scratch_.push_back(op.a.value);
    a = surely ? after : a | after;
  }

  bool run_edge(const Edge& e) {
    const Guard& g = system_.guards[e.guard.value];
    if (truth(g) == Truth::never) return false;
    if (g.any.size() == 1) for (const Test& t : g.any.front()) now_[t.field.value] &= t.allowed;
    for (std::uint32_t i = 0; i < e.op_count; ++i) {
      const Op& op = system_.ops[e.first_op + i];
      if (!writes(op.kind)) continue;
      if (const Truth t = truth(system_.guards[op.guard.value]); t != Truth::never) write(op, t == Truth::always);
    }
    return true;
  }

  void flow_from(std::uint32_t node) {
    const Edges& edges = system_.nodes[node];
    const Values here = at_[node];
    for (std::uint32_t e = edges.first; e < edges.first + edges.count; ++e) {
      load(here);
      const Edge& edge = system_.edges[e];
      if (!run_edge(edge) || edge.ends) continue;
      if (edge.goes_back) come_back(edge.goes_back.value, edges.context, save());
      else join(edge.target.value, save(), nullptr);
    }
    const bool comes_back = std::any_of(returned_.begin(), returned_.end(), [&](const auto& r) { return r.count(edges.context) != 0; });
    if (comes_back) return_to_wetting(node);
  }

  // An interruption is followed once for a whole context, with all values that its places may have together.
  bool strike_everywhere() {
    for (std::uint32_t context = 0; context < anywhere_.size(); ++context) {
      Values here;
      for (std::uint32_t n = 0; n < system_.nodes.size(); ++n)
        if (system_.nodes[n].may_be_struck && system_.nodes[n].context == context && !at_[n].empty()) merge(here, at_[n]);
      if (here.empty() || here == anywhere_[context]) continue;
      anywhere_[context] = here;
      for (std::uint32_t i = 0; i < system_.interruptions; ++i) {
        const Edge& strike = system_.strikes[context * system_.interruptions + i];
        load(here);
        if (run_edge(strike)) join(strike.target.value, save(), nullptr);
      }
    }
    return !work_.empty();
  }

  void come_back(std::uint32_t interruption, std::uint32_t context, const Values& values) {
    for (std::uint32_t n = 0; n < system_.nodes.size(); ++n)
      if (system_.nodes[n].may_be_struck && system_.nodes[n].context == context && !at_[n].empty()) {
        join(system_.nodes[n].struck_returns_to.value, values, &written_[interruption]);
        return_to_wetting(n);
      }
    // Only the union matters to whoever is reached later.
    merge(returned_[interruption][context], values);
  }

  // From within a contact time a run comes back to the wetting, with what the wetting has changed already.
  void return_to_wetting(std::uint32_t n) {
    const std::uint32_t to = system_.nodes[n].struck_returns_to.value;
    if (system_.nodes[n].may_be_struck && to != n) join(to, Values(at_[n]), nullptr);
  }

  // Adds values to a node's; `only`: just those fields.
  void join(std::uint32_t node, const Values& values, const std::vector<bool>* only) {
    if (at_[node].empty()) {
      if (only) return;  // nobody has come here without interruption yet
      at_[node] = values;
      for (std::uint32_t i = 0; i < returned_.size(); ++i)
        if (const auto at = returned_[i].find(system_.nodes[node].context); system_.nodes[node].may_be_struck && at != returned_[i].end())
          add(node, at->second, &written_[i]);
      enqueue(node);
    } else if (add(node, values, only)) {
      enqueue(node);
    }
  }
  bool add(std::uint32_t node, const Values& values, const std::vector<bool>* only) {
    bool grew = false;
    for (std::size_t i = 0; i < values.size(); ++i) {
      if (only && !(*only)[i]) continue;
      const std::uint32_t joined = at_[node][i] | values[i];
      grew |= joined != at_[node][i];
      at_[node][i] = joined;
    }
    return grew;
  }
  static void merge(Values& into, const Values& from) {
    if (into.empty()) into = from;
    else for (std::size_t i = 0; i < from.size(); ++i) into[i] |= from[i];
  }
  void enqueue(std::uint32_t node) { work_.insert(node); }

  // Which stored fields the lines of each handler may write, other handlers that strike inside included.
  void find_handlers() {
    returned_.resize(system_.interruptions);
    std::vector<std::uint32_t> place(system_.fields.size(), UINT32_MAX);
    for (std::uint32_t i = 0; i < stored_.size(); ++i) place[stored_[i]] = i;
    std::vector<bool> all(stored_.size(), false);
    const auto note = [&](const Edge& e) {
      for (std::uint32_t i = 0; i < e.op_count; ++i) {
        const Op& op = system_.ops[e.first_op + i];
        if (writes(op.kind) && place[op.a.value] != UINT32_MAX) all[place[op.a.value]] = true;
      }
    };
    // Any interruption may strike inside any other, so one set serves all of them.
    for (const Edge& strike : system_.strikes) {
      note(strike);
      std::vector<bool> seen(system_.nodes.size(), false);
      std::vector<std::uint32_t> stack{strike.target.value};
      while (!stack.empty()) {
        const std::uint32_t n = stack.back();
        stack.pop_back();
        if (seen[n]) continue;
        seen[n] = true;
        for (std::uint32_t k = 0; k < system_.nodes[n].count; ++k) {
          const Edge& e = system_.edges[system_.nodes[n].first + k];
          note(e);
          if (e.target) stack.push_back(e.target.value);
        }
      }
    }
    std::fill(written_.begin(), written_.end(), all);
  }

  void rewrite_edge(Edge& e, const Values& here, std::vector<Op>& kept) {
    const std::uint32_t first = static_cast<std::uint32_t>(kept.size());
    if (!here.empty()) {
      load(here);
      if (const Guard& g = system_.guards[e.guard.value]; truth(g) != Truth::never) {
        const Clause sole = g.any.size() == 1 ? g.any.front() : Clause{};  // `reduced` may move the guards
        e.guard = reduced(e.guard);
        for (const Test& t : sole) now_[t.field.value] &= t.allowed;
        for (std::uint32_t i = 0; i < e.op_count; ++i) keep(system_.ops[e.first_op + i], kept);
      } else {
        e.guard = never();
      }
    }
    e.first_op = first;
    e.op_count = static_cast<std::uint32_t>(kept.size()) - first;
  }

  void keep(Op op, std::vector<Op>& kept) {
    if (op.kind == OpKind::moment) return;
    const Truth t = truth(system_.guards[op.guard.value]);
    if (t == Truth::never) return;
    op.guard = t == Truth::always ? GuardId(0u) : reduced(op.guard);
    if (writes(op.kind)) {
      const std::uint32_t before = now_[op.a.value];
      write(op, t == Truth::always);
      const bool one_value = (before & (before - 1)) == 0;
      if (one_value && value_after(op, before, op.b ? now_[op.b.value] : 0) == before) return;
    }
    kept.push_back(op);
  }

  GuardId never() {
    if (!never_) {
      never_ = GuardId(system_.guards.size());
      system_.guards.push_back({});
    }
    return never_;
  }

  /// Whether every value that its tests allow is still possible, and some other too: then nothing of it falls away.
  bool says_all_it_did(const Guard& g) const {
    return std::all_of(g.any.begin(), g.any.end(), [&](const Clause& clause) {
      return !clause.empty() && std::all_of(clause.begin(), clause.end(), [&](const Test& t) {
        const std::uint32_t v = now_[t.field.value];
        return (v & t.allowed) == t.allowed && (v & ~t.allowed) != 0;
      });
    });
  }

  GuardId reduced(GuardId id) {
    if (says_all_it_did(system_.guards[id.value])) return id;
    Formula out;
    bool same = true;
    for (const Clause& clause : system_.guards[id.value].any) {
      Clause left;
      bool can = true;
      for (const Test& t : clause) {
        const std::uint32_t v = now_[t.field.value];
        if (!(v & t.allowed)) { can = false; break; }
        if (v & ~t.allowed) left.push_back({t.field, v & t.allowed});
      }
      same = same && can && left.size() == clause.size();
      if (!can) continue;
      if (left.empty()) return GuardId(0u);
      out.add(std::move(left));
    }
    if (same && out.clauses().size() == system_.guards[id.value].any.size()) return id;
    system_.guards.push_back({out.clauses()});
    return GuardId(system_.guards.size() - 1);
  }

  System& system_;
  std::vector<std::uint32_t> stored_;
  std::vector<Values> at_;
  std::vector<std::vector<bool>> written_;
  std::vector<std::map<std::uint32_t, Values>> returned_;  ///< per interruption, by context
  std::set<std::uint32_t> work_;
  std::vector<Values> anywhere_;  ///< by context: what its standing places may have together
  Values now_;
  std::vector<std::uint32_t> dirty_scratch_;
  GuardId never_;
};

}  // namespace

void simplify(System& system, bool forget, const std::vector<FieldId>& modes) {
  PossibleValues values(system);
  values.run();
  values.rewrite();
  if (forget) {
    drop_unread_writes(system);
    note_asked(system, modes);
  }
  values.specialise_strikes();
}

void drop_impossible(System& system) {
  PossibleValues values(system);
  values.run();
  values.rewrite();
}

}  // namespace stepward::effects
