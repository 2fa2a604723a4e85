#pragma once
// What the numbering has to know of blocks before it numbers them: how long they are, and which are called again.
//
// Made once for a variant. Lines and blocks that the variant leaves out do not count.

#include <map>
#include <set>
#include <string>

#include "model/protocol.hpp"

namespace stepward::graph {

class BlockSurvey {
 public:
  BlockSurvey(const model::Protocol& protocol, const model::Variant& variant);

  /// Calls that read the same but for what they name: how many, and in how many wordings.
  struct Calls {
    std::size_t count = 0;
    std::set<std::string> wordings;
  };
  const Calls& calls_like(const model::Statement& call) const;

  /// Action lines of a block and everything in it.
  std::size_t count_lines(model::BlockId id) const;
  /// True when a reader would see anything of it.
  bool has_anything(model::BlockId id) const;
  /// The call that a block consists of; none if it holds anything else.
  const model::Statement* sole_call(model::BlockId id) const;

 private:
  template <class See>
  void each_statement(model::BlockId id, const See& see) const;
  void note(const model::Statement& statement);

  const model::Protocol& protocol_;
  const model::Variant& variant_;
  std::map<std::string, Calls> calls_;
  std::map<std::uint32_t, const Calls*> of_block_;  ///< a called block is one call's own, and its key is dear
};

}  // namespace stepward::graph
