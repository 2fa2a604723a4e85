// Slips on procedures that are short enough to be followed by hand.
#include <doctest/doctest.h>

#include <algorithm>
#include <set>

#include "emit/slips/slip_words.hpp"
#include "emit/slips/slips.hpp"
#include "room_protocol.hpp"
#include "slips/same_harm.hpp"
#include "slips/table.hpp"

using namespace stepward;
using namespace stepward::room;
using graph::SlipKind;
using slips::Outcome;

namespace {

const std::string tray = "surface tray\n  made of hard surface\n  begins suspect\n  stands in care room\nend surface\nsurface stool\n  made of hard surface\n  begins suspect\n  stands in care room\nend surface\n";

/// The n-th row (in the order of the source) of a kind whose line is `line`.
const slips::Row* row(const slips::Table& table, SlipKind kind, const std::string& line, std::size_t n = 0) {
  std::vector<const slips::Row*> all;
  for (const slips::Row& r : table.rows)
    if (r.key.kind == kind && r.line == line) all.push_back(&r);
  std::sort(all.begin(), all.end(), [](const auto* a, const auto* b) { return a->key < b->key; });
  return n < all.size() ? all[n] : nullptr;
}

/// The rows as one set of three of the table, a row twice with its confirm; nothing if they are none.
const slips::Triple* of_three(const slips::Table& table, std::vector<const slips::Row*> rows) {
  std::sort(rows.begin(), rows.end());
  for (const slips::Triple& t : table.triples) {
    std::vector<const slips::Row*> its{&table.rows[t.first], &table.rows[t.second], &table.rows[t.third]};
    std::sort(its.begin(), its.end());
    if (its == rows) return &t;
  }
  return nullptr;
}

/// Its story, a line each.
std::string told(const slips::Row* row) {
  std::string out;
  if (row && row->harm)
    for (const auto& line : row->harm->story) out += (line.step.empty() ? "" : line.step + " ") + line.text + "\n";
  return out;
}

}  // namespace

TEST_CASE("slips: hands that are not rubbed after the gloves come to harm at the goggles") {
  const slips::Table table = tried(leaving_the_room(plain_order));
  CHECK(table.complete);
  for (const SlipKind kind : {SlipKind::left_out, SlipKind::cut_short}) {
    const slips::Row* first = row(table, kind, "wearer disinfects bare hands");
    REQUIRE(first);
    CHECK(first->outcome == Outcome::harm);
    REQUIRE(first->harm);
    CHECK(diagnostics::code_name(first->harm->code) == "P101");
    CHECK(first->harm->consequence == slips::Consequence::face);
    // gloves off, the slip, goggles off; where the time is cut short the rub is a step of its own, and its end another
    CHECK(first->harm->steps == (kind == SlipKind::left_out ? 3 : 5));
  }
  // After the goggles nothing but the gown is handled, and hands are rubbed once more: nothing comes of it.
  const slips::Row* second = row(table, SlipKind::left_out, "wearer disinfects bare hands", 1);
  REQUIRE(second);
  CHECK(second->outcome == Outcome::harmless);
  // The last one is what the ending asks for.
  const slips::Row* third = row(table, SlipKind::left_out, "wearer disinfects bare hands", 2);
  REQUIRE(third);
  CHECK(third->outcome == Outcome::harmless);  // the rub before it is enough, since the gown's ties are sheltered
}

TEST_CASE("slips: what is done early is told of the line that comes too soon") {
  const slips::Table table = tried(leaving_the_room(plain_order));
  const slips::Row* goggles = row(table, SlipKind::done_early, "wearer takes off the goggles");
  REQUIRE(goggles);
  CHECK(goggles->outcome == Outcome::harm);
  CHECK(diagnostics::code_name(goggles->harm->code) == "P101");
  CHECK(goggles->harm->at_once);
  // It says what the rub in front of it says that is left out, or not waited for.
  const slips::Row* rub = row(table, SlipKind::left_out, "wearer disinfects bare hands");
  const slips::Row* hurried = row(table, SlipKind::cut_short, "wearer disinfects bare hands");
  REQUIRE(rub);
  REQUIRE(hurried);
  CHECK_FALSE(rub->same_as);
  CHECK(goggles->same_as == static_cast<std::size_t>(rub - table.rows.data()));
  CHECK(hurried->same_as == goggles->same_as);
  // The first line of all has nothing before it.
  CHECK(row(table, SlipKind::done_early, "wearer takes off the single gloves") == nullptr);
}

