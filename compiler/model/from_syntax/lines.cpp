// Action lines: what stands behind the verb, verb by verb.

#include <algorithm>

#include "model/from_syntax/line_heads.hpp"
#include "model/from_syntax/steps.hpp"
#include "model/from_syntax/techniques.hpp"

namespace stepward::model::reading {
namespace {

class LineReader {
 public:
  LineReader(Context& context, const Place& place, const Scope& scope)
      : context_(context), protocol_(context.protocol), place_(place), node_(context.node(place)), scope_(scope) {}

  std::optional<LineId> run() {
    auto chosen = choose_verb(context_, node_, scope_.parameters);
    if (!chosen) return std::nullopt;
    chosen_ = std::move(*chosen);
    line_.verb = chosen_.verb;
    line_.who = chosen_.who ? chosen_.who : protocol_.acts;
    line_.span = node_.span;
    line_.verb_span = span_of(node_, chosen_.verb_at, chosen_.rest_at);
    line_.in_rhythm = scope_.in_rhythm;
    line_.only_for = condition_of(context_, node_, chosen_.reading, scope_.only_for);
    where_ = scope_.only_for;
    where_.insert(where_.end(), line_.only_for.begin(), line_.only_for.end());
    read_length();
    line_.things = things_of(context_, node_, chosen_.reading.segments, scope_.bindings);
    fill();
    if (line_.verb == VerbKind::disinfect && !line_.agent) return std::nullopt;
    check_people();
    read_details();
    name_it();
    protocol_.lines.push_back(std::move(line_));
    return LineId{protocol_.lines.size() - 1};
  }

 private:
  // ---- verb by verb

  void fill() {
    switch (line_.verb) {
      case VerbKind::don: fill_worn(TechniqueUse::puts_on); break;
      case VerbKind::doff: fill_worn(TechniqueUse::takes_off); break;
      case VerbKind::disinfect:
        fill_agent();
        check_open();
        check_whose_body();
        break;
      case VerbKind::clean: fill_clean(); break;
      case VerbKind::inspect: fill_inspect(); break;
      case VerbKind::test: fill_test(); break;
      case VerbKind::decide: line_.decision = DecisionId{chosen_.reading.find("decision")->meaning.index}; break;
      case VerbKind::declare: line_.mark = MarkId{chosen_.reading.find("mark")->meaning.index}; break;
      case VerbKind::record: fill_records(); break;
      case VerbKind::report:
        line_.recipient = RecipientId{chosen_.reading.find("recipient")->meaning.index};
        read_text();
        break;
      case VerbKind::call: read_text(); break;
      case VerbKind::act:
        read_text();
        check_open();
        break;
      case VerbKind::take: fill_count(); break;
      case VerbKind::pass:
        line_.to = RoleId{chosen_.reading.find("to")->meaning.index};
        fill_count();
        break;
      case VerbKind::move: line_.zone = ZoneId{chosen_.reading.find("zone")->meaning.index}; break;
      case VerbKind::wait:
        line_.wait_contact_time = chosen_.reading.has("contact");
        if (!line_.wait_contact_time) line_.wait = duration_of(context_, node_, chosen_.reading);
        break;
      case VerbKind::start_timer:
      case VerbKind::stop_timer: line_.timer = TimerId{chosen_.reading.find("timer")->meaning.index}; break;
    }
  }

  /// How long the line takes, where it says so.
  void read_length() {
    const Reading& reading = chosen_.reading;
    if (reading.find("least.amount")) line_.at_least = duration_of(context_, node_, reading, "least.");
    if (reading.find("most.amount")) line_.at_most = duration_of(context_, node_, reading, "most.");
    if (line_.at_least && line_.at_most && line_.at_most->seconds < line_.at_least->seconds) {
      const Segment& most = *reading.find("most.amount");
      context_.report(Code::T707, span_of(node_, most), {});
    }
  }

  /// Every choice on the line must have an item wherever the line holds.
  void check_open() {
    for (const Thing& thing : line_.things) {
      if (thing.what == Thing::What::choice) check_choice_is_open(context_, thing, where_);
    }
  }

  /// A parameter may have been bound to what cannot be worn; then only the call is to blame, if it did not say so.
  bool check_wearable() {
    bool all = true;
    for (const Thing& thing : line_.things) {
      const bool wild = thing.what == Thing::What::kind && !thing.kind;
      const bool worn = thing.what == Thing::What::item || thing.what == Thing::What::choice;
      if (!wild && !worn) {
        context_.report(Code::N128, thing.span, {std::string(context_.files.text(thing.span))});
        all = false;
      }
      if (worn && !thing.part.empty())
        context_.report(Code::N116, thing.span, {std::string(context_.files.text(thing.span))});
    }
    return all;
  }

