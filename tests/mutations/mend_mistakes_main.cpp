// Plants each of the twelve mistakes in both examples, the exit and the entry, and asks for mends.
//
// Places where a mistake makes no error are counted and passed over, until so many were found where it does.
// A mistake counts as mended if the first offer leaves no error and takes at most two written or moved lines. For some kinds no
// change of steps is the answer; the table says why, and there it only has to be told that none was found.
// Ends with 1 where a kind that steps can clear had a place that was not mended.

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstring>
#include <string>

#include "diagnostics/render.hpp"
#include "driver/mend_look.hpp"
#include "mend/search.hpp"
#include "mend/wants.hpp"
#include "operations.hpp"

namespace stepward::mutations {
namespace {

constexpr const char* today = "2031-01-15";
constexpr std::uint32_t most_lines = 2;
constexpr std::size_t passed_over = 8;  ///< so many places are looked at for each that is asked for

struct Settings { std::size_t places = 3; std::string only; bool verbose = false; };
struct Row { std::size_t places = 0, quiet = 0, apart = 0, mended = 0; double longest = 0; };

void print_offer(const mend::Mend& offer) {
  for (const mend::Placed& p : offer.changes) {
    std::printf("      %s line %u", p.change.kind == mend::Change::Kind::move ? "move" : "write", p.before);
    if (p.first != 0) std::printf(", from %u to %u", p.first, p.last);
    std::puts("");
    for (const std::string& line : p.change.lines) std::printf("        %s\n", mend::without_margin(line).c_str());
  }
}

void print_errors(const mend::Result& result) {
  for (const auto& d : result.before.findings)
    if (d.severity == diagnostics::Severity::error) std::printf("      %s %s\n", std::string(diagnostics::code_name(d.code)).c_str(), d.args.empty() ? "" : d.args.front().c_str());
}

/// The mistaken text with what it was not copied with: the entry that the example pairs with.
FilesInMemory files_of(const Mutant& m) {
  FilesInMemory files = examples_and_library(STEPWARD_SOURCE_DIR);
  m.copies.put_into(files);
  return files;
}

/// In how many pieces the lines of a range lie now.
std::size_t pieces_of(const Range& range, const Copies& copies) {
  std::size_t pieces = 0;
  for (std::uint32_t f = 0; f < copies.size(); ++f) {
    bool inside = false;
    for (const TextLine& line : copies.file(f)) {
      pieces += range.holds(line.origin) && !inside;
      inside = range.holds(line.origin);
    }
  }
  return pieces;
}

/// A mistake that took a line from one routine or file to another: no mend does that, since other runs come there.
bool is_apart(const Base& base, const Mutant& m) {
  for (std::uint32_t f = 0; f < base.loaded.files.size(); ++f)
    for (const syntax::NodeId top : base.loaded.files[f].tree.root().children) {
      const syntax::NodeKind kind = base[{f, top}].kind;
      const bool stands_alone = kind == syntax::NodeKind::routine || kind == syntax::NodeKind::any_time;
      if (stands_alone && pieces_of(base.range({f, top}), m.copies) > 1) return true;
    }
  return false;
}

/// Whether something was asked for: the mistake makes an error, and one file alone is wrong.
bool try_place(const Base& base, const Mutant& m, const Settings& s, Row& row) {
  if (is_apart(base, m)) {
    ++row.places;
    ++row.apart;
    return false;
  }
  const FilesInMemory files = files_of(m);
  const auto from = std::chrono::steady_clock::now();
  const mend::Result result = mend::find_mends(driver::recheck_of(base.main, files, today), {600, 3, 2});
  const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - from).count();
  row.longest = std::max(row.longest, seconds);
  ++row.places;
  if (!result.before.protocol) {  // what was deleted had given a name its meaning, and such a file is refused
    ++row.apart;
    return false;
  }
  if (result.errors.empty()) {
    ++row.quiet;
    return false;
  }
  const mend::Mend* best = result.mends.empty() ? nullptr : &result.mends.front();
  const bool mended = best && best->left == 0 && best->size <= most_lines;
  row.mended += mended;
  std::printf("  %s %5.1f s  %s  %s%s\n", mended ? "mended    " : best && best->left == 0 ? "longer    " : "NOT MENDED", seconds, base.place_words(m.place).c_str(),
              base.words(m.place).c_str(), m.note.empty() ? "" : ("  [" + m.note + "]").c_str());
  if (!mended || s.verbose) print_errors(result);
  if (best && (!mended || s.verbose)) print_offer(*best);
  std::fflush(stdout);
  return true;
}

/// So many places spread over all come first, then their neighbours.
std::vector<Mutant> spread(std::vector<Mutant> all, std::size_t most) {
  std::vector<Mutant> out;
  for (std::size_t step = 0; out.size() < all.size(); ++step)
    for (std::size_t part = 0; part < most; ++part)
      if (const std::size_t at = part * all.size() / most + step; at < (part + 1) * all.size() / most) out.push_back(std::move(all[at]));
  return out;
}

void try_kind(const Operation& kind, const Base& base, const Settings& s, Row& row) {
  std::size_t asked = 0, seen = 0;
  for (const Mutant& m : spread(kind.generate(base), s.places))
    if (asked < s.places && seen++ < passed_over * s.places) asked += try_place(base, m, s, row);
}

/// Why steps cannot be the answer to a kind of mistake; empty: they can.
std::string no_answer(const std::string& name) {
  if (name == "an arm or an ending deleted") return "no mend writes an ending, and an arm may hold one";
  if (name == "strong chlorine where hands may be bare") return "the agent of a line is wrong: no line may be taken away or changed";
  return "";
}

int run(const Settings& s) {
  const Base leaving = read_base(STEPWARD_SOURCE_DIR, "aldermoss-exit.ward"), entering = read_base(STEPWARD_SOURCE_DIR, "aldermoss-entry.ward");
  std::vector<std::pair<std::string, Row>> table;
  bool good = true;
  for (const Operation& o : mistakes()) {
    if (!s.only.empty() && std::string(o.name).find(s.only) == std::string::npos) continue;
    std::printf("%s\n", o.name);
    Row row;
    try_kind(o, leaving, s, row);
    try_kind(o, entering, s, row);
    good &= !no_answer(o.name).empty() || row.mended + row.quiet + row.apart == row.places;
    table.emplace_back(o.name, row);
  }
  std::printf("\n%-46s %6s %8s %9s %6s %10s\n", "mistake", "places", "no error", "not asked", "mended", "longest, s");
  for (const auto& [name, r] : table) std::printf("%-46s %6zu %8zu %9zu %6zu %10.1f  %s\n", name.c_str(), r.places, r.quiet, r.apart, r.mended, r.longest, no_answer(name).c_str());
  return good ? 0 : 1;
}

}  // namespace
}  // namespace stepward::mutations

int main(int count, char** words) {
  stepward::mutations::Settings s;
  for (int i = 1; i < count; ++i) {
    if (!std::strcmp(words[i], "--verbose")) s.verbose = true;
    else if (!std::strcmp(words[i], "--only") && i + 1 < count) s.only = words[++i];
    else if (!std::strcmp(words[i], "--places") && i + 1 < count) s.places = std::max(1ul, std::stoul(words[++i]));
    else return std::fprintf(stderr, "mend_mistakes [--places N] [--only WORDS] [--verbose]\n"), 2;
  }
  return stepward::mutations::run(s);
}
