#include "random_kit.hpp"

#include <algorithm>

namespace stepward::oracle {
namespace {

const char* const document = R"(stepward 1 protocol

document
  title       "A random procedure"
  number      RND-1
  version     1.0
  status      draft
  written by  "the generator", "tests"
end document

)";

std::string joined(const std::vector<std::string>& names) {
  std::string list;
  for (const std::string& name : names) list += (list.empty() ? "" : ", ") + name;
  return list;
}

class KitWriter {
 public:
  explicit KitWriter(Dice& dice) : dice_(dice) {}

  Kit write() {
    choose();
    kit_.text = document;
    if (dice_.percent(25)) kit_.text += "reading perfect hands\n\n";
    zones();
    people();
    body_and_findings();
    items();
    places_and_agents();
    techniques();
    wording();
    frame();
    return kit_;
  }

 private:
  Dice& dice_;
  Kit kit_;
  bool has_gown_ = false, has_choice_ = false, has_apron_ = false, has_visor_ = false, has_scrubs_ = false;

  void add(const std::string& text) { kit_.text += text; }
  std::string maybe(int percent, const std::string& text) { return dice_.percent(percent) ? text : std::string(); }

  void choose() {
    kit_.is_entry = dice_.percent(25);
    kit_.has_helper = dice_.percent(40);
    kit_.has_observer = dice_.percent(45);
    kit_.has_timer = dice_.percent(30);
    kit_.has_sterile = dice_.percent(25);
    kit_.interruptions = dice_.one_of<int>({0, 1, 1, 1, 2, 2, 2, 2});
    const bool three_zones = dice_.percent(65);
    kit_.low = "white hall";
    kit_.middle = three_zones ? "grey bay" : "white hall";
    kit_.zones = {"hot room", "white hall"};
    if (three_zones) kit_.zones.push_back("grey bay");
    kit_.people = {"wearer"};
    if (kit_.has_helper) kit_.people.push_back("helper");
    if (kit_.has_observer) kit_.people.push_back("observer");
    has_gown_ = dice_.percent(60);
    has_choice_ = has_gown_ && dice_.percent(25);
    has_apron_ = dice_.percent(45);
    has_visor_ = dice_.percent(30);
    has_scrubs_ = dice_.percent(60);
    choose_worn();
  }

  void choose_worn() {
    const std::string suit = has_choice_ ? "suit choice" : "gown";
    if (has_apron_) kit_.order_off.push_back("apron");
    kit_.order_off.push_back("outer gloves");
    if (has_visor_) kit_.order_off.push_back("visor");
    if (has_gown_) kit_.order_off.push_back(suit);
    kit_.order_off.push_back("mask");
    kit_.order_off.push_back("inner gloves");
    kit_.items = kit_.order_off;
    kit_.seen = {"outer gloves", "inner gloves", "mask"};
    if (has_gown_) kit_.seen.push_back(suit);
    if (!kit_.is_entry) kit_.starts_with.assign(kit_.order_off.rbegin(), kit_.order_off.rend());
  }

  void zones() {
    const bool three = kit_.middle == "grey bay";
    add("zone hot room\n  risk high\n  exposes " + dice_.one_of<std::string>({"all round", "front only"}) + "\n" +
        maybe(35, "  needs gloves" + maybe(40, ", face cover") + "\n") + "  leads to " + kit_.middle +
        maybe(20, " letting through mask") + "\nend zone\n\n");
    if (three) {
      add("zone grey bay\n  risk middle\n" + maybe(15, "  exposes front only\n") + maybe(15, "  needs face cover\n") +
          "  leads to hot room\n  leads to white hall" + maybe(30, " letting through any face cover") + "\n" +
          maybe(50, "  in sight of white hall\n") + "end zone\n\n");
    }
    add("zone white hall\n  risk low\n  leads to " + kit_.middle + "\n");
    add(std::string(three ? "" : "  leads to hot room\n") + "end zone\n\n");
  }

  void people() {
    for (const std::string& who : kit_.people) {
      add("role " + who + "\n  may enter " + (dice_.percent(95) ? joined(kit_.zones) : "hot room, white hall") + "\n");
      if (who == "observer" && dice_.percent(60)) add("  keeps hands off wearer\n");
      add("  source local \"test\"\nend role\n\n");
    }
  }

