#include "order/settle.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <set>
#include <tuple>

#include <fmt/format.h>

#include "order/collide.hpp"
#include "order/compare.hpp"
#include "wording/messages.hpp"

namespace stepward::order {
namespace {

using diagnostics::Code;
using Outcome = Settled::Outcome;

constexpr Breaches everything = ~Breaches(0);

/// All runs whose order is open; calls of one routine follow one order.
std::vector<Run> runs_of(const model::Protocol& protocol) {
  std::vector<Run> out;
  std::vector<std::tuple<std::uint32_t, std::uint32_t, std::uint32_t>> known;  // by order: where it stands, and how many lines
  for (const model::OpenOrder& open : protocol.open_orders) {
    if (open.count < 2) continue;
    const std::tuple key{open.span.file.value, open.span.begin, open.count};
    const auto at = static_cast<std::size_t>(std::find(known.begin(), known.end(), key) - known.begin());
    if (at == known.size()) known.push_back(key);
    out.push_back({open.block, open.first, open.count, static_cast<std::uint32_t>(at)});
  }
  return out;
}

std::vector<std::uint8_t> as_written(std::size_t lines) {
  std::vector<std::uint8_t> out(lines);
  std::iota(out.begin(), out.end(), std::uint8_t(0));
  return out;
}

class Settling {
 public:
  Settling(model::Protocol& protocol, const Options& options, const source::Files& files, diagnostics::Sink& sink)
      : protocol_(protocol), options_(options), files_(files), sink_(sink), runs_(runs_of(protocol)) {}

  std::vector<Settled> run() {
    if (runs_.empty()) return {};
    introduce();
    const Orders orders = open_walk(protocol_, runs_, {false, options_.limit, options_.workers});
    for (Settled& s : settled_) s.states = orders.states;
    if (orders.complete) search(orders);
    else stay(Outcome::not_all_tried, fmt::format("the search was stopped at {} situations of one variant", number_of_orders(static_cast<double>(options_.limit))));
    return std::move(settled_);
  }

 private:
  void introduce() {
    for (const Run& run : runs_) {
      if (run.order < settled_.size()) continue;
      Settled s;
      const auto& statements = protocol_[run.block].statements;
      for (std::uint32_t i = 0; i < run.count; ++i) s.lines.push_back(statements[run.first + i].span);
      const auto is_it = [&](const model::OpenOrder& o) { return o.block == run.block && o.first == run.first && o.count == run.count; };
      s.span = std::find_if(protocol_.open_orders.begin(), protocol_.open_orders.end(), is_it)->span;
      s.order = as_written(run.count);
      settled_.push_back(std::move(s));
    }
  }

  void search(const Orders& orders) {
    const Search all(orders, everything);
    if (!all.is_complete()) return stay(Outcome::not_all_tried, "there are too many ways to combine what was found with what is done");
    if (all.kept() == 0) return none_keeps(orders, all);
    const Chosen chosen = choose(protocol_, runs_, all, orders.has_clocks, options_);
    if (!chosen.found) return stay(Outcome::not_all_tried, fmt::format("{} orders were walked, and each breaks a bound on time", chosen.walked));
    put_into_place(protocol_, runs_, chosen.order);
    for (std::uint32_t o = 0; o < settled_.size(); ++o) tell(orders, chosen, o);
  }

  /// The others as they were found: what is said of one block holds by itself.
  void tell(const Orders& orders, const Chosen& chosen, std::uint32_t o) {
    Settled& s = settled_[o];
    const bool reached = std::any_of(orders.situations.begin(), orders.situations.end(), [&](const Situation& at) { return at.order == o; });
    if (!reached) { s.outcome = Outcome::never_reached; return; }
    Choice others = chosen.order;
    others[o].clear();
    const Search alone(orders, everything, std::move(others));
    s.order = chosen.order[o];
    s.all = alone.all();
    s.kept = alone.kept();
    s.clocks_open = orders.has_clocks;
    s.compared = chosen.compared;
    s.weak_points = chosen.weak_points;
    s.most_weak_points = chosen.most_weak_points;
    refuse(s, orders, alone);
    sink_.push_back(diagnostics::make(Code::F118, s.span, {std::to_string(s.lines.size()), order_in_words(s), others_in_words(s)}));
  }

