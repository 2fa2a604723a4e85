#include "driver/dependencies.hpp"

#include <algorithm>
#include <set>

namespace stepward::driver {
namespace {

/// As make and ninja read it back: a backslash before a space, a colon or a hash, and the dollar twice.
std::string in_a_rule(const std::string& path) {
  std::string all;
  for (const char c : path) {
    if (c == ' ' || c == ':' || c == '#') all += '\\';
    if (c == '$') all += '$';
    all += c;
  }
  return all;
}

bool fits_a_rule(const std::string& path) {
  return std::none_of(path.begin(), path.end(), [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == '\\'; });
}

}  // namespace

std::optional<std::string> ReadFiles::read(std::string_view path, std::string& why) const {
  auto text = access_.read(path, why);
  if (text) noted_.emplace_back(path);
  return text;
}

std::string dependency_target(const std::string& output, const std::string& depfile) {
  if (!output.empty()) return output;
  const bool ends_in_d = depfile.size() > 2 && depfile.compare(depfile.size() - 2, 2, ".d") == 0;
  return ends_in_d ? depfile.substr(0, depfile.size() - 2) : depfile;
}

std::optional<std::string> dependency_rule(const std::vector<std::string>& targets, const std::vector<std::vector<std::string>>& read_from, std::string& why) {
  std::vector<std::string> all = targets;
  std::set<std::string> seen;
  for (const auto& files : read_from) {
    for (const std::string& file : files) {
      if (seen.insert(file).second) all.push_back(file);
    }
  }
  std::string rule;
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (!fits_a_rule(all[i])) {
      why = "\"" + all[i] + "\" cannot stand in a --depfile; no name with a backslash or a control character can";
      return std::nullopt;
    }
    rule += in_a_rule(all[i]) + (i + 1 == targets.size() ? ":" : "");
    if (i + 1 < all.size()) rule += " ";
  }
  return rule + '\n';
}

}  // namespace stepward::driver
