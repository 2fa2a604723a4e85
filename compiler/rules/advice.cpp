#include "rules/advice.hpp"

namespace stepward::rules {

model::Protocol with_rules_as_advice(const model::Protocol& protocol) {
  model::Protocol out = protocol;
  for (model::Rule& rule : out.rules) rule.severity = model::Severity::advisory;
  return out;
}

}  // namespace stepward::rules
