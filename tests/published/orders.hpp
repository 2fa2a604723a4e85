#pragma once
// Published orders as short lists of acts, written out as protocols in the language.
//
// An order is a list such as "off plastic apron, hh, off outer gloves, look inner gloves": the notation of the tables
// that collect published sequences, with the names of the standard equipment. `protocol_text` writes a whole protocol
// from it: a care room that exposes the front, the door or doors behind it, one wearer, one observer, and the rule packs
// that are asked for. Without packs, what the walk finds is physics alone; with one, what the order and the pack differ in.
//
// A worked example: {"enter", "hh", "off plastic apron", "rub"} becomes
//     move to exit area
//     disinfect hands with hand rub
//     take off plastic apron using break the loop
//     disinfect bare hands with hand rub

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/file_access.hpp"
#include "check/verdict.hpp"
#include "diagnostics/diagnostic.hpp"
#include "model/protocol.hpp"
#include "source/files.hpp"

namespace stepward::published {

/// How far the published order was checked: seen in the text, seen in another's account of it, recalled with high or
/// with medium confidence, put together from pages of which only some were seen.
enum class Mark { read, read_in_another, memory_high, memory_medium, reconstructed };

/// Orders that rest on memory of medium confidence or on reconstruction hold what this project thinks they say: a
/// change is noticed, but nothing is proved about the source.
bool is_regression_only(Mark mark);
std::string_view words(Mark mark);

struct Order {
  std::string_view id;
  std::string_view source;
  Mark mark = Mark::read;
  std::string_view wearing;             ///< from the inside out, beyond scrubs
  /// "enter" (the exit area), "leave" (to the lobby), "exit" (by the one door), "hh" hands as they are, "rub" bare hands,
  /// "soap" bare hands, "off X", "off X & Y", "don X", "look X", "wipe X", "say LINE"
  std::vector<std::string_view> acts;
  bool chlorine = false;                ///< gloves are cleaned with chlorine, not with rub
  std::string_view column = "";         ///< of the published matrix, if it has one
  std::size_t removals = 0, cleanings = 0;  ///< as the matrix counts them
  std::string_view own_packs = "";      ///< rule packs that state this order, with commas
  bool needs_perfect_hands = false;     ///< with ordinary hands its physics is broken
};

struct Written {
  std::string_view reading = "ordinary hands";
  std::string_view exposes = "front only";
  std::vector<std::string> packs = {};  ///< names of standard packs, or a file of this folder with its ending
};
std::string protocol_text(const Order& order, const Written& how);

/// The packs that state an order, as a list.
std::vector<std::string> own_packs(const Order& order);
/// The reading in which it is held against rules: perfect hands for sheets with one pair of gloves, whose own condition is
/// that hands are cleaned "if contaminated".
std::string_view reading_of(const Order& order);

/// The text of a file of this folder.
std::string file_text(const std::string& name);

/// `text` as order.ward, with the files of this folder that it may use beside it.
FilesInMemory files_of(const std::string& text);

struct Checked {
  source::Files files;
  std::optional<model::Protocol> protocol;
  check::Verdict verdict;
  std::vector<diagnostics::Diagnostic> errors;
  std::vector<diagnostics::Diagnostic> all;
  std::string text;                     ///< the source, for a failing test
  bool complete = false;
};
/// Parses, resolves and walks `text` beside the kit and the rules of this folder; with `only_rule`, no other rule is kept.
Checked check_text(const std::string& text, std::string_view only_rule = "");

/// One line an error, "P101 | hands | goggles": the code and its arguments, for a failing test.
std::string codes(const Checked& checked);

}  // namespace stepward::published
