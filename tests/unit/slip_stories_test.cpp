// What the story of a slip says besides, on procedures that are short enough to be followed by hand: whoever reads along the card asks it.
#include <doctest/doctest.h>

#include <algorithm>

#include "emit/slips/slip_words.hpp"
#include "emit/slips/slips.hpp"
#include "room_protocol.hpp"
#include "slips/table.hpp"

using namespace stepward;
using namespace stepward::room;
using graph::SlipKind;
using slips::Outcome;

namespace {

/// Of the first such row, its story, a line each; empty where it comes to no harm.
std::string story_of(const slips::Table& table, SlipKind kind, const std::string& line, const std::string& look = "") {
  std::string out;
  for (const slips::Row& r : table.rows) {
    if (r.key.kind != kind || r.line != line || (!look.empty() && r.look != look) || r.outcome != Outcome::harm) continue;
    for (const auto& each : r.harm->story) out += (each.step.empty() ? "" : each.step + " ") + each.text + "\n";
    break;
  }
  return out;
}

bool tells(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

const slips::Row* first_of(const slips::Table& table, SlipKind kind, const std::string& line) {
  const auto found = std::find_if(table.rows.begin(), table.rows.end(), [&](const slips::Row& r) { return r.key.kind == kind && r.line == line; });
  return found == table.rows.end() ? nullptr : &*found;
}

}  // namespace

TEST_CASE("slip stories: a time that is not kept says what it leaves behind") {
  CHECK(story_of(tried(leaving_the_room(plain_order)), SlipKind::cut_short, "wearer disinfects bare hands") ==
        "(1) wearer takes off the single gloves: coming off, they may dirty bare hands\n"
        "(2) time not kept: wearer disinfects bare hands\n"
        "rubbed too briefly, so they count as not disinfected\n"
        "(3) wearer takes off the goggles\n"
        "bare hands may bring dirt to the face while handling goggles\n");
}

TEST_CASE("slip stories: of an unseen tear the end says that nobody knows of it, and a later look why it does not help") {
  const std::string text = "\n  inspect goggles, gown for tear\n  if tear on goggles or tear on gown\n    declare exposure\n  end if" + plain_order +
                           "\n  inspect scrubs for soil\n  if soil on scrubs\n    act \"Change them.\"\n  end if\n  if exposure was declared\n    finish as exposed\n  end if";
  const slips::Table table = tried(leaving_the_room(text));
  const std::string eyes = story_of(table, SlipKind::overlooked, "wearer looks at the goggles and the gown", "a tear or crack on the goggles");
  CHECK(tells(eyes, "nobody knows of it, so no first aid is given\nthe end “out”\ndirt may have reached eyes, and nothing was done about it\n"));
  const std::string scrubs = story_of(table, SlipKind::overlooked, "wearer looks at the goggles and the gown", "a tear or crack on the gown");
  CHECK(tells(scrubs, "wearer looks at the scrubs: such dirt need not show\n"));
  CHECK(tells(scrubs, "nobody knows of it, so nothing is done about it\nscrubs count as clean at “out” and may carry dirt\n"));
}

TEST_CASE("slip stories: a deed is told by its own words, and a single step between two others as it is") {
  std::string text = plain_order;
  const std::string rub = "  disinfect bare hands with hand rub\n  take off goggles";
  text.replace(text.find(rub), 0, "  act \"Breathe out. Count to three, slowly, and look at the wall.\"\n");
  CHECK(tells(story_of(tried(leaving_the_room(text)), SlipKind::left_out, "wearer disinfects bare hands"),
            "may dirty bare hands\n(2) wearer does “Breathe out. …”\n(3) left out: wearer disinfects bare hands\n"));
}

TEST_CASE("slip stories: what is put on a second time is new") {
  const std::string again = R"(
  take off single gloves using peel to the skin
  disinfect bare hands with hand rub
  put on single gloves using cuff over the gown)" + plain_order;
  CHECK(tells(story_of(tried(leaving_the_room(again)), SlipKind::left_out, "wearer disinfects bare hands"),
            "(3) wearer puts on new single gloves\nsingle gloves may shut in dirt on bare hands\n"));
}

