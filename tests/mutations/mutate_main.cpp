// mutate [--all] [--entry] [--only WORDS] [--every N] [--verbose]: edits the example at many places and holds what the
// checker says against what it has to say.

#include <algorithm>
#include <cstdio>
#include <cstring>
#include <map>

#include "judge.hpp"
#include "wording/messages.hpp"

namespace stepward::mutations {
namespace {

struct Settings {
  bool all = false, verbose = false;
  std::size_t budget = 6;       ///< places of each kind in the short run
  std::string only;             ///< operations whose name holds these words
};

struct Row { std::size_t places = 0, found = 0, alone = 0, harmless = 0, missed = 0, without_story = 0; double seconds = 0; };

using Generator = std::vector<Mutant> (*)(const Base&);

/// Every place, or a fixed choice of them: the same in every run, and spread over the whole list.
std::vector<Mutant> chosen(std::vector<Mutant> all, const Settings& s) {
  if (s.all || all.size() <= s.budget) return all;
  std::vector<Mutant> out;
  for (std::size_t i = 0; i < s.budget; ++i) out.push_back(std::move(all[i * all.size() / s.budget]));
  return out;
}

std::string words_of(const Base& base, const Mutant& m) {
  return base.place_words(m.place) + "  " + base.words(m.place) + (m.note.empty() ? "" : "  [" + m.note + "]");
}

void print_errors(const Base& base, const Verdict& v, bool with_text) {
  for (const Reported& r : v.errors)
    std::printf("      %s %s %s  %s\n", r.expected ? "expected  " : "unexpected", std::string(diagnostics::code_name(r.code)).c_str(),
                base.place_words(r.at).c_str(), r.headline.c_str());
  if (with_text) std::fputs(v.text.c_str(), stdout);
}

void judge_mistake(const Base& base, const Mutant& m, const Settings& s, Row& row) {
  const JudgeOptions options{true, s.all};
  const Verdict v = judge(base, m, options);
  ++row.places;
  row.seconds += v.seconds;
  if (v.found) {
    ++row.found;
    row.alone += v.alone;
    row.without_story += !v.has_story;
    if (v.alone && v.has_story && !s.verbose) return;
    std::printf("  %s  %s\n", v.alone ? v.has_story ? "found" : "found, without a story" : "found with others", words_of(base, m).c_str());
    print_errors(base, v, s.verbose);
    return;
  }
  if (!v.errors.empty()) {
    ++row.missed;
    std::printf("  elsewhere  %s\n", words_of(base, m).c_str());
    print_errors(base, v, s.verbose);
    return;
  }
  const Reason why = explain(base, m, {false, false});
  ++(why.harmless ? row.harmless : row.missed);
  std::printf("  %s  %s\n      %s\n", why.harmless ? "harmless" : "MISSED", words_of(base, m).c_str(), why.words.c_str());
}

[[maybe_unused]] void judge_harmless(const Base& base, const Mutant& m, const Settings& s, Row& row) {
  const Verdict v = judge(base, m, {true, s.all});
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
  for (const Mutant& m : chosen(generate(base), s)) {
    judge_it(base, m, s, row);
    std::fflush(stdout);
  }
  return row;
}

struct Operation { const char* name; Generator generate; bool on_entry; };
const Operation mistakes[] = {
    {"a disinfection between removals deleted", disinfections_deleted, false},
    {"two removals swapped", removals_swapped, false},
    {"the tear question before the soil question", tear_before_soil, false},
    {"strong chlorine where hands may be bare", chlorine_at_bare_hands, false},
    {"a hand rub after the last glove deleted", last_rubs_deleted, false},
    {"an arm or an ending deleted", arms_and_endings_deleted, true},
    {"a loop whose body cannot change its answer", loops_without_look, true},
    {"a question before anyone looked", questions_before_look, true},
    {"the respirator off before the suit", respirator_before_suit, false},
    {"a dirty item carried over the border", carried_over_border, false},
    {"a removal deleted", removals_deleted, false},
    {"an item put on under another", put_on_under, true},
};

Settings settings(int count, char** words) {
  Settings s;
  for (int i = 1; i < count; ++i) {
    if (!std::strcmp(words[i], "--all")) s.all = true;
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
  const Settings s = settings(count, words);
  const Base leaving = read_base(STEPWARD_SOURCE_DIR, "aldermoss-exit.ward");
  const Base entering = read_base(STEPWARD_SOURCE_DIR, "aldermoss-entry.ward");
  std::vector<std::pair<std::string, Row>> table;
  for (const Operation& o : mistakes) {
    table.emplace_back(std::string(o.name) + " (leaving)", run(leaving, o.name, o.generate, judge_mistake, s));
    if (o.on_entry) table.emplace_back(std::string(o.name) + " (entering)", run(entering, o.name, o.generate, judge_mistake, s));
  }
  std::printf("\n%-62s %6s %6s %6s %9s %7s %8s\n", "mistake", "places", "found", "alone", "harmless", "missed", "seconds");
  for (const auto& [name, r] : table)
    std::printf("%-62s %6zu %6zu %6zu %9zu %7zu %8.1f\n", name.c_str(), r.places, r.found, r.alone, r.harmless, r.missed, r.seconds);
  return 0;
}
