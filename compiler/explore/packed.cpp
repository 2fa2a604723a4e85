#include "explore/packed.hpp"

#include <bit>
#include <map>
#include <optional>

#include "explore/known_of_edge.hpp"

namespace stepward::explore {
namespace {

class Packer {
 public:
  Packer(const effects::System& system, bool cut)
      : system_(system), cut_(cut), guards_(system.guards.size()), scratch_(system.fields.size()), reports_(system.reports.size(), UINT32_MAX) {}

  Packed pack() {
    lay_out_fields();
    make_room();
    for (const effects::Edge& e : system_.edges) pack_edge(e);
    out_.first_strike = static_cast<std::uint32_t>(out_.edges.size());
    for (std::uint32_t s = 0; s < system_.strikes.size(); ++s) {
      const effects::Edge& e = system_.strikes[s];
      pack_edge(e);
      out_.edges.back().strikes = e.label.interruption.value;
    }
    pack_nodes();
    pack_asked();
    pack_depends();
    return std::move(out_);
  }

 private:
  using Bits64 = std::vector<std::uint64_t>;

  static void add(Bits64& to, Slot s) { if (s.word < to.size()) to[s.word] |= std::uint64_t(s.mask) << s.shift; }
  static void add_all(Bits64& to, const Bits64& from) { for (std::size_t i = 0; i < to.size(); ++i) to[i] |= from[i]; }

  // Wide fields first, so that none is left straddling.
  void lay_out_fields() {
    const std::vector<bool> used = used_fields();
    out_.fields.resize(system_.fields.size());
    std::uint32_t word = 0, bit = 0;
    const auto place = [&](std::uint32_t maximum) {
      const std::uint32_t width = std::bit_width(maximum | 1u);
      if (bit + width > 64) { ++word; bit = 0; }
      const Slot s{static_cast<std::uint8_t>(word), static_cast<std::uint8_t>(bit), static_cast<std::uint32_t>((std::uint64_t(1) << width) - 1)};
      bit += width;
      return s;
    };
    const std::uint32_t node_count = static_cast<std::uint32_t>(system_.nodes.size());
    out_.node = place(node_count);
    for (std::size_t i = 0; i < system_.interruptions; ++i) out_.back.push_back(place(node_count + 1));
    for (std::uint32_t width = 32; width > 0; --width)
      for (std::size_t i = 0; i < system_.fields.size(); ++i) {
        const effects::Field& f = system_.fields[i];
        if (used[i] && std::uint32_t(std::bit_width(f.maximum | 1u)) == width) out_.fields[i] = place(f.maximum);
        if (word >= most_words) { out_.fits = false; word = 0; }
      }
    out_.words = word + 1;
    out_.initial.assign(most_words + most_scratch_words, 0);
    put(out_.initial.data(), out_.node, system_.start.value);
    for (std::size_t i = 0; i < system_.fields.size(); ++i)
      if (used[i]) put(out_.initial.data(), out_.fields[i], system_.fields[i].initial);
  }

  // A list of several megabytes that grows takes its pages anew each time.
  void make_room() {
    std::size_t ops = 0;
    for (const effects::Edge& e : system_.edges) ops += e.op_count;
    for (const effects::Edge& e : system_.strikes) ops += e.op_count;
    out_.edges.reserve(system_.edges.size() + system_.strikes.size());
    out_.ops.reserve(ops);
  }

  void pack_asked() {
    const effects::Asked& asked = system_.asked;
    for (effects::FieldId f : asked.modes) out_.modes.push_back(out_.fields[f.value]);
    const std::size_t modes = std::size_t(1) << asked.modes.size();
    for (std::size_t of_node = 0; of_node < asked.fields.size(); of_node += modes) {
      const std::size_t first = out_.asked.size();
      Bits64 any(out_.words, 0);
      for (std::size_t m = 0; m < modes; ++m) {
        const Bits64 mask = mask_of(asked.fields[of_node + m]);
        add_all(any, mask);
        out_.asked.insert(out_.asked.end(), mask.begin(), mask.end());
      }
      // In which mode a run will come back is known only where no interruption changes it.
      for (std::size_t at = first; at < out_.asked.size(); ++at)
        out_.asked_on_return.push_back(asked.inside_changes_mode ? any[(at - first) % out_.words] : out_.asked[at]);
    }
  }

