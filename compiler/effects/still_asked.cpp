#include "effects/still_asked.hpp"

#include <algorithm>
#include <optional>

#include "effects/formula.hpp"

namespace stepward::effects {
namespace {

/// A set of fields, a bit each.
class FieldSet {
 public:
  explicit FieldSet(std::size_t fields = 0) : words_((fields + 63) / 64, 0) {}
  bool holds(std::size_t f) const { return words_[f / 64] >> (f % 64) & 1; }
  void add(std::size_t f) { words_[f / 64] |= std::uint64_t(1) << (f % 64); }
  void drop(std::size_t f) { words_[f / 64] &= ~(std::uint64_t(1) << (f % 64)); }
  /// Adds those of another set; true if that made a difference.
  bool add(const FieldSet& others) {
    bool grew = false;
    for (std::size_t i = 0; i < words_.size(); ++i) {
      grew |= (others.words_[i] & ~words_[i]) != 0;
      words_[i] |= others.words_[i];
    }
    return grew;
  }
  void drop(const FieldSet& others) { for (std::size_t i = 0; i < words_.size(); ++i) words_[i] &= ~others.words_[i]; }

 private:
  std::vector<std::uint64_t> words_;
};

/// A set of modes, a bit each.
using ModeSet = std::uint32_t;

/// The fields that modes are made of, and what a mode says of guards and writes.
class Modes {
 public:
  Modes(const System& system, const std::vector<FieldId>& fields) : system_(system), fields_(fields), bit_(system.fields.size(), none) {
    for (std::size_t k = 0; k < fields.size(); ++k) bit_[fields[k].value] = static_cast<std::uint8_t>(k);
  }

  std::uint32_t count() const { return 1u << fields_.size(); }
  bool is_mode_field(FieldId f) const { return bit_[f.value] != none; }

  /// Of a clause in a mode, by its tests of mode fields alone.
  Truth truth(const Clause& clause, std::uint32_t mode) const {
    Truth out = Truth::always;
    for (const Test& t : clause) {
      if (!is_mode_field(t.field)) out = Truth::maybe;
      else if (!(t.allowed >> (mode >> bit_[t.field.value] & 1) & 1)) return Truth::never;
    }
    return out;
  }

  /// Of a guard in every mode of a set.
  Truth truth(GuardId guard, ModeSet modes) const {
    bool all = true, some = false;
    for (std::uint32_t m = 0; m < count(); ++m) {
      if (!(modes >> m & 1)) continue;
      const Truth t = truth_in(guard, m);
      all = all && t == Truth::always;
      some = some || t != Truth::never;
    }
    return all ? Truth::always : some ? Truth::maybe : Truth::never;
  }

  /// The fields that decide a guard in a mode, those of the mode among them. An alternative that another one covers in
  /// this mode decides nothing: "no soil on hands" asks about bare hands only where they are bare.
  std::vector<FieldId> fields_of(GuardId guard, std::uint32_t mode) const {
    Formula rest;
    std::vector<FieldId> out;
    for (const Clause& clause : system_.guards[guard.value].any) {
      Clause left;
      for (const Test& t : clause) {
        if (is_mode_field(t.field)) out.push_back(t.field);
        else left.push_back(t);
      }
      if (truth(clause, mode) != Truth::never) rest.add(std::move(left));
    }
    for (const Clause& clause : rest.clauses())
      for (const Test& t : clause) out.push_back(t.field);
    return out;
  }

  ModeSet after(const Op& op, ModeSet modes) const {
    if (!writes(op.kind) || !is_mode_field(op.a)) return modes;
    const std::uint32_t bit = 1u << bit_[op.a.value];
    ModeSet out = 0;
    for (std::uint32_t m = 0; m < count(); ++m) {
      if (!(modes >> m & 1)) continue;
      const Truth t = truth_in(op.guard, m);
      if (t != Truth::always) out |= 1u << m;
      if (t == Truth::never) continue;
      if (op.kind != OpKind::set || op.value != 0) out |= 1u << (m | bit);
      if (op.kind != OpKind::set || op.value == 0) out |= 1u << (m & ~bit);
    }
    return out;
  }

 private:
  Truth truth_in(GuardId guard, std::uint32_t mode) const {
    Truth best = Truth::never;
    for (const Clause& clause : system_.guards[guard.value].any) {
      const Truth t = truth(clause, mode);
      if (t == Truth::always) return t;
      if (t == Truth::maybe) best = t;
    }
    return best;
  }

