#pragma once
// The passes over a context, in the order in which `build` runs them. Each fills what its name says and reports what
// is wrong there; none needs the reports of another.

#include "model/from_syntax/context.hpp"

namespace stepward::model::reading {

/// So many values of one thing a walk can tell apart: zones, passes of a repeat, answers and "not yet answered".
inline constexpr std::uint32_t most_told_apart = 32;

// names
void declare_names(Context& context);
void introduce_names(Context& context);

// declarations
void read_documents(Context& context, const std::string& today);
void read_zone(Context& context, const Place& place, Zone& zone);
void read_role(Context& context, const Place& place, Role& role);
void read_site(Context& context, const Place& place, SiteId site);
void read_kind(Context& context, const Place& place, Kind& kind);
void read_finding(Context& context, const Place& place, Finding& finding);
void read_fixture(Context& context, const Place& place, Spot& spot);
void read_supply(Context& context, const Place& place, Supply& supply);
void read_free_surface(Context& context, const Place& place, Spot& spot);
void read_surfaces_of_item(Context& context, const Place& place, ItemId item);
void read_item(Context& context, const Place& place, ItemId item);
void read_agent(Context& context, const Place& place, Agent& agent);
/// Every `stock for …`, once all agents are read.
void read_stocks(Context& context);
/// Every `disinfect with …`, likewise. The protocol's own goes before one of a library.
void read_usual_agent(Context& context);
/// That the protocol's own `disinfect with …` is what some line needed, once all steps are read.
void check_usual_agent(Context& context);
void read_technique(Context& context, const Place& place, TechniqueId technique);
void read_verb(Context& context, const Place& place);
void read_declarations(Context& context);
/// Variants, people, endings, stock, rhythm. Leaves the list of variants in the context.
void read_frame(Context& context);
/// The register of copies; which papers there are, the driver knows.
void read_copies(Context& context);

// what people do, and the rules
/// The heads of local changes; their lines are read with the routine.
void read_changes(Context& context);
void read_steps(Context& context);
/// What is wrong with a change once all steps are read: its step is gone, its routine is never called.
void check_changes(Context& context);
void read_rules(Context& context);
void read_set_asides(Context& context);
/// Every `answer to …`, once all steps are read.
void read_answers(Context& context);
void check_whole(Context& context);
void check_texts(Context& context);

// ---- pieces that several passes use

/// The kinds and items of all `x` segments, in order.
std::vector<ItemOrKind> items_or_kinds(const Reading& reading);
/// The targets among the segments from `first` on, up to one labelled other than a target's pieces.
std::vector<Target> targets(const Reading& reading);
Target target_of(const Segment& segment);
/// What stands under this protocol's own heads of this kind, in order: `set aside`, `local change`, `answer to`.
std::vector<Place> own_places(const Context& context, NodeKind kind);
/// Whether `day` (ISO 8601, may be empty) lies before the day of the check.
bool is_past(const Context& context, const std::string& day);
/// The first of these ids in one line, for a message.
std::string listed_steps(const std::set<std::string>& steps);
/// Reads a `source` line.
std::optional<Source> read_source(Context& context, const Node& node);
/// Adds a `words`, `spoken`, `watch`, `if not` or `warning` line to a wording. False if the node is none of these.
bool read_wording(Context& context, const Node& node, Wording& wording);
/// Reports placeholders in quoted text that nothing fills.
void check_placeholders(Context& context, const syntax::Token& text);
/// Seconds of a reading with `amount` and `unit`; reports figures that are no time.
Duration duration_of(Context& context, const Node& node, const Reading& reading, const std::string& prefix = "");
/// The things among the segments, in order: `part`, `core`, `of`.
std::vector<Thing> things_of(Context& context, const Node& node, const std::vector<Segment>& segments,
                             const std::vector<std::pair<std::uint32_t, Thing>>& bindings = {});
/// The values of an `only for`, checked to be met by some variant together with `within`.
VariantCondition condition_of(Context& context, const Node& node, const Reading& reading,
                              const VariantCondition& within = {});
/// Reports a choice that has no value, or one that is no item, in some variant that meets `within`.
void check_choice_is_open(Context& context, const Thing& thing, const VariantCondition& within);
/// The position of an answer among those of a decision; reports one that the decision does not have.
std::uint8_t answer_of(Context& context, const Node& node, DecisionId decision, const Segment& answer);
/// Reports a person whom `people` does not name.
void check_takes_part(Context& context, RoleId who, source::Span at);
/// Reports a unit that the thing is not counted by.
void check_unit(Context& context, const Node& line, const Reading& reading, const Thing& thing);
/// Remembers which details a block has had, to report what is said twice.
class Once {
 public:
  explicit Once(Context& context) : context_(context) {}
  /// True the first time; later ones are reported.
  bool first(const Node& node, const std::string& what);
  bool had(const std::string& what) const { return seen_.count(what) > 0; }

 private:
  Context& context_;
  std::unordered_map<std::string, source::Span> seen_;
};
/// Reads `reason`, `agreed by` and the day in the lines under `place`; reports what is missing, as said of `what`.
Agreement read_agreement(Context& context, const Place& place, const std::string& what);
/// True for a day of the calendar, written 2031-03-15.
bool is_day(const std::string& text);
/// Reads `called "…"`.
void read_called(Context& context, const Node& node, std::string& called);
/// Reads `also called "…", "…"`.
void read_also_called(Context& context, const Node& node, std::vector<std::string>& also_called);

}  // namespace stepward::model::reading
