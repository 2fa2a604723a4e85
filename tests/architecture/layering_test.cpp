// The direction of the pipeline, read from the tree.
//
// `ls compiler/` is meant to read as the pipeline, and that only stays true when no folder looks ahead. This test
// reads every #include of every source under compiler/ and grammar/ and holds it against the tables below; a new
// folder or a new library has to be written down here before it may be used.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>
#include <string>
#include <vector>

namespace fs = std::filesystem;

namespace {

using Names = std::set<std::string>;

/// What each folder may include besides itself. `base` and `source` are open to all.
const std::map<std::string, Names>& allowed_folders() {
  static const std::map<std::string, Names> table = {
      {"base", {}},
      {"source", {}},
      {"mixture", {}},
      {"reliability", {}},
      {"syntax", {}},
      {"diagnostics", {"wording"}},
      {"grammar", {"diagnostics"}},
      {"wording", {"mixture", "diagnostics", "model", "graph", "effects"}},
      {"parse", {"grammar", "syntax", "diagnostics"}},
      {"tidy", {"parse", "syntax", "diagnostics"}},
      {"resolve", {"parse", "syntax", "diagnostics", "wording"}},
      {"model", {"mixture", "resolve", "syntax", "diagnostics", "wording"}},
      {"translation", {"model", "resolve", "syntax", "diagnostics", "wording"}},
      {"graph", {"model", "diagnostics", "wording"}},
      {"effects", {"graph", "model", "diagnostics", "wording"}},
      {"explore", {"effects", "graph", "model", "diagnostics"}},
      {"rules", {"explore", "effects", "graph", "model", "diagnostics", "wording"}},
      {"check", {"rules", "explore", "effects", "graph", "model", "diagnostics", "wording"}},
      {"slips", {"reliability", "check", "rules", "explore", "effects", "graph", "model", "diagnostics", "wording"}},
      {"mend", {"check", "explore", "effects", "graph", "model", "resolve", "syntax", "diagnostics", "wording"}},
      {"order", {"slips", "check", "rules", "explore", "effects", "graph", "model", "diagnostics", "wording"}},
      {"emit", {"mixture", "reliability", "slips", "check", "rules", "explore", "effects", "graph", "model", "diagnostics", "wording"}},
      {"driver", {"mixture", "reliability", "emit", "order", "mend", "slips", "check", "rules", "explore", "effects", "graph", "translation", "model", "resolve", "tidy", "parse",
                  "syntax", "diagnostics", "wording"}},
  };
  return table;
}

/// Libraries by the start of their headers' names, and the only folders (or parts of one) that may include them.
const std::map<std::string, Names>& allowed_libraries() {
  static const std::map<std::string, Names> table = {
      {"tao/pegtl", {"grammar", "compiler/parse"}},
      {"pugixml", {"compiler/emit"}},
      {"cairo", {"compiler/emit/pdf"}},
      {"fontconfig", {"compiler/emit/pdf"}},
      {"pango", {"compiler/emit/pdf"}},
      {"qrencode", {"compiler/emit/document"}},
      {"qpdf", {"compiler/emit/pdf"}},
      {"graphviz", {"compiler/emit/layout"}},
      {"nlohmann", {"compiler/diagnostics", "compiler/emit"}},
      {"CLI/", {"compiler/driver"}},
      {"utf8proc", {"compiler/base"}},
      {"gmpxx", {"compiler/reliability"}},
      {"fmt/", {"compiler"}},
  };
  return table;
}

/// Headers of the language and the system that reach outside: the disk, the clock, the terminal.
const Names& outside_headers() {
  static const Names table = {"filesystem", "fstream",  "iostream",   "chrono",
                              "ctime",      "unistd.h", "sys/stat.h", "fcntl.h"};
  return table;
}

/// Calls that do so through a header which is allowed for other reasons.
const Names& outside_calls() {
  static const Names table = {"std::cout", "std::cerr", "std::printf", "std::puts", "std::fopen", "getenv(",
                              "std::system(", "std::rand(", "std::time(", "fmt::print("};
  return table;
}

struct Include {
  std::string from;  ///< path of the file, relative to the tree
  std::string what;  ///< as written between the quotes or brackets
  bool quoted = false;
};

fs::path tree() { return STEPWARD_SOURCE_DIR; }

bool is_source(const fs::path& path) {
  return path.extension() == ".cpp" || path.extension() == ".hpp" || path.extension() == ".def";
}

void read_includes(const fs::path& path, std::vector<Include>& all) {
  std::ifstream file(path);
  std::string line;
  while (std::getline(file, line)) {
    const std::size_t at = line.find_first_not_of(" \t");
    if (at == std::string::npos || line.compare(at, 8, "#include") != 0) continue;
    const std::size_t open = line.find_first_of("\"<", at);
    if (open == std::string::npos) continue;
    const std::size_t close = line.find_first_of("\">", open + 1);
    all.push_back(
        {fs::relative(path, tree()).generic_string(), line.substr(open + 1, close - open - 1), line[open] == '"'});
  }
}

std::vector<Include> all_includes() {
  std::vector<Include> all;
  for (const char* root : {"compiler", "grammar"}) {
    for (const auto& entry : fs::recursive_directory_iterator(tree() / root)) {
      if (entry.is_regular_file() && is_source(entry.path())) read_includes(entry.path(), all);
    }
  }
  return all;
}

/// "compiler/parse/lines.cpp" is of folder "parse", "grammar/ward.hpp" of "grammar".
std::string folder_of(const std::string& path) {
  const std::size_t first = path.find('/');
  if (path.compare(0, first, "grammar") == 0) return "grammar";
  return path.substr(first + 1, path.find('/', first + 1) - first - 1);
}

/// The folder that a quoted include leads to; headers of grammar/ are included by their name alone.
std::string target_of(const Include& include) {
  const std::size_t slash = include.what.find('/');
  if (slash != std::string::npos) return include.what.substr(0, slash);
  return fs::exists(tree() / "grammar" / include.what) ? "grammar" : std::string();
}

bool starts_with(const std::string& text, const std::string& start) {
  return text.compare(0, start.size(), start) == 0;
}

/// keywords.def is the one list of words that syntax and placement are made from; it holds no rule of the grammar.
bool is_keyword_list(const Include& include) { return include.what == "keywords.def"; }

bool may_include(const std::string& from, const std::string& target) {
  if (from == target || target == "base" || target == "source") return true;
  const auto row = allowed_folders().find(from);
  return row != allowed_folders().end() && row->second.count(target) > 0;
}

}  // namespace

