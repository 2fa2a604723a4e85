#pragma once
// A small protocol made by hand, for the tests of numbering, wording and paper: no grammar, no library needed.
//
// The exit of an invented bay: one pair of gloves over another, an apron, a look with two findings, a loop with a
// fallback, a routine called twice, a decision, a helper's line, one interruption that resumes and one that does not.

#include <string>
#include <vector>

#include "model/protocol.hpp"

namespace stepward::test {

struct PaperProtocol {
  model::Protocol protocol;

  // roles
  model::RoleId wearer{0u}, observer{1u}, helper{2u};
  // items
  model::ItemId inner{0u}, outer{1u}, apron{2u}, visor{3u}, goggles{4u};

  PaperProtocol();

  model::Thing item(model::ItemId id, std::string part = {}) const;
  model::Thing hands() const;
  model::Line line(model::VerbKind verb, model::RoleId who, std::vector<model::Thing> things = {}) const;
  model::Statement add(model::Line line);
  model::BlockId block(std::vector<model::Statement> statements);
  model::Condition found(model::FindingId finding, model::Thing thing, bool negated = false) const;
  model::Condition worn(model::ItemId id) const;
  model::Statement question(model::Condition condition, model::BlockId yes, model::BlockId no = {}) const;
  model::Statement call(model::RoutineId routine, model::BlockId block) const;
  model::Statement finish(model::EndingId ending) const;

 private:
  void declare();
  void word();
  model::BlockId clear_soil(model::Thing thing);
  model::BlockId change_gloves();
  void write_phases();
  void write_interruptions();
};

}  // namespace stepward::test
