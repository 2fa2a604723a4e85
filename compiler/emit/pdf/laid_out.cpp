#include "emit/pdf/laid_out.hpp"

#include <algorithm>

#include "emit/pdf/composition.hpp"

namespace stepward::emit::pdf {

namespace {

double points(int units) { return static_cast<double>(units) / PANGO_SCALE; }

std::string family_of(PangoFont* font) {
  PangoFontDescription* description = pango_font_describe(font);
  const std::string family = pango_font_description_get_family(description);
  pango_font_description_free(description);
  return family;
}

void note_families(PangoLayout* layout, std::vector<std::string>& families) {
  PangoLayoutIter* at = pango_layout_get_iter(layout);
  do {
    const PangoLayoutRun* run = pango_layout_iter_get_run_readonly(at);
    if (!run) continue;
    const std::string family = family_of(run->item->analysis.font);
    if (std::find(families.begin(), families.end(), family) == families.end()) families.push_back(family);
  } while (pango_layout_iter_next_run(at));
  pango_layout_iter_free(at);
}

/// The least distance between two lines; of one line its height.
double pitch_of(PangoLayout* layout) {
  PangoLayoutIter* at = pango_layout_get_iter(layout);
  double last = points(pango_layout_iter_get_baseline(at)), least = 0;
  while (pango_layout_iter_next_line(at)) {
    const double base = points(pango_layout_iter_get_baseline(at));
    least = least == 0 ? base - last : std::min(least, base - last);
    last = base;
  }
  pango_layout_iter_free(at);
  int height = 0;
  pango_layout_get_size(layout, nullptr, &height);
  return least > 0 ? least : points(height);
}

std::vector<std::string> lines_of(PangoLayout* layout) {
  std::vector<std::string> lines;
  const std::string all = pango_layout_get_text(layout);
  for (int i = 0; i < pango_layout_get_line_count(layout); ++i) {
    const PangoLayoutLine* line = pango_layout_get_line_readonly(layout, i);
    lines.push_back(all.substr(static_cast<std::size_t>(line->start_index), static_cast<std::size_t>(line->length)));
  }
  return lines;
}

LaidText laid(const Ink& ink, double x, double y) {
  PangoLayout* layout = ink.layout.get();
  LaidText text;
  text.words = pango_layout_get_text(layout);
  PangoRectangle logical;
  pango_layout_get_extents(layout, nullptr, &logical);
  const double left = x + ink.x + points(logical.x), top = y + ink.y + points(logical.y);
  text.where = {left, top, left + points(logical.width), top + points(logical.height)};
  text.size = points(pango_font_description_get_size(pango_layout_get_font_description(layout)));
  text.lines = pango_layout_get_line_count(layout);
  text.by_line = lines_of(layout);
  text.pitch = pitch_of(layout);
  note_families(layout, text.families);
  text.white = ink.white;
  text.tag = ink.tag;
  return text;
}

Mark mark_of(Ink::What what) {
  switch (what) {
    case Ink::What::text:
    case Ink::What::rule:
    case Ink::What::bar: return Mark::rule;
    case Ink::What::frame: return Mark::frame;
    case Ink::What::round_frame: return Mark::round_frame;
    case Ink::What::corner_frame: return Mark::corner_frame;
    case Ink::What::disc: return Mark::disc;
    case Ink::What::hatch: return Mark::hatch;
    case Ink::What::picture: return Mark::square_code;
  }
  return Mark::rule;
}

LaidPart laid(const Standing& standing, double width) {
  LaidPart part;
  part.part = standing.part;
  part.block = standing.block;
  part.repeated = standing.repeated;
  part.where = {standing.x, standing.y, standing.x + width, standing.y + standing.galley.height};
  for (const Ink& ink : standing.galley.inks) {
    if (ink.what == Ink::What::text) {
      part.texts.push_back(laid(ink, standing.x, standing.y));
    } else {
      const double left = standing.x + ink.x, top = standing.y + ink.y;
      part.marks.push_back({mark_of(ink.what), {left, top, left + ink.width, top + ink.height}, ink.line, ink.thick, ink.shade});
    }
  }
  return part;
}

}  // namespace

LaidOut lay_out(const Sheet& sheet, Paper paper) {
  LaidOut out;
  Composition composition(sheet, paper, out.faults);
  out.look = composition.look();
  for (int number = 1; number <= composition.faces(); ++number) {
    LaidFace face;
    for (const Standing& standing : composition.standing_on(number)) face.parts.push_back(laid(standing, out.look.text_width()));
    out.faces.push_back(std::move(face));
  }
  return out;
}

}  // namespace stepward::emit::pdf
