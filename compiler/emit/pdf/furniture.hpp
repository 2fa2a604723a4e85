#pragma once
// What stands on every face around the steps: head, continuation line, foot with the control block, watermark.

#include "emit/document/document.hpp"
#include "emit/pdf/galley.hpp"
#include "emit/pdf/paper.hpp"

namespace stepward::emit::pdf {

Galley first_head(Typesetter& typesetter, const Look& look, const Sheet& sheet);
Galley next_head(Typesetter& typesetter, const Look& look, const Sheet& sheet);
Galley continued_line(Typesetter& typesetter, const Look& look, const std::string& words);
/// The same on every face of a sheet.
Galley foot(Typesetter& typesetter, const Look& look, const Sheet& sheet);
/// What stands over the foot's right end: `face` of `faces`, both from 1, and the one that follows where one `goes_on` reading there.
Galley face_count(Typesetter& typesetter, const Look& look, const Sheet& sheet, int face, bool goes_on, int faces);
/// The red band of a breach card, in the safety red of ISO 3864 as nearly as a printer makes it; the word stands beside it. It keeps
/// off the edge by what a printer cannot reach.
void draw_edge(cairo_t* surface, const Look& look);
void draw_watermark(cairo_t* surface, Typesetter& typesetter, const Look& look, const std::string& word);

}  // namespace stepward::emit::pdf
