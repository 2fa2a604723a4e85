#include "driver/variant_choice.hpp"

#include <algorithm>
#include <cctype>

#include <fmt/format.h>

#include "base/text.hpp"
#include "model/variants.hpp"

namespace stepward::driver {
namespace {

void replace_all(std::string& text, const std::string& what, const std::string& with) {
  for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + with.size())) {
    text.replace(at, what.size(), with);
  }
}

std::string trimmed(const std::string& text) {
  const std::size_t begin = text.find_first_not_of(" \t");
  return begin == std::string::npos ? "" : text.substr(begin, text.find_last_not_of(" \t") - begin + 1);
}

/// The parts of "coverall, goggles", "coverall with goggles" or "coverall · goggles".
std::vector<std::string> parts_of(const std::string& words) {
  std::string list = text::fold(words);
  for (const char* joint : {"·", "+", " with "}) replace_all(list, joint, ",");
  std::vector<std::string> parts;
  for (std::size_t begin = 0; begin <= list.size();) {
    const std::size_t end = std::min(list.find(',', begin), list.size());
    if (std::string part = trimmed(list.substr(begin, end - begin)); !part.empty()) parts.push_back(std::move(part));
    begin = end + 1;
  }
  return parts;
}

bool has_value(const model::Protocol& protocol, const model::Variant& variant, const std::string& part) {
  for (std::size_t choice = 0; choice < variant.size(); ++choice) {
    if (variant[choice] < 0) continue;
    if (text::fold(protocol.choices[choice].values[static_cast<std::size_t>(variant[choice])].name) == part) return true;
  }
  return false;
}

bool fits(const model::Protocol& protocol, const model::Variant& variant, const std::string& words) {
  if (slug(model::variant_name(protocol, variant)) == slug(words)) return true;
  const std::vector<std::string> parts = parts_of(words);
  return !parts.empty() && std::all_of(parts.begin(), parts.end(), [&](const std::string& part) {
    return has_value(protocol, variant, part);
  });
}

std::string listed(const model::Protocol& protocol, const std::vector<model::Variant>& variants) {
  std::string list;
  for (const model::Variant& variant : variants) list += "\n  " + model::variant_name(protocol, variant);
  return list;
}

}  // namespace

std::optional<std::size_t> variant_meant(const model::Protocol& protocol, const std::string& words, std::string& why) {
  const std::vector<model::Variant> all = model::all_variants(protocol);
  std::vector<std::size_t> meant;
  std::vector<model::Variant> fitting;
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (!fits(protocol, all[i], words)) continue;
    meant.push_back(i);
    fitting.push_back(all[i]);
  }
  if (meant.size() == 1) return meant.front();
  if (protocol.choices.empty()) {
    why = "this protocol has no variants";
  } else if (meant.empty()) {
    why = fmt::format("no variant is called \"{}\"; there are:{}", words, listed(protocol, all));
  } else {
    why = fmt::format("\"{}\" fits {} variants; name more of their parts:{}", words, meant.size(), listed(protocol, fitting));
  }
  return std::nullopt;
}

std::string slug(const std::string& name) {
  std::string made;
  std::string folded = text::fold(name);
  replace_all(folded, "·", " ");
  bool gap = false;
  for (const char c : folded) {
    const auto byte = static_cast<unsigned char>(c);
    // Letters of other scripts stay: a file's name may hold them.
    const bool stays = byte >= 0x80 || std::isalnum(byte) != 0;
    if (stays && gap && !made.empty()) made += '-';
    if (stays) made += c;
    gap = !stays;
  }
  return made;
}

std::string file_part(const std::string& text) {
  std::string made;
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    const bool stays = byte >= 0x80 || std::isalnum(byte) != 0 || c == '-' || (c == '.' && !made.empty());
    made += stays ? c : '-';
  }
  return made.empty() ? "unnumbered" : made;
}

}  // namespace stepward::driver
