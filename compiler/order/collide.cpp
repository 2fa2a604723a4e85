#include "order/collide.hpp"

#include "order/search.hpp"

namespace stepward::order {
namespace {

/// Sets of up to three rules are tried by size; above this many rules, only one set without a rule too many is looked for.
constexpr std::size_t most_tried_by_size = 16;

class Collision {
 public:
  explicit Collision(const Orders& advised) : orders_(advised) {
    for (std::size_t b = 0; b < advised.breaches.size(); ++b) {
      if (advised.breaches[b].rule) rules_.push_back(Breaches(1) << b);
      else always_ |= Breaches(1) << b;
    }
  }

  Breaches smallest() const {
    Breaches all = 0;
    for (Breaches rule : rules_) all |= rule;
    if (!collide(all) || collide(0)) return 0;
    if (rules_.size() <= most_tried_by_size)
      for (std::size_t size = 1; size <= 3; ++size)
        if (const Breaches found = of_size(size, 0, 0)) return found;
    return without_one_too_many(all);
  }

 private:
  bool collide(Breaches rules) const { return Search(orders_, always_ | rules).kept() == 0; }

  /// `size` is three at most, and so is the depth.
  Breaches of_size(std::size_t size, std::size_t from, Breaches taken) const {
    if (size == 0) return collide(taken) ? taken : 0;
    for (std::size_t r = from; r + size <= rules_.size(); ++r)
      if (const Breaches found = of_size(size - 1, r + 1, taken | rules_[r])) return found;
    return 0;
  }

  Breaches without_one_too_many(Breaches all) const {
    for (Breaches rule : rules_)
      if (collide(all & ~rule)) all &= ~rule;
    return all;
  }

  const Orders& orders_;
  Breaches always_ = 0;
  std::vector<Breaches> rules_;
};

}  // namespace

std::vector<Breach> smallest_collision(const Orders& advised) {
  const Breaches found = Collision(advised).smallest();
  std::vector<Breach> out;
  for (std::size_t b = 0; b < advised.breaches.size(); ++b)
    if (found >> b & 1) out.push_back(advised.breaches[b]);
  return out;
}

}  // namespace stepward::order
