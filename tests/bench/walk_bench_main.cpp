// walk_bench walk FILE [--variant N] [--threads N] [--shared-from N] [--reduce] [--limit N]: one variant walked, and what that took.
// walk_bench promela FILE FOLDER [--variant N]: the same lists of effects as Promela, as m.pml and steps.h in a folder.
//
// Without --reduce nothing is forgotten, so that both walk the same graph. Prints `name value` a line.

#include <sys/resource.h>

#include <chrono>
#include <cstdio>
#include <cstring>
#include <fstream>
#include <string>

#include "driver/disk.hpp"
#include "driver/pipeline.hpp"
#include "effects/from_graph.hpp"
#include "explore/walk.hpp"
#include "graph/from_model.hpp"
#include "model/variants.hpp"
#include "packed_promela.hpp"
#include "rules/weave.hpp"

namespace {

using namespace stepward;

struct Request {
  std::string what, file, folder;
  std::size_t variant = 0;
  bool reduce = false;
  explore::Options walk;
};

effects::System lowered(const model::Protocol& protocol, const Request& request) {
  const graph::Graph graph = graph::from_model(protocol, model::all_variants(protocol).at(request.variant), graph::Contexts::apart);
  effects::Lowered lowered = rules::woven(protocol, graph, effects::HoldBack::no);
  return effects::finish(std::move(lowered), request.reduce);
}

double seconds_since(std::chrono::steady_clock::time_point begin) {
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
}

/// Of all threads, the system's work for them included.
double processor_seconds() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  const auto seconds = [](const timeval& t) { return static_cast<double>(t.tv_sec) + static_cast<double>(t.tv_usec) / 1e6; };
  return seconds(usage.ru_utime) + seconds(usage.ru_stime);
}

void walk(const effects::System& system, const Request& request) {
  const explore::Packed packed = explore::pack(system, true);
  const double before = processor_seconds();
  const auto begin = std::chrono::steady_clock::now();
  const explore::Result result = explore::walk(packed, request.walk);
  const double seconds = seconds_since(begin), processor = processor_seconds() - before;
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  std::size_t ends = 0;
  for (const std::uint32_t to : result.successors) ends += to == UINT32_MAX;
  std::printf("states %u\ntransitions %llu\nends %zu\nreports %zu\ncomplete %d\ndepth %zu\nbytes %u\nseconds %.4f\nprocessor %.4f\nmegabytes %.1f\n",
              result.size(), static_cast<unsigned long long>(result.transitions), ends, result.found.size(), result.complete,
              result.depth_ends.size(), result.words * 8, seconds, processor,
              static_cast<double>(usage.ru_maxrss) / 1024);
}

void write_promela(const effects::System& system, const Request& request) {
  const bench::PackedPromela promela = bench::as_promela(explore::pack(system, true));
  std::ofstream(request.folder + "/m.pml") << promela.model;
  std::ofstream(request.folder + "/steps.h") << promela.steps;
}

}  // namespace

int main(int count, char** words) {
  Request request;
  if (count < 3) return 2;
  request.what = words[1];
  request.file = words[2];
  int i = 3;
  if (request.what == "promela" && count > 3) request.folder = words[i++];
  for (; i < count; ++i) {
    if (!std::strcmp(words[i], "--reduce")) request.reduce = true;
    else if (!std::strcmp(words[i], "--variant") && i + 1 < count) request.variant = std::stoul(words[++i]);
    else if (!std::strcmp(words[i], "--limit") && i + 1 < count) request.walk.limit = std::stoull(words[++i]);
    else if (!std::strcmp(words[i], "--threads") && i + 1 < count) request.walk.threads = static_cast<unsigned>(std::stoul(words[++i]));
    else if (!std::strcmp(words[i], "--shared-from") && i + 1 < count) request.walk.shared_from = static_cast<std::uint32_t>(std::stoul(words[++i]));
    else return 2;
  }
  const driver::FilesOnDisk disk(request.file);
  const driver::Compilation made = driver::read(request.file, disk, "2030-11-01");
  if (!made.is_walkable() || request.variant >= model::all_variants(*made.protocol).size()) {
    std::fputs("no such variant to walk\n", stderr);
    return 2;
  }
  const effects::System system = lowered(*made.protocol, request);
  if (request.what == "promela") write_promela(system, request);
  else walk(system, request);
  return 0;
}
