// Deletes every line and swaps every two neighbours, one edit at a time, and says by what each is caught.
//
// Subjects are the published orders under their own packs (tests/published) and the example, leaving and entering. Each
// edit counts once: by physics if that finds it, else by a rule, else by its course (a refused text, an arm that cannot be
// reached, a promised ending that never comes), else by a new warning, else by nothing. Sheets with one pair of gloves keep
// their packs with perfect hands only; what slips through there is tried with ordinary hands and without packs as well.
//
// Somebody's skin hangs on six kinds of line: disinfections, hand rubs, removals, looks, changes of gloves, moves. Where
// the deletion of one is caught by nothing, its harmlessness is computed: from some line on, every situation of the edited
// protocol is one that the original has too (explain.cpp names surfaces and lines). The second explorer of tests/oracle
// then walks the edited text by itself and must find no error either. What is neither caught nor proved stands in a list of
// exceptions, at most five, each with its reason, and none that is not needed.
//
// Of the library's protocols (`--library`), of which there are many, 95 of 100 such deletions have to be caught or proved.
//
// Ends with 1 if a deletion of these kinds is open, if the second explorer finds an error, or if the list is wrong.

#include <algorithm>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <map>

#include "caught.hpp"
#include "every_line.hpp"
#include "removal_orders.hpp"
#include "subjects.hpp"

namespace stepward::mutations {
namespace {

struct Settings { bool orders = true, example = true, library = false, all = false, verbose = false; std::size_t step = 20, most_states = 60'000; std::string only; };

/// A deletion that nothing catches, and that changes something at the end or is too large for the second explorer.
struct Exception { const char* subject; const char* file; const char* line; const char* reason; };
const std::vector<Exception> exceptions = {
    {"aldermoss-exit.ward", "aldermoss-exit.ward", "move to exit area",
     "after a splash in the care room: an emergency ending holds nobody to a place, since what it comes to is not in the protocol's hands"},
    {"aldermoss-exit.ward", "aldermoss-exit.ward", "observer disinfects hands with strong chlorine",
     "shown to be harmless by the first walk (the observer touches nothing afterwards); the second does not come to an end"},
    {"aldermoss-exit.ward", "cleansing.ward", "disinfect bare hands with hand rub",
     "shown to be harmless by the first walk (an interruption while hands are bare; the rub of the line it comes back to follows); the second does not come to an end"},
};

struct Tally {
  std::size_t edits = 0, by[ways_to_be_caught] = {}, harmless = 0, excepted = 0, open = 0;
  void add(const Tally& t) {
    edits += t.edits; harmless += t.harmless; excepted += t.excepted; open += t.open;
    for (std::size_t i = 0; i < ways_to_be_caught; ++i) by[i] += t.by[i];
  }
};

struct Report {
  std::map<std::string, std::pair<Tally, Tally>> subjects;  ///< deletions, swaps
  std::map<Deleted, Tally> kinds;
  std::map<std::string, std::size_t> by_what;   ///< code or rule
  std::vector<bool> exception_used = std::vector<bool>(exceptions.size());
  std::size_t open = 0, disputed = 0;
};

bool is_of_the_course(const Base& base, const Mutant& m) {
  const Course course = base.courses(base.variants[m.variant]).front();
  return std::any_of(course.begin(), course.end(), [&](const Step& step) { return step.at == m.place; });
}

class Examination {
 public:
  /// `stricter`: the same lines read with ordinary hands, where `base` is read with perfect ones.
  Examination(std::string name, const Base& base, const Base* stricter, const Settings& settings, Report& report)
      : name_(std::move(name)), base_(base), stricter_(stricter), settings_(settings), report_(report) {}

  void run(std::size_t step) {
    const auto deletions = every_deletion(base_), again = stricter_ ? every_deletion(*stricter_) : std::vector<Deletion>();
    for (std::size_t i = 0; i < deletions.size(); i += step) examine(deletions[i], stricter_ ? &again[i].mutant : nullptr);
    if (!settings_.only.empty()) return;
    const auto looks = looks_with_questions(base_);
    for (std::size_t i = 0; i < looks.size(); i += step) count(looks[i].mutant, nullptr, report_.kinds[looks[i].kind]);
    const auto swaps = every_swap(base_), swapped_again = stricter_ ? every_swap(*stricter_) : std::vector<Mutant>();
    for (std::size_t i = 0; i < swaps.size(); i += step) count(swaps[i], stricter_ ? &swapped_again[i] : nullptr, report_.subjects[name_].second);
    std::fflush(stdout);
  }

