// oracle_compare [--count N] [--from N] [--one N] [--keep-going] [--demand] [--file PATH] [--library [--most-states N]]: random procedures, one
// that is given as a file that uses none but the standard library, or all protocols of that library, through both walks. With --demand the procedures must also be a fair
// sample: every verb, effect, pattern, loop exit and interruption ending in one of twenty, and walks of some size.
//
// Prints the first disagreement with the procedure's text and both lists, and the table of what the walks came across.
// Exit 0: both agree on all. 1: they differ, or the sample is not fair. 2: wrong arguments.
#include <atomic>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <fstream>
#include <iterator>
#include <mutex>
#include <thread>
#include <vector>

#include "compare.hpp"
#include "coverage.hpp"
#include "model/variants.hpp"
#include "resolve/standard_library.hpp"

namespace {

using namespace stepward::oracle;

struct Request {
  std::uint64_t from = 0, count = 2000;
  bool keep_going = false, print_all = false, demand = false;
  const char* file = nullptr;
  bool library = false;
  std::size_t most_with_interruptions = 30'000;  ///< of one variant of the library, before its interruptions are left out
};

/// What one thread found out.
struct Findings {
  Coverage coverage;
  std::size_t refused = 0, incomplete = 0;
};

constexpr std::size_t most_states = 200'000;

/// Both walks of one procedure, all variants. Returns the disagreement in words.
std::string compare(const Trial& trial, Findings& found) {
  std::vector<Result> walks;
  std::string differs;
  for (const Variant& variant : stepward::model::all_variants(*trial.protocol)) {
    walks.push_back(explore(*trial.protocol, variant, most_states));
    if (!walks.back().is_complete) {
      ++found.incomplete;
      continue;
    }
    const std::vector<Common> slow = slow_findings(*trial.protocol, walks.back());
    for (const bool reduce : {false, true}) {
      const std::string here = disagreement(slow, fast_findings(*trial.protocol, variant, reduce));
      if (here.empty()) continue;
      differs += std::string("variant ") + stepward::model::variant_name(*trial.protocol, variant) +
                 (reduce ? " (reduced)\n" : " (not reduced)\n") + here;
      break;
    }
  }
  found.coverage.add(walks);
  return differs;
}

class Comparison {
 public:
  explicit Comparison(const Request& request) : request_(request), next_(request.from) {}

  int run() {
    std::vector<Findings> found(2);
    std::vector<std::thread> threads;
    for (Findings& each : found) threads.emplace_back([this, &each] { work(each); });
    for (std::thread& thread : threads) thread.join();
    Coverage all = found[0].coverage;
    all.add(found[1].coverage);
    std::fputs(all.table().c_str(), stdout);
    std::printf("%zu refused, %zu not walked to the end, %zu disagree\n", found[0].refused + found[1].refused,
                found[0].incomplete + found[1].incomplete, differing_);
    const std::string shortfalls = request_.demand ? all.shortfalls() : std::string();
    std::fputs(shortfalls.c_str(), stdout);
    return differing_ == 0 && shortfalls.empty() ? 0 : 1;
  }

 private:
  Request request_;
  std::atomic<std::uint64_t> next_;
  std::atomic<bool> stop_{false};
  std::mutex printing_;
  std::size_t differing_ = 0;

  void work(Findings& found) {
    while (!stop_) {
      const std::uint64_t number = next_++;
      if (number >= request_.from + request_.count) return;
      const Trial trial = read_procedure(number);
      if (!trial.protocol) {
        ++found.refused;
        tell(number, trial, "refused\n");
        continue;
      }
      const std::string differs = compare(trial, found);
      if (!differs.empty()) tell(number, trial, differs);
    }
  }

