#include "generator.hpp"

#include <algorithm>
#include <initializer_list>
#include <random>
#include <set>
#include <vector>

#include "random_kit.hpp"

namespace stepward::oracle {
namespace {

/// Writes the phases, routines and interruptions of one procedure.
class Writer {
 public:
  Writer(Dice& dice, const Kit& kit) : dice_(dice), kit_(kit), worn_(kit.starts_with.begin(), kit.starts_with.end()) {
    care_ = dice_.one_of<int>({80, 93, 98, 100, 100, 100, 100});
    zone_ = kit.is_entry ? kit.low : "hot room";
  }

  std::string phases() {
    open("phase \"Arrive\"");
    arrive();
    close("phase");
    open("phase \"Work through the layers\"");
    kit_.is_entry ? dress() : undress();
    close("phase");
    open("phase \"Leave\"");
    leave();
    close("phase");
    return text_;
  }

  std::string handlers() {
    text_.clear();
    for (int at = 0; at < kit_.interruptions; ++at) handler(at);
    return text_;
  }

  std::string routine() {
    text_.clear();
    open("routine see to it");
    line("given place, any surface");
    line("clean soil from place");
    disinfect_hands("wearer");
    close("routine");
    return text_;
  }

 private:
  Dice& dice_;
  const Kit& kit_;
  std::string text_;
  std::string zone_;
  std::set<std::string> worn_;
  int care_ = 100;
  int depth_ = 0;
  bool in_handler_ = false;
  int decided_ = 0;

  // ---------------------------------------------------------------- text

  void line(const std::string& what) {
    text_ += std::string(static_cast<std::size_t>(depth_) * 2, ' ') + what + length_of(what) + "\n";
  }

  /// Now and then a line says how long it takes.
  std::string length_of(const std::string& what) {
    static const std::vector<std::string> may = {"act ", "inspect ", "record ", "report ", "call ", "disinfect ",
                                                 "test ", "take off ", "put on ", "declare "};
    const bool can = std::any_of(may.begin(), may.end(), [&](const std::string& verb) { return what.rfind(verb, 0) == 0; });
    if (!can || !dice_.percent(15)) return {};
    const std::string least = dice_.percent(60) ? " at least " + dice_.one_of<std::string>({"15", "30"}) + " seconds" : "";
    return least + (dice_.percent(60) ? " at most " + dice_.one_of<std::string>({"30 seconds", "1 minute"}) : "");
  }
  void open(const std::string& what) {
    line(what);
    ++depth_;
  }
  void middle(const std::string& what) {
    --depth_;
    line(what);
    ++depth_;
  }
  void close(const std::string& what) {
    --depth_;
    line("end " + what);
  }

  bool careful() { return dice_.percent(care_); }
  bool wears(const std::string& item) const { return worn_.count(item) > 0; }
  std::string looker() { return kit_.has_observer && dice_.percent(70) ? "observer" : "wearer"; }

  // ---------------------------------------------------------------- single lines

  std::string agent_for(const std::string& who) {
    if (!careful()) return dice_.one_of<std::string>({"rub", "chlorine"});
    if (who == "helper") return "rub";
    const bool gloved = wears("inner gloves") || wears("outer gloves");
    return gloved && dice_.percent(50) ? "chlorine" : "rub";
  }

  void disinfect_hands(const std::string& who) {
    const std::string prefix = who == "wearer" ? "" : who + " disinfects ";
    line((prefix.empty() ? "disinfect " : prefix) + std::string("hands with ") + agent_for(who));
  }

  void maybe_disinfect_hands() {
    if (careful()) disinfect_hands("wearer");
  }

  void paperwork() {
    switch (dice_.below(6)) {
      case 0: line("record log sheet"); break;
      case 1: line("report \"how it goes\" to shift leader"); break;
      case 2: line("call \"next step\""); break;
      case 3: line("wait 2 minutes"); break;
      case 4: line("declare exposure"); break;
      default: line("act \"breathe slowly\""); break;
    }
  }

