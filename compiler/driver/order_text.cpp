#include "driver/order_text.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "diagnostics/render.hpp"
#include "wording/messages.hpp"

namespace stepward::driver {
namespace {

using diagnostics::Row;
using order::Refusal;
using order::Settled;
using Found = Settled::Outcome;

/// More reasons than this tell a reader nothing that the first did not.
constexpr std::size_t most_reasons = 8;

std::uint32_t number_of_line(const Compilation& made, source::Span span) { return made.files.position(span.file, span.begin).line; }

/// The line as it is written; of a block, its head.
std::string as_it_is_written(const Compilation& made, source::Span span) {
  const std::string whole(made.files.text(span));
  return whole.substr(0, whole.find('\n'));
}

std::string ordered_lines_text(const Compilation& made, const Settled& s) {
  std::string out;
  for (std::size_t i = 0; i < s.order.size(); ++i) {
    const source::Span span = s.lines[s.order[i]];
    out += fmt::format("  {:>2}  {}   (line {})\n", i + 1, as_it_is_written(made, span), number_of_line(made, span));
  }
  return out;
}

std::string allowed_text(const Settled& s) {
  const std::string all = order::number_of_orders(s.all);
  if (s.kept < 2) return fmt::format("The rules allow no other of {} orders.\n", all);
  const char* at_most = s.clocks_open ? "At most " : "";
  return fmt::format("{}{} other{} of {} orders {} allowed by the rules, too.\n", at_most, order::number_of_orders(s.kept - 1), s.kept == 2 ? "" : "s", all, s.kept == 2 ? "is" : "are");
}

std::string comparison_text(const Settled& s) {
  if (s.compared < 2) return "";
  const bool is_all = static_cast<double>(s.compared) >= s.kept;
  const std::string which = is_all ? "All of them" : fmt::format("{} of them, spread over all,", s.compared);
  const std::string range = s.weak_points == s.most_weak_points
                                ? fmt::format("each has {} weak points", s.weak_points)
                                : fmt::format("this one has {} weak points, the worst {}", s.weak_points, s.most_weak_points);
  return fmt::format("{} were tried with every slip: {}.\n", which, range);
}

std::string reason_of(const Compilation& made, const order::Breach& breach) {
  if (!breach.rule) return wording::headline(breach.code, breach.args);
  const model::Rule& rule = (*made.protocol)[breach.rule];
  return rule.number + " " + rule.name;
}

std::string refusals_text(const Compilation& made, const Settled& s) {
  if (s.refused.empty()) return "";
  std::string out = "Why others are not allowed, by what breaks first:\n";
  for (std::size_t i = 0; i < s.refused.size() && i < most_reasons; ++i) {
    const Refusal& r = s.refused[i];
    out += fmt::format("  {} order{}: {}\n", order::number_of_orders(r.orders), r.orders == 1 ? "" : "s", reason_of(made, r.breach));
    out += fmt::format("      at “{}” (line {})\n", as_it_is_written(made, r.line), number_of_line(made, r.line));
    if (r.breach.rule && !(*made.protocol)[r.breach.rule].because.empty()) out += fmt::format("      because {}\n", (*made.protocol)[r.breach.rule].because);
  }
  if (s.refused.size() > most_reasons) out += fmt::format("  and {} more reasons\n", s.refused.size() - most_reasons);
  return out;
}

std::string collision_text(const Compilation& made, const Settled& s) {
  if (s.collide.empty()) return "No order of these lines keeps what is asked.\n";
  std::string out = s.collide.size() == 1 ? "No order of these lines keeps this rule:\n" : "No order of these lines keeps these rules together, though without any one of them the others can be kept:\n";
  for (const order::Breach& b : s.collide) out += fmt::format("  {} (line {})\n", reason_of(made, b), number_of_line(made, (*made.protocol)[b.rule].span));
  return out;
}

std::string settled_text(const Compilation& made, const Settled& s) {
  std::string out = fmt::format("{}:{}  {} lines in any safe order\n", made.files.path(s.span.file), number_of_line(made, s.span), s.lines.size());
  switch (s.outcome) {
    case Found::found: return out + ordered_lines_text(made, s) + allowed_text(s) + comparison_text(s) + refusals_text(made, s);
    case Found::none_keeps: return out + collision_text(made, s) + refusals_text(made, s);
    case Found::not_all_tried: return out + "Not all orders were tried; the lines stay as they are written.\n";
    case Found::never_reached: return out + "No run comes here; the lines stay as they are written.\n";
  }
  return out;
}

constexpr const char* allowed_only =
    "An order is what the rules and the declared touches, covers and places allow, and no advice: a rule that nobody wrote down\n"
    "keeps no order out. Local policy, product labels and licensed practice decide.\n";

const char* settled_name(Found outcome) {
  switch (outcome) {
    case Found::found: return "found";
    case Found::none_keeps: return "none";
    case Found::not_all_tried: return "not all tried";
    case Found::never_reached: return "never reached";
  }
  return "";
}

Row row_of(const Compilation& made, const Settled& s) {
  std::vector<std::string> lines, collide;
  for (std::uint8_t i : s.order) lines.push_back(std::to_string(number_of_line(made, s.lines[i])));
  for (const order::Breach& b : s.collide) collide.push_back((*made.protocol)[b.rule].number);
  return {{{"file", made.files.path(s.span.file)}, {"line", std::int64_t(number_of_line(made, s.span))}, {"outcome", std::string(settled_name(s.outcome))}, {"order", lines},
           {"orders", s.all}, {"allowed", s.kept}, {"compared", std::int64_t(s.compared)}, {"weak_points", std::int64_t(s.weak_points)},
           {"most_weak_points", std::int64_t(s.most_weak_points)}, {"collide", collide}, {"states", std::int64_t(s.states)}}};
}

Row row_of(const Compilation& made, const Settled& s, const Refusal& r) {
  return {{{"block_line", std::int64_t(number_of_line(made, s.span))}, {"line", std::int64_t(number_of_line(made, r.line))}, {"orders", r.orders},
           {"rule", r.breach.rule ? (*made.protocol)[r.breach.rule].number : std::string()}, {"code", std::string(diagnostics::code_name(r.breach.code))},
           {"why", reason_of(made, r.breach)}}};
}

}  // namespace

std::string orders_as_text(const Compilation& made) {
  if (made.orders.empty()) return "nothing here stands in any safe order\n";
  std::string out;
  for (const Settled& s : made.orders) out += settled_text(made, s) + "\n";
  return out + allowed_only;
}

std::string orders_as_json(const Compilation& made) {
  std::vector<Row> orders, refused;
  for (const Settled& s : made.orders) {
    orders.push_back(row_of(made, s));
    for (const Refusal& r : s.refused) refused.push_back(row_of(made, s, r));
  }
  return diagnostics::as_json(made.findings, made.files, {{"blocks", std::move(orders)}, {"refused", std::move(refused)}, {"note", std::string(allowed_only)}});
}

}  // namespace stepward::driver
