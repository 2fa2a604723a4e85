#include "emit/pdf/write.hpp"

#include <cairo-pdf.h>

#include <algorithm>
#include <map>

#include "emit/pdf/block_setter.hpp"
#include "emit/pdf/faces.hpp"
#include "emit/pdf/finish.hpp"
#include "emit/pdf/furniture.hpp"

namespace stepward::emit::pdf {

namespace {

// Page references change the length of lines and so, rarely, where things stand; the layout settles after two rounds.
constexpr int most_rounds = 5;

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

/// A question stays with the step it is about, and the line that closes a branch with its last step.
void keep_together(const std::vector<Block>& blocks, std::vector<Galley>& galleys) {
  for (std::size_t i = 0; i + 1 < blocks.size(); ++i) {
    const bool step = std::holds_alternative<Step>(blocks[i]) || std::holds_alternative<SayRow>(blocks[i]);
    const bool asked = step && std::holds_alternative<Frame>(blocks[i + 1]);
    galleys[i].keeps_with_next |= asked || std::holds_alternative<EndMark>(blocks[i + 1]);
  }
}

class Composition {
 public:
  Composition(const Sheet& sheet, const Options& options, Faults& faults)
      : sheet_(sheet),
        look_(look_of(sheet.kind, paper_for(sheet.kind, options.paper))),
        faults_(faults),
        type_(faults),
        setter_(type_, look_, sheet, [this](const std::string& label) { return face_of(label); }) {
    first_head_ = first_head(type_, look_, sheet_);
    next_head_ = next_head(type_, look_, sheet_);
    foot_ = foot(type_, look_, sheet_);
  }

  void compose() {
    for (const Block& block : sheet_.blocks) galleys_.push_back(setter_.set(block, 0));
    keep_together(sheet_.blocks, galleys_);
    for (int round = 0; round < most_rounds && place(); ++round) {
      for (std::size_t i = 0; i < galleys_.size(); ++i) {
        if (!refers(sheet_.blocks[i])) continue;
        galleys_[i] = setter_.set(sheet_.blocks[i], block_faces_[i]);
      }
      keep_together(sheet_.blocks, galleys_);
    }
  }

  const Look& look() const { return look_; }
  int faces() const { return static_cast<int>(faces_.size()); }

  void draw_face(cairo_t* c, int number, const std::string& watermark) {
    const Face& face = faces_[static_cast<std::size_t>(number - 1)];
    if (!watermark.empty()) draw_watermark(c, type_, look_, watermark);
    draw_edge(c, look_);
    cairo_tag_begin(c, "Sect", nullptr);
    const Galley& head = number == 1 ? first_head_ : next_head_;
    draw(c, head, look_.left, look_.top);
    const double top = look_.top + head.height;
    if (!face.continued.empty()) draw(c, continued_line(type_, look_, face.continued), look_.left, top);
    for (const Placed& placed : face.placed) draw(c, galleys_[placed.block], look_.left, top + placed.y);
    const double low = look_.height - look_.bottom - foot_.height;
    draw(c, foot_, look_.left, low);
    draw(c, face_count(type_, look_, sheet_.captions, number, faces()), look_.left, low);
    cairo_tag_end(c, "Sect");
  }

  void add_outline(cairo_surface_t* surface) const {
    for (std::size_t number = 0; number < faces_.size(); ++number) {
      for (const Placed& placed : faces_[number].placed) {
        const std::string& title = galleys_[placed.block].outline;
        if (title.empty()) continue;
        const std::string place =
            "page=" + std::to_string(number + 1) + " pos=[0 " + std::to_string(static_cast<int>(placed.y)) + "]";
        cairo_pdf_surface_add_outline(surface, CAIRO_PDF_OUTLINE_ROOT, title.c_str(), place.c_str(),
                                      static_cast<cairo_pdf_outline_flags_t>(0));
      }
    }
  }

 private:
  int face_of(const std::string& label) const {
    const auto found = label_faces_.find(label);
    return found == label_faces_.end() ? 0 : found->second;
  }

  /// Fills the faces anew; true when anything moved to another one.
  bool place() {
    const double air = 6;
    Room room;
    room.first = look_.height - look_.top - look_.bottom - first_head_.height - foot_.height - air;
    room.next = look_.height - look_.top - look_.bottom - next_head_.height - foot_.height - air;
    room.continued = continued_line(type_, look_, "X").height;
    Faults found;
    faces_ = fill_faces(sheet_, galleys_, room, found);
    too_tall_ = std::move(found);
    std::vector<int> block_faces(galleys_.size(), 0);
    for (std::size_t number = 0; number < faces_.size(); ++number) {
      for (const Placed& placed : faces_[number].placed) {
        block_faces[placed.block] = static_cast<int>(number + 1);
        if (!galleys_[placed.block].label.empty())
          label_faces_[galleys_[placed.block].label] = static_cast<int>(number + 1);
      }
    }
    const bool moved = block_faces != block_faces_;
    block_faces_ = std::move(block_faces);
    return moved;
  }