  void body_and_findings() {
    add("body site bare hands is skin, these are the hands\nbody site face is mucous\nbody site torso is skin\n\n"
        "kind gloves\nkind suit\nkind face cover\nkind clothing\nkind apron stuff\nkind hard surface\n\n");
    add("finding soil\n  means surface soiled\n  answered by " +
        dice_.one_of<std::string>({"cleaning", "cleaning, removal", "cleaning, reporting"}) + "\n  before " +
        dice_.one_of<std::string>({"any removal", "any removal", "normal ending"}) + "\nend finding\n\n");
    add("finding tear\n  means barrier broken\n  answered by " +
        dice_.one_of<std::string>({"removal, reporting", "removal, reporting", "removal, declaring exposure"}) +
        "\n  before " + dice_.one_of<std::string>({"any removal", "any ending", "normal ending"}) +
        "\nend finding\n\n");
    add("finding gap\n  means skin showing\n  answered by declaring exposure\n  before " +
        dice_.one_of<std::string>({"any ending", "normal ending"}) + "\nend finding\n\n");
  }

  std::string rests(int percent) { return maybe(percent, "  inside rests on what it covers\n"); }

  void items() {
    if (has_scrubs_) {
      add("item scrubs\n  kind clothing\n  worn on torso\n  clothing\n  surfaces outside\n  stays on\nend item\n\n");
    }
    add("item inner gloves\n  kind gloves\n  worn on bare hands\n  surfaces outside, cuff sheltered, inside\n" +
        rests(45) + begins_sterile(40) + "end item\n\n");
    add("item outer gloves\n  kind gloves\n  worn on bare hands\n  surfaces outside, cuff, inside\n  goes over inner "
        "gloves\n" +
        rests(55) + (has_gown_ ? maybe(60, suit_sleeves()) : std::string()) + "end item\n\n");
    add("item mask\n  kind face cover\n  worn on face\n  surfaces front, straps sheltered\n" + begins_sterile(30) +
        "end item\n\n");
    if (has_visor_) {
      add("item visor\n  kind face cover\n  worn on face\n  surfaces front, straps sheltered\n" +
          maybe(50, "  goes over front of mask\n") + maybe(50, "  goes over straps of mask loosely\n") +
          "end item\n\n");
    }
    if (has_gown_) suit("gown");
    if (has_choice_) suit("coverall");
    if (has_apron_) {
      add("item apron\n  kind apron stuff\n  worn on torso\n  surfaces outside, neck band sheltered, inside\n" +
          (has_gown_ ? "  goes over front of gown\n" : std::string()) +
          (has_choice_ ? "  goes over front of coverall\n" : std::string()) +
          (has_scrubs_ && !has_gown_ ? maybe(50, "  goes over scrubs\n") : std::string()) + rests(30) + "end item\n\n");
    }
  }

  std::string begins_sterile(int percent) {
    return kit_.has_sterile ? maybe(percent, "  begins sterile\n") : std::string();
  }

  std::string suit_sleeves() const {
    return std::string("  goes over sleeve of gown") + (has_choice_ ? ", sleeve of coverall\n" : "\n");
  }

  void suit(const std::string& name) {
    add("item " + name + "\n  kind suit\n  worn on torso\n  surfaces front, sleeve, ties sheltered, inside\n" +
        (has_scrubs_ ? "  goes over scrubs\n" : std::string()) +
        maybe(50, "  goes over cuff of inner gloves loosely\n") + begins_sterile(30) + rests(65) + "end item\n\n");
  }

  void places_and_agents() {
    add("fixture bench, made of hard surface\nfixture bin, meant for dirty things\nsupply wipe\nsupply waste bag\n\n");
    add("surface patch\n  made of hard surface\n  begins " + (kit_.has_sterile && dice_.percent(50) ? std::string("sterile")
                                               : dice_.one_of<std::string>({"soiled", "suspect"})) +
        "\nend surface\n\n");
    add("agent rub\n  ready to use\n  works on bare hands, gloves, torso\n  never on face\n  contact time 30 seconds "
        "otherwise\n" +
        (kit_.has_sterile ? maybe(50, "  leaves sterile\n") : std::string()) +
        "  source local \"test\"\nend agent\n\n");
    add("agent chlorine\n  ready to use\n  works on gloves, suit, apron stuff, face cover, hard surface\n"
        "  never on bare hands, face, torso\n  contact time 2 minutes otherwise\n  source local \"test\"\nend "
        "agent\n\n");
  }

