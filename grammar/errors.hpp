#pragma once
// The error points of the grammar, each with the code of its finding. The sentences are in compiler/wording.
//
// An error point is a rule that reads what is wrong and so lets reading go on behind it. `is_error_point<Rule>` tells
// them from ordinary rules; the test that walks the grammar uses it to make sure that a sample reaches each of them.

#include "diagnostics/diagnostic.hpp"
#include "ward.hpp"

namespace stepward::grammar {

/// The finding that a rule stands for; only error points have one.
template <typename Rule>
struct finding_of {};

template <>
struct finding_of<unclosed_quote> { static constexpr auto code = diagnostics::Code::L201; };
template <>
struct finding_of<odd_character> { static constexpr auto code = diagnostics::Code::L202; };
template <>
struct finding_of<decimal_comma> { static constexpr auto code = diagnostics::Code::L203; };

template <typename Rule>
concept is_error_point = requires { finding_of<Rule>::code; };

}  // namespace stepward::grammar
