#pragma once
// A system packed for the walk: fields at fixed bits of a few machine words, guards and operations in flat arrays.
//
// Stored fields fill the first `words` words, the node the run stands at included. Scratch fields are numbered anew in
// every edge and lie in words behind them, which are cleared before the edge's operations run. A field never straddles
// two words. Nothing here allocates after packing.
//
// A guard asks as little as it can. Most tests ask whether some bits of a field have one value, and tests of a clause
// that fall into the same word are one comparison. With `worn` in bit 3 and a level in bits 4 and 5 of word 0,
//
//     worn(apron) = 1 and outside of apron is suspect or soiled     (w[0] & 0b101000) == 0b101000
//
// since suspect (10) and soiled (11) share their upper bit. "Not clean" of a level that may be sterile (00, 10, 11) is
// no such set, but its contrary is: unequal. What is neither is looked up in a list.
//
// Operations that stand in a row under one guard, which none of them changes, ask it once: where it does not hold,
// `otherwise` leads behind all of them.

#include <cstdint>
#include <type_traits>
#include <vector>

#include "effects/system.hpp"

namespace stepward::explore {

struct Slot { std::uint8_t word = 0, shift = 0; std::uint32_t mask = 0; friend bool operator==(const Slot&, const Slot&) = default; };
struct Range { std::uint32_t first = 0, last = 0; friend bool operator==(const Range&, const Range&) = default; };

/// One question to one word of a state. Tests of a clause stand in a row; see `holds`.
struct PackedTest {
  enum class How : std::uint8_t { equal, unequal, listed } how = How::equal;
  std::uint8_t word = 0, shift = 0;       ///< shift: listed
  bool closes = false;                    ///< the last of its clause
  std::uint32_t otherwise = 0;            ///< where the next clause begins
  std::uint64_t mask = 0, value = 0;      ///< equal, unequal: of these bits; listed: bit v of `value` is set where v will do
  friend bool operator==(const PackedTest&, const PackedTest&) = default;
};
struct PackedGuard { Range tests; bool always = false; friend bool operator==(const PackedGuard&, const PackedGuard&) = default; };
struct PackedOp {
  enum class Do : std::uint8_t { write, raise, lift, lift_suspect, copy, report, mark } what = Do::write;
  bool cuts = false;                      ///< report: the run ends here
  PackedGuard guard;
  std::uint32_t otherwise = 0;            ///< the operation to go on with where the guard does not hold
  Slot a, b;
  std::uint32_t value = 0;                ///< raise: the level; report, mark: which
  std::uint64_t keep = 0, put = 0;        ///< keep: the bits of a's word that it cannot change; write: w = (w & keep) | put
  friend bool operator==(const PackedOp&, const PackedOp&) = default;
};
struct PackedEdge {
  PackedGuard guard;
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

/// The most words a state and an edge's scratch fields may take.
inline constexpr std::uint32_t most_words = 24, most_scratch_words = 24;

struct Packed {
  std::uint32_t words = 0;                ///< of a stored state
  Slot node;
  std::vector<Slot> fields;               ///< per field of the system; scratch fields have no slot here
  std::vector<PackedTest> tests;
  std::vector<PackedOp> ops;
  std::vector<PackedEdge> edges;          ///< the system's edges, then its strikes
  std::uint32_t first_strike = 0;
  std::vector<PackedNode> nodes;
  std::vector<Slot> back;                 ///< per interruption
  std::vector<std::uint64_t> initial;
  std::vector<Slot> modes;                ///< fields of two values; mode m has bit k set where modes[k] is 1
  /// Bits of a state that are still asked for, `words` each, by node and mode; those of `node` and `back` always are.
  /// Empty: nothing is forgotten.
  std::vector<std::uint64_t> asked;
  std::vector<std::uint64_t> asked_on_return;  ///< the same for the place that an interruption will come back to
  std::vector<std::uint64_t> depends;     ///< `words` each, by edge: the bits that decide what taking it leads to
  std::vector<effects::ReportId> reports; ///< by number in this form: the system's
  bool fits = true;                       ///< false: more bits than most_words hold
};

/// Whether two systems differ in nothing but names: then one walk is the walk of both.
bool walk_alike(const Packed& a, const Packed& b);

/// `cut`: whether a report of severity error ends the run there.
Packed pack(const effects::System& system, bool cut);

/// Frees what only the walk needs and its packed form has taken over; names and reports stay. Many variants wait side by side.
void drop_what_was_packed(effects::System& system);

/// Calls `f` with the number of words as a constant, where it is small: loops over a state's words are then unrolled.
/// The constant 0 says that it must be asked for.
template <class F>
void with_words(std::uint32_t words, F&& f) {
  switch (words) {
    case 1: f(std::integral_constant<std::uint32_t, 1>()); break;
    case 2: f(std::integral_constant<std::uint32_t, 2>()); break;
    case 3: f(std::integral_constant<std::uint32_t, 3>()); break;
    case 4: f(std::integral_constant<std::uint32_t, 4>()); break;
    case 5: f(std::integral_constant<std::uint32_t, 5>()); break;
    case 6: f(std::integral_constant<std::uint32_t, 6>()); break;
    case 7: f(std::integral_constant<std::uint32_t, 7>()); break;
    case 8: f(std::integral_constant<std::uint32_t, 8>()); break;
    default: f(std::integral_constant<std::uint32_t, 0>());
  }
}

inline std::uint32_t get(const std::uint64_t* w, Slot s) { return static_cast<std::uint32_t>(w[s.word] >> s.shift) & s.mask; }
inline void put(std::uint64_t* w, Slot s, std::uint32_t v) {
  w[s.word] = (w[s.word] & ~(std::uint64_t(s.mask) << s.shift)) | (std::uint64_t(v) << s.shift);
}

inline bool passes(const PackedTest& t, const std::uint64_t* w) {
  const std::uint64_t v = w[t.word];
  if (t.how == PackedTest::How::equal) return (v & t.mask) == t.value;
  if (t.how == PackedTest::How::unequal) return (v & t.mask) != t.value;
  return t.value >> (v >> t.shift & t.mask) & 1;
}

inline bool holds(const Packed& p, const PackedGuard& g, const std::uint64_t* w) {
  if (g.always) return true;
  for (std::uint32_t t = g.tests.first; t < g.tests.last;) {
    const PackedTest& test = p.tests[t];
    if (!passes(test, w)) t = test.otherwise;
    else if (test.closes) return true;
    else ++t;
  }
  return false;
}

/// What an operation does to a state; reports and marks do nothing to it.
inline void apply(const PackedOp& op, std::uint64_t* w) {
  using Do = PackedOp::Do;
  const auto raise_to = [&](std::uint32_t value) { if (get(w, op.a) < value) put(w, op.a, value); };
  switch (op.what) {
    case Do::write: w[op.a.word] = (w[op.a.word] & op.keep) | op.put; break;
    case Do::raise: raise_to(op.value); break;
    case Do::lift: raise_to(get(w, op.b)); break;
    case Do::lift_suspect: raise_to(get(w, op.b) < effects::kSuspect ? get(w, op.b) : effects::kSuspect); break;
    case Do::copy: put(w, op.a, get(w, op.b)); break;
    case Do::report:
    case Do::mark: break;
  }
}

/// Runs an edge's operations, in scratch fields that are empty at first, and calls `done` with each whose guard holds.
template <class Done>
void operate(const Packed& p, const PackedEdge& e, std::uint64_t* w, Done&& done) {
  for (std::uint32_t i = 0; i < e.scratch_words; ++i) w[p.words + i] = 0;
  for (std::uint32_t i = e.ops.first; i < e.ops.last;) {
    const PackedOp& op = p.ops[i];
    if (!holds(p, op.guard, w)) { i = op.otherwise; continue; }
    apply(op, w);
    done(op);
    ++i;
  }
}

}  // namespace stepward::explore
