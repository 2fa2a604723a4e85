#pragma once
// Is there an order of a phase's remaining lines that keeps these rules, from this situation on?
//
// As in search.hpp, an order is fixed before anybody acts, so it is tried on all situations that its beginning may leave behind. Here one
// order is enough, and the one nearest to what is written is taken: lines are tried in that order, depth first. A set of situations from
// which none was found is remembered for as long as the same rules are asked, whatever situation the next question begins with; so is the
// line to go on with where one was found.

#include <map>
#include <optional>

#include "order/open_phase.hpp"

namespace stepward::order {

/// An order of the lines that are left, and the rules that it breaks on some path.
struct TriedOrder {
  std::vector<std::uint32_t> lines;
  Broken broken = 0;
};

class PhaseOrders {
 public:
  /// `most_places`: sets of situations, for all questions together.
  PhaseOrders(OpenPhase& phase, std::size_t most_places) : phase_(phase), most_places_(most_places) {}

  /// False: not all could be tried, and an answer of "none" means nothing.
  bool is_complete() const { return phase_.is_complete() && places_ <= most_places_; }
  /// The first order that keeps `asked` and everything that needs no rule; none: every order breaks some of it.
  std::optional<TriedOrder> that_keeps(Broken asked, std::uint32_t beginning);

 private:
  using Situations = std::vector<std::uint32_t>;  ///< sorted
  static constexpr std::uint32_t no_line = UINT32_MAX;

  std::uint32_t line_to_go_on_with(Broken asked, const Situations& here);
  Broken follow(const Situations& here, std::uint32_t line, Situations& there);
  std::uint32_t all_done() const { return static_cast<std::uint32_t>((std::uint64_t(1) << phase_.lines()) - 1); }

  OpenPhase& phase_;
  std::size_t most_places_, places_ = 0;
  std::map<Broken, std::map<Situations, std::uint32_t>> known_;  ///< by what is asked: the next line, or `no_line`
};

}  // namespace stepward::order
