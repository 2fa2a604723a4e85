#include "promela.hpp"

#include <algorithm>
#include <set>
#include <vector>

#include <fmt/format.h>

namespace stepward::spin {
namespace {

using effects::Edge;
using effects::Edges;
using effects::FieldId;
using effects::GuardId;
using effects::Op;
using effects::OpKind;

class PromelaWriter {
 public:
  explicit PromelaWriter(const effects::System& system, const Slips* slips = nullptr) : system_(system), slips_(slips) {}

  std::string write() {
    declare();
    out_ += fmt::format("active proctype walk() {{\n  d_step {{ node = {};\n", system_.start.value);
    cross_from(system_.start.value);
    end_if_over();
    out_ += "  }\nend: do\n";
    for (std::uint32_t n = 0; n < system_.nodes.size(); ++n) {
      const Edges& node = system_.nodes[n];
      if (!node.may_be_struck) continue;
      for (std::uint32_t e = node.first; e < node.first + node.count; ++e) option(n, system_.edges[e]);
      for (std::uint32_t s = node.first_strike; s < node.first_strike + node.strike_count; ++s) strike(n, system_.strikes[s]);
    }
    out_ += "  od\n}\n";
    return std::move(out_);
  }

 private:
  static std::string name(FieldId f) { return fmt::format("f{}", f.value); }

  void declare() {
    const std::uint32_t ended = static_cast<std::uint32_t>(system_.nodes.size());
    out_ += fmt::format("#define ENDED {}\nc_decl {{ static unsigned char met[{}]; }}\n", ended, system_.reports.size() + 1);
    out_ += "short node;\nbit started;\nbit over;\n";
    if (slips_) out_ += "byte slips;\nbit seen;\n";
    for (std::uint32_t i = 0; i < system_.interruptions; ++i) out_ += fmt::format("short back{};\n", i);
    for (std::uint32_t f = 0; f < system_.fields.size(); ++f) {
      const effects::Field& field = system_.fields[f];
      if (field.scratch) out_ += fmt::format("byte f{};\n", f);
      else out_ += fmt::format("{} f{} = {};\n", field.maximum <= 1 ? "bit" : field.maximum < 256 ? "byte" : "short", f, field.initial);
    }
  }

  std::string guard(GuardId id) const {
    const auto& any = system_.guards[id.value].any;
    if (any.empty()) return "false";
    std::string all;
    for (const effects::Clause& clause : any) {
      std::string one;
      for (const effects::Test& t : clause) one += fmt::format("{}((({} >> {}) & 1) == 1)", one.empty() ? "" : " && ", t.allowed, name(t.field));
      all += fmt::format("{}({})", all.empty() ? "" : " || ", one.empty() ? "true" : one);
    }
    return "(" + all + ")";
  }

  // `met` is no part of a state: a report is printed once, however often it is met. Breadth first, the first time is at
  // the least depth, and every step of the walk is one step of the model.
  std::string effect(const Op& op) const {
    const std::string a = op.a ? name(op.a) : "", b = op.b ? name(op.b) : "";
    switch (op.kind) {
      case OpKind::set: return fmt::format("{} = {}", a, op.value);
      case OpKind::raise: return fmt::format("{0} = ({0} < {1} -> {1} : {0})", a, op.value);
      case OpKind::lift: return fmt::format("{0} = ({0} < {1} -> {1} : {0})", a, b);
      case OpKind::lift_suspect:
        return fmt::format("{0} = ({0} < ({1} > {2} -> {2} : {1}) -> ({1} > {2} -> {2} : {1}) : {0})", a, b, effects::kSuspect);
      case OpKind::copy: return fmt::format("{} = {}", a, b);
      case OpKind::report: {
        if (slips_) return report_of_slips(op.value);
        const bool cuts = system_.reports[op.value].severity == diagnostics::Severity::error;
        return first_meeting(op.value) + (cuts ? "; over = 1" : "");
      }
      case OpKind::moment:
      case OpKind::mark: break;
    }
    return "skip";
  }

  // Only the first report that ends a run is met; what stands behind it on the same edge is not.
  std::string report_of_slips(std::uint32_t report) const {
    if (!slips_->ends[report]) return "skip";
    return fmt::format("if :: over == 0 -> {}over = 1 :: else fi", slips_->is_told[report] ? first_meeting(report) + "; " : "");
  }

  static std::string first_meeting(std::uint32_t report) {
    return fmt::format("c_code {{ if (!met[{0}]) {{ met[{0}] = 1; printf(\"MET {0} %ld\\n\", (long) depth); }} }}", report);
  }

