// Every declared name gets its slot and enters the table, before any line is read: a name may be used above the line
// that declares it.

#include <algorithm>

#include "model/from_syntax/passes.hpp"

namespace stepward::model::reading {
namespace {

using syntax::Token;
using syntax::TokenKind;

/// Words that mean something by themselves on a line.
constexpr std::string_view taken_words[] = {"hands",    "it",      "anyone", "someone",
                                            "anything", "nothing", "start",  "otherwise"};

constexpr resolve::Classes declared_classes =
    resolve::only(NameClass::zone) | resolve::only(NameClass::role) | resolve::only(NameClass::site) |
    resolve::only(NameClass::kind) | resolve::only(NameClass::finding) | resolve::only(NameClass::spot) |
    resolve::only(NameClass::supply) | resolve::only(NameClass::item) | resolve::only(NameClass::agent) |
    resolve::only(NameClass::technique) | resolve::only(NameClass::choice) | resolve::only(NameClass::ending) |
    resolve::only(NameClass::routine) | resolve::only(NameClass::interruption);

std::size_t find_word(const Node& node, std::string_view word, std::size_t from = 0) {
  for (std::size_t at = from; at < node.phrase.size(); ++at) {
    if (node.phrase[at].kind == TokenKind::word && node.phrase[at].text == word) return at;
  }
  return node.phrase.size();
}

std::size_t find_comma(const Node& node, std::size_t from = 0) {
  for (std::size_t at = from; at < node.phrase.size(); ++at) {
    if (node.phrase[at].kind == TokenKind::comma) return at;
  }
  return node.phrase.size();
}

std::string written(const Node& node, std::size_t begin, std::size_t end) {
  std::string name;
  for (std::size_t at = begin; at < end; ++at) {
    if (at > begin) name += ' ';
    name += node.phrase[at].written.empty() ? node.phrase[at].text : node.phrase[at].written;
  }
  return name;
}

class Declarer {
 public:
  explicit Declarer(Context& context) : context_(context), protocol_(context.protocol) {}

  void run() {
    add_verbs();
    for (const std::uint32_t file : context_.loaded.order) {
      for (const NodeId top : context_.loaded.files[file].tree.root().children) declare({file, top});
    }
    add_hands();
    add_values();
    for (const RoutineText& routine : context_.routines) {
      for (const Parameter& parameter : routine.parameters) check_parameter(parameter);
    }
  }

 private:
  void add_verbs() {
#define STEPWARD_VERB(id, command, third)                                                       \
  context_.names.add(command, {NameClass::verb, static_cast<std::uint32_t>(VerbKind::id)}, {}); \
  context_.names.add(third, {NameClass::verb, static_cast<std::uint32_t>(VerbKind::id)}, {});
#include "keywords.def"
  }

  /// `bare hands` is the site that is the hands, whatever it is called; `hands` is what is outermost there.
  void add_hands() {
    context_.names.add("hands", {NameClass::hands, 0}, {});
    for (std::uint32_t at = 0; at < protocol_.sites.size(); ++at) {
      if (!protocol_.sites[at].is_hands) continue;
      context_.hands_site = SiteId{at};
      if (!context_.names.find("bare hands", declared_classes))
        context_.names.add("bare hands", {NameClass::site, at}, {});
      return;
    }
  }

  void declare(const Place& place) {
    const Node& node = context_.node(place);
    const std::size_t all = node.phrase.size();
    switch (node.kind) {
      case NodeKind::zone: add(place, 0, all, NameClass::zone, protocol_.zones); break;
      case NodeKind::role: add(place, 0, all, NameClass::role, protocol_.roles); break;
      case NodeKind::body_site: add_site(place); break;
      case NodeKind::kind:
        add(place, 0, find_comma(node), NameClass::kind, protocol_.kinds);
        add_unit(node);
        break;
      case NodeKind::finding: add(place, 0, all, NameClass::finding, protocol_.findings); break;
      case NodeKind::fixture: add_fixture(place); break;
      case NodeKind::supply:
        add(place, 0, find_comma(node), NameClass::supply, protocol_.supplies);
        add_unit(node);
        break;
      case NodeKind::surface: add(place, 0, all, NameClass::spot, protocol_.spots).is_fixture = false; break;
      case NodeKind::item:
        add(place, 0, all, NameClass::item, protocol_.items);
        add_surfaces(place);
        break;
      case NodeKind::agent: add(place, 0, all, NameClass::agent, protocol_.agents); break;
      case NodeKind::technique: add(place, 0, all, NameClass::technique, protocol_.techniques); break;
      case NodeKind::routine: add_routine(place); break;
      case NodeKind::any_time: add(place, 0, all, NameClass::interruption, protocol_.interruptions); break;
      case NodeKind::variants: add_choices(place); break;
      case NodeKind::endings: add_endings(place); break;
      case NodeKind::verb:
      case NodeKind::document:
      case NodeKind::people:
      case NodeKind::stock:
      case NodeKind::rhythm:
      case NodeKind::copies:
      case NodeKind::reading:
      case NodeKind::pairs_with:
      case NodeKind::set_aside:
      case NodeKind::local_change:
      case NodeKind::answered_slip:
      case NodeKind::phase:
      case NodeKind::rule: break;
      default: return;  // lines of blocks; `use` is followed by resolve
    }
    context_.declared.push_back(place);
  }