TEST_CASE("slips: a removal that is left out shows where it is in the way, or at the ending") {
  const slips::Table table = tried(leaving_the_room(plain_order));
  const slips::Row* gown = row(table, SlipKind::left_out, "wearer takes off the gown");
  REQUIRE(gown);
  CHECK(gown->outcome == Outcome::caught);
  REQUIRE(gown->caught.size() == 1);
  CHECK(gown->caught[0].by == slips::Catch::By::ending);
}

TEST_CASE("slips: bare hands cannot be rubbed under gloves, and that shows") {
  const slips::Table table = tried(leaving_the_room(plain_order));
  const slips::Row* gloves = row(table, SlipKind::left_out, "wearer takes off the single gloves");
  REQUIRE(gloves);
  CHECK(gloves->outcome == Outcome::caught);
  CHECK(gloves->caught.front().by == slips::Catch::By::cannot_be_done);
}

TEST_CASE("slips: a look that misses soil lets a rub do nothing") {
  const slips::Table table = tried(leaving_the_room(with_look));
  const slips::Row* missed = row(table, SlipKind::overlooked, "wearer looks at bare hands");
  REQUIRE(missed);
  CHECK(missed->look == "soil");
  CHECK(missed->outcome == Outcome::harm);
  CHECK(diagnostics::code_name(missed->harm->code) == "P101");
  CHECK(told(missed) ==
        "(1) wearer takes off the single gloves: coming off, they may dirty bare hands\n"
        "(2) overlooked: wearer looks at bare hands and misses soil\n"
        "(3) wearer disinfects bare hands: under the soil nothing gets clean\n"
        "(4) wearer takes off the goggles\n"
        "bare hands may bring dirt to the face while handling goggles\n");
  // Left out, the look leaves a question that nobody can answer.
  const slips::Row* left_out = row(table, SlipKind::left_out, "wearer looks at bare hands");
  REQUIRE(left_out);
  CHECK(left_out->outcome == Outcome::caught);
  CHECK(left_out->caught.front().by == slips::Catch::By::question);
}

TEST_CASE("slips: a second look finds what the first one missed") {
  const std::string twice = R"(
  inspect gown for tear
  if tear on gown
    declare exposure
  end if
  take off single gloves using peel to the skin
  disinfect bare hands with hand rub
  take off goggles using strap from behind
  disinfect bare hands with hand rub
  inspect gown for tear
  if tear on gown
    declare exposure
  end if
  take off gown using untie and roll
  disinfect bare hands with hand rub
  if exposure was declared
    finish as exposed
  end if)";
  const slips::Table table = tried(leaving_the_room(twice));
  const slips::Row* first = row(table, SlipKind::overlooked, "wearer looks at the gown");
  REQUIRE(first);
  CHECK(first->outcome == Outcome::caught);
  CHECK(first->caught.front().by == slips::Catch::By::look);
  const slips::Row* second = row(table, SlipKind::overlooked, "wearer looks at the gown", 1);
  REQUIRE(second);
  CHECK(second->outcome == Outcome::harm);
  CHECK(diagnostics::code_name(second->harm->code) == "P703");
  CHECK(told(second) ==
        "(6) overlooked: wearer looks at the gown and misses a tear or crack\n"
        "(7) wearer takes off the gown: dirt may already have come through to the scrubs\n"
        "(8) wearer disinfects bare hands\n"
        "nobody knows of it, so nothing is done about it\n"
        "scrubs count as clean at “out” and may carry dirt\n");
}