 private:
  By count(const Mutant& m, const Mutant* again, Tally& tally) {
    Caught c = caught(judge(base_, m, {true, false}), unedited(m.variant));
    if (c.by > By::course && again)
      if (const Caught with_ordinary_hands = caught(judge(*stricter_, *again, {true, false}), {}); with_ordinary_hands.by == By::physics) c = with_ordinary_hands;
    ++tally.edits;
    ++tally.by[static_cast<std::size_t>(c.by)];
    if (c.by != By::nothing) ++report_.by_what[c.what];
    if (settings_.verbose)
      std::printf("  %-9s %-6s %s %s %s\n", std::string(words(c.by)).c_str(), c.what.c_str(), m.operation.c_str(), place(m).c_str(), m.note.c_str());
    return c.by;
  }

  void examine(const Deletion& d, const Mutant* again) {
    if (place(d.mutant).find(settings_.only) == std::string::npos) return;
    Tally tally;
    if (count(d.mutant, again, tally) == By::nothing && has_to_be_caught(d.kind)) explain_or_except(d, tally);
    report_.subjects[name_].first.add(tally);
    report_.kinds[d.kind].add(tally);
  }

  void explain_or_except(const Deletion& d, Tally& tally) {
    const bool interruptions = !is_of_the_course(base_, d.mutant);
    const Reason why = explain(base_, d.mutant, {interruptions, false});
    if (!why.harmless && excepted(d.mutant)) {
      ++tally.excepted;
      return;
    }
    const SecondWord second = why.harmless ? ask_second_explorer(base_, d.mutant, settings_.most_states) : SecondWord();
    const bool agreed = second.complete && second.errors.empty();
    if (why.harmless && !second.complete && excepted(d.mutant)) {
      ++tally.excepted;
      return;
    }
    ++(why.harmless && agreed ? tally.harmless : tally.open);
    report_.open += !why.harmless || !agreed;
    report_.disputed += why.harmless && !agreed;
    std::printf("%s: %s deleted, %s\n  %s: %s\n", name_.c_str(), std::string(words(d.kind)).c_str(), place(d.mutant).c_str(),
                why.harmless ? agreed ? "harmless, and the second explorer finds no error" : "DISPUTED" : "OPEN", why.words.c_str());
    for (const std::string& error : second.errors) std::printf("  second explorer: %s\n", error.c_str());
    if (why.harmless && !second.complete) std::printf("  second explorer: too many situations\n");
  }

  bool excepted(const Mutant& m) {
    for (std::size_t i = 0; i < exceptions.size(); ++i) {
      const bool same_file = base_.files.path(source::FileId(m.place.file)) == exceptions[i].file;
      if (name_ != exceptions[i].subject || !same_file || base_.words(m.place) != exceptions[i].line) continue;
      std::printf("%s: %s\n  excepted: %s\n", name_.c_str(), place(m).c_str(), exceptions[i].reason);
      report_.exception_used[i] = true;
      return true;
    }
    return false;
  }

  const Verdict& unedited(std::size_t variant) {
    const auto known = unedited_.find(variant);
    if (known != unedited_.end()) return known->second;
    Mutant none;
    none.copies = base_.copies;
    none.variant = variant;
    return unedited_[variant] = judge(base_, none, {true, false});
  }

  std::string place(const Mutant& m) const { return base_.place_words(m.place) + "  " + base_.words(m.place); }

