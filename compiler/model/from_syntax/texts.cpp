// Quoted texts against the lines that they stand at.
//
// A text changes nothing that happens, so a wrong one is found by nobody but the person who follows it. What is read
// aloud has to name what the line handles, and nothing else in its place; its figures have to be those that the paper
// prints beside it; and it has to be short and unlike other words, since it is heard through a hood.

#include <algorithm>
#include <set>

#include "model/from_syntax/passes.hpp"
#include "model/from_syntax/text_names.hpp"
#include "wording/heard.hpp"
#include "wording/step_text.hpp"

namespace stepward::model::reading {
namespace {

/// Own judgement, after the counsel of style manuals to keep sentences under 15 to 25 words for readers at a desk.
constexpr std::size_t longest_heard = 12;

/// A line with what must be chosen for it to stand on the card.
struct Standing {
  LineId line;
  VariantCondition where;
};

std::vector<Standing> standing_lines(const Protocol& protocol) {
  std::vector<std::pair<BlockId, VariantCondition>> open;
  for (const Interruption& interruption : protocol.interruptions) open.emplace_back(interruption.block, VariantCondition{});
  for (const Phase& phase : protocol.phases) open.emplace_back(phase.block, VariantCondition{});
  std::vector<Standing> lines;
  while (!open.empty()) {
    const auto [block, where] = open.back();
    open.pop_back();
    if (!block) continue;
    for (const Statement& statement : protocol[block].statements) {
      VariantCondition inside = where;
      inside.insert(inside.end(), statement.only_for.begin(), statement.only_for.end());
      if (statement.what == Statement::What::line) {
        const VariantCondition& own = protocol[statement.line].only_for;
        inside.insert(inside.end(), own.begin(), own.end());
        lines.push_back({statement.line, inside});
      }
      for (const Statement::Arm& arm : statement.arms) open.emplace_back(arm.block, inside);
      open.emplace_back(statement.block, inside);
      open.emplace_back(statement.fallback, inside);
    }
  }
  return lines;
}

/// What a line says in words of its own, with the place of each.
struct OwnText {
  const std::string* text;
  source::Span at;
};
std::vector<OwnText> own_texts(const Line& line) {
  const Details& details = line.details;
  std::vector<OwnText> texts = {{&details.say, details.at.say},       {&details.watch, details.at.watch}, {&details.if_not, details.at.if_not},
                                {&details.warning, details.at.warning}, {&details.note, details.at.note},   {&line.text, line.text_span}};
  texts.erase(std::remove_if(texts.begin(), texts.end(), [](const OwnText& own) { return own.text->empty(); }), texts.end());
  return texts;
}

// ---- how it sounds

/// For every text that is heard by somebody in a hood.
void check_sound(Context& context, const std::string& text, source::Span at) {
  const Words words = wording::heard_words(text);
  if (const std::string misheard = wording::misheard_word(words); !misheard.empty()) {
    const bool on = misheard.compare(0, 3, "don") == 0;
    context.report(Code::X204, at, {misheard, on ? "put on" : "take off"});
    return;
  }
  const std::vector<std::string> actions = wording::actions_in(words);
  const auto asks = [&actions](const char* action) { return std::find(actions.begin(), actions.end(), action) != actions.end(); };
  if (asks("put on") && asks("take off")) {
    context.report(Code::X205, at);
  } else if (actions.size() > 1) {
    context.report(Code::X206, at, {actions[0], actions[1]});
  }
  if (const std::size_t longest = wording::longest_sentence(text); longest > longest_heard) {
    context.report(Code::X207, at, {std::to_string(longest), std::to_string(longest_heard)});
  }
}

void check_sound(Context& context, const Wording& wording) {
  for (const std::vector<Phrase>* phrases : {&wording.words, &wording.spoken, &wording.if_not}) {
    for (const Phrase& phrase : *phrases) check_sound(context, phrase.text, phrase.span);
  }
}

// ---- what it names

/// True for lines that somebody could do to the wrong thing.
bool must_name_it(VerbKind verb) {
  switch (verb) {
    case VerbKind::don:
    case VerbKind::doff:
    case VerbKind::disinfect:
    case VerbKind::clean:
    case VerbKind::test:
    case VerbKind::take:
    case VerbKind::pass: return true;
    case VerbKind::inspect:
    case VerbKind::decide:
    case VerbKind::declare:
    case VerbKind::record:
    case VerbKind::report:
    case VerbKind::call:
    case VerbKind::act:
    case VerbKind::move:
    case VerbKind::wait:
    case VerbKind::start_timer:
    case VerbKind::stop_timer: return false;
  }
  return false;
}

class Texts {
 public:
  explicit Texts(Context& context) : context_(context), protocol_(context.protocol) {}

