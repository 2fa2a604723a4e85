// Edits the example at many places and holds what the checker says against what it has to say.
//
// Columns of mistakes:
//   found      with a right code (its own, or one that stands under it) at a right line
//   as meant   found, and every error reported is such
//   alone      found, and it is the only error
//   first      alone, or: where every run is cut at its first error, all of these stand at one right action line
//              (errors at questions and endings have no such line and do not count; codes are not looked at)
//   no story   found, but nothing tells how it comes about
//   harmless   not found, and shown to change nothing that any line behind it asks
//   missed     not found and not harmless, or found only by other codes or at other lines
// Then pairs of mistakes are made at once (pairs.hpp).
// The program ends with 1 when at fewer than 95 in 100 of the places that are not harmless the mistake was found *alone*
// with a story, when a pair hides one of its mistakes in more than 5 of 100, or when a harmless edit added an error.

#include <algorithm>
#include <cstdio>
#include <cstring>
#include <map>

#include "judge.hpp"
#include "operations.hpp"
#include "pairs.hpp"
#include "wording/messages.hpp"

namespace stepward::mutations {
namespace {

struct Settings {
  bool all = false, every_variant = false, verbose = false, mistakes = true, harmless = true;
  std::size_t budget = 4;       ///< places of each kind in the short run
  std::string only;             ///< operations whose name holds these words
};

struct Row { std::size_t places = 0, found = 0, as_expected = 0, alone = 0, first = 0, harmless = 0, missed = 0, without_story = 0; double seconds = 0; };

std::string words_of(const Base& base, const Mutant& m) {
  return base.place_words(m.place) + "  " + base.words(m.place) + (m.note.empty() ? "" : "  [" + m.note + "]");
}

void print_errors(const Base& base, const Verdict& v, bool with_text) {
  for (const Reported& r : v.errors)
    std::printf("      %s %s %s  %s\n", r.expected ? "expected  " : "unexpected", std::string(diagnostics::code_name(r.code)).c_str(),
                base.place_words(r.at).c_str(), r.headline.c_str());
  if (with_text) std::fputs(v.text.c_str(), stdout);
}

bool is_of_the_course(const Base& base, const Mutant& m) {
  const Course course = base.courses(base.variants[m.variant]).front();
  return std::any_of(course.begin(), course.end(), [&](const Step& step) { return step.at == m.place; });
}

void judge_mistake(const Base& base, const Mutant& m, const Settings& s, Row& row) {
  const JudgeOptions options{true, s.every_variant};
  const Verdict v = judge(base, m, options);
  ++row.places;
  row.seconds += v.seconds;
  if (v.found) {
    ++row.found;
    row.alone += v.alone;
    row.first += v.alone || (v.first_as_expected && v.first_lines == 1);
    row.as_expected += v.as_expected;
    row.without_story += !v.has_story;
    if (v.alone && v.has_story && !s.verbose) return;
    std::printf("  %s  %s\n", v.alone ? v.has_story ? "found" : "found, without a story" : "found with others", words_of(base, m).c_str());
    print_errors(base, v, s.verbose);
    if (!v.alone) std::printf("      cut at the first error of each run: %zu lines%s\n", v.first_lines, v.first_as_expected ? "" : ", some unexpected");
    return;
  }
  if (!v.errors.empty()) {
    ++row.missed;
    std::printf("  elsewhere  %s\n", words_of(base, m).c_str());
    print_errors(base, v, s.verbose);
    return;
  }
  // Without interruptions unless the place is met in them alone: what lies behind a line is the same with them.
  const Reason why = explain(base, m, {!is_of_the_course(base, m), false});
  ++(why.harmless ? row.harmless : row.missed);
  std::printf("  %s  %s\n      %s\n", why.harmless ? "harmless" : "MISSED", words_of(base, m).c_str(), why.words.c_str());
}

void judge_harmless(const Base& base, const Mutant& m, const Settings& s, Row& row) {
  const Verdict v = judge(base, m, {true, s.every_variant});
  ++row.places;
  row.seconds += v.seconds;
  if (v.errors.empty()) { ++row.found; return; }
  ++row.missed;
  std::printf("  ADDS ERRORS  %s\n", words_of(base, m).c_str());
  print_errors(base, v, s.verbose);
}

using Judge = void (*)(const Base&, const Mutant&, const Settings&, Row&);

Row run(const Base& base, const char* name, Generator generate, Judge judge_it, const Settings& s) {
  Row row;
  if (!s.only.empty() && std::string(name).find(s.only) == std::string::npos) return row;
  std::printf("%s\n", name);
  for (const Mutant& m : chosen(generate(base), s.all ? SIZE_MAX : s.budget)) {
    judge_it(base, m, s, row);
    std::fflush(stdout);
  }
  return row;
}

const Operation harmless[] = {
    {"an extra cleaning", extra_cleanings, false},
    {"an extra look", extra_looks, true},
    {"two independent lines swapped", independent_lines_swapped, true},
    {"a phase split", phases_split, true},
    {"an item renamed throughout", items_renamed, false},
    {"a note moved", notes_moved, true},
    {"a variant added", variants_added, true},
    {"a longer contact time", contact_times_longer, false},
    {"a routine inlined", routines_inlined, false},
    {"a routine extracted", routines_extracted, true},
};

using Table = std::vector<std::pair<std::string, Row>>;

Table run_all(const Base& leaving, const Base& entering, std::span<const Operation> operations, Judge judge_it, const Settings& s) {
  Table out;
  for (const Operation& o : operations) {
    out.emplace_back(std::string(o.name) + " (leaving)", run(leaving, o.name, o.generate, judge_it, s));
    if (o.on_entry) out.emplace_back(std::string(o.name) + " (entering)", run(entering, o.name, o.generate, judge_it, s));
  }
  out.erase(std::remove_if(out.begin(), out.end(), [](const auto& row) { return row.second.places == 0; }), out.end());
  return out;
}

Row sum(const Table& table) {
  Row out;
  for (const auto& [name, r] : table) {
    out.places += r.places; out.found += r.found; out.alone += r.alone; out.first += r.first; out.harmless += r.harmless; out.missed += r.missed;
    out.as_expected += r.as_expected; out.without_story += r.without_story; out.seconds += r.seconds;
  }
  return out;
}

void print(Table mistaken, Table harmed) {
  mistaken.emplace_back("all mistakes", sum(mistaken));
  harmed.emplace_back("all harmless edits", sum(harmed));
  std::printf("\n%-62s %6s %6s %9s %6s %6s %8s %9s %7s %8s\n", "mistake", "places", "found", "as meant", "alone", "first", "no story", "harmless", "missed", "seconds");
  for (const auto& [name, r] : mistaken)
    std::printf("%-62s %6zu %6zu %9zu %6zu %6zu %8zu %9zu %7zu %8.1f\n", name.c_str(), r.places, r.found, r.as_expected, r.alone, r.first, r.without_story, r.harmless, r.missed, r.seconds);
  std::printf("\n%-62s %6s %6s %10s %8s\n", "harmless edit", "places", "quiet", "adds error", "seconds");
  for (const auto& [name, r] : harmed)
    std::printf("%-62s %6zu %6zu %10zu %8.1f\n", name.c_str(), r.places, r.found, r.missed, r.seconds);
}

PairCount run_pairs(const Base& leaving, const Settings& s) {
  if (!s.mistakes || !s.only.empty()) return {};
  std::printf("two mistakes at once\n");
  std::vector<Mutant> all;
  for (const Operation& o : mistakes())
    for (Mutant& m : o.generate(leaving)) all.push_back(std::move(m));
  const PairCount pairs = judge_pairs(leaving, all, s.all ? 60 : 8);
  std::printf("  %zu pairs: both shown in %zu, as two errors or more in %zu\n", pairs.pairs, pairs.both, pairs.apart);
  return pairs;
}

bool is_enough(std::size_t part, std::size_t of) { return 100 * part >= 95 * of; }

int verdict(const Table& mistaken, const Table& harmed, const PairCount& pairs) {
  const Row m = sum(mistaken), h = sum(harmed);
  return is_enough(m.alone - m.without_story, m.places - m.harmless) && is_enough(pairs.both, pairs.pairs) && h.missed == 0 ? 0 : 1;
}

const char* const usage =
    "mutate              a fixed choice of places of each kind of edit\n"
    "  --all             every place\n"
    "  --places N        N places of each kind\n"
    "  --every-variant   check each edit in every variant, not only in one that meets its line\n"
    "  --only WORDS      kinds of edit whose name holds these words\n"
    "  --mistakes, --harmless   only these\n"
    "  --verbose         every place with the whole text of what was found\n";

Settings settings(int count, char** words) {
  Settings s;
  for (int i = 1; i < count; ++i) {
    if (!std::strcmp(words[i], "--all")) s.all = true;
    if (!std::strcmp(words[i], "--every-variant")) s.every_variant = true;
    if (!std::strcmp(words[i], "--mistakes")) s.harmless = false;
    if (!std::strcmp(words[i], "--harmless")) s.mistakes = false;
    if (!std::strcmp(words[i], "--verbose")) s.verbose = true;
    if (!std::strcmp(words[i], "--only") && i + 1 < count) s.only = words[++i];
    if (!std::strcmp(words[i], "--places") && i + 1 < count) s.budget = std::stoul(words[++i]);
  }
  return s;
}

}  // namespace
}  // namespace stepward::mutations

int main(int count, char** words) {
  using namespace stepward::mutations;
  if (count > 1 && !std::strcmp(words[1], "--help")) { std::fputs(usage, stdout); return 0; }
  const Settings s = settings(count, words);
  const Base leaving = read_base(STEPWARD_SOURCE_DIR, "aldermoss-exit.ward");
  const Base entering = read_base(STEPWARD_SOURCE_DIR, "aldermoss-entry.ward");
  const auto mistaken = s.mistakes ? run_all(leaving, entering, mistakes(), judge_mistake, s) : Table();
  const auto harmed = s.harmless ? run_all(leaving, entering, harmless, judge_harmless, s) : Table();
  const PairCount pairs = run_pairs(leaving, s);
  print(mistaken, harmed);
  return verdict(mistaken, harmed, pairs);
}