  /// A line that names no agent means the usual one. Without either it cannot be walked and is left out.
  void fill_agent() {
    const Segment* named = chosen_.reading.find("agent");
    line_.agent = named ? AgentId{named->meaning.index} : protocol_.usual_agent;
    if (!line_.agent) {
      context_.report(Code::N130, node_.span);
      return;
    }
    if (!named) context_.usual_agent_needed = true;
    line_.without_waiting = chosen_.reading.has("without");
    if (line_.without_waiting && protocol_[line_.agent].leaves_sterile)
      context_.report(Code::N129, span_of(node_, *chosen_.reading.find("without")), {protocol_[line_.agent].name});
  }

  void fill_worn(TechniqueUse use) {
    check_open();
    const bool wearable = check_wearable();
    line_.together = chosen_.reading.has("together");
    if (line_.things.size() > 1 && !line_.together && use == TechniqueUse::takes_off) {
      context_.report(Code::N122, node_.span);
    }
    for (const Thing& thing : line_.things) {
      if (thing.of && !line_.of)
        line_.of = thing.of;
      else if (thing.of && thing.of != line_.of)
        context_.report(Code::N115, thing.span, {std::string(context_.files.text(thing.span))});
    }
    if (!line_.of && protocol_.acts && line_.who != protocol_.acts) explain_whose(line_.things.back());
    if (!line_.of) line_.of = line_.who;
    if (wearable) line_.technique = technique_of_line(use);
  }

  /// `helper takes off gown`: by the rule for plain names that would be the acting person's gown, by ear the helper's.
  void explain_whose(const Thing& thing) {
    auto& finding = context_.report(Code::N115, thing.span, {std::string(context_.files.text(thing.span))});
    const std::string line(context_.files.text(node_.span));
    if (thing.span.file != node_.span.file || thing.span.end < node_.span.begin) return;
    const std::size_t end = thing.span.end - node_.span.begin;
    if (end <= line.size())
      finding.fix = line.substr(0, end) + " of " + protocol_[protocol_.acts].name + line.substr(end);
  }

  /// `helper disinfects bare hands` likewise: a part of the body is the acting person's, by ear the helper's.
  void check_whose_body() {
    for (const Thing& thing : line_.things) {
      if (thing.what == Thing::What::site && !thing.of && protocol_.acts && line_.who != protocol_.acts) explain_whose(thing);
    }
  }

  TechniqueId technique_of_line(TechniqueUse use) {
    const Segment* named = chosen_.reading.find("technique");
    if (named) {
      const TechniqueId technique{named->meaning.index};
      check_technique(context_, technique, use, line_.things, where_, span_of(node_, *named));
      return technique;
    }
    return usual_technique(context_, use, line_.things, where_, node_.span);
  }

  void fill_clean() {
    const Segment& what = *chosen_.reading.find("finding");
    line_.findings.push_back(FindingId{what.meaning.index});
    if (protocol_[line_.findings.front()].means != FindingMeans::surface_soiled) {
      context_.report(Code::N123, span_of(node_, what), {words(node_, what)});
    }
    check_open();
    check_whose_body();
    if (const Segment* named = chosen_.reading.find("technique")) {
      line_.technique = TechniqueId{named->meaning.index};
      check_technique(context_, line_.technique, TechniqueUse::cleans, line_.things, where_, span_of(node_, *named));
    }
  }

  void fill_inspect() {
    check_open();
    for (const Segment& segment : chosen_.reading.segments) {
      if (segment.label == "finding") line_.findings.push_back(FindingId{segment.meaning.index});
    }
    for (const Thing& thing : line_.things) {
      check_findings(thing);
      const bool keeps_off = line_.who && !protocol_[line_.who].keeps_hands_off.empty();
      if (thing.what == Thing::What::hands && !thing.of && keeps_off)
        context_.report(Code::N115, thing.span, {"hands"});
    }
  }

  /// Only what is worn can be torn or leave a gap.
  void check_findings(const Thing& thing) {
    if (thing.what != Thing::What::site && thing.what != Thing::What::spot) return;
    for (const Segment& segment : chosen_.reading.segments) {
      if (segment.label != "finding") continue;
      const Finding& finding = protocol_.findings[segment.meaning.index];
      if (finding.means == FindingMeans::surface_soiled) continue;
      context_.report(Code::N124, span_of(node_, segment),
                      {finding.name, std::string(context_.files.text(thing.span))});
    }
  }

  void fill_test() {
    check_open();
    const bool wearable = check_wearable();
    const Segment* named = chosen_.reading.find("technique");
    if (!named || !wearable) return;
    line_.technique = TechniqueId{named->meaning.index};
    check_technique(context_, line_.technique, TechniqueUse::tests, line_.things, where_, span_of(node_, *named));
  }

  void fill_records() {
    for (const Segment& segment : chosen_.reading.segments) {
      if (segment.label == "record") line_.records.push_back(RecordId{segment.meaning.index});
    }
  }

  void fill_count() {
    check_open();
    const Segment& n = *chosen_.reading.find("n");
    const auto count = whole(node_.phrase[n.begin].text, 9999);
    if (!count || *count == 0) context_.report(Code::T706, span_of(node_, n), {words(node_, n)});
    line_.count = count.value_or(1);
    check_unit(context_, node_, chosen_.reading, line_.things.front());
  }

