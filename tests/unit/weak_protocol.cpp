#include "weak_protocol.hpp"

#include <doctest/doctest.h>

#include <map>

#include "base/file_access.hpp"

namespace {

// @name@ is where a mend is written.
const std::string weak = R"(stepward 1 protocol

document
  title   "Out of the suit"
  number  ASH-07
  version 1.0
@weak points@end document

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
@goggles early@  disinfect hands with strong chlorine
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
@clogs timer@  disinfect clogs with strong chlorine
@clogs@@clogs timer end@  take off inner gloves using peel inside out
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
    {"weak points", "  weak points marked\n"},
    {"fresh gloves", "  take off inner gloves using peel inside out\n  disinfect bare hands with hand rub\n  put on inner gloves using cuff first\n"},
    {"goggles hands", "    watch \"Both hands glisten, thumbs too.\"\n"},
    {"goggles early", "  observer decides apron in drum as yes or no\n  if apron in drum is no\n    act \"Drop it into the drum.\"\n  end if\n"},
    {"clogs timer", "  observer starts timer soak at least 10 minutes\n"},
    {"clogs timer end", "  observer stops timer soak\n"},
    {"goggles front", "  disinfect goggles with strong chlorine\n  disinfect hands with strong chlorine\n"},
    {"declare", "    declare exposure\n"},
    {"clogs", "    watch \"Upper, sides and sole are wet until the clock is round.\"\n"},
    {"change", "    watch \"Rubbed until dry, backs and thumbs too.\"\n"},
    {"last rub", "  disinfect bare hands with hand rub\n"}};

}  // namespace

std::string weak_protocol(const std::string& answer) {
  std::string text = weak;
  for (const auto& [place, lines] : answers) {
    const std::string mark = '@' + place + '@';
    text.replace(text.find(mark), mark.size(), place == answer || place == answer + " end" ? lines : "");
  }
  return text;
}

stepward::driver::Compilation walked(const std::string& text) {
  stepward::FilesInMemory access;
  access.put("suit.ward", text);
  stepward::driver::Compilation made = stepward::driver::read("suit.ward", access, "");
  REQUIRE(made.is_walkable());
  stepward::driver::walk(made, {});
  REQUIRE(stepward::diagnostics::count(made.findings).errors == 0);
  return made;
}
