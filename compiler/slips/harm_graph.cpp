#include "slips/harm_graph.hpp"

#include <algorithm>
#include <memory>
#include <optional>

#include "explore/redo.hpp"
#include "explore/stepper.hpp"
#include "explore/state_set.hpp"
#include "reliability/decisions.hpp"

namespace stepward::slips {
namespace {

using reliability::Answer;
using reliability::Bound;
using reliability::Refusal;
using reliability::Why;

/// The first nodes: the kinds of harm, no harm, and beyond. States come behind them.
enum End : std::uint32_t { no_harm = 5, beyond = 6, first_state = 7 };

constexpr double rounding = 1e-12;

class HarmGraph {
 public:
  HarmGraph(const SlippedSystem& made, const std::vector<Consequence>& kinds, const std::vector<WayChance>& ways, std::uint64_t limit)
      : made_(made), kinds_(kinds), ways_(ways), limit_(limit), stepper_(made.packed, false), ways_at_(made.packed.nodes.size()) {
    for (unsigned slips = 0; slips <= most_slips_followed; ++slips) layers_.emplace_back(made.packed.words);
    for (std::uint32_t w = 0; w < ways.size(); ++w)
      if (ways[w].slips > 0) ways_at_[made.ways.ways[w].at.value].push_back(w);
  }

  Answer<HarmBounds> run() {
    for (const WayChance& way : ways_)
      for (const double chance : {way.slips, way.unseen})
        if (const auto no = reliability::unless_probability(chance, "slip")) return *no;
    decisions_.option_ends.assign(first_state, 0);
    explore::Batch batch;
    stepper_.begin(batch);
    const std::uint32_t start = batch.steps.front().over ? static_cast<std::uint32_t>(no_harm) : node_of(0, batch.words.data(), batch.steps.front().hash);
    for (std::size_t next = 0; next < places_.size() && !why_not_; ++next) expand(places_[next]);
    if (why_not_) return *why_not_;
    return bounds_from(start);
  }

 private:
  struct Arc { std::uint32_t to = 0; double chance = 0; };
  struct Place { unsigned slips = 0; std::uint32_t state = 0; };

  /// The states that runs with so many slips come through.
  struct Layer {
    explicit Layer(std::uint32_t words) : states(std::make_unique<explore::SteadyArray<std::uint64_t>>(words)), set(std::make_unique<explore::StateSet>(*states, words)) {}
    std::unique_ptr<explore::SteadyArray<std::uint64_t>> states;
    std::unique_ptr<explore::StateSet> set;
    std::vector<std::uint32_t> nodes;
  };

  std::uint32_t node_of(unsigned slips, const std::uint64_t* w, std::uint64_t hash) {
    Layer& layer = layers_[slips];
    if (places_.size() >= limit_ || !layer.set->make_room(1) || !layer.states->make_room(1)) {
      why_not_ = Refusal{Why::too_large, "states", static_cast<double>(limit_)};
      return no_harm;
    }
    const auto next = static_cast<std::uint32_t>(layer.nodes.size());
    const std::uint32_t at = layer.set->insert(w, hash, next);
    if (at != next) return layer.nodes[at];
    std::copy_n(w, made_.packed.words, layer.states->append_row());
    layer.nodes.push_back(first_state + static_cast<std::uint32_t>(places_.size()));
    places_.push_back({slips, next});
    return layer.nodes.back();
  }

  void expand(Place place) {
    const std::uint64_t* const here = layers_[place.slips].states->row(place.state);
    batch_.clear();
    stepper_.expand(here, false, batch_);
    std::vector<Arc> onward;       // what happens as written, and by which line
    std::vector<std::uint32_t> by;
    for (std::size_t k = 0; k < batch_.steps.size(); ++k) {
      onward.push_back({lead_to(place.slips, here, k), 1});
      by.push_back(made_.system.edges[batch_.steps[k].via].by.value);
    }
    std::vector<std::uint32_t> done;
    for (const std::uint32_t line : by) {
      if (std::find(done.begin(), done.end(), line) != done.end()) continue;
      done.push_back(line);
      const std::vector<Arc> slipped = slips_of(place.slips, here, line);
      for (std::size_t k = 0; k < by.size(); ++k)
        if (by[k] == line) option(slipped, onward[k].to);
    }
    if (onward.empty()) option({}, no_harm);
    decisions_.option_ends.push_back(static_cast<std::uint32_t>(decisions_.arc_ends.size()));
  }

  /// Where the k-th step of the batch leads.
  std::uint32_t lead_to(unsigned slips, const std::uint64_t* before, std::size_t k) {
    const explore::Step step = batch_.steps[k];
    if (step.over) return end_of(before, step.via);
    if (is_seen(before, step.via)) return no_harm;
    return node_of(slips, batch_.words.data() + k * made_.packed.words, step.hash);
  }

