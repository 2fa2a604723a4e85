#include "slips/step_order.hpp"

#include <algorithm>
#include <tuple>

namespace stepward::slips {
namespace {

/// "C27b": the box, the number by its length and digits, what stands behind it.
struct Label { std::string box, digits, rest; };

Label parts_of(const std::string& label) {
  const auto is_digit = [](char c) { return c >= '0' && c <= '9'; };
  const auto from = std::find_if(label.begin(), label.end(), is_digit);
  const auto to = std::find_if_not(from, label.end(), is_digit);
  return {std::string(label.begin(), from), std::string(from, to), std::string(to, label.end())};
}

}  // namespace

bool StepOrder::operator()(const std::string& a, const std::string& b) const {
  const Label x = parts_of(a), y = parts_of(b);
  return std::tuple(x.box, x.digits.size(), x.digits, x.rest) < std::tuple(y.box, y.digits.size(), y.digits, y.rest);
}

}  // namespace stepward::slips
