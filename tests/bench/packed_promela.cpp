#include "packed_promela.hpp"

#include <algorithm>

#include <fmt/format.h>

namespace stepward::bench {
namespace {

using namespace explore;
using Do = PackedOp::Do;

class Writer {
 public:
  explicit Writer(const Packed& packed) : packed_(packed) {
    for (const PackedNode& n : packed.nodes)
      if (n.standing) options_ = std::max(options_, n.edges.last - n.edges.first + n.strikes.last - n.strikes.first);
  }

  PackedPromela write() {
    out_ = fmt::format("static unsigned char met[{}];\nstatic U v[{}], first[{}];\nstatic int cut;\n", packed_.reports.size() + 1, packed_.words + most_scratch_words, packed_.words);
    out_ += "static void report(int r, int cuts) { if (!met[r]) { met[r] = 1; printf(\"MET %d\\n\", r); } cut |= cuts; }\n";
    out_ += "static U top(U a, U b) { return a > b ? a : b; }\n";
    write_crossings();
    write_ends();
    write_guards();
    write_steps();
    std::string model = fmt::format("c_decl {{ typedef unsigned long U; }}\nc_state \"unsigned long w[{}]\" \"Global\"\nc_code {{\n\\#include \"steps.h\"\n}}\n", packed_.words);
    model += "active proctype walk() {\n  d_step { c_code { begin(); } };\nend: do\n";
    for (std::uint32_t k = 0; k < options_; ++k) model += fmt::format("  :: d_step {{ c_expr {{ may({0}) }} -> c_code {{ go({0}); }} }}\n", k);
    return {model + "  od\n}\n", std::move(out_)};
  }

 private:
  static std::string read(Slot s) { return fmt::format("(v[{}] >> {} & {}ul)", s.word, s.shift, s.mask); }
  static std::string write(Slot s, const std::string& value) {
    return fmt::format("v[{0}] = (v[{0}] & ~({1}ul << {2})) | ({3}) << {2};", s.word, s.mask, s.shift, value);
  }

  std::string guard(const PackedGuard& g, const char* words) const {
    if (g.always) return "1";
    std::string all, clause;
    for (std::uint32_t t = g.tests.first; t < g.tests.last; ++t) {
      const PackedTest& test = packed_.tests[t];
      clause += clause.empty() ? "" : " && ";
      if (test.how == PackedTest::How::listed) clause += fmt::format("({}ul >> ({}[{}] >> {} & {}ul) & 1)", test.value, words, test.word, test.shift, test.mask);
      else clause += fmt::format("({}[{}] & {}ul) {} {}ul", words, test.word, test.mask, test.how == PackedTest::How::equal ? "==" : "!=", test.value);
      if (!test.closes) continue;
      all += fmt::format("{}({})", all.empty() ? "" : " || ", clause);
      clause.clear();
    }
    return all.empty() ? "0" : all;
  }

  std::string operation(const PackedOp& op) const {
    switch (op.what) {
      case Do::write: return fmt::format("v[{0}] = (v[{0}] & {1}ul) | {2}ul;", op.a.word, op.keep, op.put);
      case Do::raise: return write(op.a, fmt::format("top({}, {}ul)", read(op.a), op.value));
      case Do::lift: return write(op.a, fmt::format("top({}, {})", read(op.a), read(op.b)));
      case Do::lift_suspect: return write(op.a, fmt::format("top({0}, {1} > {2} ? {2} : {1})", read(op.a), read(op.b), effects::kSuspect));
      case Do::copy: return write(op.a, read(op.b));
      case Do::report: return fmt::format("report({}, {});", op.value, op.cuts ? 1 : 0);
      case Do::mark: break;
    }
    return "";
  }

  /// An edge's operations and where it leads; `v` holds the state.
  void edge(std::uint32_t number) {
    const PackedEdge& e = packed_.edges[number];
    for (std::uint32_t i = 0; i < e.scratch_words; ++i) out_ += fmt::format("v[{}] = 0; ", packed_.words + i);
    for (std::uint32_t i = e.ops.first; i < e.ops.last;) {
      const PackedOp& head = packed_.ops[i];
      out_ += head.guard.always ? "{ " : fmt::format("if ({}) {{ ", guard(head.guard, "v"));
      for (const std::uint32_t last = std::max(head.otherwise, i + 1); i < last; ++i) out_ += operation(packed_.ops[i]) + " ";
      out_ += "}\n";
    }
    if (e.ends) out_ += "over(); return;\n";
    else if (e.goes_back != UINT32_MAX)
      out_ += fmt::format("{{ U to = {} - 1; {} {} }}\n", read(packed_.back[e.goes_back]), write(packed_.back[e.goes_back], "0ul"), write(packed_.node, "to"));
    else out_ += write(packed_.node, fmt::format("{}ul", e.target)) + "\n";
  }

