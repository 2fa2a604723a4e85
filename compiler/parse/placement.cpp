#include "parse/placement.hpp"

#include <algorithm>
#include <iterator>
#include <utility>

#include "base/text.hpp"

namespace stepward::parse {
namespace {

using syntax::NodeKind;
using I = Interior;

struct Keyword {
  NodeKind kind;
  std::string_view words;
  std::string_view closes;
};

constexpr Keyword keywords[] = {
    {NodeKind::file, "", ""},
#define STEPWARD_HEAD(id, words, closes) {NodeKind::id, words, closes},
#include "keywords.def"
};

/// The blocks whose lines are no steps.
constexpr std::pair<NodeKind, Interior> own_interiors[] = {
    {NodeKind::document, I::document}, {NodeKind::zone, I::zone},           {NodeKind::role, I::role},
    {NodeKind::finding, I::finding},   {NodeKind::surface, I::surface},     {NodeKind::item, I::item},
    {NodeKind::agent, I::agent},       {NodeKind::verb, I::verb},           {NodeKind::technique, I::technique},
    {NodeKind::variants, I::variants}, {NodeKind::people, I::people},       {NodeKind::endings, I::endings},
    {NodeKind::stock, I::stock},       {NodeKind::rhythm, I::rhythm},       {NodeKind::rule, I::rule},
    {NodeKind::copies, I::copies},
    {NodeKind::set_aside, I::set_aside}, {NodeKind::answered_slip, I::answer}, {NodeKind::text_for, I::text_for},
};

/// The words of a block's name in a message. Most blocks are known by what their `end` names.
constexpr std::string_view interior_names[] = {
    "file",      "document", "zone",   "role",    "finding", "surface", "item", "agent", "verb",
    "technique", "variants", "people", "endings", "have",    "rhythm",  "copies", "rule",
    "set aside", "answer", "text for", "phase, routine, any time",
};

/// The first `count` words of a phrase joined by single spaces; empty when there are fewer.
std::string first_words(const std::vector<syntax::Token>& phrase, std::size_t count) {
  std::string joined;
  for (std::size_t i = 0; i < count; ++i) {
    if (i == phrase.size() || phrase[i].kind != syntax::TokenKind::word) return {};
    if (i > 0) joined += ' ';
    joined += phrase[i].text;
  }
  return joined;
}

std::size_t count_words(std::string_view words) {
  return static_cast<std::size_t>(std::count(words.begin(), words.end(), ' ')) + 1;
}

}  // namespace

std::string_view words_of(NodeKind kind) { return keywords[static_cast<std::size_t>(kind)].words; }

std::string_view closes_of(NodeKind kind) { return keywords[static_cast<std::size_t>(kind)].closes; }

Interior interior_of(NodeKind block) {
  if (!is_block(block)) return I::file;
  const auto* own = std::find_if(std::begin(own_interiors), std::end(own_interiors),
                                 [block](const auto& entry) { return entry.first == block; });
  return own == std::end(own_interiors) ? I::steps : own->second;
}

Interiors interiors_of(NodeKind kind) {
  switch (kind) {
    case NodeKind::file: return 0;
    case NodeKind::plain: return in(I::variants, I::people, I::endings, I::stock, I::rhythm, I::copies, I::steps);

    case NodeKind::document: case NodeKind::use_library: case NodeKind::use_rules: case NodeKind::reading:
    case NodeKind::stock_for: case NodeKind::usual_agent: case NodeKind::pairs_with: case NodeKind::set_aside:
    case NodeKind::local_change: case NodeKind::answered_slip: case NodeKind::use_words:
    case NodeKind::words_in: case NodeKind::name_in_words: case NodeKind::phrase_in_words: case NodeKind::contract: case NodeKind::text_for:
    case NodeKind::zone: case NodeKind::role: case NodeKind::body_site: case NodeKind::finding:
    case NodeKind::fixture: case NodeKind::supply: case NodeKind::surface: case NodeKind::item:
    case NodeKind::agent: case NodeKind::verb: case NodeKind::technique: case NodeKind::variants:
    case NodeKind::people: case NodeKind::endings: case NodeKind::stock: case NodeKind::rhythm: case NodeKind::copies:
    case NodeKind::routine: case NodeKind::phase: case NodeKind::any_time: case NodeKind::rule: return in(I::file);

    case NodeKind::title: case NodeKind::number: case NodeKind::version: case NodeKind::status:
    case NodeKind::written_by: case NodeKind::reviewed_by: case NodeKind::approved_by: case NodeKind::in_force_from:
    case NodeKind::review_due: case NodeKind::replaces: case NodeKind::applies_to:
    case NodeKind::languages: case NodeKind::weak_points: return in(I::document);

    case NodeKind::risk: case NodeKind::exposes: case NodeKind::needs: case NodeKind::leads_to:
    case NodeKind::in_sight_of: return in(I::zone);
    case NodeKind::may_enter: case NodeKind::keeps_hands_off: return in(I::role);
    case NodeKind::means: case NodeKind::answered_by: return in(I::finding);
    case NodeKind::called: return in(I::finding, I::item, I::surface);
    case NodeKind::also_called: return in(I::item, I::surface);
    case NodeKind::made_of: case NodeKind::stands_in: return in(I::surface);
    case NodeKind::begins: return in(I::surface, I::item);

    case NodeKind::kind: return in(I::file, I::item);
    case NodeKind::worn_on: case NodeKind::clothing: case NodeKind::protective: case NodeKind::single_use:
    case NodeKind::reusable: case NodeKind::surfaces: case NodeKind::goes_over: case NodeKind::stays_on:
    case NodeKind::inside_rests: case NodeKind::usually_put_on: case NodeKind::usually_taken_off: return in(I::item);

    case NodeKind::made_from: case NodeKind::mix: case NodeKind::fill: case NodeKind::add: case NodeKind::dissolve:
    case NodeKind::water_only: case NodeKind::ready_to_use:
    case NodeKind::strength: case NodeKind::works_on: case NodeKind::never_on: case NodeKind::contact_time:
    case NodeKind::only_after_cleaning: case NodeKind::leaves_sterile: case NodeKind::keeps: return in(I::agent);

    case NodeKind::takes_off: case NodeKind::puts_on: case NodeKind::tests: case NodeKind::cleans:
    case NodeKind::handles: case NodeKind::brushes: case NodeKind::may_brush: case NodeKind::drops:
    case NodeKind::uses_up: return in(I::technique);
    case NodeKind::words: case NodeKind::spoken: return in(I::verb, I::technique);
    case NodeKind::watch: case NodeKind::if_not: case NodeKind::warning: return in(I::verb, I::technique, I::steps);

    case NodeKind::source:
      return in(I::zone, I::role, I::finding, I::surface, I::item, I::agent, I::technique, I::rule);
    case NodeKind::because: return in(I::technique, I::rule, I::variants, I::steps);
    case NodeKind::never_together: return in(I::variants);

    case NodeKind::severity: case NodeKind::before_each: case NodeKind::right_after_each: case NodeKind::after_each:
    case NodeKind::never: case NodeKind::at_ending: case NodeKind::require: case NodeKind::since:
    case NodeKind::unless: case NodeKind::while_state: case NodeKind::within: case NodeKind::always:
    case NodeKind::at_least: return in(I::rule);
    case NodeKind::before: return in(I::rule, I::finding);
    case NodeKind::reason: case NodeKind::agreed_by: return in(I::set_aside, I::answer, I::steps);
    case NodeKind::ends_on: return in(I::set_aside, I::answer);
    case NodeKind::look_again_by: return in(I::steps);

    case NodeKind::given: case NodeKind::may_finish_as: case NodeKind::only_for: case NodeKind::if_still_not:
    case NodeKind::if_question: case NodeKind::otherwise_if: case NodeKind::otherwise: case NodeKind::repeat:
    case NodeKind::until: case NodeKind::do_routine: case NodeKind::finish_as: case NodeKind::resume:
    case NodeKind::out_of_rhythm: case NodeKind::together: case NodeKind::any_order: case NodeKind::happens: case NodeKind::critical_because:
    case NodeKind::note: case NodeKind::known_as: return in(I::steps);
    case NodeKind::say: return in(I::steps, I::text_for);
    case NodeKind::from_text: return in(I::text_for);
  }
  return 0;
}

NodeKind holder_of(NodeKind kind) {
  if (kind == NodeKind::given || kind == NodeKind::may_finish_as) return NodeKind::routine;
  if (kind == NodeKind::happens) return NodeKind::any_time;
  if (kind == NodeKind::otherwise || kind == NodeKind::otherwise_if) return NodeKind::if_question;
  const bool of_change = kind == NodeKind::reason || kind == NodeKind::agreed_by || kind == NodeKind::look_again_by;
  if (of_change) return NodeKind::local_change;
  if (kind == NodeKind::until || kind == NodeKind::if_still_not) return NodeKind::repeat;
  return NodeKind::file;
}

bool is_detail(NodeKind kind, Interior interior) {
  if (kind == NodeKind::because) return interior == I::steps || interior == I::variants;
  const bool says_more = kind == NodeKind::critical_because || kind == NodeKind::say || kind == NodeKind::watch ||
                         kind == NodeKind::if_not || kind == NodeKind::warning || kind == NodeKind::note ||
                         kind == NodeKind::known_as;
  return says_more && interior == I::steps;
}

bool divides_its_block(NodeKind kind) {
  return kind == NodeKind::otherwise || kind == NodeKind::otherwise_if || kind == NodeKind::until ||
         kind == NodeKind::if_still_not;
}

bool takes_details(NodeKind kind) {
  return kind == NodeKind::plain || kind == NodeKind::do_routine || kind == NodeKind::finish_as ||
         kind == NodeKind::resume || kind == NodeKind::never_together;
}

bool only_in_file(NodeKind kind) { return interiors_of(kind) == in(I::file); }

std::string holders_in_words(NodeKind kind) {
  std::string names;
  if (const NodeKind holder = holder_of(kind); holder != NodeKind::file) {
    names = closes_of(holder);
    if ((interiors_of(kind) & in(I::set_aside)) == 0) return names;
  }
  for (std::size_t i = 0; i < std::size(interior_names); ++i) {
    const bool by_its_holder = !names.empty() && static_cast<Interior>(i) == I::steps;
    if ((interiors_of(kind) & in(static_cast<Interior>(i))) == 0 || by_its_holder) continue;
    if (!names.empty()) names += ", ";
    names += interior_names[i];
  }
  return names;
}

NodeKind nearest_head(Interior interior, const std::vector<syntax::Token>& phrase) {
  NodeKind nearest = NodeKind::plain;
  std::size_t fewest_slips = 3;
  for (const Keyword& keyword : keywords) {
    if (keyword.words.empty() || (interiors_of(keyword.kind) & in(interior)) == 0) continue;
    const std::string typed = first_words(phrase, count_words(keyword.words));
    if (typed.empty()) continue;
    const std::size_t slips = text::edit_distance(typed, keyword.words);
    if (slips < fewest_slips && slips * 4 <= keyword.words.size() + 1) {  // one slip in three letters, two in seven
      nearest = keyword.kind;
      fewest_slips = slips;
    }
  }
  return nearest;
}

}  // namespace stepward::parse
