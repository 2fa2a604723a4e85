#include "parse/intake.hpp"

#include <algorithm>
#include <string>

#include "base/text.hpp"

namespace stepward::parse {
namespace {

using diagnostics::Code;

bool starts_with(std::string_view text, std::string_view start) { return text.substr(0, start.size()) == start; }

bool is_utf16(std::string_view text) { return starts_with(text, "\xFF\xFE") || starts_with(text, "\xFE\xFF"); }

bool is_control(char c) {
  const auto byte = static_cast<unsigned char>(c);
  return (byte < 0x20 && c != '\n' && c != '\t' && c != '\r' && c != '\f' && c != '\v') || byte == 0x7F;
}

/// A file of another kind: its first bytes say so, or a good part of its beginning is control bytes.
bool is_another_kind(std::string_view text) {
  for (const std::string_view start : {"PK\x03\x04", "%PDF-", "\x7F" "ELF", "\x89PNG", "\xD0\xCF\x11\xE0", "{\\rtf"}) {
    if (starts_with(text, start)) return true;
  }
  const std::string_view head = text.substr(0, 4096);
  const auto controls = static_cast<std::size_t>(std::count_if(head.begin(), head.end(), is_control));
  return controls >= 8 && controls * 20 > head.size();
}

bool is_blank(std::string_view text) { return text.find_first_not_of(" \t\n\r\f\v") == std::string_view::npos; }

std::string in_megabytes(std::size_t bytes) { return std::to_string((bytes + (std::size_t{1} << 20) - 1) >> 20); }

source::Span byte_at(source::FileId file, std::size_t offset) {
  const auto at = static_cast<std::uint32_t>(offset);
  return {file, at, at + 1};
}

}  // namespace

bool is_readable_text(source::FileId file, std::string_view text, Findings& findings) {
  const source::Span start{file, 0, 0};
  if (text.size() > largest_file) {
    findings.report(Code::L115, start, {in_megabytes(text.size()), in_megabytes(largest_file)});
  } else if (is_blank(text)) {
    findings.report(Code::L111, start);
  } else if (is_utf16(text)) {
    findings.report(Code::L116, start);
  } else if (is_another_kind(text)) {
    findings.report(Code::L112, start);
  } else if (const std::size_t bad = text::first_bad_byte(text); bad != std::string_view::npos) {
    findings.report(Code::L113, byte_at(file, bad), {std::to_string(bad + 1)});
  } else if (const std::size_t zero = text.find('\0'); zero != std::string_view::npos) {
    findings.report(Code::L114, byte_at(file, zero), {std::to_string(zero + 1)});
  } else {
    return true;
  }
  return false;
}

}  // namespace stepward::parse