  template <class Slot>
  Slot& add(const Place& place, std::size_t begin, std::size_t end, NameClass what, std::vector<Slot>& slots) {
    const Node& node = context_.node(place);
    const source::Span span = begin < end ? span_of(node, begin, end) : node.span;
    Slot slot;
    slot.name = written(node, begin, end);
    slot.called = "the " + slot.name;
    slot.span = span;
    const auto index = static_cast<std::uint32_t>(slots.size());
    slots.push_back(std::move(slot));
    enter(node, begin, end, {what, index}, span);
    return slots.back();
  }

  /// What cannot be a name still gets its slot and, where the table can hold it, its entry: its uses are no new slips.
  void enter(const Node& node, std::size_t begin, std::size_t end, resolve::Meaning meaning, source::Span span) {
    if (!may_be_name(node, begin, end, meaning.what)) {
      context_.misnamed.insert(&node);
      const bool fits = begin < end && end - begin <= resolve::longest_name && node.phrase[begin].text != "hands";
      if (!fits) return;
    }
    const std::string name = resolve::words_of(node.phrase, begin, end);
    if (const auto* first = context_.names.find(name, declared_classes)) {
      auto& twice = context_.report(Code::N107, span, {name});
      twice.places.push_back({first->span, "declared first"});
      context_.misnamed.insert(&node);
      return;
    }
    context_.names.add(name, meaning, span);
  }

  bool may_be_name(const Node& node, std::size_t begin, std::size_t end, NameClass what) {
    if (begin >= end) return context_.report(Code::N109, node.span), false;
    const auto& phrase = node.phrase;
    for (std::size_t at = begin; at < end; ++at) {
      const bool plain = phrase[at].kind == TokenKind::word || (at > begin && phrase[at].kind == TokenKind::number);
      if (!plain) return context_.report(Code::N108, phrase[at].span, {phrase[at].written}), false;
    }
    if (end - begin > resolve::longest_name) {
      return context_.report(Code::N110, span_of(node, begin, end), {std::to_string(end - begin)}), false;
    }
    const bool is_taken = end - begin == 1 && std::find(std::begin(taken_words), std::end(taken_words),
                                                        phrase[begin].text) != std::end(taken_words);
    // Only a person's name stands in front of a verb, so only there a verb at its head would be misread.
    const bool is_verb = what == NameClass::role && resolve::begins_with_verb(phrase, begin, end);
    if (is_taken || is_verb || resolve::is_joining_word(phrase[begin].text)) {
      return context_.report(Code::N108, phrase[begin].span, {phrase[begin].written}), false;
    }
    return true;
  }

  void add_site(const Place& place) {
    const Node& node = context_.node(place);
    Site& site = add(place, 0, std::min(find_word(node, "is"), find_comma(node)), NameClass::site, protocol_.sites);
    site.is_hands = find_word(node, "these") < node.phrase.size();
  }

  /// `in` may be part of the name ("drip tray"), so the last one before a comma divides.
  void add_fixture(const Place& place) {
    const Node& node = context_.node(place);
    const std::size_t comma = find_comma(node);
    std::size_t end = comma;
    for (std::size_t at = 1; at < comma; ++at) {
      if (node.phrase[at].text == "in") end = at;
    }
    add(place, 0, end, NameClass::spot, protocol_.spots);
  }

  void add_unit(const Node& node) {
    const std::size_t by = find_word(node, "by", find_comma(node));
    if (by + 1 >= node.phrase.size()) return;
    const std::string unit = resolve::words_of(node.phrase, by + 1, node.phrase.size());
    if (context_.names.find(unit, resolve::only(NameClass::unit))) return;
    context_.names.add(unit, {NameClass::unit, static_cast<std::uint32_t>(context_.units.size())}, node.span);
    context_.units.push_back(unit);
  }

  void add_surfaces(const Place& place) {
    for (const NodeId child : context_.node(place).children) {
      const Node& line = context_.tree(place)[child];
      if (line.kind != NodeKind::surfaces) continue;
      for (std::size_t begin = 0; begin < line.phrase.size();) {
        const std::size_t comma = find_comma(line, begin);
        add_surface(line, begin, comma);
        begin = comma + 1;
      }
    }
  }

  void add_surface(const Node& line, std::size_t begin, std::size_t end) {
    if (begin >= end) return;
    const std::string_view last = line.phrase[end - 1].text;
    const bool says_reach = last == "exposed" || last == "sheltered" || last == "inside";
    if (says_reach && end - begin > 1) --end;
    const std::string name = resolve::words_of(line.phrase, begin, end);
    if (context_.names.find(name, resolve::only(NameClass::surface))) return;
    context_.names.add(name, {NameClass::surface, 0}, span_of(line, begin, end));
  }