  void write_ends() {
    out_ += fmt::format("static void keep() {{ memcpy(now.w, v, {}); }}\n", packed_.words * 8);
    out_ += fmt::format("static void begin() {{\n  memset(v, 0, sizeof v);\n");
    for (std::uint32_t i = 0; i < packed_.words; ++i) out_ += fmt::format("  v[{}] = {}ul;\n", i, packed_.initial[i]);
    out_ += "  cut = 0; cross(); keep(); memcpy(first, v, sizeof first);\n}\n";
  }

  void write_crossings() {
    out_ += fmt::format("static void over() {{ memset(v, 0, sizeof v); {} cut = 0; }}\n", write(packed_.node, fmt::format("{}ul", packed_.nodes.size())));
    out_ += fmt::format("static void cross() {{\n  for (;;) switch {} {{\n", read(packed_.node));
    for (std::uint32_t n = 0; n < packed_.nodes.size(); ++n) {
      if (packed_.nodes[n].standing) continue;
      out_ += fmt::format("  case {}:\n", n);
      for (std::uint32_t e = packed_.nodes[n].edges.first; e < packed_.nodes[n].edges.last; ++e) {
        out_ += fmt::format("  if ({}) {{\n", guard(packed_.edges[e].guard, "v"));
        edge(e);
        out_ += "  continue; }\n";
      }
      out_ += "  over(); return;\n";
    }
    out_ += "  default: if (cut) over(); return;\n  }\n}\n";
  }

  template <class Function>
  void each_option(Function&& write_one) {
    for (std::uint32_t n = 0; n < packed_.nodes.size(); ++n) {
      const PackedNode& node = packed_.nodes[n];
      if (!node.standing) continue;
      std::uint32_t k = 0;
      for (std::uint32_t e = node.edges.first; e < node.edges.last; ++e) write_one(n, k++, e);
      for (std::uint32_t e = node.strikes.first; e < node.strikes.last; ++e) write_one(n, k++, e);
    }
  }

  std::string place() const { return fmt::format("(now.w[{}] >> {} & {}ul) * {} + k", packed_.node.word, packed_.node.shift, packed_.node.mask, options_); }

  // No interruption strikes where runs begin.
  void write_guards() {
    out_ += fmt::format("static int may(int k) {{\n  switch ({}) {{\n", place());
    each_option([&](std::uint32_t n, std::uint32_t k, std::uint32_t e) {
      const std::string strike = packed_.edges[e].strikes != UINT32_MAX ? "memcmp(now.w, first, sizeof first) && " : "";
      out_ += fmt::format("  case {}: return {}({});\n", n * options_ + k, strike, guard(packed_.edges[e].guard, "now.w"));
    });
    out_ += "  }\n  return 0;\n}\n";
  }

  // A function an edge: gcc takes more than its share of time for long functions.
  void write_steps() {
    std::string cases;
    each_option([&](std::uint32_t n, std::uint32_t k, std::uint32_t e) {
      cases += fmt::format("  case {0}: go{0}(); break;\n", n * options_ + k);
      out_ += fmt::format("static __attribute__((noinline)) void go{}(void) {{\n", n * options_ + k);
      strike(packed_.edges[e], packed_.nodes[n]);
      edge(e);
      out_ += "}\n";
    });
    out_ += fmt::format("static void step(int k) {{\n  switch ({}) {{\n{}", place(), cases);
    out_ += fmt::format("  }}\n  cross();\n}}\nstatic void go(int k) {{ memcpy(v, now.w, {}); cut = 0; step(k); keep(); }}\n", packed_.words * 8);
  }

  void strike(const PackedEdge& e, const PackedNode& node) {
    if (e.strikes == UINT32_MAX) return;
    if (e.leaves_context) for (const Slot& back : packed_.back) out_ += write(back, "0ul") + " ";
    else out_ += write(packed_.back[e.strikes], fmt::format("{}ul", node.returns_to + 1)) + "\n";
  }

  const Packed& packed_;
  std::uint32_t options_ = 0;
  std::string out_;
};

}  // namespace

PackedPromela as_promela(const Packed& packed) { return Writer(packed).write(); }

}  // namespace stepward::bench
