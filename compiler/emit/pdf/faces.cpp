#include "emit/pdf/faces.hpp"

#include <algorithm>
#include <optional>

#include "emit/pdf/block_setter.hpp"

namespace stepward::emit::pdf {

namespace {

/// Where the reader is before a block: what a face that starts there has to repeat.
struct Whereabouts {
  const Captions* captions;
  bool brief;  // on a badge card a label has to do
  std::string zone, part;
  std::vector<std::string> branches;  // from the outside in
  std::string asked;                  // the question that opened rows which hang together
  std::string rows_of;                // the line that is the title of the rows that one is among

  void pass(const Block& block) {
    leave_branches(block);
    leave_rows(block);
    if (const auto* notice = std::get_if<Notice>(&block); notice && notice->heads_rows) rows_of = plain_text(notice->text);
    if (const auto* row = std::get_if<TableRow>(&block)) pass_row(*row);
    if (const auto* band = std::get_if<ZoneBand>(&block)) zone = in_capitals(band->name + " · " + band->risk);
    if (const auto* heading = std::get_if<Heading>(&block)) part = heading->text;
    if (const auto* mark = std::get_if<BranchMark>(&block)) branches.push_back(mark->text);
    if (const auto* box = std::get_if<BoxMark>(&block)) {
      part = (box->breach ? captions->breach : captions->box) + " " + box->label + (box->title.empty() || brief ? "" : " " + box->title);
      zone.clear();  // a box is read from several places
    }
  }

  void pass_row(const TableRow& row) {
    if (!row.keeps_with_next) asked.clear();
    else if (asked.empty() && !row.cells.empty()) asked = row.label + (row.label.empty() ? "" : "  ") + plain_text(row.cells.front());
  }

  void leave_rows(const Block& block) {
    const auto* notice = std::get_if<Notice>(&block);
    if (notice ? notice->heads_rows : !std::holds_alternative<TableRow>(block)) rows_of.clear();
  }

  /// A branch mark stands on the level that it opens, so it leaves its neighbours behind as well.
  void leave_branches(const Block& block) {
    const std::size_t inside = level_of(block) - (std::holds_alternative<BranchMark>(block) ? 1 : 0);
    if (branches.size() > inside) branches.resize(inside);
  }

  std::string words() const {
    std::string text = zone;
    if (!part.empty()) text += (text.empty() ? "" : " · ") + part;
    for (std::size_t i = brief && !branches.empty() ? branches.size() - 1 : 0; i < branches.size(); ++i) text += (text.empty() ? "" : " · ") + branches[i];
    for (const std::string* each : {&rows_of, &asked})
      if (!each->empty()) text += (text.empty() ? "" : " · ") + *each;
    return text.empty() ? text : filled(captions->continued, text);
  }
};

bool begins_anew(const Block& block) {
  return std::holds_alternative<BoxMark>(block) || std::holds_alternative<ZoneBand>(block);
}

class Filler {
 public:
  Filler(const Sheet& sheet, const std::vector<Galley>& galleys, const Room& room, Faults& faults)
      : kind_(sheet.kind), blocks_(sheet.blocks), galleys_(galleys), room_(room), faults_(faults), here_{&sheet.captions, sheet.kind == SheetKind::badge, {}, {}, {}, {}, {}} {
    faces_.emplace_back();
  }

  std::vector<Face> fill() {
    for (std::size_t i = 0; i < blocks_.size();) {
      const std::size_t end = group_end(i);
      if (!is_fresh() && (opens_face(i) || !fits(i, std::max(end, region_end(i)), y_))) turn(i);
      std::size_t stop = end;
      while (stop > i + 1 && !fits(i, stop, y_)) --stop;  // what its face repeats may leave too little room for all of it
      for (; i < stop; ++i) place(i);
    }
    return std::move(faces_);
  }

 private:
  /// Nothing stands on the face but what it repeats.
  bool is_fresh() const { return faces_.back().placed.size() == repeated_; }