  void refuse(Settled& s, const Orders& orders, const Search& search) const {
    for (const Rejection& r : search.rejections())
      s.refused.push_back({orders.breaches[r.breach], settled_[r.order].lines[r.line], r.orders});
  }

  /// "lines 14, 12, 13", by the lines of the source.
  std::string order_in_words(const Settled& s) const {
    std::string out = "lines ";
    for (std::size_t i = 0; i < s.order.size(); ++i)
      out += fmt::format("{}{}", i == 0 ? "" : ", ", files_.position(s.lines[s.order[i]].file, s.lines[s.order[i]].begin).line);
    return out;
  }

  static std::string others_in_words(const Settled& s) {
    const std::string at_most = s.clocks_open ? "at most " : "";
    if (s.kept < 2) return fmt::format("no other order of {} is allowed by the rules", number_of_orders(s.all));
    return fmt::format("{}{} other {} of {} {} allowed by the rules, too", at_most, number_of_orders(s.kept - 1), s.kept == 2 ? "order" : "orders",
                       number_of_orders(s.all), s.kept == 2 ? "is" : "are");
  }

  void stay(Outcome outcome, const std::string& why) {
    for (Settled& s : settled_) {
      s.outcome = outcome;
      sink_.push_back(diagnostics::make(Code::F117, s.span, {std::to_string(s.lines.size()), why}));
    }
  }

  /// Told at the block where the search ended: those before it have an order, as far as they alone are asked.
  void none_keeps(const Orders& orders, const Search& all) {
    for (Settled& s : settled_) s.outcome = Outcome::none_keeps;
    Settled& s = settled_[all.ended_at()];
    s.all = all.all();
    refuse(s, orders, all);
    const Orders advised = open_walk(protocol_, runs_, {true, options_.limit, options_.workers});
    if (advised.complete) s.collide = smallest_collision(advised);
    diagnostics::Diagnostic finding = diagnostics::make(Code::F116, s.span, {std::to_string(s.lines.size()), why_none(s)});
    for (const Breach& b : s.collide) finding.places.push_back({protocol_[b.rule].span, "this rule"});
    sink_.push_back(std::move(finding));
  }

  std::string why_none(const Settled& s) const {
    if (s.collide.empty()) {
      const std::string most = s.refused.empty() ? "" : ", most often: " + wording::headline(s.refused.front().breach.code, s.refused.front().breach.args);
      return "in every order something goes wrong" + most;
    }
    if (s.collide.size() == 1) return fmt::format("{} is broken in every order", protocol_[s.collide[0].rule].number);
    std::string rules;
    for (std::size_t i = 0; i < s.collide.size(); ++i) rules += (i == 0 ? "" : i + 1 == s.collide.size() ? " and " : ", ") + protocol_[s.collide[i].rule].number;
    return s.collide.size() == 2 ? fmt::format("{} cannot both be kept, though each alone can", rules) : fmt::format("{} cannot all be kept, though without any one of them the others can", rules);
  }

  model::Protocol& protocol_;
  const Options& options_;
  const source::Files& files_;
  diagnostics::Sink& sink_;
  std::vector<Run> runs_;
  std::vector<Settled> settled_;
};

}  // namespace

std::string number_of_orders(double orders) {
  if (orders > 9e15) return fmt::format("{:.2g}", orders);
  std::string digits = std::to_string(static_cast<std::uint64_t>(orders));
  for (std::size_t at = digits.size(); at > 3;) digits.insert(at -= 3, " ");
  return digits;
}

std::vector<Settled> settle(model::Protocol& protocol, const Options& options, const source::Files& files, diagnostics::Sink& sink) {
  return Settling(protocol, options, files, sink).run();
}

}  // namespace stepward::order
