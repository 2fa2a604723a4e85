#include "driver/verdict_text.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "driver/registers.hpp"
#include "model/variants.hpp"
#include "wording/amounts.hpp"

namespace stepward::driver {

using wording::Phrase;
using wording::phrase;

namespace {

std::string number_of(std::uint64_t count, const char* one, const char* several) {
  return fmt::format("{} {}", grouped(count), count == 1 ? one : several);
}

/// "17 of "Leaving in layers" version 1.0, 6 of …", in the order in which the files were read.
std::string rules_by_pack(const model::Protocol& protocol) {
  std::string list;
  for (std::uint32_t pack = 0; pack < protocol.packs.size(); ++pack) {
    const auto count = std::count_if(protocol.rules.begin(), protocol.rules.end(),
                                     [&](const model::Rule& rule) { return rule.pack == pack; });
    if (count == 0) continue;
    if (!list.empty()) list += ", ";
    list += pack == 0 ? fmt::format("{} of its own", count)
                      : fmt::format("{} of \"{}\"{}{}", count, protocol.packs[pack].title,
                                    protocol.packs[pack].version.empty() ? "" : " version ", protocol.packs[pack].version);
  }
  return list;
}

std::string scope(const Compilation& made, const Asked& asked) {
  const std::size_t all = model::all_variants(*made.protocol).size();
  std::string what;
  if (!asked.only.empty()) what = fmt::format("looked at {} only (1 of {} variants)", asked.only, all);
  if (!asked.interruptions) what += what.empty() ? "looked at runs without interruptions only" : ", without interruptions";
  if (what.empty()) what = made.verdict.complete ? "checked" : "not checked to the end";
  return what;
}

std::string headline(const Compilation& made, const Asked& asked) {
  return fmt::format("{} against {} and the touches, covers and places declared in {}: {}\n", scope(made, asked),
                     rules_counted(made),
                     number_of(made.loaded.files.size(), "file", "files"),
                     made.verdict.complete ? "complete" : fmt::format("not complete, a walk came to its limit (--limit {})", asked.limit));
}

std::string numbers(const Compilation& made) {
  const check::Verdict& verdict = made.verdict;
  return fmt::format("  walked  {}, {}, {}, {}, longest {}, {:.2f} s\n",
                     number_of(verdict.walks.size(), "variant", "variants"), number_of(verdict.states(), "state", "states"),
                     number_of(verdict.transitions(), "transition", "transitions"), counted_paths(verdict.paths()),
                     number_of(verdict.longest(), "step", "steps"),
                     made.timings.read + made.timings.build + made.timings.walk);
}

/// "pairs with "Dressing" version 2.0: 6 variants compared".
std::string pairs(const Compilation& made) {
  std::string text;
  for (const Partner& partner : made.partners) {
    if (!partner.protocol) continue;
    const model::DocumentControl& entry = partner.protocol->document;
    text += fmt::format("  pairs   with \"{}\"{}{}: {} compared\n", entry.title, entry.version.empty() ? "" : " version ",
                        entry.version, number_of(partner.compared, "variant", "variants"));
  }
  return text;
}

std::vector<std::string> coverage_rows(const Compilation& made) {
  std::vector<std::string> rows;
  for (const Coverage& each : made.covered) {
    rows.push_back(fmt::format("{}: {} of {} papers", each.language, each.complete == each.papers ? "all" : std::to_string(each.complete), each.papers));
  }
  return rows;
}

/// "words   Spanish: all of 26 papers".
std::string words_covered(const Compilation& made) {
  std::string text;
  for (const std::string& row : coverage_rows(made)) text += "  words   " + row + '\n';
  return text;
}

std::string stages(const Compilation& made) {
  std::string text = fmt::format("times:\n  read and parse  {:.3f} s\n  resolve         {:.3f} s\n  walk            {:.3f} s\n",
                                 made.timings.read, made.timings.build, made.timings.walk);
  for (const check::VariantWalk& walk : made.verdict.walks) {
    text += fmt::format("  {}: {} of {} bytes, {}\n", walk.name.empty() ? "the only variant" : walk.name,
                        number_of(walk.states, "state", "states"), walk.state_bytes,
                        number_of(walk.transitions, "transition", "transitions"));
  }
  return text;
}

/// "3 of 3 pair inner gloves": what is listed, with the most that a run of any variant uses.
std::vector<std::string> stock_of(const Compilation& made) {
  struct Row { check::Kept thing; std::uint32_t needed = 0, given = 0; bool listed = false; };
  std::vector<Row> rows;
  for (const check::VariantWalk& walk : made.verdict.walks) {
    for (const check::StockNeed& need : walk.stock) {
      auto row = std::find_if(rows.begin(), rows.end(), [&](const Row& each) { return each.thing == need.thing; });
      if (row == rows.end()) row = rows.insert(rows.end(), Row{need.thing});
      row->needed = std::max(row->needed, need.needed);
      row->given = std::max(row->given, need.given);
      row->listed = row->listed || need.listed;
    }
  }
  std::vector<std::string> words;
  for (const Row& row : rows) {
    const std::string unit = check::kept_unit(*made.protocol, row.thing);
    words.push_back(fmt::format("{}{} {}{}{}", row.needed, row.listed ? fmt::format(" of {}", row.given) : "", unit, unit.empty() ? "" : " ",
                                check::kept_name(*made.protocol, row.thing)));
  }
  return words;
}

std::string stock_text(const Compilation& made) {
  if (made.protocol->stock.empty()) return {};
  std::string text;
  for (const std::string& row : stock_of(made)) text += (text.empty() ? "" : ", ") + row;
  return text.empty() ? text : "  stock   at most " + text + '\n';
}

std::string walked(const Compilation& made, const Asked& asked) {
  std::string text = headline(made, asked);
  if (const std::string rules = rules_by_pack(*made.protocol); !rules.empty()) text += "  rules   " + rules + '\n';
  text += pairs(made) + words_covered(made) + numbers(made) + stock_text(made) + "assumptions:\n";
  for (const std::string& assumption : made.verdict.assumptions) text += "  " + assumption + '\n';
  return text + registers_text(made);
}

/// Why there is no walk to tell of.
std::string not_walked(const Compilation& made) {
  if (made.unreadable) return {};
  if (!made.protocol) return "no run was walked: what was found above has to be mended first\n";
  return fmt::format("read to the end; a file of kind \"{}\" has no steps to walk\n", made.kind());
}

}  // namespace

std::string grouped(std::uint64_t number) { return wording::grouped(std::to_string(number)); }

std::string counted_runs(double runs) {
  if (runs < 1e6) return grouped(static_cast<std::uint64_t>(runs));
  int tens = 0;
  while (runs >= 9.95) {
    runs /= 10;
    ++tens;
  }
  return fmt::format("{:.1f}e{}", runs, tens);
}

std::string counted_paths(double paths) { return counted_runs(paths) + (paths == 1 ? " path" : " paths"); }

std::string counted(const diagnostics::Counts& counts) {
  return fmt::format("{}, {}, {}", number_of(counts.errors, "error", "errors"),
                     number_of(counts.warnings, "warning", "warnings"), number_of(counts.notes, "note", "notes"));
}

std::string verdict_text(const Compilation& made, const Asked& asked, bool with_stages) {
  return (made.walked ? walked(made, asked) : not_walked(made)) + (with_stages ? stages(made) : "") +
         counted(diagnostics::count(made.findings)) + '\n';
}

std::vector<std::pair<std::string, diagnostics::Fact>> verdict_facts(const Compilation& made, const Asked& asked,
                                                                     bool with_times) {
  using diagnostics::Fact;
  std::vector<std::pair<std::string, Fact>> facts;
  facts.emplace_back("kind", made.kind());
  facts.emplace_back("walked", made.walked);
  if (made.walked) {
    const check::Verdict& verdict = made.verdict;
    facts.emplace_back("checked", asked.is_whole() && verdict.complete);
    facts.emplace_back("complete", verdict.complete);
    facts.emplace_back("scope", scope(made, asked));
    facts.emplace_back("rules", static_cast<std::int64_t>(made.protocol->rules.size()));
    std::vector<std::string> names;
    for (const check::VariantWalk& walk : verdict.walks) names.push_back(walk.name);
    facts.emplace_back("variants", std::move(names));
    std::vector<std::string> entries;
    for (const Partner& partner : made.partners) entries.push_back(partner.said.named);
    facts.emplace_back("pairs_with", std::move(entries));
    facts.emplace_back("words", coverage_rows(made));
    facts.emplace_back("states", static_cast<std::int64_t>(verdict.states()));
    facts.emplace_back("transitions", static_cast<std::int64_t>(verdict.transitions()));
    facts.emplace_back("paths", verdict.paths());
    facts.emplace_back("longest", static_cast<std::int64_t>(verdict.longest()));
    facts.emplace_back("stock", stock_of(made));
    facts.emplace_back("assumptions", verdict.assumptions);
    facts.emplace_back("set_aside", set_aside_rows(made));
    facts.emplace_back("local_changes", local_change_rows(made));
    facts.emplace_back("answered_slips", answered_slip_rows(made));
  }
  if (with_times) {
    facts.emplace_back("seconds_read", made.timings.read);
    facts.emplace_back("seconds_resolve", made.timings.build);
    facts.emplace_back("seconds_walk", made.timings.walk);
  }
  return facts;
}

std::string counted_as(const model::Tongue& tongue, std::uint64_t count, Phrase one, Phrase several) {
  return count == 1 ? phrase(tongue, one) : phrase(tongue, several, {{"count", grouped(count)}});
}

namespace {

/// "; weak points marked", where they are.
std::string weak_points_marked(const Compilation& made, const model::Tongue& tongue) {
  if (made.weak_points.empty()) return {};
  const bool all = std::all_of(made.weak_points.begin(), made.weak_points.end(), [](const auto& of) { return of.second.complete; });
  return "; " + phrase(tongue, all ? Phrase::weak_points_marked : Phrase::weak_points_marked_in_part);
}

}  // namespace

std::string verdict_for_paper(const Compilation& made, const model::Tongue& tongue) {
  const std::size_t errors = diagnostics::count(made.findings).errors;
  if (errors > 0) return counted_as(tongue, errors, Phrase::one_error_found, Phrase::errors_found);
  const std::string variants = counted_as(tongue, made.verdict.walks.size(), Phrase::one_variant, Phrase::variants);
  const std::string states = counted_as(tongue, made.verdict.states(), Phrase::one_state, Phrase::states);
  return phrase(tongue, made.verdict.complete ? Phrase::checked_against : Phrase::not_checked_to_the_end,
                {{"rules", rules_counted(made, tongue)}, {"variants", variants}, {"states", states}}) +
         weak_points_marked(made, tongue);
}

}  // namespace stepward::driver
