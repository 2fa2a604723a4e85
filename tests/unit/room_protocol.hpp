#pragma once
// A procedure that is short enough to be followed by hand: a wearer leaves a room, takes off gloves, goggles and gown, and rubs hands between them.

#include <doctest/doctest.h>

#include <string>

#include "base/file_access.hpp"
#include "driver/pipeline.hpp"
#include "slips/table.hpp"

namespace stepward::room {

// One person, gloves over hands, a gown and goggles, in a room that exposes the front; then out. The lines of `phase` are the test's.
inline std::string leaving_the_room(const std::string& phase, const std::string& rhythm = "") {
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

/// Somebody beside the wearer confirms each line.
inline const std::string watcher_confirms = "rhythm\n  watcher reads aloud\n  wearer acts\n  watcher confirms\nend rhythm\n";

/// The order of a plain sheet: gloves, hands, goggles, hands, gown, hands.
inline const std::string plain_order = R"(
  take off single gloves using peel to the skin
  disinfect bare hands with hand rub
  take off goggles using strap from behind
  disinfect bare hands with hand rub
  take off gown using untie and roll
  disinfect bare hands with hand rub)";

inline const std::string with_look = R"(
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

/// Somebody writes down a torn gown, and what is done at the end hangs on the note.
inline std::string with_noted_tear(const std::string& where_noted) {
  return R"(
  inspect gown for tear
  if tear on gown
    declare exposure
    record torn gown
  end if)" + plain_order + "\n  if torn gown was recorded\n" + where_noted + "    finish as exposed\n  end if";
}

inline const std::string three_rubs = R"(
  take off single gloves using peel to the skin
  disinfect bare hands with hand rub
  disinfect bare hands with hand rub
  disinfect bare hands with hand rub
  take off goggles using strap from behind
  disinfect bare hands with hand rub
  take off gown using untie and roll
  disinfect bare hands with hand rub)";

/// What comes of its slips; it has no errors.
inline slips::Table tried(const std::string& text, unsigned at_once = 1) {
  FilesInMemory access;
  access.put("room.ward", text);
  driver::Compilation made = driver::read("room.ward", access, "");
  REQUIRE(made.is_walkable());
  driver::walk(made, {});
  for (const diagnostics::Diagnostic& d : made.findings) CHECK_MESSAGE(d.severity != diagnostics::Severity::error, diagnostics::code_name(d.code));
  return slips::analyse(*made.protocol, {.at_once = at_once, .workers = 1});
}

}  // namespace stepward::room
