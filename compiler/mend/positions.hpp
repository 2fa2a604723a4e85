#pragma once
// Where lines may be written or moved to: places of an outline, by the lines of the file.
//
// A position is in front of a line. New lines are tried from a statement backwards and outwards, up into the phase before:
//
//     phase "Eyes"          3   behind the last line of the phase before: 4
//       observer inspects   2
//       if soil on goggles  1
//         …                     lines within a question that is passed are no places
//       take off goggles    0   the finding stands here
//
// A line may be moved only to where whoever comes there has come to its old place as well, or a run would no longer do it.

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "mend/outline.hpp"

namespace stepward::mend {

inline constexpr std::uint32_t farthest = 14;  ///< statements between a new line and the finding

/// Where a new line can stand: in front of a line of a file.
struct Position {
  std::uint32_t file = 0;
  std::uint32_t before = 0;
  std::string margin;
  std::uint32_t distance = 0;
};

/// The outline and what it was made from must live as long.
class Positions {
 public:
  Positions(const resolve::Loaded& loaded, const source::Files& files, const Outline& outline) : loaded_(loaded), files_(files), outline_(outline) {}

  std::string_view text(std::uint32_t file, std::uint32_t line) const;
  /// In front of a statement, and of the remarks that stand directly above it.
  Position before(std::uint32_t statement, std::uint32_t distance) const;
  Position behind(std::uint32_t statement, std::uint32_t distance) const;
  /// Places for a new line, from a statement backwards and outwards.
  std::vector<Position> backwards(std::uint32_t from, std::uint32_t distance) const;
  /// So many statements further in the same block and arm; nowhere: there is none.
  std::uint32_t neighbour(std::uint32_t statement, int by) const;
  /// Whether words name a thing that "only for" this block is there.
  bool is_about_choice_of(std::uint32_t block, const std::string& words) const;
  /// Whether whoever comes to `to` has come to `from` as well, so that nothing moved there is left out on some run.
  bool on_every_run_of(std::uint32_t from, std::uint32_t to) const;

 private:
  std::uint32_t last_of_phase_before(std::uint32_t phase) const;

  const resolve::Loaded& loaded_;
  const source::Files& files_;
  const Outline& outline_;
};

}  // namespace stepward::mend
