#include "driver/paper_formats.hpp"

#include <fmt/format.h>

#include "driver/paper_sizes.hpp"
#include "driver/papers.hpp"
#include "emit/xhtml/write.hpp"
#ifdef STEPWARD_WITH_PDF
#include "emit/pdf/finish.hpp"
#include "emit/pdf/write.hpp"
#endif

namespace stepward::driver {

namespace {

constexpr const char* pdf_format = "pdf";
constexpr const char* page_format = "xhtml";
constexpr std::string_view page_ending = ".html";

void add_page(SetPaper& paper, const emit::Sheet& sheet, const std::string& stem, const PrintRequest& request, const std::string& today) {
  emit::xhtml::Options options;
  options.paper = size_name(request, sheet.kind);
  options.date = today;
  options.watermark_draft = request.draft;
  paper.files.push_back({stem + std::string(page_ending), emit::xhtml::write(sheet, options)});
}

#ifdef STEPWARD_WITH_PDF

void add_pdf(SetPaper& paper, const emit::Sheet& sheet, const std::string& stem, const PrintRequest& request, const std::string& today) {
  emit::pdf::Options options;
  options.paper = sheet_for(request, sheet.kind);
  options.up = emit::pdf::paper_of(request.up);
  options.date = today;
  options.watermark_draft = request.draft;
  emit::pdf::Pdf pdf = emit::pdf::write(sheet, options);
  for (const emit::pdf::Fault& fault : pdf.faults) paper.faults.push_back(fmt::format("{}.pdf: {}", stem, emit::pdf::sentence(fault)));
  paper.faces = pdf.faces;
  paper.files.push_back({stem + ".pdf", std::move(pdf.bytes)});
}

#endif

}  // namespace

std::vector<std::string> paper_formats() { return {pdf_format, page_format}; }

std::string why_no_such_format([[maybe_unused]] const PrintRequest& request) {
#ifndef STEPWARD_WITH_PDF
  if (is_among(request.formats, pdf_format)) return "this program was built without PDF (STEPWARD_PDF is off); --as xhtml writes web pages";
#endif
  return {};
}

SetPaper set_paper(const emit::Sheet& sheet, const std::string& stem, const PrintRequest& request, const std::string& today) {
  SetPaper paper;
#ifdef STEPWARD_WITH_PDF
  if (is_among(request.formats, pdf_format)) add_pdf(paper, sheet, stem, request, today);
#endif
  if (is_among(request.formats, page_format)) add_page(paper, sheet, stem, request, today);
  return paper;
}

std::string printed_for(const std::string& bytes) {
  std::string day = emit::xhtml::day_of(bytes);
#ifdef STEPWARD_WITH_PDF
  if (day.empty()) day = emit::pdf::day_of(bytes);
#endif
  return day;
}

std::string told_of(const Output& file, const SetPaper& paper) {
  const std::string& path = file.path;
  const bool is_page = path.size() > page_ending.size() && path.compare(path.size() - page_ending.size(), page_ending.size(), page_ending) == 0;
  if (is_page) return "a web page";
  return fmt::format("{} {}", paper.faces, paper.faces == 1 ? "face" : "faces");
}

}  // namespace stepward::driver
