#include "slips/answers.hpp"

#include <algorithm>

#include "model/blocks.hpp"
#include "wording/slips.hpp"

namespace stepward::slips {
namespace {

using graph::SlipKind;

/// The rows of the line that an answer is about.
std::vector<std::size_t> rows_of_line(const model::Protocol& protocol, const model::AnsweredSlip& said, const Table& table) {
  const source::Span line = protocol[said.lines.front()].span;
  std::vector<std::size_t> rows;
  for (std::size_t i = 0; i < table.rows.size(); ++i)
    if (table.rows[i].at.file == line.file && table.rows[i].at.begin == line.begin) rows.push_back(i);
  return rows;
}

/// Why there is no harm, by the worst of its rows.
std::string why_no_harm(const std::vector<const Row*>& rows) {
  if (rows.empty()) return "no such slip is tried at that line";
  const auto comes_to = [&](Outcome outcome) { return std::any_of(rows.begin(), rows.end(), [&](const Row* row) { return row->outcome == outcome; }); };
  if (comes_to(Outcome::caught)) return "it is caught before harm";
  return comes_to(Outcome::harmless) ? "it is harmless in the model" : "that line moves nothing that the model knows";
}

class Layer {
 public:
  Layer(const model::Protocol& protocol, const Options& options, Table& table) : protocol_(protocol), options_(options), table_(table) {}

  void run() {
    for (const model::AnsweredSlip& said : protocol_.answered_slips) {
      table_.answers.push_back({said, 0, {}});
      for (const std::size_t i : rows_of_line(protocol_, said, table_)) give(table_.rows[i]);
    }
    const bool all_tried = table_.complete && !options_.only_variant;
    for (std::size_t at = 0; at < table_.answers.size(); ++at)
      if (all_tried && was_tried(table_.answers[at].said)) look_for_unneeded(at);
  }

 private:
  void give(Row& row) {
    AnsweredFor& answer = table_.answers.back();
    if (row.outcome != Outcome::harm || !answer.said.is_about(row.key.kind)) return;
    row.answer = table_.answers.size() - 1;
    ++answer.harms;
  }

  /// What stands only behind an interruption is tried only with interruptions.
  bool was_tried(const model::AnsweredSlip& said) const {
    if (options_.interruptions) return true;
    std::vector<model::BlockId> struck;
    for (const model::Interruption& each : protocol_.interruptions) struck.push_back(each.block);
    const std::vector<bool> within = model::blocks_within(protocol_, struck);
    std::vector<bool> behind(protocol_.lines.size(), false);
    for (std::size_t b = 0; b < within.size(); ++b)
      for (const model::Statement& statement : protocol_.blocks[b].statements)
        if (within[b] && statement.line) behind[statement.line.value] = true;
    return std::any_of(said.lines.begin(), said.lines.end(), [&](model::LineId line) { return !behind[line.value]; });
  }

  void look_for_unneeded(std::size_t at) const {
    AnsweredFor& answer = table_.answers[at];
    std::vector<const Row*> rows;
    for (const std::size_t i : rows_of_line(protocol_, answer.said, table_)) rows.push_back(&table_.rows[i]);
    if (answer.said.kinds.empty() && answer.harms == 0) answer.unneeded.push_back({std::nullopt, why_no_harm(rows), {}});
    for (const SlipKind kind : answer.said.kinds) {
      std::vector<const Row*> of_kind;
      std::copy_if(rows.begin(), rows.end(), std::back_inserter(of_kind), [&](const Row* row) { return row->key.kind == kind; });
      const bool harms = std::any_of(of_kind.begin(), of_kind.end(), [](const Row* row) { return row->outcome == Outcome::harm; });
      if (!harms) answer.unneeded.push_back({kind, why_no_harm(of_kind), better_kinds(rows, at)});
    }
  }

  /// What the answer could say instead: the slips that it does answer, or else those of the line that nobody answers for.
  static std::vector<SlipKind> better_kinds(const std::vector<const Row*>& rows, std::size_t answer) {
    const auto harmful = [&](std::optional<std::size_t> said) {
      std::vector<SlipKind> kinds;
      for (const SlipKind kind : model::all_slip_kinds)
        if (std::any_of(rows.begin(), rows.end(), [&](const Row* row) { return row->key.kind == kind && row->outcome == Outcome::harm && row->answer == said; })) kinds.push_back(kind);
      return kinds;
    };
    const std::vector<SlipKind> kept = harmful(answer);
    return kept.empty() ? harmful(std::nullopt) : kept;
  }

  const model::Protocol& protocol_;
  const Options& options_;
  Table& table_;
};

}  // namespace

void lay_answers(const model::Protocol& protocol, const Options& options, Table& table) { Layer(protocol, options, table).run(); }

diagnostics::Sink answers_not_needed(const Table& table) {
  diagnostics::Sink found;
  for (const AnsweredFor& answer : table.answers) {
    for (const AnsweredFor::Unneeded& each : answer.unneeded) {
      const auto slips = each.kind ? std::vector{*each.kind} : std::vector<SlipKind>{};
      auto finding = diagnostics::make(diagnostics::Code::S201, answer.said.span, {wording::slips_said(slips), answer.said.line, each.why});
      if (!each.near.empty()) finding.fix = "answer to slip " + wording::slips_said(each.near) + " at " + answer.said.line + " in \"" + answer.said.place + "\"";
      found.push_back(std::move(finding));
    }
  }
  return found;
}

}  // namespace stepward::slips
