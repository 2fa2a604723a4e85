#include "slip_deletions.hpp"

#include <algorithm>
#include <map>
#include <random>

#include <fmt/format.h>

#include "explorer.hpp"
#include "model/blocks.hpp"
#include "model/variants.hpp"
#include "rules/advice.hpp"
#include "slips/table.hpp"

namespace stepward::oracle {
namespace {

using slips::Outcome;
using slips::Row;

/// The statements of one line, which stand in one block: a call of a routine has lines of its own.
Protocol without(Protocol protocol, model::LineId line) {
  for (model::Block& block : protocol.blocks) std::erase_if(block.statements, [&](const model::Statement& s) { return s.what == model::Statement::What::line && s.line == line; });
  return protocol;
}

std::vector<bool> repeated_blocks(const Protocol& protocol) {
  std::vector<model::BlockId> bodies;
  for (const model::Block& block : protocol.blocks)
    for (const model::Statement& s : block.statements)
      if (s.what == model::Statement::What::repeat) bodies.push_back(s.block);
  return model::blocks_within(protocol, bodies);
}

bool is_wrong(const Finding& finding) {
  return diagnostics::default_severity(finding.code) == diagnostics::Severity::error && diagnostics::code_name(finding.code)[0] != 'R';
}

class Judge {
 public:
  Judge(const Protocol& protocol, const DeletionSample& sample) : protocol_(rules::with_rules_as_advice(protocol)), sample_(sample), variants_(model::all_variants(protocol)) {
    protocol_.interruptions.clear();
    const std::vector<bool> repeated = repeated_blocks(protocol_);
    for (std::size_t b = 0; b < protocol_.blocks.size(); ++b)
      for (const model::Statement& s : protocol_.blocks[b].statements)
        if (repeated[b] && s.what == model::Statement::What::line) repeated_.push_back(s.line);
  }

  DeletionCount run() {
    slips::Options options;
    options.workers = 1;
    const slips::Table table = slips::analyse(protocol_, options);
    for (const Row* row : chosen(table, Outcome::harm)) judge_harm(*row);
    for (const Row* row : chosen(table, Outcome::harmless)) judge_harmless(*row);
    return std::move(count_);
  }

 private:
  std::vector<const Row*> chosen(const slips::Table& table, Outcome outcome) const {
    std::vector<const Row*> out;
    for (const Row& row : table.rows)
      if (row.key.kind == graph::SlipKind::left_out && row.outcome == outcome) out.push_back(&row);
    std::shuffle(out.begin(), out.end(), std::mt19937_64(sample_.seed));
    if (out.size() > sample_.rows) out.resize(sample_.rows);
    return out;
  }

  /// The lines of a row, one for each call of its routine; none where one of them is repeated.
  std::vector<model::LineId> lines_of(const Row& row) {
    const std::vector<model::LineId> out(row.lines.begin(), row.lines.end());
    const auto is_repeated = [&](model::LineId line) { return std::find(repeated_.begin(), repeated_.end(), line) != repeated_.end(); };
    if (std::none_of(out.begin(), out.end(), is_repeated)) return out;
    ++count_.repeated;
    return {};
  }

  /// What the whole protocol comes to: random procedures have faults of their own.
  const Result& walk_with_all(std::size_t variant) {
    const auto [at, is_new] = whole_.try_emplace(variant);
    if (is_new) at->second = explore(protocol_, variants_[variant], sample_.most_states);
    return at->second;
  }

  Result walk_without(model::LineId line, std::size_t variant) {
    Result out = explore(without(protocol_, line), variants_[variant], sample_.most_states);
    const Result& whole = walk_with_all(variant);
    out.is_complete = out.is_complete && whole.is_complete;
    if (!out.is_complete) ++count_.given_up;
    return out;
  }

  void judge_harmless(const Row& row) {
    for (const model::LineId line : lines_of(row))
      for (const std::size_t variant : row.variants) {
        const Result walk = walk_without(line, variant);
        if (!walk.is_complete) continue;
        ++count_.harmless;
        for (const auto& [finding, steps] : walk.shortest)
          if (is_wrong(finding) && !walk_with_all(variant).shortest.count(finding)) count_.differs += fmt::format("  {} is called harmless, and without it: {} after {} steps\n", row.line, to_string(finding), steps);
      }
  }

  bool is_the_harm(const Finding& finding, const slips::Harm& harm) const {
    if (finding.code != harm.code) return false;
    const auto line = std::find_if(protocol_.lines.begin(), protocol_.lines.end(), [&](const Line& each) { return each.id == finding.where; });
    return line == protocol_.lines.end() || line->span == harm.at;
  }

  void judge_harm(const Row& row) {
    const std::vector<model::LineId> lines = lines_of(row);
    if (lines.empty()) return;
    ++count_.harms;
    for (const model::LineId line : lines) {
      const Result walk = walk_without(line, row.harm->variant);
      if (!walk.is_complete) return;
      if (std::any_of(walk.shortest.begin(), walk.shortest.end(), [&](const auto& entry) { return is_the_harm(entry.first, *row.harm); })) return;
    }
    count_.differs += fmt::format("  {} is told to lead to {} ({}), and without it this is not found\n", row.line, diagnostics::code_name(row.harm->code), row.harm->headline);
  }

  Protocol protocol_;
  DeletionSample sample_;
  std::vector<Variant> variants_;
  std::vector<model::LineId> repeated_;
  std::map<std::size_t, Result> whole_;  ///< by variant
  DeletionCount count_;
};

}  // namespace

DeletionCount judge_deletions(const Protocol& protocol, const DeletionSample& sample) { return Judge(protocol, sample).run(); }

}  // namespace stepward::oracle