  std::string name_;
  const Base& base_;
  const Base* stricter_;
  const Settings& settings_;
  Report& report_;
  std::map<std::size_t, Verdict> unedited_;
};

void print_row(const std::string& name, const Tally& t) {
  std::printf("%-52s %6zu %8zu %6zu %7zu %8zu %8zu %9zu %9zu %5zu\n", name.c_str(), t.edits, t.by[0], t.by[1], t.by[2], t.by[3], t.by[4], t.harmless, t.excepted, t.open);
}

void print_shares(const char* what, const Tally& t) {
  std::printf("%s:", what);
  for (std::size_t i = 0; i < ways_to_be_caught; ++i)
    std::printf(" %s %.1f %%%s", std::string(words(static_cast<By>(i))).c_str(), t.edits ? 100.0 * static_cast<double>(t.by[i]) / static_cast<double>(t.edits) : 0.0,
                i + 1 < ways_to_be_caught ? "," : "\n");
}

void print(const Report& report) {
  const char* const columns = "%-52s %6s %8s %6s %7s %8s %8s %9s %9s %5s\n";
  const auto head = [&](const char* what) { std::printf("\n"); std::printf(columns, what, "edits", "physics", "rule", "course", "warning", "nothing", "harmless", "excepted", "open"); };
  Tally deleted, swapped;
  head("deletions");
  for (const auto& [name, tallies] : report.subjects) { print_row(name, tallies.first); deleted.add(tallies.first); }
  print_row("all deletions", deleted);
  head("deletions by kind");
  for (const auto& [kind, tally] : report.kinds) print_row(std::string(words(kind)), tally);
  head("swaps of neighbours");
  for (const auto& [name, tallies] : report.subjects) { print_row(name, tallies.second); swapped.add(tallies.second); }
  print_row("all swaps", swapped);
  std::printf("\n");
  print_shares("deletions", deleted);
  print_shares("swaps", swapped);
  std::printf("\ncaught by");
  for (const auto& [what, count] : report.by_what) std::printf("  %s %zu", what.c_str(), count);
  std::printf("\n");
}

void run_orders(const Settings& s, Report& report) {
  for (const published::Order& order : published::all_removal_orders()) {
    const std::string_view reading = published::reading_of(order);
    const Base base = base_of_order(order, {.reading = reading, .packs = published::own_packs(order)});
    std::optional<Base> stricter;
    if (reading == "perfect hands" && !order.needs_perfect_hands) stricter = base_of_order(order, {});
    Examination(std::string(order.id), base, stricter ? &*stricter : nullptr, s, report).run(1);
  }
}

void run_example(const Settings& s, Report& report) {
  for (const char* name : {"aldermoss-exit.ward", "aldermoss-entry.ward"}) {
    const Base base = read_base(STEPWARD_SOURCE_DIR, name);
    Examination(name, base, nullptr, s, report).run(s.all ? 1 : s.step);
  }
}

/// The protocols of the standard library, one after the other. They are wrong versions made by operators, not by hand.
void run_library(const Settings& s, Report& report) {
  const std::filesystem::path folder = std::filesystem::path(STEPWARD_SOURCE_DIR) / "stdlib-procedures/protocols";
  std::vector<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(folder)) names.push_back(entry.path().filename().string());
  std::sort(names.begin(), names.end());
  for (const std::string& name : names) {
    const Base base = read_base(STEPWARD_SOURCE_DIR, name);
    Examination(name, base, nullptr, s, report).run(s.all ? 1 : s.step);
  }
}

/// Of the deletions that matter to somebody's skin, the share that is caught or shown to be harmless.
double share_found(const Report& report) {
  std::size_t edits = 0;
  for (const auto& [kind, tally] : report.kinds)
    if (has_to_be_caught(kind)) edits += tally.edits;
  return edits ? 1.0 - static_cast<double>(report.open) / static_cast<double>(edits) : 0.0;
}

/// The list of exceptions is short, and every one of them is still needed.
bool list_is_right(const Settings& s, const Report& report) {
  bool right = exceptions.size() <= 5;
  if (s.all && s.example && s.only.empty())
    for (std::size_t i = 0; i < exceptions.size(); ++i)
      if (!report.exception_used[i]) { std::printf("no longer needed: %s: %s\n", exceptions[i].subject, exceptions[i].line); right = false; }
  return right;
}

const char* const usage =
    "order_report        every edit of every published order, and of the example a fixed choice\n"
    "  --all             every edit of the example, too\n"
    "  --published       the published orders alone\n"
    "  --example         the example alone\n"
    "  --library         the protocols of the standard library alone, of which 95 % have to be caught or harmless\n"
    "  --step N          every Nth edit of the example or the library (20)\n"
    "  --only WORDS      deletions of lines that hold these words, or stand at aldermoss-exit.ward:94\n"
    "  --most-states N   where the second explorer gives up (60000, about 1.5 GB)\n"
    "  --verbose         each edit, and by what it is caught\n";

Settings settings(int count, char** words) {
  Settings s;
  for (int i = 1; i < count; ++i) {
    if (!std::strcmp(words[i], "--all")) s.all = true;
    if (!std::strcmp(words[i], "--published")) s.example = false;
    if (!std::strcmp(words[i], "--example")) s.orders = false;
    if (!std::strcmp(words[i], "--library")) { s.library = true; s.orders = s.example = false; }
    if (!std::strcmp(words[i], "--verbose")) s.verbose = true;
    if (!std::strcmp(words[i], "--only") && i + 1 < count) s.only = words[++i];
    if (!std::strcmp(words[i], "--most-states") && i + 1 < count) s.most_states = std::stoul(words[++i]);
    if (!std::strcmp(words[i], "--step") && i + 1 < count) s.step = std::stoul(words[++i]);
  }
  return s;
}

}  // namespace
}  // namespace stepward::mutations

int main(int count, char** words) {
  using namespace stepward::mutations;
  if (count > 1 && !std::strcmp(words[1], "--help")) { std::fputs(usage, stdout); return 0; }
  const Settings s = settings(count, words);
  std::setvbuf(stdout, nullptr, _IOLBF, 1 << 12);  // the example takes minutes; what is open shows at once
  Report report;
  if (s.orders) run_orders(s, report);
  if (s.example) run_example(s, report);
  if (s.library) run_library(s, report);
  print(report);
  std::printf("%zu deletions open, %zu of them disputed by the second explorer\n", report.open, report.disputed);
  if (s.library) {
    std::printf("%.1f %% of them are caught or shown to be harmless\n", 100 * share_found(report));
    return share_found(report) >= 0.95 ? 0 : 1;
  }
  return report.open == 0 && list_is_right(s, report) ? 0 : 1;
}
