// `stepward graph`: the step graph and the flow chart for other software.

#include <algorithm>
#include <filesystem>
#include <set>

#include <fmt/format.h>

#include "diagnostics/render.hpp"
#include "driver/commands.hpp"
#include "driver/dependencies.hpp"
#include "driver/disk.hpp"
#include "driver/graph_formats.hpp"
#include "driver/pipeline.hpp"
#include "driver/variant_choice.hpp"
#include "model/variants.hpp"

namespace stepward::driver {
namespace {

/// What can be told from the request alone; empty: it makes sense.
std::string why_not(const GraphRequest& request) {
  std::set<std::string> seen;
  for (const std::string& format : request.formats) {
    if (!seen.insert(format).second) return format + " is asked for twice";
  }
  if (request.formats.size() > 1 && request.folder.empty()) return "several formats go into a folder: --to FOLDER";
  const auto asks_for = [&](const char* format) { return std::find(request.formats.begin(), request.formats.end(), format) != request.formats.end(); };
  if (!request.sheet.empty() && (!asks_for("svg") || request.folder.empty())) return "--paper goes with --as svg and --to";
  const bool walk_is_told = std::any_of(request.formats.begin(), request.formats.end(), tells_of_walk);
  return request.walk && !walk_is_told ? "--walk goes with --as json and --as graphml" : "";
}

/// Where each text goes. A file of one variant has its name, so that it is not taken for the one of all.
std::vector<std::string> paths_of(const GraphRequest& request, const std::string& variant, const std::vector<GraphText>& texts) {
  if (request.folder.empty()) return {request.output};
  std::string stem = std::filesystem::path(request.file).stem().string();
  if (!variant.empty()) stem += '-' + slug(variant);
  std::vector<std::string> paths;
  for (const GraphText& text : texts) paths.push_back((std::filesystem::path(request.folder) / (stem + text.part + graph_file_ending(text.format))).string());
  return paths;
}

std::vector<std::string> targets_of(const GraphRequest& request, const std::vector<std::string>& paths) {
  return request.folder.empty() ? std::vector<std::string>{dependency_target(request.output, request.depfile)} : paths;
}

/// All files or none; what has no file is the program's answer.
Outcome put_graphs_on_disk(const GraphRequest& request, std::vector<GraphText> texts, const std::string& variant, const std::vector<std::string>& read_from) {
  const std::vector<std::string> paths = paths_of(request, variant, texts);
  const bool is_shown = paths.front().empty();
  std::vector<Output> outputs;
  for (std::size_t i = 0; i < texts.size() && !is_shown; ++i) outputs.push_back({paths[i], std::move(texts[i].text)});
  std::string why;
  if (!request.depfile.empty()) {
    auto rule = dependency_rule(targets_of(request, paths), {read_from}, why);
    if (!rule) return refusal(ExitCode::wrong_use, why);
    outputs.push_back({request.depfile, std::move(*rule)});
  }
  if (!request.folder.empty()) why = make_folder(request.folder);
  if (why.empty()) why = write_all(outputs);
  if (!why.empty()) return refusal(ExitCode::file_trouble, why);
  return {ExitCode::fine, is_shown ? std::move(texts.front().text) : "", ""};
}

}  // namespace

Outcome graph_command(const GraphRequest& request, const Host& host) {
  if (const std::string cannot = why_not(request); !cannot.empty()) return refusal(ExitCode::wrong_use, cannot);
  const FilesOnDisk on_disk(request.file);
  std::vector<std::string> read_from;
  const ReadFiles disk(on_disk, read_from);
  const Compilation made = read_alone(request.file, disk, "");
  const std::string findings = diagnostics::as_text(made.findings, made.files, {});
  if (made.unreadable) return {ExitCode::file_trouble, "", findings};
  if (!made.is_walkable()) {
    return {ExitCode::findings, "", findings + "stepward: no graph was made: " + (made.protocol ? "this file has no phases\n" : "what was found has to be mended first\n")};
  }

  std::vector<model::Variant> variants = model::all_variants(*made.protocol);
  std::string why, chosen;
  if (!request.only.empty()) {
    const auto only = variant_meant(*made.protocol, request.only, why);
    if (!only) return refusal(ExitCode::wrong_use, why);
    variants = {variants[*only]};
    chosen = model::variant_name(*made.protocol, variants.front());
  }
  auto texts = written_as({request.formats, request.walk, request.sheet, host.cores}, made, variants, why);
  if (!texts) return refusal(request.walk ? ExitCode::findings : ExitCode::wrong_use, why);
  return put_graphs_on_disk(request, std::move(*texts), chosen, read_from);
}

}  // namespace stepward::driver