TEST_CASE("slips: steps between a slip and what comes of it are counted without its own line") {
  std::string later = with_look;
  const std::string rub = "  disinfect bare hands with hand rub\n  take off goggles";
  later.insert(later.find(rub), "  act \"Look up.\"\n  act \"Look down.\"\n  act \"Breathe out.\"\n");
  const slips::Table table = tried(leaving_the_room(later));
  const std::string story = told(row(table, SlipKind::overlooked, "wearer looks at bare hands"));
  CHECK(story.find("misses soil\n… 3 steps change nothing of this\n(6) wearer disinfects bare hands: under the soil nothing gets clean\n") != std::string::npos);
}

TEST_CASE("slips: a reader is told the steps of her own card first, and before which line another one comes too early") {
  slips::Row row;
  row.steps = {"42", "43"};
  row.steps_in = {{0, {"42"}}, {1, {"43"}}};
  CHECK(emit::steps_on_card(row, 0) == " (42; on other cards 43)");
  CHECK(emit::steps_on_card(row, 1) == " (43; on other cards 42)");
  row.before_in = {{0, {"40"}}};
  CHECK(emit::steps_on_card(row, 0) == " (42; on other cards 43), with (40) not done yet");
  row.steps = {"42"};
  CHECK(emit::steps_on_card(row, 0) == " (42), with (40) not done yet");
}

TEST_CASE("slips: what is answered on the way and has nothing to do with the harm is not in its story") {
  const std::string with_questions = R"(
  decide help needed as yes or no
  if help needed is yes
    act "Wave."
  end if
  decide stool moved as yes or no
  if stool moved is yes
    act "Put it back."
  end if)" + plain_order;
  const slips::Table table = tried(leaving_the_room(with_questions));
  const slips::Row* goggles = row(table, SlipKind::clumsy, "wearer takes off the goggles");
  REQUIRE(goggles);
  REQUIRE(goggles->harm);
  CHECK(told(goggles) ==
        "goggles may carry dirt from the start\n"
        "… 6 steps change nothing of this\n"
        "(7) clumsy: wearer takes off the goggles\n"
        "goggles may bring dirt to eyes\n");
  // The shortest run answers no twice and has nothing to wave at or to put back; by its length the harm is ranked.
  CHECK(goggles->harm->steps == 7);
}

TEST_CASE("slips: an answer that a harm needs stays in its story") {
  const std::string with_question = R"(
  take off single gloves using peel to the skin
  decide sink near as yes or no
  if sink near is yes
    disinfect bare hands with hand rub
  end if
  disinfect bare hands with hand rub
  take off goggles using strap from behind
  disinfect bare hands with hand rub
  take off gown using untie and roll
  disinfect bare hands with hand rub)";
  const slips::Table table = tried(leaving_the_room(with_question));
  const slips::Row* rub = row(table, SlipKind::left_out, "wearer disinfects bare hands", 1);
  REQUIRE(rub);
  CHECK(rub->outcome == Outcome::harm);
  CHECK(told(rub).find("wearer decides sink near: no\n") != std::string::npos);
}

TEST_CASE("slips: a long story of dirt begins where it is by the time of the slip") {
  const std::string two_looks = R"(
  disinfect hands with strong chlorine
  act "Turn the tray." touching tray
  take off single gloves using peel to the skin
  inspect bare hands for soil
  if soil on bare hands
    clean soil from bare hands using soap and water
    inspect bare hands for soil
    if soil on bare hands
      clean soil from bare hands using soap and water
    end if
  end if)" + plain_order.substr(plain_order.find("\n  disinfect"));
  const slips::Table table = tried(leaving_the_room(two_looks, tray));
  const slips::Row* missed = row(table, SlipKind::overlooked, "wearer looks at bare hands", 1);
  REQUIRE(missed);
  CHECK(told(missed) ==
        "bare hands may carry dirt since (3)\n"
        "(4) wearer looks at bare hands: soil\n"
        "(4a) wearer cleans soil from bare hands: dirt may be left on them\n"
        "(4b) overlooked: wearer looks at bare hands and misses soil\n"
        "(5) wearer disinfects bare hands: under the soil nothing gets clean\n"
        "(6) wearer takes off the goggles\n"
        "bare hands may bring dirt to the face while handling goggles\n");
}

