#include "emit/flow_chart/lettering.hpp"

#include <algorithm>

#include "base/text.hpp"

namespace stepward::emit::flow_chart {
namespace {

std::size_t length_of_character(std::string_view at) {
  const auto byte = static_cast<unsigned char>(at[0]);
  const std::size_t length = byte >= 0xF0 ? 4 : byte >= 0xE0 ? 3 : byte >= 0xC0 ? 2 : 1;
  return std::min(length, at.size());
}

/// As in a wide sans-serif face.
double width_of_character(std::string_view character) {
  if (character.size() > 1) {
    const std::size_t cells = text::display_width(character);
    return cells == 0 ? 0 : cells == 1 ? 0.72 : 1.05;
  }
  const char c = character[0];
  if (std::string_view("il.,:;'|!jI()[]").find(c) != std::string_view::npos) return 0.38;
  if (c == ' ' || c == 'f' || c == 't' || c == 'r' || c == '-') return 0.42;
  if (c == 'm' || c == 'w' || c == 'M' || c == 'W') return 0.98;
  if (c >= 'A' && c <= 'Z') return 0.73;
  return 0.63;
}

/// Pieces that no line break may cut: words, and each character of a word that does not fit into a line.
std::vector<std::string_view> pieces(std::string_view text, double ems) {
  std::vector<std::string_view> all;
  while (!text.empty()) {
    const std::size_t blanks = std::min(text.find_first_not_of(' '), text.size());
    std::size_t end = std::min(text.find(' ', blanks), text.size());
    if (width_in_ems(text.substr(0, end)) > ems) {
      end = blanks + (blanks < text.size() ? length_of_character(text.substr(blanks)) : 0);
      // What takes no room of its own stays with the character that it belongs to.
      while (end < text.size() && text[end] != ' ' && width_of_character(text.substr(end, length_of_character(text.substr(end)))) == 0) {
        end += length_of_character(text.substr(end));
      }
    }
    all.push_back(text.substr(0, end));
    text.remove_prefix(end);
  }
  return all;
}

}  // namespace

double width_in_ems(std::string_view text) {
  double width = 0;
  while (!text.empty()) {
    const std::size_t length = length_of_character(text);
    width += width_of_character(text.substr(0, length));
    text.remove_prefix(length);
  }
  return width;
}

std::vector<std::string> wrapped(std::string_view text, double ems) {
  std::vector<std::string> lines;
  std::string line;
  double width = 0;
  for (const std::string_view piece : pieces(text, ems)) {
    const double more = width_in_ems(piece);
    if (!line.empty() && width + more > ems) {
      lines.push_back(std::move(line));
      line.clear();
      width = 0;
    }
    const bool at_front = line.empty();
    const std::string_view shown = at_front ? piece.substr(std::min(piece.find_first_not_of(' '), piece.size())) : piece;
    line += shown;
    width += at_front ? width_in_ems(shown) : more;
  }
  if (!line.empty()) lines.push_back(std::move(line));
  return lines;
}

}  // namespace stepward::emit::flow_chart