  void tell(std::uint64_t number, const Trial& trial, const std::string& what) {
    const std::lock_guard<std::mutex> lock(printing_);
    if (differing_++ == 0 || request_.print_all) {
      std::printf("%s\n", trial.text.c_str());
      for (const std::string& refusal : trial.refusals) std::printf("%s\n", refusal.c_str());
    }
    std::printf("procedure %llu\n%s\n", static_cast<unsigned long long>(number), what.c_str());
    if (!request_.keep_going) stop_ = true;
  }
};

int compare_file(const char* path) {
  std::ifstream file(path);
  const Trial trial = read_text({std::istreambuf_iterator<char>(file), {}});
  for (const std::string& refusal : trial.refusals) std::printf("%s\n", refusal.c_str());
  if (!trial.protocol) return 1;
  for (const Variant& variant : stepward::model::all_variants(*trial.protocol)) {
    const Result walk = explore(*trial.protocol, variant, most_states);
    for (const auto& [finding, steps] : walk.shortest) std::printf("%s, %d steps\n", to_string(finding).c_str(), steps);
    std::printf("%zu states\n", walk.states);
  }
  Findings found;
  const std::string differs = compare(trial, found);
  std::printf("%s", differs.empty() ? "both walks agree\n" : differs.c_str());
  return differs.empty() ? 0 : 1;
}

/// One variant of a protocol of the library; where its interruptions make too many worlds for the slow walk, without them.
bool compare_variant(const std::string& name, Protocol protocol, const Variant& variant, std::size_t most_with_interruptions) {
  Result walk = explore(protocol, variant, most_with_interruptions);
  const bool whole = walk.is_complete;
  if (!whole) {
    protocol.interruptions.clear();
    walk = explore(protocol, variant, most_states);
  }
  const auto slow = slow_findings(protocol, walk);
  std::string differs = disagreement(slow, fast_findings(protocol, variant, false));
  if (differs.empty()) differs = disagreement(slow, fast_findings(protocol, variant, true));
  const char* reach = !walk.is_complete ? "NOT WALKED TO THE END" : whole ? "" : ", without interruptions";
  std::printf("%s, %s: %zu states%s\n%s", name.c_str(), stepward::model::variant_name(protocol, variant).c_str(), walk.states, reach, differs.c_str());
  return walk.is_complete && differs.empty();
}

/// Every protocol of the standard library, in all its variants.
int compare_library(std::size_t most_with_interruptions) {
  bool all_agree = true;
  for (const auto& file : stepward::resolve::standard_files()) {
    if (!stepward::resolve::is_protocol(file)) continue;
    const Trial trial = read_text(std::string(file.text));
    for (const std::string& refusal : trial.refusals) std::printf("%s: %s\n", std::string(file.path).c_str(), refusal.c_str());
    all_agree = all_agree && trial.protocol.has_value();
    if (!trial.protocol) continue;
    for (const Variant& variant : stepward::model::all_variants(*trial.protocol))
      all_agree = compare_variant(std::string(file.path), *trial.protocol, variant, most_with_interruptions) && all_agree;
  }
  std::printf(all_agree ? "both walks agree\n" : "they do not agree on all\n");
  return all_agree ? 0 : 1;
}

bool read_arguments(int count, char** words, Request& request) {
  for (int at = 1; at < count; ++at) {
    const bool has_number = at + 1 < count;
    if (std::strcmp(words[at], "--keep-going") == 0)
      request.keep_going = true;
    else if (std::strcmp(words[at], "--count") == 0 && has_number)
      request.count = std::strtoull(words[++at], nullptr, 10);
    else if (std::strcmp(words[at], "--from") == 0 && has_number)
      request.from = std::strtoull(words[++at], nullptr, 10);
    else if (std::strcmp(words[at], "--demand") == 0)
      request.demand = true;
    else if (std::strcmp(words[at], "--library") == 0)
      request.library = true;
    else if (std::strcmp(words[at], "--most-states") == 0 && has_number)
      request.most_with_interruptions = std::strtoull(words[++at], nullptr, 10);
    else if (std::strcmp(words[at], "--file") == 0 && has_number)
      request.file = words[++at];
    else if (std::strcmp(words[at], "--one") == 0 && has_number) {
      request = {std::strtoull(words[++at], nullptr, 10), 1, true, true, false, nullptr, false, 0};
    } else
      return false;
  }
  return true;
}

}  // namespace

int main(int count, char** words) {
  Request request;
  if (!read_arguments(count, words, request)) {
    std::fputs("oracle_compare [--count N] [--from N] [--one N] [--keep-going] [--demand] [--file PATH] [--library [--most-states N]]\n", stderr);
    return 2;
  }
  std::setvbuf(stdout, nullptr, _IOLBF, 1 << 12);  // what was found shows at once
  if (request.library) return compare_library(request.most_with_interruptions);
  if (request.file != nullptr) return compare_file(request.file);
  return Comparison(request).run();
}
