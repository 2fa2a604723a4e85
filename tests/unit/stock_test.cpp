// The kit: no run that was walked may use more than is said to be needed.
//
// The number comes from adding up backwards over all runs, with what lies ready known by line only. Here every state's
// own shortest run is replayed forwards instead, step by step from the start, counting what is taken, passed, put on
// and used up as the reference tells it, with what lies ready known exactly. That never reaches the most in general, but
// must never exceed it. What the most is in small cases, is settled by hand in tests/suite/model/stock.
#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include "check/stock.hpp"
#include "check/variant_check.hpp"
#include "driver/disk.hpp"
#include "driver/pipeline.hpp"
#include "explore/packed.hpp"
#include "model/variants.hpp"

using namespace stepward;

namespace {

struct Tally { std::uint32_t used = 0, ready = 0; };

bool is_it(const model::Protocol& protocol, const model::Variant& variant, const model::Thing& thing, const check::Kept& kept) {
  if (kept.item) return model::item_of(protocol, thing, variant) == kept.item;
  return thing.what == model::Thing::What::supply && thing.supply == kept.supply;
}

std::uint32_t used_up(const model::Protocol& protocol, const model::Variant& variant, const model::Line& line, const check::Kept& kept) {
  using model::VerbKind;
  std::uint32_t sum = 0;
  const bool by_technique = line.verb == VerbKind::don || line.verb == VerbKind::doff || line.verb == VerbKind::clean || line.verb == VerbKind::test;
  if (!kept.supply || !by_technique) return 0;
  for (std::size_t i = 0; i < (line.together ? 1 : line.things.size()); ++i) {
    const model::ItemId item = model::item_of(protocol, line.things[i], variant);
    const model::TechniqueId technique = line.technique || !item ? line.technique : model::technique_of(protocol, line, item);
    if (!technique) continue;
    for (const model::UsesUp& use : protocol[technique].uses_up) sum += use.supply == kept.supply ? use.count : 0;
  }
  return sum;
}

Tally after(const model::Protocol& protocol, const model::Variant& variant, const model::Line& line, const check::Kept& kept, Tally tally) {
  tally.used += used_up(protocol, variant, line, kept);
  for (const model::Thing& thing : line.things) {
    if (!is_it(protocol, variant, thing, kept)) continue;
    if (line.verb == model::VerbKind::take) {
      tally.used += line.count;
      tally.ready += line.count;
    }
    if (line.verb == model::VerbKind::pass && tally.ready < line.count) {
      tally.used += line.count - tally.ready;
      tally.ready = line.count;
    }
    if (line.verb == model::VerbKind::don) {
      if (tally.ready > 0) --tally.ready;
      else ++tally.used;
    }
  }
  return tally;
}

/// The most of `kept` that any state's shortest run has used when it comes there.
std::uint32_t most_on_shortest_runs(const model::Protocol& protocol, const check::Prepared& prepared, const explore::Result& walk, const check::Kept& kept) {
  std::vector<Tally> tally(walk.size());
  std::uint32_t most = 0;
  for (std::uint32_t s = 1; s < walk.size(); ++s) {
    const std::uint32_t from = walk.parent[s];
    tally[s] = tally[from];
    if (walk.via[s] >= prepared.packed.first_strike) continue;
    const graph::Node& node = prepared.graph[prepared.system.edges[walk.via[s]].by];
    if (node.kind == graph::NodeKind::line) tally[s] = after(protocol, prepared.variant, protocol[node.line], kept, tally[s]);
    most = std::max(most, tally[s].used);
  }
  return most;
}

void hold_against_runs(const std::string& path, std::size_t at_most_variants) {
  const std::string file = std::string(STEPWARD_SOURCE_DIR) + "/" + path;
  const driver::Compilation made = driver::read(file, driver::FilesOnDisk(file), "");
  REQUIRE(made.protocol);
  const model::Protocol& protocol = *made.protocol;
  const std::vector<model::Variant> variants = model::all_variants(protocol);
  std::size_t used_at_all = 0;
  for (std::size_t v = 0; v < std::min(variants.size(), at_most_variants); ++v) {
    const check::Prepared prepared = check::prepare(protocol, variants[v], {});
    const check::Walked walked = check::first_walk(prepared, {});
    REQUIRE(walked.result.complete);
    for (const check::StockNeed& need : check::stock_needs(protocol, prepared.graph, prepared.system, prepared.packed, walked.result, walked.sums.order)) {
      CAPTURE(check::kept_name(protocol, need.thing));
      CAPTURE(model::variant_name(protocol, variants[v]));
      const std::uint32_t met = most_on_shortest_runs(protocol, prepared, walked.result, need.thing);
      const bool comes_back = need.thing.item && protocol[need.thing.item].reusable;
      if (!comes_back) CHECK(met <= need.needed);
      used_at_all += met > 0 ? 1 : 0;
      std::uint32_t told = 0;
      for (const check::StockUse& use : need.uses) told += use.count * use.times;
      if (!comes_back) CHECK(told == need.needed);
    }
  }
  CHECK(used_at_all > 0);
}

}  // namespace

TEST_CASE("stock: no shortest run of the entry uses more than is needed at most") { hold_against_runs("examples/aldermoss-entry.ward", 6); }
TEST_CASE("stock: no shortest run of the exit uses more than is needed at most") { hold_against_runs("examples/aldermoss-exit.ward", 2); }
