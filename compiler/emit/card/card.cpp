#include "emit/card/card.hpp"

#include <algorithm>

#include "emit/course_printer.hpp"
#include "emit/criticality.hpp"
#include "emit/document/check_words.hpp"
#include "model/variants.hpp"
#include "wording/act_phrases.hpp"

namespace stepward::emit {

using model::Line;
using model::VerbKind;
using wording::Act;
using wording::Phrase;
using wording::StepText;

namespace {

/// "your hands (inner gloves)": what stands in brackets behind the hands is what the reader has to see, so it is
/// strong.
Text with_strong_brackets(const std::string& text) {
  const std::size_t open = text.find(" ("), close = text.find(')');
  if (open == std::string::npos || close == std::string::npos || close < open) return {{text, false, ""}};
  return {{text.substr(0, open + 1), false, ""},
          {text.substr(open + 1, close - open), true, ""},
          {text.substr(close + 1), false, ""}};
}

Text act_text(const Act& act) {
  Text text{{act.verb, true, ""}};
  const bool close_up =
      !act.rest.empty() && (act.rest[0] == ',' || act.rest[0] == '.' || act.rest[0] == ':' || act.rest[0] == ';');
  if (!act.rest.empty()) add(text, with_strong_brackets((close_up ? "" : " ") + act.rest));
  return text;
}

bool has_word(const std::string& text, std::string_view word) {
  const auto is_letter = [&](std::size_t i) {
    return i < text.size() && (text[i] == '-' || (text[i] >= 'a' && text[i] <= 'z') || (text[i] >= 'A' && text[i] <= 'Z'));
  };
  for (std::size_t at = text.find(word); at != std::string::npos; at = text.find(word, at + 1)) {
    if (!(at > 0 && is_letter(at - 1)) && !is_letter(at + word.size())) return true;
  }
  return false;
}

/// Words that the observer speaks of herself ("I look at the gloves") are no instruction to the wearer.
bool speaks_of_self(const std::string& text) { return has_word(text, "I"); }

std::string sentence(std::string text) {
  text = wording::capitalised(std::move(text));
  if (!text.empty() && text.back() != '.' && text.back() != '!' && text.back() != '?') text += '.';
  return text;
}

/// Lines of others that ask nothing of the wearer, not even to stand still. Calls and reports bring help: nobody may overlook them.
bool is_paperwork(VerbKind verb) { return verb == VerbKind::record || verb == VerbKind::declare; }

/// How others do their paperwork and their telephoning is told in their own script.
bool is_told_elsewhere(VerbKind verb) { return is_paperwork(verb) || verb == VerbKind::report || verb == VerbKind::call; }

/// Something of the person who acts: her hands, what she wears, or she herself.
bool concerns(const Line& line, model::RoleId person) {
  return line.of == person || std::any_of(line.things.begin(), line.things.end(), [&](const model::Thing& thing) { return thing.of == person || thing.role == person; });
}

class Card final : public CoursePrinter {
 public:
  using CoursePrinter::CoursePrinter;

 protected:
  Block step(const Line& line, const graph::Entry& entry, Level level) override {
    const wording::Setting setting = setting_of(source_, entry);
    const StepText words = wording::step_text(source_.protocol, source_.variant, line, setting);
    Step step;
    step.label = entry.label;
    step.level = level;
    step.critical = is_critical(source_, entry.line);
    if (!words.warning.empty()) {
      step.warnings.push_back(
          {{source_.said(Phrase::warning_before_step, {{"step", entry.label}}) + " ", true, ""}, {words.warning, false, ""}});
    }
    fill_act(step, line, words, entry);
    add_bin(step, line);
    if (!line.details.note.empty()) say_more(step, source_.said(Phrase::note) + " " + sentence(line.details.note));
    fill_fields(step, line, entry);
    return step;
  }

  Block box_step(const Text& text, const graph::Entry& entry, Level level) override {
    Step step;
    step.label = entry.label;
    step.level = level;
    step.act = text;
    return step;
  }

 private:
  static void say_more(Step& step, const std::string& text) {
    if (text.empty()) return;
    step.manner.push_back({(step.manner.empty() ? "" : " ") + text, false, ""});
  }

  wording::Phrase box_phrase() const override { return Phrase::do_box_step; }

  std::string person(model::RoleId role) const { return called(source_, source_.protocol[role]); }

