// spin_compare [--count N] [--from N] [--keep DIR]: random procedures, walked here and by the model checker SPIN on the
// same lists of effects written out as Promela. Both must store the same number of states and meet the same reports.
//
// SPIN (Debian package `spin`) writes a verifier in C, which gcc compiles; it is run without any reduction of its own
// and with full states, so that its counts are exact. Exit 0: all agree. 1: they differ. 2: SPIN or gcc is missing.

#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <set>
#include <sstream>
#include <string>

#include <fmt/format.h>

#include "effects/from_graph.hpp"
#include "explore/walk.hpp"
#include "graph/from_model.hpp"
#include "model/variants.hpp"
#include "promela.hpp"
#include "rules/weave.hpp"
#include "trial.hpp"

namespace {

using namespace stepward;
namespace disk = std::filesystem;

struct Counted {
  std::uint64_t states = 0;
  std::set<std::uint32_t> reports;  ///< of the system
  friend bool operator==(const Counted&, const Counted&) = default;
};

std::string text_of(const disk::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

bool run_in(const disk::path& folder, const std::string& command) {
  return std::system(fmt::format("cd '{}' && {} > log 2>&1", folder.string(), command).c_str()) == 0;
}

Counted walked_here(const effects::System& system, bool& some_run_ends) {
  const explore::Packed packed = explore::pack(system, true);
  const explore::Result result = explore::walk(packed, {});
  Counted out;
  out.states = result.size();
  for (const explore::Found& f : result.found) out.reports.insert(packed.reports[f.report].value);
  for (std::uint32_t to : result.successors) some_run_ends |= to == UINT32_MAX;
  return out;
}

/// What SPIN counts, less its state before the first step and the one where runs end.
Counted walked_by_spin(const effects::System& system, const disk::path& folder, bool some_run_ends) {
  disk::create_directories(folder);
  std::ofstream(folder / "m.pml") << spin::as_promela(system);
  const bool built = run_in(folder, "spin -a m.pml") && run_in(folder, "gcc -O1 -w -DSAFETY -DNOREDUCE -DNOFAIR -DVECTORSZ=8192 -o pan pan.c");
  if (!built || !run_in(folder, "./pan -E -m2000000 -w22 -c0")) {
    std::fprintf(stderr, "SPIN did not get through; see %s/log:\n%s\n", folder.string().c_str(), text_of(folder / "log").substr(0, 2000).c_str());
    return {};
  }
  Counted out;
  std::istringstream lines(text_of(folder / "log"));
  for (std::string line; std::getline(lines, line);) {
    unsigned report = 0;
    double states = 0;
    if (std::sscanf(line.c_str(), "MET %u", &report) == 1) out.reports.insert(report);
    if (line.find("states, stored") != std::string::npos && std::sscanf(line.c_str(), "%lf", &states) == 1) out.states = static_cast<std::uint64_t>(states);
  }
  out.states -= 1 + some_run_ends;
  return out;
}

effects::System lowered(const model::Protocol& protocol, const model::Variant& variant) {
  const graph::Graph graph = graph::from_model(protocol, variant, graph::Contexts::apart);
  effects::Lowered lowered = effects::from_graph(protocol, graph, effects::HoldBack::no);
  rules::weave(protocol, lowered, effects::HoldBack::no);
  return effects::finish(std::move(lowered), false);
}

}  // namespace

int main(int count, char** words) {
  std::uint64_t from = 1, wanted = 20;
  disk::path folder = disk::temp_directory_path() / fmt::format("spin-{}", static_cast<const void*>(&from));
  bool keep = false;
  for (int i = 1; i + 1 < count; ++i) {
    if (!std::strcmp(words[i], "--count")) wanted = std::stoull(words[++i]);
    else if (!std::strcmp(words[i], "--from")) from = std::stoull(words[++i]);
    else if (!std::strcmp(words[i], "--keep")) { folder = words[++i]; keep = true; }
  }
  if (std::system("spin -V > /dev/null 2>&1 && gcc --version > /dev/null 2>&1") != 0) {
    std::fputs("spin or gcc is not installed\n", stderr);
    return 2;
  }
  std::uint64_t compared = 0, differ = 0, states = 0, reports = 0;
  for (std::uint64_t number = from; compared < wanted; ++number) {
    const oracle::Trial trial = oracle::read_procedure(number);
    if (!trial.protocol) continue;
    const model::Variant variant = model::all_variants(*trial.protocol).front();
    const effects::System system = lowered(*trial.protocol, variant);
    bool some_run_ends = false;
    const Counted here = walked_here(system, some_run_ends);
    const Counted there = walked_by_spin(system, folder, some_run_ends);
    ++compared;
    states += here.states;
    reports += here.reports.size();
    if (here == there) continue;
    ++differ;
    std::printf("procedure %llu: %llu states and %zu reports here, %llu and %zu in SPIN\n", static_cast<unsigned long long>(number),
                static_cast<unsigned long long>(here.states), here.reports.size(), static_cast<unsigned long long>(there.states), there.reports.size());
  }
  if (!keep) disk::remove_all(folder);
  std::printf("%llu procedures, %llu states, %llu reports: %llu differ\n", static_cast<unsigned long long>(compared), static_cast<unsigned long long>(states),
              static_cast<unsigned long long>(reports), static_cast<unsigned long long>(differ));
  return differ == 0 ? 0 : 1;
}