  void technique(const std::string& name, const std::string& body) {
    add("technique " + name + "\n" + body + "  words \"Do it.\"\n  source local \"test\"\nend technique\n\n");
  }

  void techniques() {
    const std::string against = has_scrubs_ ? "scrubs" : "torso";
    technique("peel", "  takes off any gloves\n  handles cuff of it, inside of it\n" +
                          maybe(20, "  may brush outside of it against what it covers\n"));
    technique("roll", "  takes off any gloves\n  handles outside of it, inside of it" +
                          maybe(30, " held away from the body") + "\n");
    technique("straps first", "  takes off any face cover\n  handles straps of it\n" +
                                  maybe(20, "  brushes front of it against face\n"));
    technique("pull", "  takes off any item\n  handles it\n");
    technique("plain wear",
              "  puts on any item\n  handles it\n" + maybe(10, "  brushes inside of it against what it covers\n"));
    technique("seal check", "  tests any face cover\n  handles front of it\n");
    if (has_gown_) {
      technique("untie", "  takes off any suit\n  handles ties of it, inside of it" +
                             maybe(50, " held away from the body") + "\n");
      technique("whole way up", "  takes off any suit\n  handles front of it\n  brushes front of it against face\n" +
                                    maybe(50, "  brushes inside of it against " + against + "\n"));
    }
    if (has_apron_) {
      technique("bundle",
                "  takes off any apron stuff with any gloves\n  handles outside of apron, inside of apron, inside of "
                "any gloves\n" +
                    maybe(40, "  brushes outside of apron against " + against + "\n"));
    }
  }

  void wording() {
    add("verb take off\n  words \"TAKE OFF [item].\"\nend verb\nverb put on\n  words \"PUT ON [item].\"\nend verb\n"
        "verb disinfect\n  words \"Disinfect [surface].\"\nend verb\nverb clean\n  words \"Clean [surface].\"\nend "
        "verb\n"
        "verb inspect\n  words \"Look.\"\nend verb\nverb test\n  words \"Test [item].\"\nend verb\n"
        "verb take\n  words \"Take [item].\"\nend verb\nverb pass\n  words \"Pass [item].\"\nend verb\n"
        "verb move\n  words \"Go to [place].\"\nend verb\nverb wait\n  words \"Wait.\"\nend verb\n\n");
  }

  void frame() {
    if (has_choice_) add("variants\n  suit choice is gown or coverall\nend variants\n\n");
    std::vector<std::string> worn = kit_.starts_with;
    if (has_scrubs_) worn.insert(worn.begin(), "scrubs");
    const std::string beside = kit_.is_entry ? kit_.low : kit_.middle == kit_.low ? "hot room" : kit_.middle;
    add("people\n  wearer begins in " + (kit_.is_entry ? kit_.low : std::string("hot room")) +
        (worn.empty() ? std::string() : " wearing " + joined(worn)) + "\n");
    for (const std::string& who : kit_.people) {
      if (who == "wearer") continue;
      add("  " + who + " begins in " + beside + " wearing " +
          dice_.one_of<std::string>({"inner gloves", "inner gloves, mask"}) + "\n  " + who + " ends dressed\n");
    }
    add("  wearer acts unless a line names someone else\nend people\n\n");
    endings();
  }

