// Why a mistake does no harm: both protocols are walked, and at each line the situations are held against each other.
//
// A situation is everything the walk knows at a line: levels, what is worn, where people are, what is known and owed,
// what each rule remembers. What comes behind a line depends on nothing else. So if from some line on every situation of
// the mutant is one of the original too, the mutant can do nothing there that the original could not, and the original
// is clean. Between the edit and that line the situations differ; what differs is named, and that stretch was checked.
// Where an answer was to be lost (a question too early), the original's must be the mutant's too.
// If the situations never come together again, nothing is proved and the mistake counts as missed.

#include <algorithm>
#include <map>
#include <unordered_set>

#include "effects/from_graph.hpp"
#include "explore/walk.hpp"
#include "graph/from_model.hpp"
#include "judge.hpp"
#include "model/from_syntax.hpp"
#include "model/variants.hpp"
#include "rules/weave.hpp"
#include "wording/story.hpp"

namespace stepward::mutations {
namespace {

using effects::FieldMeaning;

/// A line in one place of the course: routines are met once a call. The end of a contact time is a place of its own.
struct Stand {
  Origin at;
  std::uint32_t occurrence = 0;
  bool contact_end = false;
  friend auto operator<=>(const Stand&, const Stand&) = default;
};

using Value = std::pair<std::size_t, std::uint32_t>;  ///< field by position in the dictionary, value
struct Situations {
  std::unordered_set<std::uint64_t> all;
  std::map<std::size_t, std::set<std::uint32_t>> values;  ///< per field
};
struct WalkedProtocol {
  std::map<Stand, Situations> at;
  std::vector<Stand> order;     ///< from the first line to the last: the graph is laid out from its end
  bool complete = false;
};

/// What fields mean, as positions that both walks share.
class Dictionary {
 public:
  std::size_t position(const FieldMeaning& m) {
    const auto found = std::find(meanings_.begin(), meanings_.end(), m);
    if (found != meanings_.end()) return static_cast<std::size_t>(found - meanings_.begin());
    meanings_.push_back(m);
    return meanings_.size() - 1;
  }
  const FieldMeaning& operator[](std::size_t i) const { return meanings_[i]; }