TEST_CASE("slips: of a note that is left out the story says that nobody goes by it") {
  const slips::Table table = tried(leaving_the_room(with_noted_tear("")));
  const slips::Row* note = row(table, SlipKind::left_out, "wearer writes down torn gown");
  REQUIRE(note);
  CHECK(told(note).find("left out: wearer writes down torn gown: what hangs on it is not done\n") != std::string::npos);
}

TEST_CASE("slips: a confirm is a check where it has something to see, and then a pair") {
  const slips::Table alone = tried(leaving_the_room(plain_order, watcher_confirms), 2);
  const slips::Row* seen = row(alone, SlipKind::left_out, "wearer disinfects bare hands");
  REQUIRE(seen);
  CHECK(seen->watch == "All of it shines wet, wrists included.");
  CHECK(seen->outcome == Outcome::caught);
  CHECK(seen->caught.front().by == slips::Catch::By::confirm);
  REQUIRE(seen->harm);
  const auto of_it = [&](const slips::Pair& p) { return p.first == p.second && &alone.rows[p.first] == seen; };
  CHECK(std::count_if(alone.pairs.begin(), alone.pairs.end(), of_it) == 1);
  // Harm that the line does itself comes before anybody confirms it.
  const slips::Row* clumsy = row(alone, SlipKind::clumsy, "wearer takes off the goggles");
  REQUIRE(clumsy);
  CHECK(clumsy->outcome == Outcome::harm);
  CHECK(clumsy->harm->at_once);
  CHECK(clumsy->harm->headline == "goggles may bring dirt to eyes");
}

TEST_CASE("slips: of two slips the second has no confirm where its own line does the harm") {
  const slips::Table table = tried(leaving_the_room("\n  disinfect gown with strong chlorine" + plain_order, watcher_confirms), 3);
  // A torn glove leaves hands that may carry, and nobody sees it; they brush the gown, which has been clean since its first line. What the watcher sees of that is done.
  const slips::Row *torn = row(table, SlipKind::tears, "wearer takes off the single gloves"), *clumsy = row(table, SlipKind::clumsy, "wearer takes off the gown");
  REQUIRE(torn);
  REQUIRE(clumsy);
  CHECK(torn->outcome == Outcome::harmless);
  CHECK(clumsy->outcome == Outcome::harmless);
  CHECK_FALSE(clumsy->watch.empty());
  const auto of_both = [&](const slips::Pair& p) { return &table.rows[p.first] == torn && &table.rows[p.second] == clumsy; };
  CHECK(std::count_if(table.pairs.begin(), table.pairs.end(), of_both) == 1);
  CHECK_FALSE(of_three(table, {torn, clumsy, clumsy}));
}

TEST_CASE("slips: what to watch for tells nothing of time, and another person's timer does") {
  const auto of_first_rub = [&](const std::string& before, const std::string& after) {
    std::string text = plain_order;
    const std::string rub = "  disinfect bare hands with hand rub\n";
    text.replace(text.find(rub), rub.size(), before + rub + after);
    const slips::Table table = tried(leaving_the_room(text, watcher_confirms));
    const slips::Row* cut = row(table, SlipKind::cut_short, "wearer disinfects bare hands");
    REQUIRE(cut);
    REQUIRE(cut->harm);
    return std::pair(cut->outcome, cut->watch);
  };
  CHECK(of_first_rub("", "") == std::pair(Outcome::harm, std::string()));
  const std::string stop = "  watcher stops timer rubbing\n";
  CHECK(of_first_rub("  watcher starts timer rubbing at least 30 seconds\n", stop) == std::pair(Outcome::caught, std::string("the timer “rubbing” of watcher, 30 s")));
  // Neither one that runs too short, nor one's own, nor one that is not told how long to run.
  CHECK(of_first_rub("  watcher starts timer rubbing at least 10 seconds\n", stop).first == Outcome::harm);
  CHECK(of_first_rub("  start timer rubbing at least 30 seconds\n", "  stop timer rubbing\n").first == Outcome::harm);
  CHECK(of_first_rub("  watcher starts timer rubbing\n", stop).first == Outcome::harm);
}