  /// On a card of breaches each has a face, so that nothing above it is read first; on a badge card two may share one that holds both.
  bool opens_face(std::size_t i) const {
    if (const auto* heading = std::get_if<Heading>(&blocks_[i])) return heading->opens_face;
    const auto* box = std::get_if<BoxMark>(&blocks_[i]);
    if (kind_ == SheetKind::badge && box) return !fits(i, region_end(i), y_) || region_end(i) == i;
    return kind_ == SheetKind::breach && box && box->breach;
  }

  double room() const { return faces_.size() == 1 ? room_.first : room_.next; }

  double height(std::size_t i, bool at_top) const { return galleys_[i].height + (at_top ? 0 : galleys_[i].above); }

  double foot_of(std::size_t from, std::size_t to, double y) const {
    for (std::size_t i = from; i < to; ++i) y += height(i, y == 0);
    return y;
  }

  bool fits(std::size_t from, std::size_t to, double y) const { return foot_of(from, to, y) <= room() + 0.01; }

  /// Behind the last galley that has to stay with this one, as far as a whole face can hold them.
  std::size_t group_end(std::size_t from) const {
    std::size_t end = from + 1;
    double total = galleys_[from].height;
    while (end < galleys_.size() && stays_with_next(end - 1)) {
      total += galleys_[end].height + galleys_[end].above;
      if (total > room_.next - room_.continued) break;
      ++end;
    }
    return end;
  }

  /// An end stands under the step that leads to it, be there a zone between them: alone on a face it is read as all that the face asks for.
  /// So does on a badge card, whose faces are turned over, what else is said of a step.
  bool stays_with_next(std::size_t i) const {
    if (galleys_[i].keeps_with_next) return true;
    if (std::holds_alternative<ZoneBand>(blocks_[i])) return is_end(i + 1);
    const bool is_step = std::holds_alternative<Step>(blocks_[i]) || std::holds_alternative<SayRow>(blocks_[i]) || (kind_ == SheetKind::badge && std::holds_alternative<Notice>(blocks_[i]));
    const bool is_more = kind_ == SheetKind::badge && std::holds_alternative<Notice>(blocks_[i + 1]) && label_of(blocks_[i + 1]).empty();
    return is_step && (is_end(i + 1) || (std::holds_alternative<ZoneBand>(blocks_[i + 1]) && is_end(i + 2)) || is_more);
  }

  bool is_end(std::size_t i) const { return i < blocks_.size() && std::holds_alternative<EndMark>(blocks_[i]); }

  /// A zone that begins with a part goes where that part goes.
  std::size_t region_end(std::size_t from) const {
    std::size_t opens = from;
    while (opens + 1 < blocks_.size() && std::holds_alternative<ZoneBand>(blocks_[opens])) ++opens;
    const auto* heading = std::get_if<Heading>(&blocks_[opens]);
    if (!std::holds_alternative<BoxMark>(blocks_[from]) && !(heading && heading->whole)) return from;
    double total = galleys_[from].height;
    for (std::size_t i = from; i < opens; ++i) total += galleys_[i + 1].height + galleys_[i + 1].above;
    std::size_t end = opens + 1;
    for (; end < blocks_.size() && !std::holds_alternative<BoxMark>(blocks_[end]) &&
           !std::holds_alternative<Heading>(blocks_[end]);
         ++end) {
      total += galleys_[end].height + galleys_[end].above;
    }
    return total <= room_.next ? end : from;
  }

