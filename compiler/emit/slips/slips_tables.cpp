// The table of slips as csv (RFC 4180) and as json.

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "emit/slips/csv.hpp"
#include "emit/slips/slip_words.hpp"
#include "emit/slips/slips.hpp"
#include "wording/slips.hpp"

namespace stepward::emit {
namespace {

using nlohmann::ordered_json;

std::uint32_t line_number(const source::Files& files, source::Span at) { return files.position(at.file, at.begin).line; }

ordered_json story_of(const slips::Harm& harm) {
  ordered_json lines = ordered_json::array();
  for (const diagnostics::StoryLine& line : harm.story) lines.push_back({{"step", line.step}, {"text", line.text}});
  return lines;
}

ordered_json of_harm(const slips::Table& table, const source::Files& files, const slips::Harm& harm) {
  return {{"code", diagnostics::code_name(harm.code)}, {"consequence", slips::consequence_name(harm.consequence)},
          {"file", files.path(harm.at.file)}, {"line", line_number(files, harm.at)}, {"step", harm.step},
          {"headline", harm.headline}, {"steps", harm.steps}, {"variant", table.variants[harm.variant]}, {"story", story_of(harm)}};
}

ordered_json of_row(const slips::Table& table, const source::Files& files, const slips::Row& row) {
  ordered_json out{{"file", files.path(row.at.file)}, {"line", line_number(files, row.at)}, {"steps", row.steps},
                   {"does", row.line}, {"slip", slip_name(row)}, {"guide_word", wording::guide_word(row.key.kind)}};
  if (!row.look.empty()) out["look"] = row.look;
  out["outcome"] = outcome_name(row.outcome);
  if (row.harm) out["harm"] = of_harm(table, files, *row.harm);
  if (row.outcome == slips::Outcome::harm) out["open"] = table.is_open(row);
  if (row.same_as) out["same_as"] = *row.same_as;
  if (row.answer) out["answer"] = *row.answer;
  ordered_json caught = ordered_json::array();
  for (const slips::Catch& c : row.caught)
    caught.push_back({{"by", catch_name(c.by)}, {"file", files.path(c.at.file)}, {"line", line_number(files, c.at)}, {"step", c.step}, {"words", c.words}});
  out["caught"] = std::move(caught);
  out["breaks"] = row.breaks;
  ordered_json variants = ordered_json::array();
  for (std::size_t v : row.variants) variants.push_back(table.variants[v]);
  out["variants"] = std::move(variants);
  return out;
}

ordered_json of_answer(const source::Files& files, const slips::AnsweredFor& answer) {
  const model::AnsweredSlip& said = answer.said;
  ordered_json kinds = ordered_json::array(), unneeded = ordered_json::array();
  for (const graph::SlipKind kind : said.kinds) kinds.push_back(wording::slip_name(kind));
  for (const slips::AnsweredFor::Unneeded& each : answer.unneeded)
    unneeded.push_back({{"slip", each.kind ? std::string(wording::slip_name(*each.kind)) : "every slip"}, {"why", each.why}});
  return {{"file", files.path(said.span.file)}, {"line", line_number(files, said.span)}, {"slips", std::move(kinds)}, {"every_slip", said.kinds.empty()},
          {"at", said.line}, {"place", said.place}, {"reason", said.agreement.reason}, {"agreed_by", said.agreement.by.name}, {"office", said.agreement.by.office},
          {"ends_on", said.agreement.until}, {"over", said.is_over}, {"answers", answer.harms}, {"not_needed", std::move(unneeded)}};
}

/// How far the limit let the search come: by slips a run, at how many of how many places.
ordered_json reach_of(const slips::Table& table) {
  ordered_json orders = ordered_json::array();
  for (std::size_t k = 0; k < table.at_once; ++k) orders.push_back({{"slips", k + 1}, {"places_done", table.reach[k].done}, {"places", table.reach[k].of}});
  return {{"limit", table.limit}, {"variants_not_walked", table.not_walked}, {"by_slips_a_run", std::move(orders)}};
}

/// The columns that tell what is said of a row.
std::vector<std::string> answer_cells(const slips::Table& table, const slips::Row& row) {
  if (!row.answer) return {"", "", ""};
  const model::AnsweredSlip& said = table.answers[*row.answer].said;
  return {answer_standing(said), said.agreement.reason, answered_by(said)};
}

}  // namespace

std::string slips_as_csv(const slips::Table& table, const source::Files& files) {
  std::string out = csv_row({"file", "line", "steps", "does", "slip", "guide word", "look", "outcome", "consequence", "harm", "harm at line", "harm at step", "caught by", "breaks", "variants", "answered", "answer", "answered by"});
  for (const slips::Row& row : table.rows) {
    std::vector<std::string> caught, variants;
    for (const slips::Catch& c : row.caught) caught.push_back(c.step.empty() ? catch_name(c.by) : fmt::format("{} ({})", catch_name(c.by), c.step));
    for (std::size_t v : row.variants) variants.push_back(table.variants[v]);
    const std::string line = std::to_string(line_number(files, row.at));
    std::vector<std::string> cells{files.path(row.at.file), line, fmt::format("{}", fmt::join(row.steps, " ")), row.line, slip_name(row),
                    std::string(wording::guide_word(row.key.kind)), row.look, outcome_name(row.outcome),
                    row.harm ? std::string(slips::consequence_name(row.harm->consequence)) : "", row.harm ? row.harm->headline : "",
                    row.harm ? std::to_string(line_number(files, row.harm->at)) : "", row.harm ? row.harm->step : "",
                    fmt::format("{}", fmt::join(caught, "; ")), fmt::format("{}", fmt::join(row.breaks, " ")), fmt::format("{}", fmt::join(variants, "; "))};
    for (std::string& cell : answer_cells(table, row)) cells.push_back(std::move(cell));
    out += csv_row(cells);
  }
  return out;
}

std::string slips_as_json(const slips::Table& table, const source::Files& files) {
  ordered_json rows = ordered_json::array(), pairs = ordered_json::array(), triples = ordered_json::array(), answers = ordered_json::array();
  for (const slips::AnsweredFor& answer : table.answers) answers.push_back(of_answer(files, answer));
  for (const slips::Row& row : table.rows) rows.push_back(of_row(table, files, row));
  for (const slips::Pair& p : table.pairs)
    pairs.push_back({{"first", p.first}, {"second", p.second}, {"confirm_not_made", p.first == p.second}, {"harm", of_harm(table, files, p.harm)}});
  for (const slips::Triple& t : table.triples)
    triples.push_back({{"first", t.first}, {"second", t.second}, {"third", t.third}, {"confirm_not_made", t.with_confirm()}, {"harm", of_harm(table, files, t.harm)}});
  ordered_json out{{"format", "stepward-slips"}, {"version", 1}, {"complete", table.complete}, {"at_once", table.at_once},
                   {"assumptions", what_was_tried(table)}, {"variants", table.variants}, {"states", table.states}, {"states_off", table.states_off},
                   {"slips", std::move(rows)}, {"answers", std::move(answers)}, {"pairs", std::move(pairs)}, {"pairs_with_a_third", table.held_by_confirms}};
  if (table.at_once > 2) {
    out["triples"] = std::move(triples);
    out["sets_with_a_fourth"] = table.held_by_more;
  }
  if (!table.complete) out["reached"] = reach_of(table);
  return out.dump(2) + "\n";
}

}  // namespace stepward::emit
