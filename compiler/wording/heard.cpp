#include "wording/heard.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <iterator>

#include "base/text.hpp"

namespace stepward::wording {
namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// Letters of any script, digits, and what stands inside of words.
bool is_of_word(char c) {
  return std::isalnum(static_cast<unsigned char>(c)) || static_cast<unsigned char>(c) >= 0x80 || c == '\'' || c == '-';
}

bool is_point_in_number(std::string_view text, std::size_t at) {
  return text[at] == '.' && at > 0 && at + 1 < text.size() && is_digit(text[at - 1]) && is_digit(text[at + 1]);
}

std::string singular(const std::string& word) {
  const bool plural = word.size() > 3 && word.back() == 's' && word[word.size() - 2] != 's';
  return plural ? word.substr(0, word.size() - 1) : word;
}

bool same_word(const std::string& a, const std::string& b) { return a == b || singular(a) == singular(b); }

bool is_article(const std::string& word) { return word == "the" || word == "your" || word == "a" || word == "an"; }

bool holds_in_order(const std::vector<std::string>& words, const std::vector<std::string>& wanted) {
  return std::search(words.begin(), words.end(), wanted.begin(), wanted.end(), same_word) != words.end();
}

/// Blanks and dashes of print are no letters; the curly apostrophe is one.
std::string with_plain_marks(std::string_view text) {
  std::string plain;
  for (std::size_t at = 0; at < text.size();) {
    const bool no_break = text.substr(at, 2) == "\xC2\xA0";
    const bool mark = text.substr(at, 2) == "\xE2\x80" && text.substr(at, 3) != "\xE2\x80\x99";
    if (no_break || mark) plain += ' ';
    else plain += text[at];
    at += no_break ? 2 : mark ? 3 : 1;
  }
  return plain;
}

// ------------------------------------------------------------------ figures

/// Words, numbers with their points, and single signs: "90s, 0.5 %" is 90 · s · , · 0.5 · %.
std::vector<std::string> spoken_pieces(std::string_view as_written) {
  const std::string text = with_plain_marks(as_written);
  std::vector<std::string> pieces;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t begin = at;
    if (is_digit(text[at])) {
      while (at < text.size() && (is_digit(text[at]) || (text[at] == '.' && at + 1 < text.size() && is_digit(text[at + 1])))) ++at;
    } else if (is_of_word(text[at]) && text[at] != '-') {
      while (at < text.size() && is_of_word(text[at]) && text[at] != '-' && !is_digit(text[at])) ++at;
    } else {
      ++at;
    }
    const std::string piece = text::fold(std::string_view(text).substr(begin, at - begin));
    if (piece != " " && piece != "-") pieces.push_back(piece);
  }
  return pieces;
}

/// True for the second part of "5 000" or "5,000".
bool is_thousands(const std::vector<std::string>& pieces, std::size_t at) {
  return at < pieces.size() && pieces[at].size() == 3 && std::all_of(pieces[at].begin(), pieces[at].end(), is_digit);
}

struct Numeral { const char* word; int value; };
constexpr Numeral numerals[] = {
    {"a", 1},    {"an", 1},    {"one", 1},  {"two", 2},     {"three", 3},   {"four", 4},     {"five", 5},    {"six", 6},
    {"seven", 7}, {"eight", 8}, {"nine", 9}, {"ten", 10},    {"twelve", 12}, {"fifteen", 15}, {"twenty", 20}, {"thirty", 30},
    {"forty", 40}, {"fifty", 50}, {"sixty", 60}, {"ninety", 90}};

/// Figures of a label have at most six digits before and after the point; longer ones are no figure.
bool number_of(const std::string& piece, Rational& value) {
  if (const auto* word = std::find_if(std::begin(numerals), std::end(numerals), [&](const Numeral& n) { return piece == n.word; });
      word != std::end(numerals)) {
    value = Rational(word->value);
    return true;
  }
  if (piece.empty() || !is_digit(piece[0]) || piece.size() > 9 || std::count(piece.begin(), piece.end(), '.') > 1) return false;
  std::int64_t digits = 0, scale = 1;
  bool behind_point = false;
  for (const char c : piece) {
    behind_point = behind_point || c == '.';
    if (c == '.') continue;
    digits = digits * 10 + (c - '0');
    if (behind_point) scale *= 10;
  }
  value = Rational(digits, scale);
  return true;
}

struct UnitWord { const char* word; Figure::What what; int scale; };
constexpr UnitWord units[] = {
    {"second", Figure::What::seconds, 1},  {"seconds", Figure::What::seconds, 1},    {"sec", Figure::What::seconds, 1},
    {"s", Figure::What::seconds, 1},       {"minute", Figure::What::seconds, 60},    {"minutes", Figure::What::seconds, 60},
    {"min", Figure::What::seconds, 60},    {"mins", Figure::What::seconds, 60},      {"hour", Figure::What::seconds, 3600},
    {"hours", Figure::What::seconds, 3600}, {"h", Figure::What::seconds, 3600},      {"ppm", Figure::What::ppm, 1},
    {"percent", Figure::What::ppm, 10'000}, {"%", Figure::What::ppm, 10'000}};

const UnitWord* unit_of(const std::vector<std::string>& pieces, std::size_t at) {
  if (at >= pieces.size()) return nullptr;
  const auto* unit = std::find_if(std::begin(units), std::end(units), [&](const UnitWord& u) { return pieces[at] == u.word; });
  return unit == std::end(units) ? nullptr : unit;
}

