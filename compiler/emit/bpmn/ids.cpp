#include "emit/bpmn/ids.hpp"

#include <cctype>

#include <fmt/format.h>

namespace stepward::emit::bpmn {

std::string Ids::of(const std::string& wanted) {
  const auto known = given_.find(wanted);
  if (known != given_.end()) return known->second;
  // No id of XML begins with a digit.
  const std::string own = plain(wanted);
  const std::string base = key_.empty() && (own.empty() || std::isalpha(static_cast<unsigned char>(own[0])) == 0) ? "_" + own : key_ + own;
  std::string id = base;
  for (int copy = 2; !used_.insert(id).second; ++copy) id = fmt::format("{}.{}", base, copy);
  given_[wanted] = id;
  return id;
}

std::string Ids::plain(const std::string& text) {
  std::string all;
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (c == ':') {
      all += '.';
    } else if (byte < 0x80 && (std::isalnum(byte) != 0 || c == '-' || c == '_' || c == '.')) {
      all += c;
    } else if (c == ' ') {
      all += '_';
    } else {
      all += fmt::format("x{:02X}", byte);
    }
  }
  return all;
}

}  // namespace stepward::emit::bpmn
