// Dilutions against published tables: CDC, Best Practices for Environmental Cleaning in Limited Resources, Appendix E
// (read): parts water to one part stock = stock / target - 1; and WHO 2014 Annex G, table G.1 (read): 5 percent, 1 with 99.

#include "doctest/doctest.h"

#include "base/rational.hpp"
#include "orders.hpp"

using stepward::Rational;
using namespace stepward::published;

namespace {

std::string with_agent(std::string_view mix, std::string_view stock, std::string_view strength) {
  std::string text = protocol_text({"dilution", "", Mark::read, "inner gloves", {"hh", "off inner gloves", "rub", "exit"}}, {});
  const std::string agent = "agent test chlorine\n  made from \"bleach\" at " + std::string(stock) + " percent\n  mix " + std::string(mix) +
                            " \"cold water\"\n  strength " + std::string(strength) + "\n  works on gloves\n  contact time 1 minute otherwise\nend agent\n\n";
  return text.insert(text.find("endings\n"), agent);
}

bool found_T(const Checked& checked) {
  for (const auto& d : checked.errors) if (stepward::diagnostics::code_name(d.code).starts_with("T")) return true;
  return false;
}

}  // namespace

TEST_CASE("dilution rows of Appendix E and table G.1 are accepted, and only those") {
  struct Row { const char *mix, *stock, *strength; bool right; };
  const Row rows[] = {
      {"1 part with 6 parts", "3.5", "0.5 percent", true},    {"1 part with 99 parts", "5", "500 ppm", true},
      {"1 part with 9 parts", "5", "5000 ppm", true},         {"1 part with 49 parts", "5", "0.1 percent", true},
      {"1 part with 9.5 parts", "5.25", "5000 ppm", true},    {"1 part with 4.2 parts", "2.6", "0.5 percent", true},
      {"1 part with 10 parts", "5", "5000 ppm", false},       {"1 part with 100 parts", "5", "500 ppm", false},
      {"1 part with 100 parts", "2.6", "0.05 percent", false},
  };
  for (const Row& row : rows) {
    const Checked checked = check_text(with_agent(row.mix, row.stock, row.strength));
    CAPTURE(row.mix);
    CAPTURE(row.stock);
    CAPTURE(codes(checked));
    CHECK(found_T(checked) == !row.right);
  }
}

TEST_CASE("parts of water follow the published formula exactly") {
  const auto parts = [](Rational stock, Rational target) { return stock / target - Rational(1); };
  CHECK(parts({7, 2}, {1, 2}) == Rational(6));
  CHECK(parts({5}, {1, 10}) == Rational(49));
  CHECK(parts({21, 4}, {1, 20}) == Rational(104));
  CHECK(parts({123, 20}, {1, 2}) == Rational(113, 10));
}
