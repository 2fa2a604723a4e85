#include <fmt/format.h>

#include "driver/dumps.hpp"

namespace stepward::driver {

std::string dump_stock(const model::Protocol& protocol, const check::VariantWalk& walk) {
  std::string text;
  for (const check::StockNeed& need : walk.stock) {
    const std::string unit = check::kept_unit(protocol, need.thing);
    text += fmt::format("  {} {}: needed {}, {}\n", check::kept_name(protocol, need.thing), unit.empty() ? "(each)" : "(" + unit + ")", need.needed,
                        need.listed ? fmt::format("given {}", need.given) : "not listed");
    for (const check::StockUse& use : need.uses) {
      text += fmt::format("    {} x {}  {}  [{}]\n", use.times, use.count, line_name(protocol, walk.variant, use.line), protocol[use.line].id);
    }
  }
  return text;
}

}  // namespace stepward::driver
