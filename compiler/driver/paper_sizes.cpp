#include "driver/paper_sizes.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "driver/papers.hpp"
#include "driver/variant_choice.hpp"
#ifdef STEPWARD_WITH_PDF
#include "emit/pdf/imposition.hpp"
#endif

namespace stepward::driver {

// Known without a drawing library, too, so that the command line is the same.
std::vector<std::string> paper_size_names() { return {"A5", "A4", "A3", "Letter", "Tabloid", "ID-1"}; }

#ifdef STEPWARD_WITH_PDF

namespace pdf = emit::pdf;

namespace {

std::string where_two_fit(pdf::Paper paper, const std::string& up) {
  const std::vector<pdf::Paper> sheets = pdf::sheets_holding(pdf::size_of(paper));
  if (std::find(sheets.begin(), sheets.end(), *pdf::paper_of(up)) != sheets.end()) return {};
  const std::string nowhere = fmt::format("two faces of {} do not fit on {}", pdf::name_of(paper), pdf::name_of(*pdf::paper_of(up)));
  return sheets.empty() ? nowhere : nowhere + "; they fit on " + pdf::listed(sheets);
}

/// Why a kind of paper cannot be printed as asked; empty: it can.
std::string hindrance(const PrintRequest& request, emit::SheetKind kind) {
  const pdf::Paper paper = sheet_for(request, kind);
  if (!pdf::is_printed_on(kind, paper)) return fmt::format("it is printed on {}, not on {}", pdf::listed(pdf::papers_for(kind)), pdf::name_of(paper));
  return request.up.empty() ? std::string() : where_two_fit(pdf::paper_for(kind, paper), request.up);
}

}  // namespace

pdf::Paper sheet_for(const PrintRequest& request, emit::SheetKind kind) {
  const auto asked = pdf::paper_of(request.paper);
  return asked ? *asked : pdf::default_paper(kind);
}

SizesChosen choose_sizes(const PrintRequest& request, const std::vector<std::string>& what) {
  SizesChosen chosen;
  for (const std::string& name : what) {
    const std::string why = hindrance(request, kind_of_paper(name));
    if (why.empty()) chosen.what.push_back(name);
    else if (request.what.empty()) chosen.left_out += fmt::format("no {}: {}\n", name, why);
    else if (chosen.refused.empty()) chosen.refused = fmt::format("{}: {}", name, why);
  }
  if (chosen.what.empty() && chosen.refused.empty()) chosen.refused = "no paper can be printed so:\n" + chosen.left_out;
  return chosen;
}

std::string size_name(const PrintRequest& request, emit::SheetKind kind) { return pdf::name_of(sheet_for(request, kind)); }

#else

// A browser sets a page on any sheet, so nothing is refused and nothing is left out.
SizesChosen choose_sizes(const PrintRequest&, const std::vector<std::string>& what) { return {what, "", ""}; }

std::string size_name(const PrintRequest& request, emit::SheetKind kind) {
  if (!request.paper.empty()) return request.paper;
  return kind == emit::SheetKind::poster ? "A3" : kind == emit::SheetKind::badge ? "ID-1" : "A4";
}

#endif

std::string size_part(const PrintRequest& request, emit::SheetKind kind) {
  const std::string face = slug(size_name(request, kind));
  return request.up.empty() ? face : face + "-up-" + slug(request.up);
}

}  // namespace stepward::driver
