#pragma once
// The published removal orders, each with its source and how far it was checked.

#include "orders.hpp"

namespace stepward::published {

/// Outfits with two pairs of gloves, for infections of high consequence.
const std::vector<Order>& full_sets();
/// Sheets for contact, droplet and airborne precautions: one pair of gloves.
const std::vector<Order>& basic_sheets();
/// Both, in the order of the published matrix where it has them.
std::vector<Order> all_removal_orders();

}  // namespace stepward::published
