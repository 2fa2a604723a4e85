#include "emit/script/script.hpp"

#include <algorithm>

#include "emit/act_line.hpp"
#include "emit/course_printer.hpp"
#include "emit/criticality.hpp"
#include "emit/document/check_words.hpp"
#include "wording/act_phrases.hpp"
#include "wording/heard.hpp"

namespace stepward::emit {

using model::Line;
using model::VerbKind;
using wording::Phrase;
using wording::StepText;

namespace {

/// The breach that says what to do when the reader touched somebody.
std::string touching_breach(const PaperSource& source, model::RoleId reader) {
  for (const auto& breach : source.course.breaches) {
    for (const auto& happening : source.protocol[breach.interruption].happens) {
      if (happening.what == model::Happening::What::touches && happening.who == reader) return breach.label;
    }
  }
  return {};
}

bool is_heard(VerbKind verb) {
  switch (verb) {
    case VerbKind::don:
    case VerbKind::doff:
    case VerbKind::disinfect:
    case VerbKind::clean:
    case VerbKind::test:
    case VerbKind::take:
    case VerbKind::act:
    case VerbKind::move: return true;
    case VerbKind::inspect:
    case VerbKind::decide:
    case VerbKind::declare:
    case VerbKind::record:
    case VerbKind::report:
    case VerbKind::call:
    case VerbKind::pass:
    case VerbKind::wait:
    case VerbKind::start_timer:
    case VerbKind::stop_timer: return false;
  }
  return false;
}

class Script final : public CoursePrinter {
 public:
  explicit Script(const PaperSource& source) : CoursePrinter(source), reader_(reader_of(source.protocol)) {}

 protected:
  Block step(const Line& line, const graph::Entry& entry, Level level) override {
    const model::Protocol& protocol = source_.protocol;
    const wording::Setting setting = setting_of(source_, entry);
    const StepText words = wording::step_text(protocol, source_.variant, line, setting);
    SayRow row;
    row.label = entry.label;
    row.level = level;
    row.critical = is_critical(source_, entry.line);
    fill_speech(row, line, words, setting.anew);
    if (!words.warning.empty()) row.warnings.push_back(warning(row, line, words));
    row.look_for = all_looked_for(entry, line, words);
    // What the library has an observer say of other people's acts is not said of her own.
    const bool to_herself = line.who == reader_ && reader_ != protocol.acts && line.verb == VerbKind::act && line.details.if_not.empty();
    if (!to_herself) row.if_not = words.if_not;
    const Clock clock = clock_of(source_, entry);
    if (clock.time.seconds > 0) row.clock = wording::duration_phrase(clock.time);
    if (!clock.shorter.empty())
      row.remarks.push_back({{said(Phrase::contact_time) + " ", true, ""}, {clock.shorter, false, ""}});
    else if (line.verb == VerbKind::wait && !line.wait_contact_time)
      row.clock = wording::duration_phrase(line.wait);
    add_remarks(row, line, entry.line);
    const auto asides = source_.facts.set_aside.find(entry.line);
    if (asides != source_.facts.set_aside.end())
      for (const WalkFacts::SetAside& aside : asides->second)
        row.remarks.push_back({{said(Phrase::set_aside) + " ", true, ""}, {said(Phrase::rule_number, {{"rule", aside.number}}) + ". " + aside.agreed, false, ""}});
    return row;
  }

  Block box_step(const Text& text, const graph::Entry& entry, Level level) override {
    SayRow row;
    row.label = entry.label;
    row.level = level;
    row.act = text;
    return row;
  }

  wording::Phrase box_phrase() const override { return Phrase::box_step; }

 private:
  std::string said(Phrase which, std::initializer_list<wording::Gap> gaps = {}) const { return source_.said(which, gaps); }

  /// Read aloud with its step, and before it; of a step of her own at which nothing is said, the reader is warned herself.
  Text warning(const SayRow& row, const Line& line, const StepText& words) const {
    Text text{{said(Phrase::warning_before_step, {{"step", row.label}}) + " ", true, ""}};
    if (row.say.empty()) {
      text.push_back({words.warning, false, ""});
    } else {
      text.push_back({said(Phrase::say) + " ", true, ""});
      text.push_back({said(Phrase::quoted, {{"text", line.who == reader_ ? words.warning : addressed(line, words.warning)}}), false, ""});
    }
    return text;
  }

