#pragma once
// The competency sheet of a variant: every step that the person who acts has to show, with boxes for three attempts.
//
// Steps, numbers and words are those of the card, so that an assessor can hold one beside the other. What others do is left out, unless it
// has the person do something as well: answer a question, take what is handed over. A branch stands together under its question, and a
// question on a breach with what the card answers. A breach is not played in every drill: it is asked as a question, and what the card answers stands below it.

#include "emit/paper_parts.hpp"

namespace stepward::emit {

/// A finished sheet with its check words.
Sheet competency_sheet(const PaperSource& source);

}  // namespace stepward::emit
