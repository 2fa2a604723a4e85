#pragma once
// The flow chart of one variant, as shapes and ways between them, with no notion of where they stand.
//
// It is drawn from the numbered course (graph/numbering.hpp), not from the step graph: what the card says once, in a box
// that several steps send the reader to, the chart says once, and every number is the card's. So branches stay short and a
// committee can lay chart and card side by side. The step graph (emit/graph) is for programs, which want every call
// written out.
//
// A chart is a list of bands: the phases in order, then the boxes, then what may happen at any time. No way leaves its
// band. A band begins at its `entry`; a phase leads on through an `onward`, to the band behind it; an ending is drawn anew
// wherever a way leads to it, so that ways are short and few of them cross. A phase of many lines is cut, where only the
// main way passes, into bands that continue each other.
//
//     phase "Apron"     entry → 12 LOOK … → ⟨soil?⟩ ─no→ 13 … → onward
//                                              └yes→ 12a do box A ┘
//
// Owned by whoever asked; words are in the language of the protocol that it was made from.

#include <cstddef>
#include <string>
#include <vector>

#include "emit/paper_parts.hpp"

namespace stepward::emit::flow_chart {

struct Shape {
  enum class What : std::uint8_t {
    entry,      ///< where a band is come into; the first of its shapes
    step,
    box,        ///< a step that sends the reader to a box
    question,
    fork, join, ///< between them two people act at once
    ending,
    resume,     ///< back to where an interruption struck
    back,       ///< the end of a box: back to where it was sent from
    onward,     ///< on to the next phase
    loose_end   ///< the last line, with no ending after it
  } what = What::step;
  std::string id;             ///< within the chart; as in the step graph where that has the same node
  std::string number;         ///< "12", "A3"; a question's "Q3"
  std::string text;
  std::string who;            ///< the doer's name
  bool is_others = false;     ///< somebody else than the person who acts
  std::string words;          ///< step: what the card says
  std::string clock;          ///< "Contact time: 1 min"; empty: none
  std::string critical_word;  ///< how the card marks a critical step; empty: it is none
  bool emergency = false;     ///< an ending that is not normal
  std::string box;            ///< box: its letter
  std::string called;         ///< what a reader looks for where there is no number: "box C"; empty: the text
  std::string continue_with;  ///< ending: the number of another document
  model::EndingId ending;
};

struct Way {
  std::string id;
  std::size_t from = 0, to = 0;  ///< positions in the band's shapes
  std::string label;             ///< "YES"; empty: there is only this way
  std::string condition;         ///< in words; empty: none, or whatever no other way asks for
  bool is_main = false;          ///< the way while all is well (main_way.hpp)
  bool goes_back = false;        ///< round a loop again
};

struct Band {
  enum class What : std::uint8_t { phase, box, breach } what = What::phase;
  std::string id;                ///< within the chart
  std::string label;             ///< "A", "B1"; empty: a phase
  std::string title;
  std::string hint;              ///< when it is done, for boxes and breaches
  bool is_continued = false;     ///< of the band before
  std::vector<Shape> shapes;     ///< in reading order
  std::vector<Way> ways;
};

/// One line of the key: how something is drawn, and what that means.
struct KeyLine {
  enum class What : std::uint8_t { step, critical, box, question, ending, emergency, way_back, main_way, again, both, cut } what = What::step;
  std::string words;
};

struct Chart {
  std::string title, number, version, status, variant, caution;
  std::string heading;           ///< "Flow chart"
  std::vector<std::string> control;  ///< document control, a fact each: "version 2.0", "review due 15 Mar 2031"
  std::string key_title;         ///< "Key"
  std::vector<KeyLine> key;      ///< of what stands in this chart
  std::string continued, page;   ///< "[where], continued", "page [page]"
  std::string part, goes_on_at, comes_from;  ///< where a band is cut: "part [number]", "on at [step]", "from [step]"
  std::string answer_goes_on_at, answer_comes_from;  ///< the same of a way that an answer opens: "[answer]: on at [step]"
  std::string language;          ///< BCP 47
  std::vector<std::string> people;  ///< who takes part, in the order of the source
  std::string acts;              ///< who acts unless a line names someone else; may be empty
  std::vector<Band> bands;       ///< phases, boxes, breaches
};

/// A phase that has more entries than this is cut.
constexpr std::size_t entries_of_a_band = 60;

Chart from_course(const PaperSource& source);

}  // namespace stepward::emit::flow_chart
