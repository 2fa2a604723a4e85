#pragma once
// Does a moment of the world match an event that a rule names, and what does a state of a rule say of the world?

#include "effects/world.hpp"

namespace stepward::rules {

/// What the first event of a rule bound: a person, an item of somebody, both or nothing.
struct Binding {
  model::RoleId person;
  model::ItemId item;  ///< without its owner
};

/// Which bindings a rule needs at all.
struct Binds { bool person = false, item = false; };
Binds binds(const model::Rule& rule);

/// A moment that is what its line does, and not one that only comes with it: a touch, a finding, a strike, an ending.
bool is_own_event(model::Event::What moment);

/// Whether a moment of this kind can be the event at all, by its kind alone.
bool may_match(const model::Event& event, model::Event::What moment);

class Matcher {
 public:
  Matcher(const model::Protocol& protocol, effects::World& world) : protocol_(protocol), world_(world) {}

  /// When the moment is this event, under the binding. Never: it cannot be.
  effects::Formula matches(const model::Event& event, const effects::Moment& moment, const Binding& binding) const;
  /// The same for the first event of a rule, which must bind just this.
  effects::Formula binds_here(const model::Event& event, const effects::Moment& moment, const Binding& binding) const;
  effects::Formula holds(const model::States& states, const Binding& binding) const;
  bool person_is(const model::Person& person, model::RoleId who, const Binding& binding) const;
  std::vector<Binding> bindings(const model::Rule& rule) const;

 private:
  effects::Formula subject(const model::Event& event, const effects::Moment& moment, const Binding& binding) const;
  effects::Formula thing_is(const model::Subject& subject, const effects::Bearer& thing, std::uint8_t part, model::RoleId doer,
                            const Binding& binding) const;
  bool item_is(const model::Subject& subject, const effects::Bearer& thing, const Binding& binding) const;
  effects::Formula state(const model::State& state, const Binding& binding) const;
  std::vector<effects::Bearer> bearers(const model::Subject& subject, model::RoleId person, const Binding& binding) const;
  effects::Formula quality(const model::State& state, const effects::Bearer& bearer) const;
  model::RoleId person_of(const model::State& state, const Binding& binding) const;

  const model::Protocol& protocol_;
  effects::World& world_;
};

}  // namespace stepward::rules
