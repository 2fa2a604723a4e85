// Takes lines out of the example one by one, each with its details. Where that gives an error, a mend has to be offered that
// checks clean when it is written into the text.
//
// Without arguments the lines that disinfect are taken out, and every one that is missed has to be mended. `--all` takes every action
// line, and only prints how many were mended; `--file PATH` takes another protocol.

#include <algorithm>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "base/file_access.hpp"
#include "diagnostics/render.hpp"
#include "driver/mend_look.hpp"
#include "mend/outline.hpp"
#include "mend/search.hpp"
#include "mend/wants.hpp"

namespace stepward {
namespace {

struct Counted { std::size_t taken = 0, missed = 0, mended = 0; };

mend::Text without_lines(const mend::Text& text, const mend::Statement& s) {
  mend::Text out;
  for (const mend::TextLine& line : text)
    if (line.origin < s.first || line.origin > s.last) out.push_back(line);
  return out;
}

/// The same files with one of them changed for good: the "disk" of the mistake.
FilesInMemory with(const FilesInMemory& files, const std::string& path, const mend::Text& text) {
  FilesInMemory out = files;
  out.put(path, mend::joined(text));
  return out;
}

/// Errors that steps can clear; that a text in another language is no longer up to date is none of these.
std::size_t errors_of(const FilesInMemory& files, const std::string& main) {
  const mend::Seen seen = driver::recheck_of(main, files, "2031-01-15")({}, {std::nullopt, true, false, 2});
  return static_cast<std::size_t>(std::count_if(seen.findings.begin(), seen.findings.end(), [](const auto& d) {
    return d.severity == diagnostics::Severity::error && mend::is_of_the_walk(d.code);
  }));
}

bool is_mended(const FilesInMemory& broken, const std::string& main, const std::string& words) {
  const mend::Result result = mend::find_mends(driver::recheck_of(main, broken, "2031-01-15"), {600, 3, 2});
  const bool offered = !result.mends.empty() && result.mends.front().left == 0;
  std::printf("  %s\n      %zu errors, %zu mends, %zu changes tried\n", words.c_str(), result.errors.size(), offered ? result.mends.size() : 0, result.tried);
  if (!offered) return false;
  bool clean = true;
  for (const mend::Mend& m : result.mends) {
    for (const mend::Placed& p : m.changes)
      for (const std::string& line : p.change.lines) std::printf("      %s %u  %s\n", p.change.kind == mend::Change::Kind::move ? ">" : "+", p.before, mend::without_margin(line).c_str());
    FilesInMemory mended = broken;
    for (const auto& [path, text] : m.texts) mended.put(path, mend::joined(text));
    clean = clean && errors_of(mended, main) == 0;
  }
  std::fflush(stdout);
  return clean;
}

int run(const std::string& main, bool all) {
  FilesInMemory files;
  for (const auto& entry : std::filesystem::directory_iterator(std::filesystem::path(main).parent_path())) {
    if (entry.path().extension() != ".ward") continue;
    std::ifstream in(entry.path(), std::ios::binary);
    std::ostringstream text;
    text << in.rdbuf();
    files.put(entry.path().generic_string(), text.str());
  }
  const mend::Seen good = driver::recheck_of(main, files, "2031-01-15")({}, {std::nullopt, true, false, 2});
  if (!good.protocol || diagnostics::count(good.findings).errors > 0) return std::printf("%s is not clean\n", main.c_str()), 1;
  const mend::Outline outline = mend::outline_of(good.loaded, good.files, *good.protocol);
  Counted counted;
  for (const mend::Statement& s : outline.all) {
    if (!s.line || (!all && (*good.protocol)[s.line].verb != model::VerbKind::disinfect)) continue;
    const std::string& path = outline.paths[s.file];
    const FilesInMemory broken = with(files, path, without_lines(mend::text_of(good.files.text(good.loaded.files[s.file].tree.file)), s));
    ++counted.taken;
    if (errors_of(broken, main) == 0) continue;
    ++counted.missed;
    counted.mended += is_mended(broken, main, std::to_string(s.first) + "  " + s.words);
  }
  std::printf("%zu lines taken out one by one: %zu are missed, %zu of these mended\n", counted.taken, counted.missed, counted.mended);
  return all || (counted.missed > 0 && counted.mended == counted.missed) ? 0 : 1;
}

}  // namespace
}  // namespace stepward

int main(int count, char** words) {
  bool all = false;
  std::string file = STEPWARD_SOURCE_DIR "/examples/aldermoss-exit.ward";
  for (int i = 1; i < count; ++i) {
    if (std::strcmp(words[i], "--all") == 0) all = true;
    else if (std::strcmp(words[i], "--file") == 0 && i + 1 < count) file = words[++i];
    else return std::fprintf(stderr, "mend_example [--all] [--file PROTOCOL]\n"), 2;
  }
  return stepward::run(file, all);
}
