// Stories in the words of a ward: every reason for a change can be said, and whatever goes wrong in the example is told
// in lines that somebody tired can take in.

#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <sstream>

#include "check/verdict.hpp"
#include "diagnostics/render.hpp"
#include "examples.hpp"
#include "story_lint.hpp"
#include "wording/story.hpp"

using namespace stepward;
namespace fs = std::filesystem;

namespace {

std::string example(const std::string& name) {
  std::ifstream in(fs::path(STEPWARD_SOURCE_DIR) / "examples" / name, std::ios::binary);
  std::ostringstream out;
  out << in.rdbuf();
  return out.str();
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

/// An action that a hurried author could leave out without the file becoming unreadable.
bool may_be_left_out(const std::string& line) {
  for (const char* verb : {"  disinfect ", "  take off ", "  do ", "  move to ", "  clean ", "  observer inspects "})
    if (line.rfind(verb, 0) == 0) return true;
  return false;
}

/// Details hang on the line above, so they leave with it.
bool is_detail(const std::string& line) {
  for (const char* word : {"say", "watch", "known as", "critical", "warning", "note", "because", "if not \""})
    if (line.find_first_not_of(' ') != std::string::npos &&
        line.compare(line.find_first_not_of(' '), std::string(word).size(), word) == 0)
      return true;
  return false;
}

test::SourceFiles without_line(const std::vector<std::string>& lines, std::size_t leave_out) {
  std::string text;
  bool hanging = false;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    hanging = i == leave_out || (hanging && is_detail(lines[i]));
    if (!hanging) text += lines[i] + "\n";
  }
  return {{"example.ward", text},
          {"aldermoss-library.ward", example("aldermoss-library.ward")},
          {"aldermoss-rules.ward", example("aldermoss-rules.ward")},
          {"aldermoss-exit.es.ward", example("aldermoss-exit.es.ward")}};
}

effects::Cause cause(effects::Cause::What what, const effects::Bearer& first, const effects::Bearer& second) {
  return {what, first, 0, second, 0};
}

/// One role, one pair of gloves, one apron with a part, one bench.
model::Protocol small_protocol() {
  model::Protocol p;
  p.roles.resize(1);
  p.roles[0].name = "wearer";
  p.acts = model::RoleId(0u);
  p.sites.resize(1);
  p.sites[0].name = "bare hands";
  p.sites[0].is_hands = true;
  p.items.resize(2);
  p.items[0].name = "outer gloves";
  p.items[0].worn_on = {model::SiteId(0u)};
  p.items[0].surfaces = {{"outside", model::Reach::exposed, {}}};
  p.items[1].name = "plastic apron";
  p.items[1].surfaces = {{"neck band", model::Reach::exposed, {}}, {"bib", model::Reach::exposed, {}}};
  return p;
}

effects::Bearer worn(std::uint32_t item) {
  return {effects::Bearer::What::worn, model::RoleId(0u), model::ItemId(item), {}, {}};
}

}  // namespace

TEST_CASE("stories: every reason for a change has its sentence") {
  const model::Protocol p = small_protocol();
  using W = effects::Cause::What;
  for (int w = static_cast<int>(W::meets); w <= static_cast<int>(W::counted); ++w) {
    CAPTURE(w);
    wording::ChangeInWords change;
    change.field.what = effects::FieldMeaning::What::level;
    change.field.bearer = worn(1);
    change.before = effects::kClean;
    change.after = effects::kSuspect;
    change.cause = cause(static_cast<W>(w), worn(0), worn(1));
    const std::string sentence = wording::change_sentence(p, change);
    CHECK_FALSE(sentence.empty());
    CHECK(wording::count_words(sentence) <= 14);
    CHECK(sentence.find("  ") == std::string::npos);
  }
}

