#pragma once
// The chances of harm per doing of a procedure, on the graph of its runs: the figures of a request laid on the ways of each variant.
//
// The figures are those that the cut sets are reckoned with (numbers.hpp), so the two can be held against each other. They differ in this:
//
//   cut sets      every branch counts as needed, a line that several places call is one chance to slip, any harm
//   on the graph  a line is slipped at only by runs that come to it, each time that they do; harms by kind; what no figure says, how questions are
//                 answered, leaves an interval
//
// A line that moves nothing which the model knows is nobody's chance to slip, nor is one that no run as written comes to. A confirm counts where it has
// something to see, unless some place of the same line has none.

#include "slips/harm_graph.hpp"
#include "slips/numbers.hpp"

namespace stepward::slips {

/// Of one variant; two such graphs beside each other stay below 2 GB.
constexpr std::uint64_t most_states_on_graph = 5'000'000;

/// By variant, as in the table, which `numbers` were made of with `request`. Why::too_large where a variant has more states than `options.limit`, or than `most_states_on_graph`.
reliability::Answer<std::vector<HarmBounds>> exit_chances(const model::Protocol& protocol, const Options& options, const Table& table, const Numbers& numbers, const NumbersRequest& request);

}  // namespace stepward::slips
