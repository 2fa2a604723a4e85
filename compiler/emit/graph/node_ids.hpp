#pragma once
// Ids for the nodes of a step graph; see step_graph.hpp for what they are made from.

#include <map>
#include <set>
#include <string>
#include <vector>

#include "graph/graph.hpp"
#include "model/protocol.hpp"

namespace stepward::emit::step_graph {

class NodeIds {
 public:
  explicit NodeIds(const model::Protocol& protocol);

  /// The id of a node; several nodes that end or resume in the same way share one.
  std::string of(const graph::Node& node) const;
  std::string of(model::InterruptionId interruption) const;
  std::string of(model::LineId line) const { return lines_.at(line.value); }
  /// Of a question by its first condition, of a loop by its `until`, as they stand in the protocol.
  std::string of(const model::Condition& asked) const { return asked_.at(&asked); }

 private:
  void name_block(model::BlockId block, const std::string& path);
  void name_statement(const model::Statement& statement, const std::string& path);
  std::string unused(const std::string& wanted);

  const model::Protocol& protocol_;
  std::set<std::string> used_;
  std::map<std::string, std::uint32_t> counts_;
  std::map<std::uint32_t, std::string> lines_;
  std::vector<std::string> endings_, interruptions_;
  std::map<const model::Condition*, std::string> asked_;  ///< a question by its first condition, a loop by its `until`
};

/// What a question asks in the names of the source, such as "soil or tear on suit choice": the same for every variant and
/// whatever things are called on paper.
std::string condition_key(const model::Protocol& protocol, const model::Condition& condition);

/// The name in the source of a thing that may still be a choice.
std::string thing_key(const model::Protocol& protocol, const model::Thing& thing);

/// Letters, digits, `.`, `-`, `_` and `:` of a name; spaces become `_`, the steps of a path `:`, and
/// everything else that an NMTOKEN of XML cannot hold is left out.
std::string nmtoken(const std::string& name);

}  // namespace stepward::emit::step_graph