TEST_CASE("slips: that a line comes too early is seen at no line") {
  const slips::Table table = tried(leaving_the_room(plain_order, watcher_confirms));
  const slips::Row* rub = row(table, SlipKind::left_out, "wearer disinfects bare hands");
  REQUIRE(rub);
  CHECK(rub->outcome == Outcome::caught);
  const slips::Row* goggles = row(table, SlipKind::done_early, "wearer takes off the goggles");
  REQUIRE(goggles);
  CHECK(goggles->outcome == Outcome::harm);
  CHECK(goggles->watch.empty());
}

namespace {


/// What becomes of a slip where `before` stands in front of the gloves and `after` behind the rub that follows them.
Outcome with_tray(const std::string& before, const std::string& after, SlipKind kind, const std::string& line) {
  const slips::Table table = tried(leaving_the_room("\n" + before + R"(  take off single gloves using peel to the skin
  disinfect bare hands with hand rub
)" + after + R"(
  disinfect bare hands with hand rub
  take off goggles using strap from behind
  disinfect bare hands with hand rub
  take off gown using untie and roll
  disinfect bare hands with hand rub)", tray));
  const slips::Row* found = row(table, kind, line);
  REQUIRE(found);
  return found->outcome;
}

const std::string turn_the_tray = "  act \"Turn the tray round.\" touching tray";

}  // namespace

TEST_CASE("slips: a hand does no harm to what the same line disinfects") {
  // The tray is clean, and is disinfected once more before the goggles go onto it; the rub that is left out leaves dirt on the hands.
  const auto without_rub = [](const std::string& tray_line) {
    return with_tray("  disinfect tray with strong chlorine\n", tray_line, SlipKind::left_out, "wearer disinfects bare hands");
  };
  CHECK(without_rub("  disinfect tray with strong chlorine") == Outcome::harmless);
  CHECK(without_rub(turn_the_tray) == Outcome::harm);
}

TEST_CASE("slips: what is not waited for stays wet until it is touched or its person waits as long elsewhere") {
  const auto hurried = [](const std::string& between, const std::string& touched_first = "") {
    const std::string before = "  disinfect tray with strong chlorine without waiting\n  wait contact time\n" + touched_first + between;
    return with_tray(before, turn_the_tray, SlipKind::cut_short, "wearer waits for the contact time");
  };
  CHECK(hurried("") == Outcome::harm);
  CHECK(hurried("  disinfect stool with strong chlorine\n") == Outcome::harmless);
  CHECK(hurried("  disinfect stool with strong chlorine without waiting\n  wait contact time\n") == Outcome::harmless);
  CHECK(hurried("  disinfect single gloves with hand rub\n") == Outcome::harm);  // 30 seconds, and the tray asks for 10 minutes
  CHECK(hurried("  disinfect stool with strong chlorine\n", "  disinfect single gloves with hand rub\n  act \"Push the tray back.\" touching tray\n") == Outcome::harm);
}

TEST_CASE("slips: a disinfection whose time is not kept stays wet in the same way") {
  const auto hurried = [](const std::string& between) {
    return with_tray("  disinfect tray with strong chlorine\n" + between, turn_the_tray, SlipKind::cut_short, "wearer disinfects the tray");
  };
  CHECK(hurried("") == Outcome::harm);
  CHECK(hurried("  disinfect stool with strong chlorine\n") == Outcome::harmless);
  CHECK(hurried("  disinfect stool with strong chlorine without waiting\n  wait contact time\n") == Outcome::harmless);
  CHECK(hurried("  disinfect single gloves with hand rub\n") == Outcome::harm);  // 30 seconds, and the tray asks for 10 minutes
  CHECK(hurried("  disinfect single gloves with hand rub\n  act \"Push the tray back.\" touching tray\n  disinfect stool with strong chlorine\n") == Outcome::harm);
}

TEST_CASE("slips: what is done on bare hands comes to nothing where gloves went on before it, and that shows") {
  const std::string gloved_again = R"(
  take off single gloves using peel to the skin
  disinfect bare hands with hand rub
  disinfect bare hands with hand rub
  put on single gloves using cuff over the gown
  take off single gloves using peel to the skin)" + plain_order.substr(plain_order.find("\n  disinfect"));
  const slips::Table table = tried(leaving_the_room(gloved_again));
  const slips::Row* gloves = row(table, SlipKind::done_early, "wearer puts on the single gloves");
  REQUIRE(gloves);
  CHECK(gloves->outcome == Outcome::caught);
  REQUIRE(gloves->caught.size() == 1);
  CHECK(gloves->caught.front().by == slips::Catch::By::cannot_be_done);
  CHECK(gloves->caught.front().words == "bare hands are still covered by single gloves");
  const slips::Row* rub = row(table, SlipKind::done_early, "wearer disinfects bare hands");
  REQUIRE(rub);
  CHECK(rub->outcome == Outcome::caught);  // on the gloves that would have come off before
  CHECK(rub->caught.front().words == "bare hands are still covered by single gloves");
}

