#include "emit/graph/node_ids.hpp"

#include <cctype>

#include <fmt/format.h>

namespace stepward::emit::step_graph {

NodeIds::NodeIds(const model::Protocol& protocol) : protocol_(protocol) {
  for (const model::Phase& phase : protocol.phases) name_block(phase.block, nmtoken(phase.name));
  for (const model::Interruption& interruption : protocol.interruptions) {
    name_block(interruption.block, nmtoken("any time " + interruption.name));
  }
}

std::string NodeIds::of(const graph::Node& node) const {
  const std::string whose = node.handler ? of(node.handler) : std::string("protocol");
  switch (node.kind) {
    case graph::NodeKind::line:
    case graph::NodeKind::contact_end: return lines_.at(node.line.value);
    case graph::NodeKind::question: return node.arms.empty() ? whose + ":question" : asked_.at(node.arms.front().condition);
    case graph::NodeKind::loop_test: return asked_.at(node.until);
    case graph::NodeKind::finish: return "ending:" + nmtoken(protocol_[node.ending].name);
    case graph::NodeKind::resume: return whose + ":resume";
    case graph::NodeKind::off_the_end: return whose + ":loose_end";
  }
  return whose;
}

std::string NodeIds::of(model::InterruptionId interruption) const {
  return "interruption:" + nmtoken(protocol_[interruption].name);
}

void NodeIds::name_block(model::BlockId block, const std::string& path) {
  if (!block) return;
  for (const model::Statement& statement : protocol_[block].statements) name_statement(statement, path);
}

// Blocks nest at most 64 deep, so the calls below do.
void NodeIds::name_statement(const model::Statement& statement, const std::string& path) {
  using What = model::Statement::What;
  switch (statement.what) {
    case What::line: lines_[statement.line.value] = unused(nmtoken(protocol_[statement.line].id)); break;
    case What::question:
      if (!statement.arms.empty()) {
        asked_[&statement.arms.front().condition] = unused(fmt::format("{}:question_{}", path, ++counts_[path + "?"]));
      }
      for (const auto& arm : statement.arms) name_block(arm.block, path);
      break;
    case What::only_for:
    case What::together: name_block(statement.block, path); break;
    case What::repeat:
      asked_[&statement.until] = unused(fmt::format("{}:repeat_{}", path, ++counts_[path + "*"]));
      name_block(statement.block, path);
      name_block(statement.fallback, path);
      break;
    case What::call: {
      const std::string called = path + ':' + nmtoken(protocol_[statement.routine].name);
      const std::uint32_t times = ++counts_[called + "()"];
      name_block(statement.block, times == 1 ? called : fmt::format("{}_{}", called, times));
      break;
    }
    case What::finish:
    case What::resume: break;
  }
}

std::string NodeIds::unused(const std::string& wanted) {
  std::string id = wanted;
  for (int copy = 2; !used_.insert(id).second; ++copy) id = fmt::format("{}.{}", wanted, copy);
  return id;
}

std::string nmtoken(const std::string& name) {
  std::string token;
  char gap = 0;
  for (const char c : name) {
    const auto byte = static_cast<unsigned char>(c);
    if (c == '/') gap = ':';
    if (c == ' ' && gap == 0) gap = '_';
    if (byte < 0x80 && !std::isalnum(byte) && c != '.' && c != '-' && c != '_') continue;
    if (gap != 0 && !token.empty()) token += gap;
    gap = 0;
    token += c;
  }
  return token.empty() ? "unnamed" : token;
}

}  // namespace stepward::emit::step_graph
