// `stepward print`: checks, then writes the papers, one file for each and for each variant where they differ.

#include <algorithm>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "base/text.hpp"
#include "check/verdict.hpp"
#include "diagnostics/render.hpp"
#include "driver/commands.hpp"
#include "driver/disk.hpp"
#include "driver/papers.hpp"
#include "driver/variant_choice.hpp"
#include "driver/verdict_text.hpp"
#include "model/variants.hpp"
#ifdef STEPWARD_WITH_PDF
#include "emit/pdf/write.hpp"
#endif

namespace stepward::driver {

#ifndef STEPWARD_WITH_PDF

Outcome print_command(const PrintRequest&, const Host&) {
  return refusal(ExitCode::wrong_use, "this program was built without printing (STEPWARD_PDF is off)");
}

#else

namespace {

using emit::Sheet;

/// Version and paper are in the name, so that no other version's card is ever written over; drafts are told apart too.
std::string file_name(const Compilation& made, const PrintRequest& request, const Sheet& sheet, const std::string& variant,
                      const std::string& what) {
  const model::DocumentControl& document = made.protocol->document;
  std::string name = file_part(document.number) + "-v" + file_part(document.version);
  if (!variant.empty()) name += '-' + slug(variant);
  name += '-' + what + '-' + slug(request.paper);
  if (!request.language.empty()) name += '-' + slug(request.language);
  if (request.draft || sheet.control.watermark == sheet.captions.draft_mark) name += "-draft";
  return (request.folder.empty() || request.folder.back() == '/' ? request.folder : request.folder + '/') + name + ".pdf";
}

struct Printed {
  std::vector<Output> outputs;
  std::vector<int> faces;
  std::vector<std::size_t> unsaid;  ///< texts left in English, by output
  std::vector<emit::PrintedPaper> papers;  ///< what the sign-off page tells of them
  std::string faults;
  std::string left_out;            ///< papers that were asked for and have nothing to say
};

void print_sheet(const PrintRequest& request, const Sheet& sheet, const std::string& path,
                 const std::string& today, Printed& printed) {
  emit::pdf::Options options;
  options.paper = *emit::pdf::paper_of(request.paper);
  options.date = today;
  options.watermark_draft = request.draft;
  emit::pdf::Pdf pdf = emit::pdf::write(sheet, options);
  for (const emit::pdf::Fault& fault : pdf.faults) {
    printed.faults += fmt::format("{}: {}\n", path, emit::pdf::sentence(fault));
  }
  printed.outputs.push_back({path, std::move(pdf.bytes)});
  printed.faces.push_back(pdf.faces);
  printed.papers.push_back({sheet.control.kind, sheet.control.variant, sheet.control.check_words, pdf.faces});
}

void print_papers(const Compilation& made, const PrintRequest& request, const std::vector<Paper>& papers, const std::string& variant,
                  const std::string& today, Printed& printed) {
  for (const Paper& paper : papers) {
    print_sheet(request, paper.sheet, file_name(made, request, paper.sheet, variant, paper.what), today, printed);
    printed.unsaid.push_back(paper.unsaid);
  }
}

bool asked_for(const std::vector<std::string>& what, const std::string& name) { return std::find(what.begin(), what.end(), name) != what.end(); }

/// The names that nothing is made under; empty: there are none.
std::string unknown_papers(const std::vector<std::string>& what) {
  const std::vector<std::string> known = paper_names();
  for (const std::string& name : what) {
    if (std::find(known.begin(), known.end(), name) == known.end()) return fmt::format("there is no paper \"{}\"; there are {}", name, fmt::join(known, ", "));
  }
  return {};
}

/// No language is asked for, or the one that the protocol is written in.
bool is_its_own(const Compilation& made, const std::string& language) {
  if (language.empty() || !made.protocol) return true;
  const auto& languages = made.protocol->document.languages;
  return text::fold(language) == text::fold(languages.empty() ? "English" : languages.front());
}

std::string no_such_language(const Compilation& made, const std::string& language) {
  std::string known;
  for (const translation::Dictionary& words : made.words) known += (known.empty() ? "; there are words in " : ", ") + words.language;
  return fmt::format("this protocol has no words in \"{}\"{}", language, known);
}

/// Empty when it may be printed.
std::string refused(const Compilation& made, const PrintRequest& request) {
  const std::size_t errors = diagnostics::count(made.findings).errors;
  if (!made.protocol) return "nothing was printed: what was found has to be mended first";
  if (!made.is_walkable()) return "nothing was printed: only a protocol has cards, and this is another kind of file";
  if (errors == 0 || request.draft) return {};
  return fmt::format("nothing was printed: {}; --draft prints with DRAFT on every face",
                     errors == 1 ? "there is 1 error" : fmt::format("there are {} errors", errors));
}

/// "8 texts are not in Spanish yet": behind a paper that is a draft for that reason.
std::string unsaid_in_words(std::size_t count, const std::string& language) {
  if (count == 0) return {};
  return fmt::format(", a draft: {} not in {} yet", count == 1 ? "1 text is" : fmt::format("{} texts are", count), language);
}

std::string told(const Compilation& made, const PrintRequest& request, const translation::Dictionary* words, const Printed& printed) {
  std::string text;
  for (std::size_t i = 0; i < printed.outputs.size(); ++i) {
    text += fmt::format("{}  {} {}{}\n", printed.outputs[i].path, printed.faces[i], printed.faces[i] == 1 ? "face" : "faces",
                        unsaid_in_words(printed.unsaid[i], words ? words->language : request.language));
  }
  return text + printed.left_out + verdict_for_paper(made) + '\n';
}

}  // namespace

Outcome print_command(const PrintRequest& request, const Host& host) {
  const std::vector<std::string> what = request.what.empty() ? paper_names() : request.what;
  if (const std::string unknown = unknown_papers(what); !unknown.empty()) return refusal(ExitCode::wrong_use, unknown);
  const Patience patience(host, "printing " + request.file);
  const std::string today = request.today.empty() ? host.today : request.today;
  const FilesOnDisk disk(request.file);
  Compilation made = read(request.file, disk, today);
  std::optional<std::size_t> only;
  std::string why;
  if (!request.only.empty() && made.is_walkable()) {
    only = variant_meant(*made.protocol, request.only, why);
    if (!only) return refusal(ExitCode::wrong_use, why);
  }
  const translation::Dictionary* words = nullptr;
  if (!is_its_own(made, request.language) && made.is_walkable()) {
    words = dictionary_of(made, request.language);
    if (!words) return refusal(ExitCode::wrong_use, no_such_language(made, request.language));
  }
  // Always the whole protocol: a card of one variant still says what the protocol was checked against.
  check::Options options;
  options.workers = host.cores;
  walk(made, options);

  const std::string findings = diagnostics::as_text(made.findings, made.files, {});
  if (made.unreadable) return {ExitCode::file_trouble, "", findings};
  if (why = refused(made, request); !why.empty()) return {ExitCode::findings, "", findings + "stepward: " + why + '\n'};

  Printed printed;
  for (std::size_t i = 0; i < made.verdict.walks.size(); ++i) {
    const check::VariantWalk& walk = made.verdict.walks[i];
    if (!only || *only == i) print_papers(made, request, papers_of(made, walk, what, words), walk.name, today, printed);
  }
  if (asked_for(request.what, "breach") && made.protocol->interruptions.empty()) printed.left_out += "no breach card: nothing strikes at any time\n";
  // The sign-off page comes last, since it tells of all others.
  for (const std::string& name : protocol_paper_names()) {
    if (!asked_for(what, name)) continue;
    const std::vector<Paper> papers = papers_of_protocol(made, {name}, printed.papers, words);
    if (papers.empty()) printed.left_out += "no " + name + " card: no step uses a disinfectant\n";
    print_papers(made, request, papers, "", today, printed);
  }
  if (!printed.faults.empty()) return {ExitCode::findings, "", printed.faults + "stepward: nothing was printed\n"};
  if (why = make_folder(request.folder); why.empty()) why = write_all(printed.outputs);
  if (!why.empty()) return refusal(ExitCode::file_trouble, why + "; nothing was changed");
  return {ExitCode::fine, told(made, request, words, printed), ""};
}

#endif

}  // namespace stepward::driver
