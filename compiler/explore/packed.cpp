#include "explore/packed.hpp"

#include <bit>
#include <map>

namespace stepward::explore {
namespace {

class Packer {
 public:
  Packer(const effects::System& system, bool cut) : system_(system), cut_(cut) {}

  Packed pack() {
    lay_out_fields();
    for (const effects::Edge& e : system_.edges) pack_edge(e);
    out_.first_strike = static_cast<std::uint32_t>(out_.edges.size());
    for (std::uint32_t s = 0; s < system_.strikes.size(); ++s) {
      const effects::Edge& e = system_.strikes[s];
      pack_edge(e);
      out_.edges.back().strikes = e.label.interruption.value;
    }
    pack_nodes();
    pack_asked();
    return std::move(out_);
  }

 private:
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

  void pack_asked() {
    const effects::Asked& asked = system_.asked;
    for (effects::FieldId f : asked.modes) out_.modes.push_back(out_.fields[f.value]);
    for (const auto& by_mode : asked.fields) {
      Mask any(out_.words, 0);
      for (const auto& fields : by_mode) {
        out_.asked.push_back(mask_of(fields));
        for (std::uint32_t i = 0; i < out_.words; ++i) any[i] |= out_.asked.back()[i];
      }
      // In which mode a run will come back is known only where no interruption changes it.
      for (std::size_t m = 0; m < by_mode.size(); ++m)
        out_.asked_on_return.push_back(asked.inside_changes_mode ? any : out_.asked[out_.asked.size() - by_mode.size() + m]);
    }
  }

  Mask mask_of(const std::vector<bool>& asked) const {
    Mask mask(out_.words, 0);
    const auto add = [&](Slot s) { mask[s.word] |= std::uint64_t(s.mask) << s.shift; };
    add(out_.node);
    for (Slot back : out_.back) add(back);
    for (std::size_t i = 0; i < asked.size(); ++i)
      if (asked[i] && out_.fields[i].mask) add(out_.fields[i]);
    return mask;
  }

  // Writes that always happen and stand next to each other go into one operation a word.
  void write_at_once(const effects::Op& op, std::uint32_t first_of_edge) {
    const Slot s = slot(op.a);
    const std::uint64_t mask = std::uint64_t(s.mask) << s.shift, bits = std::uint64_t(op.value) << s.shift;
    for (std::size_t i = out_.ops.size(); i-- > first_of_edge && out_.ops[i].at_once;) {
      if (out_.ops[i].a.word != s.word) continue;
      out_.ops[i].keep &= ~mask;
      out_.ops[i].put = (out_.ops[i].put & ~mask) | bits;
      return;
    }
    PackedOp out{op.kind, false, guard(effects::GuardId(0u)), s, {}, op.value};
    out.at_once = true;
    out.keep = ~mask;
    out.put = bits;
    out_.ops.push_back(out);
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
    const auto [at, fresh] = scratch_.try_emplace(f.value, static_cast<std::uint32_t>(scratch_.size()));
    (void)fresh;
    const std::uint32_t bit = at->second * 2;
    if (bit / 64 >= most_scratch_words) { out_.fits = false; return {}; }
    return {static_cast<std::uint8_t>(out_.words + bit / 64), static_cast<std::uint8_t>(bit % 64), 3};
  }

  std::uint32_t guard(effects::GuardId id) {
    const auto [at, fresh] = guards_.try_emplace(id.value, static_cast<std::uint32_t>(out_.guards.size()));
    if (!fresh) return at->second;
    PackedGuard g;
    g.clauses.first = static_cast<std::uint32_t>(out_.clauses.size());
    for (const effects::Clause& clause : system_.guards[id.value].any) {
      const std::uint32_t first = static_cast<std::uint32_t>(out_.tests.size());
      for (const effects::Test& t : clause) out_.tests.push_back({slot(t.field), t.allowed});
      out_.clauses.push_back({first, static_cast<std::uint32_t>(out_.tests.size())});
      g.always |= clause.empty();
    }
    g.clauses.last = static_cast<std::uint32_t>(out_.clauses.size());
    out_.guards.push_back(g);
    return at->second;
  }

  // Numbered as they are met: what a variant cannot come to takes no number.
  std::uint32_t report(effects::ReportId id) {
    const auto [at, fresh] = reports_.try_emplace(id.value, static_cast<std::uint32_t>(out_.reports.size()));
    if (fresh) out_.reports.push_back(id);
    return at->second;
  }

  void pack_edge(const effects::Edge& e) {
    // Guards that speak of scratch fields mean another slot in every edge, so nothing is shared between edges.
    guards_.clear();
    scratch_.clear();
    PackedEdge p;
    p.guard = guard(e.guard);
    p.ops.first = static_cast<std::uint32_t>(out_.ops.size());
    for (std::uint32_t i = 0; i < e.op_count; ++i) {
      const effects::Op& op = system_.ops[e.first_op + i];
      if (op.kind == effects::OpKind::moment) continue;
      if (op.kind == effects::OpKind::set && op.guard.value == 0 && !system_.fields[op.a.value].scratch) {
        write_at_once(op, p.ops.first);
        continue;
      }
      PackedOp out{op.kind, false, guard(op.guard), slot(op.a), slot(op.b), op.value};
      if (op.kind == effects::OpKind::report) {
        out.cuts = cut_ && system_.reports[op.value].severity == diagnostics::Severity::error;
        out.value = report(effects::ReportId(op.value));
      }
      out_.ops.push_back(out);
    }
    p.ops.last = static_cast<std::uint32_t>(out_.ops.size());
    p.scratch_words = static_cast<std::uint8_t>((scratch_.size() * 2 + 63) / 64);
    p.target = e.target.value;
    p.goes_back = e.goes_back.value;
    p.ends = e.ends;
    out_.edges.push_back(p);
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

  const effects::System& system_;
  bool cut_;
  Packed out_;
  std::map<std::uint32_t, std::uint32_t> guards_, scratch_, reports_;
};

}  // namespace

bool walk_alike(const Packed& a, const Packed& b) {
  return a.words == b.words && a.node == b.node && a.guards == b.guards && a.clauses == b.clauses && a.tests == b.tests &&
         a.ops == b.ops && a.edges == b.edges && a.first_strike == b.first_strike && a.nodes == b.nodes && a.back == b.back &&
         a.initial == b.initial && a.modes == b.modes && a.asked == b.asked && a.asked_on_return == b.asked_on_return && a.fits == b.fits;
}

Packed pack(const effects::System& system, bool cut) { return Packer(system, cut).pack(); }

}  // namespace stepward::explore
