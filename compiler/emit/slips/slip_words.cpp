#include "emit/slips/slip_words.hpp"

#include <algorithm>
#include <iterator>

#include <fmt/format.h>

#include "wording/slips.hpp"

namespace stepward::emit {

using slips::Catch;
using slips::Outcome;

std::string slip_name(const slips::Row& row) { return std::string(wording::slip_name(row.key.kind)); }

std::string steps_in_words(const slips::Row& row) { return row.steps.empty() ? "" : fmt::format(" ({})", fmt::join(row.steps, ", ")); }

std::string steps_on_card(const slips::Row& row, std::size_t variant) {
  const auto before = row.before_in.find(variant);
  const std::string passed = before == row.before_in.end() ? "" : fmt::format(", before ({})", fmt::join(before->second, ", "));
  const auto here = row.steps_in.find(variant);
  if (here == row.steps_in.end() || here->second.size() == row.steps.size()) return steps_in_words(row) + passed;
  std::vector<std::string> others;
  std::copy_if(row.steps.begin(), row.steps.end(), std::back_inserter(others), [&](const std::string& step) { return here->second.count(step) == 0; });
  return fmt::format(" ({}; on other cards {}){}", fmt::join(here->second, ", "), fmt::join(others, ", "), passed);
}

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

std::string reach_in_words(const slips::Table& table) {
  std::string out = fmt::format("NOT every slip was followed to its end: the limit of {} states was reached (--limit).", table.limit);
  if (table.not_walked > 0) out += fmt::format(" In {} of {} variants the runs without slips alone are more, and none was tried.", table.not_walked, table.variants.size());
  constexpr const char* kinds[] = {"single slips", "pairs", "sets of three"};
  std::vector<std::string> parts;
  for (std::size_t k = 0; k < table.at_once; ++k)
    parts.push_back(fmt::format("{}{} {} of {}", kinds[k], k == 0 ? " at" : " that begin at", table.reach[k].done, table.reach[k].of));
  if (table.not_walked < table.variants.size()) out += fmt::format(" To their end came {} places.", fmt::join(parts, ", "));
  return out;
}

std::vector<std::string> what_was_tried(const slips::Table& table) {
  return {
      fmt::format("Tried with {} a run on every run as written, {}.", table.at_once == 1 ? "one slip" : table.at_once == 2 ? "up to two slips" : "up to three slips",
                  table.interruptions ? "with what may happen at any time" : "without what may happen at any time"),
      "A confirm counts as a check where the line says what to watch for: not for what comes too early, and for a time that is not kept only",
      "where another person's timer runs. Looks see soil and tears, not invisible dirt.",
      "What is not waited for stays wet until it is touched, or until its person waits as long at something else.",
      "A gap in the clothing that a look misses, and words that are left unsaid, are not in the model.",
      table.complete ? "Every slip was followed to its end." : reach_in_words(table),
      "It says what a slip could lead to, not how often; local policy, product labels and licensed practice decide.",
  };
}

}  // namespace stepward::emit
