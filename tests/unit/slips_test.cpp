// Slips on procedures that are short enough to be followed by hand.
#include <doctest/doctest.h>

#include <algorithm>

#include "base/file_access.hpp"
#include "driver/pipeline.hpp"
#include "emit/slips/slips.hpp"
#include "slips/table.hpp"

using namespace stepward;
using graph::SlipKind;
using slips::Outcome;

namespace {

// One person, gloves over hands, a gown and goggles, in a room that exposes the front; then out. The lines of `phase` are the test's.
std::string leaving_the_room(const std::string& phase, const std::string& rhythm = "") {
  return R"(stepward 1 protocol
document
  title   "Room door"
  number  ASH-02
  version 1.0
end document
use library standard "basic-equipment"
use library standard "head-and-face"
use library standard "ties-and-zips"
use library standard "findings"
use library standard "cleaning"
use library standard "disinfectants"
use library standard "plain-wording"
zone care room
  risk high
  exposes front only
  leads to corridor
end zone
zone corridor
  risk low
  leads to care room
end zone
role wearer
  may enter corridor, care room
end role
role watcher
  may enter corridor, care room
end role
people
  wearer begins in care room wearing scrubs, gown, goggles, single gloves
  watcher begins in corridor wearing scrubs
  wearer acts unless a line names someone else
end people
endings
  out is normal
    wearer wears scrubs
    clean bare hands of wearer, scrubs of wearer
)" + std::string(phase.find("exposed") != std::string::npos ? "  exposed is emergency\n" : "") + "end endings\n" + rhythm + R"(
phase "Out"
)" + phase + R"(
  finish as out
end phase
)";
}

/// The order of a plain sheet: gloves, hands, goggles, hands, gown, hands.
const std::string plain = R"(
  take off single gloves using peel to the skin
  disinfect bare hands with hand rub
  take off goggles using strap from behind
  disinfect bare hands with hand rub
  take off gown using untie and roll
  disinfect bare hands with hand rub)";

slips::Table tried(const std::string& text, unsigned at_once = 1) {
  FilesInMemory access;
  access.put("room.ward", text);
  driver::Compilation made = driver::read("room.ward", access, "");
  REQUIRE(made.is_walkable());
  driver::walk(made, {});
  for (const diagnostics::Diagnostic& d : made.findings) CHECK_MESSAGE(d.severity != diagnostics::Severity::error, diagnostics::code_name(d.code));
  return slips::analyse(*made.protocol, {.at_once = at_once, .workers = 1});
}

/// The n-th row (in the order of the source) of a kind whose line is `line`.
const slips::Row* row(const slips::Table& table, SlipKind kind, const std::string& line, std::size_t n = 0) {
  std::vector<const slips::Row*> all;
  for (const slips::Row& r : table.rows)
    if (r.key.kind == kind && r.line == line) all.push_back(&r);
  std::sort(all.begin(), all.end(), [](const auto* a, const auto* b) { return a->key < b->key; });
  return n < all.size() ? all[n] : nullptr;
}

}  // namespace

TEST_CASE("slips: hands that are not rubbed after the gloves come to harm at the goggles") {
  const slips::Table table = tried(leaving_the_room(plain));
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
  const slips::Table table = tried(leaving_the_room(plain));
  const slips::Row* goggles = row(table, SlipKind::done_early, "wearer takes off the goggles");
  REQUIRE(goggles);
  CHECK(goggles->outcome == Outcome::harm);
  CHECK(diagnostics::code_name(goggles->harm->code) == "P101");
  CHECK(goggles->harm->at_once);
  // The first line of all has nothing before it.
  CHECK(row(table, SlipKind::done_early, "wearer takes off the single gloves") == nullptr);
}

TEST_CASE("slips: a removal that is left out shows where it is in the way, or at the ending") {
  const slips::Table table = tried(leaving_the_room(plain));
  const slips::Row* gown = row(table, SlipKind::left_out, "wearer takes off the gown");
  REQUIRE(gown);
  CHECK(gown->outcome == Outcome::caught);
  REQUIRE(gown->caught.size() == 1);
  CHECK(gown->caught[0].by == slips::Catch::By::ending);
}

TEST_CASE("slips: bare hands cannot be rubbed under gloves, and that shows") {
  const slips::Table table = tried(leaving_the_room(plain));
  const slips::Row* gloves = row(table, SlipKind::left_out, "wearer takes off the single gloves");
  REQUIRE(gloves);
  CHECK(gloves->outcome == Outcome::caught);
  CHECK(gloves->caught.front().by == slips::Catch::By::cannot_be_done);
}

TEST_CASE("slips: a look that misses soil lets a rub do nothing") {
  const std::string with_look = R"(
  take off single gloves using peel to the skin
  inspect bare hands for soil
  if soil on bare hands
    clean soil from bare hands using soap and water
  end if
  disinfect bare hands with hand rub
  take off goggles using strap from behind
  disinfect bare hands with hand rub
  take off gown using untie and roll
  disinfect bare hands with hand rub)";
  const slips::Table table = tried(leaving_the_room(with_look));
  const slips::Row* missed = row(table, SlipKind::overlooked, "wearer looks at bare hands");
  REQUIRE(missed);
  CHECK(missed->look == "soil on your bare hands");
  CHECK(missed->outcome == Outcome::harm);
  CHECK(diagnostics::code_name(missed->harm->code) == "P101");
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
}

TEST_CASE("slips: a confirm is a check where it has something to see, and then a pair") {
  const std::string rhythm = "rhythm\n  watcher reads aloud\n  wearer acts\n  watcher confirms\nend rhythm\n";
  const slips::Table alone = tried(leaving_the_room(plain, rhythm), 2);
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
  access.put("room.ward", leaving_the_room(plain));
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
  access.put("room.ward", leaving_the_room(plain));
  driver::Compilation made = driver::read("room.ward", access, "");
  const std::string one = emit::slips_as_json(slips::analyse(*made.protocol, {.at_once = 2, .workers = 1}), made.files);
  for (unsigned workers : {2u, 3u, 5u}) CHECK(emit::slips_as_json(slips::analyse(*made.protocol, {.at_once = 2, .workers = workers}), made.files) == one);
}
