// Counts the statements of docs/evidence/rule-packs.md that can be seen at work.
//
// Every line of rule-rows.txt is walked again: the protocol in which the rule is kept, and the edit after which a finding
// names it (shown_rows.hpp). Page and list have to agree: each of R01 to R70 stands on the page once, and is either in the
// list, by a name that the page gives for it, or has its reason on the page; and the page gives the numbers that are shown.
// Ends with 1 if any of this is not so, or if fewer than 55 are shown.
//
// `rule_rows --search` looks for all rows anew and prints the list.

#include <algorithm>
#include <cstdio>
#include <cstring>
#include <fstream>
#include <set>

#include <fmt/format.h>

#include "resolve/standard_library.hpp"
#include "shown_rows.hpp"

namespace stepward::mutations {
namespace {

constexpr std::size_t least_shown = 55, statements_listed = 70;
const std::string source_dir = STEPWARD_SOURCE_DIR;

std::string text_of_file(const std::string& path) {
  std::ifstream in(source_dir + path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

int failures = 0;
void fail(const std::string& number, const std::string& why) {
  ++failures;
  std::printf("%s: %s\n", number.c_str(), why.c_str());
}

/// The numbers R01 to R70, each once.
void check_numbers(const std::vector<PageRow>& page) {
  for (std::size_t i = 0; i < std::max(page.size(), statements_listed); ++i) {
    const std::string number = fmt::format("R{:02}", i + 1);
    if (i >= page.size() || page[i].number != number) return fail(number, "the page does not list it just once");
  }
}

const PageRow* row_numbered(const std::vector<PageRow>& page, const std::string& number) {
  const auto found = std::find_if(page.begin(), page.end(), [&](const PageRow& row) { return row.number == number; });
  return found == page.end() ? nullptr : &*found;
}

/// Each is in the list once, or has its reason on the page, and not both.
void check_page(const std::vector<PageRow>& page, const std::vector<ShownRow>& shown) {
  std::set<std::string> numbers;
  for (const ShownRow& row : shown)
    if (!numbers.insert(row.number).second) fail(row.number, "is in the list twice");
  for (const PageRow& row : page) {
    if (numbers.count(row.number) == 0 && row.reason.empty()) fail(row.number, "neither shown nor given a reason: " + row.stated_in);
    if (numbers.count(row.number) == 1 && !row.reason.empty()) fail(row.number, "shown, and the page says why nothing states it");
  }
}

/// Numbers of the rules in the packs of the standard library.
std::set<std::string> rules_of_packs() {
  std::set<std::string> out;
  for (const auto& file : resolve::standard_files()) {
    const std::string text(file.text);
    if (text.rfind("stepward 1 rules", 0) != 0) continue;
    for (std::size_t at = text.find("\nrule "); at != std::string::npos; at = text.find("\nrule ", at + 1)) out.insert(text.substr(at + 6, 4));
  }
  return out;
}

int run_test() {
  const std::string text = text_of_file("/docs/evidence/rule-packs.md");
  const auto page = rows_of_page(text);
  const auto listed = read_shown_rows(text_of_file("/tests/mutations/rule-rows.txt"));
  check_numbers(page);
  check_page(page, listed);
  Showing showing(all_subjects(source_dir));
  const auto packs = rules_of_packs();
  std::size_t shown = 0, by_packs = 0, by_findings = 0;
  for (const ShownRow& row : listed) {
    const PageRow* statement = row_numbered(page, row.number);
    const std::string why = statement ? showing.why_not_shown(*statement, row) : "is not on the page";
    if (!why.empty()) {
      fail(row.number, why + ": " + as_line(row));
      continue;
    }
    ++shown;
    by_packs += packs.count(row.by);
    by_findings += is_finding(row.by);
  }
  if (shown < least_shown) fail("count", fmt::format("fewer than {} are shown", least_shown));
  const std::string count = fmt::format("{} of the seventy are seen at work: {} by a rule of a pack, {} by a rule of one protocol, {} by a finding that needs no rule.",
                                        shown, by_packs, shown - by_packs - by_findings, by_findings);
  if (text.find(count) == std::string::npos) fail("count", "the page does not say: " + count);
  std::printf("%s\n", count.c_str());
  return failures == 0 ? 0 : 1;
}

int run_search(const std::set<std::string>& only) {
  auto page = rows_of_page(text_of_file("/docs/evidence/rule-packs.md"));
  if (!only.empty()) std::erase_if(page, [&](const PageRow& row) { return only.count(row.number) == 0; });
  const auto found = Showing(all_subjects(source_dir)).search(page);
  for (const ShownRow& row : found) std::printf("%s\n", as_line(row).c_str());
  for (const PageRow& row : page) {
    const bool is_found = std::any_of(found.begin(), found.end(), [&](const ShownRow& f) { return f.number == row.number; });
    if (!is_found && row.reason.empty()) std::fprintf(stderr, "not found: %s %s\n", row.number.c_str(), row.stated_in.c_str());
  }
  return 0;
}

const char* const usage =
    "rule_rows               walks every line of rule-rows.txt and holds it against the page\n"
    "  --search [R12 …]      looks for all rows anew, or for these, and prints the list; takes many minutes\n";

}  // namespace
}  // namespace stepward::mutations

int main(int count, char** words) {
  using namespace stepward::mutations;
  if (count == 1) return run_test();
  if (std::strcmp(words[1], "--search") == 0) return run_search({words + 2, words + count});
  std::fputs(usage, stdout);
  return std::strcmp(words[1], "--help") == 0 ? 0 : 2;
}
