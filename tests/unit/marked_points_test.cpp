// `weak points marked`: papers mark as critical where one slip alone comes to harm, and give the observer something to look for there.
#include <doctest/doctest.h>

#include <algorithm>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "base/file_access.hpp"
#include "driver/papers.hpp"
#include "driver/pipeline.hpp"
#include "weak_protocol.hpp"

using namespace stepward;

namespace {

emit::Sheet paper(const driver::Compilation& made, const std::string& what, std::size_t variant = 0) {
  auto papers = driver::papers_of(made, made.verdict.walks[variant], {what});
  REQUIRE(papers.size() == 1);
  return std::move(papers.front().sheet);
}

template <typename Kind>
std::set<std::string> critical(const emit::Sheet& sheet) {
  std::set<std::string> labels;
  for (const emit::Block& block : sheet.blocks)
    if (const auto* step = std::get_if<Kind>(&block); step && step->critical) labels.insert(step->label);
  return labels;
}

std::string words_of(const emit::SayRow& row) {
  std::string all = row.say;
  for (const emit::Run& run : row.act) all += run.text;
  return all;
}

const emit::SayRow& row_doing(const emit::Sheet& script, const std::string& words) {
  const auto found = std::find_if(script.blocks.begin(), script.blocks.end(), [&](const emit::Block& block) {
    const auto* row = std::get_if<emit::SayRow>(&block);
    return row && words_of(*row).find(words) != std::string::npos;
  });
  REQUIRE(found != script.blocks.end());
  return std::get<emit::SayRow>(*found);
}

std::string remarks_of(const emit::SayRow& row) {
  std::string all;
  for (const emit::Text& remark : row.remarks)
    for (const emit::Run& run : remark) all += run.text;
  return all;
}

/// The numbers of the steps at which the table of slips tells harm.
std::set<std::string> weak_steps(const driver::Compilation& made, std::optional<std::size_t> variant = std::nullopt) {
  std::set<std::string> steps;
  for (const slips::Row& row : slips::analyse(*made.protocol, {.only_variant = variant, .workers = 1}).rows)
    if (row.outcome == slips::Outcome::harm) steps.insert(row.steps.begin(), row.steps.end());
  return steps;
}

/// Two sorts of eye protection, and only one of them can swing into the face: its front was not disinfected.
std::string two_variants() {
  std::string text = weak_protocol("weak points");
  const auto put = [&](const std::string& before, const std::string& lines, bool instead) {
    const std::size_t at = text.find(before);
    REQUIRE(at != std::string::npos);
    text.replace(at, instead ? before.size() : 0, lines);
  };
  put("people\n", "variants\n  eye choice is goggles or face shield\nend variants\n\n", false);
  put("respirator, goggles,", "respirator, eye choice,", true);
  put("  take off goggles using strap from behind\n", "  disinfect face shield with strong chlorine only for face shield\n  disinfect hands with strong chlorine only for face shield\n  take off eye choice using strap from behind\n", true);
  return text;
}

}  // namespace

TEST_CASE("marked points: nothing is marked unless the document asks for it") {
  const driver::Compilation made = walked(weak_protocol(""));
  CHECK(made.weak_points.empty());
  CHECK(critical<emit::Step>(paper(made, "card")).empty());
  CHECK(paper(made, "card").control.verdict.find("weak points") == std::string::npos);
}

TEST_CASE("marked points: card and script mark the steps at which the report of slips tells harm, and no others") {
  const driver::Compilation made = walked(weak_protocol("weak points"));
  const std::set<std::string> weak = weak_steps(made);
  REQUIRE(weak.size() >= 6);
  CHECK(critical<emit::SayRow>(paper(made, "script")) == weak);
  // What only the observer looks at has no step of its own to tick on the wearer's card.
  const std::set<std::string> on_card = critical<emit::Step>(paper(made, "card"));
  CHECK(std::includes(weak.begin(), weak.end(), on_card.begin(), on_card.end()));
  CHECK(on_card.size() >= 5);
  CHECK(paper(made, "card").control.verdict.find("weak points marked") != std::string::npos);
}

