// What a call gives and what the routine asks for.

#include <algorithm>

#include "model/from_syntax/steps.hpp"

namespace stepward::model::reading {
namespace {

bool has_kind(Context& context, const Thing& thing, const Parameter& parameter) {
  const auto* kind = context.names.find(parameter.type, resolve::only(NameClass::kind));
  if (!kind) {
    context.report(Code::N101, parameter.span, {parameter.type});
    return true;
  }
  const auto is_of_kind = [&](ItemId item) {
    const auto& kinds = context.protocol[item].kinds;
    return std::find(kinds.begin(), kinds.end(), KindId{kind->meaning.index}) != kinds.end();
  };
  if (thing.what == Thing::What::item) return is_of_kind(thing.item);
  const auto& values = context.protocol[thing.choice].values;
  return std::all_of(values.begin(), values.end(),
                     [&](const ChoiceOption& o) { return !o.item || is_of_kind(o.item); });
}

void check_type(Context& context, const Node& node, const Parameter& parameter, const Thing& thing,
                const Scope& scope) {
  const bool wild = thing.what == Thing::What::kind && !thing.kind;
  if (wild || parameter.type.empty()) return;
  if (thing.what == Thing::What::choice) check_choice_is_open(context, thing, scope.only_for);
  bool fits = thing.what == Thing::What::item || thing.what == Thing::What::choice;
  if (parameter.type == "surface")
    fits = thing.what != Thing::What::supply && thing.what != Thing::What::role;
  else if (parameter.type == "body site")
    fits = thing.what == Thing::What::site;
  else if (parameter.type != "item")
    fits = fits && has_kind(context, thing, parameter);
  if (fits) return;
  context
      .report(Code::N304, thing.span,
              {std::string(context.files.text(thing.span)), parameter.name, "any " + parameter.type})
      .places.push_back({node.span, "called here"});
}

}  // namespace

Bindings bind(Context& context, const Node& node, const Reading& reading, const Scope& scope, const RoutineText& text) {
  Bindings bindings;
  const auto things = things_of(context, node, reading.segments, scope.bindings);
  std::size_t at = 0;
  for (const Segment& segment : reading.segments) {
    if (segment.label != "given") continue;
    const Thing& thing = things[at++];
    const auto parameter = std::find_if(text.parameters.begin(), text.parameters.end(),
                                        [&](const Parameter& p) { return p.name_index == segment.meaning.index; });
    if (parameter == text.parameters.end()) {
      context.report(Code::N303, span_of(node, segment), {words(node, segment), words(node, *reading.find("routine"))});
      continue;
    }
    const bool twice =
        std::any_of(bindings.begin(), bindings.end(), [&](const auto& b) { return b.first == segment.meaning.index; });
    if (twice) {
      context.report(Code::N113, span_of(node, segment), {parameter->name});
      continue;
    }
    check_type(context, node, *parameter, thing, scope);
    bindings.emplace_back(segment.meaning.index, thing);
  }
  for (const Parameter& parameter : text.parameters) {
    const bool given =
        std::any_of(bindings.begin(), bindings.end(), [&](const auto& b) { return b.first == parameter.name_index; });
    if (given) continue;
    auto& missing = context.report(Code::N302, node.span, {words(node, *reading.find("routine")), parameter.name});
    missing.places.push_back({parameter.span, "asked for here"});
    Thing anything;
    anything.what = Thing::What::kind;
    bindings.emplace_back(parameter.name_index, anything);
  }
  return bindings;
}

// Whoever calls a routine that may end the run may end the run.
void check_finishes(Context& context, const Node& node, const RoutineText& text, const Scope& scope) {
  if (!scope.in_routine()) return;
  const auto& own = context.routines[scope.calls.back().value];
  for (const std::string& name : text.may_finish_as) {
    if (std::find(own.may_finish_as.begin(), own.may_finish_as.end(), name) != own.may_finish_as.end()) continue;
    auto& finding = context.report(Code::N307, node.span, {context.protocol[scope.calls.back()].name, name});
    finding.places.push_back({context.protocol[scope.calls.back()].span, "the routine"});
  }
}

}  // namespace stepward::model::reading
