// Rules that collide in a phase, held against every order of the phase's lines tried one by one by the ordinary walk, which knows nothing
// of open orders: the same pairs, in the same phases; and what is said where not every order was tried.
#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <numeric>
#include <set>

#include "check/verdict.hpp"
#include "model/variants.hpp"
#include "order/collision_findings.hpp"
#include "random_block.hpp"
#include "rules/advice.hpp"

using namespace stepward;

namespace {

using Pair = std::pair<std::string, std::string>;
using Pairs = std::set<Pair>;
using Statements = std::vector<model::Statement>;

/// The lines of a random block as lines of the phase itself.
std::string phase_text(const tests::Wanted& wanted) {
  std::string text = tests::random_block(wanted);
  for (const std::string around : {"  in any safe order\n", "  end order\n"})
    for (std::size_t at = text.find(around); at != std::string::npos; at = text.find(around)) text.erase(at, around.size());
  return text;
}

Statements& lines_of(model::Protocol& protocol) { return protocol.blocks[protocol.phases.front().block.value].statements; }
const Statements& lines_of(const model::Protocol& protocol) { return protocol[protocol.phases.front().block].statements; }
/// All but the `finish` that ends the phase.
std::size_t movable(const model::Protocol& protocol) { return lines_of(protocol).size() - 1; }

/// The rules that one order breaks; none: it breaks something that needs no rule.
std::optional<std::set<std::string>> broken_by(const model::Protocol& advised, const std::set<std::string>& binding, const model::Variant& variant) {
  const check::PlainWalk walk = check::plain_walk(advised, variant, true);
  REQUIRE(walk.complete);
  std::set<std::string> out;
  for (const check::PlainFinding& found : walk.findings) {
    if (diagnostics::default_severity(found.code) == diagnostics::Severity::error) return std::nullopt;
    if (found.code == diagnostics::Code::R102 && binding.count(found.about)) out.insert(found.about);
  }
  return out;
}

/// Pairs of which every order of the lines behind the first `fixed` breaks one, while for each of the two some order keeps it.
Pairs colliding_behind(const model::Protocol& protocol, const model::Variant& variant, std::size_t fixed) {
  std::set<std::string> binding;
  for (const model::Rule& rule : protocol.rules)
    if (rule.severity != model::Severity::advisory) binding.insert(rule.number);
  std::vector<std::size_t> order(movable(protocol));
  std::iota(order.begin(), order.end(), std::size_t(0));
  std::vector<std::set<std::string>> broken;
  const model::Protocol advised = rules::with_rules_as_advice(protocol);
  do {
    model::Protocol tried = advised;
    for (std::size_t i = 0; i < order.size(); ++i) lines_of(tried)[i] = lines_of(protocol)[order[i]];
    if (auto by = broken_by(tried, binding, variant)) broken.push_back(std::move(*by));
  } while (std::next_permutation(order.begin() + static_cast<std::ptrdiff_t>(fixed), order.end()));
  Pairs out;
  const auto some_keeps = [&](auto keeps) { return std::any_of(broken.begin(), broken.end(), keeps); };
  for (const std::string& a : binding)
    for (const std::string& b : binding) {
      if (b <= a) continue;
      const bool each_alone = some_keeps([&](const auto& by) { return !by.count(a); }) && some_keeps([&](const auto& by) { return !by.count(b); });
      if (each_alone && !some_keeps([&](const auto& by) { return !by.count(a) && !by.count(b); })) out.insert({a, b});
    }
  return out;
}

/// So many lines from the first break nothing as they are written. `rule`: a rule is broken first, on some run.
struct AsWritten { std::size_t clean = 0; bool rule = false; };

AsWritten as_written(const model::Protocol& protocol, const model::Variant& variant) {
  AsWritten out{movable(protocol), false};
  for (const check::PlainFinding& found : check::plain_walk(protocol, variant, true).findings) {
    if (diagnostics::default_severity(found.code) != diagnostics::Severity::error) continue;
    out.rule = out.rule || found.code == diagnostics::Code::R101;
    const Statements& lines = lines_of(protocol);
    const auto at = std::find_if(lines.begin(), lines.end(), [&](const model::Statement& s) { return s.what == model::Statement::What::line && s.line == found.line; });
    if (at != lines.end()) out.clean = std::min(out.clean, static_cast<std::size_t>(at - lines.begin()));
  }
  return out;
}

std::vector<order::PhaseCollision> found_in(const model::Protocol& protocol, std::size_t variant, const order::PhaseOptions& options = {}) {
  check::Options how;
  how.only_variant = variant;
  diagnostics::Sink sink;
  const order::PhaseCollisions found = order::phase_collisions(protocol, check::check(protocol, how, sink).walks, options);
  REQUIRE(found.untried.empty());
  return found.pairs;
}

Pair named(const model::Protocol& protocol, const order::PhaseCollision& c) { return std::minmax(protocol[c.one].number, protocol[c.other].number); }

struct Kinds { unsigned from_the_start = 0, later_only = 0, broken_without = 0, kept = 0; };

/// `deterministic`: one run only, so the situation behind each line is one, and all of them can be tried.
void try_phase(const tests::Wanted& wanted, bool deterministic, Kinds& kinds) {
  const std::string text = phase_text(wanted);
  INFO(text);
  const tests::ReadBlock read_in = tests::read_block(text);
  const model::Protocol& protocol = read_in.protocol;
  if (movable(protocol) > 5) return;
  const std::vector<model::Variant> variants = model::all_variants(protocol);
  for (std::size_t v = 0; v < variants.size(); ++v) {
    const AsWritten written = as_written(protocol, variants[v]);
    Pairs at_once, at_all;
    if (written.rule) at_once = colliding_behind(protocol, variants[v], 0);
    for (std::size_t fixed = 0; written.rule && fixed <= written.clean && fixed + 2 <= movable(protocol); ++fixed) at_all.merge(colliding_behind(protocol, variants[v], fixed));
    Pairs found, found_at_once;
    for (const order::PhaseCollision& c : found_in(protocol, v)) {
      const bool fresh = found.insert(named(protocol, c)).second;
      CHECK_MESSAGE(fresh, "a pair is told once");
      if (c.at == lines_of(protocol).front().span) found_at_once.insert(named(protocol, c));
    }
    CHECK(found_at_once == at_once);
    if (deterministic) CHECK(found == at_all);
    kinds.from_the_start += !at_once.empty();
    kinds.later_only += found.size() > at_once.size();
    kinds.broken_without += written.rule && found.empty();
    kinds.kept += !written.rule;
  }
}

bool has_one_run(const std::string& text) { return text.find("inspects") == std::string::npos && text.find("any time") == std::string::npos; }

}  // namespace