TEST_CASE("marked points: the observer is told what could be missed there, and why it counts") {
  const driver::Compilation plain = walked(weak_protocol("")), made = walked(weak_protocol("weak points"));
  const emit::Sheet script = paper(made, "script");
  const emit::SayRow& clogs = row_doing(script, "clogs");
  CHECK(clogs.look_for.find("It is done, and not left out.") != std::string::npos);
  CHECK(clogs.look_for.find("The whole time is kept.") != std::string::npos);
  CHECK(remarks_of(clogs).find("CRITICAL: one slip here can bring dirt to the clean side") != std::string::npos);
  // What there was to look for stays in front.
  const emit::Sheet before = paper(plain, "script");
  for (const emit::Block& block : before.blocks) {
    const auto* row = std::get_if<emit::SayRow>(&block);
    if (!row || row->look_for.empty()) continue;
    const auto same = std::find_if(script.blocks.begin(), script.blocks.end(), [&](const emit::Block& b) { return std::get_if<emit::SayRow>(&b) && std::get<emit::SayRow>(b).label == row->label; });
    REQUIRE(same != script.blocks.end());
    CHECK(std::get<emit::SayRow>(*same).look_for.rfind(row->look_for, 0) == 0);
  }
}

TEST_CASE("marked points: a reason that the author gives stays, and stands alone") {
  std::string text = weak_protocol("weak points");
  const std::string line = "  disinfect clogs with strong chlorine\n";
  REQUIRE(text.find(line) != std::string::npos);
  text.replace(text.find(line), line.size(), line + "    critical because \"clogs walk home with you\"\n");
  const std::string remarks = remarks_of(row_doing(paper(walked(text), "script"), "clogs"));
  CHECK(remarks.find("clogs walk home with you") != std::string::npos);
  CHECK(remarks.find("one slip here") == std::string::npos);
}

TEST_CASE("marked points: each variant's papers are marked by its own slips") {
  const driver::Compilation made = walked(two_variants());
  REQUIRE(made.verdict.walks.size() == 2);
  std::vector<std::set<std::string>> marked;
  for (std::size_t v = 0; v < 2; ++v) {
    CAPTURE(made.verdict.walks[v].name);
    marked.push_back(critical<emit::SayRow>(paper(made, "script", v)));
    CHECK(marked.back() == weak_steps(made, v));
  }
  CHECK(marked[0] != marked[1]);
}

TEST_CASE("marked points: where a limit was reached, the paper says that there may be more") {
  FilesInMemory access;
  access.put("suit.ward", weak_protocol("weak points"));
  driver::Compilation made = driver::read("suit.ward", access, "");
  driver::walk(made, {});
  REQUIRE(!made.weak_points.empty());
  made.weak_points.begin()->second.complete = false;
  CHECK(paper(made, "card").control.verdict.find("weak points marked, not all looked for") != std::string::npos);
}

TEST_CASE("marked points: a protocol with errors has none to mark") {
  std::string text = weak_protocol("weak points");
  const std::string line = "  disinfect bare hands with hand rub\n";
  text.erase(text.find(line), line.size());
  FilesInMemory access;
  access.put("suit.ward", text);
  driver::Compilation made = driver::read("suit.ward", access, "");
  driver::walk(made, {});
  REQUIRE(diagnostics::count(made.findings).errors > 0);
  CHECK(made.weak_points.empty());
}

TEST_CASE("script: where the library has no words for a verb, the script says the act and then how it is done") {
  const driver::Compilation made = walked(weak_protocol(""));
  const emit::Sheet script = paper(made, "script");
  CHECK(row_doing(script, "apron").say.rfind("TAKE OFF the plastic apron. Break the loop", 0) == 0);
  CHECK(row_doing(script, "clogs").say == "DISINFECT the clogs with strong chlorine.");
}
