#include <algorithm>
#include <iterator>
#include <utility>

#include "diagnostics/diagnostic.hpp"
#include "diagnostics/render.hpp"

namespace stepward::diagnostics {
namespace {

struct Entry {
  std::string_view name;
  std::string_view title;
  Severity severity;
};

constexpr Severity error = Severity::error;
constexpr Severity warning = Severity::warning;
constexpr Severity note = Severity::note;

constexpr Entry registry[] = {
#define STEPWARD_CODE(id, severity, name) {#id, #name, severity},
#include "diagnostics/codes.def"
#undef STEPWARD_CODE
};

}  // namespace

std::string_view code_name(Code code) { return registry[static_cast<std::size_t>(code)].name; }

std::string_view code_title(Code code) { return registry[static_cast<std::size_t>(code)].title; }

Severity default_severity(Code code) { return registry[static_cast<std::size_t>(code)].severity; }

bool parse_code(std::string_view text, Code& out) {
  const auto* found =
      std::find_if(std::begin(registry), std::end(registry), [text](const Entry& entry) { return entry.name == text; });
  if (found == std::end(registry)) return false;
  out = static_cast<Code>(found - std::begin(registry));
  return true;
}

std::size_t code_count() { return std::size(registry); }

Diagnostic make(Code code, source::Span at, std::vector<std::string> args) {
  Diagnostic made;
  made.code = code;
  made.severity = default_severity(code);
  made.at = at;
  made.args = std::move(args);
  return made;
}

}  // namespace stepward::diagnostics
