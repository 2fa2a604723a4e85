#include "copies.hpp"

#include <algorithm>

namespace stepward::mutations {

void Copies::add(std::string path, const std::string& text) {
  File file{std::move(path), {}};
  std::uint32_t number = 0;
  for (std::size_t at = 0; at < text.size();) {
    std::size_t end = text.find('\n', at);
    if (end == std::string::npos) end = text.size();
    file.lines.push_back({text.substr(at, end - at), {static_cast<std::uint32_t>(files_.size()), ++number}});
    at = end + 1;
  }
  files_.push_back(std::move(file));
}

std::size_t Copies::index(Origin at) const {
  const auto& lines = files_[at.file].lines;
  const auto found = std::find_if(lines.begin(), lines.end(), [&](const TextLine& l) { return l.origin == at; });
  return static_cast<std::size_t>(found - lines.begin());
}

std::vector<TextLine> Copies::lines(const Range& range) const {
  std::vector<TextLine> out;
  for (const File& file : files_)
    for (const TextLine& line : file.lines)
      if (range.holds(line.origin)) out.push_back(line);
  return out;
}

void Copies::erase(const Range& range) {
  for (File& file : files_)
    file.lines.erase(std::remove_if(file.lines.begin(), file.lines.end(), [&](const TextLine& l) { return range.holds(l.origin); }),
                     file.lines.end());
}

std::vector<TextLine> Copies::cut(const Range& range) {
  std::vector<TextLine> out = lines(range);
  erase(range);
  return out;
}

void Copies::put_before(Origin at, const std::vector<TextLine>& lines) {
  auto& into = files_[at.file].lines;
  into.insert(into.begin() + static_cast<std::ptrdiff_t>(index(at)), lines.begin(), lines.end());
}

void Copies::put_after(Origin at, const std::vector<TextLine>& lines) {
  auto& into = files_[at.file].lines;
  into.insert(into.begin() + static_cast<std::ptrdiff_t>(index(at)) + 1, lines.begin(), lines.end());
}

void Copies::put_at_end(std::uint32_t file, const std::vector<TextLine>& lines) {
  files_[file].lines.insert(files_[file].lines.end(), lines.begin(), lines.end());
}

std::string& Copies::text_of(Origin at) { return files_[at.file].lines[index(at)].text; }

void Copies::replace(Origin at, std::size_t column, std::size_t length, const std::string& with) {
  text_of(at).replace(column, length, with);
}

Origin Copies::origin(const std::string& path, std::uint32_t line) const {
  for (const File& file : files_)
    if (file.path == path && line > 0 && line <= file.lines.size()) return file.lines[line - 1].origin;
  return {};
}

FilesInMemory Copies::as_files() const {
  FilesInMemory out;
  put_into(out);
  return out;
}

void Copies::put_into(FilesInMemory& files) const {
  for (const File& file : files_) {
    std::string text;
    for (const TextLine& line : file.lines) text += line.text + "\n";
    files.put(file.path, std::move(text));
  }
}

std::vector<TextLine> as_new(std::vector<TextLine> lines) {
  for (TextLine& line : lines) line.origin = {};
  return lines;
}

TextLine new_line(std::string text) { return {std::move(text), {}}; }

}  // namespace stepward::mutations
