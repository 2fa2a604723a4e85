#include "check/contamination.hpp"

#include <algorithm>
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
    for (std::uint32_t i = 0; i < edge_.op_count; ++i) apply(op(i), line);
  }

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
    if (!effects::writes(op.kind) || !holds(op.guard)) return;
    const std::uint32_t before = values_[op.a.value], now = after(op);
    const FieldMeaning& meaning = walk_.system.fields[op.a.value].meaning;
    if (meaning.what == FieldMeaning::What::level) {
      const MapSurface surface{meaning.bearer, meaning.part};
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

  static void note_change(const Cause& why, const MapSurface& surface, std::uint32_t before, std::uint32_t now, LineContamination& line) {
    // What goes on, comes off or is taken fresh is another thing than before, no dirt that came or went.
    if (why.what == Cause::What::goes_on || why.what == Cause::What::leaves || why.what == Cause::What::passed) return;
    if (now > before && now >= effects::kSuspect) {
      Rise& rise = line.rises[surface];
      note_worst(rise.level, now);
      rise.why.emplace(why.what, why.first == surface.bearer ? why.second : why.first);
    }
    if (before >= effects::kSuspect && now < effects::kSuspect) note_worst(line.falls[surface], now);
  }

  const QuietWalk& walk_;
  const effects::Edge& edge_;
  std::vector<std::uint32_t> values_, read_;
  std::set<std::string> done_;
};

class MapReader {
 public:
  MapReader(const QuietWalk& walk, const model::Protocol& protocol) : walk_(walk), protocol_(protocol) {
    for (const effects::Edge& edge : walk.system.edges) edges_.emplace_back(walk, edge);
  }

  ContaminationMap read() {
    ContaminationMap out{walk_.is_complete(), walk_.result.size(), {}};
    for (std::uint32_t s = 0; out.complete && s < walk_.result.size(); ++s) read_state(walk_.result.state(s), out);
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
      edges_[e].in(state, out.lines[walk_.graph[by].line]);
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
};

}  // namespace

ContaminationMap contamination_map(const QuietWalk& walk, const model::Protocol& protocol) { return MapReader(walk, protocol).read(); }

}  // namespace stepward::check
