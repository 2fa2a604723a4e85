#include <fmt/format.h>

#include "driver/dumps.hpp"
#include "emit/graph/step_graph.hpp"
#include "model/variants.hpp"

namespace stepward::driver {
namespace {

template <class T>
void put_names(const char* what, const std::vector<T>& things, std::string& text) {
  if (things.empty()) return;
  text += fmt::format("{} ({}):", what, things.size());
  for (const T& thing : things) text += fmt::format(" {};", thing.name);
  text += '\n';
}

void put_items(const model::Protocol& protocol, std::string& text) {
  for (const model::Item& item : protocol.items) {
    text += fmt::format("item {}\n  on", item.name);
    for (const model::SiteId site : item.worn_on) text += ' ' + protocol[site].name + ';';
    text += "\n  surfaces";
    for (const model::Surface& surface : item.surfaces) {
      const char* reach = surface.reach == model::Reach::exposed ? "exposed" : surface.reach == model::Reach::inside ? "inside" : "sheltered";
      text += fmt::format(" {} ({});", surface.name, reach);
    }
    text += '\n';
    for (const model::Cover& cover : item.goes_over) {
      text += "  over ";
      if (cover.item && cover.part) text += protocol[cover.item].surfaces[*cover.part].name + " of ";
      text += (cover.item ? protocol[cover.item].name : protocol[cover.site].name) + (cover.loosely ? ", loosely\n" : "\n");
    }
  }
}

void put_block(const model::Protocol& protocol, model::BlockId id, std::size_t depth, std::string& text) {
  if (!id) return;
  const std::string margin(2 * depth, ' ');
  for (const model::Statement& statement : protocol[id].statements) {
    switch (statement.what) {
      case model::Statement::What::line:
        text += fmt::format("{}{}  [{}]\n", margin, line_name(protocol, {}, statement.line), protocol[statement.line].id);
        break;
      case model::Statement::What::question:
        for (const auto& arm : statement.arms) {
          text += fmt::format("{}{} ({} {})\n", margin, arm.is_otherwise ? "otherwise" : "if", arm.condition.atoms.size(),
                              arm.condition.atoms.size() == 1 ? "question" : "questions");
          put_block(protocol, arm.block, depth + 1, text);
        }
        break;
      case model::Statement::What::only_for:
        text += fmt::format("{}only for {} chosen values\n", margin, statement.only_for.size());
        put_block(protocol, statement.block, depth + 1, text);
        break;
      case model::Statement::What::repeat:
        text += fmt::format("{}repeat at most {} times\n", margin, statement.at_most);
        put_block(protocol, statement.block, depth + 1, text);
        text += margin + "if still not\n";
        put_block(protocol, statement.fallback, depth + 1, text);
        break;
      case model::Statement::What::call:
        text += fmt::format("{}do {}\n", margin, protocol[statement.routine].name);
        put_block(protocol, statement.block, depth + 1, text);
        break;
      case model::Statement::What::together:
        text += margin + "together\n";
        put_block(protocol, statement.block, depth + 1, text);
        break;
      case model::Statement::What::finish: text += fmt::format("{}finish as {}\n", margin, protocol[statement.ending].name); break;
      case model::Statement::What::resume: text += margin + "resume\n"; break;
    }
  }
}

}  // namespace

std::string line_name(const model::Protocol& protocol, const model::Variant& variant, model::LineId id) {
  const model::Line& line = protocol[id];
  std::string text = protocol[line.who].name + ' ' + std::string(emit::step_graph::name_of(line.verb));
  for (const model::Thing& thing : line.things) {
    const model::ItemId item = model::item_of(protocol, thing, variant);
    text += ' ';
    if (!thing.part.empty()) text += thing.part + " of ";
    if (item) text += protocol[item].name;
    else if (thing.what == model::Thing::What::choice) text += protocol[thing.choice].name;
    else if (thing.what == model::Thing::What::site) text += protocol[thing.site].name;
    else if (thing.what == model::Thing::What::spot) text += protocol[thing.spot].name;
    else if (thing.what == model::Thing::What::supply) text += protocol[thing.supply].name;
    else if (thing.what == model::Thing::What::hands) text += "hands";
    else if (thing.what == model::Thing::What::role) text += protocol[thing.role].name;
  }
  if (line.agent) text += " with " + protocol[line.agent].name;
  if (line.technique) text += " using " + protocol[line.technique].name;
  if (line.zone) text += " to " + protocol[line.zone].name;
  return text;
}

std::string dump_model(const Compilation& made) {
  const model::Protocol& protocol = *made.protocol;
  std::string text = fmt::format("{} version {}: {}\n", protocol.document.number, protocol.document.version, protocol.document.title);
  put_names("zones", protocol.zones, text);
  put_names("roles", protocol.roles, text);
  put_names("body sites", protocol.sites, text);
  put_names("kinds", protocol.kinds, text);
  put_names("findings", protocol.findings, text);
  put_names("fixtures and surfaces", protocol.spots, text);
  put_names("supplies", protocol.supplies, text);
  put_names("agents", protocol.agents, text);
  put_names("techniques", protocol.techniques, text);
  put_names("endings", protocol.endings, text);
  put_names("decisions", protocol.decisions, text);
  put_names("declared", protocol.marks, text);
  put_names("recorded", protocol.records, text);
  put_names("rules", protocol.rules, text);
  put_items(protocol, text);
  for (const model::Copy& copy : protocol.copies) text += fmt::format("copies {} of {} at {}\n", copy.count, copy.paper, copy.place);
  for (const model::Phase& phase : protocol.phases) {
    text += fmt::format("phase {}\n", phase.name);
    put_block(protocol, phase.block, 1, text);
  }
  for (const model::Interruption& interruption : protocol.interruptions) {
    text += fmt::format("any time {}\n", interruption.name);
    put_block(protocol, interruption.block, 1, text);
  }
  return text;
}

}  // namespace stepward::driver
