#pragma once
// By what an edit is caught, if by anything.

#include "judge.hpp"

namespace stepward::mutations {

/// In this order: an edit that several of them find counts for the first. `course`: the text is refused, or something is
/// wrong before touch is asked about (an arm that cannot be reached, a question nobody can answer, an ending that is
/// promised and never comes). `warning`: no error, but a warning that the unedited text does not have.
enum class By { physics, rule, course, warning, nothing };
constexpr std::size_t ways_to_be_caught = 5;
std::string_view words(By by);

struct Caught {
  By by = By::nothing;
  std::string what;             ///< code, or rule number
};

Caught caught(const Verdict& verdict, const Verdict& unedited);

/// The second explorer's word on an edited text in one variant: which errors it finds. Of the interruptions only those are
/// kept that come to the edited line, for its worlds are large: with all of them the example would fill a machine.
struct SecondWord {
  bool complete = false;
  std::vector<std::string> errors;
};
SecondWord ask_second_explorer(const Base& base, const Mutant& mutant, std::size_t most_states);

}  // namespace stepward::mutations
