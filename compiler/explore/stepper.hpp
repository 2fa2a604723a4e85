#pragma once
// One step of a run: what a state's edges and strikes make of it.
//
// A stepper expands a block of states into a *batch*: their successors in order, settled at a standing place, with what
// nobody asks again emptied, and hashed. It reads the packed system and the states and writes nothing but the batch, so
// several steppers may work on one walk. What a stepper meets for the first time (a report, an edge, a node) it notes
// in the batch. Each stepper gets its blocks in ascending order, so the walk, which takes batches in order, sees the
// first meeting of all before any other.
//
// Most steps are not worked out at all. What an edge does depends only on the bits that its operations, and the
// crossings behind it, ask: a dozen of two hundred. So a stepper remembers, by edge and those bits, which bits the edge
// wrote and what with:
//
//     state            … 0110 10 1 …          edge 17 asks the middle two bits only
//     remembered       17, 10:                keep all but bits 0 and 5, put 1 in bit 5
//
// and two states that differ elsewhere take the edge by one look into memory. An edge that asks much, or whose run is
// seldom met twice, is worked out each time and overwrites what stood in its slot.

#include "explore/packed.hpp"

namespace stepward::explore {

struct Sign {
  enum class What : std::uint8_t { report, edge, node } what = What::report;
  std::uint32_t number = 0;
  std::uint32_t step = 0;   ///< index into the batch's `steps`
};

struct Step {
  std::uint64_t hash = 0;
  std::uint32_t via = 0;    ///< packed edge
  bool over = false;        ///< the run ends; there is no state
};

struct Batch {
  std::uint32_t first = 0, last = 0;        ///< states that were expanded
  std::vector<std::uint32_t> step_ends;     ///< steps of state first + i end here
  std::vector<Step> steps;
  std::vector<std::uint64_t> words;         ///< of each step's state, those of one that is over without meaning
  std::vector<Sign> signs;

  void clear();
};

class Stepper {
 public:
  Stepper(const Packed& packed, bool interruptions);

  /// The state where runs begin, as the only step of an empty batch.
  void begin(Batch& batch);
  /// Adds the steps of one state. `struck`: interruptions may strike there.
  void expand(const std::uint64_t* state, bool struck, Batch& batch);
  /// Adds the step along one edge, whatever its guard says.
  void follow_one(const std::uint64_t* state, std::uint32_t edge, Batch& batch);

 private:
  template <std::uint32_t Words>
  void follow_all(const std::uint64_t* state, bool struck);
  template <std::uint32_t Words>
  void follow(const std::uint64_t* here, std::uint32_t edge, const PackedNode& node);
  void work_out(const std::uint64_t* here, std::uint32_t edge, const PackedNode& node, const std::uint64_t* asked, std::uint64_t* deed);
  bool take(std::uint64_t* w, std::uint32_t edge);
  bool settle(std::uint64_t* w);
  template <std::uint32_t Words>
  void forget(std::uint64_t* w) const;
  void report(const PackedOp& op);
  void write(std::uint64_t* w, Slot s, std::uint32_t value);
  void note(Sign::What what, std::uint32_t number, std::vector<std::uint8_t>& met);

  const Packed& packed_;
  bool interruptions_;
  std::vector<std::uint8_t> reports_, edges_, nodes_;  ///< met before
  /// What edges did: in each slot the edge and whether the run was over, then `words` each: the bits it depends on as
  /// they were, those to keep, those to put.
  std::vector<std::uint64_t> deeds_;
  std::uint64_t written_[most_words + most_scratch_words] = {};  ///< bits written since the step began
  Batch* batch_ = nullptr;
  bool cut_ = false;
};

}  // namespace stepward::explore