TEST_CASE("slips: nothing is done before the line that fetches it, and acts with what was fetched keep their order") {
  const auto early = [](const std::string& lines) {
    std::set<std::string> all;
    const slips::Table table = tried(leaving_the_room(lines + plain_order, tray + "use library standard \"spill-kit\"\n"));
    for (const slips::Row& r : table.rows)
      if (r.key.kind == SlipKind::done_early) all.insert(r.line);
    return all;
  };
  const auto with_pads = early("  take 2 absorbent pad\n  act \"Wipe the tray.\" touching tray\n  act \"Drop the pads.\"\n  act \"Stand up.\"\n");
  CHECK(with_pads.count("wearer does “Wipe the tray.”") == 0);
  CHECK(with_pads.count("wearer does “Drop the pads.”") == 0);
  const auto without = early("  act \"Wipe the tray.\" touching tray\n  act \"Drop the pads.\"\n");
  CHECK(without.count("wearer does “Drop the pads.”") == 1);
}

TEST_CASE("slips: alternatives of one line are one sentence") {
  CHECK(slips::one_sentence({"wearer takes off the goggles", "wearer takes off the face shield"}) == "wearer takes off the goggles or face shield");
  CHECK(slips::one_sentence({"wearer wets the chair", "wearer wets the lid", "wearer wets the floor"}) == "wearer wets the chair, lid or floor");
  CHECK(slips::one_sentence({"soil"}) == "soil");
}

TEST_CASE("slips: two rubs in a row need two slips") {
  const std::string doubled = R"(
  take off single gloves using peel to the skin
  disinfect bare hands with hand rub
  disinfect bare hands with hand rub
  take off goggles using strap from behind
  disinfect bare hands with hand rub
  take off gown using untie and roll
  disinfect bare hands with hand rub)";
  const slips::Table table = tried(leaving_the_room(doubled), 2);
  const slips::Row *first = row(table, SlipKind::left_out, "wearer disinfects bare hands"), *second = row(table, SlipKind::left_out, "wearer disinfects bare hands", 1);
  REQUIRE(first);
  REQUIRE(second);
  CHECK(first->outcome == Outcome::harmless);
  CHECK(second->outcome == Outcome::harmless);
  const auto both = [&](const slips::Pair& p) {
    const slips::Row *a = &table.rows[p.first], *b = &table.rows[p.second];
    return (a == first && b == second) || (a == second && b == first);
  };
  const auto pair = std::find_if(table.pairs.begin(), table.pairs.end(), both);
  REQUIRE(pair != table.pairs.end());
  CHECK(diagnostics::code_name(pair->harm.code) == "P101");
  CHECK(pair->harm.steps == 4);
}

