#pragma once
// The fields of a world by what they mean, and the questions about touch and cover that lowering asks.
//
// Fields are made on first use, so a protocol without a hood has no field for one. Cover between two items of a person
// is fixed where one clause forbids the other order, else one `order` field a pair says who is above. `shows`, `locked`
// and `hands` are *formulas* over those fields: what is hidden depends on what is worn when the line comes.

#include <map>
#include <optional>
#include <set>
#include <unordered_map>
#include <vector>

#include "effects/formula.hpp"
#include "graph/graph.hpp"

namespace stepward::effects {

/// One surface of one bearer.
struct SurfaceAt { Bearer bearer; std::uint8_t part = 0; friend bool operator==(const SurfaceAt&, const SurfaceAt&) = default; };

/// A surface together with when it counts.
struct Reachable { SurfaceAt surface; Formula when; };

/// One thing that a phrase may stand for, and when.
struct Candidate { Bearer bearer; std::uint8_t part = 0xFF; Formula when; };

/// Who wets what they disinfect, and with what: it is their waiting that ends it, and that agent's work that is done then.
struct Wetting { model::RoleId doer; model::AgentId agent; friend bool operator==(const Wetting&, const Wetting&) = default; };

/// A possible outermost layer of a person's hands: an item, or the bare site.
struct HandLayer { Bearer bearer; Formula when; };

class World {
 public:
  World(const model::Protocol& protocol, const graph::Graph& graph);

  const model::Protocol& protocol() const { return protocol_; }
  const graph::Graph& graph() const { return graph_; }
  const std::vector<Field>& fields() const { return fields_; }
  std::vector<Field> take_fields() { return std::move(fields_); }

  // Bearers
  Bearer worn_bearer(model::RoleId p, model::ItemId i) const { return {Bearer::What::worn, p, i, {}, {}}; }
  Bearer fresh_bearer(model::ItemId i) const { return {Bearer::What::fresh, {}, i, {}, {}}; }
  Bearer site_bearer(model::RoleId p, model::SiteId s) const { return {Bearer::What::site, p, {}, s, {}}; }
  Bearer spot_bearer(model::SpotId s) const { return {Bearer::What::spot, {}, {}, {}, s}; }
  std::size_t parts_of(const Bearer& b) const { return b.item ? protocol_[b.item].surfaces.size() : 1; }
  bool is_inside(const SurfaceAt& s) const;
  model::Reach reach(const SurfaceAt& s) const;

  // Fields
  FieldId level(const SurfaceAt& s);
  FieldId worn(model::RoleId p, model::ItemId i);
  FieldId in_hand(model::ItemId i);
  /// 0 dry, else one more than the position of the wetting in `wettings()`; behind those, the same once more for what is *overdue*: nobody
  /// waited, and it stays wet until somebody touches it or waits as long at something else. Only a slip of the graph brings that about.
  FieldId wet(const SurfaceAt& s);
  /// None where no line leaves it wet.
  FieldId find_wet(const SurfaceAt& s) const;
  Formula is_wet(FieldId wet_field) const;
  Formula is_overdue(FieldId wet_field) const;
  /// Whether anything of this graph can be: some contact time is cut short.
  bool knows_overdue() const { return knows_overdue_; }
  /// Not what is worn on hands, nor hands: they touch the next thing at once.
  bool may_be_overdue(const Bearer& b) const;
  std::uint32_t overdue_value(const Wetting& wetting) const { return wet_value(wetting) + static_cast<std::uint32_t>(wettings_.size()); }
  /// How long the agent has to stay on it.
  model::Duration contact_time(model::AgentId agent, const Bearer& b) const;
  /// The different ones of all lines that are not waited for.
  const std::vector<Wetting>& wettings() const { return wettings_; }
  std::uint32_t wet_value(const Wetting& wetting) const;
  FieldId owed(const Bearer& b, model::FindingId f);
  FieldId reached(const Bearer& site);
  FieldId unlooked(const Bearer& b);
  FieldId worst(const Bearer& b);
  FieldId zone(model::RoleId p);
  FieldId declared(model::MarkId m);
  FieldId recorded(model::RecordId r);
  FieldId answer(model::DecisionId d);
  FieldId struck(model::InterruptionId i);
  FieldId loop(std::uint32_t counter);
  FieldId running(model::TimerId t);
  FieldId told(const Bearer& b);
  /// Whether there is soil or a tear that somebody should have seen and did not. Only where a slip of the graph can bring
  /// that about: none otherwise.
  FieldId find_missed(const Bearer& b, model::FindingMeans means) const;
  /// Whether it matters how dirty a thing has been since it was last found whole.
  bool may_be_torn(const Bearer& b) const;
  FieldId monitor(std::uint32_t rule, std::uint32_t binding, std::uint32_t maximum, std::uint32_t initial);
  /// A field that lives within one edge; `new_edge` makes all of them free again.
  FieldId scratch();
  void new_edge() { scratch_used_ = scratch_kept_; }
  /// What the edges use so far stays theirs: whoever weaves into them needs fields of its own.
  void keep_scratch() { scratch_kept_ = scratch_used_ = scratch_.size(); }
  /// Known only where some line looks there: none otherwise.
  FieldId known(const Bearer& b, std::uint8_t part, model::FindingId f);
  FieldId find_known(const Bearer& b, std::uint8_t part, model::FindingId f) const;
  /// All `known` fields of a bearer, whatever part, for one meaning.
  std::vector<FieldId> known_of(const Bearer& b, model::FindingMeans means) const;
  std::vector<FieldId> fields_about(const Bearer& b) const;  ///< every field whose meaning names this bearer
  std::vector<FieldId> all(FieldMeaning::What what) const;

