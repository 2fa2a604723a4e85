#include "emit/pdf/fonts.hpp"

#include <fontconfig/fontconfig.h>
#include <pango/pangocairo.h>
#include <pango/pangofc-fontmap.h>

#include <memory>
#include <sstream>
#include <string>

namespace stepward::emit::pdf {

namespace {

/// Fontconfig's own words for "these families and nothing else". Every font is scalable or not, so both are rejected;
/// what is accepted by name stays all the same.
std::string selection() {
  std::string accepted;
  std::istringstream families(font_families);
  for (std::string family; std::getline(families, family, ',');) {
    accepted += "<pattern><patelt name=\"family\"><string>" + family + "</string></patelt></pattern>";
  }
  const auto scalable = [](const char* value) {
    return std::string("<pattern><patelt name=\"scalable\"><bool>") + value + "</bool></patelt></pattern>";
  };
  return "<?xml version=\"1.0\"?><fontconfig><selectfont><acceptfont>" + accepted + "</acceptfont><rejectfont>" +
         scalable("true") + scalable("false") + "</rejectfont></selectfont></fontconfig>";
}

/// None when the machine has no such font, or an older Fontconfig than the words need.
FcConfig* pinned_fonts() {
  FcConfig* config = FcInitLoadConfig();
  if (!config) return nullptr;
  const std::string words = selection();
  const bool read = FcConfigParseAndLoadFromMemory(config, reinterpret_cast<const FcChar8*>(words.c_str()), FcFalse) &&
                    FcConfigBuildFonts(config);
  const FcFontSet* fonts = read ? FcConfigGetFonts(config, FcSetSystem) : nullptr;
  if (fonts && fonts->nfont > 0) return config;
  FcConfigDestroy(config);
  return nullptr;
}

using FontMap = std::unique_ptr<PangoFontMap, void (*)(gpointer)>;

FontMap of_the_machine() { return {static_cast<PangoFontMap*>(g_object_ref(pango_cairo_font_map_get_default())), g_object_unref}; }

/// Fontconfig's part is the slow one, and may be shared by threads; Pango's may not.
FontMap make_font_map() {
  static FcConfig* const config = pinned_fonts();
  if (!config) return of_the_machine();
  FontMap map(pango_cairo_font_map_new_for_font_type(CAIRO_FONT_TYPE_FT), g_object_unref);
  if (!map) return of_the_machine();
  pango_fc_font_map_set_config(PANGO_FC_FONT_MAP(map.get()), config);
  return map;
}

}  // namespace

PangoFontMap* pinned_font_map() {
  thread_local const FontMap map = make_font_map();
  return map.get();
}

}  // namespace stepward::emit::pdf