  void run() {
    for (const VerbWording& verb : protocol_.verb_wordings) check_sound(context_, verb.wording);
    for (const Technique& technique : protocol_.techniques) check_sound(context_, technique.wording);
    const std::vector<Standing> lines = standing_lines(protocol_);
    for (const Standing& standing : lines) check_sound_of(protocol_[standing.line]);
    check_uncalled();
    std::vector<std::set<std::vector<std::uint32_t>>> seen(lines.size());
    for (const Variant& variant : context_.variants) {
      const Wardrobe wardrobe(protocol_, variant);
      for (std::size_t i = 0; i < lines.size(); ++i) {
        const Line& line = protocol_[lines[i].line];
        const bool gaps = has_gaps(line.verb);
        if ((!gaps && !has_texts(line)) || !holds(lines[i].where, variant)) continue;
        const bool is_new = seen[i].insert(items_of(line, variant)).second;
        const Naming naming(protocol_, variant, wardrobe, line);
        if (!line.details.say.empty()) check_names(naming, line);
        if (is_new && gaps) check_reached(naming, line, variant);
        if (is_new) check_figures(line, variant);
      }
    }
  }

 private:
  static bool has_texts(const Line& line) {
    return line.agent || line.verb == VerbKind::wait || line.at_least || line.at_most || !line.details.say.empty();
  }

  /// What the line is about in this variant. Its figures are the same wherever this is.
  std::vector<std::uint32_t> items_of(const Line& line, const Variant& variant) const {
    std::vector<std::uint32_t> items;
    for (const Thing& thing : line.things) items.push_back(item_of(protocol_, thing, variant).value);
    return items;
  }

  /// What a library holds for others to call. Parameters may be anything, so nothing that is one can be misnamed.
  void check_uncalled() {
    const Variant none(protocol_.choices.size(), -1);
    const Wardrobe wardrobe(protocol_, none);
    for (const Line& line : context_.uncalled_lines) {
      check_sound_of(line);
      const bool has_parameter = std::any_of(line.things.begin(), line.things.end(), [](const Thing& thing) { return thing.what == Thing::What::kind && !thing.kind; });
      if (!line.details.say.empty() && !has_parameter) check_names(Naming(protocol_, none, wardrobe, line), line);
      if (!has_parameter) check_figures(line, none);
    }
  }

  void check_sound_of(const Line& line) {
    if (!line.details.say.empty()) check_sound(context_, line.details.say, line.details.at.say);
    if (!line.details.if_not.empty()) check_sound(context_, line.details.if_not, line.details.at.if_not);
    if (!line.text.empty() && line.details.say.empty()) check_sound(context_, line.text, line.text_span);
  }

  // ---- words that do not reach

  /// Verbs that have words for some things only. One without any words is printed in the compiler's own.
  bool has_gaps(VerbKind verb) const {
    bool some = false;
    for (const VerbWording& each : protocol_.verb_wordings) {
      if (each.verb != verb) continue;
      const auto& words = each.wording.words;
      if (std::any_of(words.begin(), words.end(), [](const Phrase& phrase) { return phrase.on.empty(); })) return false;
      some = some || !words.empty();
    }
    return some;
  }

  void check_reached(const Naming& naming, const Line& line, const Variant& variant) {
    if (!has_gaps(line.verb) || !wording::step_text(protocol_, variant, line, {}).words.empty()) return;
    const std::string thing = line.things.empty() ? std::string("this line") : naming.phrase(line.things.front());
    context_.report(Code::X102, line.span, {std::string(context_.files.text(line.verb_span)), thing});
  }

  // ---- names

  void check_names(const Naming& naming, const Line& line) {
    const Words words = wording::heard_words(line.details.say);
    if (check_agent(words, line) || check_zone(words, line)) return;
    if (line.things.empty() || (!must_name_it(line.verb) && line.verb != VerbKind::inspect)) return;
    if (!naming.names_one(words)) {
      if (const std::string other = naming.other_item(words); !other.empty()) return report_other(line, other, naming.phrase(line.things.front()));
    }
    for (const Thing& thing : line.things) {
      const wording::Opposite opposite = wording::opposite_of(words, thing.part + " " + naming.phrase(thing));
      if (!opposite.said.empty()) {
        context_.report(Code::X203, line.details.at.say, {opposite.said, opposite.meant, naming.phrase(thing)});
        return;
      }
    }
    if (!must_name_it(line.verb)) return;
    for (const Thing& thing : line.things) {
      if (naming.names(words, thing)) continue;
      context_.report(Code::X201, line.details.at.say, {naming.phrase(thing)});
      return;
    }
  }

  void report_other(const Line& line, const std::string& said, const std::string& meant) {
    context_.report(Code::X202, line.details.at.say, {said, meant}).places.push_back({line.span, "what is done"});
  }

