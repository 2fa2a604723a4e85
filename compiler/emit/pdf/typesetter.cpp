#include "emit/pdf/typesetter.hpp"

#include <algorithm>
#include <unordered_map>
#include <utility>

#include "emit/pdf/fonts.hpp"

namespace stepward::emit::pdf {

namespace {

// Noto's own line is 36 percent taller than its letters; this brings lines to 28 percent.
constexpr float line_spacing = 0.94F;

using Context = std::unique_ptr<PangoContext, void (*)(gpointer)>;

Context make_context() {
  PangoContext* context = pango_font_map_create_context(pinned_font_map());
  cairo_font_options_t* options = cairo_font_options_create();
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
  pango_cairo_context_set_font_options(context, options);
  cairo_font_options_destroy(options);
  pango_cairo_context_set_resolution(context, 72);
  pango_context_set_round_glyph_positions(context, FALSE);
  return {context, g_object_unref};
}

/// Like the fonts, a context belongs to one thread.
PangoContext* context_of_thread() {
  thread_local const Context context = make_context();
  return context.get();
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
std::string key_of(const Text& text, const Style& style, double width) {
  std::string key;
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

/// The package that holds the sign of a character, as far as one can tell from its block.
const char* package_for(gunichar character) {
  if (character >= 0x2E80 && character < 0xA000) return "fonts-noto-cjk";
  if (character >= 0xAC00 && character < 0xD7B0) return "fonts-noto-cjk";
  if (character >= 0x1F000) return "fonts-noto-color-emoji";
  return character < 0x0500 ? "fonts-noto-core" : "fonts-noto-core or fonts-noto-extra";
}

}  // namespace

Typesetter::Typesetter(Faults& faults) : faults_(faults), context_(context_of_thread()) { look_at_family(); }

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
    faults_.push_back({Fault::What::no_font, "every face", "Noto Sans", "fonts-noto-core"});
}

Layout Typesetter::set(const Text& text, const Style& style, double width) {
  const std::string key = key_of(text, style, width);
  if (Layout known = set_before().find(key)) return known;
  const std::size_t faults = faults_.size();
  Layout layout = shape(text, style, width);
  // A text with a fault is set anew every time, so that each place that has it is told.
  if (faults_.size() == faults) set_before().keep(key, layout);
  return layout;
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
  pango_layout_set_alignment(layout.get(), style.align == Align::start ? PANGO_ALIGN_LEFT
                                           : style.align == Align::end ? PANGO_ALIGN_RIGHT
                                                                       : PANGO_ALIGN_CENTER);
  look_at_glyphs(layout.get(), all);
  if (width >= 0 && extent(layout).width > width + 0.5) faults_.push_back({Fault::What::too_wide, where_, all, ""});
  return layout;
}

void Typesetter::look_at_glyphs(PangoLayout* layout, const std::string& text) {
  if (pango_layout_get_unknown_glyphs_count(layout) == 0) return;
  const char* at = text.c_str();
  gunichar strange = 0;
  for (; *at; at = g_utf8_next_char(at)) strange = std::max(strange, g_utf8_get_char(at));
  faults_.push_back({Fault::What::no_glyph, where_, text, package_for(strange)});
}

Extent Typesetter::extent(const Layout& layout) {
  int width = 0, height = 0;
  pango_layout_get_size(layout.get(), &width, &height);
  return {static_cast<double>(width) / PANGO_SCALE, static_cast<double>(height) / PANGO_SCALE};
}

double Typesetter::baseline(const Layout& layout) { return static_cast<double>(pango_layout_get_baseline(layout.get())) / PANGO_SCALE; }

std::string sentence(const Fault& fault) {
  const std::string hint = fault.package.empty() ? std::string() : " (install the package " + fault.package + ")";
  switch (fault.what) {
    case Fault::What::no_font: return "the font family " + fault.text + " is missing" + hint;
    case Fault::What::no_glyph: return fault.where + ": no font here can write “" + fault.text + "”" + hint;
    case Fault::What::too_wide: return fault.where + ": a word of “" + fault.text + "” is wider than its column";
    case Fault::What::too_tall:
      return fault.where + ": too long for one face of this paper; shorten it, or choose a larger paper";
    case Fault::What::cannot_write: return fault.where + ": " + fault.text;
  }
  return {};
}

}  // namespace stepward::emit::pdf
