#include "graph/line_key.hpp"

#include <fmt/format.h>

#include "model/variants.hpp"
#include "wording/step_text.hpp"

namespace stepward::graph {

using model::Line;
using model::Protocol;
using model::Statement;
using model::Thing;
using model::Variant;

namespace {

/// Adds to a key; `named` things are "it" wherever they stand.
class Key {
 public:
  Key(const Protocol& protocol, const Variant& variant, const std::vector<Thing>& named)
      : protocol_(protocol), variant_(variant), named_(named) {}

  void add(model::BlockId block) {
    key_ += '{';
    if (block) {
      for (const Statement& statement : protocol_[block].statements) add(statement);
    }
    key_ += '}';
  }
  std::string text() { return std::move(key_); }

 private:
  void add(const Thing& thing) {
    for (std::size_t i = 0; i < named_.size(); ++i) {
      if (!wording::same_thing(named_[i], thing)) continue;
      key_ += fmt::format("[it {}]", i);
      return;
    }
    key_ += fmt::format("[{} {} {} {} {} {} {} {} {} {}]", static_cast<int>(thing.what), thing.item.value,
                        thing.choice.value, thing.kind.value, thing.site.value, thing.spot.value, thing.supply.value,
                        thing.role.value, thing.of.value, thing.part);
  }

  void add(const model::Condition& condition) {
    key_ += condition.all ? "all" : "any";
    for (const auto& atom : condition.atoms) {
      key_ += fmt::format("({} {} {} {} {} {} {} {}", static_cast<int>(atom.what), atom.negated, atom.who.value,
                          atom.decision.value, static_cast<int>(atom.answer), atom.mark.value, atom.record.value,
                          atom.zone.value);
      for (const auto finding : atom.findings) key_ += fmt::format(" {}", finding.value);
      add(atom.thing);
      key_ += ')';
    }
  }

  /// Two lines may be alike in the model and still read differently, where the library words them by kind of thing.
  void add_words(const Line& line) {
    const wording::StepText text = wording::step_text(protocol_, variant_, line, {{}, named_});
    for (const auto* each : {&text.words, &text.spoken, &text.watch, &text.if_not, &text.warning,
                             &line.details.critical_because, &line.details.note, &line.details.because}) {
      key_ += '"';
      key_ += *each;
    }
  }

  void add(const Line& line) {
    key_ += fmt::format("<{} {} {} {} {} {} {} {} {} {} {} {} {} {} {} {} {} {} {} ", static_cast<int>(line.verb),
                        line.who.value, line.of.value, line.together, line.technique.value, line.agent.value,
                        line.without_waiting, line.decision.value, line.mark.value, line.recipient.value, line.text,
                        line.count, line.to.value, line.zone.value, line.wait.seconds, line.wait_contact_time,
                        line.timer.value, line.at_least.value_or(model::Duration{}).seconds,
                        line.at_most.value_or(model::Duration{}).seconds);
    for (const auto finding : line.findings) key_ += fmt::format("f{} ", finding.value);
    for (const auto record : line.records) key_ += fmt::format("r{} ", record.value);
    for (const auto& thing : line.things) add(thing);
    add_words(line);
    key_ += '>';  // whether it is repeated back changes nothing of what is done
  }

  void add(const Statement& statement) {
    switch (statement.what) {
      case Statement::What::line:
        if (model::holds(protocol_[statement.line].only_for, variant_)) add(protocol_[statement.line]);
        break;
      case Statement::What::question:
        for (const auto& arm : statement.arms) {
          key_ += arm.is_otherwise ? "else" : "if";
          add(arm.condition);
          add(arm.block);
        }
        break;
      case Statement::What::only_for:
        if (model::holds(statement.only_for, variant_)) add(statement.block);
        break;
      case Statement::What::repeat:
        key_ += fmt::format("repeat {}", statement.at_most);
        add(statement.block);
        add(statement.until);
        add(statement.fallback);
        break;
      case Statement::What::call: add(statement.block); break;
      case Statement::What::together:
        key_ += "together";
        add(statement.block);
        break;
      case Statement::What::finish: key_ += fmt::format("finish {};", statement.ending.value); break;
      case Statement::What::resume: key_ += "resume;"; break;
    }
  }

  const Protocol& protocol_;
  const Variant& variant_;
  const std::vector<Thing>& named_;
  std::string key_;
};

}  // namespace

std::string block_key(const Protocol& protocol, const Variant& variant, model::BlockId block,
                      const std::vector<Thing>& named) {
  Key key(protocol, variant, named);
  key.add(block);
  return key.text();
}

}  // namespace stepward::graph
