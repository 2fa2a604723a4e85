// Rules, each sentence resolved to exactly its events and states.

#include "model_sample.hpp"

namespace {

using namespace stepward;
using namespace stepward::model;
using sample::at;

constexpr const char* rest = "  severity critical\n  because \"It hurts.\"\n  source read \"page 1\"\nend rule\n";

struct Ruled {
  sample::Built built;
  const Rule* rule = nullptr;
  explicit Ruled(const std::string& lines)
      : built(sample::protocol(
            "  decide fit as yes or no\n  if fit is yes\n    declare exposure\n  end if\n  observer records entry\n"
            "  observer reports \"x\" to ward office\n    known as told\n  finish as out\n",
            "any time alarm\n  happens nothing of its own\n  resume\nend any time\nrule R7 a name of words\n" + lines +
                rest)) {
    REQUIRE_MESSAGE(built.protocol, lines << built.codes());
    REQUIRE(built->rules.size() == 1);
    rule = &built->rules[0];
  }
  std::uint32_t role(const char* name) const { return at(built->roles, name); }
};

/// The one event of `never …`.
struct Never : Ruled {
  Event event;
  explicit Never(const std::string& words) : Ruled("  never " + words + "\n") {
    REQUIRE(rule->trigger.events.size() == 1);
    event = rule->trigger.events[0];
  }
};

/// The one state of `never wearer takes off mask unless …`.
struct Unless : Ruled {
  State state;
  explicit Unless(const std::string& words) : Ruled("  never wearer takes off mask\n  unless " + words + "\n") {
    REQUIRE(rule->has_unless);
    REQUIRE(rule->unless.states.size() == 1);
    state = rule->unless.states[0];
  }
};

using E = Event::What;
using P = Person::What;
using S = Subject::What;

}  // namespace

TEST_CASE("a rule keeps its number, name, severity, reason and sources") {
  const Never one("wearer takes off mask");
  CHECK(one.rule->number == "R7");
  CHECK(one.rule->name == "a name of words");
  CHECK(one.rule->severity == Severity::critical);
  CHECK(one.rule->because == "It hurts.");
  CHECK(one.rule->sources.at(0).mark == SourceMark::read);
  CHECK(one.built->packs.at(one.rule->pack).number == "S-1");
}

TEST_CASE("pattern 1 and 2, before each") {
  const Ruled one(
      "  before each anyone takes off any item except any gloves, mask\n  require that person disinfects hands or "
      "wearer does told\n"
      "  since hands of that person touch anything unclean\n");
  CHECK(one.rule->pattern == Pattern::before_each);
  const Event& first = one.rule->trigger.events.at(0);
  CHECK(first.what == E::takes_off);
  CHECK(first.who.what == P::anyone);
  CHECK(first.subject.what == S::any_item);
  REQUIRE(first.subject.except.size() == 2);
  CHECK(first.subject.except[0].kind.value == at(one.built->kinds, "gloves"));
  CHECK(first.subject.except[1].item.value == at(one.built->items, "mask"));
  REQUIRE(one.rule->require.events.size() == 2);
  CHECK_FALSE(one.rule->require.all);
  CHECK(one.rule->require.events[0].who.what == P::that_person);
  CHECK(one.rule->require.events[0].subject.what == S::hands);
  CHECK(one.rule->require.events[1].line_id == "told");
  REQUIRE(one.rule->has_since);
  CHECK(one.rule->since.events.at(0).what == E::hands_touch_unclean);
  const Ruled two(
      "  before each wearer moves to store room\n  require observer inspects coverall of wearer for soil and wearer "
      "tests mask\n");
  CHECK_FALSE(two.rule->has_since);
  CHECK(two.rule->require.all);
  CHECK(two.rule->require.events[0].finding.value == at(two.built->findings, "soil"));
  CHECK(two.rule->require.events[0].subject.of.role.value == two.role("wearer"));
}

TEST_CASE("pattern 3, after each, with a chain") {
  const Ruled one(
      "  after each anyone takes off any suit\n  require someone declares exposure then observer reports to ward "
      "office\n"
      "  before that person takes off any other item or any other person passes any other item to wearer\n");
  CHECK(one.rule->pattern == Pattern::after_each);
  REQUIRE(one.rule->has_then);
  CHECK(one.rule->require.events.at(0).what == E::declares);
  CHECK(one.rule->require.events.at(0).who.what == P::someone);
  CHECK(one.rule->then.events.at(0).recipient.value == at(one.built->recipients, "ward office"));
  REQUIRE(one.rule->before.events.size() == 2);
  CHECK(one.rule->before.events[0].subject.what == S::any_other_item);
  CHECK(one.rule->before.events[1].who.what == P::any_other_person);
  CHECK(one.rule->before.events[1].to_given);
  CHECK(one.rule->before.events[1].to.role.value == one.role("wearer"));
}

TEST_CASE("patterns 4 and 6") {
  const Ruled four(
      "  right after each wearer takes off inner gloves using peel inside out\n  require wearer disinfects bare hands "
      "with hand rub\n");
  CHECK(four.rule->pattern == Pattern::right_after_each);
  CHECK(four.rule->trigger.events[0].technique.value == at(four.built->techniques, "peel inside out"));
  CHECK(four.rule->require.events[0].agent.value == at(four.built->agents, "hand rub"));
  CHECK(four.rule->require.events[0].subject.site.value == at(four.built->sites, "bare hands"));
  const Ruled six("  at out require bare hands of wearer are clean and entry is recorded\n");
  CHECK(six.rule->pattern == Pattern::at_ending);
  CHECK(six.rule->ending.value == at(six.built->endings, "out"));
  REQUIRE(six.rule->at_end.states.size() == 2);
  CHECK(six.rule->at_end.states[0].what == State::What::is_level);
  CHECK(six.rule->at_end.states[1].what == State::What::recorded);
  CHECK(Ruled("  at any ending require every suit of wearer is clean\n").rule->any_ending);
}