  void touch_something() {
    const std::string thing = dice_.one_of<std::string>({"bench", "bin", "bin", "patch", "patch", "torso"});
    if (thing == "patch" && careful() && !wears("inner gloves")) return;
    line("act \"lean on it\" touching " + thing);
    if (thing != "bench") maybe_disinfect_hands();
  }

  void wild_line() {
    const std::string item = dice_.one_of(kit_.items);
    switch (dice_.below(9)) {
      case 0:
        line("take off " + item + " using pull");
        worn_.erase(item);
        break;
      case 1:
        line("put on " + item + " using plain wear");
        worn_.insert(item);
        break;
      case 2: line("disinfect " + item + " with " + dice_.one_of<std::string>({"rub", "chlorine"})); break;
      case 3: line("act \"scratch\" touching face"); break;
      case 4: line("clean soil from " + item); break;
      case 5: line("take 1 " + item); break;
      case 6: line("move to " + dice_.one_of(kit_.zones)); break;
      case 7: line("test mask using seal check"); break;
      default: line("inspect " + item + " for soil or tear"); break;
    }
  }

  // ---------------------------------------------------------------- looks and what follows them

  std::string finding_list(const std::vector<std::string>& findings) {
    std::string list;
    for (const std::string& finding : findings) list += (list.empty() ? "" : " or ") + finding;
    return list;
  }

  void look_at(const std::string& item) {
    std::vector<std::string> findings;
    if (dice_.percent(80)) findings.push_back("soil");
    if (dice_.percent(35)) findings.push_back("tear");
    if (dice_.percent(15)) findings.push_back("gap");
    if (findings.empty()) findings.push_back("soil");
    const std::string who = looker();
    line(who + " inspects " + item + " for " + finding_list(findings));
    for (const std::string& finding : findings) {
      if (dice_.percent(care_ < 100 ? 90 : 100)) see_to(item, finding);
    }
  }

  void see_to(const std::string& item, const std::string& finding) {
    open("if " + finding + " on " + item);
    if (finding == "soil") clean(item);
    if (finding == "tear") give_up_or_tell(item);
    if (finding == "gap") close_gap(item);
    if (dice_.percent(15)) {
      middle("otherwise");
      paperwork();
    }
    close("if");
  }

  void clean(const std::string& item) {
    if (dice_.percent(30)) return line("do see to it given place is " + item);
    line("clean soil from " + item);
    maybe_disinfect_hands();
  }

  void give_up_or_tell(const std::string&) {
    if (careful()) line("report \"a tear\" to shift leader");
    if (careful()) line("declare exposure");
    if (dice_.percent(40)) line("finish as stopped");
  }

  void close_gap(const std::string& item) {
    if (careful()) line("declare exposure");
    line("act \"close the gap\" touching " + item);
    maybe_disinfect_hands();
  }

  void decide() {
    const std::string name = decided_++ % 2 == 0 ? "fit" : "mood";
    const bool too_late = !careful() && dice_.percent(30);
    if (!too_late) line("decide " + name + " as good or poor");
    open("if " + name + " is poor");
    if (dice_.percent(25))
      line("finish as stopped");
    else
      paperwork();
    if (dice_.percent(30)) {
      middle("otherwise if " + name + " is good");
      paperwork();
    }
    close("if");
    if (too_late) line("decide " + name + " as good or poor");
  }

  void loop_on(const std::string& item) {
    const bool on_soil = dice_.percent(50);
    open("repeat at most " + std::to_string(1 + dice_.below(3)) + " times");
    if (on_soil) {
      line(looker() + " inspects " + item + " for soil");
      open("if soil on " + item);
      line("clean soil from " + item);
      maybe_disinfect_hands();
      line("inspect " + item + " for soil");
      close("if");
      middle("until no soil on " + item);
    } else {
      if (wears("mask") && dice_.percent(50)) line("test mask using seal check");
      line("decide fit as good or poor");
      middle("until fit is good");
    }
    middle("if still not");
    if (dice_.percent(60))
      line("finish as stopped");
    else
      paperwork();
    close("repeat");
  }