  static constexpr std::uint8_t none = 0xFF;
  const System& system_;
  std::vector<FieldId> fields_;
  std::vector<std::uint8_t> bit_;
};

/// Whose asking counts inside an interruption: also that of any place that it may come back to, or its own alone.
enum class Asking : std::uint8_t { with_return, own };

class StillAsked {
 public:
  StillAsked(System& system, Asking asking, const std::vector<FieldId>& modes)
      : system_(system), asking_(asking), modes_(system, modes), keep_(system.fields.size()), scratch_(system.fields.size()) {
    for (std::size_t i = 0; i < system.fields.size(); ++i) {
      const auto what = system.fields[i].meaning.what;
      if (what == FieldMeaning::What::worn || what == FieldMeaning::What::zone) keep_.add(i);
      if (system.fields[i].scratch) scratch_.add(i);
    }
    std::uint32_t contexts = 0;
    for (const Edges& n : system.nodes) contexts = std::max(contexts, n.context + 1);
    live_.assign(system.nodes.size() * modes_.count(), keep_);
    any_standing_.assign(contexts * modes_.count(), keep_);
    struck_ = any_standing_;
    fields_of_.resize(system.guards.size() * modes_.count());
    find_inside();
  }

  void run() {
    bool changed = true;
    while (changed) {
      changed = false;
      for (std::uint32_t s = 0; s < system_.strikes.size(); ++s) {
        const std::uint32_t context = s / system_.interruptions;
        for (std::uint32_t m = 0; m < modes_.count(); ++m)
          changed |= struck_[index(context, m)].add(before(system_.strikes[s], context, true, m, nullptr));
      }
      for (std::uint32_t n = 0; n < system_.nodes.size(); ++n)
        for (std::uint32_t m = 0; m < modes_.count(); ++m) changed |= visit(n, m);
    }
  }

  /// Without modes only.
  void drop_unread_writes() {
    std::vector<Op> kept;
    for (std::uint32_t n = 0; n < system_.nodes.size(); ++n)
      for (std::uint32_t e = 0; e < system_.nodes[n].count; ++e)
        rewrite_edge(system_.edges[system_.nodes[n].first + e], system_.nodes[n].context, inside_[n], kept);
    for (std::uint32_t s = 0; s < system_.strikes.size(); ++s) rewrite_edge(system_.strikes[s], s / system_.interruptions, true, kept);
    system_.ops = std::move(kept);
  }

  std::vector<std::vector<std::vector<bool>>> fields() const {
    std::vector<std::vector<std::vector<bool>>> out(system_.nodes.size());
    for (std::uint32_t n = 0; n < out.size(); ++n)
      for (std::uint32_t m = 0; m < modes_.count(); ++m) {
        std::vector<bool> asked(system_.fields.size(), false);
        for (std::size_t f = 0; f < asked.size(); ++f) asked[f] = live_[index(n, m)].holds(f);
        out[n].push_back(std::move(asked));
      }
    return out;
  }

  bool inside_changes_mode() const {
    if (std::any_of(system_.strikes.begin(), system_.strikes.end(), [&](const Edge& e) { return changes_mode(e); })) return true;
    return std::any_of(system_.nodes.begin(), system_.nodes.end(), [&](const Edges& n) {
      for (std::uint32_t e = n.first; inside_[&n - system_.nodes.data()] && e < n.first + n.count; ++e)
        if (changes_mode(system_.edges[e])) return true;
      return false;
    });
  }

 private:
  /// Of a node or context, in a mode.
  std::size_t index(std::uint32_t place, std::uint32_t mode) const { return place * modes_.count() + mode; }

  // The nodes of interruptions: all that a strike leads to.
  void find_inside() {
    inside_.assign(system_.nodes.size(), false);
    std::vector<std::uint32_t> work;
    const auto reach = [&](const Edge& e) {
      if (!e.target || inside_[e.target.value]) return;
      inside_[e.target.value] = true;
      work.push_back(e.target.value);
    };
    for (const Edge& strike : system_.strikes) reach(strike);
    while (!work.empty()) {
      const Edges& n = system_.nodes[work.back()];
      work.pop_back();
      for (std::uint32_t e = n.first; e < n.first + n.count; ++e) reach(system_.edges[e]);
    }
  }

  bool changes_mode(const Edge& e) const {
    for (std::uint32_t i = 0; i < e.op_count; ++i)
      if (const Op& op = system_.ops[e.first_op + i]; writes(op.kind) && modes_.is_mode_field(op.a)) return true;
    return false;
  }

  FieldSet after(const Edge& e, std::uint32_t context, ModeSet modes) const {
    if (e.ends || (e.goes_back && asking_ == Asking::own)) return keep_;
    FieldSet out = keep_;
    for (std::uint32_t m = 0; m < modes_.count(); ++m)
      if (modes >> m & 1) out.add(e.goes_back ? any_standing_[index(context, m)] : live_[index(e.target.value, m)]);
    return out;
  }

