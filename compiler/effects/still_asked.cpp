#include "effects/still_asked.hpp"

#include <algorithm>
#include <bit>
#include <optional>

#include "effects/formula.hpp"

namespace stepward::effects {
namespace {

/// A set of modes, a bit each.
using ModeSet = std::uint32_t;

/// The fields that modes are made of, and what a mode says of guards and writes.
class Modes {
 public:
  Modes(const System& system, const std::vector<FieldId>& fields) : system_(system), fields_(fields), bit_(system.fields.size(), none) {
    for (std::size_t k = 0; k < fields.size(); ++k) bit_[fields[k].value] = static_cast<std::uint8_t>(k);
    for (const Guard& guard : system.guards) {
      asks_mode_.push_back(std::any_of(guard.any.begin(), guard.any.end(), [&](const Clause& c) {
        return std::any_of(c.begin(), c.end(), [&](const Test& t) { return is_mode_field(t.field); });
      }));
      for (std::uint32_t m = 0; m < count(); ++m) truths_.push_back(truth_in(guard, m));
    }
  }

  std::uint32_t count() const { return 1u << fields_.size(); }
  bool is_mode_field(FieldId f) const { return bit_[f.value] != none; }
  /// Whether a guard is another in one mode than in the next.
  bool asks_mode(GuardId guard) const { return asks_mode_[guard.value]; }

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
    for (; modes != 0; modes &= modes - 1) {
      const Truth t = truth_in(guard, static_cast<std::uint32_t>(std::countr_zero(modes)));
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
  Truth truth_in(GuardId guard, std::uint32_t mode) const { return truths_[guard.value * count() + mode]; }

  Truth truth_in(const Guard& guard, std::uint32_t mode) const {
    Truth best = Truth::never;
    for (const Clause& clause : guard.any) {
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
  std::vector<bool> asks_mode_;  ///< by guard
  std::vector<Truth> truths_;    ///< by guard and mode
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
    of_nodes_.resize(system.nodes.size());
    of_strikes_.resize(system.strikes.size());
    standing_grew_.resize(contexts);
    struck_grew_.resize(contexts);
    fields_of_.resize(system.guards.size() * modes_.count());
    find_inside();
  }

  void run() {
    for (bool changed = true; changed;) {
      changed = false;
      for (std::uint32_t s = 0; s < system_.strikes.size(); ++s)
        if (is_behind(of_strikes_[s], system_.strikes[s], s / system_.interruptions)) changed |= visit_strike(s);
      for (std::uint32_t n = 0; n < system_.nodes.size(); ++n)
        if (is_behind(n)) changed |= visit(n);
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

  /// By node, and of each by mode.
  std::vector<FieldSet> take_fields() { return std::move(live_); }

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

  void after(const Edge& e, std::uint32_t context, ModeSet modes, FieldSet& live) const {
    live = keep_;
    if (e.ends || (e.goes_back && asking_ == Asking::own)) return;
    for (std::uint32_t m = 0; m < modes_.count(); ++m)
      if (modes >> m & 1) live.add(e.goes_back ? any_standing_[index(context, m)] : live_[index(e.target.value, m)]);
  }

  // Goes through an edge from its end, once it is known in which modes each operation may find the run.
  // `dead` collects the operations that nobody reads. The answer stands until the next question.
  const FieldSet& before(const Edge& e, std::uint32_t context, bool inside, std::uint32_t mode, std::vector<bool>* dead) {
    if (modes_.truth(e.guard, 1u << mode) == Truth::never) return keep_;
    modes_on_edge_.assign(1, 1u << mode);
    for (std::uint32_t i = 0; i < e.op_count; ++i) modes_on_edge_.push_back(modes_.after(system_.ops[e.first_op + i], modes_on_edge_.back()));
    FieldSet& live = live_on_edge_;
    after(e, context, modes_on_edge_.back(), live);
    for (std::uint32_t i = e.op_count; i-- > 0;)
      if (!go_before(system_.ops[e.first_op + i], modes_on_edge_[i], inside, live) && dead) (*dead)[i] = true;
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
    if (!modes_.asks_mode(guard)) modes = 1;
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

  /// When something was looked at last, and when it grew last, by the number of the visit.
  struct Visits { std::uint32_t last = 0, grew = 0; };

  /// Whether what an edge leads to has grown since it was looked at. A node that leads to itself may do so while it is.
  bool is_behind(const Visits& own, const Edge& e, std::uint32_t context) const {
    if (own.last == 0) return true;
    if (e.ends) return false;
    return (e.goes_back ? standing_grew_[context] : of_nodes_[e.target.value].grew) >= own.last;
  }

  bool is_behind(std::uint32_t n) const {
    const Edges& edges = system_.nodes[n];
    const Visits& own = of_nodes_[n];
    if (own.last == 0) return true;
    for (std::uint32_t e = edges.first; e < edges.first + edges.count; ++e)
      if (is_behind(own, system_.edges[e], edges.context)) return true;
    return edges.may_be_struck && (struck_grew_[edges.context] >= own.last || of_nodes_[edges.struck_returns_to.value].grew >= own.last);
  }

  bool visit_strike(std::uint32_t s) {
    const std::uint32_t context = s / system_.interruptions;
    of_strikes_[s].last = ++visits_;
    bool grew = false;
    for (std::uint32_t m = 0; m < modes_.count(); ++m) grew |= struck_[index(context, m)].add(before(system_.strikes[s], context, true, m, nullptr));
    if (grew) struck_grew_[context] = visits_;
    return grew;
  }

  bool visit(std::uint32_t n) {
    of_nodes_[n].last = ++visits_;
    bool grew = false;
    for (std::uint32_t m = 0; m < modes_.count(); ++m) grew |= visit(n, m);
    if (grew) of_nodes_[n].grew = visits_;
    return grew;
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
    if (any_standing_[index(edges.context, mode)].add(live)) {
      standing_grew_[edges.context] = visits_;
      grew = true;
    }
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
  // What nothing has changed about since it was last looked at need not be looked at again.
  std::vector<Visits> of_nodes_, of_strikes_;
  std::vector<std::uint32_t> standing_grew_, struck_grew_;  ///< by context
  std::uint32_t visits_ = 0;
  std::vector<ModeSet> modes_on_edge_;  ///< of the edge that is gone through
  FieldSet live_on_edge_;
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
  const bool changes_mode = own.inside_changes_mode();
  system.asked = {modes, own.take_fields(), changes_mode};
}

}  // namespace stepward::effects