  void ask_something() {
    const std::string who = dice_.one_of(kit_.people);
    open("if " + dice_.one_of<std::string>({dice_.one_of(kit_.items) + " is worn", "hands are bare",
                                            dice_.one_of(kit_.items) + " is not worn by " + who,
                                            who + " is in " + dice_.one_of(kit_.zones), "exposure was declared",
                                            "log sheet was not recorded", "hands of wearer are not bare"}));
    paperwork();
    if (dice_.percent(40)) {
      middle("otherwise");
      paperwork();
    }
    close("if");
  }

  void start_watch() {
    const std::string least = dice_.percent(35) ? " at least " + dice_.one_of<std::string>({"1", "3"}) + " minutes" : "";
    line("start timer watch" + least +
         (dice_.percent(50) ? " at most " + dice_.one_of<std::string>({"4", "10", "30"}) + " minutes" : ""));
  }

  /// Two people at once, each with one to three lines, on things that they do not share.
  void at_once() {
    const std::string other = kit_.has_helper && (!kit_.has_observer || dice_.percent(50)) ? "helper" : "observer";
    open("together");
    for (std::size_t count = 1 + dice_.below(2); count > 0; --count) wearers_share();
    for (std::size_t count = 1 + dice_.below(3); count > 0; --count) {
      switch (dice_.below(5)) {
        case 0: line(other + " disinfects hands with rub"); break;
        case 1: line(other + " acts \"hold the bin\" touching bin"); break;
        case 2: line(other + " inspects mask for soil"); break;
        case 3: line(other + " waits 30 seconds"); break;
        default: line(other + " records log sheet"); break;
      }
    }
    close("together");
  }
  void wearers_share() {
    switch (dice_.below(5)) {
      case 0: line("disinfect hands with rub"); break;
      case 1: line("act \"wipe it\" touching patch"); break;
      case 2: line("wait 2 minutes"); break;
      case 3: line("take off outer gloves using peel"); break;
      default: line("act \"stand still\""); break;
    }
  }

  // ---------------------------------------------------------------- taking off and putting on

  std::string removal_of(const std::string& item) {
    if (item == "inner gloves" || item == "outer gloves") return dice_.one_of<std::string>({"peel", "peel", "roll"});
    if (item == "gown" || item == "coverall" || item == "suit choice")
      return dice_.one_of<std::string>({"untie", "untie", "whole way up"});
    if (item == "mask" || item == "visor") return "straps first";
    return "pull";
  }

  void take_off(const std::string& item) {
    const bool helped = kit_.has_helper && dice_.percent(12);
    if (helped) {
      if (careful()) disinfect_hands("helper");
      line("helper takes off " + item + " of wearer using " + removal_of(item));
      if (careful()) disinfect_hands("helper");
    } else {
      line("take off " + item + " using " + removal_of(item));
    }
    worn_.erase(item);
    maybe_disinfect_hands();
  }

  void wipe(const std::string& item) {
    if (dice_.percent(60)) return line("disinfect " + item + " with chlorine");
    leave_wet(item);
    if (dice_.percent(10)) leave_wet(worn_item());
    if (careful()) line("wait contact time");
    if (kit_.has_helper && dice_.percent(10)) line("helper waits contact time");
  }

  /// By whom, with what and how much of it: whose waiting ends it, what is then done, and whether to the whole.
  void leave_wet(const std::string& item) {
    const bool gloves = item.find("gloves") != std::string::npos;
    // What leaves things sterile has to be waited for.
    const std::string agent = kit_.has_sterile || !gloves || dice_.percent(60) ? "chlorine" : "rub";
    const std::string thing = !gloves && item != "scrubs" && item != "apron" && dice_.percent(15) ? "front of " + item : item;
    if (kit_.has_helper && dice_.percent(10)) return line("helper disinfects " + thing + " of wearer with " + agent + " without waiting");
    line("disinfect " + thing + " with " + agent + " without waiting");
  }

  void pass_or_take(const std::string& item) {
    if (kit_.has_helper && dice_.percent(65)) {
      if (careful()) disinfect_hands("helper");
      line("helper passes 1 " + item + " to wearer");
    } else {
      line("take 1 " + item);
    }
    if (dice_.percent(40)) {
      line("inspect " + item + " for tear");
      open("if tear on " + item);
      if (careful()) line("take 1 " + item);
      line("record spoilt " + std::string(item.find("gloves") != std::string::npos ? "gloves" : "item"));
      close("if");
    }
  }