  void fill_act(Step& step, const Line& line, const StepText& words, const graph::Entry& entry) const {
    const bool own = line.who == source_.protocol.acts;
    if (line.verb == VerbKind::inspect && !own) {
      look(step, line, words, entry);
      return;
    }
    if (line.verb == VerbKind::decide) {
      answer(step, line, words, entry);
      return;
    }
    if (is_received(source_.protocol, line)) {
      receive(step, line, words, setting_of(source_, entry).anew);
      return;
    }
    // On somebody else's line "your hands" would be taken for the reader's.
    const bool others = !own && !concerns(line, source_.protocol.acts);
    const auto told = [&](const std::string& text) { return others ? wording::said_of_other(source_.protocol.tongue, text) : text; };
    step.act = act_text({words.act.verb, told(words.act.rest)});
    if (!own) {
      step.act.insert(step.act.begin(), {wording::capitalised(source_.protocol[line.who].name) + ": ", false, ""});
      step.aside = is_paperwork(line.verb);
    }
    const std::string manner_as_written = as_written(entry).manner;
    if (!speaks_of_self(manner_as_written) && (own || !is_told_elsewhere(line.verb) || words.says_own)) say_more(step, told(words.manner));
    if (!own && line.of == source_.protocol.acts && manner_as_written.find("earer") == std::string::npos) {
      say_more(step, source_.said(Phrase::you_stand_still));
    }
  }

  /// The step's texts in the words of its author: what they are about does not depend on the language.
  StepText as_written(const graph::Entry& entry) const {
    return wording::step_text(source_.written, source_.variant, source_.written[entry.line], setting_of(source_, entry));
  }

  /// Somebody else's look: the wearer stands still, or does what the line has her told.
  void look(Step& step, const Line& line, const StepText& words, const graph::Entry& entry) const {
    if (!words.words.empty() && !speaks_of_self(as_written(entry).words)) {
      std::string rest;
      std::string first = wording::first_sentence(words.words, rest);
      if (!first.empty() && first.back() == '.') first.pop_back();
      step.act = act_text(wording::act_from_text(first));
      say_more(step, rest);
    } else {
      step.act = {{source_.said(Phrase::stand_still), true, ""}};
    }
    // The setting would be that of the observer's own hands; of the wearer's nothing is said here.
    std::vector<std::string> things;
    for (const model::Thing& thing : line.things) things.push_back(wording::thing_phrase(source_.protocol, source_.variant, thing, {{}, entry.named}));
    say_more(step, wording::capitalised(source_.said(Phrase::person_looks, {{"person", person(line.who)},
                                                                            {"things", wording::all_of(source_.protocol.tongue, things)},
                                                                            {"findings", wording::findings_phrase(source_.protocol, line.findings)}})));
  }

  void answer(Step& step, const Line& line, const StepText& words, const graph::Entry& entry) const {
    const model::Decision& decision = source_.protocol[line.decision];
    const bool said = words.says_own && !speaks_of_self(as_written(entry).words);
    if (line.who != source_.protocol.acts && !said) {
      step.act = {{source_.said(Phrase::wait), true, ""},
                  {" " + source_.said(Phrase::while_person_decides, {{"person", person(line.who)}, {"decision", decision.name}}), false, ""}};
    } else {
      const std::string asked = said ? words.words : source_.said(Phrase::question_mark, {{"question", decision.name}});
      step.act = {{source_.said(Phrase::answer), true, ""}, {" " + asked, false, ""}};
    }
    say_more(step, sentence(wording::any_of(source_.protocol.tongue, decision.answers)));
  }

  /// Something is handed to the wearer: told from the side of the person who takes it.
  void receive(Step& step, const Line& line, const StepText& words, bool anew) const {
    step.act = act_text(act_received(source_, line, words, anew));
    say_more(step, words.manner);
  }

  /// Where the thing goes is a field of the card, so that no wording can lose it.
  void add_bin(Step& step, const Line& line) const {
    if (const std::string bin = bin_of(source_, line); !bin.empty()) say_more(step, source_.said(Phrase::into_bin, {{"bin", bin}}));
  }

