// `stepward explain`: the page of one code, as it was when the program was built.

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "diagnostics/render.hpp"
#include "driver/commands.hpp"
#include "driver/finding_pages.hpp"
#include "wording/messages.hpp"

namespace stepward::driver {
namespace {

using diagnostics::Code;

std::string upper(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(), [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
  return text;
}

std::string_view page_of(Code code) {
  for (const FindingPage& page : finding_pages()) {
    if (page.code == diagnostics::code_name(code)) return page.text;
  }
  return {};
}

/// What the message itself says, for a code that has no page.
std::string bare_message(Code code) {
  const wording::Message* message = wording::message_of(code);
  std::string text = fmt::format("{} {} ({})\n", diagnostics::code_name(code), diagnostics::code_title(code),
                                 diagnostics::severity_name(diagnostics::default_severity(code)));
  if (message == nullptr) return text;
  text += fmt::format("\n{}\n", message->headline);
  if (!message->hint.empty()) text += fmt::format("{}\n", message->hint);
  if (!message->fix.empty()) text += fmt::format("fix: {}\n", message->fix);
  return text;
}

std::string all_codes() {
  std::string list;
  for (std::size_t i = 0; i < diagnostics::code_count(); ++i) {
    const auto code = static_cast<Code>(i);
    list += fmt::format("{}  {:<8} {}\n", diagnostics::code_name(code),
                        diagnostics::severity_name(diagnostics::default_severity(code)), diagnostics::code_title(code));
  }
  return list;
}

std::string nearest_code(const std::string& typed) {
  std::string best;
  std::size_t least = 3;
  for (std::size_t i = 0; i < diagnostics::code_count(); ++i) {
    const std::string name(diagnostics::code_name(static_cast<Code>(i)));
    const std::size_t distance = text::edit_distance(typed, name);
    if (distance < least) {
      least = distance;
      best = name;
    }
  }
  return best.empty() ? "" : fmt::format("; the nearest is {}", best);
}

}  // namespace

Outcome explain_command(const ExplainRequest& request) {
  if (request.code.empty()) return {ExitCode::fine, all_codes(), ""};
  const std::string typed = upper(request.code);
  Code code{};
  if (!diagnostics::parse_code(typed, code)) {
    return refusal(ExitCode::wrong_use, fmt::format("there is no code \"{}\"{}; \"stepward explain\" lists them all", request.code,
                                                    nearest_code(typed)));
  }
  const std::string_view page = page_of(code);
  return {ExitCode::fine, page.empty() ? bare_message(code) : std::string(page), ""};
}

}  // namespace stepward::driver
