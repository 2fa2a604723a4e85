#pragma once
// The trouble-free path of one variant: nothing is found, every answer is the first, nothing interrupts.
//
// Two uses. `Settled` answers a question that comes out the same on every path of the variant (the cloth hood is never
// worn where there is none), so that no paper asks it. `QuietState` is what people wear, where they are and what was
// declared while the trouble-free path is read from the top; it decides which arm of a question is the trunk.
// Neither knows touches or levels: those need the walk, and no printed question asks for a level.

#include <map>
#include <optional>
#include <set>
#include <vector>

#include "model/protocol.hpp"

namespace stepward::graph {

/// True when the condition asks for a finding or an answer: somebody has to be asked aloud.
bool asks_aloud(const model::Condition& condition);

/// The lines that this variant has, in reading order, interruptions last.
std::vector<model::LineId> lines_of(const model::Protocol& protocol, const model::Variant& variant);

/// What never changes in a variant, whatever path is taken.
class Settled {
 public:
  Settled(const model::Protocol& protocol, const model::Variant& variant);

  /// The answer that every path gives; none: paths differ, or only the bedside knows.
  std::optional<bool> answer(const model::Condition& condition) const;

 private:
  using Worn = std::map<model::RoleId, std::set<model::ItemId>>;

  std::optional<bool> answer(const model::Atom& atom) const;
  std::optional<bool> worn(model::RoleId who, const std::vector<model::ItemId>& any_of) const;
  void read(const model::Line& line);

  const model::Protocol& protocol_;
  const model::Variant& variant_;
  Worn at_start_, put_on_, taken_off_;
  std::map<model::RoleId, model::ZoneId> begins_in_;
  std::set<model::RoleId> moves_;
  std::set<model::MarkId> declared_;
  std::set<model::RecordId> recorded_;
};

/// The state of the trouble-free path before the next line.
class QuietState {
 public:
  QuietState(const model::Protocol& protocol, const model::Variant& variant);

  void apply(const model::Line& line);
  bool answer(const model::Condition& condition) const;

 private:
  bool answer(const model::Atom& atom) const;
  bool wears_any(model::RoleId who, const std::vector<model::ItemId>& any_of) const;

  const model::Protocol& protocol_;
  const model::Variant& variant_;
  std::map<model::RoleId, std::set<model::ItemId>> worn_;
  std::map<model::RoleId, model::ZoneId> in_;
  std::set<model::MarkId> declared_;
  std::set<model::RecordId> recorded_;
};

}  // namespace stepward::graph
