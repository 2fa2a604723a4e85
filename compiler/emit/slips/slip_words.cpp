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
  const std::string passed = before == row.before_in.end() ? "" : fmt::format(", with ({}) not done yet", fmt::join(before->second, ", "));
  const auto here = row.steps_in.find(variant);
  if (here == row.steps_in.end() || here->second.size() == row.steps.size()) return steps_in_words(row) + passed;
  std::vector<std::string> others;
  std::copy_if(row.steps.begin(), row.steps.end(), std::back_inserter(others), [&](const std::string& step) { return here->second.count(step) == 0; });
  return fmt::format(" ({}; on other cards {}){}", fmt::join(here->second, ", "), fmt::join(others, ", "), passed);
}

std::string what_is_meant(graph::SlipKind kind) {
  using K = graph::SlipKind;
  switch (kind) {
    case K::left_out: return "the line is not done";
    case K::done_early: return "a person does a line while an earlier one of their own is not done yet; what others do or hand over keeps its turn";
    case K::cut_short: return "the contact time is not waited for, or hands are not rubbed long enough";
    case K::clumsy: return "what must not be brushed is brushed, or a hand takes hold of the outside";
    case K::tears: return "a glove tears at the line, and nobody sees it";
    case K::overlooked: return "a look misses what is there";
  }
  return "";
}

std::string consequence_heading(slips::Consequence consequence) {
  using C = slips::Consequence;
  switch (consequence) {
    case C::face: return "EYES, NOSE OR MOUTH: dirt may come there";
    case C::skin: return "SKIN, HAIR, OR CLOTHES AND SHOES BENEATH: dirt may come there; rubbing skin later can be too late";
    case C::clean_side: return "OTHER PEOPLE, CLEAN PLACES OR STERILE THINGS: dirt may come there, and from sterile things into a patient";
    case C::protection: return "PROTECTION: it is not clean, or not there, where it must be";
    case C::left_open: return "LEFT OPEN: something that has to be dealt with is not";
  }
  return "";
}

// The table says that nothing shows the slip in time; each kind has its own reason.
std::string why_not_seen(const slips::Row& row, const std::string& confirms) {
  using K = graph::SlipKind;
  if (!row.watch.empty() && row.harm->at_once && row.key.kind != K::done_early && row.key.kind != K::cut_short)
    return fmt::format("seen too late: {} watches for “{}”, and sees it when it has happened", confirms, row.watch);
  const std::string nobody_watches = confirms.empty() ? "not seen: nobody else watches" : "not seen: nobody else is told what to watch for at this line";
  switch (row.key.kind) {
    case K::left_out: return nobody_watches;
    case K::done_early: return "not seen in time: no check shows a wrong order";
    case K::cut_short: return "not seen: nobody else times it";
    case K::clumsy: return nobody_watches;
    case K::tears: return "not seen: no look finds the tear before the harm";
    case K::overlooked: return "not seen: no later look shows it before the harm";
  }
  return "";
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
      "Whoever confirms a line shows a slip only where the line says what to watch for; never a wrong order, and a time that is not kept only where",
      "another person's timer runs. Looks see soil and tears, not invisible dirt; a question finds neither, and reminds nobody of what was left out.",
      "What may carry dirt may have soil on it at any look, also where an earlier look found none.",
      "If somebody does not wait out a contact time, the thing counts as not disinfected, even if the next steps happen to take long enough; it does",
      "count where nobody touches it and the same person later waits as long at one go. Hands that are rubbed too briefly count as not disinfected.",
      "Eyes stand for the lids as well, where they are shut, and hands that handle what is worn on the face come near it.",
      "Whoever disinfects own hands sees whether they are bare.",
      "A gap in the clothing that a look misses, and words that are left unsaid, are not in the model.",
      table.complete ? "Every slip was followed to its end." : reach_in_words(table),
      "It says what a slip could lead to, not how often; local policy, product labels and licensed practice decide.",
  };
}

}  // namespace stepward::emit
