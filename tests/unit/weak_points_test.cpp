// A protocol with nine weaknesses planted in it: each has to be told as silent harm with its story, and to be gone with its mend.
#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include "diagnostics/render.hpp"
#include "slips/table.hpp"
#include "weak_protocol.hpp"

using namespace stepward;
using graph::SlipKind;

namespace {

struct Weakness {
  const char* what;
  const char* answer;
  SlipKind kind;
  const char* line;
  const char* harm;
};

const Weakness planted[] = {
    {"a look that nobody makes twice", "fresh gloves", SlipKind::overlooked, "observer looks at the wearer's inner gloves", "hands (inner gloves) may bring dirt to the face while handling goggles"},
    {"a confirm with nothing to see", "goggles hands", SlipKind::left_out, "wearer disinfects hands", "hands (inner gloves) may bring dirt to the face while handling goggles"},
    {"hands that were dirty a moment ago, and the goggles next", "goggles early", SlipKind::done_early, "wearer disinfects hands", "hands (inner gloves) may bring dirt to the face while handling goggles"},
    {"a front that swings into the face unclean", "goggles front", SlipKind::clumsy, "wearer takes off the goggles", "goggles may bring dirt to eyes"},
    {"a word that one person alone has to remember", "declare", SlipKind::left_out, "observer declares exposure", "wearer goes to clean lobby, and dirt may be on scrubs"},
    {"a border crossed on the observer's word alone", "clogs", SlipKind::left_out, "wearer disinfects the clogs", "wearer goes to clean lobby, and dirt may be on clogs"},
    {"a contact time that nobody times", "clogs timer", SlipKind::cut_short, "wearer disinfects the clogs", "wearer goes to clean lobby, and dirt may be on clogs"},
    {"a glove change that nobody sees", "change", SlipKind::left_out, "wearer disinfects bare hands", "inner gloves may shut in dirt on bare hands"},
    {"a last pair that may tear with nothing after it", "last rub", SlipKind::tears, "wearer takes off the inner gloves", "wearer goes to clean lobby, and dirt may be on bare hands"}};

slips::Table slips_of(const std::string& text) { return slips::analyse(*walked(text).protocol, {.workers = 1}); }

const slips::Row* silent(const slips::Table& table, const Weakness& w) {
  const auto found = std::find_if(table.rows.begin(), table.rows.end(), [&](const slips::Row& row) {
    return row.outcome == slips::Outcome::harm && row.key.kind == w.kind && row.line == w.line && row.harm->headline == w.harm;
  });
  return found == table.rows.end() ? nullptr : &*found;
}

}  // namespace

TEST_CASE("weak points: each of nine planted ones is told as silent harm, with its story") {
  const slips::Table table = slips_of(weak_protocol(""));
  for (const Weakness& w : planted) {
    CAPTURE(w.what);
    const slips::Row* row = silent(table, w);
    REQUIRE(row);
    CHECK(row->caught.empty());
    REQUIRE(row->harm->story.size() >= 2);
    const auto& story = row->harm->story;
    CHECK(std::any_of(story.begin(), story.end(), [&](const auto& told) { return told.text.find(w.line) != std::string::npos; }));
  }
}

TEST_CASE("weak points: each is gone once it is answered, and the others stay") {
  for (const Weakness& w : planted) {
    CAPTURE(w.what);
    const slips::Table table = slips_of(weak_protocol(w.answer));
    CHECK(silent(table, w) == nullptr);
    for (const Weakness& other : planted) {
      // Fresh gloves are no answer to what comes after them.
      if (std::string(other.answer) == w.answer) continue;
      CAPTURE(other.what);
      CHECK(silent(table, other) != nullptr);
    }
  }
}