TEST_CASE("layering: every folder is in the table") {
  for (const auto& entry : fs::directory_iterator(tree() / "compiler")) {
    CAPTURE(entry.path().filename().string());
    CHECK(allowed_folders().count(entry.path().filename().string()) == 1);
  }
}

TEST_CASE("layering: no folder looks ahead") {
  const std::vector<Include> includes = all_includes();
  CHECK(includes.size() > 100);
  for (const Include& include : includes) {
    if (!include.quoted || is_keyword_list(include)) continue;
    const std::string target = target_of(include);
    CAPTURE(include.from);
    CAPTURE(include.what);
    CHECK_MESSAGE(!target.empty(), "an include is not rooted at compiler/ or grammar/");
    CHECK_MESSAGE(may_include(folder_of(include.from), target), "this folder may not see that one");
  }
}

TEST_CASE("layering: includes lead to files that are there") {
  for (const Include& include : all_includes()) {
    if (!include.quoted) continue;
    CAPTURE(include.from);
    CAPTURE(include.what);
    CHECK((fs::exists(tree() / "compiler" / include.what) || fs::exists(tree() / "grammar" / include.what)));
  }
}

TEST_CASE("layering: each library is seen only where it is let in") {
  for (const Include& include : all_includes()) {
    if (include.quoted) continue;
    for (const auto& [library, places] : allowed_libraries()) {
      if (!starts_with(include.what, library)) continue;
      CAPTURE(include.from);
      CAPTURE(include.what);
      CHECK(std::any_of(places.begin(), places.end(),
                        [&](const std::string& place) { return starts_with(include.from, place + '/'); }));
    }
  }
}

TEST_CASE("layering: any other header is of the language") {
  for (const Include& include : all_includes()) {
    if (include.quoted || include.what.find('/') == std::string::npos) continue;
    const bool known = std::any_of(allowed_libraries().begin(), allowed_libraries().end(),
                                   [&](const auto& row) { return starts_with(include.what, row.first); });
    CAPTURE(include.from);
    CAPTURE(include.what);
    // The walk's arrays lie in large pages, which the language knows nothing of; elsewhere calloc does.
    const bool large_pages = include.from == "compiler/explore/steady_array.cpp" && include.what == "sys/mman.h";
    CHECK((known || large_pages || starts_with(include.from, "compiler/driver/")));
  }
}

TEST_CASE("layering: only the driver includes what reaches disk, clock or terminal") {
  for (const Include& include : all_includes()) {
    if (include.quoted || outside_headers().count(include.what) == 0) continue;
    CAPTURE(include.from);
    CAPTURE(include.what);
    CHECK((starts_with(include.from, "compiler/driver/") || starts_with(include.from, "compiler/emit/pdf/")));
  }
}

TEST_CASE("layering: only the driver calls what reaches disk, clock or terminal") {
  for (const auto& entry : fs::recursive_directory_iterator(tree() / "compiler")) {
    const std::string path = fs::relative(entry.path(), tree()).generic_string();
    if (!is_source(entry.path()) || starts_with(path, "compiler/driver/")) continue;
    std::ifstream file(entry.path());
    for (std::string line; std::getline(file, line);) {
      for (const std::string& call : outside_calls()) {
        CAPTURE(path);
        CAPTURE(line);
        CHECK(line.find(call) == std::string::npos);
      }
    }
  }
}

TEST_CASE("layering: headers that are slow to read are not included by headers") {
  for (const Include& include : all_includes()) {
    const bool slow = starts_with(include.what, "nlohmann") || starts_with(include.what, "CLI/") ||
                      (starts_with(include.what, "tao/") && !starts_with(include.from, "grammar/"));
    CAPTURE(include.from);
    if (slow) CHECK(fs::path(include.from).extension() == ".cpp");
  }
}

TEST_CASE("layering: the top level holds what it should and nothing else") {
  const Names expected = {"CMakeLists.txt", "CMakePresets.json", "README.md", "DEVELOPERS.md", "LICENSE", "compiler",
                          "grammar", "stdlib-procedures", "tests", "examples", "docs", "build"};
  for (const auto& entry : fs::directory_iterator(tree())) {
    const std::string name = entry.path().filename().string();
    if (name.front() == '.') continue;
    CAPTURE(name);
    CHECK(expected.count(name) == 1);
  }
}

TEST_CASE("names: no case of a test holds a semicolon, which would make it pass without running") {
  std::size_t cases = 0;
  for (const auto& entry : fs::recursive_directory_iterator(tree() / "tests")) {
    if (entry.path().extension() != ".cpp") continue;
    std::ifstream file(entry.path());
    std::string line;
    while (std::getline(file, line)) {
      if (!starts_with(line, "TEST_CASE(")) continue;
      CAPTURE(entry.path().filename().string());
      CAPTURE(line);
      CHECK(line.substr(0, line.rfind('"')).find(';') == std::string::npos);
      ++cases;
    }
  }
  CHECK(cases > 50);
}
