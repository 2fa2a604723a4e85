#include "emit/pdf/composition.hpp"

#include <algorithm>

#include "emit/document/direction.hpp"
#include "emit/pdf/furniture.hpp"

namespace stepward::emit::pdf {

namespace {

// Page references change the length of lines and so, rarely, where things stand; the layout settles after two or three rounds. Heights
// only grow after the first, so it does settle.
constexpr int most_rounds = 20;

bool refers(const Text& text) {
  return std::any_of(text.begin(), text.end(), [](const Run& run) { return !run.target.empty(); });
}

bool refers(const Block& block) {
  if (const auto* frame = std::get_if<Frame>(&block)) {
    return std::any_of(frame->rows.begin(), frame->rows.end(), [](const FrameRow& row) { return refers(row.text); });
  }
  if (const auto* notice = std::get_if<Notice>(&block)) return refers(notice->text);
  if (const auto* end = std::get_if<EndMark>(&block)) return refers(end->text);
  if (const auto* step = std::get_if<Step>(&block)) return refers(step->act);
  if (const auto* row = std::get_if<SayRow>(&block)) return refers(row->act);
  if (const auto* words = std::get_if<Paragraph>(&block)) return refers(words->text);
  if (const auto* row = std::get_if<TableRow>(&block)) return std::any_of(row->cells.begin(), row->cells.end(), [](const Text& cell) { return refers(cell); });
  return false;
}

/// On a card that has room for a few lines a face, the way of doing an act stays with it, and with nothing else.
void keep_manner(const std::vector<Block>& blocks, std::vector<Galley>& galleys, std::size_t i) {
  const bool manner = std::holds_alternative<Notice>(blocks[i + 1]);
  if (std::holds_alternative<Notice>(blocks[i])) galleys[i].keeps_with_next = manner;
  if (std::holds_alternative<Step>(blocks[i])) galleys[i].keeps_with_next |= manner;
}

/// A question stays with the step it is about, the line that closes a branch with its last step, and a lead-in with the list that it opens.
void keep_together(const std::vector<Block>& blocks, std::vector<Galley>& galleys, bool small) {
  for (std::size_t i = 0; i + 1 < blocks.size(); ++i) {
    if (small) keep_manner(blocks, galleys, i);
    const bool step = std::holds_alternative<Step>(blocks[i]) || std::holds_alternative<SayRow>(blocks[i]);
    const bool asked = step && std::holds_alternative<Frame>(blocks[i + 1]);
    const bool last_zone = i + 2 == blocks.size() && std::holds_alternative<ZoneBand>(blocks[i + 1]);  // no face is begun for it alone
    const bool lead_in = std::holds_alternative<Paragraph>(blocks[i]) && std::holds_alternative<TableHead>(blocks[i + 1]);
    galleys[i].keeps_with_next |= asked || last_zone || lead_in || std::holds_alternative<EndMark>(blocks[i + 1]);
  }
}

Look look_for(const Sheet& sheet, Paper paper) {
  Look look = look_of(sheet.kind, paper_for(sheet.kind, paper));
  look.right_to_left = reads_right_to_left(sheet.control.language);
  if (look.right_to_left) std::swap(look.left, look.right);
  return look;
}

}  // namespace

Composition::Composition(const Sheet& sheet, Paper paper, Faults& faults)
    : sheet_(sheet),
      look_(look_for(sheet, paper)),
      type_(faults, look_.right_to_left),
      setter_(type_, look_, sheet, [this](const std::string& label) { return face_of(label); }) {
  first_head_ = first_head(type_, look_, sheet_);
  next_head_ = next_head(type_, look_, sheet_);
  foot_ = foot(type_, look_, sheet_);
  compose();
  faults.insert(faults.end(), too_tall_.begin(), too_tall_.end());
}

void Composition::compose() {
  for (const Block& block : sheet_.blocks) galleys_.push_back(setter_.set(block, 0));
  keep_together(sheet_.blocks, galleys_, look_.small);
  for (int round = 0; place() && round < most_rounds; ++round) {
    for (std::size_t i = 0; i < galleys_.size(); ++i) {
      if (!refers(sheet_.blocks[i])) continue;
      const double before = galleys_[i].height;
      galleys_[i] = setter_.set(sheet_.blocks[i], block_faces_[i]);
      // A line that is needed on one face and not on another would move things to and fro for ever: it keeps its room.
      if (round > 0) galleys_[i].height = std::max(galleys_[i].height, before);
    }
    keep_together(sheet_.blocks, galleys_, look_.small);
  }
}

int Composition::face_of(const std::string& label) const {
  const auto found = label_faces_.find(label);
  return found == label_faces_.end() ? 0 : found->second;
}

/// Fills the faces anew; true when anything moved to another one.
bool Composition::place() {
  const double air = look_.small ? 1 : 6;
  Room room;
  room.first = look_.height - look_.top - look_.bottom - first_head_.height - foot_.height - air;
  room.next = look_.height - look_.top - look_.bottom - next_head_.height - foot_.height - air;
  room.continued_by = [this](const std::string& words) { return continued_line(type_, look_, words).height; };
  room.continued = room.continued_by("X");
  Faults found;
  faces_ = fill_faces(sheet_, galleys_, room, found);
  too_tall_ = std::move(found);
  std::vector<int> block_faces(galleys_.size(), 0);
  for (std::size_t number = 0; number < faces_.size(); ++number) {
    for (const Placed& placed : faces_[number].placed) {
      block_faces[placed.block] = static_cast<int>(number + 1);
      if (!galleys_[placed.block].label.empty()) label_faces_[galleys_[placed.block].label] = static_cast<int>(number + 1);
    }
  }
  const bool moved = block_faces != block_faces_;
  block_faces_ = std::move(block_faces);
  return moved;
}

/// Whether one reads on at the next face. A box or a breach that begins there is read by who is sent to it, and by nobody else.
bool Composition::leads_on(int number) const {
  if (number >= faces()) return false;
  const auto& next = faces_[static_cast<std::size_t>(number)].placed;
  const auto first = std::find_if(next.begin(), next.end(), [](const Placed& placed) { return !placed.repeated; });
  return first == next.end() || !std::holds_alternative<BoxMark>(sheet_.blocks[first->block]);
}

/// As its face is read: the other way round where the language is.
Galley Composition::turned(Galley galley) const {
  if (look_.right_to_left) mirror(galley, look_.text_width());
  return galley;
}

std::vector<Standing> Composition::standing_on(int number) {
  const Face& face = faces_[static_cast<std::size_t>(number - 1)];
  std::vector<Standing> all;
  const auto stand = [&](Part part, std::size_t block, bool repeated, double y, Galley galley) {
    all.push_back({part, block, repeated, look_.left, y, turned(std::move(galley))});
  };
  const Galley& head = number == 1 ? first_head_ : next_head_;
  stand(Part::head, 0, false, look_.top, head);
  const double top = look_.top + head.height;
  if (!face.continued.empty()) stand(Part::continued, 0, false, top, continued_line(type_, look_, face.continued));
  for (const Placed& placed : face.placed) {
    stand(Part::block, placed.block, placed.repeated, top + placed.y, galleys_[placed.block]);
  }
  const double low = look_.height - look_.bottom - foot_.height;
  stand(Part::foot, 0, false, low, foot_);
  // On a small face the foot is full: the number stands in the head.
  stand(Part::foot, 0, false, look_.small ? look_.top : low, face_count(type_, look_, sheet_, number, look_.small ? face.goes_on : leads_on(number), faces()));
  return all;
}

void Composition::draw_face(cairo_t* c, int number, const std::string& watermark) {
  if (!watermark.empty()) draw_watermark(c, type_, look_, watermark);
  draw_edge(c, look_);
  cairo_tag_begin(c, "Sect", nullptr);
  for (const Standing& standing : standing_on(number)) draw(c, standing.galley, standing.x, standing.y);
  cairo_tag_end(c, "Sect");
}

}  // namespace stepward::emit::pdf
