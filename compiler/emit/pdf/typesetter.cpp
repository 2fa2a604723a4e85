#include "emit/pdf/typesetter.hpp"

#include <algorithm>
#include <unordered_map>
#include <utility>

#include "emit/document/check_words.hpp"
#include "emit/pdf/fonts.hpp"

namespace stepward::emit::pdf {

namespace {

// Noto's own line is 36 percent taller than its letters; this brings lines to 28 percent. Other scripts have other lines: they keep theirs
// between these bounds, of the size.
constexpr float line_spacing = 0.94F;
constexpr double least_pitch = 1.27, most_pitch = 1.45;

using Context = std::unique_ptr<PangoContext, void (*)(gpointer)>;

Context make_context(PangoDirection direction) {
  PangoContext* context = pango_font_map_create_context(pinned_font_map());
  cairo_font_options_t* options = cairo_font_options_create();
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
  pango_cairo_context_set_font_options(context, options);
  cairo_font_options_destroy(options);
  pango_cairo_context_set_resolution(context, 72);
  pango_context_set_round_glyph_positions(context, FALSE);
  pango_context_set_base_dir(context, direction);
  return {context, g_object_unref};
}

/// Like the fonts, a context belongs to one thread. Each direction has its own: changing one would set all its layouts anew.
PangoContext* context_of_thread(bool right_to_left) {
  thread_local const Context to_right = make_context(PANGO_DIRECTION_LTR);
  if (!right_to_left) return to_right.get();
  thread_local const Context to_left = make_context(PANGO_DIRECTION_RTL);
  return to_left.get();
}

PangoFontDescription* description(double size, int weight) {
  PangoFontDescription* font = pango_font_description_new();
  pango_font_description_set_family_static(font, font_families);
  pango_font_description_set_size(font, static_cast<int>(size * PANGO_SCALE));
  pango_font_description_set_weight(font, static_cast<PangoWeight>(weight));
  return font;
}

void insert(PangoAttrList* list, PangoAttribute* attribute, std::size_t begin, std::size_t end) {
  attribute->start_index = static_cast<guint>(begin);
  attribute->end_index = static_cast<guint>(end);
  pango_attr_list_insert(list, attribute);
}

bool is_of_number(char c) { return (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-'; }

/// A document's number ("AMH-IP-013") is read out over the telephone: no line ends at one of its hyphens.
void keep_numbers_whole(PangoAttrList* list, const std::string& text) {
  for (std::size_t begin = 0; begin < text.size();) {
    std::size_t end = begin;
    while (end < text.size() && is_of_number(text[end])) ++end;
    if (text.substr(begin, end - begin).find('-') != std::string::npos) {
      insert(list, pango_attr_allow_breaks_new(FALSE), begin, end);
    }
    begin = end + 1;
  }
}

int line_of(PangoLayout* layout, std::size_t index) {
  int line = 0;
  pango_layout_index_to_line_x(layout, static_cast<int>(index), FALSE, &line, nullptr);
  return line;
}

/// Two copies are compared by voice, four words at a time: what would be torn begins a line of its own. (Pango allows no breaks to be
/// forbidden at blanks, and a blank of another kind would be copied out of the PDF.)
void keep_check_words_whole(PangoLayout* layout, std::string& text) {
  for (const auto& [begin, end] : check_words_in(text)) {
    if (begin == 0 || text[begin - 1] != ' ' || line_of(layout, begin) == line_of(layout, end - 1)) continue;
    text[begin - 1] = '\n';
    pango_layout_set_text(layout, text.c_str(), static_cast<int>(text.size()));
  }
}

// ------------------------------------------------------------------ what was set before

// Papers of variants say mostly the same, and a paper sets its head and foot for every face. Shaping a text costs far more
// than looking it up, and a layout that is finished is only read.
//
// Two generations: when the newer one is full it becomes the older, and what is found there moves up. So what is in use stays,
// and memory does not grow with the number of papers.
class SetBefore {
 public:
  Layout find(const std::string& key) {
    if (const auto found = newer_.find(key); found != newer_.end()) return found->second;
    const auto found = older_.find(key);
    if (found == older_.end()) return nullptr;
    Layout layout = found->second;
    keep(key, layout);
    return layout;
  }

  void keep(const std::string& key, Layout layout) {
    if (newer_.size() == most) older_ = std::exchange(newer_, {});
    newer_.emplace(key, std::move(layout));
  }

 private:
  static constexpr std::size_t most = 4000;
  std::unordered_map<std::string, Layout> newer_, older_;
};

SetBefore& set_before() {
  thread_local SetBefore known;
  return known;
}

void add_bytes(std::string& key, const void* value, std::size_t size) { key.append(static_cast<const char*>(value), size); }

/// Everything that decides how a text is set. No text holds a zero byte.
std::string key_of(const Text& text, const Style& style, double width, bool right_to_left) {
  std::string key = right_to_left ? "<" : ">";
  for (const double measure : {style.size, style.tracking, width}) add_bytes(key, &measure, sizeof measure);
  add_bytes(key, &style.weight, sizeof style.weight);
  add_bytes(key, &style.align, sizeof style.align);
  for (const Run& run : text) {
    key += run.strong ? '\1' : '\0';
    key += run.text;
    key += '\0';
  }
  return key;
}

/// The Debian package whose fonts have the sign and are among the named families; none: no package would help.
const char* package_for(gunichar character) {
  switch (g_unichar_get_script(character)) {
    case G_UNICODE_SCRIPT_HAN:
    case G_UNICODE_SCRIPT_HIRAGANA:
    case G_UNICODE_SCRIPT_KATAKANA:
    case G_UNICODE_SCRIPT_HANGUL:
    case G_UNICODE_SCRIPT_BOPOMOFO: return "fonts-noto-cjk";
    case G_UNICODE_SCRIPT_ARABIC:
    case G_UNICODE_SCRIPT_ARMENIAN:
    case G_UNICODE_SCRIPT_BENGALI:
    case G_UNICODE_SCRIPT_CYRILLIC:
    case G_UNICODE_SCRIPT_DEVANAGARI:
    case G_UNICODE_SCRIPT_ETHIOPIC:
    case G_UNICODE_SCRIPT_GEORGIAN:
    case G_UNICODE_SCRIPT_GREEK:
    case G_UNICODE_SCRIPT_GUJARATI:
    case G_UNICODE_SCRIPT_GURMUKHI:
    case G_UNICODE_SCRIPT_HEBREW:
    case G_UNICODE_SCRIPT_KANNADA:
    case G_UNICODE_SCRIPT_KHMER:
    case G_UNICODE_SCRIPT_LAO:
    case G_UNICODE_SCRIPT_LATIN:
    case G_UNICODE_SCRIPT_MALAYALAM:
    case G_UNICODE_SCRIPT_MYANMAR:
    case G_UNICODE_SCRIPT_ORIYA:
    case G_UNICODE_SCRIPT_SINHALA:
    case G_UNICODE_SCRIPT_TAMIL:
    case G_UNICODE_SCRIPT_TELUGU:
    case G_UNICODE_SCRIPT_THAI: return "fonts-noto-core";
    default: return "";
  }
}

/// The least distance from one line's foot to the next one's; 0: there is only one.
double closest_lines(PangoLayout* layout) {
  PangoLayoutIter* at = pango_layout_get_iter(layout);
  int last = pango_layout_iter_get_baseline(at), least = 0;
  while (pango_layout_iter_next_line(at)) {
    const int base = pango_layout_iter_get_baseline(at);
    least = least == 0 ? base - last : std::min(least, base - last);
    last = base;
  }
  pango_layout_iter_free(at);
  return static_cast<double>(least) / PANGO_SCALE;
}

void bring_lines_to(PangoLayout* layout, double size) {
  const double pitch = closest_lines(layout), wanted = std::clamp(pitch, least_pitch * size, most_pitch * size);
  if (pitch > 0 && pitch != wanted) pango_layout_set_line_spacing(layout, static_cast<float>(line_spacing * wanted / pitch));
}

/// The first character that no font has a sign for; 0: there is none.
gunichar first_missing(PangoLayout* layout) {
  PangoLayoutIter* at = pango_layout_get_iter(layout);
  gunichar missing = 0;
  do {
    const PangoLayoutRun* run = pango_layout_iter_get_run_readonly(at);
    for (int i = 0; run && missing == 0 && i < run->glyphs->num_glyphs; ++i) {
      const PangoGlyph glyph = run->glyphs->glyphs[i].glyph;
      if ((glyph & PANGO_GLYPH_UNKNOWN_FLAG) != 0) missing = glyph & ~PANGO_GLYPH_UNKNOWN_FLAG;
    }
  } while (missing == 0 && pango_layout_iter_next_run(at));
  pango_layout_iter_free(at);
  return missing;
}

/// "“水” (U+6C34)"
std::string named(gunichar character) {
  char sign[7] = {}, number[16];
  g_unichar_to_utf8(character, sign);
  g_snprintf(number, sizeof number, "U+%04X", character);
  return "“" + std::string(sign) + "” (" + number + ")";
}

}  // namespace

Typesetter::Typesetter(Faults& faults, bool right_to_left) : faults_(faults), right_to_left_(right_to_left), context_(context_of_thread(right_to_left)) { look_at_family(); }

void Typesetter::look_at_family() {
  PangoFontDescription* wanted = description(12, 400);
  PangoFont* font = pango_context_load_font(context_, wanted);
  pango_font_description_free(wanted);
  std::string found;
  if (font) {
    PangoFontDescription* got = pango_font_describe(font);
    if (const char* family = pango_font_description_get_family(got)) found = family;
    pango_font_description_free(got);
    g_object_unref(font);
  }
  if (found.rfind("Noto Sans", 0) != 0)
    faults_.push_back({Fault::What::no_font, "every face", "Noto Sans", "fonts-noto-core", {}, {}});
}

Layout Typesetter::set(const Text& text, const Style& style, double width) {
  const std::string key = key_of(text, style, width, right_to_left_);
  if (Layout known = set_before().find(key)) return known;
  const std::size_t faults = faults_.size();
  Layout layout = shape(text, style, width);
  // A text with a fault is set anew every time, so that each place that has it is told.
  if (faults_.size() == faults) set_before().keep(key, layout);
  return layout;
}

/// Pango turns left and right about for a paragraph that runs against its context, as Latin words on an Arabic face do; here every paragraph of a
/// column begins at the same edge.
PangoAlignment Typesetter::side_of(PangoLayout* layout, Align align) const {
  if (align == Align::centre) return PANGO_ALIGN_CENTER;
  const PangoDirection direction = pango_layout_line_get_resolved_direction(pango_layout_get_line_readonly(layout, 0));
  const bool against = (direction == PANGO_DIRECTION_RTL) != right_to_left_;
  const bool at_left = (align == Align::start) != right_to_left_;
  return at_left != against ? PANGO_ALIGN_LEFT : PANGO_ALIGN_RIGHT;
}

Layout Typesetter::shape(const Text& text, const Style& style, double width) {
  Layout layout(pango_layout_new(context_), g_object_unref);
  PangoFontDescription* font = description(style.size, style.weight);
  pango_layout_set_font_description(layout.get(), font);
  pango_font_description_free(font);
  PangoAttrList* attributes = pango_attr_list_new();
  std::string all;
  for (const Run& run : text) {
    if (run.strong)
      insert(attributes, pango_attr_weight_new(PANGO_WEIGHT_BOLD), all.size(), all.size() + run.text.size());
    all += run.text;
  }
  if (style.tracking > 0) {
    insert(attributes, pango_attr_letter_spacing_new(static_cast<int>(style.tracking * PANGO_SCALE)), 0, all.size());
  }
  keep_numbers_whole(attributes, all);
  pango_layout_set_attributes(layout.get(), attributes);
  pango_attr_list_unref(attributes);
  pango_layout_set_text(layout.get(), all.c_str(), static_cast<int>(all.size()));
  pango_layout_set_line_spacing(layout.get(), line_spacing);
  pango_layout_set_wrap(layout.get(), PANGO_WRAP_WORD);
  pango_layout_set_width(layout.get(), width < 0 ? -1 : static_cast<int>(width * PANGO_SCALE));
  keep_check_words_whole(layout.get(), all);
  pango_layout_set_alignment(layout.get(), side_of(layout.get(), style.align));
  bring_lines_to(layout.get(), style.size);
  look_at_glyphs(layout.get(), all);
  if (width >= 0 && extent(layout).width > width + 0.5) faults_.push_back({Fault::What::too_wide, where_, all, "", {}, {}});
  return layout;
}

void Typesetter::look_at_glyphs(PangoLayout* layout, const std::string& text) {
  if (pango_layout_get_unknown_glyphs_count(layout) == 0) return;
  const gunichar missing = first_missing(layout);
  faults_.push_back({Fault::What::no_glyph, where_, missing == 0 ? text : named(missing) + " in “" + text + "”", package_for(missing), {}, {}});
}

Extent Typesetter::extent(const Layout& layout) {
  int width = 0, height = 0;
  pango_layout_get_size(layout.get(), &width, &height);
  return {static_cast<double>(width) / PANGO_SCALE, static_cast<double>(height) / PANGO_SCALE};
}

double Typesetter::baseline(const Layout& layout) { return static_cast<double>(pango_layout_get_baseline(layout.get())) / PANGO_SCALE; }

}  // namespace stepward::emit::pdf