 public:
  void hand_over_faults() { faults_.insert(faults_.end(), too_tall_.begin(), too_tall_.end()); }

 private:
  const Sheet& sheet_;
  Look look_;
  Faults& faults_;
  Typesetter type_;
  BlockSetter setter_;
  Galley first_head_, next_head_, foot_;
  std::vector<Galley> galleys_;
  std::vector<Face> faces_;
  std::vector<int> block_faces_;
  std::map<std::string, int> label_faces_;
  Faults too_tall_;
};

cairo_status_t append(void* closure, const unsigned char* data, unsigned int length) {
  static_cast<std::string*>(closure)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

void describe(cairo_surface_t* surface, const Sheet& sheet, const std::string& date) {
  const Control& control = sheet.control;
  const std::string stamp = date + "T00:00:00Z";
  const auto set = [&](cairo_pdf_metadata_t what, const std::string& text) {
    cairo_pdf_surface_set_metadata(surface, what, text.c_str());
  };
  set(CAIRO_PDF_METADATA_TITLE, control.title + " – " + control.kind);
  set(CAIRO_PDF_METADATA_AUTHOR, control.owner);
  set(CAIRO_PDF_METADATA_SUBJECT,
      control.number + " " + filled(sheet.captions.version, control.version) + (control.variant.empty() ? "" : ", " + control.variant));
  set(CAIRO_PDF_METADATA_KEYWORDS, control.check_words);
  set(CAIRO_PDF_METADATA_CREATOR, "stepward");
  set(CAIRO_PDF_METADATA_CREATE_DATE, stamp);
  set(CAIRO_PDF_METADATA_MOD_DATE, stamp);
}

std::string draw_all(Composition& composition, const Sheet& sheet, const Options& options, Faults& faults) {
  std::string bytes;
  const Look& look = composition.look();
  cairo_surface_t* surface = cairo_pdf_surface_create_for_stream(append, &bytes, look.width, look.height);
  describe(surface, sheet, options.date);
  composition.add_outline(surface);
  cairo_t* c = cairo_create(surface);
  const std::string watermark = options.watermark_draft ? sheet.captions.draft_mark : sheet.control.watermark;
  cairo_tag_begin(c, "Document", nullptr);
  for (int face = 1; face <= composition.faces(); ++face) {
    cairo_pdf_surface_set_page_label(surface, std::to_string(face).c_str());
    composition.draw_face(c, face, watermark);
    if (face < composition.faces()) cairo_show_page(c);
  }
  cairo_tag_end(c, "Document");
  cairo_show_page(c);
  cairo_destroy(c);
  cairo_surface_finish(surface);
  const cairo_status_t status = cairo_surface_status(surface);
  cairo_surface_destroy(surface);
  if (status != CAIRO_STATUS_SUCCESS)
    faults.push_back({Fault::What::cannot_write, "the sheet", cairo_status_to_string(status), ""});
  return bytes;
}

/// A block that is set again, because a page was named in it, repeats its faults.
void keep_first_of_each(Faults& faults) {
  Faults kept;
  for (const Fault& fault : faults) {
    const auto same = [&](const Fault& other) {
      return other.what == fault.what && other.where == fault.where && other.text == fault.text;
    };
    if (std::none_of(kept.begin(), kept.end(), same)) kept.push_back(fault);
  }
  faults = std::move(kept);
}

}  // namespace

Pdf write(const Sheet& sheet, const Options& options) {
  Pdf pdf;
  // Without the fonts every measure is wrong, and every other fault would be a consequence of this one.
  const Typesetter probe(pdf.faults);
  if (!pdf.faults.empty()) return pdf;
  Composition composition(sheet, options, pdf.faults);
  composition.compose();
  composition.hand_over_faults();
  keep_first_of_each(pdf.faults);
  if (!pdf.faults.empty()) return pdf;
  pdf.faces = composition.faces();
  const std::string drawn = draw_all(composition, sheet, options, pdf.faults);
  std::string why;
  if (pdf.faults.empty()) pdf.bytes = finish(drawn, sheet.control, options.date, why);
  if (!why.empty()) pdf.faults.push_back({Fault::What::cannot_write, "the sheet", why, ""});
  if (!pdf.faults.empty()) pdf.bytes.clear();
  return pdf;
}

}  // namespace stepward::emit::pdf
