#include "emit/graph/node_ids.hpp"

#include <algorithm>
#include <cctype>
#include <string_view>

#include <fmt/format.h>

namespace stepward::emit::step_graph {

NodeIds::NodeIds(const model::Protocol& protocol) : protocol_(protocol) {
  used_.insert("start");
  for (const model::Ending& ending : protocol.endings) endings_.push_back(unused("ending:" + nmtoken(ending.name)));
  for (const model::Interruption& interruption : protocol.interruptions) interruptions_.push_back(unused("interruption:" + nmtoken(interruption.name)));
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
    case graph::NodeKind::finish: return endings_[node.ending.value];
    case graph::NodeKind::resume: return whose + ":resume";
    case graph::NodeKind::off_the_end: return whose + ":loose_end";
    case graph::NodeKind::choice: return whose + ":choice";
  }
  return whose;
}

std::string NodeIds::of(model::InterruptionId interruption) const {
  return interruptions_[interruption.value];
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
        asked_[&statement.arms.front().condition] = unused(path + ":if_" + nmtoken(condition_key(protocol_, statement.arms.front().condition)));
      }
      for (const auto& arm : statement.arms) name_block(arm.block, path);
      break;
    case What::only_for:
    case What::together: name_block(statement.block, path); break;
    case What::repeat:
      asked_[&statement.until] = unused(path + ":until_" + nmtoken(condition_key(protocol_, statement.until)));
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

namespace {

/// A character of XML names above ASCII (XML 1.0, fifth edition, production 4a), by its first bytes: letters of all scripts, but
/// no signs, no spaces and nothing that is unseen.
bool is_name_character(std::string_view character) {
  std::uint32_t value = 0;
  for (const char c : character) value = value << 6 | (static_cast<unsigned char>(c) & 0x3F);
  if (character.size() == 2) value &= 0x7FF;
  if (character.size() == 3) value &= 0xFFFF;
  if (character.size() == 4) value &= 0x1FFFFF;
  const auto in = [&](std::uint32_t low, std::uint32_t high) { return value >= low && value <= high; };
  return value == 0xB7 || in(0xC0, 0xD6) || in(0xD8, 0xF6) || in(0xF8, 0x37D) || in(0x37F, 0x1FFF) || in(0x200C, 0x200D) || in(0x203F, 0x2040) ||
         in(0x2070, 0x218F) || in(0x2C00, 0x2FEF) || in(0x3001, 0xD7FF) || in(0xF900, 0xFDCF) || in(0xFDF0, 0xFFFD) || in(0x10000, 0xEFFFF);
}

std::size_t bytes_of_character(std::string_view at) {
  const auto byte = static_cast<unsigned char>(at[0]);
  const std::size_t length = byte >= 0xF0 ? 4 : byte >= 0xE0 ? 3 : byte >= 0xC0 ? 2 : 1;
  return std::min(length, at.size());
}

}  // namespace

std::string nmtoken(const std::string& name) {
  std::string token;
  char gap = 0;
  for (std::size_t i = 0; i < name.size();) {
    const std::string_view character = std::string_view(name).substr(i, bytes_of_character(std::string_view(name).substr(i)));
    i += character.size();
    const char c = character[0];
    if (c == '/') gap = ':';
    if (c == ' ' && gap == 0) gap = '_';
    const bool plain = character.size() == 1 && (std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '.' || c == '-' || c == '_') && static_cast<unsigned char>(c) < 0x80;
    if (!plain && (character.size() == 1 || !is_name_character(character))) continue;
    if (gap != 0 && !token.empty()) token += gap;
    gap = 0;
    token += character;
  }
  return token.empty() ? "unnamed" : token;
}

}  // namespace stepward::emit::step_graph
