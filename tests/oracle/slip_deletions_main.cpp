// slip_deletions [--count N] [--from N] [--library] [--rows N] [--seed N] [--most-states N] [--file PATH]: what the slip report says of lines that
// are left out, of random procedures, of the library's protocols, or of one protocol with the files beside it, held against the slow walk.
// Exit 0: the slow walk bears it all out, and there was something of each kind to bear out. 1: not. 2: wrong arguments.
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "base/side_by_side.hpp"
#include "resolve/standard_library.hpp"
#include "slip_deletions.hpp"
#include "trial.hpp"

namespace {

using namespace stepward::oracle;

struct Request {
  std::uint64_t from = 0, count = 0, rows = SIZE_MAX, seed = 0, most_states = 60'000;
  bool library = false;
  std::string file;
};

struct Candidate { std::string name; Trial trial; };

bool read_arguments(int argc, char** argv, Request& request) {
  for (int i = 1; i < argc; ++i) {
    const auto takes = [&](const char* name, std::uint64_t& value) {
      if (std::strcmp(argv[i], name) != 0 || i + 1 == argc) return false;
      value = std::strtoull(argv[++i], nullptr, 10);
      return true;
    };
    if (std::strcmp(argv[i], "--library") == 0) request.library = true;
    else if (std::strcmp(argv[i], "--file") == 0 && i + 1 < argc) request.file = argv[++i];
    else if (!takes("--count", request.count) && !takes("--from", request.from) && !takes("--rows", request.rows) && !takes("--seed", request.seed) &&
             !takes("--most-states", request.most_states)) return false;
  }
  return request.count > 0 || request.library || !request.file.empty();
}

Trial read_with_neighbours(const std::string& path) {
  stepward::FilesInMemory files;
  for (const auto& entry : std::filesystem::directory_iterator(std::filesystem::path(path).parent_path())) {
    if (entry.path().extension() != ".ward") continue;
    std::ifstream in(entry.path(), std::ios::binary);
    files.put(entry.path().generic_string(), {std::istreambuf_iterator<char>(in), {}});
  }
  return read_from(files, path);
}

std::vector<Candidate> all_of(const Request& request) {
  std::vector<Candidate> out;
  for (std::uint64_t i = 0; i < request.count; ++i) out.push_back({"procedure " + std::to_string(request.from + i), read_procedure(request.from + i)});
  if (request.library)
    for (const auto& file : stepward::resolve::standard_files())
      if (stepward::resolve::is_protocol(file)) out.push_back({std::string(file.path), read_text(std::string(file.text))});
  if (!request.file.empty()) out.push_back({request.file, read_with_neighbours(request.file)});
  return out;
}

}  // namespace

int main(int argc, char** argv) {
  Request request;
  if (!read_arguments(argc, argv, request)) {
    std::fputs("slip_deletions [--count N] [--from N] [--library] [--rows N] [--seed N] [--most-states N] [--file PATH]\n", stderr);
    return 2;
  }
  const std::vector<Candidate> all = all_of(request);
  std::vector<DeletionCount> counts(all.size());
  stepward::side_by_side(all.size(), 2, [&](std::size_t i) {
    if (all[i].trial.protocol) counts[i] = judge_deletions(*all[i].trial.protocol, {request.most_states, request.rows, request.seed});
  });
  DeletionCount sum;
  std::size_t refused = 0;
  for (std::size_t i = 0; i < all.size(); ++i) {
    const DeletionCount& count = counts[i];
    refused += !all[i].trial.protocol;
    sum.harmless += count.harmless;
    sum.harms += count.harms;
    sum.repeated += count.repeated;
    sum.given_up += count.given_up;
    if (!count.differs.empty()) std::printf("%s\n%s", all[i].name.c_str(), count.differs.c_str());
    sum.differs += count.differs;
  }
  std::printf("%zu deletions called harmless, %zu told to come to harm, %zu left out as repeated, %zu walks given up, %zu refused: %s\n", sum.harmless, sum.harms, sum.repeated,
              sum.given_up, refused, sum.differs.empty() ? "the slow walk agrees" : "THE SLOW WALK DIFFERS");
  return sum.differs.empty() && refused == 0 && sum.harmless > 0 && sum.harms > 0 ? 0 : 1;
}