TEST_CASE("collisions: the same pairs as every order of a phase tried one by one") {
  Kinds kinds;
  for (unsigned seed = 1000; seed < 1060; ++seed) {
    const tests::Wanted wanted{seed, 3 + seed % 2, 1, false, true};
    try_phase(wanted, has_one_run(phase_text(wanted)), kinds);
  }
  // The texts are worth something only if they are of every kind.
  MESSAGE(kinds.from_the_start << " collide from the start, " << kinds.later_only << " later only, " << kinds.broken_without << " break a rule without, " << kinds.kept << " break none");
  CHECK(kinds.from_the_start > 5);
  CHECK(kinds.broken_without > 5);
  CHECK(kinds.kept > 5);
}

TEST_CASE("collisions: the same where lines touch, dirty, look and come off, and something interrupts") {
  Kinds kinds;
  for (unsigned seed = 2000; seed < 2120; ++seed) {
    const tests::Wanted wanted{seed, 3 + seed % 2, 1, false, false};
    try_phase(wanted, has_one_run(phase_text(wanted)), kinds);
  }
  MESSAGE(kinds.from_the_start << " collide from the start, " << kinds.later_only << " later only, " << kinds.broken_without << " break a rule without, " << kinds.kept << " break none");
  CHECK(kinds.from_the_start > 2);
  CHECK(kinds.later_only > 0);
  CHECK(kinds.broken_without > 5);
  CHECK(kinds.kept > 5);
}

TEST_CASE("collisions: a search that comes to its bound says so, and names no pair") {
  unsigned seed = 1000;
  tests::ReadBlock read_in = tests::read_block(phase_text({seed, 4, 1, false, true}));
  const auto collides = [&] { return !found_in(read_in.protocol, 0).empty(); };
  while (!collides()) read_in = tests::read_block(phase_text({++seed, 4, 1, false, true}));
  diagnostics::Sink of_the_walk, sink;
  const check::Verdict verdict = check::check(read_in.protocol, {}, of_the_walk);
  order::PhaseOptions few;
  few.limit = 3;
  order::report_collisions(read_in.protocol, verdict.walks, {}, few, read_in.files, sink);
  REQUIRE(sink.size() == 1);
  CHECK(sink.front().code == diagnostics::Code::F120);
  CHECK(sink.front().severity == diagnostics::Severity::note);
  few = {};
  few.most_places = 1;
  CHECK(order::phase_collisions(read_in.protocol, verdict.walks, few).untried.size() == 1);
}
