#include "verifier.hpp"

#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <sstream>

#include <fmt/format.h>

#include "driver/disk.hpp"
#include "model/from_syntax.hpp"
#include "resolve/imports.hpp"

namespace stepward::spin {
namespace {

namespace disk = std::filesystem;

std::string text_of(const disk::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

bool run_in(const disk::path& folder, const std::string& command) {
  return std::system(fmt::format("cd '{}' && {} > log 2>&1", folder.string(), command).c_str()) == 0;
}

}  // namespace

bool is_installed() {
  if (std::system("spin -V > /dev/null 2>&1 && gcc --version > /dev/null 2>&1") == 0) return true;
  std::fputs("spin or gcc is not installed\n", stderr);
  return false;
}

Verified verified(const std::string& promela, const disk::path& folder) {
  disk::create_directories(folder);
  std::ofstream(folder / "m.pml") << promela;
  const bool built = run_in(folder, "spin -a m.pml") && run_in(folder, "gcc -O0 -w -DBFS -DSAFETY -DNOREDUCE -DNOFAIR -DVECTORSZ=8192 -o pan pan.c");
  if (!built || !run_in(folder, "./pan -E -m2000000 -w22 -c0")) {
    std::fprintf(stderr, "SPIN did not get through; see %s/log:\n%s\n", folder.string().c_str(), text_of(folder / "log").substr(0, 2000).c_str());
    return {};
  }
  Verified out;
  std::istringstream lines(text_of(folder / "log"));
  for (std::string line; std::getline(lines, line);) {
    unsigned report = 0, steps = 0;
    double states = 0;
    if (std::sscanf(line.c_str(), "MET %u %u", &report, &steps) == 2) out.met.try_emplace(report, steps);
    if (line.find("states, stored") != std::string::npos && std::sscanf(line.c_str(), "%lf", &states) == 1) out.states = static_cast<std::uint64_t>(states);
  }
  return out;
}

std::optional<model::Protocol> protocol_of(const std::string& path) {
  const driver::FilesOnDisk access(path);
  source::Files files;
  diagnostics::Sink sink;
  const resolve::Loaded loaded = resolve::load(path, access, files, sink);
  return model::build(loaded, files, sink);
}

}  // namespace stepward::spin
