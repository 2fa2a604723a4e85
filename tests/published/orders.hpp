#pragma once
// Published orders as short lists of acts, written out as protocols in the language.
//
// An order is a list such as "off apron, hh, off outer, look inner": the notation of the tables that collect published
// sequences. `protocol_text` writes a whole protocol from it: one care room that exposes the front, one wearer, the
// equipment kit below, no rules. What the walk then finds is physics alone.

#include <string>
#include <string_view>
#include <vector>

#include "check/verdict.hpp"
#include "diagnostics/diagnostic.hpp"
#include "model/protocol.hpp"

namespace stepward::published {

/// How far the published order was checked (docs/evidence/): seen in the text, seen in another's account of it, recalled
/// with high or with medium confidence.
enum class Mark { read, read_in_another, memory_high, memory_medium };

struct Order {
  std::string_view id;
  std::string_view source;
  Mark mark = Mark::read;
  std::string_view wearing;             ///< from the inside out, beyond scrubs and shoes
  std::vector<std::string_view> acts;   ///< "hh", "hh bare", "off X", "off X & Y", "don X", "look X", "wipe X", "exit", "change inner gloves"
  std::string_view beyond_the_door = "low";  ///< risk there; basic sheets speak of four items only, not of shoes at a border
};

/// The words of the kit of equipment that all orders share.
std::string kit_text();
std::string protocol_text(const Order& order, std::string_view reading, std::string_view exposes = "front only");

struct Checked {
  std::vector<diagnostics::Diagnostic> errors;
  std::string text;                     ///< the source, for a failing test
  bool complete = false;
};
/// Parses, resolves and walks `text` beside the kit.
Checked check_text(const std::string& text);

/// One line an error, "P101 | hands | goggles": the code and its arguments, for a failing test.
std::string codes(const Checked& checked);

}  // namespace stepward::published
