#include "wording/phrases.hpp"

#include <algorithm>
#include <iterator>

namespace stepward::wording {
namespace {

constexpr std::string_view catalogue[] = {
#define STEPWARD_PHRASE(id, english) english,
#include "wording/phrases.def"
};

struct Language { std::string_view name, tag; };
constexpr Language languages[] = {
    {"English", "en"},    {"Spanish", "es"},  {"French", "fr"},   {"German", "de"},     {"Portuguese", "pt"}, {"Italian", "it"},
    {"Polish", "pl"},     {"Turkish", "tr"},  {"Arabic", "ar"},   {"Hindi", "hi"},      {"Bengali", "bn"},    {"Urdu", "ur"},
    {"Dutch", "nl"},      {"Swedish", "sv"},  {"Norwegian", "no"}, {"Danish", "da"},    {"Finnish", "fi"},    {"Greek", "el"},
    {"Russian", "ru"},    {"Ukrainian", "uk"}, {"Romanian", "ro"}, {"Hungarian", "hu"}, {"Czech", "cs"},      {"Swahili", "sw"},
    {"Lingala", "ln"},    {"Hausa", "ha"},    {"Amharic", "am"},  {"Somali", "so"},     {"Tagalog", "tl"},    {"Vietnamese", "vi"},
    {"Chinese", "zh"},    {"Japanese", "ja"}, {"Korean", "ko"},   {"Hebrew", "he"},     {"Persian", "fa"},    {"Welsh", "cy"}};

}  // namespace

const std::size_t phrase_count = std::size(catalogue);

std::vector<PhrasePiece> pieces_of(std::string_view unfilled_phrase) {
  std::vector<PhrasePiece> pieces;
  while (!unfilled_phrase.empty()) {
    const std::size_t open = unfilled_phrase.find('['), close = unfilled_phrase.find(']', open);
    if (open == std::string_view::npos || close == std::string_view::npos) break;
    if (open > 0) pieces.push_back({unfilled_phrase.substr(0, open)});
    pieces.push_back({unfilled_phrase.substr(open + 1, close - open - 1), true});
    unfilled_phrase.remove_prefix(close + 1);
  }
  if (!unfilled_phrase.empty()) pieces.push_back({unfilled_phrase});
  return pieces;
}

std::vector<std::string> gaps_of(std::string_view text) {
  std::vector<std::string> gaps;
  for (const PhrasePiece& piece : pieces_of(text)) {
    if (piece.is_gap) gaps.emplace_back(piece.text);
  }
  std::sort(gaps.begin(), gaps.end());
  return gaps;
}

std::string_view unfilled(const model::Tongue& tongue, Phrase which) {
  const auto at = static_cast<std::size_t>(which);
  return at < tongue.phrases.size() ? std::string_view(tongue.phrases[at]) : catalogue[at];
}

std::string phrase(const model::Tongue& tongue, Phrase which, std::initializer_list<Gap> gaps) {
  std::string text;
  for (const PhrasePiece& piece : pieces_of(unfilled(tongue, which))) {
    const auto* gap = std::find_if(gaps.begin(), gaps.end(), [&](const Gap& each) { return piece.is_gap && each.name == piece.text; });
    if (gap != gaps.end()) text += gap->value;
    else if (piece.is_gap) text.append("[").append(piece.text).append("]");
    else text += piece.text;
  }
  return contracted(tongue, std::move(text));
}

std::string contracted(const model::Tongue& tongue, std::string text) {
  const auto ends_word = [&](std::size_t at) { return at >= text.size() || text[at] == ' '; };
  for (const model::Contraction& each : tongue.contractions) {
    for (std::size_t at = text.find(each.apart); at != std::string::npos; at = text.find(each.apart, at + 1)) {
      const bool begins = at == 0 || text[at - 1] == ' ';
      if (begins && ends_word(at + each.apart.size())) text.replace(at, each.apart.size(), each.together);
    }
  }
  return text;
}

std::string_view english_phrase(std::size_t which) { return catalogue[which]; }

std::optional<std::size_t> phrase_saying(std::string_view english) {
  const auto* found = std::find(std::begin(catalogue), std::end(catalogue), english);
  if (found == std::end(catalogue)) return std::nullopt;
  return static_cast<std::size_t>(found - std::begin(catalogue));
}

std::string_view language_tag(std::string_view language) {
  const auto* found = std::find_if(std::begin(languages), std::end(languages), [&](const Language& each) { return each.name == language; });
  return found == std::end(languages) ? "und" : found->tag;
}

}  // namespace stepward::wording