  // ---- around the line

  void check_people() {
    if (scope_.dry) return;
    if (chosen_.who) check_takes_part(context_, chosen_.who, node_.span);
    if (line_.to) check_takes_part(context_, line_.to, span_of(node_, *chosen_.reading.find("to")));
    for (const Thing& thing : line_.things) {
      if (thing.of) check_takes_part(context_, thing.of, thing.span);
    }
  }

  void read_text() {
    line_.text = quoted(node_, chosen_.reading);
    if (const Segment* text = chosen_.reading.find("text")) line_.text_span = span_of(node_, *text);
  }

  void read_details() {
    std::vector<NodeKind> seen;
    for (const NodeId child : node_.children) {
      const Node& detail = context_.tree(place_)[child];
      if (detail.kind == NodeKind::known_as) {
        line_.details.known_as = scope_.keeps_id.empty() ? given_id(context_, detail, scope_) : kept_id(detail);
        continue;
      }
      std::string* into = detail_of(detail.kind);
      if (!into) continue;
      if (std::find(seen.begin(), seen.end(), detail.kind) != seen.end()) {
        context_.report(Code::N113, detail.span, {"\"" + std::string(context_.files.text(detail.head)) + "\""});
        continue;
      }
      seen.push_back(detail.kind);
      const auto reading = context_.read(detail, context_.frames->text_alone);
      if (!reading) continue;
      check_placeholders(context_, detail.phrase[reading->find("text")->begin]);
      *into = quoted(detail, *reading);
      if (source::Span* at = place_of(detail.kind)) *at = span_of(detail, *reading->find("text"));
    }
  }

  source::Span* place_of(NodeKind kind) {
    auto& at = line_.details.at;
    switch (kind) {
      case NodeKind::say: return &at.say;
      case NodeKind::watch: return &at.watch;
      case NodeKind::if_not: return &at.if_not;
      case NodeKind::warning: return &at.warning;
      case NodeKind::note: return &at.note;
      default: return nullptr;  // reasons are not spoken, and they may speak of anything
    }
  }

  std::string* detail_of(NodeKind kind) {
    Details& details = line_.details;
    switch (kind) {
      case NodeKind::critical_because: return &details.critical_because;
      case NodeKind::say: return &details.say;
      case NodeKind::watch: return &details.watch;
      case NodeKind::if_not: return &details.if_not;
      case NodeKind::warning: return &details.warning;
      case NodeKind::note: return &details.note;
      case NodeKind::because: return &details.because;
      default: return nullptr;
    }
  }

  /// What replaces a step is known as the step was.
  std::string kept_id(const Node& detail) {
    const std::string kept = last_of_id(scope_.keeps_id);
    const std::string given = resolve::words_of(detail.phrase, 0, detail.phrase.size());
    if (given != kept) context_.report(Code::N113, detail.span, {"what this step is known as"});
    return scope_.keeps_given ? kept : std::string();
  }

  /// Without `known as` a line is called by its verb and its thing, with a number from the second on.
  void name_it() {
    if (!scope_.keeps_id.empty()) {
      line_.id_is_given = scope_.keeps_given;
      if (scope_.keeps_given) line_.details.known_as = last_of_id(scope_.keeps_id);
      line_.id = scope_.keeps_id;
      return;
    }
    line_.id_is_given = !line_.details.known_as.empty();
    std::string own = line_.details.known_as;
    if (!line_.id_is_given) {
      own = verb_words();
      if (!line_.things.empty()) own += " " + std::string(context_.files.text(line_.things.front().span));
      own = next_id(scope_, own);
    }
    line_.id = scope_.path + " / " + own;
  }

  /// The verb's command form, so that "take off" and "wearer takes off" count together.
  std::string verb_words() const {
    switch (line_.verb) {
      case VerbKind::don: return "put on";
      case VerbKind::doff: return "take off";
      case VerbKind::disinfect: return "disinfect";
      case VerbKind::clean: return "clean";
      case VerbKind::inspect: return "inspect";
      case VerbKind::test: return "test";
      case VerbKind::decide: return "decide";
      case VerbKind::declare: return "declare";
      case VerbKind::record: return "record";
      case VerbKind::report: return "report";
      case VerbKind::call: return "call";
      case VerbKind::take: return "take";
      case VerbKind::pass: return "pass";
      case VerbKind::act: return "act";
      case VerbKind::move: return "move";
      case VerbKind::wait: return "wait";
      case VerbKind::start_timer: return "start timer";
      case VerbKind::stop_timer: return "stop timer";
    }
    return {};
  }

  Context& context_;
  Protocol& protocol_;
  Place place_;
  const Node& node_;
  const Scope& scope_;
  Chosen chosen_;
  VariantCondition where_;  ///< all that must be chosen for the line to stand on the card
  Line line_;
};

}  // namespace

std::optional<LineId> read_line(Context& context, const Place& place, const Scope& scope) {
  return LineReader(context, place, scope).run();
}

}  // namespace stepward::model::reading
