#include "effects/formula.hpp"

#include <algorithm>
#include <optional>

namespace stepward::effects {
namespace {

std::uint32_t all_values(std::uint32_t maximum) { return maximum >= 31 ? ~0u : (1u << (maximum + 1)) - 1; }

std::optional<Clause> both(const Clause& a, const Clause& b) {
  Clause out;
  out.reserve(a.size() + b.size());
  std::size_t i = 0, j = 0;
  while (i < a.size() || j < b.size()) {
    if (j == b.size() || (i < a.size() && a[i].field < b[j].field)) out.push_back(a[i++]);
    else if (i == a.size() || b[j].field < a[i].field) out.push_back(b[j++]);
    else {
      const std::uint32_t allowed = a[i].allowed & b[j].allowed;
      if (!allowed) return std::nullopt;
      out.push_back({a[i].field, allowed});
      ++i; ++j;
    }
  }
  return out;
}

// True when every world that meets `narrow` meets `wide` too.
bool implies(const Clause& narrow, const Clause& wide) {
  return std::all_of(wide.begin(), wide.end(), [&](const Test& w) {
    const auto n = std::find_if(narrow.begin(), narrow.end(), [&](const Test& t) { return t.field == w.field; });
    return n != narrow.end() && (n->allowed & ~w.allowed) == 0;
  });
}

// Equal whatever the order in which the alternatives were put together.
std::uint64_t hash_of(const Clauses& clauses) {
  constexpr std::uint64_t odd = 0x9E3779B97F4A7C15ull;
  std::uint64_t sum = clauses.size();
  for (const Clause& c : clauses) {
    std::uint64_t one = odd;
    for (const Test& t : c) one = (one ^ (std::uint64_t(t.field.value) << 32 | t.allowed)) * odd, one ^= one >> 29;
    sum += one;
  }
  return sum;
}

}  // namespace

Formula Formula::test(FieldId field, std::uint32_t allowed) {
  Formula f;
  if (allowed) f.clauses_.push_back({{field, allowed}});
  return f;
}

void Formula::add(Clause clause) {
  for (const Clause& have : clauses_) if (implies(clause, have)) return;
  clauses_.drop_if([&](const Clause& have) { return implies(have, clause); });
  clauses_.push_back(std::move(clause));
}

Formula Formula::operator&(const Formula& other) const {
  if (is_always()) return other;
  if (other.is_always()) return *this;
  Formula out;
  out.clauses_.reserve(std::min<std::size_t>(clauses_.size(), other.clauses_.size()));
  for (const Clause& a : clauses_)
    for (const Clause& b : other.clauses_)
      if (auto c = both(a, b)) out.add(std::move(*c));
  return out;
}

Formula Formula::operator|(const Formula& other) const {
  Formula out = *this;
  for (const Clause& c : other.clauses_) out.add(c);
  return out;
}

Formula Formula::negated(const std::vector<Field>& fields) const {
  Formula out = always();
  for (const Clause& clause : clauses_) {
    Formula rest;
    for (const Test& t : clause) {
      const std::uint32_t left = all_values(fields[t.field.value].maximum) & ~t.allowed;
      if (left) rest = rest | test(t.field, left);
    }
    out = out & rest;
  }
  return out;
}

GuardBook::GuardBook(std::vector<Guard>& guards) : guards_(guards) {
  if (guards_.empty()) guards_.push_back({{Clause{}}});
  for (std::size_t g = 0; g < guards_.size(); ++g) {
    const std::uint64_t hash = hash_of(guards_[g].any);
    if (GuardId* const known = find(guards_[g].any, hash)) *known = GuardId(g);
    else filed_.emplace(hash, GuardId(g));
  }
}

GuardId* GuardBook::find(const Clauses& clauses, std::uint64_t hash) {
  const auto [first, last] = filed_.equal_range(hash);
  for (auto at = first; at != last; ++at) {
    const Clauses& filed = guards_[at->second.value].any;
    if (std::is_permutation(filed.begin(), filed.end(), clauses.begin(), clauses.end())) return &at->second;
  }
  return nullptr;
}

GuardId GuardBook::file(const Formula& formula) {
  if (formula.is_always()) return GuardId(0u);
  const std::uint64_t hash = hash_of(formula.clauses());
  if (const GuardId* const known = find(formula.clauses(), hash)) return *known;
  guards_.push_back({formula.clauses()});
  filed_.emplace(hash, GuardId(guards_.size() - 1));
  return GuardId(guards_.size() - 1);
}

Formula GuardBook::formula(GuardId guard) const {
  Formula out;
  for (const Clause& c : guards_[guard.value].any) out.add(c);
  return out;
}

}  // namespace stepward::effects
