#include "explore/runs_through.hpp"

#include <algorithm>

#include "explore/redo.hpp"

namespace stepward::explore {

std::vector<Met> steps_that_meet(const Packed& packed, const Result& result, const std::vector<bool>& wanted) {
  std::vector<Met> out;
  if (std::none_of(wanted.begin(), wanted.end(), [](bool w) { return w; })) return out;
  const auto is_wanted = [&](const PackedOp& op) { return op.what == PackedOp::Do::report && wanted[op.value]; };
  std::vector<bool> may;
  for (std::uint32_t e = 0; e < packed.edges.size(); ++e) may.push_back(may_pass(packed, e, is_wanted));
  for (std::uint32_t s = 0; s < result.successor_ends.size(); ++s)
    each_step(packed, result, s, [&](std::uint32_t edge, std::uint32_t k) {
      if (!may[edge]) return;
      const std::size_t before = out.size();
      bool cut = false;
      redo(packed, result, s, edge, [&](const PackedOp& op) {
        cut |= op.what == PackedOp::Do::report && op.cuts;
        if (is_wanted(op)) out.push_back({op.value, k, false});
      });
      for (std::size_t i = before; i < out.size(); ++i) out[i].cut = cut;
    });
  return out;
}

// The sum over paths with the runs so far in two parts, those that have taken one of the steps and those that have not.
// Taking the second from the whole instead would drown a few runs among 10^13 in rounding.
double runs_through(const Result& r, const std::vector<std::uint32_t>& steps) {
  std::vector<double> without(r.size(), 0), with(r.size(), 0);
  double through = 0;
  if (r.size()) without[0] = 1;
  for (const std::uint32_t s : in_order(r))
    for (std::uint32_t k = s ? r.successor_ends[s - 1] : 0; k < r.successor_ends[s]; ++k) {
      const bool takes = std::binary_search(steps.begin(), steps.end(), k);
      const double now_with = with[s] + (takes ? without[s] : 0), now_without = takes ? 0 : without[s];
      const std::uint32_t to = r.successors[k];
      if (to == UINT32_MAX) { through += now_with; continue; }
      with[to] += now_with;
      without[to] += now_without;
    }
  return through;
}

}  // namespace stepward::explore
