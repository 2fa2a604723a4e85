#pragma once
// A system packed for the walk: fields at fixed bits of a few machine words, guards and operations in flat arrays.
//
// Stored fields fill the first `words` words, the node the run stands at included. Scratch fields are numbered anew in
// every edge and lie in words behind them, which are cleared before the edge's operations run. A field never straddles
// two words. Nothing here allocates after packing.

#include <cstdint>
#include <vector>

#include "effects/system.hpp"

namespace stepward::explore {

struct Slot { std::uint8_t word = 0, shift = 0; std::uint32_t mask = 0; friend bool operator==(const Slot&, const Slot&) = default; };
struct PackedTest { Slot slot; std::uint32_t allowed = 0; friend bool operator==(const PackedTest&, const PackedTest&) = default; };
struct Range { std::uint32_t first = 0, last = 0; friend bool operator==(const Range&, const Range&) = default; };
struct PackedGuard { Range clauses; bool always = false; friend bool operator==(const PackedGuard&, const PackedGuard&) = default; };
struct PackedOp {
  effects::OpKind kind{};
  bool cuts = false;
  std::uint32_t guard = 0;
  Slot a, b;
  std::uint32_t value = 0;
  bool at_once = false;                   ///< several sets in one word: w = (w & keep) | put
  std::uint64_t keep = 0, put = 0;
  friend bool operator==(const PackedOp&, const PackedOp&) = default;
};
struct PackedEdge {
  std::uint32_t guard = 0;
  Range ops;
  std::uint8_t scratch_words = 0;
  std::uint32_t target = UINT32_MAX;      ///< UINT32_MAX: goes back or ends
  std::uint32_t goes_back = UINT32_MAX;   ///< interruption
  bool ends = false;
  std::uint32_t strikes = UINT32_MAX;     ///< interruption that this edge is
  bool leaves_context = false;            ///< a strike from which no run comes back
  friend bool operator==(const PackedEdge&, const PackedEdge&) = default;
};
struct PackedNode {
  Range edges, strikes;
  bool standing = false;
  std::uint32_t returns_to = 0, context = 0;
  friend bool operator==(const PackedNode&, const PackedNode&) = default;
};

/// Bits of a state that are still asked for at a node; those of its `node` and `back` always are.
using Mask = std::vector<std::uint64_t>;

/// The most words a state and an edge's scratch fields may take.
inline constexpr std::uint32_t most_words = 24, most_scratch_words = 24;

struct Packed {
  std::uint32_t words = 0;                ///< of a stored state
  Slot node;
  std::vector<Slot> fields;               ///< per field of the system; scratch fields have no slot here
  std::vector<PackedGuard> guards;
  std::vector<Range> clauses;
  std::vector<PackedTest> tests;
  std::vector<PackedOp> ops;
  std::vector<PackedEdge> edges;          ///< the system's edges, then its strikes
  std::uint32_t first_strike = 0;
  std::vector<PackedNode> nodes;
  std::vector<Slot> back;                 ///< per interruption
  std::vector<std::uint64_t> initial;
  std::vector<Slot> modes;                ///< fields of two values; mode m has bit k set where modes[k] is 1
  std::vector<Mask> asked;                ///< by node and mode; empty: nothing is forgotten
  std::vector<Mask> asked_on_return;      ///< the same for the place that an interruption will come back to
  std::vector<effects::ReportId> reports; ///< by number in this form: the system's
  bool fits = true;                       ///< false: more bits than most_words hold
};

/// Whether two systems differ in nothing but names: then one walk is the walk of both.
bool walk_alike(const Packed& a, const Packed& b);

/// `cut`: whether a report of severity error ends the run there.
Packed pack(const effects::System& system, bool cut);

inline std::uint32_t get(const std::uint64_t* w, Slot s) { return static_cast<std::uint32_t>(w[s.word] >> s.shift) & s.mask; }
inline void put(std::uint64_t* w, Slot s, std::uint32_t v) {
  w[s.word] = (w[s.word] & ~(std::uint64_t(s.mask) << s.shift)) | (std::uint64_t(v) << s.shift);
}

inline bool holds(const Packed& p, std::uint32_t guard, const std::uint64_t* w) {
  const PackedGuard& g = p.guards[guard];
  if (g.always) return true;
  for (std::uint32_t c = g.clauses.first; c < g.clauses.last; ++c) {
    bool all = true;
    for (std::uint32_t t = p.clauses[c].first; all && t < p.clauses[c].last; ++t)
      all = p.tests[t].allowed >> get(w, p.tests[t].slot) & 1;
    if (all) return true;
  }
  return false;
}

/// What an operation does to a state; reports, moments and marks do nothing to it.
inline void apply(const Packed& p, const PackedOp& op, std::uint64_t* w) {
  using effects::OpKind;
  if (op.at_once) { w[op.a.word] = (w[op.a.word] & op.keep) | op.put; return; }
  if (!holds(p, op.guard, w)) return;
  switch (op.kind) {
    case OpKind::set: put(w, op.a, op.value); break;
    case OpKind::raise: if (get(w, op.a) < op.value) put(w, op.a, op.value); break;
    case OpKind::lift: if (const auto b = get(w, op.b); get(w, op.a) < b) put(w, op.a, b); break;
    case OpKind::lift_suspect:
      if (const auto b = get(w, op.b) < effects::kSuspect ? get(w, op.b) : effects::kSuspect; get(w, op.a) < b) put(w, op.a, b);
      break;
    case OpKind::copy: put(w, op.a, get(w, op.b)); break;
    case OpKind::report:
    case OpKind::moment:
    case OpKind::mark: break;
  }
}

}  // namespace stepward::explore
