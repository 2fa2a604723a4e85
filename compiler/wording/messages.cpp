#include "wording/messages.hpp"

#include <algorithm>
#include <array>
#include <iterator>
#include <utility>

namespace stepward::wording {
namespace {

using diagnostics::Code;

// The file of sentences is read twice: once for the entries of codes, once for the captions of places.
constexpr std::pair<Code, Message> messages[] = {
#define STEPWARD_CAPTION(key, words)
#define STEPWARD_MESSAGE(code, headline, hint, fix) {Code::code, Message{headline, hint, fix}},
#include "wording/messages.def"
#undef STEPWARD_MESSAGE
#undef STEPWARD_CAPTION
};

constexpr std::pair<std::string_view, std::string_view> captions[] = {
#define STEPWARD_CAPTION(key, words) {key, words},
#define STEPWARD_MESSAGE(code, headline, hint, fix)
#include "wording/messages.def"
#undef STEPWARD_MESSAGE
#undef STEPWARD_CAPTION
};

/// The number in `{12}` at the front of `text`, and how long it is with its braces; length 0 when there is none.
std::pair<std::size_t, std::size_t> read_gap(std::string_view text) {
  std::size_t number = 0;
  std::size_t at = 1;
  for (; at < text.size() && at < 4 && text[at] >= '0' && text[at] <= '9'; ++at) {
    number = number * 10 + static_cast<std::size_t>(text[at] - '0');
  }
  const bool closed = at > 1 && at < text.size() && text[at] == '}';
  return {number, closed ? at + 1 : 0};
}

}  // namespace

const Message* message_of(Code code) {
  const auto* found = std::find_if(std::begin(messages), std::end(messages),
                                   [code](const auto& entry) { return entry.first == code; });
  return found == std::end(messages) ? nullptr : &found->second;
}

std::string fill(std::string_view sentence, const std::vector<std::string>& args) {
  std::string filled;
  while (!sentence.empty()) {
    if (sentence.front() == '{') {
      const auto [number, length] = read_gap(sentence);
      if (length > 0) {
        filled += number < args.size() ? args[number] : "…";
        sentence.remove_prefix(length);
        continue;
      }
    }
    filled += sentence.front();
    sentence.remove_prefix(1);
  }
  return filled;
}

std::string headline(Code code, const std::vector<std::string>& args) {
  const Message* message = message_of(code);
  return message ? fill(message->headline, args) : std::string("there is a mistake here");
}

std::string hint(Code code, const std::vector<std::string>& args) {
  const Message* message = message_of(code);
  return message ? fill(message->hint, args) : std::string();
}

std::string fix(Code code, const std::vector<std::string>& args) {
  const Message* message = message_of(code);
  return message ? fill(message->fix, args) : std::string();
}

std::string caption(std::string_view key, const std::vector<std::string>& args) {
  for (const auto& [name, words] : captions) {
    if (name == key) return fill(words, args);
  }
  return std::string(key);
}

}  // namespace stepward::wording