// ------------------------------------------------------------------ actions

struct Action { const char* phrase; const char* action; };
constexpr Action actions[] = {{"put on", "put on"},       {"don", "put on"},     {"take off", "take off"}, {"remove", "take off"},
                              {"doff", "take off"},       {"disinfect", "disinfect"}, {"clean soil", "clean"}, {"test", "test"},
                              {"hand over", "pass"}};

constexpr std::array<std::array<const char*, 2>, 3> opposites = {{{"inner", "outer"}, {"left", "right"}, {"upper", "lower"}}};

}  // namespace

std::vector<std::string> heard_words(std::string_view as_written) {
  const std::string text = with_plain_marks(as_written);
  std::vector<std::string> words;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t begin = at;
    if (text[at] == '[') {
      at = std::min(text.find(']', at), text.size() - 1) + 1;
    } else {
      while (at < text.size() && (is_of_word(text[at]) || is_point_in_number(text, at))) ++at;
    }
    if (at > begin) words.push_back(text::fold(std::string_view(text).substr(begin, at - begin)));
    else ++at;
  }
  return words;
}

bool are_heard(const std::vector<std::string>& words, std::string_view phrase) {
  std::vector<std::string> wanted = heard_words(phrase);
  if (wanted.size() > 1 && is_article(wanted.front())) wanted.erase(wanted.begin());
  return !wanted.empty() && holds_in_order(words, wanted);
}

std::string head_word(std::string_view name) {
  const std::vector<std::string> words = heard_words(name);
  return words.empty() ? std::string() : words.back();
}

std::vector<Figure> figures_in(std::string_view text) {
  const std::vector<std::string> pieces = spoken_pieces(text);
  std::vector<Figure> figures;
  for (std::size_t at = 0; at < pieces.size(); ++at) {
    Rational value;
    const bool half = pieces[at] == "half";
    if (!number_of(half && at + 1 < pieces.size() ? pieces[at + 1] : pieces[at], value)) continue;
    std::size_t next = at + (half ? 2 : 1);
    std::string said = half ? "half " + pieces[at + 1] : pieces[at];
    const std::size_t rest = next < pieces.size() && pieces[next] == "," ? next + 1 : next;
    if (!half && is_digit(pieces[at][0]) && value.den == 1 && is_thousands(pieces, rest)) {
      Rational thousands;
      if (number_of(pieces[at] + pieces[rest], thousands)) value = thousands;
      said += " " + pieces[rest];
      next = rest + 1;
    }
    const UnitWord* unit = unit_of(pieces, next);
    const bool again = unit && pieces[next] == "second" && (pieces[at] == "a" || pieces[at] == "an");  // "a second time"
    if (!unit || again) continue;
    figures.push_back({unit->what, value * Rational(unit->scale) / Rational(half ? 2 : 1), said + " " + pieces[next]});
    at = next;
  }
  return figures;
}

std::size_t longest_sentence(std::string_view text) {
  std::size_t longest = 0;
  for (std::size_t begin = 0; begin < text.size();) {
    std::size_t end = begin;
    const auto ends = [&](std::size_t i) {
      return (text[i] == '.' || text[i] == '?' || text[i] == '!') && !is_point_in_number(text, i);
    };
    while (end < text.size() && !ends(end)) ++end;
    std::size_t count = 0;
    for (const std::string& word : heard_words(text.substr(begin, end - begin))) count += word.front() == '[' ? 2 : 1;
    longest = std::max(longest, count);
    begin = end + 1;
  }
  return longest;
}

std::vector<std::string> actions_in(const std::vector<std::string>& words) {
  std::vector<std::pair<std::size_t, std::string>> found;
  for (const Action& action : actions) {
    const std::vector<std::string> wanted = heard_words(action.phrase);
    const auto at = std::search(words.begin(), words.end(), wanted.begin(), wanted.end());
    if (at != words.end()) found.emplace_back(at - words.begin(), action.action);
  }
  std::sort(found.begin(), found.end());
  std::vector<std::string> once;
  for (const auto& [at, action] : found) {
    if (std::find(once.begin(), once.end(), action) == once.end()) once.push_back(action);
  }
  return once;
}

std::string misheard_word(const std::vector<std::string>& words) {
  static constexpr std::array<const char*, 6> misheard = {"don", "dons", "donning", "doff", "doffs", "doffing"};
  const auto found = std::find_if(words.begin(), words.end(), [](const std::string& word) {
    return std::find(misheard.begin(), misheard.end(), word) != misheard.end();
  });
  return found == words.end() ? std::string() : *found;
}

Opposite opposite_of(const std::vector<std::string>& words, std::string_view name) {
  const std::vector<std::string> of_name = heard_words(name);
  const auto holds = [](const std::vector<std::string>& list, const char* word) {
    return std::find(list.begin(), list.end(), word) != list.end();
  };
  for (const auto& pair : opposites) {
    for (const std::size_t side : {std::size_t{0}, std::size_t{1}}) {
      const char* meant = pair[side];
      const char* said = pair[1 - side];
      if (holds(of_name, meant) && !holds(words, meant) && holds(words, said)) return {said, meant};
    }
  }
  return {};
}

}  // namespace stepward::wording