  bool check_agent(const Words& words, const Line& line) {
    if (!line.agent || Naming::names_whole(words, protocol_[line.agent])) return false;
    for (const Agent& agent : protocol_.agents) {
      if (!Naming::names_whole(words, agent)) continue;
      report_other(line, agent.name, protocol_[line.agent].name);
      return true;
    }
    return false;
  }

  /// "Leave the care room" is right on the way to anywhere; "go to the care room" is not.
  bool check_zone(Words words, const Line& line) {
    if (line.verb != VerbKind::move) return false;
    words.erase(std::remove_if(words.begin(), words.end(), [](const std::string& word) { return word == "the" || word == "into"; }), words.end());
    const auto goes_to = [&](const Zone& zone) { return wording::are_heard(words, "to " + zone.name); };
    if (goes_to(protocol_[line.zone])) return false;
    for (const Zone& zone : protocol_.zones) {
      if (!goes_to(zone)) continue;
      report_other(line, zone.name, protocol_[line.zone].name);
      return true;
    }
    return false;
  }

  // ---- figures

  /// What a line counts on: a figure in its texts has to be one of these.
  struct Counted {
    const char* what;
    std::vector<Rational> all;  ///< the first is the one to be named
  };

  Counted times_of(const Line& line, const Variant& variant) const {
    if (line.verb == VerbKind::wait) {
      if (line.wait_contact_time) return {"wait", {}};
      return {"wait", {Rational(line.wait.seconds)}};
    }
    Counted counted{line.verb == VerbKind::start_timer ? "timer" : line.agent ? "contact time" : "time", {}};
    for (const auto& bound : {line.at_least, line.at_most}) {
      if (bound) counted.all.emplace_back(bound->seconds);
    }
    const Duration time = wording::contact_time(protocol_, variant, line, {});
    if (line.verb != VerbKind::disinfect || time.seconds == 0) return counted;
    counted.all.emplace_back(time.seconds);
    const Agent& agent = protocol_[line.agent];
    const bool hands = std::any_of(line.things.begin(), line.things.end(), [](const Thing& thing) { return thing.what == Thing::What::hands; });
    for (const ContactTime& each : agent.contact_times) {
      if (hands) counted.all.emplace_back(each.time.seconds);  // which layer it is, only the walk knows
    }
    if (agent.keeps) counted.all.emplace_back(agent.keeps->seconds);
    return counted;
  }

  Counted strengths_of(const Line& line) const {
    Counted counted{"strength", {}};
    if (!line.agent || !protocol_[line.agent].strength_ppm) return counted;
    counted.all.push_back(*protocol_[line.agent].strength_ppm);
    if (const auto stock = protocol_[line.agent].stock.ppm) counted.all.push_back(*stock);
    return counted;
  }

  void check_figures(const Line& line, const Variant& variant) {
    const Counted times = times_of(line, variant), strengths = strengths_of(line);
    if (times.all.empty() && strengths.all.empty()) return;
    const std::vector<OwnText> own = own_texts(line);
    for (const OwnText& text : own) check_figures(*text.text, text.at, times, strengths);
    const wording::StepText whole = wording::step_text(protocol_, variant, line, {});
    for (const std::string* text : {&whole.words, &whole.spoken, &whole.watch, &whole.if_not, &whole.warning}) {
      const bool is_own = std::any_of(own.begin(), own.end(), [&](const OwnText& each) { return *each.text == *text; });
      if (!is_own) check_figures(*text, line.span, times, strengths);
    }
  }

  void check_figures(const std::string& text, source::Span at, const Counted& times, const Counted& strengths) {
    for (const wording::Figure& figure : wording::figures_in(text)) {
      const bool is_time = figure.what == wording::Figure::What::seconds;
      const Counted& counted = is_time ? times : strengths;
      if (counted.all.empty() || std::find(counted.all.begin(), counted.all.end(), figure.amount) != counted.all.end()) continue;
      context_.report(Code::X301, at, {figure.said, counted.what, is_time ? time_phrase(counted.all.front()) : strength_phrase(counted.all.front())});
    }
  }

  static std::string time_phrase(Rational seconds) { return wording::duration_phrase({static_cast<std::uint32_t>(seconds.num)}); }
  static std::string strength_phrase(Rational ppm) {
    const bool whole_percent = ppm.num % (ppm.den * 10'000) == 0;
    return whole_percent ? std::to_string(ppm.num / ppm.den / 10'000) + " percent" : std::to_string(ppm.num / ppm.den) + " ppm";
  }

  Context& context_;
  const Protocol& protocol_;
};

}  // namespace

void check_texts(Context& context) { Texts(context).run(); }

}  // namespace stepward::model::reading