TEST_CASE("stories: no two reasons are told in the same words") {
  const model::Protocol p = small_protocol();
  using W = effects::Cause::What;
  std::map<std::string, int> said;
  for (int w = static_cast<int>(W::meets); w <= static_cast<int>(W::counted); ++w) {
    wording::ChangeInWords change{{}, effects::kClean, effects::kSuspect, cause(static_cast<W>(w), worn(0), worn(1))};
    change.field.what = effects::FieldMeaning::What::level;
    change.field.bearer = worn(1);
    CHECK(++said[wording::change_sentence(p, change)] == 1);
  }
}

TEST_CASE("stories: a meeting says which way the dirt went, and speaks of what is named already by its part") {
  const model::Protocol p = small_protocol();
  wording::ChangeInWords change{
      {}, effects::kClean, effects::kSuspect, cause(effects::Cause::What::meets, worn(0), worn(1))};
  change.field.what = effects::FieldMeaning::What::level;
  change.field.bearer = worn(0);
  CHECK(wording::change_sentence(p, change) == "the neck band of the plastic apron may dirty hands (outer gloves)");
  CHECK(wording::change_sentence(p, change, {worn(1)}) == "the neck band may dirty hands (outer gloves)");
  change.before = effects::kSterile;
  change.after = effects::kClean;
  CHECK(wording::change_sentence(p, change, {worn(1)}) == "hands (outer gloves) meet the neck band and are no longer sterile");
  change.before = effects::kClean;
  change.after = effects::kSuspect;
  change.field.bearer = worn(1);
  CHECK(wording::change_sentence(p, change, {worn(1)}) == "hands (outer gloves) may dirty the neck band");
}

TEST_CASE("stories: dirt that was there from the start, and the touch that brought it on") {
  const std::string text =
      "stepward 1 protocol\ndocument\n  title \"x\"\n  number A\n  version 1\nend document\n"
      "use library standard \"layered-equipment\"\nuse library standard \"team\"\nuse library standard "
      "\"disinfectants\"\n"
      "surface bin\n  made of hard surface\n  begins suspect\n  stands in exit area\nend surface\n"
      "people\n  wearer begins in exit area wearing scrubs, inner gloves, goggles\n  wearer acts unless a line names "
      "someone else\nend people\n"
      "endings\n  done is normal\n    wearer wears inner gloves\nend endings\n"
      "phase \"One\"\n  act \"Shut it.\" touching bin\n  act \"Stand.\"\n  act \"Turn.\"\n  act \"Wait.\"\n"
      "  take off goggles using strap from behind\n  finish as done\nend phase\n";
  const test::Checked checked = test::check_sources({{"example.ward", text}}, "");
  REQUIRE(checked.findings.size() == 1);
  const auto& story = checked.findings[0].story;
  REQUIRE(story.size() == 4);
  CHECK(story[0].text == "wearer touches the bin: it may dirty hands (inner gloves)");
  CHECK(story[0].step == "(1)");
  CHECK(story[1].text == "… 3 steps change nothing of this");
  CHECK(story[2].text == "wearer takes off the goggles");
  CHECK(story[3].here);
  CHECK(story[3].text == "hands (inner gloves) may bring dirt to the face while handling goggles");
}

TEST_CASE("stories: whatever is left out of the example, its story can be read") {
  const std::vector<std::string> lines = lines_of(example("aldermoss-exit.ward"));
  std::vector<std::size_t> places;
  for (std::size_t i = 0; i < lines.size(); ++i)
    if (may_be_left_out(lines[i])) places.push_back(i);
  REQUIRE(places.size() > 20);
  std::size_t stories = 0;
  for (std::size_t k = 0; k < places.size(); k += 2) {
    CAPTURE(lines[places[k]]);
    test::CheckOptions options;
    options.limit = 5'000'000;
    options.only_variant = 0;
    const test::Checked checked = test::check_sources(without_line(lines, places[k]), "", options);
    for (const diagnostics::Diagnostic& d : checked.findings) {
      CHECK(d.code != diagnostics::Code::F801);
      stories += !d.story.empty();
      for (const std::string& complaint : test::lint_story(d)) CHECK_MESSAGE(false, complaint);
    }
  }
  CHECK(stories > 10);
}
