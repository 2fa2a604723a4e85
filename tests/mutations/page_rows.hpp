#pragma once
// The numbered statements of docs/evidence/rule-packs.md, as that page lists them.
//
// | R22 | hose, belt, hood | LE18 and the technique "hose then belt" | read |
//
// "stated in" names rules (two letters, two digits) or findings of the checker (one letter, three digits). A rule is one of
// a pack, or of the protocol that the cell quotes; a finding is meant where the cell quotes nothing, or of what it quotes. A
// cell that begins with "no pack: " gives the reason why nothing states it; rules named there are not meant.

#include <string>
#include <vector>

namespace stepward::mutations {

struct PageRow {
  std::string number;                ///< "R22"; a line of the page with two numbers becomes two rows
  std::string stated_in;
  std::vector<std::string> held_by;  ///< rules, then findings; empty if nothing states it
  std::vector<std::string> quoted;   ///< what the cell puts in quotes: a protocol, an agent, a technique
  std::string reason;                ///< why nothing states it
};

/// In the order of the numbers.
std::vector<PageRow> rows_of_page(const std::string& page);
/// Whether a name is that of a finding ("P101") and not a rule's ("LE18").
bool is_finding(const std::string& name);

}  // namespace stepward::mutations
