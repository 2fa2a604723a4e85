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

/// A gap at the front of a sentence: `{12}`, or `{12:is|are}`. `length` counts its braces; 0: there is none.
struct ArgumentGap {
  std::size_t number = 0;
  std::size_t length = 0;
  std::string_view one, several;  ///< the two forms of a word; empty in a plain gap
};

ArgumentGap read_gap(std::string_view text) {
  ArgumentGap gap;
  std::size_t at = 1;
  for (; at < text.size() && at < 4 && text[at] >= '0' && text[at] <= '9'; ++at) {
    gap.number = gap.number * 10 + static_cast<std::size_t>(text[at] - '0');
  }
  if (at == 1 || at >= text.size()) return gap;
  if (text[at] == '}') {
    gap.length = at + 1;
    return gap;
  }
  const std::size_t bar = text.find('|', at), end = text.find('}', at);
  if (text[at] != ':' || bar == std::string_view::npos || end == std::string_view::npos || bar > end) return gap;
  gap.one = text.substr(at + 1, bar - at - 1);
  gap.several = text.substr(bar + 1, end - bar - 1);
  gap.length = end + 1;
  return gap;
}

std::string filled_gap(const ArgumentGap& gap, const std::vector<std::string>& args) {
  const bool given = gap.number < args.size();
  if (gap.several.empty()) return given ? args[gap.number] : "…";
  return std::string(given && is_plural(args[gap.number]) ? gap.several : gap.one);
}

}  // namespace

const Message* message_of(Code code) {
  const auto* found = std::find_if(std::begin(messages), std::end(messages),
                                   [code](const auto& entry) { return entry.first == code; });
  return found == std::end(messages) ? nullptr : &found->second;
}

bool is_plural(std::string_view name) {
  const std::string_view head = name.substr(0, std::min(name.find(" of "), name.find(" (")));
  const std::string_view last = head.substr(head.rfind(' ') + 1);  // npos + 1 is 0
  if (last == "feet" || last == "teeth") return true;
  return last.size() > 2 && last.back() == 's' && last[last.size() - 2] != 's';
}

std::string fill(std::string_view sentence, const std::vector<std::string>& args) {
  std::string filled;
  while (!sentence.empty()) {
    if (sentence.front() == '{') {
      const ArgumentGap gap = read_gap(sentence);
      if (gap.length > 0) {
        filled += filled_gap(gap, args);
        sentence.remove_prefix(gap.length);
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
  if (message == nullptr) return "there is a mistake here";
  std::string words = fill(message->headline, args);
  // A gap at the end that stays empty takes its colon with it.
  while (!words.empty() && (words.back() == ' ' || words.back() == ':')) words.pop_back();
  return words;
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
