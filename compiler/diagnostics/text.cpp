#include <algorithm>
#include <string>

#include <fmt/format.h>

#include "base/text.hpp"
#include "diagnostics/render.hpp"
#include "wording/messages.hpp"

namespace stepward::diagnostics {
namespace {

/// A story that fits behind its label stays on one line.
constexpr std::size_t widest_story = 100;

std::string_view colour_of(Severity severity) {
  switch (severity) {
    case Severity::note: return "\x1b[1;36m";
    case Severity::warning: return "\x1b[1;33m";
    case Severity::error: return "\x1b[1;31m";
  }
  return "";
}

std::string paint(std::string_view words, std::string_view colour, TextStyle style) {
  return style.colour ? fmt::format("{}{}\x1b[0m", colour, words) : std::string(words);
}

std::string location(source::Span at, const source::Files& files) {
  const source::Position position = files.position(at.file, at.begin);
  return fmt::format("{}:{}:{}", files.path(at.file), position.line, position.column);
}

/// The longest part of a source line that is shown, in cells.
constexpr std::size_t widest_line = 120;

/// Source as it is shown: tabs and other control characters take one cell each, bytes that are no text become "?".
std::string shown(std::string_view line) {
  std::string plain(line);
  for (std::size_t bad = text::first_bad_byte(plain); bad != std::string::npos; bad = text::first_bad_byte(plain)) {
    plain[bad] = '?';
  }
  for (char& c : plain) {
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7F) c = ' ';
  }
  return plain;
}

/// What of a line is shown, and where in it the marked part begins and how wide it is, in cells.
struct Excerpt {
  std::string text;
  std::size_t indent = 0;
  std::size_t carets = 1;
};

/// Moves `at` back to the beginning of the character it stands in.
std::size_t character_start(std::string_view line, std::size_t at) {
  while (at > 0 && at < line.size() && (static_cast<unsigned char>(line[at]) & 0xC0) == 0x80) --at;
  return at;
}

/// Cuts a line that is too long to a window around its marked part.
Excerpt cut(std::string_view line, std::size_t begin, std::size_t end) {
  const bool cut_front = line.size() > widest_line && begin > widest_line / 2;
  const std::size_t from = cut_front ? character_start(line, begin - widest_line / 3) : 0;
  const std::size_t to = line.size() - from > widest_line ? character_start(line, from + widest_line) : line.size();
  const std::string front = cut_front ? "…" : "";
  const std::string before = shown(line.substr(from, begin - from));
  const std::string marked = shown(line.substr(begin, std::min(end, to) - begin));
  const std::string after = shown(line.substr(std::min(end, to), to - std::min(end, to)));
  return {front + before + marked + after + (to < line.size() ? "…" : ""), text::display_width(front + before),
          std::max<std::size_t>(1, text::display_width(marked))};
}

/// The source line of a span and a line of carets under the part of the span that stands on it.
std::string excerpt(source::Span at, const source::Files& files, std::string_view colour, TextStyle style) {
  const std::uint32_t number = files.position(at.file, at.begin).line;
  const std::string_view line = files.line_text(at.file, number);
  const auto start = static_cast<std::uint32_t>(line.data() - files.text(at.file).data());
  const std::size_t begin = std::min<std::size_t>(at.begin - start, line.size());
  const std::size_t end = std::clamp<std::size_t>(at.end > start ? at.end - start : 0, begin, line.size());
  const Excerpt part = cut(line, begin, end);
  return fmt::format("   {} | {}\n   {} | {}{}\n", number, part.text, std::string(std::to_string(number).size(), ' '),
                     std::string(part.indent, ' '), paint(std::string(part.carets, '^'), colour, style));
}

std::string labelled(std::string_view label, std::string_view words) {
  return words.empty() ? std::string() : fmt::format("   {:<5} {}\n", label, words);
}

/// Events are counted; steps passed over are not, and the last line is the place of the finding itself.
std::string story_line(const StoryLine& line, std::size_t& events) {
  if (line.here) return "here: " + line.text;
  if (line.text.rfind("…", 0) == 0) return line.text;
  ++events;
  return line.step.empty() ? fmt::format("{} {}", events, line.text)
                           : fmt::format("{} {} {}", events, line.step, line.text);
}

std::string story_text(const std::vector<StoryLine>& lines) {
  if (lines.empty()) return {};
  std::string on_one_line;
  std::string one_each;
  std::size_t events = 0;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const std::string line = story_line(lines[i], events);
    on_one_line += (i == 0 ? "" : "   ") + line;
    one_each += (i == 0 ? "   story " : "         ") + line + '\n';
  }
  return text::display_width(on_one_line) <= widest_story ? labelled("story", on_one_line) : one_each;
}

std::string places_text(const Diagnostic& finding, const source::Files& files) {
  std::string all;
  for (const Place& place : finding.places) {
    if (!place.span.file) continue;
    const source::Position position = files.position(place.span.file, place.span.begin);
    const std::string file = place.span.file == finding.at.file ? "" : files.path(place.span.file) + ' ';
    all += labelled("see",
                    fmt::format("{}line {}: {}", file, position.line, wording::caption(place.caption, finding.args)));
  }
  return all;
}

std::string also_text(const Diagnostic& finding, const source::Files& files) {
  std::string all;
  for (const Also& other : finding.also) {
    const source::Position position = files.position(other.at.file, other.at.begin);
    const bool here = other.at.file == finding.at.file && position.line == files.position(finding.at.file, finding.at.begin).line;
    const std::string file = other.at.file == finding.at.file ? "" : files.path(other.at.file) + ' ';
    const std::string where = here ? "here" : fmt::format("{}line {}", file, position.line);
    all += labelled("also", fmt::format("{}: {} ({})", where, wording::headline(other.code, other.args), code_name(other.code)));
  }
  return all;
}

}  // namespace

std::string as_text(const Diagnostic& finding, const source::Files& files, TextStyle style) {
  const std::string_view colour = colour_of(finding.severity);
  const std::string label = fmt::format("{} {}", severity_name(finding.severity), code_name(finding.code));
  const bool placed = static_cast<bool>(finding.at.file);
  std::string out = paint(label, colour, style);
  if (placed) out += ' ' + location(finding.at, files);
  out += "  " + paint(wording::headline(finding.code, finding.args), "\x1b[1m", style) + '\n';
  if (placed) out += excerpt(finding.at, files, colour, style);
  out += places_text(finding, files);
  out += labelled("hint", wording::hint(finding.code, finding.args));
  out += story_text(finding.story);
  out += labelled("where", finding.shared);
  out += labelled("because", finding.because);
  out += labelled("source", finding.source);
  out += also_text(finding, files);
  out += labelled("fix", finding.fix.empty() ? wording::fix(finding.code, finding.args) : finding.fix);
  return out;
}

std::string as_text(const Sink& findings, const source::Files& files, TextStyle style) {
  std::string out;
  for (const Diagnostic& finding : findings) out += as_text(finding, files, style) + '\n';
  return out;
}

}  // namespace stepward::diagnostics
