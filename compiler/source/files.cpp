#include "source/files.hpp"

#include <algorithm>
#include <utility>

#include "base/text.hpp"

namespace stepward::source {
namespace {

std::vector<std::uint32_t> find_line_starts(const std::string& text) {
  std::vector<std::uint32_t> starts{0};
  for (std::size_t at = text.find('\n'); at != std::string::npos; at = text.find('\n', at + 1)) {
    starts.push_back(static_cast<std::uint32_t>(at + 1));
  }
  if (starts.size() > 1 && starts.back() == text.size()) starts.pop_back();
  return starts;
}

}  // namespace

std::string plain_text(std::string text) {
  if (text.compare(0, 3, "\xEF\xBB\xBF") == 0) text.erase(0, 3);
  if (text.find('\r') == std::string::npos) return text;
  std::size_t kept = 0;
  for (std::size_t at = 0; at < text.size(); ++at) {
    const bool before_line_feed = text[at] == '\r' && at + 1 < text.size() && text[at + 1] == '\n';
    if (before_line_feed) continue;
    text[kept++] = text[at] == '\r' ? '\n' : text[at];
  }
  text.resize(kept);
  return text;
}

FileId Files::add(std::string path, std::string text) {
  File file{std::move(path), plain_text(std::move(text)), {}};
  file.line_starts = find_line_starts(file.text);
  files_.push_back(std::move(file));
  return FileId(files_.size() - 1);
}

std::string_view Files::text(Span span) const {
  const std::string_view all = text(span.file);
  const std::size_t begin = std::min<std::size_t>(span.begin, all.size());
  return all.substr(begin, span.end > begin ? span.end - begin : 0);
}

Position Files::position(FileId id, std::uint32_t offset) const {
  const File& file = files_[id.value];
  const auto after = std::upper_bound(file.line_starts.begin(), file.line_starts.end(), offset);
  const auto line = static_cast<std::uint32_t>(after - file.line_starts.begin());
  const std::uint32_t start = file.line_starts[line - 1];
  const std::string_view before = std::string_view(file.text).substr(start, offset - start);
  return {line, static_cast<std::uint32_t>(text::count_characters(before) + 1)};
}

std::uint32_t Files::line_count(FileId file) const {
  return static_cast<std::uint32_t>(files_[file.value].line_starts.size());
}

std::string_view Files::line_text(FileId id, std::uint32_t line) const {
  const File& file = files_[id.value];
  if (line == 0 || line > file.line_starts.size()) return {};
  const std::uint32_t start = file.line_starts[line - 1];
  const std::size_t end = std::min(file.text.find('\n', start), file.text.size());
  return std::string_view(file.text).substr(start, end - start);
}

}  // namespace stepward::source