  void put_on(const std::string& item) {
    if (dice_.percent(70)) pass_or_take(item);
    const bool helped = kit_.has_helper && dice_.percent(15);
    line(helped ? "helper puts on " + item + " of wearer using plain wear" : "put on " + item + " using plain wear");
    worn_.insert(item);
  }

  /// Two layers in one line, mostly in the order in which they lie.
  void put_on_both(const std::string& item, const std::string& next) {
    const bool turned = !careful();
    line("put on " + (turned ? next : item) + " and " + (turned ? item : next) + " using plain wear");
    worn_.insert(item);
    worn_.insert(next);
  }

  // ---------------------------------------------------------------- the three phases

  /// Something that can be seen, if whoever writes this is careful and anything is worn.
  std::string worn_item() {
    std::vector<std::string> can_be_seen;
    for (const std::string& item : kit_.seen) {
      const bool is_covered = item == "inner gloves" && wears("outer gloves");
      if (wears(item) && !is_covered) can_be_seen.push_back(item);
    }
    return can_be_seen.empty() || !careful() ? dice_.one_of(kit_.seen) : dice_.one_of(can_be_seen);
  }

  void extras(int share) {
    if (worn_.empty() && careful()) return paperwork();
    if (dice_.percent(share)) look_at(worn_item());
    if (dice_.percent(share)) ask_something();
    if (dice_.percent(share / 2)) decide();
    if (dice_.percent(share / 3)) touch_something();
    if (dice_.percent(share / 3)) loop_on(worn_item());
    if (dice_.percent(share / 2)) paperwork();
    if (kit_.has_helper || kit_.has_observer) {
      if (dice_.percent(share / 3)) at_once();
    }
    if (dice_.percent((100 - care_) * 2)) wild_line();
  }

  void arrive() {
    paperwork();
    if (kit_.has_timer && (careful() || dice_.percent(50))) start_watch();
    if (!kit_.is_entry && kit_.middle != kit_.low && dice_.percent(90)) {
      line("move to " + kit_.middle);
      zone_ = kit_.middle;
    }
    if (careful() && !kit_.is_entry) {
      line(looker() + " inspects " + hands_item() + " for soil");
      see_to(hands_item(), "soil");
    }
    maybe_disinfect_hands();
    extras(45);
  }

  std::string hands_item() const { return wears("outer gloves") ? "outer gloves" : "inner gloves"; }

  /// From the outside in; now and then two layers change places or leave together.
  void undress() {
    std::vector<std::string> order = kit_.order_off;
    if (!careful() && order.size() > 1) {
      const std::size_t at = dice_.below(order.size() - 1);
      std::swap(order[at], order[at + 1]);
    }
    for (std::size_t at = 0; at < order.size(); ++at) {
      const std::string& item = order[at];
      if (careful() && dice_.percent(60)) look_at(item);
      if (dice_.percent(15)) wipe(item);
      if (item == "apron" && wears("outer gloves") && dice_.percent(40)) {
        line("take off apron and outer gloves together using bundle");
        worn_.erase("apron");
        worn_.erase("outer gloves");
        order.erase(std::remove(order.begin(), order.end(), "outer gloves"), order.end());
        maybe_disinfect_hands();
      } else {
        take_off(item);
      }
      if (item == "outer gloves" && dice_.percent(25)) put_on_again();
      extras(14);
    }
  }

  void put_on_again() {
    maybe_disinfect_hands();
    put_on("outer gloves");
    line("disinfect hands with rub");
    take_off("outer gloves");
  }

  void dress() {
    std::vector<std::string> order(kit_.order_off.rbegin(), kit_.order_off.rend());
    for (std::size_t at = 0; at < order.size(); ++at) {
      const std::string& item = order[at];
      if (careful()) disinfect_hands("wearer");
      if (at + 1 < order.size() && dice_.percent(9)) {
        put_on_both(item, order[++at]);
        continue;
      }
      put_on(item);
      if (item == "mask" && dice_.percent(60)) line("test mask using seal check");
      extras(30);
    }
  }

