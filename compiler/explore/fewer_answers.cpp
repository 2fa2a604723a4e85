#include "explore/fewer_answers.hpp"

#include <algorithm>
#include <optional>

#include "explore/redo.hpp"

namespace stepward::explore {
namespace {

using effects::EdgeLabel;
using Run = std::vector<std::uint32_t>;

/// How much longer than the shortest a run may be.
constexpr std::size_t most_further = 500;

class Retold {
 public:
  Retold(const effects::System& system, const Packed& packed, const Signs& signs, const std::uint64_t* start, Run run, std::uint32_t wanted)
      : system_(system), packed_(packed), signs_(signs), start_(start), run_(std::move(run)), wanted_(wanted) {}

  Run told() {
    if (std::any_of(run_.begin(), run_.end(), [&](std::uint32_t e) { return e >= packed_.first_strike; })) return std::move(run_);
    for (std::size_t i = 0; i < run_.size(); ++i)
      if (answers(run_[i]) > 0) try_without(i);
    return std::move(run_);
  }

 private:
  enum class Came : std::uint8_t { on, to_it, to_nothing };

  const EdgeLabel& label(std::uint32_t edge) const { return system_.edges[edge].label; }

  /// How many answers an edge gives that are not the ordinary ones.
  std::size_t answers(std::uint32_t edge) const {
    if (label(edge).what == EdgeLabel::What::answered) return label(edge).answer != 0;
    return static_cast<std::size_t>(std::count(label(edge).found.begin(), label(edge).found.end(), true));
  }
  std::size_t answers(const Run& run) const {
    std::size_t all = 0;
    for (const std::uint32_t e : run) all += answers(e);
    return all;
  }

  void try_without(std::size_t i) {
    RunRow row;
    std::copy_n(start_, packed_.words, row.data());
    stood_.clear();
    for (std::size_t k = 0; k < run_.size(); ++k) {
      stood_.push_back(get(row.data(), packed_.node));
      if (k == i) from_ = row;
      go_along(packed_, row, run_[k], [](const PackedOp&) {});
    }
    const std::optional<std::uint32_t> instead = most_ordinary(from_);
    if (!instead || answers(*instead) >= answers(run_[i])) return;
    Run other(run_.begin(), run_.begin() + static_cast<std::ptrdiff_t>(i));
    if (follow(other, *instead, i + 1) && answers(other) < answers(run_)) run_ = std::move(other);
  }

  /// `next`: the step of the known run that it may come to again.
  bool follow(Run& other, std::uint32_t edge, std::size_t next) {
    RunRow row = from_;
    while (other.size() < run_.size() + most_further) {
      other.push_back(edge);
      const Came came = take(row, edge);
      if (came != Came::on) return came == Came::to_it;
      const std::optional<std::uint32_t> known = as_before(row, next);
      const std::optional<std::uint32_t> then = known ? known : most_ordinary(row);
      if (!then) return false;
      edge = *then;
    }
    return false;
  }

  Came take(RunRow& row, std::uint32_t edge) const {
    const auto& seen = signs_.seen_by[edge];
    if (std::any_of(seen.begin(), seen.end(), [&](Slot s) { return get(row.data(), s) == 1; })) return Came::to_nothing;
    Came came = Came::on;
    go_along(packed_, row, edge, [&](const PackedOp& op) {
      if (came != Came::on || op.what != PackedOp::Do::report) return;
      if (op.value == wanted_) came = Came::to_it;
      else if (signs_.reports[op.value] >= Weight::stop) came = Came::to_nothing;
    });
    const bool is_over = packed_.edges[edge].ends || !packed_.nodes[get(row.data(), packed_.node)].standing;
    return came == Came::on && is_over ? Came::to_nothing : came;
  }

  std::optional<std::uint32_t> as_before(const RunRow& row, std::size_t& next) const {
    const auto again = std::find(stood_.begin() + static_cast<std::ptrdiff_t>(next), stood_.end(), get(row.data(), packed_.node));
    if (again == stood_.end()) return std::nullopt;
    const auto at = static_cast<std::size_t>(again - stood_.begin());
    const bool can = label(run_[at]).what == EdgeLabel::What::slips || holds(packed_, packed_.edges[run_[at]].guard, row.data());
    if (!can) return std::nullopt;
    next = at + 1;
    return run_[at];
  }

  std::optional<std::uint32_t> most_ordinary(const RunRow& row) const {
    const Range& edges = packed_.nodes[get(row.data(), packed_.node)].edges;
    std::optional<std::uint32_t> best;
    for (std::uint32_t e = edges.first; e < edges.last; ++e)
      if (holds(packed_, packed_.edges[e].guard, row.data()) && (!best || answers(e) < answers(*best))) best = e;
    return best;
  }

  const effects::System& system_;
  const Packed& packed_;
  const Signs& signs_;
  const std::uint64_t* start_;
  Run run_;
  std::uint32_t wanted_;
  std::vector<std::uint32_t> stood_;  ///< by step of the run: the node before it
  RunRow from_{};                        ///< the state before the answer that is tried
};

}  // namespace

std::vector<std::uint32_t> with_fewer_answers(const effects::System& system, const Packed& packed, const Signs& signs, const std::uint64_t* start, std::vector<std::uint32_t> run,
                                              std::uint32_t wanted) {
  return Retold(system, packed, signs, start, std::move(run), wanted).told();
}

}  // namespace stepward::explore
