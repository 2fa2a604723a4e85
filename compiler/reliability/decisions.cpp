#include "reliability/decisions.hpp"

#include <algorithm>
#include <cmath>

#include "reliability/exact_chain.hpp"
#include "reliability/strong_parts.hpp"

namespace stepward::reliability {
namespace {

bool adds_up(double sum) { return std::abs(sum - 1) <= 1e-12; }
bool adds_up(const ExactFraction& sum) { return sum == 1; }
double in_double(double value) { return value; }
double in_double(const ExactFraction& value) { return value.get_d(); }

/// A last digit more is no better option: two that are worth the same would be changed for each other without end.
bool is_more(double one, double other) { return one > other + 1e-15 + 1e-13 * std::abs(other); }
bool is_more(const ExactFraction& one, const ExactFraction& other) { return one > other; }

template <class Number>
std::optional<Refusal> unless_fit(const Decisions<Number>& d) {
  for (const std::uint32_t to : d.to)
    if (to >= d.nodes()) return Refusal{Why::unknown_node, std::to_string(to)};
  for (std::uint32_t option = 0; option < d.arc_ends.size(); ++option) {
    Number sum(0);
    for (std::uint32_t arc = d.first_arc(option); arc < d.arc_ends[option]; ++arc) {
      if (!(d.chances[arc] >= 0 && d.chances[arc] <= 1)) return Refusal{Why::outside_0_to_1, std::to_string(option), in_double(d.chances[arc])};
      sum += d.chances[arc];
    }
    if (!adds_up(sum)) return Refusal{Why::does_not_add_up, std::to_string(option), in_double(sum)};
  }
  return std::nullopt;
}

/// All nodes, each before all that it leads to; fewer where some lie on a loop.
template <class Number>
std::vector<std::uint32_t> without_loops(const Decisions<Number>& d) {
  std::vector<std::uint32_t> waits_for(d.nodes(), 0), order;
  for (const std::uint32_t to : d.to) ++waits_for[to];
  for (std::uint32_t n = 0; n < d.nodes(); ++n)
    if (waits_for[n] == 0) order.push_back(n);
  for (std::size_t i = 0; i < order.size(); ++i)
    for (std::uint32_t option = d.first_option(order[i]); option < d.option_ends[order[i]]; ++option)
      for (std::uint32_t arc = d.first_arc(option); arc < d.arc_ends[option]; ++arc)
        if (--waits_for[d.to[arc]] == 0) order.push_back(d.to[arc]);
  return order;
}

template <class Number>
std::vector<std::vector<std::uint32_t>> parts_of(const Decisions<Number>& d) {
  Successors graph(d.nodes());
  for (std::uint32_t n = 0; n < d.nodes(); ++n)
    if (!d.is_end(n)) graph[n].assign(d.to.begin() + d.first_arc(d.first_option(n)), d.to.begin() + d.arc_ends[d.option_ends[n] - 1]);
  return strong_parts(graph);
}

template <class Number>
class Worth {
 public:
  Worth(const Decisions<Number>& d, const Wanted<Number>& wanted) : d_(d), bound_(wanted.bound), worth_(wanted.gains) { worth_.resize(d.nodes(), Number(0)); }

  std::vector<Number> in_order(const std::vector<std::uint32_t>& order) {
    for (auto node = order.rbegin(); node != order.rend(); ++node) settle(*node);
    return std::move(worth_);
  }

  Answer<std::vector<Number>> by_parts(const std::vector<std::vector<std::uint32_t>>& parts) {
    for (auto part = parts.rbegin(); part != parts.rend(); ++part) {
      if (part->size() == 1 && !leads_to_itself(part->front())) settle(part->front());
      else if (const auto no = Loop(*this, *part).solve()) return *no;
    }
    return std::move(worth_);
  }

 private:
  bool is_better(const Number& one, const Number& other) const { return bound_ == Bound::most ? is_more(one, other) : is_more(other, one); }

  Number worth_of_option(std::uint32_t option) const {
    Number sum(0);
    for (std::uint32_t arc = d_.first_arc(option); arc < d_.arc_ends[option]; ++arc) sum += d_.chances[arc] * worth_[d_.to[arc]];
    return sum;
  }

  void settle(std::uint32_t node) {
    if (d_.is_end(node)) return;
    std::uint32_t option = d_.first_option(node);
    worth_[node] = worth_of_option(option);
    for (++option; option < d_.option_ends[node]; ++option) {
      const Number other = worth_of_option(option);
      if (bound_ == Bound::most ? other > worth_[node] : other < worth_[node]) worth_[node] = other;
    }
  }

  bool leads_to_itself(std::uint32_t node) const {
    if (d_.is_end(node)) return false;
    return std::find(d_.to.begin() + d_.first_arc(d_.first_option(node)), d_.to.begin() + d_.arc_ends[d_.option_ends[node] - 1], node) != d_.to.begin() + d_.arc_ends[d_.option_ends[node] - 1];
  }

  /// Nodes that lie on loops with each other; what they lead to outside is settled.
  class Loop {
   public:
    Loop(Worth& all, const std::vector<std::uint32_t>& nodes) : all_(all), nodes_(nodes), chosen_(nodes.size(), none) {}

