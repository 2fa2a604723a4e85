#include "emit/document/direction.hpp"

#include <algorithm>
#include <iterator>
#include <string>

#include "base/text.hpp"

namespace stepward::emit {
namespace {

// The scripts that are written from right to left (ISO 15924, "Bidi_Class R or AL" of the Unicode Character Database), and the languages whose
// usual script is one of them ("Suppress-Script" of the IANA language subtag registry, and common practice; from memory).
constexpr std::string_view right_scripts[] = {"arab", "aran", "hebr", "nkoo", "rohg", "syrc", "thaa"};
constexpr std::string_view right_languages[] = {"ar", "arc", "ckb", "dv", "fa", "he", "iw", "nqo", "prs", "ps", "sd", "syr", "ug", "ur", "yi"};

template <class List>
bool is_listed(const List& list, std::string_view word) {
  return std::find(std::begin(list), std::end(list), word) != std::end(list);
}

}  // namespace

bool reads_right_to_left(std::string_view tag) {
  const std::string lower = text::lower(tag);
  const std::string_view all = lower;
  for (std::size_t at = all.find('-'); at != std::string_view::npos; at = all.find('-', at + 1)) {
    const std::string_view subtag = all.substr(at + 1, all.find('-', at + 1) - at - 1);
    if (subtag.size() == 4 && subtag[0] >= 'a') return is_listed(right_scripts, subtag);
  }
  return is_listed(right_languages, all.substr(0, all.find('-')));
}

}  // namespace stepward::emit
