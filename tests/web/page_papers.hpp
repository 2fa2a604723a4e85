#pragma once
// The papers of whole protocols, checked as the program checks them: shared by the tests of this folder.

#include <string>
#include <vector>

#include "emit/document/document.hpp"

namespace stepward::test {

struct NamedSheet {
  std::string name;  ///< "aldermoss-exit.ward, gown · goggles, card"
  emit::Sheet sheet;
};

/// The files whose papers are looked at, relative to the tree: the example and protocols of the library.
const std::vector<std::string>& looked_at();

/// Every paper of every variant of a protocol, and those that are made once.
std::vector<NamedSheet> all_papers(const std::string& file);

}  // namespace stepward::test
