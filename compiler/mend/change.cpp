#include "mend/change.hpp"

#include <algorithm>

namespace stepward::mend {
namespace {

/// What is written where; a line that was taken out of the text keeps its origin.
Text written(const Text& text, const Change& change) {
  Text out;
  std::uint32_t next = change.first;
  for (const std::string& line : change.lines) {
    TextLine written{line, 0};
    const bool is_old = next != 0 && next <= change.last && without_margin(line) == without_margin(text[next - 1].text);
    if (is_old) written.origin = text[next++ - 1].origin;
    out.push_back(std::move(written));
  }
  return out;
}

}  // namespace

std::string margin_of(std::string_view line) { return std::string(line.substr(0, std::min(line.find_first_not_of(" \t"), line.size()))); }

std::string without_margin(std::string_view line) {
  const std::size_t begin = std::min(line.find_first_not_of(" \t"), line.size());
  const std::size_t end = line.find_last_not_of(" \t");
  return std::string(line.substr(begin, end == std::string_view::npos ? 0 : end + 1 - begin));
}

Text text_of(std::string_view plain) {
  Text out;
  for (std::size_t begin = 0; begin < plain.size();) {
    const std::size_t end = std::min(plain.find('\n', begin), plain.size());
    out.push_back({std::string(plain.substr(begin, end - begin)), static_cast<std::uint32_t>(out.size() + 1)});
    begin = end + 1;
  }
  return out;
}

std::string joined(const Text& text) {
  std::string out;
  for (const TextLine& line : text) out += line.text + '\n';
  return out;
}

Text changed(const Text& text, const Change& change) {
  Text out;
  const Text added = written(text, change);
  for (std::uint32_t number = 1; number <= text.size() + 1; ++number) {
    if (number == change.before) out.insert(out.end(), added.begin(), added.end());
    const bool leaves = change.first != 0 && number >= change.first && number <= change.last;
    if (number <= text.size() && !leaves) out.push_back(text[number - 1]);
  }
  return out;
}

}  // namespace stepward::mend
