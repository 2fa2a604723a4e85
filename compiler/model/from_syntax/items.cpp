// Items: what is worn, its surfaces, and what it goes over.

#include <algorithm>

#include "model/from_syntax/passes.hpp"

namespace stepward::model::reading {
namespace {

class ItemReader {
 public:
  ItemReader(Context& context, const Place& place, ItemId id)
      : context_(context), place_(place), id_(id), item_(context.protocol.items[id.value]), once_(context) {}

  /// Surfaces first: other items, and this one's own lines, may name them wherever they stand.
  void surfaces() {
    for (const NodeId child : context_.node(place_).children) {
      const Node& line = context_.tree(place_)[child];
      if (line.kind == NodeKind::surfaces) read_surfaces(line);
    }
    if (!item_.surfaces.empty()) return;
    context_.report(Code::N114, item_.span, {item_.name, "its surfaces"});
    item_.surfaces.push_back({"outside", Reach::exposed, item_.span});
  }

  void rest() {
    for (const NodeId child : context_.node(place_).children) read(context_.tree(place_)[child]);
    if (item_.worn_on.empty() && !once_.had("worn on")) {
      context_.report(Code::N114, item_.span, {item_.name, "what it is worn on"});
    }
  }

 private:
  void read(const Node& line) {
    switch (line.kind) {
      case NodeKind::surfaces: break;
      case NodeKind::kind: add_all(line, context_.frames->kinds, "kind", item_.kinds); break;
      case NodeKind::worn_on:
        once_.had("worn on") || once_.first(line, "worn on");
        add_all(line, context_.frames->sites, "site", item_.worn_on);
        break;
      case NodeKind::clothing:
        plain(line, "protective or clothing");
        item_.clothing = true;
        break;
      case NodeKind::protective:
        plain(line, "protective or clothing");
        item_.clothing = false;
        break;
      case NodeKind::single_use:
        plain(line, "single use or reusable");
        item_.reusable = false;
        break;
      case NodeKind::reusable:
        plain(line, "single use or reusable");
        item_.reusable = true;
        break;
      case NodeKind::stays_on:
        plain(line, "stays on");
        item_.stays_on = true;
        break;
      case NodeKind::begins:
        once_.first(line, "begins");
        item_.begins_sterile = context_.read(line, context_.frames->begins_new).has_value();
        break;
      case NodeKind::inside_rests:
        plain(line, "inside rests on what it covers");
        item_.inside_rests = true;
        break;
      case NodeKind::goes_over: read_covers(line); break;
      case NodeKind::usually_put_on: read_usual(line, item_.usually_put_on, "usually put on"); break;
      case NodeKind::usually_taken_off: read_usual(line, item_.usually_taken_off, "usually taken off"); break;
      case NodeKind::called: read_called(context_, line, item_.called); break;
      case NodeKind::also_called: read_also_called(context_, line, item_.also_called); break;
      default: break;  // what may stand in which block is decided by parse
    }
  }

  void plain(const Node& line, const std::string& what) {
    once_.first(line, what);
    if (!line.phrase.empty()) {
      context_.report(Code::N103, line.phrase[0].span, {"\"" + line.phrase[0].written + "\"", "the end of the line"});
    }
  }

  template <class Tag>
  void add_all(const Node& line, const resolve::Frame& frame, std::string_view label, std::vector<Id<Tag>>& into) {
    const auto reading = context_.read(line, frame);
    if (!reading) return;
    for (const Segment& segment : reading->segments) {
      if (segment.label == label) into.push_back(Id<Tag>{segment.meaning.index});
    }
  }

  void read_surfaces(const Node& line) {
    const auto reading = context_.read(line, context_.frames->surfaces);
    if (!reading) return;
    for (const Segment& segment : reading->segments) {
      if (segment.label == "surface") {
        const std::string name = words(line, segment);
        if (part_of(item_, name)) {
          context_.report(Code::N107, span_of(line, segment), {name});
          continue;
        }
        const Reach reach = name == "inside" ? Reach::inside : Reach::exposed;
        item_.surfaces.push_back({name, reach, span_of(line, segment)});
      }
      if (segment.label == "reach" && !item_.surfaces.empty()) {
        const std::string reach = words(line, segment);
        item_.surfaces.back().reach = reach == "inside"      ? Reach::inside
                                      : reach == "sheltered" ? Reach::sheltered
                                                             : Reach::exposed;
      }
    }
  }

  void read_usual(const Node& line, TechniqueId& into, const std::string& what) {
    if (!once_.first(line, what)) return;
    if (const auto reading = context_.read(line, context_.frames->technique)) {
      into = TechniqueId{reading->find("technique")->meaning.index};
    }
  }

  void read_covers(const Node& line) {
    const auto reading = context_.read(line, context_.frames->goes_over);
    if (!reading) return;
    const bool loosely = reading->has("loosely");
    const Segment* part = nullptr;
    for (const Segment& segment : reading->segments) {
      if (segment.label == "part") part = &segment;
      if (segment.label != "core") continue;
      Cover cover;
      cover.loosely = loosely;
      cover.span = part ? span_of(line, part->begin, segment.end) : span_of(line, segment);
      if (segment.meaning.what == NameClass::site)
        cover.site = SiteId{segment.meaning.index};
      else
        cover.item = ItemId{segment.meaning.index};
      if (part) add_part(line, *part, segment, cover);
      part = nullptr;
      add(cover);
    }
  }

  void add_part(const Node& line, const Segment& part, const Segment& core, Cover& cover) {
    const Item& covered = context_.protocol[cover.item];
    cover.part = part_of(covered, words(line, part));
    if (cover.part) return;
    auto& finding = context_.report(Code::N111, span_of(line, part), {words(line, core), words(line, part)});
    std::vector<std::string> known;
    for (const Surface& surface : covered.surfaces) known.push_back(surface.name);
    if (const auto near = resolve::nearest_of(known, words(line, part)))
      finding.fix = *near + " of " + words(line, core);
  }

  void add(const Cover& cover) {
    if (cover.item == id_) {
      context_.report(Code::N502, cover.span, {item_.name});
      return;
    }
    for (const Cover& other : item_.goes_over) {
      const bool same = other.item == cover.item && other.site == cover.site && other.part == cover.part;
      if (!same) continue;
      const Code code = other.loosely != cover.loosely ? Code::N503 : Code::N113;
      const std::string what(context_.files.text(cover.span));
      context_.report(code, cover.span, {(code == Code::N113 ? "goes over " : "") + what})
          .places.push_back({other.span, "said first"});
      return;
    }
    item_.goes_over.push_back(cover);
  }

  Context& context_;
  Place place_;
  ItemId id_;
  Item& item_;
  Once once_;
};

}  // namespace

void read_surfaces_of_item(Context& context, const Place& place, ItemId item) {
  ItemReader(context, place, item).surfaces();
}
void read_item(Context& context, const Place& place, ItemId item) { ItemReader(context, place, item).rest(); }

}  // namespace stepward::model::reading