TEST_CASE("slips: three rubs in a row need three slips") {
  const std::string rub = "wearer disinfects bare hands";
  const slips::Table table = tried(leaving_the_room(three_rubs), 3);
  CHECK(table.complete);
  for (const slips::Reach& r : table.reach) CHECK(r.done == r.of);
  const slips::Triple* left_out = of_three(table, {row(table, SlipKind::left_out, rub, 0), row(table, SlipKind::left_out, rub, 1), row(table, SlipKind::left_out, rub, 2)});
  REQUIRE(left_out);
  CHECK_FALSE(left_out->with_confirm());
  CHECK(diagnostics::code_name(left_out->harm.code) == "P101");
  CHECK(left_out->harm.steps == 5);  // the gloves, three times nothing, the goggles
  CHECK(left_out->harm.consequence == slips::Consequence::face);
  // In whichever manner each of them fails; the goggles too early pass the third rub only.
  const slips::Triple* mixed = of_three(table, {row(table, SlipKind::left_out, rub, 0), row(table, SlipKind::cut_short, rub, 1), row(table, SlipKind::left_out, rub, 2)});
  REQUIRE(mixed);
  CHECK(mixed->harm.steps == 7);  // the hurried rub is a step of its own, and its end another
  CHECK(of_three(table, {row(table, SlipKind::left_out, rub, 0), row(table, SlipKind::left_out, rub, 1), row(table, SlipKind::done_early, "wearer takes off the goggles")}));
  // No set of three holds one or two that are enough, nor one slip twice.
  for (const slips::Triple& t : table.triples) {
    CHECK(std::set<std::size_t>{t.first, t.second, t.third}.size() == 3);
    for (std::size_t r : {t.first, t.second, t.third}) CHECK(table.rows[r].outcome != Outcome::harm);
    for (const slips::Pair& p : table.pairs) {
      const std::set<std::size_t> three{t.first, t.second, t.third};
      CHECK_FALSE((three.count(p.first) && three.count(p.second)));
    }
  }
  // With two slips at once nobody looks for them, and two of the rubs are no pair.
  const slips::Table two = tried(leaving_the_room(three_rubs), 2);
  CHECK(two.triples.empty());
  for (const slips::Pair& p : two.pairs) CHECK_FALSE((two.rows[p.first].line == rub && two.rows[p.second].line == rub && two.rows[p.first].key.begin < two.rows[p.second].key.begin && two.rows[p.second].key.begin < row(two, SlipKind::left_out, rub, 3)->key.begin));
}

TEST_CASE("slips: a confirm that is not made is the third of a set") {
  const std::string rub = "wearer disinfects bare hands";
  std::string two_rubs = three_rubs;
  two_rubs.erase(two_rubs.find("  disinfect"), two_rubs.find("  disinfect", two_rubs.find("  disinfect") + 1) - two_rubs.find("  disinfect"));
  const slips::Table table = tried(leaving_the_room(two_rubs, watcher_confirms), 3);
  // A rub that is left out is seen, one whose time is not kept is not: one confirm holds the two back together.
  const slips::Row *left_out = row(table, SlipKind::left_out, rub), *hurried = row(table, SlipKind::cut_short, rub, 1);
  REQUIRE(left_out);
  REQUIRE(hurried);
  CHECK_FALSE(left_out->watch.empty());
  CHECK(hurried->watch.empty());
  const slips::Triple* held = of_three(table, {left_out, hurried, left_out});
  REQUIRE(held);
  CHECK(held->with_confirm());
  CHECK(&table.rows[held->third] == left_out);
  CHECK(held->harm.steps == 6);  // the gloves, nothing, the hurried rub, its end and what is a step between, the goggles
  // Both left out are seen both: that takes four.
  CHECK_FALSE(of_three(table, {left_out, row(table, SlipKind::left_out, rub, 1), left_out}));
  CHECK(table.held_by_more > 0);
  CHECK(tried(leaving_the_room(two_rubs, watcher_confirms), 2).triples.empty());
}