  void turn(std::size_t next) {
    faces_.back().goes_on = kind_ == SheetKind::badge && !std::holds_alternative<BoxMark>(blocks_[next]);
    Face face;
    const bool anew = begins_anew(blocks_[next]);
    if (!anew) {
      Whereabouts at = here_;
      if (repeats_band()) at.zone.clear();
      at.leave_branches(blocks_[next]);
      at.leave_rows(blocks_[next]);
      if (!std::holds_alternative<TableRow>(blocks_[next])) at.asked.clear();
      if (const auto* heading = std::get_if<Heading>(&blocks_[next])) at.part = heading->text;
      face.continued = std::holds_alternative<Heading>(blocks_[next]) ? at.zone : at.words();
    }
    y_ = face.continued.empty() ? 0 : room_.continued_by(face.continued);
    repeated_ = 0;
    if (!anew && repeats_band()) repeat(*band_, face);
    if (const auto head = head_of(next)) repeat(*head, face);
    faces_.push_back(std::move(face));
  }

  void repeat(std::size_t block, Face& face) {
    face.placed.push_back({block, y_, true});
    y_ += galleys_[block].height;
    ++repeated_;
  }

  /// From two metres nobody reads "continued": a poster has the whole band again.
  bool repeats_band() const { return kind_ == SheetKind::poster && band_.has_value(); }

  /// The captions that a face beginning in the middle of their table has to repeat.
  std::optional<std::size_t> head_of(std::size_t first) const {
    std::size_t row = first;
    while (row + 1 < blocks_.size() && std::holds_alternative<Notice>(blocks_[row])) ++row;  // a line that opens some of its rows
    if (!std::holds_alternative<TableRow>(blocks_[row])) return std::nullopt;
    const auto is_of_table = [&](const Block& block) { return std::holds_alternative<TableRow>(block) || std::holds_alternative<Notice>(block); };
    while (first > 0 && is_of_table(blocks_[first])) --first;
    return std::holds_alternative<TableHead>(blocks_[first]) ? std::optional(first) : std::nullopt;
  }

  void place(std::size_t i) {
    if (!is_fresh() && !fits(i, i + 1, y_)) turn(i);
    const bool at_top = is_fresh();
    if (at_top && height(i, true) + y_ > room()) faults_.push_back({Fault::What::too_tall, galleys_[i].where, "", "", {}, {}});
    const double y = y_ + (at_top ? 0 : galleys_[i].above);
    faces_.back().placed.push_back({i, y, false});
    y_ = y + galleys_[i].height;
    if (std::holds_alternative<ZoneBand>(blocks_[i])) band_ = i;
    here_.pass(blocks_[i]);
  }

  SheetKind kind_;
  const std::vector<Block>& blocks_;
  const std::vector<Galley>& galleys_;
  const Room& room_;
  Faults& faults_;
  std::vector<Face> faces_;
  Whereabouts here_;
  std::optional<std::size_t> band_;  ///< of the zone that one is in
  double y_ = 0;
  std::size_t repeated_ = 0;  ///< so many galleys of the face stood on the one before, too
};

/// The same number of faces with as little room as does for it.
std::vector<Face> evenly_filled(const Sheet& sheet, const std::vector<Galley>& galleys, const Room& room, std::vector<Face> faces) {
  constexpr int halvings = 7;
  double least = 0, most = room.next;
  for (int i = 0; i < halvings; ++i) {
    Room tried = room;
    const double middle = (least + most) / 2;
    tried.first = std::min(room.first, middle);
    tried.next = middle;
    Faults faults;
    std::vector<Face> filled = Filler(sheet, galleys, tried, faults).fill();
    const bool does = faults.empty() && filled.size() == faces.size();
    (does ? most : least) = middle;
    if (does) faces = std::move(filled);
  }
  return faces;
}

}  // namespace

std::vector<Face> fill_faces(const Sheet& sheet, const std::vector<Galley>& galleys, const Room& room,
                             Faults& faults) {
  std::vector<Face> faces = Filler(sheet, galleys, room, faults).fill();
  return sheet.kind == SheetKind::poster && faces.size() > 1 && faults.empty() ? evenly_filled(sheet, galleys, room, std::move(faces)) : faces;
}

}  // namespace stepward::emit::pdf
