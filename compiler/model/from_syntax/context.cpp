#include "model/from_syntax/context.hpp"

#include <algorithm>
#include <utility>

namespace stepward::model::reading {
namespace {

using syntax::TokenKind;

/// Looking for near names costs; after this many unknown names nobody reads the suggestions any more.
constexpr std::size_t most_suggestions = 100;

/// Names of these classes stand for nothing that could have been meant in another one's place.
constexpr resolve::Classes internal_classes = resolve::only(NameClass::parameter) | resolve::only(NameClass::given) |
                                              resolve::only(NameClass::answer) | resolve::only(NameClass::verb) |
                                              resolve::only(NameClass::unit) | resolve::only(NameClass::value) |
                                              resolve::only(NameClass::line);

std::string list_of(std::vector<std::string> entries) {
  std::sort(entries.begin(), entries.end());
  entries.erase(std::unique(entries.begin(), entries.end()), entries.end());
  std::string list;
  for (std::size_t at = 0; at < entries.size(); ++at) {
    if (at > 0) list += at + 1 == entries.size() ? " or " : ", ";
    list += entries[at];
  }
  return list;
}

std::string wanted_names(resolve::Classes classes) {
  std::vector<std::string> entries;
  for (unsigned bit = 0; bit < resolve::name_class_count; ++bit) {
    const auto what = static_cast<NameClass>(bit);
    const bool shown = classes >> bit & 1 && what != NameClass::parameter && what != NameClass::hands;
    if (shown) entries.emplace_back(resolve::called(what));
  }
  return list_of(std::move(entries));
}

std::string wanted(const resolve::Stop& stop) {
  std::vector<std::string> entries;
  for (const std::string_view word : stop.words) entries.push_back("\"" + std::string(word) + "\"");
  for (const resolve::EdgeKind kind : stop.others) {
    switch (kind) {
      case resolve::EdgeKind::text: entries.emplace_back("words in quotes"); break;
      case resolve::EdgeKind::number: entries.emplace_back("a number"); break;
      case resolve::EdgeKind::date: entries.emplace_back("a date such as 2031-03-15"); break;
      case resolve::EdgeKind::comma: entries.emplace_back("a comma"); break;
      case resolve::EdgeKind::words:
      case resolve::EdgeKind::any_words: entries.emplace_back("a name"); break;
      case resolve::EdgeKind::ratio:
      case resolve::EdgeKind::nothing:
      case resolve::EdgeKind::word:
      case resolve::EdgeKind::name: break;
    }
  }
  if (const std::string names = wanted_names(stop.classes); !names.empty()) entries.push_back(names);
  if (entries.empty()) return "the end of the line";
  return list_of(std::move(entries));
}

bool ends_with(std::string_view text, std::string_view end) {
  return text.size() >= end.size() && text.substr(text.size() - end.size()) == end;
}

/// True if some value of the choice is an item with that surface.
bool choice_has_part(const Protocol& protocol, const Choice& choice, std::string_view part) {
  return std::any_of(choice.values.begin(), choice.values.end(),
                     [&](const ChoiceOption& option) { return option.item && part_of(protocol[option.item], part); });
}

bool may_have_part(const Protocol& protocol, const Segment& of, std::string_view part) {
  const std::size_t index = of.meaning.index;
  if (of.meaning.what == NameClass::item) return part_of(protocol.items[index], part).has_value();
  if (of.meaning.what == NameClass::choice) return choice_has_part(protocol, protocol.choices[index], part);
  return of.meaning.what == NameClass::parameter || of.meaning.what == NameClass::kind;
}

}  // namespace

Context::Context(const resolve::Loaded& loaded_in, const source::Files& files_in)
    : loaded(loaded_in),
      files(files_in),
      names(words_of_frames()),
      cutter(names),
      frames(&frames_of(Frames::Names::must_be_known)) {}

diagnostics::Diagnostic& Context::report(Code code, source::Span at, std::vector<std::string> args) {
  auto& same_place = found_at_[std::uint64_t{at.file.value} << 32 | at.begin];
  for (const std::size_t before : same_place) {
    const diagnostics::Diagnostic& other = found_[before];
    if (other.code == code && other.at == at && other.args == args) return repeated_ = {};
  }
  if (found_.size() > most_findings) return repeated_ = {};
  if (found_.size() == most_findings) {
    found_.push_back(diagnostics::make(Code::L117, at, {std::to_string(most_findings)}));
    return repeated_ = {};
  }
  same_place.push_back(found_.size());
  found_.push_back(diagnostics::make(code, at, std::move(args)));
  return found_.back();
}

bool Context::has_errors() const {
  return std::any_of(found_.begin(), found_.end(), [](const diagnostics::Diagnostic& f) { return f.severity == diagnostics::Severity::error; });
}

void Context::take_back(std::size_t reported) {
  for (auto& [place, here] : found_at_)
    here.erase(std::remove_if(here.begin(), here.end(), [&](std::size_t at) { return at >= reported; }), here.end());
  if (reported < found_.size()) found_.resize(reported);
}

diagnostics::Sink Context::findings() {
  std::stable_sort(found_.begin(), found_.end(), [](const auto& a, const auto& b) {
    return a.at.file != b.at.file ? a.at.file < b.at.file : a.at.begin < b.at.begin;
  });
  found_at_.clear();
  return std::exchange(found_, {});
}

bool Context::is_possible(const Node& node, const Reading& reading) const {
  const Segment* before = nullptr;
  for (const Segment& segment : reading.segments) {
    if (segment.label.empty()) continue;
    if (before && ends_with(before->label, "part") &&
        (ends_with(segment.label, "core") || ends_with(segment.label, "x"))) {
      if (!may_have_part(protocol, segment, words(node, *before))) return false;
    }
    const bool answers = before && before->label == "decision" && before->meaning.what == NameClass::decision;
    if (answers && segment.label == "answer") {
      const auto& known = protocol.decisions[before->meaning.index].answers;
      if (std::find(known.begin(), known.end(), words(node, segment)) == known.end()) return false;
    }
    if (segment.label != "not") before = &segment;
  }
  return true;
}

/// Of several readings, those that name a surface which its item does not have are no readings at all. If all do, they
/// are kept: the pass that reads the line says what is wrong.
void Context::drop_impossible(const Node& node, std::vector<Reading>& readings) const {
  if (readings.size() < 2) return;
  std::vector<Reading> possible;
  for (const Reading& reading : readings) {
    if (is_possible(node, reading)) possible.push_back(reading);
  }
  if (!possible.empty()) readings = std::move(possible);
}

bool Context::try_read(const Node& node, const resolve::Frame& frame, resolve::Cut& cut, std::size_t from,
                       const std::vector<std::uint32_t>& parameters) {
  cut = {};
  if (node.phrase.size() > longest_line) return false;
  const resolve::Phrase phrase(names, node.phrase);
  cut = cutter.cut(phrase, std::min(from, node.phrase.size()), frame, parameters);
  drop_impossible(node, cut.readings);
  return cut.readings.size() == 1;
}

std::optional<Reading> Context::read(const Node& node, const resolve::Frame& frame, std::size_t from,
                                     const std::vector<std::uint32_t>& parameters) {
  resolve::Cut cut;
  if (try_read(node, frame, cut, from, parameters)) return std::move(cut.readings.front());
  explain(node, cut);
  return std::nullopt;
}

void Context::explain(const Node& node, const resolve::Cut& cut) {
  if (node.phrase.size() > longest_line) {
    report(Code::N125, node.span, {std::to_string(longest_line)});
    return;
  }
  if (cut.readings.size() > 1) {
    report(Code::N102, node.span,
           {resolve::shown_with_bars(cut.readings[0], node.phrase),
            resolve::shown_with_bars(cut.readings[1], node.phrase)});
    return;
  }
  const resolve::Stop& stop = cut.stop;
  if (stop.position >= node.phrase.size()) {
    report(Code::N104, node.span, {wanted(stop)});
    return;
  }
  const syntax::Token& token = node.phrase[stop.position];
  const bool could_be_name = (stop.classes & ~resolve::only(NameClass::unit)) != 0 && token.kind == TokenKind::word &&
                             !resolve::is_joining_word(token.text);
  if (could_be_name) return explain_word(node, stop);
  const std::string shown = token.kind == TokenKind::quoted  ? "these quoted words"
                            : token.kind == TokenKind::comma ? "this comma"
                                                             : "\"" + token.written + "\"";
  report(Code::N103, token.span, {shown, wanted(stop)});
}

void Context::explain_word(const Node& node, const resolve::Stop& stop) {
  const auto& phrase = node.phrase;
  std::size_t end = stop.position + 1;
  const auto goes_on = [&](std::size_t at) {
    return phrase[at].kind == TokenKind::word && !resolve::is_joining_word(phrase[at].text);
  };
  while (end < phrase.size() && end < stop.position + resolve::longest_name && goes_on(end)) ++end;

  // A name of another class that fills the place wholly was not misspelt; it is of the wrong sort.
  for (std::size_t until = end; until > stop.position; --until) {
    const auto* other = names.find(resolve::words_of(phrase, stop.position, until), ~internal_classes & ~stop.classes);
    if (!other || (until != end && until == stop.position + 1 && end > until + 1)) continue;
    const Code code = stop.classes == resolve::only(NameClass::value) ? Code::V102 : Code::N106;
    report(code, span_of(node, stop.position, until),
           {other->name, std::string(resolve::called(other->meaning.what)), wanted(stop)});
    return;
  }

  std::optional<std::string> near;
  std::size_t near_end = end, least = SIZE_MAX;
  const std::size_t last = std::min(phrase.size(), stop.position + resolve::longest_name);
  for (std::size_t until = stop.position + 1; suggestions_ < most_suggestions && until <= last; ++until) {
    if (phrase[until - 1].kind != TokenKind::word) break;
    const std::string part = resolve::words_of(phrase, stop.position, until);
    const auto name = resolve::nearest_name(names, part, stop.classes);
    const std::size_t apart = name ? resolve::distance(part, *name) : SIZE_MAX;
    if (apart < least || (apart == least && until == end)) {
      least = apart;
      near = name;
      near_end = until;
    }
  }
  ++suggestions_;
  if (near) end = near_end;
  const source::Span at = span_of(node, stop.position, end);
  diagnostics::Diagnostic& finding = report(stop.classes == resolve::only(NameClass::value) ? Code::V102 : Code::N101,
                                            at, {resolve::words_of(phrase, stop.position, end)});
  if (!near) return;
  const std::string line(files.text(node.span));
  const std::size_t begin_in_line = at.begin - node.span.begin, end_in_line = at.end - node.span.begin;
  if (at.begin < node.span.begin || end_in_line > line.size()) return;
  finding.fix = line.substr(0, begin_in_line) + *near + line.substr(end_in_line);
}

std::string words(const Node& node, const Segment& segment) {
  return resolve::words_of(node.phrase, segment.begin, segment.end);
}

source::Span span_of(const Node& node, std::size_t begin, std::size_t end) {
  if (begin >= end || end > node.phrase.size()) return node.span;
  return {node.span.file, node.phrase[begin].span.begin, node.phrase[end - 1].span.end};
}

source::Span span_of(const Node& node, const Segment& segment) { return span_of(node, segment.begin, segment.end); }

std::string quoted(const Node& node, const Reading& reading, std::string_view label) {
  const Segment* segment = reading.find(label);
  return segment ? node.phrase[segment->begin].text : std::string();
}

std::optional<std::uint8_t> part_of(const Item& item, std::string_view part) {
  for (std::size_t at = 0; at < item.surfaces.size(); ++at) {
    if (item.surfaces[at].name == part) return static_cast<std::uint8_t>(at);
  }
  return std::nullopt;
}

std::optional<Rational> exact(std::string_view number) {
  std::int64_t value = 0, scale = 1;
  std::size_t digits = 0;
  bool fraction = false;
  for (const char c : number) {
    if (c == '.' && !fraction) {
      fraction = true;
      continue;
    }
    if (c < '0' || c > '9' || ++digits > 7) return std::nullopt;
    value = value * 10 + (c - '0');
    if (fraction) scale *= 10;
  }
  if (digits == 0) return std::nullopt;
  return Rational(value, scale);
}

std::optional<std::uint32_t> whole(std::string_view number, std::uint32_t most) {
  std::uint64_t value = 0;
  if (number.empty() || number.size() > 9) return std::nullopt;
  for (const char c : number) {
    if (c < '0' || c > '9') return std::nullopt;
    value = value * 10 + static_cast<std::uint64_t>(c - '0');
  }
  if (value > most) return std::nullopt;
  return static_cast<std::uint32_t>(value);
}

}  // namespace stepward::model::reading
