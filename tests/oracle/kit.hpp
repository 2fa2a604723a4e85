#pragma once
// A small kit for the oracle's own tests: a protocol built in memory, without any source text.
//
// Three zones, a wearer and a helper, two glove layers, a gown over scrubs, a mask on the face, one agent. A test
// names what each person wears, adds lines to the only phase, and asks what the walk finds.

#include <string>
#include <vector>

#include "explorer.hpp"

namespace stepward::oracle::kit {

struct Ward {
  Protocol p;

  ZoneId room{0u}, bay{1u}, lobby{2u};
  RoleId wearer{0u}, helper{1u};
  SiteId hands{0u}, face{1u}, torso{2u};
  KindId gloves{0u}, suit{1u}, mask_kind{2u}, hard{3u}, clothing{4u};
  FindingId soil{0u}, tear{1u}, gap{2u};
  ItemId scrubs{0u}, inner{1u}, outer{2u}, gown{3u}, mask{4u};
  SpotId bench{0u}, bin{1u}, patch{2u};
  AgentId rub{0u};
  TechniqueId peel{0u}, pull{1u}, wear{2u}, straps{3u};
  EndingId clear{0u}, fled{1u};
  MarkId exposure{0u};
  RecordId log{0u};
  RecipientId leader{0u};
  DecisionId fit{0u};
  BlockId main{0u};

  Ward();

  void begins(RoleId who, ZoneId zone, const std::vector<ItemId>& items);
  Line& add(VerbKind verb, RoleId who, const std::string& id, const std::vector<Thing>& things = {});
  Line& add_to(BlockId block, VerbKind verb, RoleId who, const std::string& id, const std::vector<Thing>& things = {});
  Line& off(const std::string& id, const std::vector<ItemId>& items, TechniqueId technique);
  Line& on(const std::string& id, ItemId item, TechniqueId technique = {});
  Line& disinfect(const std::string& id, const Thing& thing);
  Line& look(const std::string& id, const Thing& thing, const std::vector<FindingId>& findings);
  Line& move_to(const std::string& id, ZoneId zone);
  void finish(EndingId ending);
  void finish_in(BlockId block, EndingId ending);
  BlockId new_block();
  Statement& statement(BlockId block, Statement::What what);
  InterruptionId interruption(const std::string& name, const std::vector<Happening>& happens);

  Result walk() const;
  /// Steps of the shortest run to the finding; -1 when it is not found.
  int found(Code code, const std::string& where, const std::string& thing) const;
  std::vector<std::string> all_found() const;
};

Thing item(ItemId id, const std::string& part = {}, RoleId of = {});
Thing site(SiteId id, RoleId of = {});
Thing spot(SpotId id);
Thing hands_of_doer(RoleId of = {});
Thing person(RoleId id);

Atom asks(const Thing& thing, const std::vector<FindingId>& findings);
Condition question(const std::vector<Atom>& atoms);

Person role(RoleId id);
Person anyone();
Person that_person();
Subject subject(Subject::What what);
Subject subject(ItemId id);
Event event(Event::What what, const Person& who, const Subject& subject = {});
Events events(const std::vector<Event>& events, bool all = false);
State state(State::What what, const Person& who, const Subject& subject = {});
States states(const std::vector<State>& states);

}  // namespace stepward::oracle::kit
