#include "check/contamination.hpp"

#include <algorithm>
#include <iterator>
#include <map>
#include <set>
#include <string>

namespace stepward::check {
namespace {

using effects::Cause;
using effects::FieldId;
using effects::FieldMeaning;
using effects::Op;
using effects::OpKind;

void note_worst(std::uint32_t& kept, std::uint32_t seen) { kept = std::max(kept, seen); }

/// One edge, done anew in states that differ in what it reads.
class DoneAnew {
 public:
  DoneAnew(const QuietWalk& walk, const effects::Edge& edge) : walk_(walk), edge_(edge), values_(walk.system.fields.size()) {
    for (std::uint32_t i = 0; i < edge.op_count; ++i) note_read(op(i));
    std::sort(read_.begin(), read_.end());
    read_.erase(std::unique(read_.begin(), read_.end()), read_.end());
  }

  void in(const std::uint64_t* state, LineContamination& line) {
    std::string seen;
    for (const std::uint32_t f : read_) seen.push_back(static_cast<char>(walk_.value(state, FieldId(f))));
    if (!done_.insert(seen).second) return;
    std::fill(values_.begin(), values_.end(), 0);
    for (std::size_t i = 0; i < read_.size(); ++i) values_[read_[i]] = static_cast<unsigned char>(seen[i]);
    changes_.clear();
    for (std::uint32_t i = 0; i < edge_.op_count; ++i) apply(op(i), line);
    for (const auto& [surface, change] : changes_) settle(surface, change, line);
  }

  /// Of the surfaces that the edge may change: those that some run brings to it unclean, and those that one takes from it so.
  struct Left { std::set<MapSurface> was_unclean, stays_unclean; };
  const Left& left() const { return left_; }

 private:
  const Op& op(std::uint32_t i) const { return walk_.system.ops[edge_.first_op + i]; }

  void note_read(const Op& op) {
    for (const effects::Clause& clause : walk_.system.guards[op.guard.value].any)
      for (const effects::Test& test : clause) note_field(test.field);
    if (!effects::writes(op.kind)) return;
    note_field(op.a);
    if (effects::reads_second(op.kind)) note_field(op.b);
  }
  void note_field(FieldId f) {
    if (!walk_.system.fields[f.value].scratch) read_.push_back(f.value);
  }

  bool holds(effects::GuardId guard) const {
    const auto& any = walk_.system.guards[guard.value].any;
    return std::any_of(any.begin(), any.end(), [&](const effects::Clause& clause) {
      return std::all_of(clause.begin(), clause.end(), [&](const effects::Test& t) { return t.allowed >> values_[t.field.value] & 1; });
    });
  }

  std::uint32_t after(const Op& op) const {
    const std::uint32_t a = values_[op.a.value];
    switch (op.kind) {
      case OpKind::set: return op.value;
      case OpKind::raise: return std::max(a, op.value);
      case OpKind::lift: return std::max(a, values_[op.b.value]);
      case OpKind::lift_suspect: return std::max(a, std::min(values_[op.b.value], effects::kSuspect));
      case OpKind::copy: return values_[op.b.value];
      case OpKind::report:
      case OpKind::moment:
      case OpKind::mark: break;
    }
    return a;
  }

  void apply(const Op& op, LineContamination& line) {
    const FieldMeaning& meaning = walk_.system.fields[op.a.value].meaning;
    const bool is_level = effects::writes(op.kind) && meaning.what == FieldMeaning::What::level;
    const MapSurface surface = is_level ? MapSurface{meaning.bearer, meaning.part} : MapSurface{};
    // What the edge might have changed and did not stays as it is: that too has to be known.
    if (is_level) changes_.try_emplace(surface, Change{values_[op.a.value], values_[op.a.value], {}});
    if (!effects::writes(op.kind) || !holds(op.guard)) return;
    const std::uint32_t before = values_[op.a.value], now = after(op);
    if (is_level) {
      note_meeting(op, surface, before, line);
      note_change(walk_.system.causes[op.cause], surface, before, now, line);
    }
    values_[op.a.value] = now;
  }

  // Of the two operations of a meeting the one that writes what is met still has both levels before it.
  void note_meeting(const Op& op, const MapSurface& surface, std::uint32_t before, LineContamination& line) {
    const Cause& why = walk_.system.causes[op.cause];
    if (op.kind != OpKind::lift_suspect || why.what != Cause::What::meets || surface != MapSurface{why.second, why.second_part}) return;
    MeetingLevels& levels = line.meetings[{why.first, surface}];
    note_worst(levels.hand, values_[op.b.value]);
    note_worst(levels.met, before);
  }

  void note_change(const Cause& why, const MapSurface& surface, std::uint32_t before, std::uint32_t now, LineContamination& line) {
    Change& change = changes_.at(surface);
    // What goes on, comes off or is taken fresh is another thing than before, no dirt that came or went.
    if (why.what == Cause::What::goes_on || why.what == Cause::What::leaves || why.what == Cause::What::passed) {
      settle(surface, change, line);
      change = {now, now, {}};
      return;
    }
    if (now > before && now >= effects::kSuspect) change.why.emplace(why.what, why.first == surface.bearer ? why.second : why.first);
    change.now = now;
  }

  struct Change {
    std::uint32_t before = 0, now = 0;
    std::set<std::pair<Cause::What, effects::Bearer>> why;
  };