    std::optional<Refusal> solve() {
      if (nodes_.size() > largest_loop_of_options) return Refusal{Why::too_large, "loop", static_cast<double>(nodes_.size())};
      if (!lead_out()) return Refusal{Why::never_ends, std::to_string(nodes_.front())};
      do {
        if (const auto no = reckon()) return no;
      } while (choose_better());
      return std::nullopt;
    }

   private:
    static constexpr std::uint32_t none = UINT32_MAX;

    std::uint32_t place_of(std::uint32_t node) const {
      const auto at = std::find(nodes_.begin(), nodes_.end(), node);
      return at == nodes_.end() ? none : static_cast<std::uint32_t>(at - nodes_.begin());
    }

    /// For each node an option that may leave, or come to a node that has one.
    bool lead_out() {
      for (bool more = true; more;) {
        more = false;
        for (std::size_t i = 0; i < nodes_.size(); ++i)
          for (std::uint32_t option = all_.d_.first_option(nodes_[i]); chosen_[i] == none && option < all_.d_.option_ends[nodes_[i]]; ++option)
            if (may_leave(option)) { chosen_[i] = option; more = true; }
      }
      return std::find(chosen_.begin(), chosen_.end(), none) == chosen_.end();
    }

    bool may_leave(std::uint32_t option) const {
      for (std::uint32_t arc = all_.d_.first_arc(option); arc < all_.d_.arc_ends[option]; ++arc) {
        const std::uint32_t place = place_of(all_.d_.to[arc]);
        if (all_.d_.chances[arc] > 0 && (place == none || chosen_[place] != none)) return true;
      }
      return false;
    }

    /// With the chosen options it is a chain: what its nodes are worth is how often a run comes to each, times what leaves from there is worth.
    std::optional<Refusal> reckon() {
      const auto out = static_cast<std::uint32_t>(nodes_.size());
      Chain<Number> chain{nodes_.size() + 1, NodeId(0u), {}};
      std::vector<Number> leaves_with(nodes_.size(), Number(0)), result(nodes_.size(), Number(0));
      for (std::uint32_t i = 0; i < out; ++i)
        for (std::uint32_t arc = all_.d_.first_arc(chosen_[i]); arc < all_.d_.arc_ends[chosen_[i]]; ++arc) {
          const std::uint32_t place = place_of(all_.d_.to[arc]);
          chain.arcs.push_back({NodeId(i), NodeId(place == none ? out : place), all_.d_.chances[arc]});
          if (place == none) leaves_with[i] += all_.d_.chances[arc] * all_.worth_[all_.d_.to[arc]];
        }
      for (std::uint32_t from = 0; from < out; ++from) {
        chain.start = NodeId(from);
        const auto visits = visits_of(chain);
        if (const Refusal* no = refused(visits)) return *no;
        for (std::uint32_t i = 0; i < out; ++i) result[from] += given(visits)->times[i] * leaves_with[i];
      }
      for (std::uint32_t i = 0; i < out; ++i) all_.worth_[nodes_[i]] = result[i];
      return std::nullopt;
    }

    bool choose_better() {
      bool changed = false;
      for (std::size_t i = 0; i < nodes_.size(); ++i)
        for (std::uint32_t option = all_.d_.first_option(nodes_[i]); option < all_.d_.option_ends[nodes_[i]]; ++option)
          if (option != chosen_[i] && all_.is_better(all_.worth_of_option(option), all_.worth_of_option(chosen_[i]))) {
            chosen_[i] = option;
            changed = true;
          }
      return changed;
    }

    Worth& all_;
    const std::vector<std::uint32_t>& nodes_;
    std::vector<std::uint32_t> chosen_;
  };

  const Decisions<Number>& d_;
  Bound bound_;
  std::vector<Number> worth_;
};

}  // namespace

template <class Number>
Answer<std::vector<Number>> worths_of(const Decisions<Number>& decisions, const std::vector<Wanted<Number>>& wanted, std::uint32_t at) {
  if (at >= decisions.nodes()) return Refusal{Why::unknown_node, std::to_string(at)};
  if (const auto no = unless_fit(decisions)) return *no;
  const std::vector<std::uint32_t> order = without_loops(decisions);
  const bool has_loops = order.size() < decisions.nodes();
  const auto parts = has_loops ? parts_of(decisions) : std::vector<std::vector<std::uint32_t>>();
  std::vector<Number> out;
  for (const Wanted<Number>& each : wanted) {
    Worth<Number> worth(decisions, each);
    const Answer<std::vector<Number>> answer = has_loops ? worth.by_parts(parts) : worth.in_order(order);
    if (const Refusal* no = refused(answer)) return *no;
    out.push_back((*given(answer))[at]);
  }
  return out;
}

template Answer<std::vector<double>> worths_of(const Decisions<double>&, const std::vector<Wanted<double>>&, std::uint32_t);
template Answer<std::vector<ExactFraction>> worths_of(const Decisions<ExactFraction>&, const std::vector<Wanted<ExactFraction>>&, std::uint32_t);

}  // namespace stepward::reliability
