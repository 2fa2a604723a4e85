// Bedside questions: `if` and `until`.

#include <algorithm>

#include "model/from_syntax/steps.hpp"

namespace stepward::model::reading {
namespace {

class QuestionReader {
 public:
  QuestionReader(Context& context, const Node& node, const Scope& scope)
      : context_(context), protocol_(context.protocol), node_(node), scope_(scope) {}

  Condition run() {
    Condition condition;
    condition.span = node_.phrase.empty() ? node_.span : span_of(node_, 0, node_.phrase.size());
    resolve::Cut cut;
    if (!context_.try_read(node_, context_.frames->condition, cut, 0, scope_.parameters)) {
      explain(cut);
      return condition;
    }
    const Reading& reading = cut.readings.front();
    std::vector<Segment> atom;
    for (const Segment& segment : reading.segments) {
      if (segment.label != "join") {
        atom.push_back(segment);
        continue;
      }
      condition.all = words(node_, segment) == "and";
      condition.atoms.push_back(read_atom(std::move(atom)));
      atom.clear();
    }
    condition.atoms.push_back(read_atom(std::move(atom)));
    return condition;
  }

 private:
  void explain(const resolve::Cut& cut) {
    const DecisionId decision = last_decision(cut.stop.position);
    const bool at_answer = cut.readings.empty() && decision && cut.stop.classes == resolve::only(NameClass::answer) &&
                           cut.stop.position < node_.phrase.size();
    if (at_answer) return explain_answer(decision, cut.stop.position);
    resolve::Cut mixed;
    const bool mixes =
        cut.readings.empty() && context_.try_read(node_, context_.frames->mixed_condition, mixed, 0, scope_.parameters);
    if (mixes)
      context_.report(Code::N127, span_of(node_, 0, node_.phrase.size()));
    else
      context_.explain(node_, cut);
  }

  /// The decision that is asked of last before `end`. All that the line names count as asked, readable or not.
  DecisionId last_decision(std::size_t end) {
    const resolve::Phrase phrase(context_.names, node_.phrase);
    std::vector<resolve::NameTable::Match> matches;
    DecisionId last;
    for (std::size_t at = 0; at < node_.phrase.size(); ++at) {
      context_.names.matches_at(phrase.words, at, matches);
      for (const auto& match : matches) {
        const resolve::Meaning& meaning = context_.names.entry(match.entry).meaning;
        if (meaning.what != NameClass::decision) continue;
        context_.decision_asked[meaning.index] = true;
        if (at + match.length <= end) last = DecisionId{meaning.index};
      }
    }
    return last;
  }

  void explain_answer(DecisionId decision, std::size_t at) {
    std::size_t end = at + 1;
    while (end < node_.phrase.size() && !resolve::is_joining_word(node_.phrase[end].text)) ++end;
    Segment answer;
    answer.begin = static_cast<std::uint32_t>(at);
    answer.end = static_cast<std::uint32_t>(end);
    answer_of(context_, node_, decision, answer);
  }

  Atom read_atom(std::vector<Segment> segments) {
    const Reading reading{std::move(segments)};
    Atom atom;
    atom.span = span_of(node_, reading.segments.front().begin, reading.segments.back().end);
    atom.negated = reading.has("not") || reading.has("no");
    if (reading.has("f"))
      read_found(reading, atom);
    else if (reading.has("worn"))
      read_worn(reading, atom);
    else if (reading.has("hands"))
      read_bare(reading, atom);
    else if (reading.has("decision"))
      read_answer(reading, atom);
    else if (const Segment* mark = reading.find("mark")) {
      atom.what = Atom::What::declared;
      atom.mark = MarkId{mark->meaning.index};
    } else if (const Segment* record = reading.find("record")) {
      atom.what = Atom::What::recorded;
      atom.record = RecordId{record->meaning.index};
    } else
      read_place(reading, atom);
    if (!scope_.dry && atom.who) check_takes_part(context_, atom.who, atom.span);
    return atom;
  }

  void read_found(const Reading& reading, Atom& atom) {
    atom.what = Atom::What::found;
    for (const Segment& segment : reading.segments) {
      if (segment.label == "f") atom.findings.push_back(FindingId{segment.meaning.index});
    }
    atom.thing = things_of(context_, node_, reading.segments, scope_.bindings).front();
    check(atom.thing);
  }

  /// A choice that is not open in a variant is never worn and nothing is ever found on it; but one that no variant
  /// here has is a slip.
  void check(const Thing& thing) {
    if (thing.what != Thing::What::choice || context_.variants.empty()) return;
    const bool ever = std::any_of(context_.variants.begin(), context_.variants.end(), [&](const Variant& variant) {
      return holds(scope_.only_for, variant) && variant[thing.choice.value] >= 0;
    });
    if (!ever) check_choice_is_open(context_, thing, scope_.only_for);
  }

  void read_worn(const Reading& reading, Atom& atom) {
    atom.what = Atom::What::worn;
    atom.thing = things_of(context_, node_, reading.segments, scope_.bindings).front();
    check(atom.thing);
    const Segment* by = reading.find("by");
    atom.who = by ? RoleId{by->meaning.index} : atom.thing.of ? atom.thing.of : protocol_.acts;
  }

  void read_bare(const Reading& reading, Atom& atom) {
    atom.what = Atom::What::hands_bare;
    atom.thing.what = Thing::What::hands;
    atom.thing.span = atom.span;
    const Segment* of = reading.find("of");
    atom.who = of ? RoleId{of->meaning.index} : protocol_.acts;
    atom.thing.of = atom.who;
  }

  void read_answer(const Reading& reading, Atom& atom) {
    atom.what = Atom::What::answer;
    atom.decision = DecisionId{reading.find("decision")->meaning.index};
    const Segment& answer = *reading.find("answer");
    atom.answer = answer_of(context_, node_, atom.decision, answer);
    context_.decision_asked[atom.decision.value] = true;
  }

  void read_place(const Reading& reading, Atom& atom) {
    atom.what = Atom::What::in_zone;
    atom.who = RoleId{reading.find("role")->meaning.index};
    atom.zone = ZoneId{reading.find("zone")->meaning.index};
  }

  Context& context_;
  Protocol& protocol_;
  const Node& node_;
  const Scope& scope_;
};

}  // namespace

std::uint8_t answer_of(Context& context, const Node& node, DecisionId decision, const Segment& answer) {
  const auto& known = context.protocol[decision].answers;
  const auto found = std::find(known.begin(), known.end(), words(node, answer));
  if (found != known.end()) return static_cast<std::uint8_t>(found - known.begin());
  auto& finding =
      context.report(Code::N126, span_of(node, answer), {words(node, answer), context.protocol[decision].name});
  if (const auto near = resolve::nearest_of(known, words(node, answer)))
    finding.fix = context.protocol[decision].name + " is " + *near;
  if (decision.value < context.decision_spans.size())
    finding.places.push_back({context.decision_spans[decision.value], "decided here"});
  return 0;
}

Condition read_condition(Context& context, const Node& node, const Scope& scope) {
  return QuestionReader(context, node, scope).run();
}

}  // namespace stepward::model::reading
