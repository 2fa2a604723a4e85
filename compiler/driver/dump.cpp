// `stepward dump`: one representation of the compiler as text.

#include "diagnostics/render.hpp"
#include "driver/commands.hpp"
#include "driver/disk.hpp"
#include "driver/dumps.hpp"
#include "driver/variant_choice.hpp"
#include "model/variants.hpp"

namespace stepward::driver {
namespace {

std::string dump_variants(const Compilation& made, const DumpRequest& request, std::optional<std::size_t> only) {
  const std::vector<model::Variant> variants = model::all_variants(*made.protocol);
  std::string text;
  for (std::size_t v = 0; v < variants.size(); ++v) {
    if (only && *only != v) continue;
    const std::string name = model::variant_name(*made.protocol, variants[v]);
    text += "variant " + (name.empty() ? "(the only one)" : name) + '\n';
    text += request.stage == "graph" ? dump_graph(*made.protocol, variants[v]) : dump_effects(*made.protocol, variants[v]);
  }
  return text;
}

/// The one stage that needs the walk, and one without errors.
Outcome dump_walked(Compilation made, std::optional<std::size_t> only) {
  check::Options options;
  options.only_variant = only;
  walk(made, options);
  std::string text;
  for (const check::VariantWalk& each : made.verdict.walks) {
    text += "variant " + (each.name.empty() ? "(the only one)" : each.name) + '\n' + dump_stock(*made.protocol, each);
  }
  const bool errors = diagnostics::count(made.findings).errors > 0;
  return {errors ? ExitCode::findings : ExitCode::fine, text, errors ? diagnostics::as_text(made.findings, made.files, {}) : ""};
}

}  // namespace

Outcome dump_command(const DumpRequest& request) {
  const FilesOnDisk disk(request.file);
  Compilation made = read(request.file, disk, "");
  const std::string findings = diagnostics::as_text(made.findings, made.files, {});
  if (made.unreadable) return {ExitCode::file_trouble, "", findings};
  if (request.stage == "tree") {
    const bool errors = diagnostics::count(made.findings).errors > 0;
    return {errors ? ExitCode::findings : ExitCode::fine, dump_tree(made), findings};
  }
  if (!made.protocol) return {ExitCode::findings, "", findings};
  if (request.stage == "model") return {ExitCode::fine, dump_model(made), ""};
  std::optional<std::size_t> only;
  std::string why;
  if (!request.only.empty()) {
    only = variant_meant(*made.protocol, request.only, why);
    if (!only) return refusal(ExitCode::wrong_use, why);
  }
  if (request.stage == "stock") return dump_walked(std::move(made), only);
  return {ExitCode::fine, dump_variants(made, request, only), ""};
}

}  // namespace stepward::driver
