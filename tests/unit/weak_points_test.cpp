// A protocol with nine weaknesses planted in it: each has to be told as silent harm with its story, and to be gone with its mend.
#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <string>

#include "base/file_access.hpp"
#include "diagnostics/render.hpp"
#include "driver/pipeline.hpp"
#include "slips/table.hpp"

using namespace stepward;
using graph::SlipKind;

namespace {

// @name@ is where a mend is written.
const std::string weak = R"(stepward 1 protocol

document
  title   "Out of the suit"
  number  ASH-07
  version 1.0
end document

use library standard "layered-equipment"
use library standard "team"
use library standard "disinfectants"
use library standard "cleansing"

people
  wearer begins in care room wearing scrubs, clogs, inner gloves, coverall, respirator, goggles, plastic apron, outer gloves
  observer begins in exit area wearing scrubs, clogs, inner gloves
  observer ends dressed, continue with ASH-02
  wearer acts unless a line names someone else
end people

endings
  clean exit is normal
    clean bare hands of wearer, scrubs of wearer
  exposure exit is emergency, continue with ASH-03
  assisted exit is emergency, continue with ASH-04
end endings

rhythm
  observer reads aloud
  wearer acts
  observer confirms
end rhythm

phase "Out"
  move to exit area
  observer inspects outer gloves for soil or tear
  if soil on outer gloves
    do clear soiled gloves
  end if
  if tear on outer gloves
    declare exposure
  end if
  disinfect hands with strong chlorine
  take off outer gloves using peel inside out
  observer inspects inner gloves for soil
  if soil on inner gloves
    do clear soiled gloves
  end if
@fresh gloves@  disinfect hands with strong chlorine
  take off plastic apron using break the loop
  disinfect hands with strong chlorine
@goggles hands@@goggles front@  take off goggles using strap from behind
  disinfect hands with strong chlorine
  observer inspects coverall for tear
  if tear on coverall
    observer declares exposure
@declare@  end if
  act "Draw the zip right down." touching flap of coverall and zip of coverall
  disinfect hands with strong chlorine
  take off coverall using roll down from inside
  disinfect hands with strong chlorine
  disinfect clogs with strong chlorine
@clogs@  take off inner gloves using peel inside out
  disinfect bare hands with hand rub
@change@  put on inner gloves using cuff first
  take off respirator using straps from below
  disinfect hands with strong chlorine
  take off inner gloves using peel inside out
@last rub@  if exposure was declared
    finish as exposure exit
  end if
  move to clean lobby
  finish as clean exit
end phase
)";

/// The lines that answer a weakness, by the place that they are written at.
const std::map<std::string, std::string> answers = {
    {"fresh gloves", "  take off inner gloves using peel inside out\n  disinfect bare hands with hand rub\n  put on inner gloves using cuff first\n"},
    {"goggles hands", "    watch \"Both hands glisten, thumbs too.\"\n"},
    {"goggles front", "  disinfect goggles with strong chlorine\n  disinfect hands with strong chlorine\n"},
    {"declare", "    declare exposure\n"},
    {"clogs", "    watch \"Upper, sides and sole are wet until the clock is round.\"\n"},
    {"change", "    watch \"Rubbed until dry, backs and thumbs too.\"\n"},
    {"last rub", "  disinfect bare hands with hand rub\n"}};

struct Weakness {
  const char* what;
  const char* answer;
  SlipKind kind;
  const char* line;
  const char* harm;
};

const Weakness planted[] = {
    {"a look that nobody makes twice", "fresh gloves", SlipKind::overlooked, "observer looks at the inner gloves", "hands (inner gloves) may carry and reach the face: goggles"},
    {"a confirm with nothing to see", "goggles hands", SlipKind::left_out, "wearer disinfects hands", "hands (inner gloves) may carry and reach the face: goggles"},
    {"hands that were dirty a moment ago, and the goggles next", "goggles hands", SlipKind::done_early, "wearer disinfects hands", "hands (inner gloves) may carry and reach the face: goggles"},
    {"a front that swings into the face unclean", "goggles front", SlipKind::clumsy, "wearer takes off the goggles", "goggles may carry and reach face"},
    {"a word that one person alone has to remember", "declare", SlipKind::left_out, "observer declares exposure", "scrubs may carry across the border into clean lobby"},
    {"a border crossed on the observer's word alone", "clogs", SlipKind::left_out, "wearer disinfects the clogs", "clogs may carry across the border into clean lobby"},
    {"a contact time that nobody times", "clogs", SlipKind::cut_short, "wearer disinfects the clogs", "clogs may carry across the border into clean lobby"},
    {"a glove change that nobody sees", "change", SlipKind::left_out, "wearer disinfects bare hands", "inner gloves go on over bare hands, which may carry"},
    {"a last pair that may tear with nothing after it", "last rub", SlipKind::tears, "wearer takes off the inner gloves", "bare hands may carry across the border into clean lobby"}};

/// The protocol with the answer that is written at one place, or with none.
std::string with(const std::string& answer) {
  std::string text = weak;
  for (const auto& [place, lines] : answers) {
    const std::string mark = '@' + place + '@';
    text.replace(text.find(mark), mark.size(), place == answer ? lines : "");
  }
  return text;
}

slips::Table slips_of(const std::string& text) {
  FilesInMemory access;
  access.put("suit.ward", text);
  driver::Compilation made = driver::read("suit.ward", access, "");
  REQUIRE(made.is_walkable());
  driver::walk(made, {});
  REQUIRE(diagnostics::count(made.findings).errors == 0);
  return slips::analyse(*made.protocol, {.workers = 1});
}

const slips::Row* silent(const slips::Table& table, const Weakness& w) {
  const auto found = std::find_if(table.rows.begin(), table.rows.end(), [&](const slips::Row& row) {
    return row.outcome == slips::Outcome::harm && row.key.kind == w.kind && row.line == w.line && row.harm->headline == w.harm;
  });
  return found == table.rows.end() ? nullptr : &*found;
}

}  // namespace

TEST_CASE("weak points: each of nine planted ones is told as silent harm, with its story") {
  const slips::Table table = slips_of(with(""));
  for (const Weakness& w : planted) {
    CAPTURE(w.what);
    const slips::Row* row = silent(table, w);
    REQUIRE(row);
    CHECK(row->caught.empty());
    REQUIRE(row->harm->story.size() >= 2);
    const auto& story = row->harm->story;
    CHECK(std::any_of(story.begin(), story.end(), [&](const auto& told) { return told.text.find(w.line) != std::string::npos; }));
  }
}

TEST_CASE("weak points: each is gone once it is answered, and the others stay") {
  for (const Weakness& w : planted) {
    CAPTURE(w.what);
    const slips::Table table = slips_of(with(w.answer));
    CHECK(silent(table, w) == nullptr);
    for (const Weakness& other : planted) {
      // Fresh gloves are no answer to what comes after them.
      if (std::string(other.answer) == w.answer) continue;
      CAPTURE(other.what);
      CHECK(silent(table, other) != nullptr);
    }
  }
}
