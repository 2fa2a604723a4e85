#include "slips/variant_slips.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "base/side_by_side.hpp"

namespace stepward::slips {
namespace {

using explore::Deviations;

class VariantAnalysis {
 public:
  VariantAnalysis(const model::Protocol& advised, const Options& options, VariantSlips& out) : advised_(advised), options_(options), out_(out) {}

  void run(const model::Variant& variant, unsigned workers) {
    out_.made = slipped_system(advised_, variant);
    explore::Options how;
    how.interruptions = options_.interruptions;
    how.limit = options_.limit;
    how.threads = workers;
    explore::Result walked = explore::walk(out_.made.packed, how);
    out_.complete = walked.complete && out_.made.packed.fits;
    if (!out_.complete) return;
    out_.trodden.emplace(out_.made.packed, std::move(walked));
    out_.outcomes.resize(out_.made.ways.ways.size());
    follow_all(workers);
    if (options_.at_once > 1) follow_pairs(workers);
    if (options_.at_once > 2) follow_triples(workers);
    for (const Reach& r : out_.reach) out_.complete &= r.done == r.of;
  }

 private:
  /// One share of the ways for each worker, dealt out in turn so that a long phase does not fall to one.
  template <typename Job>
  void deal(unsigned workers, Job job) {
    side_by_side(workers, workers, [&](std::size_t share) {
      Deviations deviations(out_.made.packed, *out_.trodden, out_.made.signs, options_.interruptions, options_.limit);
      for (std::size_t w = share; w < out_.outcomes.size(); w += workers) job(deviations, w);
    });
  }

  void follow_all(unsigned workers) {
    deal(workers, [&](Deviations& deviations, std::size_t w) {
      const graph::SlipWay& way = out_.made.ways.ways[w];
      out_.outcomes[w].tried = !out_.trodden->at_node[way.at.value].empty();
      if (out_.outcomes[w].tried) out_.outcomes[w].followed = deviations.follow(way.at, out_.made.way_edges[w]);
    });
    for (const WayOutcome& w : out_.outcomes) {
      out_.reach[0].of += w.tried;
      out_.reach[0].done += w.tried && w.followed.complete;
    }
  }

  bool is_quiet(std::size_t w) const { return out_.outcomes[w].tried && out_.outcomes[w].followed.harms.empty(); }
  Deviations::Second edge_of(std::size_t w) const { return {out_.made.ways.ways[w].at, out_.made.way_edges[w]}; }

  /// A way whose own end was not reached is none from which others can go on.
  void note_reach(Reach& reach, std::size_t w, bool complete) const {
    if (!is_quiet(w)) return;
    ++reach.of;
    reach.done += complete;
  }

  // A second slip counts only where neither does harm alone; the smallest set that does is one of them otherwise.
  void follow_pairs(unsigned workers) {
    std::vector<Deviations::Second> seconds;
    std::vector<std::uint32_t> way_of;
    for (std::uint32_t w = 0; w < out_.outcomes.size(); ++w) {
      if (!is_quiet(w)) continue;
      seconds.push_back(edge_of(w));
      way_of.push_back(w);
    }
    std::vector<std::vector<Deviations::Joint>> joints(out_.outcomes.size());
    std::vector<char> complete(out_.outcomes.size(), 1);
    deal(workers, [&](Deviations& deviations, std::size_t w) {
      if (!is_quiet(w)) return;
      complete[w] = follow_alone(deviations, w) && deviations.follow_seconds(seconds, joints[w]);
    });
    for (std::uint32_t w = 0; w < joints.size(); ++w) {
      note_reach(out_.reach[1], w, complete[w] != 0);
      for (auto& joint : joints[w]) out_.joints.push_back({{w, way_of[joint.second]}, joint.report, std::move(joint.run)});
    }
  }

  bool follow_alone(Deviations& deviations, std::size_t w) { return deviations.follow(out_.made.ways.ways[w].at, out_.made.way_edges[w]).complete; }