  bool in_rhythm(const Line& line) const {
    const model::Rhythm& rhythm = source_.protocol.rhythm;
    const model::RoleId acts = rhythm.acts ? rhythm.acts : source_.protocol.acts;
    return rhythm.given && rhythm.repeats && line.in_rhythm && line.who == acts && is_heard(line.verb);
  }

  /// The reader's own look is told where her eyes go, not as something to do with her hands.
  std::string looked_for(const Line& line, const StepText& words, const std::vector<model::Thing>& named) const {
    if (line.verb != VerbKind::inspect || line.who != reader_) return words.watch;
    std::vector<std::string> things;
    for (const auto& thing : line.things)
      things.push_back(wording::thing_phrase(source_.protocol, source_.variant, thing, {{}, named, false, true}));
    const std::string where = wording::capitalised(said(Phrase::found_on, {{"findings", wording::findings_phrase(source_.protocol, line.findings)},
                                                                           {"thing", wording::all_of(source_.protocol.tongue, things)}})) + ".";
    return words.watch.empty() ? where : where + " " + words.watch;
  }

  /// With what slips at a weak point make worth a look.
  std::string all_looked_for(const graph::Entry& entry, const Line& line, const StepText& words) const {
    const std::string own = looked_for(line, words, entry.named);
    const std::string weak = weak_point_to_watch(source_, entry.line, !words.watch.empty());
    return own + (own.empty() || weak.empty() ? "" : " ") + weak;
  }

  /// The act as something to do; a sentence of its own stands behind it.
  static Text done(const wording::Act& act, const std::string& manner = {}) {
    const std::string whole = act_line(act);
    Text text{{act.verb, true, ""}, {whole.substr(act.verb.size()), false, ""}};
    const std::string inside = whole.ends_with("”") ? whole.substr(0, whole.size() - std::string_view("”").size()) : whole;
    const bool is_closed = std::string_view(".!?").find(inside.empty() ? ' ' : inside.back()) != std::string_view::npos;
    if (!manner.empty()) text.push_back({(is_closed ? " " : ". ") + manner, false, ""});
    return text;
  }

  bool names(const std::string& text, const std::string& thing) const { return wording::are_heard(wording::heard_words(text), thing); }

  /// What only the step's other fields tell, told aloud as well: what is taken, what it is done with, where it goes.
  std::string with_fields(const Line& line, const StepText& words, std::string text, bool anew) const {
    const model::Protocol& protocol = source_.protocol;
    const bool handed = line.verb == VerbKind::pass && line.to == protocol.acts;
    const bool is_taken = (handed || line.verb == VerbKind::take) && !words.says_own && !line.things.empty();
    if (is_taken) text = taken(line, handed, anew) + ". " + text;
    // How it is done is said of an act, so where nobody has words for that the act itself comes first.
    const bool lacks_act = words.tells_only_how && !is_taken && line.verb != VerbKind::act;
    if (text.empty() || lacks_act) text = act_line(words.act) + "." + (text.empty() ? "" : " ") + text;
    if (line.agent && !names(text, protocol[line.agent].name)) {
      std::string rest;
      const std::string first = wording::first_sentence(text, rest);
      text = first + " " + said(Phrase::use_agent, {{"agent", protocol[line.agent].name}}) + (rest.empty() ? "" : " " + rest);
    }
    if (const std::string bin = bin_of(source_, line); !bin.empty() && !names(text, bin)) text += " " + said(Phrase::into_bin, {{"bin", bin}});
    if (line.without_waiting) text += " " + said(Phrase::do_not_wait);
    return text;
  }

  /// The reader's own way of doing it, with the fields that neither her act nor her words tell.
  std::string own_manner(const SayRow& row, const Line& line, const StepText& words) const {
    std::string manner = words.says_own ? std::string() : words.manner;
    const std::string told = act_line(words.act) + ". " + manner + " " + row.say;
    const auto add_sentence = [&](const std::string& sentence) { manner += (manner.empty() ? "" : " ") + sentence; };
    if (line.agent && !names(told, source_.protocol[line.agent].name)) add_sentence(said(Phrase::use_agent, {{"agent", source_.protocol[line.agent].name}}));
    if (const std::string bin = bin_of(source_, line); !bin.empty() && !names(told, bin)) add_sentence(said(Phrase::into_bin, {{"bin", bin}}));
    if (line.without_waiting) add_sentence(said(Phrase::do_not_wait));
    return manner;
  }

