#include "order/compare.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <tuple>

#include "model/variants.hpp"
#include "slips/table.hpp"

namespace stepward::order {
namespace {

using diagnostics::Code;

/// So many orders are walked at most.
constexpr double most_walked = 64;

/// An order, walked.
struct Candidate {
  Choice order;
  model::Protocol protocol;
  std::uint32_t longest = 0;
  bool keeps_times = true, has_errors = false;
};

Candidate candidate(const model::Protocol& protocol, const std::vector<Run>& runs, Choice order, const Options& options) {
  Candidate out{std::move(order), protocol};
  put_into_place(out.protocol, runs, out.order);
  check::Options how;
  how.workers = options.workers;
  how.limit = options.limit;
  for (const model::Variant& variant : model::all_variants(protocol)) {
    const check::PlainWalk walk = check::plain_walk(out.protocol, variant, how);
    out.longest = std::max(out.longest, walk.longest);
    out.has_errors = out.has_errors || !walk.complete;
    for (const check::PlainFinding& found : walk.findings) {
      out.keeps_times = out.keeps_times && found.code != Code::R103 && found.code != Code::T811;
      out.has_errors = out.has_errors || diagnostics::default_severity(found.code) == diagnostics::Severity::error;
    }
  }
  return out;
}

class Comparison {
 public:
  Comparison(const model::Protocol& protocol, const std::vector<Run>& runs, const Search& search, bool has_clocks, const Options& options)
      : protocol_(protocol), runs_(runs), search_(search), has_clocks_(has_clocks), options_(options) {}

  Chosen run() {
    const double kept = search_.kept(), taken = std::min(kept, most_walked);
    // Spread from the first to near the last; with few orders, each.
    for (double i = 0; i < taken; ++i) {
      Candidate next = candidate(protocol_, runs_, search_.order_of_rank(std::floor(i * kept / taken)), options_);
      ++out_.walked;
      if (!next.keeps_times && has_clocks_) continue;
      if (!take(next)) break;
    }
    return std::move(out_);
  }

 private:
  /// False: nothing more is to be compared.
  bool take(const Candidate& next) {
    const bool counts = options_.compare && !next.has_errors;
    if (counts && out_.compared >= 2 && spent_ + spent_ / out_.compared > options_.allowance) return false;
    const auto weak = counts ? weak_points(next.protocol) : std::optional<std::size_t>();
    if (weak) {
      ++out_.compared;
      out_.most_weak_points = std::max(out_.most_weak_points, *weak);
    }
    const std::tuple cost{weak.value_or(0), next.longest};
    if (!out_.found || cost < best_) {
      best_ = cost;
      out_.found = true;
      out_.order = next.order;
      out_.weak_points = weak.value_or(0);
    }
    return weak.has_value();
  }

  /// None: not every slip could be followed.
  std::optional<std::size_t> weak_points(const model::Protocol& protocol) {
    slips::Options how;
    how.workers = options_.workers;
    how.limit = options_.limit;
    const slips::Table table = slips::analyse(protocol, how);
    spent_ += table.states + table.states_off;
    if (!table.complete) return std::nullopt;
    return static_cast<std::size_t>(std::count_if(table.rows.begin(), table.rows.end(), [](const slips::Row& r) { return r.outcome == slips::Outcome::harm; }));
  }

  const model::Protocol& protocol_;
  const std::vector<Run>& runs_;
  const Search& search_;
  bool has_clocks_;
  const Options& options_;
  Chosen out_;
  std::tuple<std::size_t, std::uint32_t> best_{};
  std::uint64_t spent_ = 0;
};

}  // namespace

Chosen choose(const model::Protocol& protocol, const std::vector<Run>& runs, const Search& search, bool has_clocks, const Options& options) {
  return Comparison(protocol, runs, search, has_clocks, options).run();
}

void put_into_place(model::Protocol& protocol, const std::vector<Run>& runs, const Choice& order) {
  for (const Run& run : runs) {
    auto& statements = protocol.blocks[run.block.value].statements;
    const std::vector<model::Statement> written(statements.begin() + run.first, statements.begin() + run.first + run.count);
    for (std::uint32_t i = 0; i < run.count; ++i) statements[run.first + i] = written[order[run.order][i]];
  }
}

}  // namespace stepward::order
