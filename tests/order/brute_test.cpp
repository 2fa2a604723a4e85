// Every order of small random blocks tried one by one by the ordinary walk, which knows nothing of open orders: as many are kept, the
// one that was found is among them, and where none is, the rules named collide.
#include <doctest/doctest.h>

#include <algorithm>
#include <bit>
#include <map>
#include <numeric>
#include <set>

#include "check/verdict.hpp"
#include "model/variants.hpp"
#include "order/compare.hpp"
#include "order/settle.hpp"
#include "random_block.hpp"
#include "slips/table.hpp"

using namespace stepward;
using order::Settled;

namespace {

using Order = std::vector<std::uint8_t>;

/// Blocks of one place in the source.
std::vector<std::vector<model::OpenOrder>> blocks_of(const model::Protocol& protocol) {
  std::map<std::uint32_t, std::vector<model::OpenOrder>> by_place;
  for (const model::OpenOrder& open : protocol.open_orders) by_place[open.span.begin].push_back(open);
  std::vector<std::vector<model::OpenOrder>> out;
  for (auto& [place, open] : by_place) out.push_back(open);
  return out;
}

model::Protocol put(const model::Protocol& protocol, const std::vector<model::OpenOrder>& block, const Order& order) {
  model::Protocol out = protocol;
  for (const model::OpenOrder& open : block)
    for (std::uint32_t i = 0; i < open.count; ++i)
      out.blocks[open.block.value].statements[open.first + i] = protocol[open.block].statements[open.first + order[i]];
  return out;
}

/// What the ordinary walk finds in any variant: whether anything is wrong, and which advisory rules are not followed.
struct Judged { bool wrong = false; std::set<std::string> rules; };

Judged judge(const model::Protocol& protocol) {
  Judged out;
  for (const model::Variant& variant : model::all_variants(protocol)) {
    const check::PlainWalk walk = check::plain_walk(protocol, variant, true);
    REQUIRE(walk.complete);
    for (const check::PlainFinding& found : walk.findings) {
      out.wrong = out.wrong || diagnostics::default_severity(found.code) == diagnostics::Severity::error;
      if (found.code == diagnostics::Code::R102) out.rules.insert(found.about);
    }
  }
  return out;
}

std::vector<Order> all_orders(std::size_t lines) {
  std::vector<Order> out;
  Order order(lines);
  std::iota(order.begin(), order.end(), std::uint8_t(0));
  do out.push_back(order);
  while (std::next_permutation(order.begin(), order.end()));
  return out;
}

/// The fewest rules of which every order breaks one, among orders that break nothing else; 0: there is no such order, or one that breaks none.
std::size_t fewest_colliding(const model::Protocol& protocol, const std::vector<model::OpenOrder>& block) {
  model::Protocol advised = protocol;
  std::vector<std::string> binding;
  for (model::Rule& rule : advised.rules) {
    if (rule.severity != model::Severity::advisory) binding.push_back(rule.number);
    rule.severity = model::Severity::advisory;
  }
  std::vector<unsigned> broken;
  for (const Order& order : all_orders(block.front().count)) {
    const Judged judged = judge(put(advised, block, order));
    if (judged.wrong) continue;
    unsigned set = 0;
    for (std::size_t r = 0; r < binding.size(); ++r) set |= judged.rules.count(binding[r]) ? 1u << r : 0u;
    broken.push_back(set);
  }
  std::size_t fewest = 99;
  for (unsigned chosen = 0; chosen < 1u << binding.size(); ++chosen)
    if (std::all_of(broken.begin(), broken.end(), [&](unsigned set) { return (set & chosen) != 0; })) fewest = std::min<std::size_t>(fewest, std::popcount(chosen));
  return broken.empty() ? 0 : fewest;
}

order::Options quick() {
  order::Options options;
  options.compare = false;
  return options;
}

struct Tally { unsigned found = 0, none = 0, several = 0, colliding = 0; };

/// One block: the count, the order, the reasons, and where there is none the rules.
void try_one_block(const std::string& text, Tally& tally) {
  INFO(text);
  const tests::ReadBlock read_in = tests::read_block(text);
  const auto block = blocks_of(read_in.protocol).front();
  std::set<Order> kept;
  for (const Order& order : all_orders(block.front().count))
    if (!judge(put(read_in.protocol, block, order)).wrong) kept.insert(order);
  model::Protocol settled = read_in.protocol;
  diagnostics::Sink sink;
  const std::vector<Settled> all = order::settle(settled, quick(), read_in.files, sink);
  REQUIRE(all.size() == 1);
  const Settled& s = all.front();
  REQUIRE(s.outcome == (kept.empty() ? Settled::Outcome::none_keeps : Settled::Outcome::found));
  CHECK(s.kept == static_cast<double>(kept.size()));
  double refused = 0;
  for (const order::Refusal& r : s.refused) refused += r.orders;
  CHECK(refused + s.kept == s.all);
  CHECK(sink.size() == 1);
  if (kept.empty()) {
    const std::size_t fewest = fewest_colliding(read_in.protocol, block);
    CHECK(s.collide.size() == fewest);
    tally.colliding += fewest > 1;
  } else {
    CHECK(kept.count(s.order) == 1);
    CHECK(s.order == *kept.begin());  // uncompared: the nearest to what is written
    CHECK_FALSE(judge(settled).wrong);
  }
  ++(kept.empty() ? tally.none : tally.found);
  tally.several += kept.size() > 1;
}

std::size_t weak_points(const model::Protocol& protocol) {
  const slips::Table table = slips::analyse(protocol, {});
  return static_cast<std::size_t>(std::count_if(table.rows.begin(), table.rows.end(), [](const slips::Row& r) { return r.outcome == slips::Outcome::harm; }));
}

}  // namespace

