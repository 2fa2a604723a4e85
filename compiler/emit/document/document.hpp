#pragma once
// The page-neutral document: what a paper says, in reading order, with no notion of a page, a font or a file format.
//
// The folders beside this one build one each (`card`, `script`, `kit`…); `pdf` and `xhtml` set it. A sheet has its control block and a list of
// blocks. A block is the smallest thing that must stand together: a step with its warning, a question with its rows.
// Writers may break a page between blocks only, and repeat what the reader would otherwise have lost: the zone, the
// phase, the box or the branch ("continued").
// Text is a list of runs; emphasis is a property of a run, never markup inside the text, so nothing needs escaping.
// A run may name a `target` (the label of a block): a writer that has pages adds "page 3" when it is on another one.

#include <array>
#include <cstdint>
#include <string>
#include <variant>
#include <vector>

namespace stepward::emit {

struct Run {
  std::string text;
  bool strong = false;
  std::string target;  ///< label of the block that this run sends the reader to; empty: none
};
using Text = std::vector<Run>;

/// How far a block is set in: 0 trunk, 1 branch, 2 branch of a branch.
using Level = std::uint8_t;

enum class Hatch : std::uint8_t { none, sparse, dense };  ///< low, middle, high risk: legible in grey

/// A change of zone. `name` in sentence case, `risk` in words.
struct ZoneBand {
  std::string name, risk;
  Hatch hatch = Hatch::none;
};

/// A phase, or a part of a paper that has no steps. `whole`: moves to a face of its own sooner than be torn. `opens_face`: begins one in any
/// case, since what follows is taken out and used by itself. `label`: what others refer to it by; it is not printed.
struct Heading {
  std::string text;
  bool whole = false;
  bool opens_face = false;
  std::string label{};
};

/// Words by themselves, over the whole width. `warning`: behind a thick bar.
struct Paragraph {
  Text text;
  bool warning = false;
};

/// A numbered step of the wearer's card.
struct Step {
  std::string label;
  Level level = 0;
  bool critical = false;
  bool aside = false;             ///< somebody else's paperwork: numbered and ticked as any other, in smaller type
  std::vector<Text> warnings;     ///< stand above the step
  Text act;                       ///< the verb first, strong and in capitals
  Text manner;                    ///< the way of doing it; may be empty
  std::string clock;              ///< contact time or wait, printed in a frame; may be empty
  std::vector<std::string> side;  ///< what the hands are now, who looks
};

/// One answer of a question and what it leads to; without a key, a further question whose answers stand below it.
struct FrameRow {
  std::string key;
  Text text;
  std::string label{};  ///< of a further question: "Q4"
};

/// A question, or the test of a loop.
struct Frame {
  std::string label;  ///< "Q3"
  Level level = 0;
  bool aloud = true;  ///< false: the reader sees the answer without asking
  Text ask;
  std::vector<FrameRow> rows;
};

/// A quiet line between steps: "Repeat steps 3 to 4, three times at most." In a table `heads_rows`: it is the title of all rows up to the next
/// such line, and whoever goes on with them on another face has to be told it again.
struct Notice {
  Text text;
  Level level = 0;
  std::string label;
  bool heads_rows = false;
};

/// Opens a branch: "YES to Q3".
struct BranchMark {
  std::string text;
  Level level = 1;
};

/// Opens a box that other steps send the reader to, or a breach that may strike at any time.
struct BoxMark {
  std::string label;
  std::string title;
  Text when;
  bool breach = false;
};

/// Closes a box or a branch, or says that the run is over. `stops`: nobody reads on below it.
struct EndMark {
  Text text;
  Level level = 0;
  bool stops = false;
};

/// One row of the observer's script.
struct SayRow {
  std::string label;
  Level level = 0;
  bool critical = false;
  std::vector<Text> warnings;
  std::string say;   ///< read aloud, without quotation marks; empty: nothing is said
  Text act;          ///< what the observer does, where nothing is said or beside it
  std::string hear;  ///< what comes back; empty: nothing
  std::string look_for, clock, if_not;
  std::vector<Text> remarks;  ///< critical because, note, because
};

/// What the cells of a column are for: words, an amount that has to leap to the eye, the number of a step, a box to tick,
/// or nothing but room for a pen. A *field* is room for a pen with its caption in every row: rows of fields stand among those of another table,
/// whose head says nothing of them. `share`: its part of the width that boxes and numbers leave.
struct Column {
  enum class What : std::uint8_t { words, figure, label, tick, pen, field } what = What::words;
  std::string caption;
  double share = 1;
};
using Table = std::vector<Column>;

/// Opens a table, and stands again on every face that goes on with it. Without captions nothing is printed.
struct TableHead {
  std::size_t table = 0;  ///< position in `Sheet::tables`
};

/// One row, never cut. `cells` are those of words and figures, in order; a line break inside of one is kept. `keeps_with_next`: it stands
/// on the face of the row below as far as a face has room for all that hang together so: a question and its answer.
struct TableRow {
  std::size_t table = 0;
  std::string label;
  bool critical = false;
  std::vector<Text> cells;
  bool keeps_with_next = false;
};

/// A drawing, or a part of one that stands on one face: lines first, then words, at places in points from its top left corner; letters have 12
/// points. A writer makes it smaller where it has to. What reaches over an edge is cut off there.
struct Figure {
  struct Point { double x = 0, y = 0; };
  enum class Fill : std::uint8_t { none, white, black };
  struct Stroke {
    std::vector<Point> points;  ///< at least two; curved: a chain of cubic Bézier pieces (4, 7, 10… points)
    bool curved = false, closed = false, dashed = false;
    bool arrow = false;         ///< ends in the point of an arrow
    double line = 1;            ///< thickness
    Fill fill = Fill::none;
  };
  struct Words {
    double middle = 0, foot = 0;  ///< of the line of type: the middle of it, and what its letters stand on
    std::string text;
    bool strong = false, white = false;
  };
  double width = 0, height = 0;
  std::vector<Stroke> strokes;
  std::vector<Words> words;
  std::string told;  ///< what it shows, for who does not see it
};

using Block = std::variant<ZoneBand, Heading, Paragraph, Step, Frame, Notice, BranchMark, BoxMark, EndMark, SayRow, TableHead, TableRow, Figure>;

/// A word that stands on every face of a paper that is to be used with an eye on something: "OVERDUE", and in a few words why.
/// `in_words`: it is one of the words that the check words are made from. What the calendar alone puts on a paper is not: two copies that say
/// the same, one of them printed on the day before, would not agree any more.
struct FaceMark {
  std::string word, why;
  bool in_words = true;
};

/// Document control: stands on every face.
struct Control {
  std::string kind;  ///< "Wearer’s card"
  std::string title, number, version, status, in_force, review_due, owner, approver;
  std::string variant;  ///< "coverall · goggles"; empty where there are no choices
  std::string verdict;  ///< "checked against …"
  std::string caution;
  std::string reminder;         ///< script: hands off; breach card: how it is read; empty otherwise
  std::string check_words;      ///< "maple – anchor – violet – drum"
  std::string code;             ///< what the square code holds: number, version, short hash
  std::string language = "en";  ///< BCP 47
  std::string watermark;        ///< "DRAFT", across every face; empty: none
  std::vector<FaceMark> marks;  ///< in the head of every face, one below the other
};

/// Words of the writer's own that stand around the blocks, in the sheet's language. What takes a value has its gap in
/// square brackets: "version [version]".
struct Captions {
  std::string critical, say, hear, act, clock, look_for, if_not, box, breach;
  std::string for_variant, version, continued, page, in_force, review_due, owner, approved_by, date;
  std::string check_words, check_words_explained;  ///< the second where there is room for it
  std::string not_given, draft_mark;
  std::array<std::string, 12> months;
};

enum class SheetKind : std::uint8_t { card, script, breach, table, poster, badge, review };

struct Sheet {
  SheetKind kind = SheetKind::card;
  Control control;
  Captions captions;
  std::vector<Block> blocks;
  std::vector<Table> tables;
};

/// Whether the rows of a table are nothing but fields.
bool is_of_fields(const Table& table);
/// The label of a block, empty for blocks that have none.
std::string label_of(const Block& block);
/// How far a block is set in.
Level level_of(const Block& block);

/// All words of a sheet, one block a line: what the check words are made from, and what tests read.
std::string plain_text(const Sheet& sheet);
std::string plain_text(const Text& text);
/// "2031-03-15" as "15 Mar 2031"; anything else unchanged.
std::string date_words(const std::string& iso, const Captions& captions);
/// With blanks at which no line ends.
std::string with_no_break(const std::string& text);
/// The words of all marks of a paper: "DRAFT · OVERDUE".
std::string marks_in_one_line(const std::string& watermark, const std::vector<FaceMark>& marks);
/// A caption with its one gap filled.
std::string filled(const std::string& caption, const std::string& value);

}  // namespace stepward::emit
