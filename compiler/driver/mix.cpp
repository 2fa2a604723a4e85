// `stepward mix`: how a mixture is made, and what a recipe on a label or a poster really gives.
//
// A recipe typed at the command line is read by the compiler itself, as a line of an agent in a file in memory: so what may be
// written, and what is refused, is the same here as in a protocol.

#include <fmt/format.h>

#include "diagnostics/render.hpp"
#include "driver/commands.hpp"
#include "driver/disk.hpp"
#include "driver/pipeline.hpp"
#include "wording/amounts.hpp"
#include "wording/messages.hpp"
#include "wording/step_text.hpp"

namespace stepward::driver {
namespace {

using diagnostics::Code;
using mixture::Exact;
using mixture::Recipe;
using mixture::Unit;

constexpr const char* caution = "\nOnly the figures were checked. The product's label, the local policy and the pharmacy decide.\n";
constexpr const char* no_volume = "--for is a volume, such as \"10 litres\"";

// ---- what was typed

struct Typed {
  model::Agent agent;
  std::string trouble;  ///< why it cannot be reckoned with; else empty
};

/// "5 percent", "70 percent powder", "1 g active each" → what stands behind "made from".
std::string stock_line(const std::string& from) {
  const std::size_t powder = from.find(" powder");
  if (powder != std::string::npos) return "powder \"the powder\" at " + from.substr(0, powder);
  if (from.find("each") != std::string::npos) return "\"the tablets\" with " + from;
  return "\"the stock\" at " + from;
}

/// "1 part with 9 parts" and "1:10" are what a label says; the line of an agent begins with a verb and ends with the water.
std::string recipe_line_of(const std::string& typed) {
  if (typed.empty() || typed.find('"') != std::string::npos) return typed;
  const bool begins_with_figure = typed[0] >= '0' && typed[0] <= '9';
  return (begins_with_figure ? "mix " : "") + typed + (typed.rfind("fill", 0) == 0 ? " with" : "") + " \"water\"";
}

std::string file_with(const std::string& stock, const std::string& recipe, const std::string& strength) {
  return fmt::format("stepward 1 library\n\ndocument\n  title      \"Typed\"\n  number     TYPED-1\n  version    1.0\n  status     draft\n"
                     "  written by \"whoever typed it\", \"here\"\nend document\n\nuse library standard \"equipment-kinds\"\n\n"
                     "agent mixture\n  made from {}\n  {}\n  strength {}\n  works on hard surface\nend agent\n",
                     stock, recipe, strength);
}

/// The first thing that is wrong, in words. That a recipe gives another strength than is wanted is what the command itself tells.
std::string trouble_in(const diagnostics::Sink& findings, bool is_recipe) {
  for (const diagnostics::Diagnostic& finding : findings) {
    const bool told_elsewhere = is_recipe && (finding.code == Code::T702 || finding.code == Code::T703);
    if (finding.severity != diagnostics::Severity::error || told_elsewhere) continue;
    std::string text = wording::headline(finding.code, finding.args);
    if (const std::string hint = wording::hint(finding.code, finding.args); !hint.empty()) text += "\n  hint  " + hint;
    const std::string fix = finding.fix.empty() ? wording::fix(finding.code, finding.args) : finding.fix;
    return fix.empty() ? text : text + "\n  fix   " + fix;
  }
  return {};
}

Typed typed(const std::string& from, const std::string& recipe, const std::string& strength) {
  FilesInMemory files;
  files.put("typed.ward", file_with(stock_line(from), recipe_line_of(recipe), strength));
  const Compilation made = read("typed.ward", files, "");
  Typed all;
  all.trouble = trouble_in(made.findings, !recipe.empty());
  if (!made.protocol) return all;
  for (const model::Agent& agent : made.protocol->agents) {
    if (agent.name == "mixture") all.agent = agent;
  }
  return all;
}

/// The millilitres of "10 litres", or nothing.
std::optional<Exact> volume_of(const std::string& words) {
  const Typed bucket = typed("1 percent", "add 1 ml to " + words, "1 ppm");
  if (!bucket.trouble.empty() || !bucket.agent.recipe) return std::nullopt;
  return Exact(bucket.agent.recipe->other);
}

// ---- in words

std::string row(std::string_view label, const std::string& text) { return fmt::format("  {:<9} {}\n", label, text); }

std::string strength_phrase(Exact ppm) { return fmt::format("{}, {}", wording::percent_phrase(ppm), wording::ppm_phrase(ppm)); }

std::string stock_phrase(const mixture::Stock& stock) {
  if (stock.grams_each) return fmt::format("{} with {} g active each", stock.name, wording::figure_phrase(Exact(*stock.grams_each)));
  return fmt::format("{} at {}", stock.name, wording::percent_phrase(Exact(*stock.ppm)));
}

std::string batch_phrase(const model::Agent& agent, Exact volume) {
  const mixture::Batch batch = mixture::batch_for(agent.stock, *agent.recipe, volume);
  const std::string all = wording::volume_phrase(volume), figure = wording::figure_phrase(batch.amount);
  if (batch.unit == Unit::millilitre) return fmt::format("{} ml of {}, filled up to {}", figure, agent.stock.name, all);
  if (batch.unit == Unit::gram) return fmt::format("{} g of {}, dissolved in {}", figure, agent.stock.name, all);
  const std::string few = batch.amount.den == 1 ? "" : "; take a volume that whole tablets make";
  return fmt::format("{} of {}, dissolved in {}{}", figure, agent.stock.name, all, few);
}

std::string judgement(Exact gives, Exact wanted) {
  if (mixture::is_same_strength(gives, wanted)) return "as wanted";
  const Exact error = mixture::relative_error(gives, wanted);
  const bool weaker = error < Exact(0);
  const std::string by = wording::figure_phrase((weaker ? Exact(0) - error : error) * Exact(100), 2);
  const char* rounding = mixture::is_near(gives, wanted) ? ", as rounded recipes are" : "";
  return fmt::format("{} percent {} than wanted{}", by, weaker ? "weaker" : "stronger", rounding);
}

std::string judged(const mixture::Stock& stock, const Recipe& recipe, std::optional<Exact> wanted) {
  const auto gives = mixture::strength_of(stock, recipe);
  if (!gives) return {};
  return strength_phrase(*gives) + (wanted ? ": " + judgement(*gives, *wanted) : "");
}

/// One mixture: from what, in which proportion, and a volume of it.
std::string entry_of(const model::Agent& agent, std::optional<Exact> volume) {
  const Exact gives = *mixture::strength_of(agent.stock, *agent.recipe);
  std::string text = fmt::format("{}: {}\n", agent.name, strength_phrase(gives));
  text += row("from", stock_phrase(agent.stock)) + row("how", wording::recipe_line(*agent.recipe, agent.diluent));
  if (volume) text += row("measure", batch_phrase(agent, *volume));
  if (agent.keeps) text += row("keeps", wording::duration_phrase(*agent.keeps) + " once mixed");
  return text;
}

// ---- a recipe held against what is wanted

/// The recipe as it should be, in the same way of measuring.
std::string right_recipe(const model::Agent& agent, Exact wanted) {
  mixture::Stock stock = agent.stock;
  stock.powder = agent.recipe->how == Recipe::How::dissolved;
  if (stock.ppm && Exact(*stock.ppm) < wanted) return "the stock is weaker than what is wanted";
  const auto right = mixture::recipe_for(stock, wanted);
  return right ? wording::recipe_line(*right, "") : "the stock as it is";
}

Outcome judge_recipe(const MixRequest& request, std::optional<Exact> volume) {
  const Typed made = typed(request.from, request.recipe, request.wanted.empty() ? "1 ppm" : request.wanted);
  if (!made.trouble.empty()) return refusal(ExitCode::findings, made.trouble);
  const model::Agent& agent = made.agent;
  const auto wanted = request.wanted.empty() ? std::nullopt : std::optional(Exact(*agent.strength_ppm));
  const Exact gives = *mixture::strength_of(agent.stock, *agent.recipe);
  const bool right = !wanted || mixture::is_near(gives, *wanted);
  std::string text = wording::recipe_line(*agent.recipe, "") + ", from " + stock_phrase(agent.stock) + '\n';
  text += row("gives", judged(agent.stock, *agent.recipe, wanted));
  for (const Recipe& other : mixture::other_readings(*agent.recipe))
    text += row("but", wording::recipe_line(other, "") + " gives " + judged(agent.stock, other, wanted));
  if (!right) text += row("right", right_recipe(agent, *wanted));
  if (volume) text += row("measure", batch_phrase(agent, *volume));
  return {right ? ExitCode::fine : ExitCode::findings, text + caution, ""};
}

Outcome show_way(const MixRequest& request, std::optional<Exact> volume) {
  const Typed made = typed(request.from, "", request.wanted);
  if (!made.trouble.empty()) return refusal(ExitCode::findings, made.trouble);
  if (!made.agent.recipe) return refusal(ExitCode::findings, "the stock is as strong as what is wanted: there is nothing to mix");
  return {ExitCode::fine, entry_of(made.agent, volume) + caution, ""};
}

// ---- the mixtures of a file

/// How old a mixture is, held against how old it may get.
Outcome judge_age(const model::Agent& agent, const MixRequest& request, const Host& host, std::string text) {
  const std::string& now = request.now.empty() ? host.now : request.now;
  const auto from = minutes_at(request.made), to = minutes_at(now);
  if (!from || !to) return refusal(ExitCode::wrong_use, "--made and --now are moments such as \"2031-03-14 08:00\"");
  if (*to < *from) return refusal(ExitCode::wrong_use, fmt::format("it cannot have been made at {}: it is {} now", request.made, now));
  if (!agent.keeps) return refusal(ExitCode::findings, agent.name + " does not say how long it keeps once mixed; see its label");
  const std::int64_t age = *to - *from;
  const bool too_old = age * 60 > agent.keeps->seconds;
  text += row("age", fmt::format("{} h {:02} min at {}{}", age / 60, age % 60, now, too_old ? ": too old. Pour it away and mix a new one." : ""));
  return {too_old ? ExitCode::findings : ExitCode::fine, text + caution, ""};
}

Outcome show_file(const MixRequest& request, const Host& host, std::optional<Exact> volume) {
  const FilesOnDisk disk(request.file);
  const Compilation made = read(request.file, disk, host.today);
  if (made.unreadable) return {ExitCode::file_trouble, "", diagnostics::as_text(made.findings, made.files, {})};
  if (!made.protocol || diagnostics::count(made.findings).errors > 0)
    return {ExitCode::findings, "", diagnostics::as_text(made.findings, made.files, {}) + "stepward: what was found has to be mended first\n"};
  std::vector<const model::Agent*> mixed;
  for (const model::Agent& agent : made.protocol->agents) {
    if (agent.recipe && (request.agent.empty() || agent.name == request.agent)) mixed.push_back(&agent);
  }
  if (mixed.empty()) {
    return refusal(ExitCode::wrong_use, request.agent.empty() ? request.file + " mixes nothing"
                                                              : fmt::format("{} mixes nothing called \"{}\"", request.file, request.agent));
  }
  std::string text;
  for (const model::Agent* agent : mixed) text += (text.empty() ? "" : "\n") + entry_of(*agent, volume);
  if (request.made.empty()) return {ExitCode::fine, text + caution, ""};
  if (mixed.size() > 1) return refusal(ExitCode::wrong_use, "say which of the mixtures was made then: --agent NAME");
  return judge_age(*mixed.front(), request, host, std::move(text));
}

}  // namespace

Outcome mix_command(const MixRequest& request, const Host& host) {
  const auto volume = request.volume.empty() ? std::nullopt : volume_of(request.volume);
  if (!request.volume.empty() && !volume) return refusal(ExitCode::wrong_use, no_volume);
  if (!request.file.empty()) {
    if (!request.from.empty() || !request.recipe.empty()) return refusal(ExitCode::wrong_use, "a file says itself what is mixed from what");
    return show_file(request, host, volume);
  }
  if (request.from.empty()) return refusal(ExitCode::wrong_use, "say what it is made from, such as --from \"5 percent\", or name a file");
  if (!request.recipe.empty()) return judge_recipe(request, volume);
  if (request.wanted.empty()) return refusal(ExitCode::wrong_use, "say what is wanted, such as --wanted \"0.5 percent\", or give a --recipe");
  return show_way(request, volume);
}

}  // namespace stepward::driver
