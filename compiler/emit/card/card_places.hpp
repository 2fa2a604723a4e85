#pragma once
// Where each step stands on the wearer's card: under which zone, in which part, behind which answers.
//
// Read off the card's own blocks, so that a paper which says "at step 34, in the exit area" and the card cannot disagree.

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "emit/document/document.hpp"

namespace stepward::emit {

struct CardPlace {
  std::string zone;                  ///< the last band above; empty in boxes, which are read from several places
  std::string part;                  ///< the phase; empty in boxes and breaches
  std::optional<BoxMark> box;        ///< the box or the breach that it stands in
  std::vector<std::string> answers;  ///< "Tear on the outer gloves? YES to Q3", from the outside in
};

/// Goes through a card from top to bottom.
class CardReader {
 public:
  /// Passes one block, and tells where it stands.
  const CardPlace& pass(const Block& block);

 private:
  void answer(const BranchMark& mark);

  CardPlace place_;
  std::vector<std::string> asked_;            ///< the last question, by level
  std::map<std::string, std::string> further_;  ///< questions behind the first one of their frame, by their numbers
};

/// By label of the step.
std::map<std::string, CardPlace> places_on_card(const std::vector<Block>& card);

}  // namespace stepward::emit
