// Short lists against vectors, and the guards that are made of them.

#include "base/few.hpp"

#include <random>
#include <vector>

#include <doctest/doctest.h>

#include "effects/formula.hpp"

using namespace stepward;

namespace {

using Row = Few<int, 3>;
using Rows = Few<Row, 1>;
using Plain = std::vector<std::vector<int>>;

Plain plain(const Rows& rows) {
  Plain out;
  for (const Row& row : rows) out.emplace_back(row.begin(), row.end());
  return out;
}

/// A list and the vector that it is to be like, changed alike.
struct Both {
  Rows few;
  Plain vectors;

  void change(std::mt19937& random) {
    const int what = static_cast<int>(random() % 6), value = static_cast<int>(random() % 100);
    if (what == 0 || few.empty()) {
      few.emplace_back();
      vectors.emplace_back();
    } else if (what == 1) {
      few.push_back({value, value + 1});
      vectors.push_back({value, value + 1});
    } else if (what == 2) {
      few.drop_if([&](const Row& row) { return row.size() % 2 == 0 && value < 30; });
      std::erase_if(vectors, [&](const auto& row) { return row.size() % 2 == 0 && value < 30; });
    } else {
      const std::size_t at = random() % few.size();
      few[at].push_back(value);
      vectors[at].push_back(value);
    }
  }
};

}  // namespace

TEST_CASE("few: a list is like a vector, however it was copied, moved and changed") {
  std::mt19937 random(7);
  std::vector<Both> all(8);
  for (int round = 0; round < 20'000; ++round) {
    Both& one = all[random() % all.size()];
    Both& other = all[random() % all.size()];
    switch (random() % 8) {
      case 0: one = other; break;
      case 1:
        if (&one == &other) break;
        one = std::move(other);
        other = {};
        break;
      case 2: one = Both(other); break;
      case 3: std::swap(one, other); break;
      default: one.change(random);
    }
    REQUIRE(plain(one.few) == one.vectors);
    REQUIRE(plain(other.few) == other.vectors);
    CHECK((one.few == other.few) == (one.vectors == other.vectors));
  }
}

TEST_CASE("guards: equal ones are filed once, in whatever order their alternatives were put together") {
  using effects::FieldId;
  using effects::Formula;
  std::vector<effects::Guard> guards;
  effects::GuardBook book(guards);
  const Formula a = Formula::is(FieldId(0u), 1), b = Formula::is(FieldId(1u), 0) & Formula::is(FieldId(2u), 1), c = Formula::test(FieldId(3u), 0b110);
  CHECK(book.file(Formula::always()) == effects::GuardId(0u));
  const effects::GuardId first = book.file(a | b | c);
  CHECK(book.file(c | b | a) == first);
  CHECK(book.file(a | b) != first);
  CHECK(book.file((a | b) & Formula::always()) == book.file(b | a));
  CHECK(book.file(Formula::never()) != book.file(Formula::always()));
  for (const Formula& f : {a, b, c, a | b, (a | b) & c, Formula::never()}) CHECK(book.file(book.formula(book.file(f))) == book.file(f));
  // A book that takes over what is there files nothing of it anew.
  const std::size_t before = guards.size();
  CHECK(effects::GuardBook(guards).file(b | c | a) == first);
  CHECK(guards.size() == before);
}