  // The same with a third. Ways of one line and kind are one slip, wherever they stand: a slip that is harm somewhere, and two that are, need no third.
  void follow_triples(unsigned workers) {
    const SlipsOfWays slips = slips_of_ways();
    std::vector<Worst> found(out_.outcomes.size());
    std::vector<char> complete(out_.outcomes.size(), 1);
    deal(workers, [&](Deviations& deviations, std::size_t w) {
      if (!is_quiet(w) || slips.harms[slips.of[w]]) return;
      std::vector<Deviations::Second> others;
      std::vector<std::uint32_t> way_of;
      for (std::uint32_t v = 0; v < out_.outcomes.size(); ++v) {
        if (!is_quiet(v) || slips.harms[slips.of[v]] || slips.are_enough(w, v)) continue;
        others.push_back(edge_of(v));
        way_of.push_back(v);
      }
      std::vector<Deviations::Threefold> all;
      complete[w] = follow_alone(deviations, w) &&
                    deviations.follow_thirds(others, [&](std::uint32_t a, std::uint32_t b) { return slips.are_enough(way_of[a], way_of[b]); }, all);
      for (auto& each : all) keep_worst(found[w], slips, {{static_cast<std::uint32_t>(w), way_of[each.second], way_of[each.third]}, each.report, std::move(each.run)});
    });
    Worst worst;
    for (std::size_t w = 0; w < found.size(); ++w) {
      note_reach(out_.reach[2], w, complete[w] != 0);
      for (auto& [slips_of_it, harm] : found[w]) keep_worst(worst, slips, std::move(harm));
      found[w].clear();
    }
    for (auto& [slips_of_it, harm] : worst) out_.threefold.push_back(std::move(harm));
  }

  /// Which slip each way is a place of, and what slips and two of them are known to come to.
  struct SlipsOfWays {
    std::vector<std::size_t> of;                         ///< by way: its slip
    std::vector<char> harms;                             ///< by slip: alone, at some place
    std::set<std::pair<std::size_t, std::size_t>> joint; ///< slips that come to harm together, the lesser first
    bool are_enough(std::size_t a, std::size_t b) const { return of[a] == of[b] || joint.count(std::minmax(of[a], of[b])) != 0; }
  };

  SlipsOfWays slips_of_ways() const {
    SlipsOfWays out;
    std::map<Key, std::size_t> numbers;
    for (std::size_t w = 0; w < out_.outcomes.size(); ++w) {
      const std::size_t slip = numbers.try_emplace(key_of(advised_, out_.made, out_.made.ways.ways[w]), numbers.size()).first->second;
      out.of.push_back(slip);
      out.harms.resize(numbers.size(), 0);
      out.harms[slip] |= !out_.outcomes[w].followed.harms.empty();
    }
    for (const JointHarm& j : out_.joints) out.joint.insert(std::minmax(out.of[j.ways[0]], out.of[j.ways[1]]));
    return out;
  }

  /// Of each three slips the worst harm, whichever comes first and wherever they stand.
  using Worst = std::map<std::vector<std::size_t>, JointHarm>;

  void keep_worst(Worst& kept, const SlipsOfWays& slips, JointHarm harm) const {
    std::vector<std::size_t> which;
    for (const std::uint32_t w : harm.ways) which.push_back(slips.of[w]);
    std::sort(which.begin(), which.end());
    const auto [known, is_new] = kept.try_emplace(std::move(which));
    if (is_new || rank_of(harm) < rank_of(known->second)) known->second = std::move(harm);
  }

  std::pair<Consequence, std::uint32_t> rank_of(const JointHarm& harm) const {
    return {consequence_of(advised_, out_.made.system.reports[out_.made.packed.reports[harm.report].value]), harm.run.steps};
  }

  const model::Protocol& advised_;
  const Options& options_;
  VariantSlips& out_;
};

}  // namespace

Key key_of(const model::Protocol& protocol, const SlippedSystem& made, const graph::SlipWay& way) {
  const source::Span at = protocol[made.ways.graph[way.slipped].line].span;
  return {at.file.value, at.begin, way.kind, way.look};
}

void follow_slips(const model::Protocol& advised, const model::Variant& variant, const Options& options, unsigned workers, VariantSlips& out) {
  VariantAnalysis(advised, options, out).run(variant, workers);
}

}  // namespace stepward::slips