TEST_CASE("slips: where the limit is reached, the table says how far it got") {
  FilesInMemory access;
  access.put("room.ward", leaving_the_room(three_rubs));
  const driver::Compilation made = driver::read("room.ward", access, "");
  const std::string whole = emit::slips_as_json(slips::analyse(*made.protocol, {.at_once = 3, .workers = 2}), made.files);
  std::size_t least_done = SIZE_MAX, most_done = 0, told = 0;
  for (std::uint64_t limit = 1; limit < 400; limit = limit * 3 / 2 + 1) {
    const slips::Table table = slips::analyse(*made.protocol, {.at_once = 3, .limit = limit, .workers = 2});
    const std::string text = emit::slips_as_text(table, made.files);
    if (table.complete) {
      CHECK(emit::slips_as_json(table, made.files) == whole);
      continue;
    }
    ++told;
    CHECK(text.find("the limit of " + std::to_string(limit) + " states was reached") != std::string::npos);
    CHECK(table.reach[2].done <= table.reach[2].of);
    least_done = std::min(least_done, table.reach[0].done);
    most_done = std::max(most_done, table.reach[2].done);
  }
  CHECK(told > 2);
  CHECK(least_done == 0);
  CHECK(most_done > 0);
}

TEST_CASE("slips: a glove that tears unseen lets through what it met until it is off") {
  // The gloves are clean when they come off, so only the tear brings dirt to the hands; the goggles come next.
  const std::string cleaned = R"(
  disinfect single gloves with hand rub
  take off single gloves using peel to the skin
  take off goggles using strap from behind
  disinfect bare hands with hand rub
  take off gown using untie and roll
  disinfect bare hands with hand rub)";
  const slips::Table table = tried(leaving_the_room(cleaned));
  const slips::Row* torn = row(table, SlipKind::tears, "wearer takes off the single gloves");
  REQUIRE(torn);
  CHECK(torn->outcome == Outcome::harm);
  CHECK(diagnostics::code_name(torn->harm->code) == "P101");
}

TEST_CASE("slips: csv and json hold every row") {
  FilesInMemory access;
  access.put("room.ward", leaving_the_room(plain_order));
  driver::Compilation made = driver::read("room.ward", access, "");
  const slips::Table table = slips::analyse(*made.protocol, {.at_once = 2, .workers = 1});
  const std::string csv = emit::slips_as_csv(table, made.files);
  CHECK(static_cast<std::size_t>(std::count(csv.begin(), csv.end(), '\n')) == table.rows.size() + 1);
  const std::string json = emit::slips_as_json(table, made.files);
  std::size_t outcomes = 0;
  for (std::size_t at = json.find("\"outcome\""); at != std::string::npos; at = json.find("\"outcome\"", at + 1)) ++outcomes;
  CHECK(outcomes == table.rows.size());
}

TEST_CASE("slips: any number of workers gives the same table") {
  FilesInMemory access;
  access.put("room.ward", leaving_the_room(plain_order));
  driver::Compilation made = driver::read("room.ward", access, "");
  const std::string one = emit::slips_as_json(slips::analyse(*made.protocol, {.at_once = 3, .workers = 1}), made.files);
  for (unsigned workers : {2u, 3u, 5u}) CHECK(emit::slips_as_json(slips::analyse(*made.protocol, {.at_once = 3, .workers = workers}), made.files) == one);
}
