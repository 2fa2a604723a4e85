#include "graph/block_survey.hpp"

#include "graph/line_key.hpp"
#include "model/variants.hpp"

namespace stepward::graph {

using model::BlockId;
using model::Statement;

template <class See>
void BlockSurvey::each_statement(BlockId id, const See& see) const {
  if (!id) return;
  for (const Statement& statement : protocol_[id].statements) {
    if (statement.what == Statement::What::only_for && !model::holds(statement.only_for, variant_)) continue;
    see(statement);
    for (const auto& arm : statement.arms) each_statement(arm.block, see);
    each_statement(statement.block, see);
    each_statement(statement.fallback, see);
  }
}

BlockSurvey::BlockSurvey(const model::Protocol& protocol, const model::Variant& variant)
    : protocol_(protocol), variant_(variant) {
  const auto see = [&](const Statement& statement) { note(statement); };
  for (const auto& phase : protocol.phases) each_statement(phase.block, see);
  for (const auto& interruption : protocol.interruptions) each_statement(interruption.block, see);
}

void BlockSurvey::note(const Statement& statement) {
  if (statement.what != Statement::What::call) return;
  const std::string plain = block_key(protocol_, variant_, statement.block, {});
  Calls& calls = calls_[statement.arguments.empty() ? plain : block_key(protocol_, variant_, statement.block, statement.arguments)];
  ++calls.count;
  calls.wordings.insert(plain);
  if (statement.block) of_block_[statement.block.value] = &calls;
}

const BlockSurvey::Calls& BlockSurvey::calls_like(const Statement& call) const {
  static const Calls never;
  const auto found = call.block ? of_block_.find(call.block.value) : of_block_.end();
  return found == of_block_.end() ? never : *found->second;
}

std::size_t BlockSurvey::count_lines(BlockId id) const {
  std::size_t lines = 0;
  each_statement(id, [&](const Statement& statement) {
    lines += statement.what == Statement::What::line && model::holds(protocol_[statement.line].only_for, variant_);
  });
  return lines;
}

bool BlockSurvey::has_anything(BlockId id) const {
  bool any = false;
  each_statement(id, [&](const Statement& statement) {
    any = any || statement.what == Statement::What::finish || statement.what == Statement::What::resume;
  });
  return any || count_lines(id) > 0;
}

const Statement* BlockSurvey::sole_call(BlockId id) const {
  const Statement* found = nullptr;
  for (const Statement& statement : protocol_[id].statements) {
    if (statement.what == Statement::What::only_for && !model::holds(statement.only_for, variant_)) continue;
    if (found || statement.what != Statement::What::call) return nullptr;
    found = &statement;
  }
  return found;
}

}  // namespace stepward::graph
