#include "graph/line_key.hpp"

#include <fmt/format.h>

#include "model/variants.hpp"

namespace stepward::graph {

using model::Protocol;
using model::Statement;
using model::Thing;
using model::Variant;

namespace {

void add(std::string& key, const Thing& thing) {
  key += fmt::format("[{} {} {} {} {} {} {} {} {} {}]", static_cast<int>(thing.what), thing.item.value,
                     thing.choice.value, thing.kind.value, thing.site.value, thing.spot.value, thing.supply.value,
                     thing.role.value, thing.of.value, thing.part);
}

void add(std::string& key, const model::Condition& condition) {
  key += condition.all ? "all" : "any";
  for (const auto& atom : condition.atoms) {
    key += fmt::format("({} {} {} {} {} {} {} {}", static_cast<int>(atom.what), atom.negated, atom.who.value,
                       atom.decision.value, static_cast<int>(atom.answer), atom.mark.value, atom.record.value, atom.zone.value);
    for (const auto finding : atom.findings) key += fmt::format(" {}", finding.value);
    add(key, atom.thing);
    key += ')';
  }
}

void add(std::string& key, const model::Details& d) {
  for (const auto* text : {&d.critical_because, &d.say, &d.watch, &d.if_not, &d.warning, &d.note, &d.because}) {
    key += '"';
    key += *text;
  }
}

void add(std::string& key, const model::Line& line) {
  key += fmt::format("<{} {} {} {} {} {} {} {} {} {} {} {} {} {} {} {} ", static_cast<int>(line.verb), line.who.value,
                     line.of.value, line.together, line.technique.value, line.agent.value, line.without_waiting,
                     line.decision.value, line.mark.value, line.recipient.value, line.text, line.count, line.to.value,
                     line.zone.value, line.wait.seconds, line.wait_contact_time);
  for (const auto finding : line.findings) key += fmt::format("f{} ", finding.value);
  for (const auto record : line.records) key += fmt::format("r{} ", record.value);
  for (const auto& thing : line.things) add(key, thing);
  add(key, line.details);
  key += line.in_rhythm ? ">" : "!>";
}

void add_block(std::string& key, const Protocol& protocol, const Variant& variant, model::BlockId block);

void add(std::string& key, const Protocol& protocol, const Variant& variant, const Statement& statement) {
  switch (statement.what) {
    case Statement::What::line:
      if (model::holds(protocol[statement.line].only_for, variant)) add(key, protocol[statement.line]);
      break;
    case Statement::What::question:
      for (const auto& arm : statement.arms) {
        key += arm.is_otherwise ? "else" : "if";
        add(key, arm.condition);
        add_block(key, protocol, variant, arm.block);
      }
      break;
    case Statement::What::only_for:
      if (model::holds(statement.only_for, variant)) add_block(key, protocol, variant, statement.block);
      break;
    case Statement::What::repeat:
      key += fmt::format("repeat {}", statement.at_most);
      add_block(key, protocol, variant, statement.block);
      add(key, statement.until);
      add_block(key, protocol, variant, statement.fallback);
      break;
    case Statement::What::call: add_block(key, protocol, variant, statement.block); break;
    case Statement::What::finish: key += fmt::format("finish {};", statement.ending.value); break;
    case Statement::What::resume: key += "resume;"; break;
  }
}

void add_block(std::string& key, const Protocol& protocol, const Variant& variant, model::BlockId block) {
  key += '{';
  if (block) {
    for (const Statement& statement : protocol[block].statements) add(key, protocol, variant, statement);
  }
  key += '}';
}

}  // namespace

std::string block_key(const Protocol& protocol, const Variant& variant, model::BlockId block) {
  std::string key;
  add_block(key, protocol, variant, block);
  return key;
}

}  // namespace stepward::graph