  // Who may wear what, in this variant
  const std::vector<model::ItemId>& wardrobe(model::RoleId p) const;
  bool takes_part(model::RoleId p) const { return wardrobes_.count(p.value) != 0; }
  const std::vector<model::RoleId>& people() const { return people_; }
  bool may_wear(model::RoleId p, model::ItemId i) const;

  // Cover
  Formula is_worn(model::RoleId p, model::ItemId i);
  Formula above(model::RoleId p, model::ItemId upper, model::ItemId lower);
  /// The order field of a pair whose order is not fixed; none if it is fixed or there is no clause.
  std::optional<FieldId> order(model::RoleId p, model::ItemId a, model::ItemId b);
  bool can_lie_above(model::ItemId upper, model::ItemId lower) const;
  /// `ignoring`: as if these items, on the same person, were not worn.
  Formula shows(const SurfaceAt& s, const std::vector<model::ItemId>& ignoring = {});
  Formula locked_by(model::RoleId p, model::ItemId upper, model::ItemId lower);
  std::vector<Reachable> showing_surfaces(const Bearer& b, const std::vector<model::ItemId>& ignoring = {});
  Formula anything_shows(const Bearer& b);
  bool covers(model::ItemId upper, model::ItemId lower, std::uint8_t part, bool only_tightly) const;
  bool has_clause(model::ItemId upper, model::ItemId lower) const;
  std::vector<Reachable> beneath(model::RoleId p, model::ItemId i);

  // Hands
  std::vector<HandLayer> hands(model::RoleId p, const std::vector<model::ItemId>& without = {});
  /// What this person may wear on the hands, outermost first.
  std::vector<model::ItemId> hand_items(model::RoleId p) const;
  bool is_hand_item(model::ItemId i) const;
  model::SiteId hand_site() const { return hand_site_; }
  bool worn_on_mucous(model::ItemId i) const;

  // Sterile things
  /// Whether anything here is ever sterile; if not, nothing need be asked about it.
  bool knows_sterile() const { return knows_sterile_; }
  /// The level of a new one.
  std::uint32_t new_level(model::ItemId i, std::uint8_t part) const;

  // Phrases
  /// What a phrase of a line stands for, now. `fresh_too`: a fresh copy in hand counts where the item is not worn.
  std::vector<Candidate> candidates(const model::Thing& thing, model::RoleId doer, bool fresh_too);
  /// Where what is known of a candidate is kept: a fresh copy's with the item of the person whose it will be.
  Bearer remembered_on(const model::Thing& thing, const Bearer& b) const {
    return b.what == Bearer::What::fresh ? worn_bearer(thing.of ? thing.of : protocol_.acts, b.item) : b;
  }
  std::optional<model::ItemId> item_of(const model::Thing& thing) const;
  bool is_of(model::ItemId item, const model::ItemOrKind& what) const;
  bool matches(const model::Target& target, const Bearer& bearer) const;
  std::optional<std::uint8_t> part_named(model::ItemId item, const std::string& name) const;

  Formula sterile(FieldId level_field) const { return Formula::is(level_field, kSterile); }
  Formula unclean(FieldId level_field) const { return Formula::test(level_field, (1u << kSuspect) | (1u << kSoiled)); }
  Formula not_unclean(FieldId level_field) const { return Formula::test(level_field, (1u << 0) | (1u << kClean)); }
  Formula negate(const Formula& f) const { return f.negated(fields_); }
  void set_initial(FieldId f, std::uint32_t value) { fields_[f.value].initial = value; }
  std::uint32_t initial(FieldId f) const { return fields_[f.value].initial; }

 private:
  FieldId field(const FieldMeaning& meaning, std::uint32_t maximum, std::uint32_t initial);
  FieldId find(const FieldMeaning& meaning) const;
  void collect_wardrobes();
  void collect_line(const model::Line& line);
  void collect_looks();
  void collect_wettings();
  bool leaves_wet(const graph::Node& node) const;
  void collect_suffered();
  void collect_missed();
  void may_miss(const Bearer& b, model::FindingMeans means);
  void dress();
  void place();

  const model::Protocol& protocol_;
  const graph::Graph& graph_;
  std::vector<Field> fields_;
  struct HashOfMeaning { std::size_t operator()(const FieldMeaning& m) const; };
  std::unordered_map<FieldMeaning, FieldId, HashOfMeaning> index_;
  std::vector<FieldId> known_fields_;  ///< those that hold what is known, in order
  std::map<std::uint32_t, std::vector<model::ItemId>> wardrobes_;
  std::map<std::uint32_t, std::vector<model::ItemId>> start_lists_;
  std::vector<model::RoleId> people_;
  std::vector<Wetting> wettings_;
  std::vector<FieldId> scratch_;
  std::size_t scratch_used_ = 0, scratch_kept_ = 0;
  model::SiteId hand_site_;
  bool knows_sterile_ = false;
  bool knows_overdue_ = false;
};

}  // namespace stepward::effects