  Bits64 mask_of(const effects::FieldSet& asked) const {
    Bits64 mask(out_.words, 0);
    add(mask, out_.node);
    for (Slot back : out_.back) add(mask, back);
    asked.each([&](std::size_t f) { if (out_.fields[f].mask) add(mask, out_.fields[f]); });
    return mask;
  }

  // A field that no operation names is the same in every state and takes no room; what is worn is always kept.
  std::vector<bool> used_fields() const {
    std::vector<bool> used(system_.fields.size(), false);
    const auto note = [&](effects::GuardId g) {
      for (const effects::Clause& c : system_.guards[g.value].any) for (const effects::Test& t : c) used[t.field.value] = true;
    };
    for (const effects::Op& op : system_.ops) {
      note(op.guard);
      if (op.a) used[op.a.value] = true;
      if (op.b) used[op.b.value] = true;
    }
    for (const effects::Edge& e : system_.edges) note(e.guard);
    for (const effects::Edge& e : system_.strikes) note(e.guard);
    for (std::size_t i = 0; i < used.size(); ++i) {
      used[i] = used[i] || system_.fields[i].meaning.what == effects::FieldMeaning::What::worn;
      if (system_.fields[i].scratch) used[i] = false;
    }
    return used;
  }

  Slot slot(effects::FieldId f) {
    if (!f) return {};
    if (!system_.fields[f.value].scratch) return out_.fields[f.value];
    const auto [number, is_new] = scratch_.at(f.value);
    if (is_new) number = scratch_used_++;
    const std::uint32_t bit = number * 2;
    if (bit / 64 >= most_scratch_words) { out_.fits = false; return {}; }
    return {static_cast<std::uint8_t>(out_.words + bit / 64), static_cast<std::uint8_t>(bit % 64), 3};
  }

  PackedGuard guard(effects::GuardId id) {
    const auto [known, is_new] = guards_.at(id.value);
    if (!is_new) return known;
    PackedGuard g;
    g.tests.first = static_cast<std::uint32_t>(out_.tests.size());
    for (const effects::Clause& clause : system_.guards[id.value].any) {
      const std::size_t first = out_.tests.size();
      for (const effects::Test& t : clause) add_test(t, first);
      g.always |= clause.empty();
      if (!clause.empty()) out_.tests.back().closes = true;
      for (std::size_t t = first; t < out_.tests.size(); ++t) out_.tests[t].otherwise = static_cast<std::uint32_t>(out_.tests.size());
    }
    g.tests.last = static_cast<std::uint32_t>(out_.tests.size());
    return known = g;
  }

  // Joins a test that asks for some bits with those of its clause that ask for other bits of the same word.
  void add_test(const effects::Test& t, std::size_t first_of_clause) {
    const PackedTest test = as_bits(slot(t.field), t.allowed);
    for (std::size_t i = first_of_clause; test.how == PackedTest::How::equal && i < out_.tests.size(); ++i) {
      PackedTest& other = out_.tests[i];
      if (other.how != PackedTest::How::equal || other.word != test.word || (other.mask & test.mask)) continue;
      other.mask |= test.mask;
      other.value |= test.value;
      return;
    }
    out_.tests.push_back(test);
  }

  static PackedTest as_bits(Slot s, std::uint32_t allowed) {
    PackedTest test;
    test.word = s.word;
    test.shift = s.shift;
    const std::uint32_t all = s.mask >= 31 ? UINT32_MAX : (2u << s.mask) - 1;  // a field that is asked has at most 32 values
    std::optional<Bits> bits = common_bits(s.mask, allowed & all);
    if (!bits) {
      bits = common_bits(s.mask, ~allowed & all);
      test.how = bits ? PackedTest::How::unequal : PackedTest::How::listed;
    }
    test.mask = bits ? std::uint64_t(bits->mask) << s.shift : s.mask;
    test.value = bits ? std::uint64_t(bits->value) << s.shift : allowed;
    return test;
  }

  struct Bits { std::uint32_t mask = 0, value = 0; };

  // The bits that all values of `allowed` share, if no other value shares them.
  static std::optional<Bits> common_bits(std::uint32_t mask, std::uint32_t allowed) {
    std::uint32_t ones = mask, zeros = mask;
    for (std::uint32_t left = allowed; left != 0; left &= left - 1) {
      const auto v = static_cast<std::uint32_t>(std::countr_zero(left));
      ones &= v;
      zeros &= ~v;
    }
    const int open = std::popcount(mask) - std::popcount(ones | zeros);
    if (allowed == 0 || open > 5 || std::popcount(allowed) != 1 << open) return std::nullopt;
    return Bits{ones | zeros, ones};
  }

