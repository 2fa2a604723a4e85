#pragma once
// Writes operations into edges. The physics of touch is here, each law in one function.
//
// Lowering of a line calls these laws in the order of the line's moments. A law takes a formula `when`: the layer of
// glove that the hand is, the surface that shows. Harms are asked before levels change. What a law needs to remember
// within one edge (the hand's level before a meeting) goes to scratch fields.

#include <map>
#include <set>

#include "effects/world.hpp"

namespace stepward::effects {

/// How findings are held back after the first one on a path (docs/language/meaning.md 7).
enum class HoldBack : bool { no, yes };

class Program {
 public:
  Program(World& world, System& system, HoldBack hold_back)
      : world_(world), system_(system), guards_(system.guards), hold_back_(hold_back) {}

  World& world() { return world_; }
  bool holds_back() const { return hold_back_ == HoldBack::yes; }
  System& system() { return system_; }

  /// Where the next operations belong, for reports.
  void at(graph::NodeId node, model::LineId line);
  /// Starts the operations of an edge; `end_edge` files it under the node or strike list given.
  void begin_edge(GuardId guard);
  Edge end_edge();

  GuardId guard(const Formula& f);
  std::uint32_t cause(const Cause& c);

  // Plain operations
  void set(FieldId a, std::uint32_t value, const Formula& when, const Cause& why);
  void raise(FieldId a, std::uint32_t value, const Formula& when, const Cause& why);
  void lift(FieldId a, FieldId b, const Formula& when);
  void lift_suspect(FieldId a, FieldId b, const Formula& when, const Cause& why);
  void copy(FieldId a, FieldId b, const Formula& when, const Cause& why);
  void moment(Moment m, const Formula& when);
  /// Begins or ends the clocks of a timer's bounds at the line that starts or stops it.
  void mark_timer(const model::Line& line, bool starts);

  /// A report about one thing. `held_with`: the hand or item whose dirt it speaks of; all are told once said.
  void report(Report r, const Formula& when, const std::vector<Bearer>& held_with = {});

  // Laws of touch
  struct Hand { HandLayer layer; std::vector<Reachable> surfaces; FieldId level; };
  /// The hand's layers with the highest level of each loaded into a scratch field, as they are now.
  std::vector<Hand> hands_now(model::RoleId p, const std::vector<model::ItemId>& without = {});
  /// `is_treated`: the line that the hands do disinfects the surface afterwards; its reports say so.
  void meet(const std::vector<Hand>& hands, model::RoleId doer, const SurfaceAt& s, const Formula& when, bool is_harm, bool is_treated = false);
  void rub(const SurfaceAt& a, const SurfaceAt& b, const Formula& when, Cause::What why);
  /// Raises to at most suspect from a scratch level; a clean site or clothing that rises is a harm where `is_harm`.
  void reach_from(FieldId dirt, const Bearer& from, const SurfaceAt& s, const Formula& when, Cause::What why, bool is_harm);
  /// Raises to `value`; what ends by a rise ends.
  void soil_to(const SurfaceAt& s, std::uint32_t value, const Formula& when, const Cause& why, bool suffered);
  void expose(model::RoleId p, const Formula& when, model::ZoneId zone);
  void forget_unfound(model::RoleId p, const Formula& when);

 private:
  void before_rise(const SurfaceAt& s, const Formula& rises);
  void after_rise(const SurfaceAt& s, const Formula& when);
  void harms_of_meeting(const Hand& hand, model::RoleId doer, const SurfaceAt& s, const Formula& when, bool is_treated);
  void end_overdue(const SurfaceAt& s, const Formula& when);
  void spread_told(const Bearer& from, const Bearer& to, const Formula& rises);
  bool protected_clean(const Bearer& b) const;

  World& world_;
  System& system_;
  GuardBook guards_;
  HoldBack hold_back_;
  graph::NodeId node_;
  model::LineId line_;
  std::uint32_t first_op_ = 0;
  GuardId edge_guard_;
  std::map<std::tuple<int, Bearer, Bearer>, FieldId> said_;      ///< harm already said in this line about this thing
  std::map<std::pair<Bearer, Bearer>, FieldId> handled_;         ///< hand has met this item before in this line
  std::vector<std::pair<FieldId, FieldId>> to_tell_;             ///< told field, and the scratch that says so
};

/// The code and thing of a report, for those that need only that.
Report about(diagnostics::Code code, const Bearer& thing);

}  // namespace stepward::effects
