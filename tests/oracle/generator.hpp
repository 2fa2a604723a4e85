#pragma once
// Random procedures, as source text.
//
// A procedure is a small ward of its own: two or three zones, one to three people, two glove layers, something on the
// face and up to four more items, two agents, techniques, findings, a few rules, up to two interruptions. Its lines are
// mostly sensible: the writer keeps an account of what is worn and whether hands were cleaned, so that runs get far;
// then it forgets a cleaning here, takes the wrong thing there, or writes a line that nobody would. How careful it is
// differs from procedure to procedure. The same number always gives the same text, on every machine.

#include <cstdint>
#include <string>

namespace stepward::oracle {

/// The text of the procedure with this number.
std::string random_procedure(std::uint64_t number);

}  // namespace stepward::oracle
