#include "explore/stepper.hpp"

#include <algorithm>
#include <cstring>

#include "explore/state_set.hpp"

namespace stepward::explore {

using Do = PackedOp::Do;

namespace {

constexpr std::uint64_t deed_count = 1u << 14;

}  // namespace

void Batch::clear() {
  step_ends.clear();
  steps.clear();
  words.clear();
  signs.clear();
}

Stepper::Stepper(const Packed& packed, bool interruptions)
    : packed_(packed), interruptions_(interruptions), reports_(packed.reports.size()), edges_(packed.edges.size()), nodes_(packed.nodes.size()),
      deeds_(deed_count * (1 + 3 * packed.words)) {}

// What is asked neither from here on nor where an interruption comes back to tells no two runs apart.
template <std::uint32_t Words>
void Stepper::forget(std::uint64_t* w) const {
  if (packed_.asked.empty()) return;
  std::uint32_t mode = 0;
  for (std::size_t k = 0; k < packed_.modes.size(); ++k) mode |= get(w, packed_.modes[k]) << k;
  const std::uint32_t words = Words ? Words : packed_.words;
  const auto at = [&](const std::vector<std::uint64_t>& masks, std::uint32_t node) {
    return masks.data() + std::size_t((node << packed_.modes.size()) + mode) * words;
  };
  std::uint64_t asked[most_words];
  std::copy_n(at(packed_.asked, get(w, packed_.node)), words, asked);
  for (const Slot& back : packed_.back)
    if (const std::uint32_t to = get(w, back)) {
      const std::uint64_t* const there = at(packed_.asked_on_return, to - 1);
      for (std::uint32_t i = 0; i < words; ++i) asked[i] |= there[i];
    }
  for (std::uint32_t i = 0; i < words; ++i) w[i] &= asked[i];
}

void Stepper::begin(Batch& batch) {
  batch_ = &batch;
  cut_ = false;
  std::uint64_t w[most_words + most_scratch_words] = {};
  std::memcpy(w, packed_.initial.data(), packed_.words * 8);
  // The start itself may be a crossing.
  const bool over = !settle(w);
  if (!over) forget<0>(w);
  batch_->steps.push_back({over ? 0 : StateSet::hash(w, packed_.words), UINT32_MAX, over});
  batch_->words.insert(batch_->words.end(), w, w + packed_.words);
}

void Stepper::expand(const std::uint64_t* state, bool struck, Batch& batch) {
  batch_ = &batch;
  with_words(packed_.words, [&](auto words) { follow_all<words()>(state, struck); });
}

void Stepper::follow_one(const std::uint64_t* state, std::uint32_t edge, Batch& batch) {
  batch_ = &batch;
  std::uint64_t here[most_words];
  std::copy_n(state, packed_.words, here);
  follow<0>(here, edge, packed_.nodes[get(here, packed_.node)]);
}

template <std::uint32_t Words>
void Stepper::follow_all(const std::uint64_t* state, bool struck) {
  std::uint64_t here[most_words];
  std::copy_n(state, Words ? Words : packed_.words, here);
  const PackedNode& node = packed_.nodes[get(here, packed_.node)];
  for (std::uint32_t e = node.edges.first; e < node.edges.last; ++e)
    if (holds(packed_, packed_.edges[e].guard, here)) follow<Words>(here, e, node);
  if (!interruptions_ || !struck) return;
  for (std::uint32_t e = node.strikes.first; e < node.strikes.last; ++e)
    if (holds(packed_, packed_.edges[e].guard, here)) follow<Words>(here, e, node);
}

template <std::uint32_t Words>
void Stepper::follow(const std::uint64_t* here, std::uint32_t edge, const PackedNode& node) {
  const std::uint32_t words = Words ? Words : packed_.words;
  const std::uint64_t* const depends = packed_.depends.data() + std::size_t(edge) * words;
  std::uint64_t asked[most_words];
  for (std::uint32_t i = 0; i < words; ++i) asked[i] = here[i] & depends[i];
  const std::uint64_t at = (StateSet::hash(asked, words) + edge * 0x9E3779B97F4A7C15ull) >> 40 & (deed_count - 1);
  std::uint64_t* const deed = deeds_.data() + at * (1 + 3 * words);
  // The first word is the edge, counted from 1, and whether the run is over.
  std::uint64_t differs = (*deed >> 1) ^ (edge + 1ull);
  for (std::uint32_t i = 0; i < words; ++i) differs |= deed[1 + i] ^ asked[i];
  if (differs) work_out(here, edge, node, asked, deed);
  const bool over = *deed & 1;
  const std::uint64_t *const keep = deed + 1 + words, *const put_in = keep + words;
  std::uint64_t w[most_words];
  for (std::uint32_t i = 0; i < words; ++i) w[i] = (here[i] & keep[i]) | put_in[i];
  if (!over) forget<Words>(w);
  batch_->words.insert(batch_->words.end(), w, w + words);
  batch_->steps.push_back({over ? 0 : StateSet::hash(w, words), edge, over});
}

void Stepper::work_out(const std::uint64_t* here, std::uint32_t edge, const PackedNode& node, const std::uint64_t* asked, std::uint64_t* deed) {
  const std::uint32_t words = packed_.words;
  std::uint64_t w[most_words + most_scratch_words];
  std::memcpy(w, here, words * 8);
  std::fill(std::begin(written_), std::end(written_), 0);
  cut_ = false;
  if (const PackedEdge& e = packed_.edges[edge]; e.strikes != UINT32_MAX) {
    if (e.leaves_context) for (const Slot& back : packed_.back) write(w, back, 0);
    else write(w, packed_.back[e.strikes], node.returns_to + 1);
  }
  const bool goes_on = take(w, edge) && settle(w) && !cut_;
  *deed++ = (edge + 1ull) << 1 | (goes_on ? 0 : 1);
  for (std::uint32_t i = 0; i < words; ++i) {
    deed[i] = asked[i];
    deed[words + i] = ~written_[i];
    deed[2 * words + i] = w[i] & written_[i];
  }
}

// Runs an edge's operations and stands at its target. False: the run is over.
bool Stepper::take(std::uint64_t* w, std::uint32_t edge) {
  const PackedEdge& e = packed_.edges[edge];
  note(Sign::What::edge, edge, edges_);
  operate(packed_, e, w, [&](const PackedOp& op) {
    if (op.what == Do::report) report(op);
    else written_[op.a.word] |= ~op.keep;
  });
  if (e.ends) return false;
  std::uint32_t target = e.target;
  if (e.goes_back != UINT32_MAX) {
    target = get(w, packed_.back[e.goes_back]) - 1;
    write(w, packed_.back[e.goes_back], 0);
  }
  write(w, packed_.node, target);
  note(Sign::What::node, target, nodes_);
  return true;
}

bool Stepper::settle(std::uint64_t* w) {
  while (!packed_.nodes[get(w, packed_.node)].standing) {
    const PackedNode& node = packed_.nodes[get(w, packed_.node)];
    std::uint32_t e = node.edges.first;
    while (e < node.edges.last && !holds(packed_, packed_.edges[e].guard, w)) ++e;
    if (e == node.edges.last || !take(w, e)) return false;
  }
  return true;
}

void Stepper::report(const PackedOp& op) {
  cut_ |= op.cuts;
  note(Sign::What::report, op.value, reports_);
}

void Stepper::write(std::uint64_t* w, Slot s, std::uint32_t value) {
  put(w, s, value);
  written_[s.word] |= std::uint64_t(s.mask) << s.shift;
}

void Stepper::note(Sign::What what, std::uint32_t number, std::vector<std::uint8_t>& met) {
  if (met[number]) return;
  met[number] = 1;
  batch_->signs.push_back({what, number, static_cast<std::uint32_t>(batch_->steps.size())});
}

}  // namespace stepward::explore
