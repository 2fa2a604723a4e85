#pragma once
// The fonts that a paper may use, and no others.
//
// A machine has hundreds of font files, and Pango would sort all of them for every size of type, and take whatever it
// finds for a sign that the first family lacks. Here only the named families are let in: papers look the same
// everywhere, a missing sign is noticed, and setting the first line takes a fifth of the time.

#include <pango/pango.h>

namespace stepward::emit::pdf {

/// The families, in the order in which they are asked, as Pango wants them.
constexpr const char* font_families =
    "Noto Sans,Noto Sans Math,Noto Sans Symbols2,Noto Sans Symbols,Noto Sans Arabic,Noto Sans Hebrew,"
    "Noto Sans Devanagari,Noto Sans Bengali,Noto Sans Tamil,Noto Sans Telugu,Noto Sans Gujarati,Noto Sans Gurmukhi,"
    "Noto Sans Thai,Noto Sans Georgian,Noto Sans Armenian,Noto Sans Ethiopic,Noto Sans Kannada,Noto Sans Malayalam,"
    "Noto Sans Oriya,Noto Sans Sinhala,Noto Sans Khmer,Noto Sans Lao,Noto Sans Myanmar,Noto Sans CJK JP,Noto Sans CJK SC";

/// The font map with these families, one for each thread. When none of them is installed: the machine's
/// own, so that text can still be measured while the missing family is reported.
PangoFontMap* pinned_font_map();

}  // namespace stepward::emit::pdf
