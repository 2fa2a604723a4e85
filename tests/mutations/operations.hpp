#pragma once
// The kinds of mistake, by the names under which tables show them.

#include <span>

#include "mutant.hpp"

namespace stepward::mutations {

using Generator = std::vector<Mutant> (*)(const Base&);

struct Operation {
  const char* name;
  Generator generate;
  bool on_entry;  ///< it can be made when somebody dresses, too
};

/// Twelve mistakes that people make when they write such a procedure.
std::span<const Operation> mistakes();

/// At most so many of the places: the same in every run, and spread over the whole list.
std::vector<Mutant> chosen(std::vector<Mutant> all, std::size_t most);

}  // namespace stepward::mutations
