// docs/evidence holds one page for every rule pack and for the agents: what stands in it of the library is what
// `stepward library NAME --sources` prints. So no statement of the library is without a source or a mark, and the pages
// say of each how far it was checked. With STEPWARD_RECORD=1 in the environment that part of the pages is written anew.

#include <doctest/doctest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "driver/command_line.hpp"
#include "driver/standard_files.hpp"
#include "page.hpp"

using namespace stepward;
namespace fs = std::filesystem;

namespace {

const fs::path evidence = fs::path(STEPWARD_SOURCE_DIR) / "docs" / "evidence";

std::string sources_of(const std::string& name) {
  driver::Host host;
  return driver::run({"library", name, "--sources"}, host).out;
}

bool has_page(const driver::StandardSource& file) { return file.tree.file_kind == "rules" || file.path.rfind("agents/", 0) == 0; }

struct Fenced { std::size_t begin = 0, end = 0; };
/// What stands in the page's one ```text block.
Fenced fenced(const std::string& page) {
  const std::string open = "```text\n";
  const std::size_t begin = page.find(open);
  if (begin == std::string::npos) return {};
  return {begin + open.size(), page.find("```", begin + open.size())};
}

/// The page's block is what it should be, or becomes it where pages are recorded.
void check_block(const fs::path& path, const std::string& now) {
  REQUIRE(fs::exists(path));
  std::string page = test::read_file(path);
  const Fenced block = fenced(page);
  REQUIRE(block.end > block.begin);
  if (std::getenv("STEPWARD_RECORD") == nullptr) {
    CHECK(page.substr(block.begin, block.end - block.begin) == now);
    return;
  }
  std::ofstream(path, std::ios::binary) << page.replace(block.begin, block.end - block.begin, now);
}

/// The remarks at the top of a protocol up to the first empty one: what it follows, how far that was checked, what it leaves out.
std::string origin_of(const driver::StandardSource& file) {
  std::istringstream lines(file.text);
  std::string text = file.name + ": " + file.title + ", " + file.number + '\n';
  bool begun = false;
  for (std::string line; std::getline(lines, line);) {
    const bool remark = line.rfind("# ", 0) == 0;
    if (begun && !remark) break;
    if (remark) text += "  " + line.substr(2) + '\n';
    begun = begun || remark;
  }
  return text;
}

}  // namespace

TEST_CASE("evidence: every rule pack and every file of agents has a page that says what the library says") {
  for (const driver::StandardSource& file : driver::standard_sources()) {
    if (!has_page(file)) continue;
    CAPTURE(file.name);
    const fs::path path = evidence / (file.name + ".md");
    check_block(path, sources_of(file.name));
    CHECK(test::read_file(path).find("## What it does not cover") != std::string::npos);
  }
}

TEST_CASE("evidence: no statement of the library lacks a source, and none rests on a local decision") {
  for (const driver::StandardSource& file : driver::standard_sources()) {
    if (file.tree.file_kind == "words" || file.tree.file_kind == "protocol") continue;
    CAPTURE(file.name);
    const std::string sources = sources_of(file.name);
    CAPTURE(sources);
    CHECK(sources.find("without a source: 0\n") != std::string::npos);
    CHECK(sources.find(" 0 local;") != std::string::npos);
  }
}

TEST_CASE("evidence: every protocol says which order it follows, how far that was checked, and what it leaves out") {
  std::string all;
  for (const driver::StandardSource& file : driver::standard_sources()) {
    if (file.tree.file_kind != "protocol") continue;
    CAPTURE(file.name);
    for (const char* remark : {"\n# follows:", "\n# mark:", "\n# left out:"}) {
      CAPTURE(remark);
      CHECK(file.text.find(remark) != std::string::npos);
    }
    all += (all.empty() ? "" : "\n") + origin_of(file);
  }
  check_block(evidence / "protocols.md", all);
}
