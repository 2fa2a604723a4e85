#pragma once
// Every run of one variant that nothing interrupts, with nothing forgotten and no rule asked: what is read off afterwards.
//
// The walk of a verdict forgets what no later line can ask and may share its states with other variants; of the level of
// an apron that lies in the bin it keeps nothing. Whoever wants to show how far dirt came, step by step, needs a walk that
// keeps it. Interruptions are left out, since they would multiply what is kept; and a run goes on behind a mistake, so that a
// draft with errors can be shown to its end.
//
// `system` is what the walk was packed from, before it was simplified: its operations still name their causes. Fields and
// edges have the same numbers in `packed`. Owned by whoever asked; the graph points into the protocol.

#include "effects/system.hpp"
#include "effects/world.hpp"
#include "explore/walk.hpp"

namespace stepward::check {

/// What a person may touch with: a layer, when it is the outermost, and what shows of it.
struct HandSurfaces {
  model::RoleId person;
  effects::Bearer layer;
  effects::Formula outermost;
  struct Shown { effects::FieldId level; effects::Formula when; };
  std::vector<Shown> surfaces;
};

struct QuietWalk {
  graph::Graph graph;
  effects::System system;
  explore::Packed packed;
  explore::Result result;
  std::vector<HandSurfaces> hands;

  bool is_complete() const { return result.complete && packed.fits; }
  /// A field's value in a state; one that no run ever changes takes no room there.
  std::uint32_t value(const std::uint64_t* state, effects::FieldId field) const {
    const explore::Slot slot = packed.fields[field.value];
    return slot.mask ? explore::get(state, slot) : system.fields[field.value].initial;
  }
  bool holds(const effects::Clauses& any, const std::uint64_t* state) const;
};

/// `limit`: states that it may hold. `workers`: threads.
QuietWalk quiet_walk(const model::Protocol& protocol, const model::Variant& variant, std::uint64_t limit, unsigned workers);

}  // namespace stepward::check
