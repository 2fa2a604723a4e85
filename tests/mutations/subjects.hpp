#pragma once
// Protocols in which a rule can be seen at work: published orders and procedures under the packs that they keep, the
// protocols of the standard library, the example.

#include <functional>

#include "base.hpp"
#include "orders.hpp"

namespace stepward::mutations {

struct Subject {
  std::string name;              ///< an order's name, or a file's
  std::function<Base()> read;
};

/// Small ones first; orders that are kept as regression only at the end.
std::vector<Subject> all_subjects(const std::string& source_dir);
Base base_of_order(const published::Order& order, const published::Written& how);

}  // namespace stepward::mutations
