#pragma once
// Ids that FHIR allows: letters, digits, '-' and '.', 64 at most.

#include <map>
#include <set>
#include <string>

namespace stepward::emit::fhir {

class LegalIds {
 public:
  /// The id for a name of ours: the same whenever it is asked for, and of no other name. A name that does not fit is cut
  /// and ends in eight digits made from the whole of it, so that it does not hang on what else there is.
  std::string of(const std::string& name);

 private:
  std::map<std::string, std::string> given_;
  std::set<std::string> used_;
};

}  // namespace stepward::emit::fhir
