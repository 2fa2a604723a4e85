#pragma once
// The step graph as other software gets it: per variant a plain list of nodes and a plain list of edges.
//
// Unlike `graph::Graph` it holds nothing that only the walk needs: the end of a contact time is part of its step, loops
// keep their bound instead of a counter, conditions and acts are in words, and every node has an id that is a word.
// Ids are made from the ids of lines (`known as`, or place and verb) and from what questions ask in the names of the
// source, so they stay the same when texts, remarks or what things are called change and when lines elsewhere are moved,
// added or taken out; and the same node has the same id in every variant. Edges are named after the node that they leave.
// Only what says the same twice in one place is told apart by its order. They are NMTOKENs of XML, since GraphML asks for that.

#include <cstdint>
#include <string>
#include <vector>

#include "graph/numbering.hpp"
#include "model/protocol.hpp"
#include "source/files.hpp"

namespace stepward::emit::step_graph {

/// Something that happens at a step, read off the effects: "meets" (what, with what), "comes_off", "is_disinfected"…
struct Effect {
  std::string what, first, second;
  friend bool operator==(const Effect&, const Effect&) = default;
  friend bool operator<(const Effect& a, const Effect& b) {
    if (a.what != b.what) return a.what < b.what;
    return a.first != b.first ? a.first < b.first : a.second < b.second;
  }
};

/// Where something stands in the source: lines and columns from 1, the end behind the last character. Line 0: nowhere.
struct SourcePlace {
  std::string file;
  std::uint32_t line = 0, column = 0, end_line = 0, end_column = 0;
};
SourcePlace place_in(const source::Files& files, source::Span span);

enum class NodeKind : std::uint8_t { start, step, question, repeat, ending, interruption, resume, loose_end };

struct Node {
  std::string id;
  NodeKind kind = NodeKind::step;
  std::string text;              ///< a step's act, a question, an ending's name: for a reader
  std::string phase;             ///< empty inside interruptions
  std::string interruption;      ///< whose lines these are; empty: the protocol's own
  SourcePlace at;

  // steps
  std::string number;            ///< as on card and script: "12", "3b1"
  std::string line_id;
  std::string who, verb, of, technique, agent, moves_to;
  std::vector<std::string> things, looks_for;
  std::string words, spoken;     ///< what card and script say
  std::string decision, mark, recipient, given_to, timer;
  std::vector<std::string> answers, records;
  std::uint32_t count = 0;       ///< of what is taken or passed
  std::uint32_t contact_seconds = 0, wait_seconds = 0;
  std::uint32_t at_least_seconds = 0, at_most_seconds = 0;  ///< how long the line may take, or its timer run; 0: it does not say
  std::uint32_t at_once = 0;     ///< steps with the same number are done at once by two people, in any order; 0: alone
  bool critical = false;
  std::vector<std::string> rules;   ///< numbers of the rules that this step can break
  std::vector<Effect> effects;

  // repeats
  std::uint32_t at_most = 0;
  // endings
  bool normal_ending = false;
  std::string continue_with;
  bool on_every_way = false;     ///< no way to a normal ending leaves it out (ways.hpp)
};

/// `next`: always. `yes`: its condition holds. `otherwise`: no condition before it held. `again`: once more round a
/// loop. `given_up`: the loop's bound is used up. `strikes`: an interruption, from wherever a run stands.
enum class EdgeKind : std::uint8_t { next, yes, otherwise, again, given_up, strikes };

struct Edge {
  std::string id, from, to;
  EdgeKind kind = EdgeKind::next;
  std::string condition;         ///< in words; empty: none
  std::string asks;              ///< the same in the names of the source, whatever things are called
  std::uint32_t order = 0;       ///< arms of a question are asked in this order, from 1; 0: not an arm
  enum class Taken : std::uint8_t { not_walked, by_some_run, never } taken = Taken::not_walked;
};

struct ChoiceMade { std::string choice, value; };

struct VariantGraph {
  std::string name;              ///< empty for a protocol without choices
  std::vector<ChoiceMade> choices;
  std::vector<Node> nodes;       ///< the start first, then in reading order
  std::vector<Edge> edges;
  double ways = 0;               ///< through the graph, without loops and interruptions; beyond 2^53 rounded
  std::uint32_t longest = 0;     ///< steps on the longest of them
};

/// The graph of one variant of a protocol that resolved without an error; `course`: the numbers that its card has.
VariantGraph make(const model::Protocol& protocol, const model::Variant& variant, const graph::Course& course, const source::Files& files);

std::string_view name_of(NodeKind kind);
std::string_view name_of(EdgeKind kind);
std::string_view name_of(model::VerbKind verb);

/// All graphs in one JSON text, described by docs/outputs/graph.schema.json.
std::string as_json(const model::Protocol& protocol, const std::vector<VariantGraph>& graphs, const source::Files& files);
/// One GraphML document with a graph for each variant; attributes are typed.
std::string as_graphml(const model::Protocol& protocol, const std::vector<VariantGraph>& graphs);

}  // namespace stepward::emit::step_graph