  /// "TAKE 1 pair of inner gloves from the helper", as on the card.
  std::string taken(const Line& line, bool handed, bool anew) const {
    const std::string counted = wording::counted_phrase(source_.protocol, source_.variant, line.count, line.things[0], anew);
    const std::string from = handed ? said(Phrase::counted_from_person, {{"counted", counted}, {"person", called(source_, source_.protocol[line.who])}}) : counted;
    return said(Phrase::take) + " " + from;
  }

  void fill_speech(SayRow& row, const Line& line, const StepText& words, bool anew) const {
    if (line.verb == VerbKind::decide) {
      ask(row, line, words);
      return;
    }
    if (line.who == reader_) {
      if (line.verb == VerbKind::inspect) {
        row.say = words.spoken;
        return;
      }
      if (words.says_own) row.say = words.spoken;
      row.act = done(words.act, own_manner(row, line, words));
      return;
    }
    const std::string spoken = line.verb == VerbKind::act && !words.says_own ? wording::capitalised(line.text) : words.spoken;
    row.say = addressed(line, with_fields(line, words, spoken, anew));
    // An act's own words are what is done; when the line is said in other words, they stand beside it.
    if (line.verb == VerbKind::act && words.says_own) row.act = done(words.act);
    if (in_rhythm(line)) row.hear = words.echo;
  }

  /// What is said to somebody else than the person who acts begins with who is meant.
  std::string addressed(const Line& line, std::string text) const {
    if (line.who == source_.protocol.acts) return text;
    const std::string name = wording::capitalised(source_.protocol[line.who].name);
    const bool names_it = text.rfind(name, 0) == 0 || (line.verb == VerbKind::pass && line.to == source_.protocol.acts);
    return names_it ? text : name + ": " + text;
  }

  void ask(SayRow& row, const Line& line, const StepText& words) const {
    const model::Decision& decision = source_.protocol[line.decision];
    if (words.says_own)
      row.say = words.words;
    else if (line.who != reader_)
      row.say = said(Phrase::question_mark, {{"question", wording::capitalised(decision.name)}});
    const std::string answers = wording::any_of(source_.protocol.tongue, decision.answers);
    row.act = {{said(Phrase::note_the_answer), true, ""},
               {" " + said(Phrase::to_question, {{"decision", decision.name}, {"answers", answers}}), false, ""}};
  }

  void add_remarks(SayRow& row, const Line& line, model::LineId id) const {
    const model::Details& details = line.details;
    const auto add = [&](Phrase what, const std::string& text) {
      if (!text.empty()) row.remarks.push_back({{said(what) + " ", true, ""}, {text, false, ""}});
    };
    add(Phrase::time, wording::length_phrase(source_.protocol.tongue, line));
    add(Phrase::critical_because, why_critical(source_, id));
    add(Phrase::note, details.note);
    add(Phrase::why, details.because);
  }

  model::RoleId reader_;
};

}  // namespace

namespace {

/// Whoever helps cannot be told to touch nothing.
bool keeps_off(const model::Protocol& protocol, model::RoleId reader) {
  if (!reader) return true;
  const auto& off = protocol[reader].keeps_hands_off;
  const bool declared = std::find(off.begin(), off.end(), protocol.acts) != off.end();
  return declared || std::none_of(protocol.lines.begin(), protocol.lines.end(), [&](const model::Line& line) {
    return line.who == reader && is_heard(line.verb) && (line.verb != VerbKind::act || !line.things.empty()) && line.verb != VerbKind::move;
  });
}

}  // namespace

Sheet observers_script(const model::Protocol& protocol, const model::Variant& variant, const graph::Course& course,
                       const WalkFacts& facts, const model::Protocol& written) {
  const model::RoleId reader = reader_of(protocol);
  const PaperSource source{protocol, written, variant, course, facts, reader != protocol.acts};
  const std::string who = reader ? protocol[reader].name : source.said(Phrase::reader);
  Sheet sheet = begun_sheet(source, SheetKind::script, wording::capitalised(source.said(Phrase::persons_script, {{"person", who}})));
  sheet.control.reminder = source.said(keeps_off(protocol, reader) ? Phrase::touch_nothing : Phrase::touch_only_what_is_said);
  if (const std::string breach = touching_breach(source, reader); !breach.empty()) {
    sheet.control.reminder += " " + source.said(Phrase::otherwise_breach, {{"breach", breach}});
  }
  if (reader && reader != protocol.acts && protocol.acts)
    sheet.control.reminder += " " + source.said(Phrase::no_name_in_script, {{"person", protocol[protocol.acts].name}});
  sheet.blocks = Script(source).print();
  stamp(sheet);
  return sheet;
}

}  // namespace stepward::emit
