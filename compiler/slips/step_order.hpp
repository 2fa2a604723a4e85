#pragma once
// The order of the card's step numbers: 4, 22, 27b, then those of boxes: A2, C3.

#include <string>

namespace stepward::slips {

struct StepOrder {
  bool operator()(const std::string& a, const std::string& b) const;
};

}  // namespace stepward::slips
