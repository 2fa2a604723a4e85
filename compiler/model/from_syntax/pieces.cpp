// Pieces of lines that several passes read alike: targets, things, times, sources, wordings, `only for`.

#include <algorithm>

#include "model/from_syntax/passes.hpp"

namespace stepward::model::reading {
namespace {

constexpr std::string_view placeholders[] = {"item",  "surface", "agent", "technique",
                                             "count", "who",     "place", "findings"};

bool ends_with(std::string_view text, std::string_view end) {
  return text.size() >= end.size() && text.substr(text.size() - end.size()) == end;
}

Thing thing_of(const Segment& segment) {
  Thing thing;
  const std::uint32_t index = segment.meaning.index;
  switch (segment.meaning.what) {
    case NameClass::item:
      thing.what = Thing::What::item;
      thing.item = ItemId{index};
      break;
    case NameClass::choice:
      thing.what = Thing::What::choice;
      thing.choice = ChoiceId{index};
      break;
    case NameClass::kind:
      thing.what = Thing::What::kind;
      thing.kind = KindId{index};
      break;
    case NameClass::site:
      thing.what = Thing::What::site;
      thing.site = SiteId{index};
      break;
    case NameClass::spot:
      thing.what = Thing::What::spot;
      thing.spot = SpotId{index};
      break;
    case NameClass::supply:
      thing.what = Thing::What::supply;
      thing.supply = SupplyId{index};
      break;
    case NameClass::role:
      thing.what = Thing::What::role;
      thing.role = RoleId{index};
      break;
    case NameClass::hands: thing.what = Thing::What::hands; break;
    default: thing.what = Thing::What::kind; break;  // a parameter without a binding stands for anything
  }
  return thing;
}

/// The surface names that a thing could have, and whether `part` is one.
bool has_part(const Protocol& protocol, const Thing& thing, std::string_view part, std::vector<std::string>& known) {
  const auto look = [&](ItemId item) {
    for (const Surface& surface : protocol[item].surfaces) known.push_back(surface.name);
    return part_of(protocol[item], part).has_value();
  };
  if (thing.what == Thing::What::item) return look(thing.item);
  if (thing.what == Thing::What::kind) return true;
  if (thing.what != Thing::What::choice) return false;
  bool found = false;
  for (const ChoiceOption& option : protocol[thing.choice].values) {
    if (option.item && look(option.item)) found = true;
  }
  return found;
}

}  // namespace

std::vector<ItemOrKind> items_or_kinds(const Reading& reading) {
  std::vector<ItemOrKind> list;
  for (const Segment& segment : reading.segments) {
    if (segment.label != "x") continue;
    ItemOrKind entry;
    if (segment.meaning.what == NameClass::item)
      entry.item = ItemId{segment.meaning.index};
    else
      entry.kind = KindId{segment.meaning.index};
    list.push_back(entry);
  }
  return list;
}

Target target_of(const Segment& segment) {
  Target target;
  const std::uint32_t index = segment.meaning.index;
  if (segment.label == "anyitem") {
    target.anything = true;
    target.items_only = true;
    return target;
  }
  if (segment.label == "anything") {
    target.anything = true;
    return target;
  }
  if (segment.meaning.what == NameClass::item) target.item = ItemId{index};
  if (segment.meaning.what == NameClass::kind) target.kind = KindId{index};
  if (segment.meaning.what == NameClass::site) target.site = SiteId{index};
  if (segment.meaning.what == NameClass::spot) target.spot = SpotId{index};
  return target;
}

std::vector<Target> targets(const Reading& reading) {
  std::vector<Target> list;
  for (const Segment& segment : reading.segments) {
    if (segment.label == "x" || segment.label == "anyitem" || segment.label == "anything")
      list.push_back(target_of(segment));
  }
  return list;
}

std::optional<Source> read_source(Context& context, const Node& node) {
  const auto reading = context.read(node, context.frames->source);
  if (!reading) return std::nullopt;
  Source source;
  const std::string mark = words(node, *reading->find("mark"));
  if (mark == "read") source.mark = SourceMark::read;
  if (mark == "quoted") source.mark = SourceMark::quoted_by_another;
  if (mark == "from") source.mark = SourceMark::from_memory;
  if (mark == "common") source.mark = SourceMark::common_practice;
  source.text = quoted(node, *reading);
  return source;
}

void check_placeholders(Context& context, const syntax::Token& text) {
  for (std::size_t open = text.text.find('['); open != std::string::npos; open = text.text.find('[', open + 1)) {
    const std::size_t close = text.text.find(']', open);
    const std::string name = text.text.substr(open + 1, close == std::string::npos ? close : close - open - 1);
    const bool known = close != std::string::npos &&
                       (std::find(std::begin(placeholders), std::end(placeholders), name) != std::end(placeholders) ||
                        context.names.find(name, resolve::only(NameClass::choice)));
    if (known) continue;
    auto& finding = context.report(Code::X101, text.span, {name});
    const std::vector<std::string> choices(std::begin(placeholders), std::end(placeholders));
    if (const auto near = resolve::nearest_of(choices, name)) finding.fix = "[" + *near + "]";
  }
}

bool read_wording(Context& context, const Node& node, Wording& wording) {
  std::vector<Phrase>* list = nullptr;
  if (node.kind == NodeKind::words) list = &wording.words;
  if (node.kind == NodeKind::spoken) list = &wording.spoken;
  if (node.kind == NodeKind::watch) list = &wording.watch;
  if (node.kind == NodeKind::if_not) list = &wording.if_not;
  if (node.kind == NodeKind::warning) list = &wording.warning;
  if (!list) return false;
  const auto reading = context.read(node, context.frames->words);
  if (!reading) return true;
  check_placeholders(context, node.phrase[reading->find("text")->begin]);
  list->push_back({quoted(node, *reading), targets(*reading), reading->has("otherwise"), node.span});
  return true;
}

Duration duration_of(Context& context, const Node& node, const Reading& reading, const std::string& prefix) {
  const Segment* amount = reading.find(prefix + "amount");
  const std::string unit = words(node, *reading.find(prefix + "unit"));
  const std::int64_t scale = unit[0] == 's' ? 1 : unit[0] == 'm' ? 60 : 3600;
  const auto figure = exact(node.phrase[amount->begin].text);
  const Rational seconds = figure ? *figure * Rational(scale) : Rational(0);
  if (!figure || seconds.den != 1 || seconds.num < 1 || seconds.num > 31'536'000) {
    context.report(Code::T706, span_of(node, *amount), {node.phrase[amount->begin].written});
    return {};
  }
  return {static_cast<std::uint32_t>(seconds.num)};
}

std::vector<Thing> things_of(Context& context, const Node& node, const std::vector<Segment>& segments,
                             const std::vector<std::pair<std::uint32_t, Thing>>& bindings) {
  std::vector<Thing> things;
  const Segment* part = nullptr;
  for (const Segment& segment : segments) {
    if (ends_with(segment.label, "part")) part = &segment;
    if (segment.label == "of" && segment.meaning.what == NameClass::role && !things.empty()) {
      things.back().of = RoleId{segment.meaning.index};
      things.back().span.end = span_of(node, segment).end;
    }
    if (segment.label != "core") continue;
    Thing thing = thing_of(segment);
    for (const auto& [name, bound] : bindings) {
      if (segment.meaning.what == NameClass::parameter && segment.meaning.index == name) thing = bound;
    }
    thing.span = span_of(node, segment);
    if (thing.what == Thing::What::choice) context.choice_used[thing.choice.value] = true;
    if (part) {
      const std::string name = words(node, *part);
      std::vector<std::string> known;
      if (!thing.part.empty() || !has_part(context.protocol, thing, name, known)) {
        auto& finding = context.report(Code::N111, span_of(node, *part), {words(node, segment), name});
        if (const auto near = resolve::nearest_of(known, name)) finding.fix = *near + " of " + words(node, segment);
      } else {
        thing.part = name;
      }
      thing.span.begin = span_of(node, *part).begin;
      part = nullptr;
    }
    things.push_back(std::move(thing));
  }
  return things;
}

VariantCondition condition_of(Context& context, const Node& node, const Reading& reading,
                              const VariantCondition& within) {
  VariantCondition condition;
  source::Span span;
  for (const Segment& segment : reading.segments) {
    if (segment.label != "value") continue;
    const ChoiceValue value = context.values[segment.meaning.index];
    context.choice_used[value.choice.value] = true;
    condition.push_back(value);
    if (!span.file) span = span_of(node, segment);
    span.end = span_of(node, segment).end;
  }
  if (condition.empty() || context.variants.empty()) return condition;
  VariantCondition both = within;
  both.insert(both.end(), condition.begin(), condition.end());
  if (can_hold(both, context.variants)) return condition;
  const auto excludes = [&](const Exclusion& exclusion) {
    return std::all_of(exclusion.together.begin(), exclusion.together.end(), [&](const ChoiceValue& value) {
      return std::any_of(both.begin(), both.end(), [&](const ChoiceValue& b) { return b.choice == value.choice && b.value == value.value; });
    });
  };
  const auto& exclusions = context.protocol.exclusions;
  const bool excluded = std::any_of(exclusions.begin(), exclusions.end(), excludes);
  // A value that is excluded by itself is left out on purpose, and what is only for it waits until it comes back.
  if (std::any_of(exclusions.begin(), exclusions.end(), [&](const Exclusion& e) { return e.together.size() == 1 && excludes(e); })) return condition;
  const std::string shown(context.files.text(span));
  // A value that no variant has was told where it is declared.
  const bool told = std::any_of(condition.begin(), condition.end(), [&](const ChoiceValue& v) { return !can_hold({v}, context.variants); });
  if (excluded || !told) context.report(excluded ? Code::V103 : Code::V104, span, {shown});
  return condition;
}

bool Once::first(const Node& node, const std::string& what) {
  const auto [before, is_first] = seen_.emplace(what, node.span);
  if (!is_first) context_.report(Code::N113, node.span, {what}).places.push_back({before->second, "said first"});
  return is_first;
}

void read_called(Context& context, const Node& node, std::string& called) {
  if (const auto reading = context.read(node, context.frames->text_alone)) called = quoted(node, *reading);
}

void read_also_called(Context& context, const Node& node, std::vector<std::string>& also_called) {
  const auto reading = context.read(node, context.frames->texts);
  if (!reading) return;
  for (const Segment& segment : reading->segments) {
    if (segment.label == "text") also_called.push_back(node.phrase[segment.begin].text);
  }
}

}  // namespace stepward::model::reading
