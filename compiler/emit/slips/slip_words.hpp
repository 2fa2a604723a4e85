#pragma once
// What the forms of the table of slips say alike.

#include <string>
#include <vector>

#include "slips/table.hpp"

namespace stepward::emit {

/// "left out", "too early": the slip of a row.
std::string slip_name(const slips::Row& row);
/// " (12, C3)": the numbers of its line on the cards; empty without any.
std::string steps_in_words(const slips::Row& row);
/// " (42; on other cards 43, 46, 47)": whoever has the card of one variant beside the text. Of what comes too early, ", with (5) not done yet" as well.
std::string steps_on_card(const slips::Row& row, std::size_t variant);
/// "what must not be brushed is brushed …": what a kind of slip is, in one clause.
std::string what_is_meant(graph::SlipKind kind);
/// "EYES, NOSE OR MOUTH: dirt may come there": under which weak points of one consequence stand.
std::string consequence_heading(slips::Consequence consequence);
/// Why nothing shows the slip of a weak point in time: "not seen: nobody else times it". `confirms`: who does, by role.
std::string why_not_seen(const slips::Row& row, const std::string& confirms);
/// "the observer's confirm", "a look", "a question nobody can answer", "a line that cannot be done", "the ending".
std::string catch_name(slips::Catch::By by);
/// "harm", "caught", "harmless", "not in the model".
std::string outcome_name(slips::Outcome outcome);
/// "until 2031-06-01", "over since 2031-06-01": how an answer stands.
std::string answer_standing(const model::AnsweredSlip& said);
/// "Ann Other, charge nurse".
std::string answered_by(const model::AnsweredSlip& said);
/// How far the limit let the search come, in one sentence; of a table that is not complete.
std::string reach_in_words(const slips::Table& table);
/// What the table rests on, a sentence a line.
std::vector<std::string> what_was_tried(const slips::Table& table);

}  // namespace stepward::emit