  std::uint32_t end_of(const std::uint64_t* before, std::uint32_t edge) const {
    std::uint32_t decides = UINT32_MAX;
    explore::redo(made_.packed, before, edge, [&](const explore::PackedOp& op) {
      if (decides == UINT32_MAX && op.what == explore::PackedOp::Do::report && made_.signs.reports[op.value] >= explore::Weight::stop) decides = op.value;
    });
    const bool harms = decides != UINT32_MAX && made_.signs.reports[decides] == explore::Weight::harm;
    return harms ? static_cast<std::uint32_t>(kinds_[decides]) : static_cast<std::uint32_t>(no_harm);
  }

  bool is_seen(const std::uint64_t* before, std::uint32_t edge) const {
    const auto& fields = made_.signs.seen_by[edge];
    return std::any_of(fields.begin(), fields.end(), [&](explore::Slot s) { return explore::get(before, s) == 1; });
  }

  /// Where slips at this line lead; a third leads beyond what is followed.
  std::vector<Arc> slips_of(unsigned slips, const std::uint64_t* here, std::uint32_t line) {
    std::vector<Arc> out;
    for (const std::uint32_t w : ways_at_[explore::get(here, made_.packed.node)]) {
      const graph::SlipWay& way = made_.ways.ways[w];
      if ((way.before ? way.before : way.slipped).value != line) continue;  // what is done early is slipped at the line that it comes before
      const WayChance& chance = ways_[w];
      out.push_back({slips == most_slips_followed ? static_cast<std::uint32_t>(beyond) : behind_slip(slips, here, w), chance.slips * chance.unseen});
      if (chance.unseen < 1) out.push_back({no_harm, chance.slips * (1 - chance.unseen)});
    }
    return out;
  }

  std::uint32_t behind_slip(unsigned slips, const std::uint64_t* here, std::uint32_t way) {
    batch_.clear();
    stepper_.follow_one(here, made_.way_edges[way], batch_);
    return lead_to(slips + 1, here, 0);
  }

  void option(const std::vector<Arc>& slipped, std::uint32_t onward) {
    double rest = 1;
    for (const Arc& arc : slipped) {
      rest -= arc.chance;
      arc_to(arc);
    }
    if (rest < -rounding) why_not_ = Refusal{Why::does_not_add_up, "slips of one line", 1 - rest};
    arc_to({onward, std::max(0.0, rest)});
    decisions_.arc_ends.push_back(static_cast<std::uint32_t>(decisions_.to.size()));
  }

  void arc_to(Arc arc) {
    decisions_.to.push_back(arc.to);
    decisions_.chances.push_back(arc.chance);
  }

  Answer<HarmBounds> bounds_from(std::uint32_t start) const {
    using Wanted = reliability::Wanted<double>;
    std::vector<Wanted> wanted;
    const auto ask = [&](std::vector<double> gains) {
      wanted.push_back({gains, Bound::least});
      gains[beyond] = 1;
      wanted.push_back({std::move(gains), Bound::most});
    };
    for (std::size_t kind = 0; kind < no_harm; ++kind) {
      std::vector<double> gains(first_state, 0);
      gains[kind] = 1;
      ask(std::move(gains));
    }
    ask({1, 1, 1, 1, 1, 0, 0});
    wanted.push_back({{0, 0, 0, 0, 0, 0, 1}, Bound::most});
    const auto answer = reliability::worths_of(decisions_, wanted, start);
    if (const Refusal* no = reliability::refused(answer)) return *no;
    const auto& worth = *reliability::given(answer);
    HarmBounds out;
    for (std::size_t kind = 0; kind < no_harm; ++kind) out.by_harm[kind] = {worth[2 * kind], worth[2 * kind + 1]};
    out.any = {worth[10], worth[11]};
    out.beyond = worth[12];
    out.states = places_.size();
    return out;
  }

  const SlippedSystem& made_;
  const std::vector<Consequence>& kinds_;
  const std::vector<WayChance>& ways_;
  std::uint64_t limit_;
  explore::Stepper stepper_;
  explore::Batch batch_;
  std::vector<std::vector<std::uint32_t>> ways_at_;  ///< by node, those that have a chance
  std::vector<Layer> layers_;
  std::vector<Place> places_;                        ///< of each node from first_state on
  reliability::Decisions<double> decisions_;
  std::optional<Refusal> why_not_;
};

}  // namespace

Answer<HarmBounds> harm_bounds(const SlippedSystem& made, const std::vector<Consequence>& kinds, const std::vector<WayChance>& ways, std::uint64_t limit) {
  return HarmGraph(made, kinds, ways, limit).run();
}

std::vector<Consequence> harm_kinds(const model::Protocol& advised, const SlippedSystem& made) {
  std::vector<Consequence> out;
  for (const effects::ReportId r : made.packed.reports) out.push_back(consequence_of(advised, made.system.reports[r.value]));
  return out;
}

}  // namespace stepward::slips