  // Numbered as they are met: what a variant cannot come to takes no number.
  std::uint32_t report(effects::ReportId id) {
    std::uint32_t& number = reports_[id.value];
    if (number == UINT32_MAX) {
      number = static_cast<std::uint32_t>(out_.reports.size());
      out_.reports.push_back(id);
    }
    return number;
  }

  void pack_edge(const effects::Edge& e) {
    // Guards that speak of scratch fields mean another slot in every edge, so nothing is shared between edges.
    guards_.forget();
    scratch_.forget();
    scratch_used_ = 0;
    PackedEdge p;
    p.guard = guard(e.guard);
    p.ops.first = static_cast<std::uint32_t>(out_.ops.size());
    row_ = {};
    for (std::uint32_t i = 0; i < e.op_count; ++i)
      if (const effects::Op& op = system_.ops[e.first_op + i]; op.kind != effects::OpKind::moment) pack_op(op);
    p.ops.last = static_cast<std::uint32_t>(out_.ops.size());
    p.scratch_words = static_cast<std::uint8_t>((scratch_used_ * 2 + 63) / 64);
    p.target = e.target.value;
    p.goes_back = e.goes_back.value;
    p.ends = e.ends;
    out_.edges.push_back(p);
  }

  /// Operations in a row under one guard; `changed`: one of them wrote what it asks.
  struct Row {
    const effects::Guard* guard = nullptr;
    std::uint32_t first = 0;
    bool changed = false;
  };

  void pack_op(const effects::Op& op) {
    const effects::Guard& its = system_.guards[op.guard.value];
    const bool goes_on = row_.guard && !row_.changed && (row_.guard == &its || row_.guard->any == its.any);
    if (!goes_on) row_ = {&its, static_cast<std::uint32_t>(out_.ops.size()), false};
    if (effects::writes(op.kind)) row_.changed |= asks(its, op.a);
    PackedOp out = packed(op);
    if (goes_on && joins(out)) return;
    if (goes_on) out.guard.always = true;
    else out.guard = guard(op.guard);
    out_.ops.push_back(out);
    out_.ops[row_.first].otherwise = static_cast<std::uint32_t>(out_.ops.size());
  }

  static bool asks(const effects::Guard& guard, effects::FieldId f) {
    for (const effects::Clause& c : guard.any) for (const effects::Test& t : c) if (t.field == f) return true;
    return false;
  }

  // Writes that stand next to each other go into one operation a word.
  bool joins(const PackedOp& op) {
    if (op.what != PackedOp::Do::write) return false;
    for (std::size_t i = out_.ops.size(); i-- > row_.first && out_.ops[i].what == PackedOp::Do::write;) {
      PackedOp& other = out_.ops[i];
      if (other.a.word != op.a.word) continue;
      other.put = (other.put & op.keep) | op.put;
      other.keep &= op.keep;
      return true;
    }
    return false;
  }

  PackedOp packed(const effects::Op& op) {
    PackedOp out;
    out.what = what_of(op.kind);
    out.a = slot(op.a);
    out.b = slot(op.b);
    out.value = op.value;
    out.keep = ~(std::uint64_t(out.a.mask) << out.a.shift);
    out.put = std::uint64_t(op.value) << out.a.shift;
    if (op.kind != effects::OpKind::report) return out;
    out.cuts = cut_ && system_.reports[op.value].severity == diagnostics::Severity::error;
    out.value = report(effects::ReportId(op.value));
    return out;
  }

  static PackedOp::Do what_of(effects::OpKind kind) {
    using effects::OpKind;
    switch (kind) {
      case OpKind::mark: return PackedOp::Do::mark;
      case OpKind::set: return PackedOp::Do::write;
      case OpKind::raise: return PackedOp::Do::raise;
      case OpKind::lift: return PackedOp::Do::lift;
      case OpKind::lift_suspect: return PackedOp::Do::lift_suspect;
      case OpKind::copy: return PackedOp::Do::copy;
      case OpKind::report:
      case OpKind::moment: break;
    }
    return PackedOp::Do::report;
  }

