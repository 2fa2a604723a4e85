#include "emit/pdf/write.hpp"

#include <cairo-pdf.h>

#include <algorithm>

#include "emit/pdf/composition.hpp"
#include "emit/pdf/finish.hpp"
#include "emit/pdf/imposition.hpp"

namespace stepward::emit::pdf {

namespace {

// A little of the look of the marks: a hairline is cut away with what it stands beside.
constexpr double cut_line = 0.3;

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

/// Headings lead to the first place where their face lies.
void add_outline(cairo_surface_t* surface, Composition& composition, const Imposition& imposition) {
  std::vector<bool> told(static_cast<std::size_t>(composition.faces()) + 1, false);
  for (std::size_t side = 0; side < imposition.sides.size(); ++side) {
    for (const Spot& spot : imposition.sides[side].spots) {
      if (told[static_cast<std::size_t>(spot.face)]) continue;
      told[static_cast<std::size_t>(spot.face)] = true;
      for (const Standing& standing : composition.standing_on(spot.face)) {
        const std::string& title = standing.galley.outline;
        if (title.empty()) continue;
        const std::string place = "page=" + std::to_string(side + 1) + " pos=[" + std::to_string(static_cast<int>(spot.x)) + " " +
                                  std::to_string(static_cast<int>(spot.y + standing.y)) + "]";
        cairo_pdf_surface_add_outline(surface, CAIRO_PDF_OUTLINE_ROOT, title.c_str(), place.c_str(), static_cast<cairo_pdf_outline_flags_t>(0));
      }
    }
  }
}

void draw_marks(cairo_t* c, const std::vector<CutMark>& marks) {
  cairo_set_source_rgb(c, 0, 0, 0);
  cairo_set_line_width(c, cut_line);
  for (const CutMark& mark : marks) {
    cairo_move_to(c, mark.x1, mark.y1);
    cairo_line_to(c, mark.x2, mark.y2);
  }
  cairo_stroke(c);
}

void draw_side(cairo_t* c, Composition& composition, const PrintedSide& side, const std::string& watermark) {
  for (const Spot& spot : side.spots) {
    cairo_save(c);
    cairo_translate(c, spot.x, spot.y);
    composition.draw_face(c, spot.face, watermark);
    cairo_restore(c);
  }
  draw_marks(c, side.marks);
}

std::string draw_all(Composition& composition, const Imposition& imposition, const Sheet& sheet, const Options& options, Faults& faults) {
  std::string bytes;
  cairo_surface_t* surface = cairo_pdf_surface_create_for_stream(append, &bytes, imposition.sheet.width, imposition.sheet.height);
  describe(surface, sheet, options.date);
  add_outline(surface, composition, imposition);
  cairo_t* c = cairo_create(surface);
  const std::string watermark = options.watermark_draft ? sheet.captions.draft_mark : sheet.control.watermark;
  cairo_tag_begin(c, "Document", nullptr);
  for (std::size_t side = 0; side < imposition.sides.size(); ++side) {
    cairo_pdf_surface_set_page_label(surface, std::to_string(side + 1).c_str());
    draw_side(c, composition, imposition.sides[side], watermark);
    if (side + 1 < imposition.sides.size()) cairo_show_page(c);
  }
  cairo_tag_end(c, "Document");
  cairo_show_page(c);
  cairo_destroy(c);
  cairo_surface_finish(surface);
  const cairo_status_t status = cairo_surface_status(surface);
  cairo_surface_destroy(surface);
  if (status != CAIRO_STATUS_SUCCESS)
    faults.push_back({Fault::What::cannot_write, "the sheet", cairo_status_to_string(status), "", {}, {}});
  return bytes;
}

std::optional<Imposition> impose(const Look& look, int faces, const Sheet& sheet, const Options& options) {
  const SheetSize face{look.width, look.height};
  if (!options.up) return one_by_one(face, faces);
  // A badge card has two faces, front and back; other cards are laminated as they are wanted.
  return several_up(face, faces, *options.up, sheet.kind == SheetKind::badge);
}

bool is_of_size(const Fault& fault) { return fault.what == Fault::What::too_tall || fault.what == Fault::What::too_wide; }

/// Names for each fault of size the papers on which the same part of the sheet has none.
void name_papers_that_fit(const Sheet& sheet, Paper tried, Faults& faults) {
  if (std::none_of(faults.begin(), faults.end(), is_of_size)) return;
  std::vector<Paper> others;
  std::vector<Faults> theirs;
  for (const Paper paper : papers_for(sheet.kind)) {
    if (name_of(paper) == name_of(tried)) continue;
    Faults found;
    const Composition composition(sheet, paper, found);
    others.push_back(paper);
    theirs.push_back(std::move(found));
  }
  for (Fault& fault : faults) {
    if (!is_of_size(fault)) continue;
    fault.paper = name_of(tried);
    std::vector<Paper> fitting;
    const auto same_place = [&](const Fault& other) { return is_of_size(other) && other.where == fault.where; };
    for (std::size_t i = 0; i < others.size(); ++i) {
      if (std::none_of(theirs[i].begin(), theirs[i].end(), same_place)) fitting.push_back(others[i]);
    }
    fault.fits_on = listed(fitting);
  }
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
  Composition composition(sheet, options.paper, pdf.faults);
  keep_first_of_each(pdf.faults);
  name_papers_that_fit(sheet, options.paper, pdf.faults);
  if (!pdf.faults.empty()) return pdf;
  pdf.faces = composition.faces();
  const auto imposition = impose(composition.look(), pdf.faces, sheet, options);
  if (!imposition) {
    pdf.faults.push_back({Fault::What::cannot_write, "the sheet", "two faces of " + name_of(options.paper) + " do not fit on " + name_of(*options.up), "", {}, {}});
    return pdf;
  }
  const std::string drawn = draw_all(composition, *imposition, sheet, options, pdf.faults);
  std::string why;
  if (pdf.faults.empty()) pdf.bytes = finish(drawn, sheet.control, options.date, why);
  if (!why.empty()) pdf.faults.push_back({Fault::What::cannot_write, "the sheet", why, "", {}, {}});
  if (!pdf.faults.empty()) pdf.bytes.clear();
  return pdf;
}

}  // namespace stepward::emit::pdf
