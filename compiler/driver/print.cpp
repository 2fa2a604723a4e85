// `stepward print`: checks, then writes cards and scripts, one file each for every variant.

#include <algorithm>

#include <fmt/format.h>

#include "check/verdict.hpp"
#include "diagnostics/render.hpp"
#include "driver/commands.hpp"
#include "driver/disk.hpp"
#include "driver/pipeline.hpp"
#include "driver/variant_choice.hpp"
#include "driver/verdict_text.hpp"
#include "emit/card/card.hpp"
#include "emit/script/script.hpp"
#include "graph/numbering.hpp"
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
using emit::pdf::Paper;

std::vector<emit::HandLayer> listed(const std::set<model::ItemId>& layers) { return {layers.begin(), layers.end()}; }

/// A routine that is called in several places may stand on paper once, for all its calls: so by where a line stands.
void note_exceptions(const Compilation& made, const check::VariantWalk& walk, emit::WalkFacts& facts) {
  const model::Protocol& protocol = *made.protocol;
  std::map<std::pair<std::uint32_t, std::uint32_t>, std::set<std::uint32_t>> by_place;
  const auto place_of = [&](const model::Line& line) { return std::pair{line.span.file.value, line.span.begin}; };
  for (const auto& [line, asides] : walk.set_aside) by_place[place_of(protocol[line])].insert(asides.begin(), asides.end());
  if (by_place.empty()) return;
  for (std::size_t l = 0; l < protocol.lines.size(); ++l) {
    const auto found = by_place.find(place_of(protocol.lines[l]));
    if (found == by_place.end()) continue;
    for (const std::uint32_t i : found->second) {
      const model::SetAside& aside = protocol.set_aside[i];
      const std::string until = aside.agreement.until.empty() ? std::string() : " Until " + aside.agreement.until + ".";
      facts.set_aside[model::LineId(l)].push_back({aside.number, aside.agreement.reason + until});
    }
  }
}

emit::WalkFacts facts_of(const Compilation& made, const check::VariantWalk& walk) {
  emit::WalkFacts facts;
  for (const auto& [line, layers] : walk.hands_before) facts.hands_before[line] = listed(layers);
  for (const auto& [line, layers] : walk.hands_after) facts.hands_after[line] = listed(layers);
  note_exceptions(made, walk, facts);
  facts.verdict = verdict_for_paper(made);
  facts.has_errors = diagnostics::count(made.findings).errors > 0;
  return facts;
}

/// Version and paper are in the name, so that no other version's card is ever written over; drafts are told apart too.
std::string file_name(const Compilation& made, const PrintRequest& request, const Sheet& sheet, const std::string& variant,
                      const std::string& what) {
  const model::DocumentControl& document = made.protocol->document;
  std::string name = file_part(document.number) + "-v" + file_part(document.version);
  if (!variant.empty()) name += '-' + slug(variant);
  name += '-' + what + '-' + slug(request.paper);
  if (request.draft || sheet.control.watermark == sheet.captions.draft_mark) name += "-draft";
  return (request.folder.empty() || request.folder.back() == '/' ? request.folder : request.folder + '/') + name + ".pdf";
}

struct Printed {
  std::vector<Output> outputs;
  std::vector<int> faces;
  std::string faults;
};

void print_sheet(const Compilation& made, const PrintRequest& request, const Sheet& sheet, const std::string& path,
                 const std::string& today, Printed& printed) {
  emit::pdf::Options options;
  options.paper = *emit::pdf::paper_of(request.paper);
  options.date = today;
  options.watermark_draft = request.draft;
  emit::pdf::Pdf pdf = emit::pdf::write(sheet, options);
  (void)made;
  for (const emit::pdf::Fault& fault : pdf.faults) {
    printed.faults += fmt::format("{}: {}\n", path, emit::pdf::sentence(fault));
  }
  printed.outputs.push_back({path, std::move(pdf.bytes)});
  printed.faces.push_back(pdf.faces);
}

void print_variant(const Compilation& made, const PrintRequest& request, const check::VariantWalk& walk,
                   const std::string& today, Printed& printed) {
  const graph::Course course = graph::number_steps(*made.protocol, walk.variant);
  const emit::WalkFacts facts = facts_of(made, walk);
  for (const std::string& what : request.what) {
    const Sheet sheet = what == "card" ? emit::wearers_card(*made.protocol, walk.variant, course, facts, *made.protocol)
                                       : emit::observers_script(*made.protocol, walk.variant, course, facts, *made.protocol);
    print_sheet(made, request, sheet, file_name(made, request, sheet, walk.name, what), today, printed);
  }
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

std::string told(const Compilation& made, const Printed& printed) {
  std::string text;
  for (std::size_t i = 0; i < printed.outputs.size(); ++i) {
    text += fmt::format("{}  {} {}\n", printed.outputs[i].path, printed.faces[i], printed.faces[i] == 1 ? "face" : "faces");
  }
  return text + verdict_for_paper(made) + '\n';
}

}  // namespace

Outcome print_command(const PrintRequest& request, const Host& host) {
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
  // Always the whole protocol: a card of one variant still says what the protocol was checked against.
  check::Options options;
  options.workers = host.cores;
  walk(made, options);

  const std::string findings = diagnostics::as_text(made.findings, made.files, {});
  if (made.unreadable) return {ExitCode::file_trouble, "", findings};
  if (why = refused(made, request); !why.empty()) return {ExitCode::findings, "", findings + "stepward: " + why + '\n'};

  Printed printed;
  for (std::size_t i = 0; i < made.verdict.walks.size(); ++i) {
    if (!only || *only == i) print_variant(made, request, made.verdict.walks[i], today, printed);
  }
  if (!printed.faults.empty()) return {ExitCode::findings, "", printed.faults + "stepward: nothing was printed\n"};
  if (why = make_folder(request.folder); why.empty()) why = write_all(printed.outputs);
  if (!why.empty()) return refusal(ExitCode::file_trouble, why + "; nothing was changed");
  return {ExitCode::fine, told(made, printed), ""};
}

#endif

}  // namespace stepward::driver