TEST_CASE("each event of the closed list") {
  CHECK(Never("wearer puts on any gloves").event.subject.kind);
  CHECK(Never("wearer dons mask").event.what == E::puts_on);
  const Never off("coverall comes off wearer");
  CHECK(off.event.what == E::comes_off);
  CHECK(off.event.who.role.value == off.role("wearer"));
  CHECK(Never("anyone except wearer, helper takes off mask of wearer").event.who.except.size() == 2);
  CHECK(Never("wearer cleans work top").event.subject.what == S::spot);
  CHECK(Never("wearer tests mask").event.what == E::tests);
  CHECK(Never("observer inspects any item of helper").event.subject.of.role);
  CHECK(Never("soil found on any item of wearer").event.what == E::found);
  CHECK(Never("tear not found on mask").event.what == E::not_found);
  const Never touch("anyone touches front of mask of wearer");
  CHECK(touch.event.what == E::touches);
  CHECK(touch.event.subject.part == "front");
  CHECK_FALSE(touch.event.by_hands);
  const Never hands("hands of observer touch face of wearer");
  CHECK(hands.event.what == E::touches);
  CHECK(hands.event.by_hands);
  CHECK(hands.event.who.role.value == hands.role("observer"));
  CHECK(Never("wearer leaves ward room").event.what == E::leaves);
  CHECK(Never("helper passes anything").event.subject.what == S::anything);
  CHECK(Never("wearer takes mask").event.what == E::takes);
  const Never answer("fit is answered no");
  CHECK(answer.event.what == E::answered);
  CHECK(answer.event.answer == 1);
  CHECK(Never("exposure declared").event.who.what == P::anyone);
  CHECK(Never("observer records entry").event.what == E::records);
  CHECK(Never("someone reports").event.what == E::reports);
  CHECK_FALSE(Never("someone reports").event.recipient);
  CHECK(Never("wearer calls").event.what == E::calls);
  CHECK(Never("alarm strikes").event.interruption.value == 0);
  CHECK(Never("start").event.what == E::start);
  CHECK(Never("ending stopped early").event.what == E::ending);
  CHECK(Never("any ending").event.what == E::any_ending);
}

TEST_CASE("each state of the closed list") {
  const Unless worn("outer gloves are not worn by helper");
  CHECK(worn.state.what == State::What::worn);
  CHECK(worn.state.negated);
  CHECK(worn.state.who.role.value == worn.role("helper"));
  const Unless none("no item except any clothing, mask is worn by wearer");
  CHECK(none.state.what == State::What::none_worn);
  CHECK(none.state.subject.what == S::any_item);
  CHECK(none.state.subject.except.size() == 2);
  const Unless implied("no suit is worn");
  CHECK(implied.state.who.what == P::role);  // the person of the first event
  CHECK(implied.state.who.role.value == implied.role("wearer"));
  const Unless every("every gloves of wearer is clean");
  CHECK(every.state.what == State::What::every_is);
  CHECK(every.state.quality == State::Quality::clean);
  CHECK(Unless("work top is clean").state.what == State::What::is_level);
  CHECK(Unless("wearer is in store room").state.zone);
  CHECK(Unless("exposure was declared").state.what == State::What::declared);
  CHECK(Unless("fit is no").state.answer == 1);
  CHECK(Unless("hands of wearer are bare").state.what == State::What::hands_bare);
  const Ruled during(
      "  never wearer takes off mask\n  while coverall of wearer is torn or coverall of wearer is wet\n");
  CHECK(during.rule->has_while);
  CHECK_FALSE(during.rule->while_states.all);
  CHECK(during.rule->while_states.states[1].quality == State::Quality::wet);
}

TEST_CASE("a pack may speak of what this protocol never brings up") {
  sample::Built built;
  FilesInMemory access;
  access.put("basis.ward", sample::basis());
  access.put("pack.ward", std::string("stepward 1 rules\n") + sample::document + "use library \"basis.ward\"\n" +
                              "rule S1 one\n  after each spill declared\n  require someone reports to fire brigade\n  "
                              "before wearer takes off mask\n" +
                              rest + "rule S2 two\n  at way out by night require ward log is recorded\n" + rest +
                              "rule S3 three\n  before each wearer takes off mask\n  require wearer disinfects hands\n "
                              " since roof falls in strikes\n" +
                              rest);
  access.put(
      "main.ward",
      std::string("stepward 1 protocol\n") + sample::document +
          "use library \"basis.ward\"\nuse rules \"pack.ward\"\n" +
          "people\n  wearer begins in ward room\n  wearer acts unless a line names someone else\nend people\n"
          "endings\n  out is normal\nend endings\nphase \"One\"\n  act \"Stand.\"\n  finish as out\nend phase\n");
  built.protocol = build(resolve::load("main.ward", access, built.files, built.sink), built.files, built.sink);
  REQUIRE_MESSAGE(built.protocol, built.codes());
  CHECK(built.codes() == "N608");  // S2 is left out, with a note
  REQUIRE(built->rules.size() == 2);
  CHECK(built->marks[built->rules[0].trigger.events[0].mark.value].name == "spill");
  CHECK(built->recipients.size() == 1);
  CHECK_FALSE(built->rules[1].has_since);  // what can never happen never ends the wait
}