 private:
  std::vector<FieldMeaning> meanings_;
};

bool counts(FieldMeaning::What what) {
  using W = FieldMeaning::What;
  // What lives within one step says nothing of the lines behind; notes on findings neither.
  return what != W::scratch && what != W::told;
}

std::uint64_t hash_of(const std::vector<Value>& situation) {
  std::uint64_t h = 1469598103934665603ull;
  for (const Value& v : situation) {
    if (v.second == 0) continue;  // a field that one of the two has no use for is at its lowest
    h = (h ^ (v.first * 1315423911ull + v.second)) * 1099511628211ull;
    h ^= h >> 29;
  }
  return h;
}

/// Stands of the graph's nodes, matched by where their lines came from.
std::vector<Stand> stands(const model::Protocol& p, const graph::Graph& g, const std::function<Origin(source::Span)>& origin) {
  std::vector<Stand> out;
  std::map<std::pair<Origin, bool>, std::uint32_t> seen;
  for (const graph::Node& node : g.nodes) {
    const bool line = graph::is_standing(node) && node.line;
    const Origin at = line ? origin(p[node.line].span) : Origin{};
    const bool contact = node.kind == graph::NodeKind::contact_end;
    out.push_back({at, line ? seen[{at, contact}]++ : 0, contact});
  }
  return out;
}

struct Choice { const model::Variant& variant; bool interruptions, reduce; };

WalkedProtocol walk(const model::Protocol& p, const Choice& choice, const std::function<Origin(source::Span)>& origin, Dictionary& dictionary) {
  const graph::Graph g = graph::from_model(p, choice.variant, graph::Contexts::apart);
  effects::Lowered lowered = rules::woven(p, g, effects::HoldBack::no);
  const effects::System system = effects::finish(std::move(lowered), choice.reduce);
  const explore::Packed packed = explore::pack(system, true);
  explore::Options options;
  options.interruptions = choice.interruptions;
  options.limit = 6'000'000;
  const explore::Result result = explore::walk(packed, options);
  WalkedProtocol out;
  out.complete = result.complete;
  const std::vector<Stand> stand = stands(p, g, origin);
  std::vector<Value> fields;  // dictionary position, field
  for (std::uint32_t f = 0; f < system.fields.size(); ++f)
    if (counts(system.fields[f].meaning.what)) fields.push_back({dictionary.position(system.fields[f].meaning), f});
  std::sort(fields.begin(), fields.end());
  for (auto s = stand.rbegin(); s != stand.rend(); ++s)
    if (s->at.line) out.order.push_back(*s);
  // A field that no operation names takes no room in a state: it is what it was at the start. Forgotten ones count as lowest.
  const auto value = [&](std::uint32_t s, std::uint32_t field) {
    const explore::Slot slot = packed.fields[field];
    return slot.mask || choice.reduce ? explore::get(result.state(s), slot) : system.fields[field].initial;
  };
  for (std::uint32_t s = 0; s < result.size(); ++s) {
    const std::uint32_t node = explore::get(result.state(s), packed.node);
    if (!stand[node].at.line) continue;
    std::vector<Value> situation;
    for (const Value& f : fields) situation.push_back({f.first, value(s, f.second)});
    Situations& here = out.at[stand[node]];
    if (!here.all.insert(hash_of(situation)).second) continue;
    for (const Value& v : situation) here.values[v.first].insert(v.second);
  }
  return out;
}

std::string field_words(const model::Protocol& p, const FieldMeaning& m) {
  using W = FieldMeaning::What;
  const std::string part = m.bearer.item && m.part != 0xFF ? p[m.bearer.item].surfaces[m.part].name + " of " : "";
  switch (m.what) {
    case W::level: return part + wording::bearer_name(p, m.bearer);
    case W::monitor: return "what rule " + p.rules[m.index].number + " remembers";
    case W::known: return "what is known of " + part + wording::bearer_name(p, m.bearer);
    case W::owed: return p[m.finding].name + " owed on " + wording::bearer_name(p, m.bearer);
    case W::worst: return "the worst of " + wording::bearer_name(p, m.bearer);
    case W::unlooked: return "whether " + wording::bearer_name(p, m.bearer) + " was looked at";
    case W::worn: return "whether " + wording::bearer_name(p, m.bearer) + " is worn";
    case W::recorded: return "the record of " + p.records[m.index].name;
    case W::declared: return "whether " + p.marks[m.index].name + " is declared";
    case W::answer: return "the answer to " + p.decisions[m.index].name;
    default: return "the course";
  }
}

bool within(const Situations& mutant, const Situations& original) {
  return std::all_of(mutant.all.begin(), mutant.all.end(), [&](std::uint64_t h) { return original.all.count(h) != 0; });
}

/// The fields that take a value in the mutant which they never take in the original, at one stand.
void add_differing(const Situations& mutant, const Situations& original, std::set<std::size_t>& out) {
  for (const auto& [field, values] : mutant.values) {
    const auto known = original.values.find(field);
    const std::set<std::uint32_t> none{0};
    const std::set<std::uint32_t>& before = known == original.values.end() ? none : known->second;
    if (!std::includes(before.begin(), before.end(), values.begin(), values.end())) out.insert(field);
  }
}

std::string list(const model::Protocol& p, const Dictionary& dictionary, const std::set<std::size_t>& fields) {
  std::set<std::string> names;
  for (const std::size_t f : fields) names.insert(field_words(p, dictionary[f]));
  std::string out;
  for (const std::string& n : names) out += (out.empty() ? "" : ", ") + n;
  return out.empty() ? "which of several situations go together" : out;
}

struct Difference {
  std::vector<Stand> stands;       ///< in order, where the mutant has a situation that the original has not
  std::set<std::size_t> fields, last_fields;
};

Difference difference(const WalkedProtocol& mutant, const WalkedProtocol& original, bool may_lose_runs) {
  Difference out;
  for (const Stand& s : mutant.order) {
    const auto here = mutant.at.find(s);
    if (here == mutant.at.end()) continue;
    const auto there = original.at.find(s);
    const Situations& known = there == original.at.end() ? Situations() : there->second;
    if (within(here->second, known) && (may_lose_runs || within(known, here->second))) continue;
    out.stands.push_back(s);
    out.last_fields.clear();
    add_differing(here->second, known, out.last_fields);
    out.fields.insert(out.last_fields.begin(), out.last_fields.end());
  }
  return out;
}

/// The stand right behind the last differing one, if any run goes on there.
bool goes_to_the_end(const Difference& d, const WalkedProtocol& mutant) {
  return !d.stands.empty() && !mutant.order.empty() && d.stands.back() == mutant.order.back();
}

/// The person whose surfaces alone differ at the end, if no other line of that person touches anything.
std::string person_who_touches_nothing(const Base& base, const Mutant& m, const Dictionary& dictionary, const std::set<std::size_t>& fields) {
  const model::Protocol& p = *base.protocol;
  model::RoleId who;
  for (const std::size_t f : fields) {
    if (dictionary[f].what != FieldMeaning::What::level || (who && dictionary[f].bearer.person != who)) return {};
    who = dictionary[f].bearer.person;
  }
  if (!who) return {};
  for (const Course& course : base.courses(base.variants[m.variant]))
    for (const Step& s : course)
      if (s.line && s.at != m.place && p[s.line].who == who && model::uses_hands(p[s.line])) return {};
  return p[who].name;
}

}  // namespace

Reason explain(const Base& base, const Mutant& m, const JudgeOptions& options) {
  source::Files files;
  diagnostics::Sink sink;
  const auto loaded = resolve::load(m.copies.path(0), m.copies.as_files(), files, sink);
  const auto protocol = model::build(loaded, files, sink);
  if (!protocol) return {false, "it is refused before anything is walked"};
  const auto original_at = [&](source::Span s) { return base.origin(s); };
  const auto mutant_at = [&](source::Span s) { return m.copies.origin(files.path(s.file), files.position(s.file, s.begin).line); };
  Reason last;
  for (const bool reduce : {false, true}) {
    if (options.interruptions && !reduce) continue;  // millions of situations, and the forgetful walk proves as much
    if (reduce && !m.may_lose_runs) continue;    // it forgets an answer that is asked too early
    const Choice choice{base.variants[m.variant], options.interruptions, reduce};
    Dictionary dictionary;
    const WalkedProtocol original = walk(*base.protocol, choice, original_at, dictionary);
    const WalkedProtocol mutant = walk(*protocol, choice, mutant_at, dictionary);
    if (!original.complete || !mutant.complete) { last = {false, "its walk is too long to be compared"}; continue; }
    const Difference d = difference(mutant, original, m.may_lose_runs);
    if (d.stands.empty()) {
      return {true, reduce ? (last.words.empty() ? "what differs" : last.words) + " is asked by no later line" : "every surface and memory behind it is as in the original: no situation differs"};
    }
    const std::string where = list(*base.protocol, dictionary, d.fields) + " differ from " + base.place_words(d.stands.front().at) + " to " +
                              base.place_words(d.stands.back().at);
    const std::string end = list(*base.protocol, dictionary, d.last_fields) + " at " + base.place_words(d.stands.back().at);
    if (const std::string idle = person_who_touches_nothing(base, m, dictionary, d.last_fields); !idle.empty())
      return {true, end + " only, and nothing that the " + idle + " does behind it touches anything"};
    if (goes_to_the_end(d, mutant)) { last = {false, "still different at the last line: " + end}; continue; }
    return {true, where + " (" + base.words(d.stands.back().at) + "), and no line behind it meets anything new" +
                      (reduce ? "; what else differs is asked by no later line" : "")};
  }
  return last;
}

}  // namespace stepward::mutations