TEST_CASE("slip stories: a later look of the main list is named where the run goes round it") {
  const std::string look = "  inspect bare hands for soil\n  if soil on bare hands\n    clean soil from bare hands using soap and water\n  end if\n";
  const std::string round = "\n  take off single gloves using peel to the skin\n" + look + "  decide basin near as yes or no\n  if basin near is yes\n  act \"Step up to it.\"\n" + look +
                            "  act \"Step back.\"\n  end if" + plain_order.substr(plain_order.find("\n  disinfect"));
  CHECK(story_of(tried(leaving_the_room(round)), SlipKind::overlooked, "wearer looks at bare hands") ==
        "(1) wearer takes off the single gloves: coming off, they may dirty bare hands\n"
        "(2) overlooked: wearer looks at bare hands and misses soil\n"
        "(3) wearer decides basin near: no\n"
        "(5) passed over by Q2: wearer looks at bare hands\n"
        "(7) wearer disinfects bare hands: under the soil nothing gets clean\n"
        "(8) wearer takes off the goggles\n"
        "bare hands may bring dirt to the face while handling goggles\n");
}

TEST_CASE("slip stories: of a note that is left out, what hangs on it is named by its question and steps") {
  const std::string story = story_of(tried(leaving_the_room(with_noted_tear("    act \"Bring fresh clothes.\"\n"))), SlipKind::left_out, "wearer writes down torn gown");
  CHECK(tells(story, "(1b) left out: wearer writes down torn gown\nQ2 is answered no, so these are not done:\n(7a) wearer does “Bring fresh clothes.”\n"));
}

TEST_CASE("slip stories: of a question beside the run, the words that are asked") {
  std::string text = plain_order;
  const std::string rub = "  disinfect bare hands with hand rub\n  take off goggles";
  text.replace(text.find(rub), 0, "  decide lamp on as yes or no\n    say \"Is the lamp on?\"\n  if lamp on is no\n    act \"Wait for light.\"\n  end if\n");
  CHECK(tells(story_of(tried(leaving_the_room(text)), SlipKind::left_out, "wearer disinfects bare hands"), "\n(2) wearer answers “Is the lamp on?”\n(3) left out: "));
}

TEST_CASE("slip stories: each kind of slip has its own reason why nothing shows it") {
  const slips::Table alone = tried(leaving_the_room(plain_order)), watched = tried(leaving_the_room(plain_order, watcher_confirms));
  CHECK(alone.confirms.empty());
  CHECK(watched.confirms == "watcher");
  const auto why = [](const slips::Table& table, SlipKind kind, const std::string& line) { return emit::why_not_seen(*first_of(table, kind, line), table.confirms); };
  CHECK(why(alone, SlipKind::left_out, "wearer disinfects bare hands") == "not seen: nobody else watches");
  CHECK(emit::why_not_seen(*first_of(alone, SlipKind::left_out, "wearer disinfects bare hands"), "watcher") == "not seen: nobody else is told what to watch for at this line");
  CHECK(why(alone, SlipKind::cut_short, "wearer disinfects bare hands") == "not seen: nobody else times it");
  CHECK(why(alone, SlipKind::done_early, "wearer takes off the goggles") == "not seen in time: no check shows a wrong order");
  CHECK(why(alone, SlipKind::clumsy, "wearer takes off the goggles") == "not seen: nobody else watches");
  CHECK(tells(why(watched, SlipKind::clumsy, "wearer takes off the goggles"), "seen too late: watcher watches for “Only the strap is held."));
  FilesInMemory access;
  access.put("room.ward", leaving_the_room(plain_order, watcher_confirms));
  const std::string text = emit::slips_as_text(watched, driver::read("room.ward", access, "").files);
  CHECK(tells(text, "EYES, NOSE OR MOUTH: dirt may come there\n"));
  CHECK(tells(text, "  clumsy: what must not be brushed is brushed"));
  CHECK_FALSE(tells(text, "  glove tears unseen: "));  // none here comes to harm
}