  void pack_nodes() {
    for (const effects::Edges& n : system_.nodes) {
      for (std::uint32_t s = n.first_strike; s < n.first_strike + n.strike_count; ++s)
        if (const auto to = system_.strikes[s].target) out_.edges[out_.first_strike + s].leaves_context = system_.nodes[to.value].context != n.context;
      out_.nodes.push_back({{n.first, n.first + n.count},
                            {out_.first_strike + n.first_strike, out_.first_strike + n.first_strike + n.strike_count},
                            n.may_be_struck, n.struck_returns_to.value, n.context});
    }
  }

  void add_guard(Bits64& to, const PackedGuard& guard) const {
    for (std::uint32_t t = guard.tests.first; !guard.always && t < guard.tests.last; ++t) {
      const PackedTest& test = out_.tests[t];
      const bool listed = test.how == PackedTest::How::listed;
      if (test.word < to.size()) to[test.word] |= listed ? test.mask << test.shift : test.mask;
    }
  }

  void add_operations(Bits64& to, const PackedEdge& e) const {
    for (std::uint32_t i = e.ops.first; i < e.ops.last; ++i) {
      const PackedOp& op = out_.ops[i];
      add_guard(to, op.guard);
      const bool lifts = op.what == PackedOp::Do::lift || op.what == PackedOp::Do::lift_suspect;
      if (lifts || op.what == PackedOp::Do::raise) add(to, op.a);
      if (lifts || op.what == PackedOp::Do::copy) add(to, op.b);
    }
  }

  // What the crossings ask through which a run may pass that comes to one of these nodes.
  void add_crossings(Bits64& to, std::vector<std::uint32_t> work) {
    std::vector<bool> seen(out_.nodes.size(), false);
    while (!work.empty()) {
      const std::uint32_t n = work.back();
      work.pop_back();
      if (out_.nodes[n].standing || seen[n]) continue;
      seen[n] = true;
      for (std::uint32_t e = out_.nodes[n].edges.first; e < out_.nodes[n].edges.last; ++e) {
        add_guard(to, out_.edges[e].guard);
        add_operations(to, out_.edges[e]);
        if (out_.edges[e].goes_back != UINT32_MAX) { add(to, out_.back[out_.edges[e].goes_back]); work.insert(work.end(), returns_.begin(), returns_.end()); }
        else if (out_.edges[e].target != UINT32_MAX) work.push_back(out_.edges[e].target);
      }
    }
  }

  void pack_depends() {
    for (const PackedNode& n : out_.nodes)
      if (n.standing && !out_.nodes[n.returns_to].standing) returns_.push_back(n.returns_to);
    std::map<std::uint32_t, Bits64> behind;  // by crossing
    Bits64 behind_returns(out_.words, 0);
    add_crossings(behind_returns, returns_);
    for (const PackedEdge& e : out_.edges) {
      Bits64 bits(out_.words, 0);
      add(bits, out_.node);
      add_operations(bits, e);
      if (e.goes_back != UINT32_MAX) {
        add(bits, out_.back[e.goes_back]);
        add_all(bits, behind_returns);
      } else if (e.target != UINT32_MAX) {
        const auto [at, fresh] = behind.try_emplace(e.target, out_.words, 0);
        if (fresh) add_crossings(at->second, {e.target});
        add_all(bits, at->second);
      }
      out_.depends.insert(out_.depends.end(), bits.begin(), bits.end());
    }
  }

  const effects::System& system_;
  bool cut_;
  Packed out_;
  Row row_;
  std::vector<std::uint32_t> returns_;  ///< crossings that an interruption comes back to
  KnownOfEdge<PackedGuard> guards_;
  KnownOfEdge<std::uint32_t> scratch_;
  std::uint32_t scratch_used_ = 0;
  std::vector<std::uint32_t> reports_;  ///< by report: its number, if it has one
};

}  // namespace

bool walk_alike(const Packed& a, const Packed& b) {
  return a.words == b.words && a.node == b.node && a.tests == b.tests &&
         a.ops == b.ops && a.edges == b.edges && a.first_strike == b.first_strike && a.nodes == b.nodes && a.back == b.back &&
         a.initial == b.initial && a.modes == b.modes && a.asked == b.asked && a.asked_on_return == b.asked_on_return && a.fits == b.fits;
}

void drop_what_was_packed(effects::System& system) {
  system.ops = {};
  system.guards = {};
  system.moments = {};
  system.causes = {};
  system.asked = {};
}

Packed pack(const effects::System& system, bool cut) { return Packer(system, cut).pack(); }

}  // namespace stepward::explore
