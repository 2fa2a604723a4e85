#include "mend/costs.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "check/clocks.hpp"
#include "graph/from_model.hpp"
#include "model/variants.hpp"

namespace stepward::mend {
namespace {

class Reckoner {
 public:
  explicit Reckoner(const Mend& mend) : mend_(mend), p_(*mend.seen.protocol) { find_lines(); }

  Costs reckon() const {
    Costs out;
    out.steps = std::int64_t(mend_.longest_after) - std::int64_t(mend_.longest_before);
    if (lines_.empty()) return out;
    for (const model::Variant& variant : model::all_variants(p_)) out.seconds = std::max(out.seconds, seconds_in(variant));
    for (const check::VariantWalk& walk : mend_.seen.verdict.walks) add_uses(walk, out.uses);
    return out;
  }

 private:
  bool is_new(source::Span at) const {
    const auto text = mend_.texts.find(mend_.seen.files.path(at.file));
    if (text == mend_.texts.end()) return false;
    const std::uint32_t line = mend_.seen.files.position(at.file, at.begin).line;
    return line <= text->second.size() && text->second[line - 1].origin == 0;
  }

  /// The lines that were written, and those that a call does whatever is found.
  void find_lines() {
    std::vector<model::BlockId> calls;
    const auto note = [&](const model::Statement& s) {
      if (s.line) lines_.insert(s.line);
      if (s.what == model::Statement::What::call) calls.push_back(s.block);
    };
    for (const model::Block& block : p_.blocks)
      for (const model::Statement& s : block.statements)
        if (is_new(s.line ? p_[s.line].span : s.span)) note(s);
    for (std::size_t next = 0; next < calls.size(); ++next)
      for (const model::Statement& s : p_[calls[next]].statements) note(s);
  }

  std::uint32_t seconds_in(const model::Variant& variant) const {
    const graph::Graph graph = graph::from_model(p_, variant, graph::Contexts::apart);
    const auto times = check::line_times(p_, graph);
    std::map<std::uint32_t, std::uint32_t> by_place;  // a routine's line stands once for each call
    for (std::size_t n = 0; n < graph.nodes.size(); ++n) {
      const model::LineId line = graph.nodes[n].line;
      if (!line || !lines_.count(line)) continue;
      std::uint32_t& most = by_place[p_[line].span.begin];
      most = std::max(most, times[n].least);
    }
    std::uint32_t sum = 0;
    for (const auto& [place, seconds] : by_place) sum += seconds;
    return sum;
  }

  void add_uses(const check::VariantWalk& walk, std::vector<Use>& uses) const {
    for (const check::StockNeed& need : walk.stock) {
      Use use{check::kept_name(p_, need.thing), check::kept_unit(p_, need.thing), 0, need.needed, need.given, need.listed};
      for (const check::StockUse& one : need.uses)
        if (lines_.count(one.line)) use.by_these += one.count * one.times;
      if (use.by_these == 0) continue;
      const auto known = std::find_if(uses.begin(), uses.end(), [&](const Use& other) { return other.name == use.name; });
      if (known == uses.end()) uses.push_back(std::move(use));
      else if (use.needed > known->needed) *known = std::move(use);
    }
  }

  const Mend& mend_;
  const model::Protocol& p_;
  std::set<model::LineId> lines_;
};

}  // namespace

Costs costs_of(const Mend& mend) { return Reckoner(mend).reckon(); }

}  // namespace stepward::mend
