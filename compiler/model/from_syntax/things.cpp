// Places, people, bodies, kinds, findings, fixtures, supplies and free surfaces.

#include "model/from_syntax/passes.hpp"

namespace stepward::model::reading {
namespace {

/// Visits the lines of a block.
template <class Take>
void each_line(Context& context, const Place& place, Take take) {
  for (const NodeId child : context.node(place).children) take(context.tree(place)[child]);
}

template <class Tag>
void add_all(const Reading& reading, std::string_view label, std::vector<Id<Tag>>& into) {
  for (const Segment& segment : reading.segments) {
    if (segment.label == label) into.push_back(Id<Tag>{segment.meaning.index});
  }
}

void read_borders(Context& context, const Node& line, Zone& zone) {
  const auto reading = context.read(line, context.frames->leads_to);
  if (!reading) return;
  for (const Segment& segment : reading->segments) {
    if (segment.label == "zone") zone.leads_to.push_back({ZoneId{segment.meaning.index}, items_or_kinds(*reading)});
  }
}

void read_exposure(Context& context, const Node& line, Zone& zone) {
  const auto reading = context.read(line, context.frames->exposes);
  if (!reading) return;
  const std::string how = words(line, *reading->find("exposes"));
  if (how == "all") zone.exposes = Exposes::all_round;
  if (how == "front") zone.exposes = Exposes::front_only;
}

void read_answers(Context& context, const Node& line, Finding& finding) {
  const auto reading = context.read(line, context.frames->answered_by);
  if (!reading) return;
  for (const Segment& segment : reading->segments) {
    if (segment.label == "cleaning") finding.answered_by.push_back({AnswerKind::cleaning, {}});
    if (segment.label == "removal") finding.answered_by.push_back({AnswerKind::removal, {}});
    if (segment.label == "reporting") finding.answered_by.push_back({AnswerKind::reporting, {}});
    if (segment.label == "mark") finding.answered_by.push_back({AnswerKind::declaring, words(line, segment)});
  }
}

void read_means(Context& context, const Node& line, Finding& finding) {
  const auto reading = context.read(line, context.frames->means);
  if (!reading) return;
  const std::string what = words(line, *reading->find("means"));
  if (what == "barrier") finding.means = FindingMeans::barrier_broken;
  if (what == "skin") finding.means = FindingMeans::skin_showing;
}

void read_deadline(Context& context, const Node& line, Finding& finding) {
  const auto reading = context.read(line, context.frames->deadline);
  if (!reading) return;
  if (words(line, *reading->find("before")) == "normal")
    finding.before = Deadline::normal_ending;
  else
    finding.before = reading->has("removal") ? Deadline::any_removal : Deadline::any_ending;
}

}  // namespace

void read_zone(Context& context, const Place& place, Zone& zone) {
  Once once(context);
  each_line(context, place, [&](const Node& line) {
    switch (line.kind) {
      case NodeKind::risk:
        if (!once.first(line, "risk")) break;
        if (const auto reading = context.read(line, context.frames->risk)) {
          const std::string risk = words(line, *reading->find("risk"));
          zone.risk = risk == "high" ? Risk::high : risk == "middle" ? Risk::middle : Risk::low;
        }
        break;
      case NodeKind::exposes:
        if (once.first(line, "exposes")) read_exposure(context, line, zone);
        break;
      case NodeKind::needs:
        if (const auto reading = context.read(line, context.frames->needs)) {
          for (const ItemOrKind& need : items_or_kinds(*reading)) zone.needs.push_back(need);
        }
        break;
      case NodeKind::leads_to: read_borders(context, line, zone); break;
      case NodeKind::in_sight_of:
        if (const auto reading = context.read(line, context.frames->zones)) add_all(*reading, "zone", zone.in_sight_of);
        break;
      case NodeKind::called: read_called(context, line, zone.called); break;
      default: break;  // what may stand in which block is decided by parse
    }
  });
  if (!once.had("risk")) context.report(Code::N114, zone.span, {zone.name, "its risk"});
}

void read_role(Context& context, const Place& place, Role& role) {
  each_line(context, place, [&](const Node& line) {
    switch (line.kind) {
      case NodeKind::may_enter:
        if (const auto reading = context.read(line, context.frames->zones)) add_all(*reading, "zone", role.may_enter);
        break;
      case NodeKind::keeps_hands_off:
        if (const auto reading = context.read(line, context.frames->roles))
          add_all(*reading, "role", role.keeps_hands_off);
        break;
      case NodeKind::source:
        if (const auto source = read_source(context, line)) role.sources.push_back(*source);
        break;
      case NodeKind::called: read_called(context, line, role.called); break;
      default: break;  // what may stand in which block is decided by parse
    }
  });
}

void read_site(Context& context, const Place& place, SiteId id) {
  const Node& node = context.node(place);
  if (context.misnamed.count(&node) > 0) return;
  const auto reading = context.read(node, context.frames->body_site);
  if (!reading) return;
  Site& site = context.protocol.sites[id.value];
  if (const Segment* nature = reading->find("nature")) {
    const std::string what = words(node, *nature);
    site.nature = what == "mucous" ? SiteNature::mucous : what == "hair" ? SiteNature::hair : SiteNature::skin;
  }
  site.is_hands = reading->has("hands");
  if (site.is_hands) site.called = "your " + site.name;
  const bool second = site.is_hands && context.hands_site && context.hands_site != id;
  if (second) {
    auto& twice = context.report(Code::N113, node.span, {"these are the hands"});
    twice.places.push_back({context.protocol[context.hands_site].span, "said first"});
  }
}

void read_kind(Context& context, const Place& place, Kind& kind) {
  const Node& node = context.node(place);
  if (context.misnamed.count(&node) > 0) return;
  const auto reading = context.read(node, context.frames->kind);
  if (const Segment* unit = reading ? reading->find("unit") : nullptr) kind.counted_by = words(node, *unit);
}

void read_supply(Context& context, const Place& place, Supply& supply) {
  const Node& node = context.node(place);
  if (context.misnamed.count(&node) > 0) return;
  const auto reading = context.read(node, context.frames->supply);
  if (const Segment* unit = reading ? reading->find("unit") : nullptr) supply.counted_by = words(node, *unit);
}

void read_finding(Context& context, const Place& place, Finding& finding) {
  Once once(context);
  each_line(context, place, [&](const Node& line) {
    switch (line.kind) {
      case NodeKind::means:
        if (once.first(line, "means")) read_means(context, line, finding);
        break;
      case NodeKind::answered_by:
        read_answers(context, line, finding);
        once.first(line, "answered by");
        break;
      case NodeKind::before:
        if (once.first(line, "before")) read_deadline(context, line, finding);
        break;
      case NodeKind::called: read_called(context, line, finding.called); break;
      default: break;  // what may stand in which block is decided by parse
    }
  });
  if (!once.had("means")) context.report(Code::N114, finding.span, {finding.name, "what it means"});
  if (!once.had("answered by")) context.report(Code::N501, finding.span, {finding.name});
}

void read_fixture(Context& context, const Place& place, Spot& spot) {
  const Node& node = context.node(place);
  if (context.misnamed.count(&node) > 0) return;
  const auto reading = context.read(node, context.frames->fixture);
  if (!reading) return;
  if (const Segment* zone = reading->find("zone")) spot.zone = ZoneId{zone->meaning.index};
  if (const Segment* kind = reading->find("kind")) spot.made_of = KindId{kind->meaning.index};
  spot.meant_for_dirty = reading->has("dirty");
}

void read_free_surface(Context& context, const Place& place, Spot& spot) {
  Once once(context);
  each_line(context, place, [&](const Node& line) {
    switch (line.kind) {
      case NodeKind::made_of:
        if (!once.first(line, "made of")) break;
        if (const auto reading = context.read(line, context.frames->made_of)) {
          spot.made_of = KindId{reading->find("kind")->meaning.index};
        }
        break;
      case NodeKind::begins:
        if (!once.first(line, "begins")) break;
        if (const auto reading = context.read(line, context.frames->begins)) {
          const std::string level = words(line, *reading->find("level"));
          spot.begins = level == "soiled"    ? Level::soiled
                        : level == "suspect" ? Level::suspect
                        : level == "sterile" ? Level::sterile
                                             : Level::clean;
        }
        break;
      case NodeKind::stands_in:
        if (!once.first(line, "stands in")) break;
        if (const auto reading = context.read(line, context.frames->stands_in)) {
          spot.zone = ZoneId{reading->find("zone")->meaning.index};
        }
        break;
      case NodeKind::called: read_called(context, line, spot.called); break;
      case NodeKind::also_called: read_also_called(context, line, spot.also_called); break;
      default: break;  // what may stand in which block is decided by parse
    }
  });
}

}  // namespace stepward::model::reading
