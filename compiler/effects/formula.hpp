#pragma once
// The algebra of guards: disjunctions of conjunctions of "field is one of these values".

#include <unordered_map>
#include <utility>

#include "effects/system.hpp"

namespace stepward::effects {

/// Built while lowering, interned into the system when an operation needs it. No clause: never. One empty clause: always.
class Formula {
 public:
  static Formula always() { Formula f; f.clauses_.emplace_back(); return f; }
  static Formula never() { return {}; }
  static Formula test(FieldId field, std::uint32_t allowed);
  static Formula is(FieldId field, std::uint32_t value) { return test(field, 1u << value); }

  bool is_never() const { return clauses_.empty(); }
  bool is_always() const { return clauses_.size() == 1 && clauses_.front().empty(); }

  Formula operator&(const Formula& other) const;
  Formula operator|(const Formula& other) const;
  /// Needs every field's highest value to know what is left.
  Formula negated(const std::vector<Field>& fields) const;

  const Clauses& clauses() const { return clauses_; }

  /// One more alternative, sorted by field; those that imply another are left out.
  void add(Clause clause);

 private:
  Clauses clauses_;  ///< each sorted by field, one test a field
};

/// Whether a formula holds, as far as is known.
enum class Truth : std::uint8_t { never, maybe, always };

/// Files formulas as guards of a system, equal ones once. Takes over what the system already holds.
class GuardBook {
 public:
  /// `guards` outlives the book; guard 0 (always) is made if it is not there.
  explicit GuardBook(std::vector<Guard>& guards);

  GuardId file(const Formula& formula);
  Formula formula(GuardId guard) const;

 private:
  GuardId* find(const Clauses& clauses, std::uint64_t hash);

  std::vector<Guard>& guards_;
  std::unordered_multimap<std::uint64_t, GuardId> filed_;  ///< by a hash of the clauses
};

}  // namespace stepward::effects
