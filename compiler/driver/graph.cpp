// `stepward graph`: the step graph for other software.

#include <fmt/format.h>

#include "diagnostics/render.hpp"
#include "driver/commands.hpp"
#include "driver/disk.hpp"
#include "driver/pipeline.hpp"
#include "driver/variant_choice.hpp"
#include "emit/graph/step_graph.hpp"
#include "model/variants.hpp"

namespace stepward::driver {

Outcome graph_command(const GraphRequest& request) {
  const FilesOnDisk disk(request.file);
  const Compilation made = read(request.file, disk, "");
  const std::string findings = diagnostics::as_text(made.findings, made.files, {});
  if (made.unreadable) return {ExitCode::file_trouble, "", findings};
  if (!made.is_walkable()) {
    return {ExitCode::findings, "", findings + "stepward: no graph was made: " + (made.protocol ? "this file has no phases\n" : "what was found has to be mended first\n")};
  }

  std::vector<model::Variant> variants = model::all_variants(*made.protocol);
  if (!request.only.empty()) {
    std::string why;
    const auto only = variant_meant(*made.protocol, request.only, why);
    if (!only) return refusal(ExitCode::wrong_use, why);
    variants = {variants[*only]};
  }
  std::vector<emit::step_graph::VariantGraph> graphs;
  for (const model::Variant& variant : variants) graphs.push_back(emit::step_graph::make(*made.protocol, variant, made.files));
  std::string text = request.format == "graphml" ? emit::step_graph::as_graphml(*made.protocol, graphs)
                                                 : emit::step_graph::as_json(*made.protocol, graphs);
  if (request.output.empty()) return {ExitCode::fine, std::move(text), ""};
  const std::string why = write_all({{request.output, std::move(text)}});
  return why.empty() ? Outcome{} : refusal(ExitCode::file_trouble, why);
}

}  // namespace stepward::driver