  void fill_fields(Step& step, const Line& line, const graph::Entry& entry) const {
    const Clock clock = clock_of(source_, entry);
    if (clock.time.seconds > 0)
      step.clock = wording::duration_phrase(clock.time);
    else if (line.verb == VerbKind::wait && !line.wait_contact_time)
      step.clock = wording::duration_phrase(line.wait);
    say_more(step, clock.shorter);
    if (const std::string length = wording::length_phrase(source_.protocol.tongue, line); !length.empty()) say_more(step, wording::capitalised(length) + ".");
    if (line.without_waiting) say_more(step, source_.said(Phrase::do_not_wait));
    if (const auto asides = source_.facts.set_aside.find(entry.line); asides != source_.facts.set_aside.end())
      for (const WalkFacts::SetAside& aside : asides->second) step.side.push_back(source_.said(Phrase::set_aside) + " " + source_.said(Phrase::rule_number, {{"rule", aside.number}}));
    if (line.verb != VerbKind::doff || line.who != source_.protocol.acts) return;
    const std::string hands = hands_afterwards(source_, entry.line);
    if (!hands.empty()) step.side.push_back(hands);
  }
};

}  // namespace

std::string named_after(const model::Protocol& protocol) { return protocol.acts ? protocol[protocol.acts].name : protocol.roles.front().name; }

std::string no_name_words(const PaperSource& source, Phrase which) {
  const model::RoleId acts = source.protocol.acts;
  const bool alone = std::none_of(source.protocol.lines.begin(), source.protocol.lines.end(), [&](const Line& line) { return line.who && line.who != acts; });
  return alone ? std::string() : source.said(which, {{"person", named_after(source.protocol)}});
}

namespace {

/// Of what somebody calls out or reports, "I" is that person.
bool is_quoted(const PaperSource& source, const std::string& label) {
  const auto lines = source.course.lines_at.find(label);
  if (lines == source.course.lines_at.end()) return false;
  const VerbKind verb = source.protocol[lines->second.front()].verb;
  return verb == VerbKind::call || verb == VerbKind::report;
}

bool says_i(const PaperSource& source, const std::vector<Block>& blocks) {
  return std::any_of(blocks.begin(), blocks.end(), [&](const Block& block) {
    const auto* step = std::get_if<Step>(&block);
    if (!step || is_quoted(source, step->label)) return false;
    const std::string text = plain_text(step->act) + " " + plain_text(step->manner);
    return has_word(text, "I") || has_word(text, "me") || has_word(text, "my");
  });
}

/// Texts are written to be read aloud: on a card somebody has to be told who "me" is. Found in the author's words, whatever the language.
std::string who_says_i(const PaperSource& source, const std::vector<Block>& blocks, std::vector<Block> (CoursePrinter::*print)()) {
  const model::RoleId reader = reader_of(source.protocol);
  if (!reader || reader == source.protocol.acts) return {};
  const PaperSource as_written{source.written, source.written, source.variant, source.course, source.facts};
  const bool said = &source.protocol == &source.written ? says_i(source, blocks) : says_i(as_written, (Card(as_written).*print)());
  return said ? source.said(Phrase::who_says_i, {{"person", source.protocol[reader].name}}) : std::string();
}

}  // namespace

std::vector<Block> card_blocks(const PaperSource& source) { return Card(source).print(); }

Sheet wearers_card(const model::Protocol& protocol, const model::Variant& variant, const graph::Course& course,
                   const WalkFacts& facts, const model::Protocol& written) {
  const PaperSource source{protocol, written, variant, course, facts};
  Sheet sheet = begun_sheet(source, SheetKind::card, wording::capitalised(source.said(Phrase::persons_card, {{"person", named_after(protocol)}})));
  sheet.control.reminder = no_name_words(source);
  sheet.blocks = card_blocks(source);
  if (const std::string who = who_says_i(source, sheet.blocks, &CoursePrinter::print); !who.empty()) sheet.control.reminder = no_name_words(source, Phrase::no_name_in_short) + " " + who;
  stamp(sheet);
  return sheet;
}

std::optional<Sheet> breach_card(const PaperSource& source) {
  if (source.course.breaches.empty()) return std::nullopt;
  Sheet sheet = begun_sheet(source, SheetKind::breach, source.said(Phrase::breach_card));
  sheet.control.reminder = source.said(Phrase::use_of_breach_card, {{"person", named_after(source.protocol)}});
  if (const std::string whose = no_name_words(source, Phrase::no_name_in_short); !whose.empty()) sheet.control.reminder += " " + whose;
  sheet.blocks = Card(source).print_breaches();
  if (const std::string who = who_says_i(source, sheet.blocks, &CoursePrinter::print_breaches); !who.empty()) sheet.control.reminder += " " + who;
  stamp(sheet);
  return sheet;
}

}  // namespace stepward::emit