  void operations(const Edge& e) {
    std::set<std::uint32_t> scratch;
    for (std::uint32_t i = 0; i < e.op_count; ++i) {
      const Op& op = system_.ops[e.first_op + i];
      for (FieldId f : {op.a, op.b})
        if (f && system_.fields[f.value].scratch) scratch.insert(f.value);
      for (const effects::Clause& c : system_.guards[op.guard.value].any)
        for (const effects::Test& t : c)
          if (system_.fields[t.field.value].scratch) scratch.insert(t.field.value);
    }
    for (std::uint32_t i = 0; i < e.op_count; ++i) {
      const Op& op = system_.ops[e.first_op + i];
      if (op.kind == OpKind::moment || op.kind == OpKind::mark) continue;
      if (op.guard.value == 0) out_ += fmt::format("      {};\n", effect(op));
      else out_ += fmt::format("      if :: {} -> {} :: else fi;\n", guard(op.guard), effect(op));
    }
    // Breadth first, SPIN allows no variable outside of its states; scratch is empty again before a state is stored.
    for (std::uint32_t f : scratch) out_ += fmt::format("      f{} = 0;\n", f);
    if (e.ends) out_ += "      over = 1; node = ENDED;\n";
    else if (e.goes_back) out_ += fmt::format("      node = back{0} - 1; back{0} = 0;\n", e.goes_back.value);
    else out_ += fmt::format("      node = {};\n", e.target.value);
  }

  // Crossings are passed at once: of each the first edge that holds.
  void cross_from(std::uint32_t first) {
    std::vector<std::uint32_t> crossings, work{first};
    std::set<std::uint32_t> seen;
    while (!work.empty()) {
      const std::uint32_t n = work.back();
      work.pop_back();
      if (system_.nodes[n].may_be_struck || !seen.insert(n).second) continue;
      crossings.push_back(n);
      for (std::uint32_t e = system_.nodes[n].first; e < system_.nodes[n].first + system_.nodes[n].count; ++e)
        if (system_.edges[e].target) work.push_back(system_.edges[e].target.value);
    }
    if (crossings.empty()) return;
    out_ += "    do\n";
    for (std::uint32_t n : crossings) {
      out_ += fmt::format("    :: node == {} ->\n", n);
      cross(n);
    }
    out_ += "    :: else -> break\n    od;\n";
  }

  void cross(std::uint32_t n) {
    const Edges& node = system_.nodes[n];
    std::string close;
    for (std::uint32_t e = node.first; e < node.first + node.count; ++e) {
      out_ += fmt::format("      if :: {} ->\n", guard(system_.edges[e].guard));
      operations(system_.edges[e]);
      out_ += "      :: else ->\n";
      close += "      fi;\n";
    }
    out_ += "      over = 1; node = ENDED;\n" + close;
  }

  void end_if_over() {
    out_ += "    if :: over -> over = 0; started = 0; node = ENDED;";
    if (slips_) out_ += " slips = 0;";
    for (std::uint32_t i = 0; i < system_.interruptions; ++i) out_ += fmt::format(" back{} = 0;", i);
    for (std::uint32_t f = 0; f < system_.fields.size(); ++f)
      if (!system_.fields[f].scratch) out_ += fmt::format(" f{} = 0;", f);
    out_ += " :: else fi;\n";
  }

  void option(std::uint32_t n, const Edge& e) {
    const std::size_t number = static_cast<std::size_t>(&e - system_.edges.data());
    const bool is_way = slips_ && slips_->is_way[number];
    if (is_way && slips_->is_shut[number]) return;
    out_ += fmt::format("  :: d_step {{ (node == {} && {}{}) -> started = 1;\n", n, guard(e.guard), is_way ? fmt::format(" && slips < {}", slips_->budget) : "");
    if (is_way) out_ += "      slips = slips + 1;\n";
    const std::string seen = slips_ ? seen_on(number) : "";
    if (!seen.empty()) out_ += fmt::format("      if :: {} -> seen = 1 :: else fi;\n", seen);
    operations(e);
    if (e.target) cross_from(e.target.value);
    // Harm on the very step on which the slip is seen has happened all the same.
    if (!seen.empty()) out_ += "      if :: seen == 1 -> seen = 0; over = 1; node = ENDED :: else fi;\n";
    end_if_over();
    out_ += "  }\n";
  }

  std::string seen_on(std::size_t edge) const {
    std::string any;
    for (const FieldId f : slips_->seen_by[edge]) any += fmt::format("{}{} == 1", any.empty() ? "" : " || ", name(f));
    return any.empty() ? any : "(" + any + ")";
  }

  void strike(std::uint32_t n, const Edge& e) {
    const std::uint32_t which = e.label.interruption.value;
    out_ += fmt::format("  :: d_step {{ (node == {} && started == 1 && {}) ->\n", n, guard(e.guard));
    if (e.target && system_.nodes[e.target.value].context != system_.nodes[n].context)
      for (std::uint32_t i = 0; i < system_.interruptions; ++i) out_ += fmt::format("      back{} = 0;\n", i);
    else out_ += fmt::format("      back{} = {};\n", which, system_.nodes[n].struck_returns_to.value + 1);
    operations(e);
    if (e.target) cross_from(e.target.value);
    end_if_over();
    out_ += "  }\n";
  }

  const effects::System& system_;
  const Slips* slips_;
  std::string out_;
};

}  // namespace

std::string as_promela(const effects::System& system) { return PromelaWriter(system).write(); }
std::string as_promela(const effects::System& system, const Slips& slips) { return PromelaWriter(system, &slips).write(); }

}  // namespace stepward::spin
