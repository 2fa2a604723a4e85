#pragma once
// What the lines of a mend cost: steps, time and kit.
//
// Steps are counted on the longest run of any variant on which nothing interrupts, before and after. Time is what the new lines
// declare themselves (contact times, waits, "at least"), once for each time that they are done; nobody declares how long a
// removal takes, so it is a lower bound. Kit is read off the finished walk: what the new lines use up on the run that uses
// most of a thing, and what that run then needs of it altogether.

#include <cstdint>
#include <string>
#include <vector>

#include "mend/search.hpp"

namespace stepward::mend {

struct Use {
  std::string name, unit;            ///< "chlorine wipe"; "pair", or empty
  std::uint32_t by_these = 0;        ///< by the new lines
  std::uint32_t needed = 0;          ///< by all lines
  std::uint32_t given = 0;
  bool listed = false;               ///< the kit is listed, and has `given` of it
};

struct Costs {
  std::int64_t steps = 0;            ///< more on the longest run
  std::uint32_t seconds = 0;         ///< at least, each time
  std::vector<Use> uses;
};

Costs costs_of(const Mend& mend);

}  // namespace stepward::mend