  /// What the edge made of a surface in all.
  void settle(const MapSurface& surface, const Change& change, LineContamination& line) {
    if (change.now > change.before && change.now >= effects::kSuspect) {
      Rise& rise = line.rises[surface];
      note_worst(rise.level, change.now);
      rise.why.insert(change.why.begin(), change.why.end());
    }
    if (change.before < effects::kSuspect) return;
    left_.was_unclean.insert(surface);
    if (change.now < effects::kSuspect) note_worst(line.falls[surface], change.now);
    else left_.stays_unclean.insert(surface);
  }

  const QuietWalk& walk_;
  const effects::Edge& edge_;
  std::vector<std::uint32_t> values_, read_;
  std::set<std::string> done_;
  std::map<MapSurface, Change> changes_;
  Left left_;
};

class MapReader {
 public:
  MapReader(const QuietWalk& walk, const model::Protocol& protocol) : walk_(walk), protocol_(protocol) {
    for (const effects::Edge& edge : walk.system.edges) edges_.emplace_back(walk, edge);
  }

  ContaminationMap read() {
    ContaminationMap out{walk_.is_complete(), walk_.result.size(), {}, {}};
    read_start(out);
    for (std::uint32_t s = 0; out.complete && s < walk_.result.size(); ++s) read_state(walk_.result.state(s), out);
    for (auto& [line, after] : at_end_) join_end(begins_[line], after, out.lines[line]);
    return out;
  }

 private:
  void read_state(const std::uint64_t* state, ContaminationMap& out) {
    const std::uint32_t node = explore::get(state, walk_.packed.node);
    note_hands(state, walk_.graph.nodes[node], out);
    for (const graph::NodeId beside : walk_.graph.nodes[node].instead) note_hands(state, walk_.graph[beside], out);
    const explore::Range edges = walk_.packed.nodes[node].edges;
    for (std::uint32_t e = edges.first; e < edges.last; ++e) {
      const graph::NodeId by = walk_.system.edges[e].by;
      if (!by || !walk_.graph[by].line || !explore::holds(walk_.packed, walk_.packed.edges[e].guard, state)) continue;
      const bool ends = walk_.graph[by].kind == graph::NodeKind::contact_end;
      if (ends) edges_[e].in(state, at_end_[walk_.graph[by].line].seen);
      else edges_[e].in(state, out.lines[walk_.graph[by].line]);
      if (ends) at_end_[walk_.graph[by].line].edges.insert(e);
      else begins_[walk_.graph[by].line].insert(e);
    }
  }

  void read_start(ContaminationMap& out) const {
    if (walk_.result.size() == 0) return;
    for (std::uint32_t f = 0; f < walk_.system.fields.size(); ++f) {
      const FieldMeaning& meaning = walk_.system.fields[f].meaning;
      if (meaning.what != FieldMeaning::What::level || walk_.system.fields[f].scratch) continue;
      if (const std::uint32_t level = walk_.value(walk_.result.state(0), FieldId(f)); level >= effects::kSuspect) note_worst(out.at_start[{meaning.bearer, meaning.part}], level);
    }
  }

  /// The end of a contact time, by itself until all of it is known.
  struct End {
    LineContamination seen;
    std::set<std::uint32_t> edges;
  };

  /// Brings the end of a contact time to the rest of its line, which `begins` with these edges.
  void join_end(const std::set<std::uint32_t>& begins, End& end, LineContamination& line) const {
    std::set<MapSurface> was_unclean, stays_unclean;
    for (const std::uint32_t e : begins) was_unclean.insert(edges_[e].left().was_unclean.begin(), edges_[e].left().was_unclean.end());
    for (const std::uint32_t e : end.edges) stays_unclean.insert(edges_[e].left().stays_unclean.begin(), edges_[e].left().stays_unclean.end());
    for (auto fall = end.seen.falls.begin(); fall != end.seen.falls.end();) {
      const auto rise = line.rises.find(fall->first);
      const bool by_itself = rise != line.rises.end() && !stays_unclean.count(fall->first);
      const bool only_so = by_itself && !was_unclean.count(fall->first);
      if (by_itself) line.rises.erase(rise);
      fall = only_so ? end.seen.falls.erase(fall) : std::next(fall);
    }
    for (const auto& [surface, level] : end.seen.falls) note_worst(line.falls[surface], level);
    for (auto& [surface, rise] : end.seen.rises) {
      note_worst(line.rises[surface].level, rise.level);
      line.rises[surface].why.insert(rise.why.begin(), rise.why.end());
    }
    for (const auto& [meeting, levels] : end.seen.meetings) {
      note_worst(line.meetings[meeting].hand, levels.hand);
      note_worst(line.meetings[meeting].met, levels.met);
    }
  }

  // During a contact time the hands are still what they were before the line.
  void note_hands(const std::uint64_t* state, const graph::Node& node, ContaminationMap& out) const {
    if (node.kind != graph::NodeKind::line) return;
    const model::RoleId doer = protocol_[node.line].who;
    for (const HandSurfaces& hand : walk_.hands) {
      if (hand.person != doer || !walk_.holds(hand.outermost.clauses(), state)) continue;
      std::uint32_t& worst = out.lines[node.line].hands[hand.layer];
      for (const HandSurfaces::Shown& shown : hand.surfaces)
        if (walk_.holds(shown.when.clauses(), state)) note_worst(worst, walk_.value(state, shown.level));
    }
  }

  const QuietWalk& walk_;
  const model::Protocol& protocol_;
  std::vector<DoneAnew> edges_;
  std::map<model::LineId, End> at_end_;                       ///< by line that has a contact time
  std::map<model::LineId, std::set<std::uint32_t>> begins_;   ///< by line: the edges at which it is done
};

}  // namespace

ContaminationMap contamination_map(const QuietWalk& walk, const model::Protocol& protocol) { return MapReader(walk, protocol).read(); }

}  // namespace stepward::check
