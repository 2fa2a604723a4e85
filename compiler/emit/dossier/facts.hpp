#pragma once
// What a review dossier is made from: all that the check knows of a protocol, gathered, with hardly a word of its own.
//
// Made by the driver, which alone knows files, dates and versions; the printers of this folder only word it. One set of facts
// serves every language. Findings come in the words of the check, which are English in every language; so do the names of files.
// Variants are numbered from 1 in the order in which the protocol declares them; everything here that is said "by variant"
// has that order.

#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "check/contamination.hpp"
#include "check/rules_at_lines.hpp"
#include "check/stock.hpp"
#include "check/time_taken.hpp"
#include "diagnostics/render.hpp"
#include "emit/flow_chart/drawn.hpp"
#include "emit/walk_facts.hpp"
#include "graph/numbering.hpp"
#include "slips/failure_modes.hpp"

namespace stepward::emit::dossier {

/// A file as it was when it was checked; `path` seen from the folder of the protocol.
struct ReadFile {
  std::string path;
  std::size_t bytes = 0;
  std::string sha256;  ///< of its bytes as they are stored, 64 digits
};

struct VariantFacts {
  model::Variant variant;
  graph::Course course;
  std::vector<model::LineId> in_order;         ///< its lines in reading order, interruptions last
  WalkFacts walk;                              ///< hands, stock, set aside
  bool complete = false;                       ///< the walk of the verdict
  std::uint32_t states = 0, longest = 0;
  std::uint64_t transitions = 0;
  double paths = 0;
  std::set<model::LineId> reached;             ///< by some run, interruptions included
  std::set<model::EndingId> endings;           ///< that some run comes to, interruptions included
  std::map<model::LineId, std::set<std::uint32_t>> set_aside;  ///< as in check::VariantWalk
  check::ContaminationMap map;                 ///< without interruptions, like all below
  std::vector<check::RunLengths> lengths;
  std::vector<check::RuleAtLines> rules;       ///< by position in Protocol::rules; with interruptions
};

/// A finding in the words of the check.
struct ToldFinding {
  diagnostics::Severity severity{};
  std::string code, headline, place;           ///< place: "exit.ward, line 12"; empty: nowhere
  source::Span at;
  struct Step { std::string number, text; bool here = false; };
  std::vector<Step> story;                     ///< `number`: the card's, in brackets
  std::vector<std::pair<const char*, std::string>> remarks;  ///< "hint", "because"… and what it says
};

/// An entry that document control pairs this protocol with.
struct PairFacts {
  std::string file, title, number, version;    ///< but for the file, empty where the entry could not be read
  bool moved_since = false;                    ///< people go elsewhere in between
  std::size_t compared = 0;                    ///< pairs of variants; 0: nothing was compared
};

/// What became of a rule set aside: see check::ExceptionUse.
struct ExceptionFacts { std::size_t variants = 0; std::string runs; };

/// The flow chart as a file: how it is made and what its bytes are; or why there is none.
struct ChartFile {
  std::string command, sha256, why_none;
  bool tells_never = false;                    ///< the charts of the dossier mark answers that no run comes to; the file does not
};

struct Facts {
  std::string tool, day, limit;                ///< "stepward 1.2", ISO 8601, "20 000 000"
  std::vector<ReadFile> files;                 ///< the protocol first
  std::vector<PairFacts> pairs;                ///< as `pairs with` stands in the protocol
  std::vector<VariantFacts> variants;
  diagnostics::Counts counts;
  std::vector<ToldFinding> findings;           ///< errors first
  bool complete = false;
  std::string verdict, states, transitions, longest, paths;  ///< figures over all variants, as people write them
  bool paths_are_rounded = false;
  std::size_t nobody_looked = 0;
  std::set<std::string> rules_tested;          ///< numbers
  std::vector<ExceptionFacts> exceptions;      ///< by position in Protocol::set_aside
  ChartFile chart;
  std::optional<slips::Table> slips;           ///< single slips; none: the protocol has errors
  std::vector<slips::FailureMode> failure_modes;  ///< of them, in the order of the source
  std::vector<flow_chart::PlacedChart> charts;  ///< by variant, as written; empty: why is in `chart`
};

}  // namespace stepward::emit::dossier
