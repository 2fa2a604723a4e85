// spin_compare [--count N] [--from N] [--keep DIR] [--file FILE]… [--first-variant] [--quiet-runs] [--most-states N]: random
// procedures, or all variants (or the first) of given protocols, walked here and by the model checker SPIN on the same lists of effects written out as
// Promela. Both must store the same number of states and meet the same reports, each after the same least number of steps.
//
// `--quiet-runs` leaves interruptions out; walks of more than `--most-states` are said to be left out.
//
// SPIN (Debian package `spin`) writes a verifier in C, which gcc compiles; it is run without any reduction of its own
// and with full states, so that its counts are exact. Exit 0: all agree. 1: they differ. 2: SPIN or gcc is missing.

#include <cstdio>
#include <cstring>
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "effects/from_graph.hpp"
#include "explore/walk.hpp"
#include "graph/from_model.hpp"
#include "model/variants.hpp"
#include "promela.hpp"
#include "rules/weave.hpp"
#include "trial.hpp"
#include "verifier.hpp"

namespace {

using namespace stepward;
namespace disk = std::filesystem;

struct Counted {
  std::uint64_t states = 0;
  std::map<std::uint32_t, std::uint32_t> reports;  ///< of the system, with the steps of a shortest run
  friend bool operator==(const Counted&, const Counted&) = default;
};

struct Request {
  std::uint64_t from = 1, wanted = 20, most_states = 20'000'000;
  std::vector<std::string> files;
  bool interruptions = true, first_variant = false;
};

Counted walked_here(const effects::System& system, const Request& request, bool& some_run_ends, bool& complete) {
  const explore::Packed packed = explore::pack(system, true);
  explore::Options options;
  options.limit = request.most_states;
  const explore::Result result = explore::walk(packed, options);
  complete = result.complete;
  Counted out;
  out.states = result.size();
  for (const explore::Found& f : result.found) {
    const std::uint32_t report = packed.reports[f.report].value;
    const auto [steps, fresh] = out.reports.try_emplace(report, f.steps);
    if (!fresh) steps->second = std::min(steps->second, f.steps);
  }
  for (std::uint32_t to : result.successors) some_run_ends |= to == UINT32_MAX;
  return out;
}

/// What SPIN counts, less its state before the first step and the one where runs end.
Counted walked_by_spin(const effects::System& system, const disk::path& folder, bool some_run_ends) {
  spin::Verified verified = spin::verified(spin::as_promela(system), folder);
  return {verified.states - 1 - some_run_ends, std::move(verified.met)};
}

effects::System lowered(const model::Protocol& protocol, const model::Variant& variant, const Request& request) {
  graph::Graph graph = graph::from_model(protocol, variant, graph::Contexts::apart);
  effects::Lowered lowered = rules::woven(protocol, graph, effects::HoldBack::no);
  if (!request.interruptions)
    for (effects::Edges& place : lowered.system.nodes) place.strike_count = 0;
  return effects::finish(std::move(lowered), false);
}

/// Holds walks against each other, one after the other, and keeps count.
class Comparison {
 public:
  Comparison(const Request& request, disk::path folder) : request_(request), folder_(std::move(folder)) {}

  void compare(const model::Protocol& protocol, const model::Variant& variant, const std::string& name) {
    const effects::System system = lowered(protocol, variant, request_);
    bool some_run_ends = false, complete = true;
    const Counted here = walked_here(system, request_, some_run_ends, complete);
    if (!complete) {
      std::printf("%s: left out, more than %llu states\n", name.c_str(), static_cast<unsigned long long>(request_.most_states));
      return;
    }
    const Counted there = walked_by_spin(system, folder_, some_run_ends);
    ++compared_;
    states_ += here.states;
    reports_ += here.reports.size();
    if (here == there) return;
    ++differ_;
    std::printf("%s: %llu states and %zu reports here, %llu and %zu in SPIN\n", name.c_str(), static_cast<unsigned long long>(here.states),
                here.reports.size(), static_cast<unsigned long long>(there.states), there.reports.size());
    for (const auto& [report, steps] : here.reports) {
      const auto other = there.reports.find(report);
      if (other == there.reports.end() || other->second != steps)
        std::printf("  report %u after %u steps here, %s in SPIN\n", report, steps,
                    other == there.reports.end() ? "never" : std::to_string(other->second).c_str());
    }
  }

  std::uint64_t compared() const { return compared_; }
  int summary() const {
    std::printf("%llu walks, %llu states, %llu reports with their lengths: %llu differ\n", static_cast<unsigned long long>(compared_),
                static_cast<unsigned long long>(states_), static_cast<unsigned long long>(reports_), static_cast<unsigned long long>(differ_));
    return differ_ == 0 ? 0 : 1;
  }

 private:
  const Request& request_;
  disk::path folder_;
  std::uint64_t compared_ = 0, differ_ = 0, states_ = 0, reports_ = 0;
};

}  // namespace

int main(int count, char** words) {
  Request request;
  disk::path folder = disk::temp_directory_path() / fmt::format("spin-{}", static_cast<const void*>(&request));
  bool keep = false;
  for (int i = 1; i < count; ++i) {
    const std::string word = words[i];
    const bool more = i + 1 < count;
    if (word == "--first-variant") request.first_variant = true;
    else if (word == "--quiet-runs") request.interruptions = false;
    else if (word == "--count" && more) request.wanted = std::stoull(words[++i]);
    else if (word == "--from" && more) request.from = std::stoull(words[++i]);
    else if (word == "--most-states" && more) request.most_states = std::stoull(words[++i]);
    else if (word == "--file" && more) request.files.push_back(words[++i]);
    else if (word == "--keep" && more) { folder = words[++i]; keep = true; }
    else { std::fprintf(stderr, "what is %s?\n", words[i]); return 2; }
  }
  if (!spin::is_installed()) return 2;
  Comparison comparison(request, folder);
  for (const std::string& file : request.files) {
    const auto protocol = spin::protocol_of(file);
    if (!protocol) { std::fprintf(stderr, "%s is no protocol without a mistake\n", file.c_str()); return 2; }
    for (const model::Variant& variant : model::all_variants(*protocol)) {
      comparison.compare(*protocol, variant, file + " " + model::variant_name(*protocol, variant));
      if (request.first_variant) break;
    }
  }
  for (std::uint64_t number = request.from; request.files.empty() && comparison.compared() < request.wanted; ++number) {
    const oracle::Trial trial = oracle::read_procedure(number);
    if (trial.protocol) comparison.compare(*trial.protocol, model::all_variants(*trial.protocol).front(), fmt::format("procedure {}", number));
  }
  if (!keep) disk::remove_all(folder);
  return comparison.summary();
}
