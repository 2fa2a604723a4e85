#pragma once
// One variant with every slip followed, alone and together with others: what the table of slips is made from, before it has words.
//
// Of pairs every order in which a run can take them is kept; of sets of three, which are many more, the worst of all orders and places.

#include <array>
#include <optional>
#include <vector>

#include "explore/deviation.hpp"
#include "slips/slipped_system.hpp"
#include "slips/table.hpp"

namespace stepward::slips {

/// What one way came to, still by variant.
struct WayOutcome {
  explore::Followed followed;
  bool tried = false;  ///< some run of the walk comes to where it begins
};

/// What several ways come to together, by their numbers, in the order in which the run takes them.
struct JointHarm { std::vector<std::uint32_t> ways; std::uint32_t report = 0; explore::RunOff run; };

/// A variant once all its ways were followed.
struct VariantSlips {
  std::size_t number = 0;
  SlippedSystem made;
  std::optional<explore::Trodden> trodden;
  std::vector<WayOutcome> outcomes;     ///< by way
  std::vector<JointHarm> joints, threefold;
  std::array<Reach, 3> reach;
  bool complete = true;
};

/// The slip that a way is a place of.
Key key_of(const model::Protocol& protocol, const SlippedSystem& made, const graph::SlipWay& way);

/// Walks the variant and follows its slips, up to `options.at_once` a run, by so many threads; what is found does not depend on their number.
/// `out.number` stays as it is.
void follow_slips(const model::Protocol& advised, const model::Variant& variant, const Options& options, unsigned workers, VariantSlips& out);

}  // namespace stepward::slips
