#include "emit/document/direction.hpp"

#include <algorithm>
#include <iterator>

namespace stepward::emit {

bool reads_right_to_left(std::string_view tag) {
  constexpr std::string_view languages[] = {"ar", "ckb", "dv", "fa", "he", "ps", "sd", "syr", "ug", "ur", "yi"};
  const std::string_view language = tag.substr(0, tag.find('-'));
  return std::find(std::begin(languages), std::end(languages), language) != std::end(languages);
}

}  // namespace stepward::emit
