#pragma once
// Lines that are there already, in another place.
//
// What is moved goes with what belongs to it, and stays where each run comes that came to it before. Worked example: inner gloves go on
// behind the outer ones, and with them went the look at them and the question about a tear. All three stand in a row there, about the
// same thing; so they are a *run*, and the run is tried in front of every line before it, the nearest first.

#include <array>
#include <set>

#include "mend/draft_list.hpp"
#include "mend/positions.hpp"
#include "mend/wants.hpp"

namespace stepward::mend {

class Moves {
 public:
  Moves(const Reading& reading, const Outline& outline, const Positions& where, DraftList& drafts) : reading_(reading), outline_(outline), where_(where), drafts_(drafts) {}

  /// What might have to move for a finding that stands so many statements behind `place`, to it, from it or beside it.
  void around(std::uint32_t place, std::uint32_t distance, const Wants& wants);

 private:
  /// Statements of one block, from the first to the last, that move as one.
  struct Run { std::uint32_t first = nowhere, last = nowhere; };
  /// The things that a statement is about, by their names in its text, and whether it is a free act or holds one.
  struct About { std::set<std::uint32_t> items; bool is_free = false; };
  /// What a move weighs, and how many places further weigh one more.
  struct Weight { std::uint32_t least = 0, places = 1; };

  void near(std::uint32_t place, std::uint32_t distance);
  void from_elsewhere(std::uint32_t place, std::uint32_t distance, const Wants& wants);
  void upwards(const Run& run, std::uint32_t from, Weight weight);
  void downwards(const Run& run, Weight weight);
  void removal_with_its_look(std::uint32_t place, std::uint32_t weight);
  void put_on_sooner(std::uint32_t place, const Wants& wants);
  void move(const Run& run, std::uint32_t beside, const Position& to, std::uint32_t weight);
  void move_near(std::uint32_t statement, std::uint32_t beside, const Position& to) { move({statement, statement}, beside, to, 2 * to.distance + 1); }

  std::uint32_t look_before(std::uint32_t place) const;
  Run with_what_follows(std::uint32_t place) const;
  About about(std::uint32_t statement) const;
  std::set<std::uint32_t> with_alternatives(std::set<std::uint32_t> items) const;
  bool keeps_acts_in_order(std::uint32_t statement, const Run& run, const Position& to) const;
  bool does(std::uint32_t statement, model::VerbKind verb) const;
  bool is_one(const Run& run) const { return run.first == run.last; }

  const Reading& reading_;
  const Outline& outline_;
  const Positions& where_;
  DraftList& drafts_;
  std::set<std::array<std::uint32_t, 4>> orders_;  ///< where two runs of lines that change places begin and end
};

}  // namespace stepward::mend
