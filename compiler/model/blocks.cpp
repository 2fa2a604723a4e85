#include "model/blocks.hpp"

namespace stepward::model {

std::vector<bool> blocks_within(const Protocol& protocol, const std::vector<BlockId>& outer) {
  std::vector<bool> within(protocol.blocks.size(), false);
  std::vector<BlockId> open = outer;
  while (!open.empty()) {
    const BlockId id = open.back();
    open.pop_back();
    if (!id || within[id.value]) continue;
    within[id.value] = true;
    for (const Statement& statement : protocol[id].statements) {
      for (const Statement::Arm& arm : statement.arms) open.push_back(arm.block);
      open.push_back(statement.block);
      open.push_back(statement.fallback);
    }
  }
  return within;
}

}  // namespace stepward::model
