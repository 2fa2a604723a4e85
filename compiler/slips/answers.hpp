#pragma once
// Answers of the author, laid beside the slips that they are about.
//
// The analysis knows nothing of them: a slip that somebody answers for is tried like any other and comes to what it comes to.
// Afterwards each answer finds its rows by the line of the source and the kind of slip, so that one answer holds wherever a
// routine is called. An answer that finds no harm is told, since it would hide the next mistake there: but only where all
// variants were tried to the end, for what was not tried may come to harm.
//
// Worked example: "answer to slip left out, clumsy at rub in “Apron”". Left out comes to harm: the row has the answer. Clumsy is
// harmless there: a finding S201, which names the slips of that line that nobody answers for.

#include "diagnostics/diagnostic.hpp"
#include "slips/table.hpp"

namespace stepward::slips {

/// Fills `Table::answers` and `Row::answer`.
void lay_answers(const model::Protocol& protocol, const Options& options, Table& table);

/// S201 for each answer, or slip of one, that nothing needs.
diagnostics::Sink answers_not_needed(const Table& table);

}  // namespace stepward::slips