  void leave() {
    extras(20);
    if (kit_.has_timer && (careful() || dice_.percent(50))) line("stop timer watch");
    if (kit_.is_entry) {
      if (kit_.middle != kit_.low) line("move to " + kit_.middle);
      line("move to hot room");
      if (kit_.has_observer && dice_.percent(60)) look_at("outer gloves");
    } else {
      if (dice_.percent(90)) line("move to " + kit_.low);
      maybe_disinfect_hands();
    }
    if (dice_.percent(98)) line("finish as cleared");
  }

  // ---------------------------------------------------------------- interruptions

  void handler(int at) {
    in_handler_ = true;
    open(at == 0 ? "any time first mishap" : "any time second mishap");
    const std::string item = dice_.one_of(kit_.items);
    const std::string who = dice_.one_of(kit_.people);
    switch (dice_.below(9)) {
      case 0: line("happens face is soiled"); break;
      case 1: line("happens " + item + " is soiled"); break;
      case 2: line("happens bench is soiled"); break;
      case 3: line("happens " + item + " is torn"); break;
      case 4: line("happens " + who + " touches " + dice_.one_of<std::string>({"wearer", "patch", "bin"})); break;
      case 5: line("happens " + who + " falls"); break;
      case 6: line("happens torso is soiled"); break;
      default: line("happens nothing of its own"); break;
    }
    line(dice_.one_of<std::string>({"disinfect hands with rub", "call \"a second pair of eyes\""}));
    if (dice_.percent(50)) paperwork();
    if (careful()) line("declare exposure");
    if (dice_.percent(35)) ask_something();
    line(dice_.percent(70) ? "resume" : "finish as stopped");
    close("any time");
  }
};

/// A record exists by being made: whoever asks for the log sheet needs a line that writes it.
void introduce_log_sheet(std::string& steps, const std::string& rules) {
  const bool is_asked = (steps + rules).find("log sheet") != std::string::npos;
  if (is_asked && steps.find("record log sheet") == std::string::npos) {
    steps.insert(steps.find('\n') + 1, "  record log sheet\n");
  }
}

/// A rule may name a step by what it is known as: one of the lines that take such a name gets it.
void mark_a_step(std::string& steps, const std::string& rules, Dice& dice) {
  if (rules.find("marked step") == std::string::npos) return;
  std::vector<std::size_t> ends;
  for (std::size_t at = 0; at < steps.size();) {
    const std::size_t begin = steps.find_first_not_of(' ', at), end = std::min(steps.find('\n', at), steps.size());
    for (const char* verb : {"act ", "wait ", "disinfect ", "clean soil ", "inspect ", "test ", "take off ", "take ", "move ", "declare ", "record ", "call "}) {
      if (steps.compare(begin, std::string(verb).size(), verb) == 0) ends.push_back(end);
    }
    at = end + 1;
  }
  if (ends.empty()) {
    steps.insert(steps.find('\n') + 1, "  wait 30 seconds\n    known as marked step\n");
  } else {
    steps.insert(dice.one_of(ends), "\n    known as marked step");
  }
}

}  // namespace

std::string random_procedure(std::uint64_t number) {
  Dice dice(number);
  const Kit kit = random_kit(dice);
  Writer writer(dice, kit);
  std::string steps = writer.phases();
  const std::string routine = writer.routine();
  if (steps.find("see to it") != std::string::npos) steps += "\n" + routine;
  steps += "\n" + writer.handlers();
  const std::string rules = random_rules(dice, kit);
  introduce_log_sheet(steps, rules);
  const bool asks_watch = (steps + rules).find("timer watch") != std::string::npos;
  if (asks_watch && steps.find("start timer watch") == std::string::npos) {
    steps.insert(steps.find('\n') + 1, "  start timer watch\n");
  }
  mark_a_step(steps, rules, dice);
  return kit.text + "\n" + steps + "\n" + rules;
}

}  // namespace stepward::oracle
