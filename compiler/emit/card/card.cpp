#include "emit/card/card.hpp"

#include <fmt/format.h>

#include "emit/course_printer.hpp"
#include "emit/document/check_words.hpp"
#include "model/variants.hpp"
#include "wording/act_phrases.hpp"

namespace stepward::emit {

using model::Line;
using model::VerbKind;
using wording::Act;
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

bool is_word_i(const std::string& text, std::size_t at) {
  const auto is_letter = [&](std::size_t i) {
    return i < text.size() &&
           (text[i] == '-' || (text[i] >= 'a' && text[i] <= 'z') || (text[i] >= 'A' && text[i] <= 'Z'));
  };
  return text[at] == 'I' && !(at > 0 && is_letter(at - 1)) && !is_letter(at + 1);
}

/// Words that the observer speaks of herself ("I look at the gloves") are no instruction to the wearer.
bool speaks_of_self(const std::string& text) {
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (is_word_i(text, i)) return true;
  }
  return false;
}

std::string sentence(std::string text) {
  text = wording::capitalised(std::move(text));
  if (!text.empty() && text.back() != '.' && text.back() != '!' && text.back() != '?') text += '.';
  return text;
}

/// Lines of others that ask nothing of the wearer, not even to stand still.
bool is_paperwork(VerbKind verb) {
  return verb == VerbKind::record || verb == VerbKind::report || verb == VerbKind::call || verb == VerbKind::declare;
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
    step.critical = !line.details.critical_because.empty();
    if (!words.warning.empty()) {
      step.warnings.push_back(
          {{fmt::format("WARNING before step {}. ", entry.label), true, ""}, {words.warning, false, ""}});
    }
    fill_act(step, line, words, entry);
    add_bin(step, line);
    if (!line.details.note.empty()) say_more(step, "Note: " + sentence(line.details.note));
    fill_fields(step, line, entry);
    return step;
  }

  Block box_step(const Text& text, const graph::Entry& entry, Level level) override {
    Step step;
    step.label = entry.label;
    step.level = level;
    step.act = text;
    step.act.front() = {"DO box ", true, ""};
    return step;
  }

 private:
  static void say_more(Step& step, const std::string& text) {
    if (text.empty()) return;
    step.manner.push_back({(step.manner.empty() ? "" : " ") + text, false, ""});
  }

  std::string role_name(model::RoleId role) const { return source_.protocol[role].name; }

  void fill_act(Step& step, const Line& line, const StepText& words, const graph::Entry& entry) const {
    const bool own = line.who == source_.protocol.acts;
    if (line.verb == VerbKind::inspect && !own) {
      look(step, line, words, entry.named);
      return;
    }
    if (line.verb == VerbKind::decide) {
      answer(step, line, words);
      return;
    }
    if (line.verb == VerbKind::pass && line.to == source_.protocol.acts) {
      receive(step, line, words);
      return;
    }
    step.act = act_text(words.act);
    if (!own) {
      step.act.insert(step.act.begin(), {wording::capitalised(role_name(line.who)) + ": ", false, ""});
      step.aside = is_paperwork(line.verb);
    }
    // How others do their paperwork is told in their own script.
    if (!speaks_of_self(words.manner) && (!step.aside || words.says_own)) say_more(step, words.manner);
    if (!own && line.of == source_.protocol.acts && words.manner.find("earer") == std::string::npos) {
      say_more(step, "You: stand still, hands down.");
    }
  }

  /// Somebody else's look: the wearer stands still, or does what the line has her told.
  void look(Step& step, const Line& line, const StepText& words, const std::vector<model::Thing>& named) const {
    // The setting would be that of the observer's own hands; of the wearer's nothing is said here.
    const Act looked = wording::act_phrase(source_.protocol, source_.variant, line, {{}, named});
    if (!words.words.empty() && !speaks_of_self(words.words)) {
      std::string rest;
      std::string first = wording::first_sentence(words.words, rest);
      if (!first.empty() && first.back() == '.') first.pop_back();
      step.act = act_text(wording::act_from_text(first));
      say_more(step, rest);
    } else {
      step.act = {{"STAND STILL", true, ""}};
    }
    say_more(step, fmt::format("The {} looks {}.", role_name(line.who), looked.rest));
  }

  void answer(Step& step, const Line& line, const StepText& words) const {
    const model::Decision& decision = source_.protocol[line.decision];
    const bool said = words.says_own && !speaks_of_self(words.words);
    step.act = {{"ANSWER", true, ""}, {" " + (said ? words.words : decision.name + "?"), false, ""}};
    if (line.who != source_.protocol.acts && !said) {
      step.act = {{"WAIT", true, ""},
                  {fmt::format(" while the {} decides: {}", role_name(line.who), decision.name), false, ""}};
    }
    say_more(step, sentence(wording::joined(decision.answers, " or ")));
  }

  /// Something is handed to the wearer: told from the side of the person who takes it.
  void receive(Step& step, const Line& line, const StepText& words) const {
    const std::string counted =
        line.things.empty() ? std::string()
                            : wording::counted_phrase(source_.protocol, source_.variant, line.count, line.things[0]);
    if (words.act.verb == "TAKE")
      step.act = act_text(words.act);
    else
      step.act = act_text({"TAKE", fmt::format("{} from the {}", counted, role_name(line.who))});
    say_more(step, words.manner);
  }

  /// Where the thing goes is a field of the card, so that no wording can lose it.
  void add_bin(Step& step, const Line& line) const {
    for (const auto& thing : line.things) {
      const auto item = model::item_of(source_.protocol, thing, source_.variant);
      if (!item || line.verb != VerbKind::doff) continue;
      const auto technique = model::technique_of(source_.protocol, line, item);
      if (!technique || source_.protocol[technique].drops_into.empty()) continue;
      say_more(step, fmt::format("Into the {}.", source_.protocol[technique].drops_into));
      return;
    }
  }

  void fill_fields(Step& step, const Line& line, const graph::Entry& entry) const {
    const Clock clock = clock_of(source_, entry);
    if (clock.time.seconds > 0)
      step.clock = wording::duration_phrase(clock.time);
    else if (line.verb == VerbKind::wait && !line.wait_contact_time)
      step.clock = wording::duration_phrase(line.wait);
    say_more(step, clock.shorter);
    if (const std::string length = wording::length_phrase(line); !length.empty()) say_more(step, wording::capitalised(length) + ".");
    if (line.without_waiting) say_more(step, "Do not wait here.");
    if (const auto asides = source_.facts.set_aside.find(entry.line); asides != source_.facts.set_aside.end())
      for (const WalkFacts::SetAside& aside : asides->second) step.side.push_back("SET ASIDE: rule " + aside.number);
    if (line.verb != VerbKind::doff || line.who != source_.protocol.acts) return;
    const std::string hands = hands_afterwards(source_, entry.line);
    if (!hands.empty()) step.side.push_back(hands);
  }
};

}  // namespace

Sheet wearers_card(const model::Protocol& protocol, const model::Variant& variant, const graph::Course& course,
                   const WalkFacts& facts) {
  const PaperSource source{protocol, variant, course, facts};
  Sheet sheet;
  sheet.kind = SheetKind::card;
  sheet.control = control_block(source, "Wearer’s card");
  sheet.blocks = Card(source).print();
  stamp(sheet);
  return sheet;
}

}  // namespace stepward::emit
