#include "effects/world.hpp"

#include <algorithm>

#include "model/contact_time.hpp"
#include "model/variants.hpp"

namespace stepward::effects {
namespace {

using model::ItemId;
using model::RoleId;
using What = FieldMeaning::What;

bool contains(const std::vector<ItemId>& list, ItemId i) { return std::find(list.begin(), list.end(), i) != list.end(); }

}  // namespace

World::World(const model::Protocol& protocol, const graph::Graph& graph) : protocol_(protocol), graph_(graph) {
  for (std::size_t i = 0; i < protocol.sites.size(); ++i)
    if (protocol.sites[i].is_hands) hand_site_ = model::SiteId(i);
  const auto sterile = [](const auto& list, auto is) { return std::any_of(list.begin(), list.end(), is); };
  knows_sterile_ = sterile(protocol.items, [](const model::Item& i) { return i.begins_sterile; }) ||
                   sterile(protocol.spots, [](const model::Spot& s) { return s.begins == model::Level::sterile; }) ||
                   sterile(protocol.agents, [](const model::Agent& a) { return a.leaves_sterile; });
  collect_wardrobes();
  collect_looks();
  collect_wettings();
  collect_suffered();
  collect_missed();
  dress();
  place();
}

// ---------------------------------------------------------------- fields

FieldId World::field(const FieldMeaning& m, std::uint32_t maximum, std::uint32_t initial) {
  const auto [at, fresh] = index_.try_emplace(m, FieldId(fields_.size()));
  if (fresh) fields_.push_back({m, maximum, initial, false});
  if (fresh && m.what == What::known) known_fields_.push_back(at->second);
  return at->second;
}
FieldId World::find(const FieldMeaning& m) const {
  const auto at = index_.find(m);
  return at == index_.end() ? FieldId() : at->second;
}
std::size_t World::HashOfMeaning::operator()(const FieldMeaning& m) const {
  std::uint64_t hash = std::uint64_t(m.what) << 16 | std::uint64_t(m.bearer.what) << 8 | m.part;
  for (const std::uint32_t part : {m.bearer.person.value, m.bearer.item.value, m.bearer.site.value, m.bearer.spot.value, m.other.value, m.finding.value, m.index, m.binding})
    hash = (hash ^ part) * 0x9E3779B97F4A7C15ull;
  return hash ^ hash >> 32;
}

// What is folded inwards is touched when it is put on, sterile or not.
std::uint32_t World::new_level(ItemId i, std::uint8_t part) const {
  const model::Item& item = protocol_[i];
  return item.begins_sterile && item.surfaces[part].reach != model::Reach::inside ? kSterile : kClean;
}

FieldId World::level(const SurfaceAt& s) {
  std::uint32_t initial = kClean;
  if (s.bearer.what == Bearer::What::spot) initial = static_cast<std::uint32_t>(protocol_[s.bearer.spot].begins);
  if (s.bearer.item) initial = new_level(s.bearer.item, s.part);
  return field({.what = What::level, .bearer = s.bearer, .part = s.part}, kSoiled, initial);
}
FieldId World::worn(RoleId p, ItemId i) { return field({.what = What::worn, .bearer = worn_bearer(p, i)}, 1, 0); }
FieldId World::in_hand(ItemId i) { return field({.what = What::in_hand, .bearer = fresh_bearer(i)}, 1, 0); }
FieldId World::wet(const SurfaceAt& s) {
  const auto values = static_cast<std::uint32_t>(wettings_.size());
  return field({.what = What::wet, .bearer = s.bearer, .part = s.part}, knows_overdue_ ? 2 * values : values, 0);
}
FieldId World::find_wet(const SurfaceAt& s) const { return find({.what = What::wet, .bearer = s.bearer, .part = s.part}); }
Formula World::is_wet(FieldId wet_field) const { return negate(Formula::is(wet_field, 0) | is_overdue(wet_field)); }
Formula World::is_overdue(FieldId wet_field) const {
  Formula out;
  if (!knows_overdue_) return out;
  for (const Wetting& wetting : wettings_) out = out | Formula::is(wet_field, overdue_value(wetting));
  return out;
}
model::Duration World::contact_time(model::AgentId agent, const Bearer& b) const {
  return model::contact_time_where(protocol_[agent], [&](const model::Target& t) { return matches(t, b); });
}
std::uint32_t World::wet_value(const Wetting& wetting) const {
  return static_cast<std::uint32_t>(std::find(wettings_.begin(), wettings_.end(), wetting) - wettings_.begin()) + 1;
}
FieldId World::owed(const Bearer& b, model::FindingId f) { return field({.what = What::owed, .bearer = b, .finding = f}, 1, 0); }
FieldId World::reached(const Bearer& b) { return field({.what = What::reached, .bearer = b}, 1, 0); }
FieldId World::unlooked(const Bearer& b) { return field({.what = What::unlooked, .bearer = b}, 1, 0); }
FieldId World::worst(const Bearer& b) { return field({.what = What::worst, .bearer = b}, kSoiled, kClean); }
FieldId World::zone(RoleId p) {
  return field({.what = What::zone, .bearer = {Bearer::What::site, p, {}, {}, {}}}, std::uint32_t(protocol_.zones.size()), 0);
}
FieldId World::declared(model::MarkId m) { return field({.what = What::declared, .index = m.value}, 1, 0); }
FieldId World::recorded(model::RecordId r) { return field({.what = What::recorded, .index = r.value}, 1, 0); }
FieldId World::answer(model::DecisionId d) {
  return field({.what = What::answer, .index = d.value}, std::uint32_t(protocol_[d].answers.size()), 0);
}
FieldId World::struck(model::InterruptionId i) { return field({.what = What::struck, .index = i.value}, 1, 0); }
FieldId World::running(model::TimerId t) { return field({.what = What::running, .index = t.value}, 1, 0); }
FieldId World::loop(std::uint32_t c) { return field({.what = What::loop, .index = c}, graph_.loop_bounds[c], 0); }
FieldId World::told(const Bearer& b) { return field({.what = What::told, .bearer = b}, 1, 0); }
void World::may_miss(const Bearer& b, model::FindingMeans means) {
  field({.what = What::missed, .bearer = b, .index = static_cast<std::uint32_t>(means)}, 1, 0);
}
FieldId World::find_missed(const Bearer& b, model::FindingMeans means) const {
  return find({.what = What::missed, .bearer = b, .index = static_cast<std::uint32_t>(means)});
}
bool World::may_be_torn(const Bearer& b) const {
  return find_missed(b, model::FindingMeans::barrier_broken) || !known_of(b, model::FindingMeans::barrier_broken).empty();
}
FieldId World::monitor(std::uint32_t rule, std::uint32_t binding, std::uint32_t maximum, std::uint32_t initial) {
  return field({.what = What::monitor, .index = rule, .binding = binding}, maximum, initial);
}
FieldId World::scratch() {
  if (scratch_used_ == scratch_.size()) {
    scratch_.push_back(FieldId(fields_.size()));
    fields_.push_back({{.what = What::scratch}, kSoiled, 0, true});
  }
  return scratch_[scratch_used_++];
}

FieldId World::known(const Bearer& b, std::uint8_t part, model::FindingId f) {
  return field({.what = What::known, .bearer = b, .part = part, .finding = f}, 3, never_looked);
}
FieldId World::find_known(const Bearer& b, std::uint8_t part, model::FindingId f) const {
  return find({.what = What::known, .bearer = b, .part = part, .finding = f});
}
std::vector<FieldId> World::known_of(const Bearer& b, model::FindingMeans means) const {
  std::vector<FieldId> out;
  for (const FieldId f : known_fields_) {
    const FieldMeaning& m = fields_[f.value].meaning;
    if (m.bearer == b && protocol_[m.finding].means == means) out.push_back(f);
  }
  return out;
}
std::vector<FieldId> World::fields_about(const Bearer& b) const {
  std::vector<FieldId> out;
  for (std::size_t i = 0; i < fields_.size(); ++i)
    if (fields_[i].meaning.bearer == b && !fields_[i].scratch) out.push_back(FieldId(i));
  return out;
}
std::vector<FieldId> World::all(FieldMeaning::What what) const {
  std::vector<FieldId> out;
  for (std::size_t i = 0; i < fields_.size(); ++i) if (fields_[i].meaning.what == what) out.push_back(FieldId(i));
  return out;
}

// ---------------------------------------------------------------- who may wear what

const std::vector<ItemId>& World::wardrobe(RoleId p) const {
  static const std::vector<ItemId> nothing;
  const auto at = wardrobes_.find(p.value);
  return at == wardrobes_.end() ? nothing : at->second;
}
bool World::may_wear(RoleId p, ItemId i) const { return contains(wardrobe(p), i); }

void World::collect_wardrobes() {
  for (const model::PersonStart& person : protocol_.people) {
    if (!wardrobes_.count(person.role.value)) people_.push_back(person.role);
    auto& list = wardrobes_[person.role.value];
    for (const model::Wearing& w : person.wearing) {
      if (!model::holds(w.only_for, graph_.variant)) continue;
      if (const auto item = item_of(w.thing); item && !contains(list, *item)) {
        list.push_back(*item);
        start_lists_[person.role.value].push_back(*item);
      }
    }
  }
  for (const graph::Node& node : graph_.nodes)
    if (node.kind == graph::NodeKind::line) collect_line(protocol_[node.line]);
}

void World::collect_line(const model::Line& line) {
  if (line.verb != model::VerbKind::don || !wardrobes_.count(line.of.value)) return;
  for (const model::Thing& thing : line.things)
    if (const auto item = item_of(thing); item && !may_wear(line.of, *item)) wardrobes_[line.of.value].push_back(*item);
}

// A `known` field exists for what some line looks at; questions about anything else are mistakes by themselves.
void World::collect_looks() {
  for (const graph::Node& node : graph_.nodes) {
    if (node.kind != graph::NodeKind::line || protocol_[node.line].verb != model::VerbKind::inspect) continue;
    const model::Line& line = protocol_[node.line];
    for (const model::Thing& thing : line.things)
      for (const Candidate& c : candidates(thing, line.who, false))
        for (model::FindingId f : line.findings) {
          known(c.bearer, c.part, f);
          if (!protocol_[f].answered_by.empty()) owed(c.bearer, f);
        }
  }
}

// Fields that later lines must find although an earlier one sets them are made before any line is lowered.
void World::collect_wettings() {
  knows_overdue_ = std::any_of(graph_.nodes.begin(), graph_.nodes.end(), [](const graph::Node& n) { return n.manner == graph::Manner::cut_short; });
  std::vector<model::LineId> wetting_lines;
  for (const graph::Node& node : graph_.nodes) {
    if (node.kind != graph::NodeKind::line || !leaves_wet(node)) continue;
    wetting_lines.push_back(node.line);
    const Wetting wetting{protocol_[node.line].who, protocol_[node.line].agent};
    if (wet_value(wetting) > wettings_.size()) wettings_.push_back(wetting);
  }
  for (const model::LineId line : wetting_lines)
    for (const model::Thing& thing : protocol_[line].things)
      for (const Candidate& c : candidates(thing, protocol_[line].who, true))
        for (std::uint8_t part = 0; part < parts_of(c.bearer); ++part)
          if ((protocol_[line].without_waiting || may_be_overdue(c.bearer)) && (c.part == 0xFF ? !is_inside({c.bearer, part}) : c.part == part)) wet({c.bearer, part});
}

/// A line that does not wait for its contact time, as it is written or because of a slip.
bool World::leaves_wet(const graph::Node& node) const {
  const model::Line& line = protocol_[node.line];
  return line.without_waiting || (line.verb == model::VerbKind::disinfect && node.manner == graph::Manner::cut_short);
}

bool World::may_be_overdue(const Bearer& b) const {
  return b.what == Bearer::What::site ? !protocol_[b.site].is_hands : !b.item || !is_hand_item(b.item);
}

// Soil and tears that nobody saw can be where a slip of the graph leaves them.
void World::collect_missed() {
  for (const graph::Node& node : graph_.nodes) {
    if (node.manner == graph::Manner::tearing)
      for (ItemId glove : hand_items(protocol_[node.line].who)) may_miss(worn_bearer(protocol_[node.line].who, glove), model::FindingMeans::barrier_broken);
    if (node.manner != graph::Manner::overlooking) continue;
    const model::Line& line = protocol_[node.line];
    const model::Thing& thing = line.things[node.look / line.findings.size()];
    const model::FindingMeans means = protocol_[line.findings[node.look % line.findings.size()]].means;
    for (const Candidate& c : candidates(thing, line.who, true)) {
      const Bearer memory = remembered_on(thing, c.bearer);
      if (means == model::FindingMeans::surface_soiled || memory.what == Bearer::What::worn) may_miss(memory, means);
    }
  }
}
void World::collect_suffered() {
  for (RoleId p : people_)
    for (std::size_t site = 0; site < protocol_.sites.size(); ++site) reached(site_bearer(p, model::SiteId(site)));
  const auto exposes = [](const model::Zone& z) { return z.exposes != model::Exposes::nothing; };
  if (std::none_of(protocol_.zones.begin(), protocol_.zones.end(), exposes)) return;
  for (RoleId p : people_) for (ItemId i : wardrobe(p)) unlooked(worn_bearer(p, i));
}

void World::dress() {
  for (RoleId p : people_) {
    const auto& list = start_lists_[p.value];
    for (ItemId i : list) set_initial(worn(p, i), 1);
    for (std::size_t a = 0; a < list.size(); ++a)
      for (std::size_t b = a + 1; b < list.size(); ++b) {
        const auto pair = order(p, list[a], list[b]);
        if (!pair) continue;
        // With one clause the clause decides who begins above, else the list does: the later is further out.
        const bool one_way = has_clause(list[a], list[b]) != has_clause(list[b], list[a]);
        const ItemId upper = one_way && has_clause(list[a], list[b]) ? list[a] : list[b];
        set_initial(*pair, upper.value > (upper == list[a] ? list[b] : list[a]).value ? 1 : 0);
      }
  }
}

void World::place() {
  for (const model::PersonStart& person : protocol_.people)
    if (person.zone) set_initial(zone(person.role), person.zone.value);
}

// ---------------------------------------------------------------- surfaces and cover

bool World::is_inside(const SurfaceAt& s) const { return reach(s) == model::Reach::inside; }
model::Reach World::reach(const SurfaceAt& s) const {
  return s.bearer.item ? protocol_[s.bearer.item].surfaces[s.part].reach : model::Reach::exposed;
}

bool World::has_clause(ItemId upper, ItemId lower) const {
  const auto& clauses = protocol_[upper].goes_over;
  return std::any_of(clauses.begin(), clauses.end(), [&](const model::Cover& c) { return c.item == lower; });
}

bool World::covers(ItemId upper, ItemId lower, std::uint8_t part, bool only_tightly) const {
  for (const model::Cover& c : protocol_[upper].goes_over) {
    if (c.item != lower || (only_tightly && c.loosely)) continue;
    if (c.part ? *c.part == part : protocol_[lower].surfaces[part].reach != model::Reach::inside) return true;
  }
  return false;
}

// A pair with a clause in one direction only cannot be stacked the other way, unless that clause is loose.
bool World::can_lie_above(ItemId upper, ItemId lower) const {
  if (has_clause(upper, lower) || !has_clause(lower, upper)) return true;
  const auto& clauses = protocol_[lower].goes_over;
  return std::none_of(clauses.begin(), clauses.end(), [&](const model::Cover& c) { return c.item == upper && !c.loosely; });
}

Formula World::is_worn(RoleId p, ItemId i) { return may_wear(p, i) ? Formula::is(worn(p, i), 1) : Formula::never(); }

std::optional<FieldId> World::order(RoleId p, ItemId a, ItemId b) {
  if (!has_clause(a, b) && !has_clause(b, a)) return std::nullopt;
  if (!can_lie_above(a, b) || !can_lie_above(b, a)) return std::nullopt;
  const ItemId low = std::min(a, b), high = std::max(a, b);
  return field({.what = What::order, .bearer = worn_bearer(p, low), .other = high}, 1, 0);
}

Formula World::above(RoleId p, ItemId upper, ItemId lower) {
  if (const auto pair = order(p, upper, lower)) return Formula::is(*pair, upper.value > lower.value ? 1 : 0);
  return has_clause(upper, lower) && !(has_clause(lower, upper) && !can_lie_above(upper, lower)) ? Formula::always() : Formula::never();
}

Formula World::shows(const SurfaceAt& s, const std::vector<ItemId>& ignoring) {
  switch (s.bearer.what) {
    case Bearer::What::spot: return Formula::always();
    case Bearer::What::fresh: return is_inside(s) ? Formula::never() : Formula::is(in_hand(s.bearer.item), 1);
    case Bearer::What::site: {
      Formula out = Formula::always();
      for (ItemId i : wardrobe(s.bearer.person)) {
        const auto& on = protocol_[i].worn_on;
        if (!contains(ignoring, i) && std::find(on.begin(), on.end(), s.bearer.site) != on.end()) out = out & Formula::is(worn(s.bearer.person, i), 0);
      }
      return out;
    }
    case Bearer::What::worn: break;
  }
  if (is_inside(s)) return Formula::never();
  const RoleId p = s.bearer.person;
  Formula out = is_worn(p, s.bearer.item);
  for (ItemId upper : wardrobe(p))
    if (upper != s.bearer.item && !contains(ignoring, upper) && covers(upper, s.bearer.item, s.part, false))
      out = out & negate(is_worn(p, upper) & above(p, upper, s.bearer.item));
  return out;
}

Formula World::locked_by(RoleId p, ItemId upper, ItemId lower) {
  for (std::uint8_t part = 0; part < protocol_[lower].surfaces.size(); ++part)
    if (covers(upper, lower, part, true)) return is_worn(p, upper) & above(p, upper, lower);
  return Formula::never();
}

std::vector<Reachable> World::showing_surfaces(const Bearer& b, const std::vector<ItemId>& ignoring) {
  std::vector<Reachable> out;
  for (std::uint8_t part = 0; part < parts_of(b); ++part)
    if (Formula f = shows({b, part}, ignoring); !f.is_never()) out.push_back({{b, part}, std::move(f)});
  return out;
}

Formula World::anything_shows(const Bearer& b) {
  Formula out;
  for (const Reachable& r : showing_surfaces(b)) out = out | r.when;
  return out;
}

std::vector<Reachable> World::beneath(RoleId p, ItemId i) {
  std::vector<Reachable> out;
  for (ItemId lower : wardrobe(p)) {
    if (lower == i) continue;
    for (std::uint8_t part = 0; part < protocol_[lower].surfaces.size(); ++part)
      if (covers(i, lower, part, true)) out.push_back({{worn_bearer(p, lower), part}, is_worn(p, lower) & above(p, i, lower)});
  }
  for (model::SiteId site : protocol_[i].worn_on) {
    Formula alone = Formula::always();
    for (ItemId other : wardrobe(p)) {
      const auto& on = protocol_[other].worn_on;
      if (other != i && std::find(on.begin(), on.end(), site) != on.end()) alone = alone & Formula::is(worn(p, other), 0);
    }
    out.push_back({{site_bearer(p, site), 0}, alone});
  }
  return out;
}

// ---------------------------------------------------------------- hands

bool World::is_hand_item(ItemId i) const {
  const auto& on = protocol_[i].worn_on;
  return hand_site_ && std::find(on.begin(), on.end(), hand_site_) != on.end();
}
bool World::worn_on_mucous(ItemId i) const {
  const auto& on = protocol_[i].worn_on;
  return std::any_of(on.begin(), on.end(), [&](model::SiteId s) { return protocol_[s].nature == model::SiteNature::mucous; });
}

std::vector<ItemId> World::hand_items(RoleId p) const {
  std::vector<ItemId> layers;
  for (ItemId i : wardrobe(p)) if (is_hand_item(i)) layers.push_back(i);
  std::sort(layers.begin(), layers.end(), [&](ItemId a, ItemId b) {
    if (has_clause(a, b) != has_clause(b, a)) return has_clause(a, b);
    return a.value > b.value;
  });
  return layers;
}

std::vector<HandLayer> World::hands(RoleId p, const std::vector<ItemId>& without) {
  std::vector<HandLayer> out;
  if (!hand_site_) return out;
  Formula bare = Formula::always();
  for (ItemId i : hand_items(p)) {
    if (contains(without, i)) continue;
    out.push_back({worn_bearer(p, i), bare & is_worn(p, i)});
    bare = bare & Formula::is(worn(p, i), 0);
  }
  out.push_back({site_bearer(p, hand_site_), bare});
  return out;
}

// ---------------------------------------------------------------- phrases

std::optional<ItemId> World::item_of(const model::Thing& thing) const {
  const ItemId item = model::item_of(protocol_, thing, graph_.variant);
  return item ? std::optional(item) : std::nullopt;
}

bool World::is_of(ItemId item, const model::ItemOrKind& what) const {
  if (what.item) return what.item == item;
  const auto& kinds = protocol_[item].kinds;
  return std::find(kinds.begin(), kinds.end(), what.kind) != kinds.end();
}

bool World::matches(const model::Target& t, const Bearer& b) const {
  if (t.anything) return true;
  if (t.site) return b.what == Bearer::What::site && b.site == t.site;
  if (t.spot) return b.what == Bearer::What::spot && b.spot == t.spot;
  if (b.item) return is_of(b.item, {t.item, t.kind});
  return b.what == Bearer::What::spot && t.kind && protocol_[b.spot].made_of == t.kind;
}

std::optional<std::uint8_t> World::part_named(ItemId item, const std::string& name) const {
  const auto& surfaces = protocol_[item].surfaces;
  for (std::uint8_t i = 0; i < surfaces.size(); ++i) if (surfaces[i].name == name) return i;
  return std::nullopt;
}

std::vector<Candidate> World::candidates(const model::Thing& thing, RoleId doer, bool fresh_too) {
  using T = model::Thing::What;
  const RoleId owner = thing.of ? thing.of : thing.what == T::hands ? doer : protocol_.acts;
  std::vector<Candidate> out;
  switch (thing.what) {
    case T::hands:
      for (HandLayer& layer : hands(owner)) out.push_back({layer.bearer, 0xFF, std::move(layer.when)});
      break;
    case T::site: out.push_back({site_bearer(owner, thing.site), 0xFF, Formula::always()}); break;
    case T::spot: out.push_back({spot_bearer(thing.spot), 0xFF, Formula::always()}); break;
    case T::item:
    case T::choice: {
      const auto item = item_of(thing);
      if (!item) break;
      const auto part = thing.part.empty() ? std::optional<std::uint8_t>(0xFF) : part_named(*item, thing.part);
      if (!part) break;
      const Formula on = is_worn(owner, *item);
      out.push_back({worn_bearer(owner, *item), *part, fresh_too ? on : Formula::always()});
      if (fresh_too) out.push_back({fresh_bearer(*item), *part, negate(on) & Formula::is(in_hand(*item), 1)});
      break;
    }
    case T::kind:
      for (ItemId i : wardrobe(owner))
        if (is_of(i, {{}, thing.kind})) out.push_back({worn_bearer(owner, i), 0xFF, is_worn(owner, i)});
      break;
    case T::supply:
    case T::role: break;
  }
  return out;
}

}  // namespace stepward::effects
