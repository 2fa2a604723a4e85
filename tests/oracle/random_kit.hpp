#pragma once
// The declarations of a random procedure: who is there, with what, by which techniques, under which rules.

#include <cstdint>
#include <initializer_list>
#include <random>
#include <string>
#include <vector>

namespace stepward::oracle {

/// Numbers that come out the same on every machine (the distributions of the standard library need not).
class Dice {
 public:
  explicit Dice(std::uint64_t number) : engine_(number * 0x9E3779B97F4A7C15ull + 1) {}
  std::size_t below(std::size_t n) { return static_cast<std::size_t>(engine_() % n); }
  bool percent(int p) { return static_cast<int>(below(100)) < p; }
  template <class T>
  T one_of(const std::vector<T>& list) {
    return list[below(list.size())];
  }
  template <class T>
  T one_of(std::initializer_list<T> list) {
    return *(list.begin() + below(list.size()));
  }

 private:
  std::mt19937_64 engine_;
};

struct Kit {
  std::string text;       ///< everything up to the phases
  bool is_entry = false;  ///< dresses on the way in, else undresses on the way out
  bool has_helper = false, has_observer = false;
  bool has_timer = false;   ///< a clock called `watch` is started and stopped
  bool has_sterile = false; ///< something begins sterile
  int interruptions = 0;
  std::string middle, low;  ///< the zone to move to first, and the clean one
  std::vector<std::string> zones, people;
  std::vector<std::string> items;  ///< all but clothing
  std::vector<std::string> seen;   ///< those whose looks seldom fail
  std::vector<std::string> starts_with;
  std::vector<std::string> order_off;  ///< from the outside in
};

Kit random_kit(Dice& dice);
std::string random_rules(Dice& dice, const Kit& kit);

}  // namespace stepward::oracle
