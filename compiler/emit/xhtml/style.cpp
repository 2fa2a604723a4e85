#include "emit/xhtml/style.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "base/text.hpp"
#include "emit/document/direction.hpp"
#include "emit/xhtml/control_block.hpp"

namespace stepward::emit::xhtml {

namespace {

/// Sheets of paper, in CSS. Sizes: ISO 216; ANSI/ASME Y14.1; ISO/IEC 7810 (ID-1). `margin` of the sides in millimetres; `letters`: how
/// large a rem is, in points. Body text is 1.17 of them: 14 points on A4, more on a larger sheet, 12.8 on A5.
struct PageSize {
  std::string_view name;
  const char *standing, *lying;
  int margin, letters;
};

constexpr std::array<PageSize, 6> page_sizes = {{{"a3", "297mm 420mm", "420mm 297mm", 14, 17},
                                                 {"a4", "210mm 297mm", "297mm 210mm", 12, 12},
                                                 {"a5", "148mm 210mm", "210mm 148mm", 10, 11},
                                                 {"letter", "8.5in 11in", "11in 8.5in", 12, 12},
                                                 {"tabloid", "11in 17in", "17in 11in", 14, 17},
                                                 {"id-1", "85.6mm 53.98mm", "85.6mm 53.98mm", 5, 11}}};

constexpr int ring_margin = 20;    // of a script, for its rings
constexpr int top_margin = 18;     // room for the running lines, 10 mm and more from the edge, for lamination
constexpr int bottom_margin = 23;

const PageSize* size_of(const std::string& paper) {
  const std::string name = text::lower(paper);
  for (const PageSize& size : page_sizes) {
    if (size.name == name) return &size;
  }
  return nullptr;
}

/// A script on A5 lies on its side, as its PDF does.
bool is_lying(const Sheet& sheet, const PageSize* size) { return sheet.kind == SheetKind::script && size && size->name == "a5"; }

std::string page_box(const Sheet& sheet, const PageSize* size) {
  const int side = size ? size->margin : 12, rings = sheet.kind == SheetKind::script ? ring_margin : side;
  const bool rtl = reads_right_to_left(sheet.control.language);
  const std::string box = size ? fmt::format("size: {}; ", is_lying(sheet, size) ? size->lying : size->standing) : "";
  return box + fmt::format("margin: {}mm {}mm {}mm {}mm;", top_margin, rtl ? rings : side, bottom_margin, rtl ? side : rings);
}

std::string letters_in_print(const Sheet& sheet, const PageSize* size) {
  // A low face has no room for a step and its question together.
  const char* low = is_lying(sheet, size) ? " .question { break-before: auto; }" : "";
  return fmt::format("@media print {{ html {{ font-size: {}pt; }}{} }}\n", size ? size->letters : 12, low);
}

std::string in_margin(const char* where, const std::string& words, const char* more) {
  return fmt::format("  @{} {{ content: {}; {} }}\n", where, words, more);
}

bool is_narrow(const Column& column) { return column.what == Column::What::tick || column.what == Column::What::label; }

/// The control block of a printed face. Browsers that know no margin boxes leave them out; their own header then has
/// the page's title, which says the same.
std::string printed_face(const Sheet& sheet, const std::string& paper, const std::string& mark) {
  const Control& control = sheet.control;
  const PageSize* size = size_of(paper);
  const bool rtl = reads_right_to_left(control.language);
  const std::string sans = fmt::format("font: {}pt \"Noto Sans\", Arial, Helvetica, sans-serif;", size && size->letters < 12 ? 9 : 10);
  const std::string top = sans + " vertical-align: bottom; padding-bottom: 2mm;", bottom = sans + " vertical-align: top; padding-top: 2mm;";
  const std::string name = control.title + " · " + control.kind + (control.variant.empty() ? "" : " · " + control.variant);
  const std::string filed = control.number + " " + filled(sheet.captions.version, control.version);
  const std::string check = sheet.captions.check_words + " " + control.check_words;
  std::string page = "@page { " + page_box(sheet, size) + "\n";
  page += in_margin(rtl ? "top-right" : "top-left", css_string(name), (top + " width: 68%; text-align: start;").c_str());
  if (const std::string marks = marks_in_one_line(mark, control.marks); !marks.empty()) page += in_margin("top-center", css_string(marks), (top + " font-weight: 700; width: auto;").c_str());
  page += in_margin(rtl ? "top-left" : "top-right", css_string(filed), (top + " font-weight: 700; text-align: end;").c_str());
  page += in_margin(rtl ? "bottom-right" : "bottom-left", css_string(check) + " \"\\A \" " + css_string(control.caution),
                    (bottom + " width: 80%; white-space: pre-line; text-align: start;").c_str());
  page += in_margin(rtl ? "bottom-left" : "bottom-right", "counter(page) \" / \" counter(pages)", (bottom + " font-weight: 700; text-align: end; white-space: nowrap;").c_str());
  // The first face has the head of the page itself.
  page += "}\n@page :first { @top-left { content: none; } @top-center { content: none; } @top-right { content: none; } }\n";
  return page + letters_in_print(sheet, size);
}

/// The mark that lies across a face is as large as its word allows: DRAFT is shorter than WITHDRAWN.
std::string mark_size(const std::string& mark) {
  if (mark.empty()) return {};
  return fmt::format(".across-face {{ font-size: {}vw; }}\n", std::min<std::size_t>(20, 130 / text::count_characters(mark)));
}

/// What is left for a column beside boxes and numbers, in percent of the table; the browser may give it more.
std::string column_widths(const Sheet& sheet) {
  std::string rules;
  for (std::size_t t = 0; t < sheet.tables.size(); ++t) {
    double shares = 0;
    for (const Column& column : sheet.tables[t]) shares += is_narrow(column) ? 0 : column.share;
    for (std::size_t c = 0; c < sheet.tables[t].size(); ++c) {
      const Column& column = sheet.tables[t][c];
      if (column.what == Column::What::field) rules += fmt::format(".{} li:nth-child({}) {{ flex-grow: {}; }}\n", class_of_table(t), c + 1, column.share);
      if (is_narrow(column) || shares <= 0 || column.what == Column::What::field) continue;
      rules += fmt::format(".{} col:nth-child({}) {{ width: {}%; }}\n", class_of_table(t), c + 1, static_cast<int>(90 * column.share / shares));
    }
  }
  return rules;
}

}  // namespace

std::string class_of_table(std::size_t table) { return fmt::format("table-{}", table + 1); }

std::string css_string(const std::string& text) {
  std::string quoted = "\"";
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    const bool plain = c == ' ' || (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || byte >= 0x80;
    // The blank ends the escape and is no part of the text.
    quoted += plain ? std::string(1, c) : fmt::format("\\{:x} ", byte == 0 ? 0xFFFDu : byte);
  }
  return quoted + '"';
}

std::string styles(const Sheet& sheet, const std::string& paper, const std::string& mark) {
  return std::string(common_styles()) + column_widths(sheet) + printed_face(sheet, paper, mark) + mark_size(mark);
}

}  // namespace stepward::emit::xhtml
