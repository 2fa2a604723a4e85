#include "emit/slips/slip_words.hpp"

#include <fmt/format.h>

#include "wording/slips.hpp"

namespace stepward::emit {

using slips::Catch;
using slips::Outcome;

std::string slip_name(const slips::Row& row) { return std::string(wording::slip_name(row.key.kind)); }

std::string steps_in_words(const slips::Row& row) { return row.steps.empty() ? "" : fmt::format(" ({})", fmt::join(row.steps, ", ")); }

std::string catch_name(Catch::By by) {
  switch (by) {
    case Catch::By::confirm: return "a confirm";
    case Catch::By::look: return "a look";
    case Catch::By::question: return "a question that nobody can answer";
    case Catch::By::cannot_be_done: return "a line that cannot be done";
    case Catch::By::ending: return "the ending";
  }
  return "";
}

std::string outcome_name(Outcome outcome) {
  switch (outcome) {
    case Outcome::harm: return "harm";
    case Outcome::caught: return "caught";
    case Outcome::harmless: return "harmless";
    case Outcome::not_modelled: return "not in the model";
  }
  return "";
}

std::string answer_standing(const model::AnsweredSlip& said) { return (said.is_over ? "over since " : "until ") + said.agreement.until; }

std::string answered_by(const model::AnsweredSlip& said) {
  const model::Signature& by = said.agreement.by;
  return by.office.empty() ? by.name : by.name + ", " + by.office;
}

std::vector<std::string> what_was_tried(const slips::Table& table) {
  return {
      fmt::format("Tried with {} a run on every run as written, {}.", table.at_once == 1 ? "one slip" : "up to two slips",
                  table.interruptions ? "with what may happen at any time" : "without what may happen at any time"),
      "A confirm counts as a check where the line says what to watch for: not for what comes too early, and for a time that is not kept only",
      "where another person's timer runs. Looks see soil and tears, not invisible dirt.",
      "What is not waited for stays wet until it is touched, or until its person waits as long at something else.",
      "A gap in the clothing that a look misses, and words that are left unsaid, are not in the model.",
      table.complete ? "Every slip was followed to its end." : "NOT every slip was followed to its end: the limit was reached (--limit).",
      "It says what a slip could lead to, not how often; local policy, product labels and licensed practice decide.",
  };
}

}  // namespace stepward::emit
