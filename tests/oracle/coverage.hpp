#pragma once
// What a series of random procedures came across, as a table: how many of them had each verb, effect, pattern, loop
// exit and interruption ending, a finding, and how large their walks were.

#include <cstddef>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "explorer.hpp"

namespace stepward::oracle {

class Coverage {
 public:
  /// One procedure: the walks of all its variants.
  void add(const std::vector<Result>& walks);
  void add(const Coverage& other);

  std::size_t procedures() const { return states_.size(); }
  std::size_t median_states() const;
  double share(const std::string& what) const;  ///< 0 to 1; of procedures whose walk came across it
  double share_with_finding() const;
  std::string table() const;
  /// What the procedures lack to be a fair sample, one line each; empty when nothing is missing.
  std::string shortfalls() const;

 private:
  std::map<std::string, std::size_t> seen_in_;
  std::map<std::string, std::size_t> codes_;
  std::vector<std::size_t> states_;
  std::size_t with_finding_ = 0;
};

/// Everything that must be found in at least one of twenty procedures.
const std::vector<std::string>& what_must_occur();

}  // namespace stepward::oracle
