#pragma once
// Which steps a paper marks as critical, and what there is to watch for at them.
//
// A step is critical because its author says so, or, in a protocol that asks for `weak points marked`, because one slip there alone
// comes to harm in the model. The author's own reason stands before the model's, and what the author or the library has to watch for
// stays; the slips add what they alone make worth a look.

#include "emit/paper_parts.hpp"

namespace stepward::emit {

bool is_critical(const PaperSource& source, model::LineId line);

/// Why, in the paper's language; empty: it is not.
std::string why_critical(const PaperSource& source, model::LineId line);

/// What an observer looks for at a weak point, a sentence for each slip that comes to harm. `is_watched`: there is something to watch for
/// already, which a clumsy hand is what it is about. Empty: nothing.
std::string weak_point_to_watch(const PaperSource& source, model::LineId line, bool is_watched);

}  // namespace stepward::emit
