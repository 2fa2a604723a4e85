// `stepward graph`: the step graph and the flow chart for other software.

#include <fmt/format.h>

#include "diagnostics/render.hpp"
#include "driver/commands.hpp"
#include "driver/disk.hpp"
#include "driver/graph_formats.hpp"
#include "driver/pipeline.hpp"
#include "driver/variant_choice.hpp"
#include "model/variants.hpp"

namespace stepward::driver {

Outcome graph_command(const GraphRequest& request, const Host& host) {
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
  if (request.walk && request.format != "json" && request.format != "graphml") return refusal(ExitCode::wrong_use, "--walk goes with --as json and --as graphml");
  std::string why;
  std::optional<std::string> text = written_as({request.format, request.walk, host.cores}, made, variants, why);
  if (!text) return refusal(request.walk ? ExitCode::findings : ExitCode::wrong_use, why);
  if (request.output.empty()) return {ExitCode::fine, std::move(*text), ""};
  why = write_all({{request.output, std::move(*text)}});
  return why.empty() ? Outcome{} : refusal(ExitCode::file_trouble, why);
}

}  // namespace stepward::driver