  void add_routine(const Place& place) {
    const Node& node = context_.node(place);
    add(place, 0, node.phrase.size(), NameClass::routine, protocol_.routines);
    context_.routines.push_back({place, {}, {}, false});
    for (const NodeId child : node.children) {
      const Node& line = context_.tree(place)[child];
      if (line.kind == NodeKind::given) add_parameter(line);
    }
  }

  void add_parameter(const Node& line) {
    const std::size_t end = find_comma(line);
    if (!may_be_name(line, 0, end, NameClass::parameter)) return;
    Parameter parameter;
    parameter.name = resolve::words_of(line.phrase, 0, end);
    parameter.span = line.span;
    const std::size_t any = find_word(line, "any", end);
    parameter.type = resolve::words_of(line.phrase, any + 1, line.phrase.size());
    if (const auto* known = context_.names.find(parameter.name, resolve::only(NameClass::parameter))) {
      parameter.name_index = known->meaning.index;
    } else {
      parameter.name_index = static_cast<std::uint32_t>(context_.parameter_names.size());
      context_.parameter_names.push_back(parameter.name);
      context_.names.add(parameter.name, {NameClass::parameter, parameter.name_index}, line.span);
      context_.names.add(parameter.name, {NameClass::given, parameter.name_index}, line.span);
    }
    auto& parameters = context_.routines.back().parameters;
    const bool twice = std::any_of(parameters.begin(), parameters.end(),
                                   [&](const Parameter& p) { return p.name_index == parameter.name_index; });
    if (twice) {
      context_.report(Code::N107, line.span, {parameter.name});
      return;
    }
    parameters.push_back(std::move(parameter));
  }

  void check_parameter(const Parameter& parameter) {
    const auto* declared = context_.names.find(parameter.name, declared_classes);
    if (!declared) return;
    context_.report(Code::N107, parameter.span, {parameter.name}).places.push_back({declared->span, "declared first"});
  }

  void add_choices(const Place& place) {
    for (const NodeId child : context_.node(place).children) {
      const Node& line = context_.tree(place)[child];
      if (line.kind != NodeKind::plain) continue;
      const std::size_t is = find_word(line, "is");
      if (is >= line.phrase.size()) continue;  // the frame pass says what is wrong
      add({place.file, child}, 0, is, NameClass::choice, protocol_.choices);
      value_lines_.push_back({place.file, child});
    }
  }

  void add_endings(const Place& place) {
    for (const NodeId child : context_.node(place).children) {
      const Node& line = context_.tree(place)[child];
      const std::size_t is = find_word(line, "is");
      if (line.kind != NodeKind::plain || is + 1 >= line.phrase.size()) continue;
      const std::string_view nature = line.phrase[is + 1].text;
      if (nature == "normal" || nature == "emergency") {
        add({place.file, child}, 0, is, NameClass::ending, protocol_.endings);
      }
    }
  }

  /// Values come last: whether one is an item is known only when all items are.
  void add_values() {
    for (std::size_t choice = 0; choice < value_lines_.size(); ++choice) {
      const Node& line = context_.node(value_lines_[choice]);
      const std::size_t end = end_of_values(line);
      for (std::size_t begin = find_word(line, "is") + 1; begin < end;) {
        const std::size_t next = std::min(find_word(line, "or", begin), end);
        add_value(line, begin, next, protocol_.choices[choice]);
        begin = next + 1;
      }
    }
  }

  static std::size_t end_of_values(const Node& line) {
    for (std::size_t at = 0; at + 1 < line.phrase.size(); ++at) {
      if (line.phrase[at].text == "only" && line.phrase[at + 1].text == "for") return at;
    }
    return line.phrase.size();
  }

  void add_value(const Node& line, std::size_t begin, std::size_t end, Choice& choice) {
    if (!may_be_name(line, begin, end, NameClass::value)) return;
    const std::string name = resolve::words_of(line.phrase, begin, end);
    const source::Span span = span_of(line, begin, end);
    if (const auto* other = context_.names.find(name, resolve::only(NameClass::value))) {
      auto& twice = context_.report(Code::V106, span, {name});
      twice.places.push_back({other->span, "a value here already"});
      return;
    }
    ChoiceOption option;
    option.name = written(line, begin, end);
    const auto* declared = context_.names.find(name, declared_classes);
    if (declared && declared->meaning.what == NameClass::item)
      option.item = ItemId{declared->meaning.index};
    else if (declared) {
      context_.report(Code::N106, span,
                      {name, std::string(resolve::called(declared->meaning.what)), "an item or a new word"});
    }
    const auto index = static_cast<std::uint32_t>(context_.values.size());
    const auto choice_at = static_cast<std::uint32_t>(&choice - protocol_.choices.data());
    context_.values.push_back({ChoiceId{choice_at}, static_cast<std::uint8_t>(choice.values.size())});
    choice.values.push_back(std::move(option));
    context_.names.add(name, {NameClass::value, index}, span);
  }

  Context& context_;
  Protocol& protocol_;
  std::vector<Place> value_lines_;  ///< by ChoiceId
};

}  // namespace

void declare_names(Context& context) { Declarer(context).run(); }

}  // namespace stepward::model::reading
