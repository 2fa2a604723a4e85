// Is the comparison worth anything? Twelve faults are planted in the fast walk, one at a time, by changing its system
// of effects between lowering and walking. Each must make the two walks disagree on some random procedure.

#include <algorithm>

#include "doctest/doctest.h"

#include "compare.hpp"
#include "explorer.hpp"
#include "model/variants.hpp"

using namespace stepward;
using namespace stepward::oracle;
using effects::Cause;
using effects::Op;
using effects::OpKind;
using effects::System;

namespace {

constexpr std::uint64_t most_procedures = 900;
constexpr std::size_t most_states = 40'000;

// An operation that never happens: its guard asks for nothing that can be.
void silence(System& system, const std::function<bool(const Op&)>& which) {
  system.guards.push_back({});
  const effects::GuardId never(system.guards.size() - 1);
  for (Op& op : system.ops)
    if (which(op)) op.guard = never;
}

void silence_cause(System& system, Cause::What what) {
  silence(system, [&](const Op& op) { return op.kind != OpKind::report && system.causes[op.cause].what == what; });
}

void silence_code(System& system, diagnostics::Code code) {
  silence(system, [&](const Op& op) { return op.kind == OpKind::report && system.reports[op.value].code == code; });
}

// The first procedure on which the tampered walk differs from the slow one; none: the fault went unnoticed.
std::uint64_t noticed_at(const check::Tamper& tamper) {
  for (std::uint64_t number = 0; number < most_procedures; ++number) {
    const Trial trial = read_procedure(number);
    if (!trial.protocol) continue;
    for (const Variant& variant : model::all_variants(*trial.protocol)) {
      const Result slow = oracle::explore(*trial.protocol, variant, most_states);
      if (!slow.is_complete) continue;
      if (!disagreement(slow_findings(*trial.protocol, slow), fast_findings(*trial.protocol, variant, true, tamper)).empty()) return number;
    }
  }
  return most_procedures;
}

struct Fault {
  const char* name;
  check::Tamper tamper;
};

std::vector<Fault> faults() {
  return {
      {"hands take nothing on from what they meet",
       [](System& s) {
         silence(s, [&](const Op& op) {
           return op.kind == OpKind::lift_suspect && op.a && s.causes[op.cause].what == Cause::What::meets &&
                  s.fields[op.a.value].meaning.bearer == s.causes[op.cause].first;
         });
       }},
      {"what is met takes nothing on from hands",
       [](System& s) {
         silence(s, [&](const Op& op) {
           return op.kind == OpKind::lift_suspect && op.a && s.causes[op.cause].what == Cause::What::meets &&
                  s.fields[op.a.value].meaning.bearer == s.causes[op.cause].second;
         });
       }},
      {"gloves come off without dirtying what is beneath",
       [](System& s) { silence_cause(s, Cause::What::pulled_off); }},
      {"skin and clothing that are reached go unsaid", [](System& s) { silence_code(s, diagnostics::Code::P103); }},
      {"places expose to nothing", [](System& s) { silence_cause(s, Cause::What::exposed); }},
      {"disinfecting changes nothing", [](System& s) { silence_cause(s, Cause::What::disinfected); }},
      {"wiping off soil changes nothing", [](System& s) { silence_cause(s, Cause::What::cleaned); }},
      {"a tear lets nothing through", [](System& s) { silence_cause(s, Cause::What::torn); }},
      {"interruptions do nothing of their own", [](System& s) { silence_cause(s, Cause::What::happens); }},
      {"rules remember nothing", [](System& s) { silence_cause(s, Cause::What::remembered); }},
      {"a cover locks nothing", [](System& s) { silence_code(s, diagnostics::Code::P401); }},
      {"no interruption strikes within a contact time",
       [](System& s) {
         for (effects::Edges& n : s.nodes)
           if (n.may_be_struck && n.struck_returns_to != graph::NodeId(std::size_t(&n - s.nodes.data())))
             n.strike_count = 0;
       }},
      {"a loop ends one pass early",
       [](System& s) {
         for (Op& op : s.ops)
           if (op.kind == OpKind::set && s.causes[op.cause].what == Cause::What::counted && op.value == 1) op.value = 0;
       }},
  };
}

}  // namespace

TEST_CASE("every fault planted in the fast walk is noticed") {
  const auto all = faults();
  REQUIRE(all.size() >= 12);
  for (const Fault& fault : all) {
    CAPTURE(std::string(fault.name));
    CHECK(noticed_at(fault.tamper) < most_procedures);
  }
}
