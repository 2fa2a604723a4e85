// Techniques: what the hands meet, in order; and how plain lines are worded.

#include <algorithm>

#include "model/from_syntax/passes.hpp"

namespace stepward::model::reading {
namespace {

class TechniqueReader {
 public:
  TechniqueReader(Context& context, const Place& place, TechniqueId id)
      : context_(context), place_(place), technique_(context.protocol.techniques[id.value]), once_(context) {}

  void run() {
    for (const NodeId child : context_.node(place_).children) read(context_.tree(place_)[child]);
    if (technique_.serves.empty() && !serves_unread_) {
      context_.report(Code::N114, technique_.span, {technique_.name, "what it takes off or puts on"});
    }
    if (technique_.handles.empty() && !handles_unread_ && technique_.because.empty()) {
      context_.report(Code::N505, technique_.span, {technique_.name});
    }
    check_parts();
  }

 private:
  void read(const Node& line) {
    switch (line.kind) {
      case NodeKind::takes_off: read_service(line, TechniqueUse::takes_off); break;
      case NodeKind::puts_on: read_service(line, TechniqueUse::puts_on); break;
      case NodeKind::tests: read_service(line, TechniqueUse::tests); break;
      case NodeKind::cleans: read_service(line, TechniqueUse::cleans); break;
      case NodeKind::handles: read_handles(line); break;
      case NodeKind::brushes: read_brush(line, true); break;
      case NodeKind::may_brush: read_brush(line, false); break;
      case NodeKind::drops: read_drops(line); break;
      case NodeKind::uses_up: read_use(line); break;
      case NodeKind::because:
        if (!once_.first(line, "because")) break;
        if (const auto reading = context_.read(line, context_.frames->text_alone))
          technique_.because = quoted(line, *reading);
        break;
      case NodeKind::called: read_called(context_, line, technique_.called); break;
      case NodeKind::source:
        if (const auto source = read_source(context_, line)) technique_.sources.push_back(*source);
        break;
      default: read_wording(context_, line, technique_.wording);
    }
  }

  void read_service(const Node& line, TechniqueUse use) {
    const auto reading = context_.read(line, context_.frames->services);
    if (!reading) {
      serves_unread_ = true;
      return;
    }
    TechniqueService service{use, {}};
    for (const Segment& segment : reading->segments) {
      if (segment.label == "next") {
        technique_.serves.push_back(std::move(service));
        service = {use, {}};
      }
      const bool is_target = segment.label == "x" || segment.label == "anyitem" || segment.label == "anything";
      if (is_target) service.together.push_back(target_of(segment));
    }
    technique_.serves.push_back(std::move(service));
  }

  std::vector<TechniqueThing> named(const Node& line, const Reading& reading) {
    std::vector<TechniqueThing> things;
    const Segment* part = nullptr;
    for (const Segment& segment : reading.segments) {
      if (segment.label == "part") part = &segment;
      if (segment.label != "it" && segment.label != "x" && segment.label != "covered") continue;
      TechniqueThing thing;
      thing.span = part ? span_of(line, part->begin, segment.end) : span_of(line, segment);
      if (segment.label == "covered") thing.what = TechniqueThing::What::what_it_covers;
      if (segment.label == "x") fill(thing, segment);
      if (part) thing.part = words(line, *part);
      if (part && segment.label == "x") check_part(line, *part, segment);
      part = nullptr;
      things.push_back(std::move(thing));
    }
    return things;
  }

  static void fill(TechniqueThing& thing, const Segment& segment) {
    const std::uint32_t index = segment.meaning.index;
    if (segment.meaning.what == NameClass::item) {
      thing.what = TechniqueThing::What::item;
      thing.item = ItemId{index};
    }
    if (segment.meaning.what == NameClass::kind) {
      thing.what = TechniqueThing::What::kind;
      thing.kind = KindId{index};
    }
    if (segment.meaning.what == NameClass::site) {
      thing.what = TechniqueThing::What::site;
      thing.site = SiteId{index};
    }
  }

  void check_part(const Node& line, const Segment& part, const Segment& of) {
    const bool fits = of.meaning.what == NameClass::item
                          ? part_of(context_.protocol.items[of.meaning.index], words(line, part)).has_value()
                          : of.meaning.what == NameClass::kind;
    if (!fits) context_.report(Code::N111, span_of(line, part), {words(line, of), words(line, part)});
  }

  void read_handles(const Node& line) {
    const auto reading = context_.read(line, context_.frames->handles);
    if (!reading) {
      handles_unread_ = true;
      return;
    }
    const bool away = reading->has("away");
    for (TechniqueThing& thing : named(line, *reading)) technique_.handles.push_back({std::move(thing), away});
  }

  void read_brush(const Node& line, bool always) {
    const auto reading = context_.read(line, context_.frames->brushes);
    if (!reading) return;
    const auto things = named(line, *reading);
    if (things.size() == 2) technique_.brushes.push_back({things[0], things[1], always});
  }

  void read_drops(const Node& line) {
    if (!once_.first(line, "drops it into")) return;
    if (const auto reading = context_.read(line, context_.frames->drops)) {
      technique_.drops_into = words(line, *reading->find("bin"));
    }
  }

  void read_use(const Node& line) {
    const auto reading = context_.read(line, context_.frames->uses_up);
    if (!reading) return;
    const auto count = whole(line.phrase[reading->find("n")->begin].text, 9999);
    if (!count || *count == 0)
      context_.report(Code::T706, line.span, {words(line, *reading->find("n"))});
    else
      technique_.uses_up.push_back({*count, SupplyId{reading->find("supply")->meaning.index}});
  }

  /// Where a technique is for items by name, each must have the surfaces that it handles as `it`.
  void check_parts() {
    for (const TechniqueService& service : technique_.serves) {
      if (service.together.size() != 1 || !service.together[0].item) continue;
      const Item& item = context_.protocol[service.together[0].item];
      for (const Handled& handled : technique_.handles) {
        const bool is_it = handled.thing.what == TechniqueThing::What::it && !handled.thing.part.empty();
        if (is_it && !part_of(item, handled.thing.part)) {
          context_.report(Code::N111, handled.thing.span, {item.name, handled.thing.part});
        }
      }
    }
  }

  Context& context_;
  Place place_;
  Technique& technique_;
  Once once_;
  bool serves_unread_ = false, handles_unread_ = false;
};

}  // namespace

void read_technique(Context& context, const Place& place, TechniqueId technique) {
  TechniqueReader(context, place, technique).run();
}

void read_verb(Context& context, const Place& place) {
  const Node& node = context.node(place);
  const auto reading = context.read(node, context.frames->verb);
  VerbWording wording;
  wording.span = node.head;
  for (const NodeId child : node.children) {
    const Node& line = context.tree(place)[child];
    read_wording(context, line, wording.wording);
  }
  if (!reading) return;
  wording.verb = static_cast<VerbKind>(reading->find("verb")->meaning.index);
  context.protocol.verb_wordings.push_back(std::move(wording));
}

}  // namespace stepward::model::reading
