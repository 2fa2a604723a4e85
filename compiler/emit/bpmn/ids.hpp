#pragma once
// Ids of a BPMN document: NCNames of plain letters, which every tool reads.

#include <map>
#include <set>
#include <string>

namespace stepward::emit::bpmn {

class Ids {
 public:
  /// `key` stands before every id, so that several charts can share a document.
  explicit Ids(std::string key) : key_(std::move(key)) {}

  /// The id of something; the same whenever it is asked for, and of nothing else.
  std::string of(const std::string& wanted);

  /// Letters, digits, '-', '_' and '.'; a colon becomes a dot and any other byte two digits behind "x".
  static std::string plain(const std::string& text);

 private:
  std::string key_;
  std::map<std::string, std::string> given_;
  std::set<std::string> used_;
};

}  // namespace stepward::emit::bpmn
