#pragma once
// Which orders keep what is asked, how many there are, and what the others break.
//
// An order is fixed before anybody acts, while what is found on the way is not. So an order is tried on all situations at once: a *place*
// of the search is a set of situations, those that the lines chosen so far may leave behind in any variant, on any path. From there every
// line that is not chosen yet is tried; if it breaks something in one of the situations, every order that begins like this is out.
//
//     place {start}  — a →  {clean, soiled}  — b →  {clean}     a b: kept
//                                            — c →  out          a c: breaks rule 3.2 where soil was found
//
// Two beginnings that leave the same set behind go on alike and are one place. So the places are few where the orders are many, each
// order is a way through them, and they are counted by adding up, without being listed. The number of places is bounded.
//
// Several order blocks are looked for together, the lines of the first before those of the second. Where a block may be come to anew,
// what was chosen for it belongs to the place, since it is followed again; else only the set does.

#include <cstdint>
#include <optional>
#include <vector>

#include "order/open_walk.hpp"

namespace stepward::order {

/// One order for each block: positions of lines as they are written.
using Choice = std::vector<std::vector<std::uint8_t>>;

/// Orders that are out for one reason: so many break `breach` first, at line `line` of block `order`.
struct Rejection {
  std::uint32_t order = 0, line = 0, breach = 0;
  double orders = 0;
};

class Search {
 public:
  /// Of `asked`, nothing may be broken. `fixed`: blocks whose order is settled already, by block; empty: open. At most `most_places`.
  Search(const Orders& orders, Breaches asked, Choice fixed = {}, std::size_t most_places = 200'000);

  bool is_complete() const { return complete_; }
  /// The block at which the search ended.
  std::uint32_t ended_at() const;
  /// How many orders keep what is asked, of how many.
  double kept() const { return places_.empty() ? 0 : places_.front().kept; }
  double all() const;
  /// The kept order of this rank, counted from 0; rank 0 is the first by the places that the lines have as they are written.
  Choice order_of_rank(double rank) const;
  /// Why the others are out; the most frequent reason first.
  std::vector<Rejection> rejections() const;

 private:
  struct Step { std::uint8_t line = 0; std::uint32_t to = 0; Breaches broken = 0; };  ///< to: UINT32_MAX, where something is broken
  struct Place {
    std::vector<std::uint32_t> situations;  ///< sorted
    Choice chosen;
    std::uint32_t order = UINT32_MAX;       ///< the block whose next line is chosen here; none: every run is through
    std::vector<Step> steps;
    double reached = 0, kept = 0;           ///< orders that come here, and ways on from here that are kept
  };
  struct Key {
    std::vector<std::uint32_t> situations;
    Choice chosen;
    friend bool operator<(const Key& a, const Key& b) { return a.situations != b.situations ? a.situations < b.situations : a.chosen < b.chosen; }
  };

  void find_ways_between();
  void open_level(std::size_t first, std::size_t last);
  void try_line(std::size_t place, std::uint8_t line);
  std::uint32_t file(Place place);
  bool belongs_to_place(std::uint32_t order, const std::vector<std::uint32_t>& situations) const;
  Place follow(std::vector<std::uint32_t> open, Choice chosen, Breaches& broken) const;
  void count();
  double open_lines(const Choice& chosen) const;

  const Orders& orders_;
  Breaches asked_;
  Choice fixed_;
  std::size_t most_places_;
  bool complete_ = true;
  std::vector<std::vector<bool>> leads_;     ///< [from][to]: runs in block `from` may still come to block `to`, or come to it anew
  std::vector<Place> places_;
  std::map<Key, std::uint32_t> filed_;
};

}  // namespace stepward::order