  void endings() {
    add("endings\n  cleared is normal\n");
    if (kit_.is_entry) {
      add("    wearer is in hot room\n    wearer wears " + joined(kit_.order_off) + "\n");
    } else {
      add("    wearer is in white hall\n" + maybe(60, "    clean bare hands of wearer" + maybe(50, ", bench") + "\n"));
    }
    add("  stopped is emergency\nend endings\n\n");
  }
};

// ---------------------------------------------------------------- rules

/// A moment from which, or up to which, time may be counted.
std::string timed_event(Dice& dice, const Kit& kit, const std::string& who, const std::string& item) {
  switch (dice.below(kit.has_timer ? 7 : 5)) {
    case 0: return who + " disinfects hands";
    case 1: return who + " takes off " + item;
    case 2: return who + " puts on any gloves";
    case 3: return who + " touches patch";
    case 4: return "wearer moves to " + kit.low;
    case 5: return "timer watch starts";
    default: return "timer watch stops";
  }
}

/// Any event of the closed list, about something that is or may be there. The step that `does` speaks of is marked by the
/// generator.
std::string any_event(Dice& dice, const Kit& kit, const std::string& who, const std::string& item) {
  const std::string thing = dice.one_of<std::string>({item, item, "any item", "any gloves", "bench", "hands", "bare hands of wearer"});
  const std::string worn = dice.one_of<std::string>({item, item, "any item", "any gloves"});
  switch (dice.below(20)) {
    case 0: return who + " disinfects " + thing;
    case 1: return who + " disinfects " + thing + " with " + dice.one_of<std::string>({"rub", "chlorine"});
    case 2: return who + " cleans " + thing;
    case 3: return who + " tests " + dice.one_of<std::string>({"mask", worn});
    case 4: return who + " inspects " + thing;
    case 5: return who + " inspects " + item + " for " + dice.one_of<std::string>({"soil", "tear"});
    case 6: return dice.one_of<std::string>({"soil", "tear"}) + " found on " + item;
    case 7: return dice.one_of<std::string>({"soil", "tear"}) + " not found on " + item;
    case 8: return who + " touches " + dice.one_of<std::string>({item, item + " of wearer", "bench", "patch"});
    case 9: return "hands of " + who + " touch " + dice.one_of<std::string>({item, "bench", "face"});
    case 10: return who + " leaves " + dice.one_of(kit.zones);
    case 11: return who + " passes " + item + (dice.percent(50) ? " to wearer" : "");
    case 12: return who + " takes " + item;
    case 13: return who + " calls";
    case 14: return dice.one_of<std::string>({who + " declares exposure", "exposure declared"});
    case 15: return who + " records log sheet";
    case 16: return worn + " comes off wearer";
    case 17: return kit.interruptions > 0 ? "first mishap strikes" : who + " calls";
    default: return dice.one_of<std::string>({"wearer", "anyone"}) + " does marked step";
  }
}

std::string same_person(const std::string& event) {
  return event.rfind("anyone", 0) == 0 ? "that person" : "wearer";
}

/// The same patterns over any two events; who is meant is said anew in each, since not every event has a person to bind.
std::string rule_of_any_events(Dice& dice, const Kit& kit, int pattern, const std::string& item, const std::string& other) {
  const std::string first = any_event(dice, kit, dice.one_of(kit.people), item), second = any_event(dice, kit, dice.one_of(kit.people), other);
  const std::string third = any_event(dice, kit, "wearer", other);
  const std::string bound = dice.one_of<std::string>({"30 seconds", "2 minutes", "4 minutes"});
  switch (pattern) {
    case 1: return "  before each " + first + "\n  require " + second + "\n  since " + third + "\n";
    case 2: return "  before each " + first + "\n  require " + second + (dice.percent(30) ? " or " + third : "") + "\n";
    case 3: return "  after each " + first + "\n  require " + second + (dice.percent(55) ? " then wearer disinfects hands" : "") + "\n  before " + third + "\n";
    case 4: return "  right after each " + first + "\n  require " + second + " or " + third + "\n";
    case 5: return "  never " + first + (dice.percent(50) ? "\n  unless " : "\n  while ") + dice.one_of<std::string>({other + " is worn by wearer", "hands of wearer are bare"}) + "\n";
    case 7: return "  within " + bound + " after each " + first + "\n  require " + second + "\n";
    default: return "  at least " + bound + " between " + first + " and " + second + "\n";
  }
}

std::string rule_of_pattern(Dice& dice, const Kit& kit, int pattern) {
  const auto an_item = [&] {
    const std::string name = dice.one_of(kit.items);
    return name == "suit choice" ? std::string("gown") : name;  // a rule knows no choice
  };
  const std::string item = an_item(), other = an_item();
  const std::string who = dice.one_of<std::string>({"wearer", "anyone"});
  const std::string that = who == "anyone" ? "that person" : "wearer";
  const std::string hands = that + " disinfects hands";
  if (dice.percent(25) && pattern != 6 && pattern != 8) return rule_of_any_events(dice, kit, pattern, item, other);
  switch (pattern) {
    case 1:
      return "  before each " + who + " takes off " + dice.one_of<std::string>({"any item", "any gloves", item}) +
             "\n  require " + hands + "\n  since hands of " + that + " touch anything unclean\n";
    case 2:
      return dice.percent(50) ? "  before each " + who + " " + dice.one_of<std::string>({"takes off", "puts on"}) +
                                    " " + item + "\n  require " + hands + "\n"
                              : "  before each wearer moves to white hall\n  require wearer disinfects hands" +
                                    std::string(dice.percent(50) ? " and wearer takes off outer gloves\n"
                                                                 : " or wearer puts on mask\n");
    case 3: {
      const std::string after = dice.one_of<std::string>({"wearer takes off any item", "soil found on outer gloves",
                                                          "wearer puts on any gloves", "wearer touches patch",
                                                          "wearer takes off any gloves", "start"});
      const std::string bound = after.find("any") != std::string::npos ? "any other item" : "any item";
      const std::string then =
          dice.percent(60) ? " then " + dice.one_of<std::string>({"wearer inspects outer gloves for soil",
                                                                  "wearer disinfects hands", "wearer takes off mask"})
                           : std::string();
      return "  after each " + after + "\n  require wearer disinfects hands" + then + "\n  before wearer " +
             dice.one_of<std::string>({"takes off " + bound, "moves to white hall", "puts on " + bound}) + "\n";
    }
    case 4:
      return "  right after each " + who + " " + dice.one_of<std::string>({"takes off ", "takes off ", "puts on "}) +
             dice.one_of<std::string>({"any gloves", item, "any item"}) +
             "\n  require wearer disinfects hands or wearer " +
             dice.one_of<std::string>({"takes off any other item", "moves to white hall", "puts on any item"}) + "\n";
    case 5:
      return dice.percent(50)
                 ? "  never " + who + " takes off " + item + "\n  while " + other + " is worn by wearer\n"
                 : "  never " + who + " " + dice.one_of<std::string>({"takes off", "puts on"}) +
                       " any gloves\n  unless " +
                       dice.one_of<std::string>({"wearer is in " + kit.middle, "no " + other + " is worn by wearer",
                                                 "hands of wearer are bare"}) +
                       "\n";
    case 7: {
      const std::string from = timed_event(dice, kit, who, item);
      return "  within " + dice.one_of<std::string>({"30 seconds", "90 seconds", "2 minutes", "4 minutes"}) + " after each " +
             from + "\n  require " + timed_event(dice, kit, same_person(from), other) + "\n";
    }
    case 8: {
      const std::string meant = dice.one_of<std::string>({"wearer is in " + kit.low, other + " is worn by wearer",
                                                          "exposure was declared", "hands of wearer are bare", ""});
      return "  always " +
             dice.one_of<std::string>({"bare hands of wearer are clean", item + " is worn by wearer", "bench is clean",
                                       "every item of wearer is clean", "wearer is in " + kit.middle,
                                       kit.has_sterile ? "patch is sterile" : "torso of wearer is clean",
                                       kit.has_sterile ? "hands of wearer are sterile" : "hands of wearer are clean"}) +
             "\n" + (meant.empty() ? "" : "  while " + meant + "\n");
    }
    case 9: {
      const std::string from = timed_event(dice, kit, who, item);
      return "  at least " + dice.one_of<std::string>({"30 seconds", "90 seconds", "3 minutes"}) + " between " + from +
             " and " + timed_event(dice, kit, same_person(from), other) + "\n";
    }
    default:
      return "  at " + dice.one_of<std::string>({"any ending", "cleared"}) + " require " +
             dice.one_of<std::string>({"no " + item + " is worn by wearer", "log sheet is recorded",
                                       "bare hands of wearer are clean", "wearer is in white hall",
                                       "exposure was declared or outer gloves is not worn by wearer"}) +
             "\n";
  }
}

}  // namespace

Kit random_kit(Dice& dice) { return KitWriter(dice).write(); }

std::string random_rules(Dice& dice, const Kit& kit) {
  std::string text;
  const std::size_t count = 1 + dice.below(5);
  for (std::size_t at = 0; at < count; ++at) {
    const int pattern = static_cast<int>(dice.below(9)) + 1;
    text += "rule R0" + std::to_string(at + 1) + " random sentence\n" + rule_of_pattern(dice, kit, pattern) +
            "  severity " +
            dice.one_of<std::string>({"advisory", "advisory", "advisory", "advisory", "major", "critical"}) +
            "\n  because \"It is a test.\"\n  source local \"test\"\nend rule\n\n";
  }
  return text;
}

}  // namespace stepward::oracle