  // Goes through an edge from its end, once it is known in which modes each operation may find the run.
  // `dead` collects the operations that nobody reads.
  FieldSet before(const Edge& e, std::uint32_t context, bool inside, std::uint32_t mode, std::vector<bool>* dead) {
    if (modes_.truth(e.guard, 1u << mode) == Truth::never) return keep_;
    std::vector<ModeSet> modes{1u << mode};
    for (std::uint32_t i = 0; i < e.op_count; ++i) modes.push_back(modes_.after(system_.ops[e.first_op + i], modes.back()));
    FieldSet live = after(e, context, modes.back());
    for (std::uint32_t i = e.op_count; i-- > 0;)
      if (!go_before(system_.ops[e.first_op + i], modes[i], inside, live) && dead) (*dead)[i] = true;
    ask(e.guard, live, {}, 1u << mode);
    live.drop(scratch_);
    return live;
  }

  // False: it writes what nobody asks.
  bool go_before(const Op& op, ModeSet modes, bool inside, FieldSet& live) {
    const Truth happens = modes_.truth(op.guard, modes);
    if (happens == Truth::never) return true;
    const bool unread = writes(op.kind) && !live.holds(op.a.value);
    // It may be for the place that is returned to; then so is what it reads, except of that field itself.
    if (unread && (asking_ != Asking::own || !inside)) return false;
    const bool overwrites = op.kind == OpKind::set || op.kind == OpKind::copy;
    if (overwrites && happens == Truth::always && !keep_.holds(op.a.value)) live.drop(op.a.value);
    const FieldId except = unread ? op.a : FieldId();
    if (reads_second(op.kind) && !(op.b == except)) live.add(op.b.value);
    ask(op.guard, live, except, modes);
    return !unread;
  }

  void ask(GuardId guard, FieldSet& live, FieldId except, ModeSet modes) {
    if (guard.value == 0) return;
    for (std::uint32_t m = 0; m < modes_.count(); ++m) {
      if (!(modes >> m & 1)) continue;
      for (FieldId f : fields_of(guard, m))
        if (!(f == except)) live.add(f.value);
    }
  }

  const std::vector<FieldId>& fields_of(GuardId guard, std::uint32_t mode) {
    auto& known = fields_of_[guard.value * modes_.count() + mode];
    if (!known) known = modes_.fields_of(guard, mode);
    return *known;
  }

  bool visit(std::uint32_t n, std::uint32_t mode) {
    const Edges& edges = system_.nodes[n];
    FieldSet& live = live_[index(n, mode)];
    bool grew = false;
    for (std::uint32_t e = edges.first; e < edges.first + edges.count; ++e) grew |= live.add(before(system_.edges[e], edges.context, inside_[n], mode, nullptr));
    if (!edges.may_be_struck) return grew;
    grew |= live.add(struck_[index(edges.context, mode)]);
    // From within a contact time a run comes back to the wetting.
    grew |= live.add(live_[index(edges.struck_returns_to.value, mode)]);
    grew |= any_standing_[index(edges.context, mode)].add(live);
    return grew;
  }

  void rewrite_edge(Edge& e, std::uint32_t context, bool inside, std::vector<Op>& kept) {
    std::vector<bool> dead(e.op_count, false);
    before(e, context, inside, 0, &dead);
    const std::uint32_t first = static_cast<std::uint32_t>(kept.size());
    for (std::uint32_t i = 0; i < e.op_count; ++i)
      if (!dead[i]) kept.push_back(system_.ops[e.first_op + i]);
    e.first_op = first;
    e.op_count = static_cast<std::uint32_t>(kept.size()) - first;
  }

  System& system_;
  Asking asking_;
  Modes modes_;
  FieldSet keep_, scratch_;
  std::vector<std::optional<std::vector<FieldId>>> fields_of_;  ///< by guard and mode, as they are first needed
  std::vector<bool> inside_;            ///< by node: it is an interruption's
  std::vector<FieldSet> live_;          ///< by node and mode
  std::vector<FieldSet> any_standing_;  ///< by context and mode: asked where a run may come back to
  std::vector<FieldSet> struck_;        ///< by context and mode: asked by an interruption that strikes
};

}  // namespace

void drop_unread_writes(System& system) {
  StillAsked anywhere(system, Asking::with_return, {});
  anywhere.run();
  anywhere.drop_unread_writes();
}

void note_asked(System& system, const std::vector<FieldId>& modes) {
  StillAsked own(system, Asking::own, modes);
  own.run();
  system.asked = {modes, own.fields(), own.inside_changes_mode()};
}

}  // namespace stepward::effects