TEST_CASE("orders: as many are kept as the ordinary walk lets pass, tried one by one") {
  Tally tally;
  for (unsigned seed = 1; seed <= 90; ++seed) try_one_block(tests::random_block({seed, 3 + seed % 2, 1, false, false}), tally);
  for (unsigned seed = 100; seed <= 106; ++seed) try_one_block(tests::random_block({seed, 5, 1, false, false}), tally);
  // The texts are worth something only if they are of every kind.
  MESSAGE(tally.found << " with an order, " << tally.several << " with several, " << tally.none << " with none, of which " << tally.colliding << " because rules collide");
  CHECK(tally.found > 10);
  CHECK(tally.several > 10);
  CHECK(tally.none > 10);
}

TEST_CASE("orders: where rules collide, no smaller set of them does") {
  Tally tally;
  for (unsigned seed = 400; seed <= 440; ++seed) try_one_block(tests::random_block({seed, 4, 1, false, true}), tally);
  MESSAGE(tally.found << " with an order, " << tally.none << " with none, of which " << tally.colliding << " because rules collide");
  CHECK(tally.found > 5);
  CHECK(tally.colliding > 5);
}

TEST_CASE("orders: a routine that is called twice has one order, which both calls keep") {
  Tally tally;
  for (unsigned seed = 200; seed <= 225; ++seed) try_one_block(tests::random_block({seed, 3, 1, true, false}), tally);
  CHECK(tally.found > 5);
  CHECK(tally.none > 3);
}

TEST_CASE("orders: of two blocks together") {
  unsigned found = 0, none = 0;
  for (unsigned seed = 300; seed <= 325; ++seed) {
    const std::string text = tests::random_block({seed, 3, 2, false, false});
    INFO(text);
    const tests::ReadBlock read_in = tests::read_block(text);
    const auto blocks = blocks_of(read_in.protocol);
    REQUIRE(blocks.size() == 2);
    bool some = false;
    for (const Order& first : all_orders(3))
      for (const Order& second : all_orders(3)) some = some || !judge(put(put(read_in.protocol, blocks[0], first), blocks[1], second)).wrong;
    model::Protocol settled = read_in.protocol;
    diagnostics::Sink sink;
    const std::vector<Settled> all = order::settle(settled, quick(), read_in.files, sink);
    REQUIRE(all.size() == 2);
    REQUIRE((all[0].outcome == Settled::Outcome::found) == some);
    ++(some ? found : none);
    if (!some) continue;
    CHECK_FALSE(judge(settled).wrong);
    for (std::size_t b = 0; b < 2; ++b) {
      const model::Protocol others = put(read_in.protocol, blocks[1 - b], all[1 - b].order);
      double kept = 0;
      for (const Order& order : all_orders(3)) kept += !judge(put(others, blocks[b], order)).wrong;
      CHECK(all[b].kept == kept);
    }
  }
  CHECK(found > 5);
  CHECK(none > 5);
}

TEST_CASE("orders: none that is kept has fewer weak points than the one that was found") {
  unsigned differ = 0;
  for (unsigned seed = 500; seed <= 620; ++seed) {
    const tests::ReadBlock read_in = tests::read_block(tests::random_block({seed, 3, 1, false, false}));
    const auto block = blocks_of(read_in.protocol).front();
    model::Protocol settled = read_in.protocol;
    diagnostics::Sink sink;
    const Settled s = order::settle(settled, {}, read_in.files, sink).front();
    if (s.outcome != Settled::Outcome::found || s.compared < 2) continue;
    CHECK(static_cast<double>(s.compared) == s.kept);
    std::size_t fewest = 999, most = 0;
    for (const Order& order : all_orders(block.front().count)) {
      const model::Protocol other = put(read_in.protocol, block, order);
      if (judge(other).wrong) continue;
      fewest = std::min(fewest, weak_points(other));
      most = std::max(most, weak_points(other));
    }
    CHECK(s.weak_points == fewest);
    CHECK(s.most_weak_points == most);
    CHECK(weak_points(settled) == fewest);
    differ += fewest != most;
  }
  CHECK(differ > 1);
}

TEST_CASE("orders: a walk that comes to its limit leaves the lines as they are written, and says so") {
  tests::ReadBlock read_in = tests::read_block(tests::random_block({1, 4, 1, false, false}));
  order::Options few;
  few.limit = 5;
  diagnostics::Sink sink;
  const Settled s = order::settle(read_in.protocol, few, read_in.files, sink).front();
  CHECK(s.outcome == Settled::Outcome::not_all_tried);
  CHECK(s.order == Order{0, 1, 2, 3});
  REQUIRE(sink.size() == 1);
  CHECK(sink.front().code == diagnostics::Code::F117);
}
