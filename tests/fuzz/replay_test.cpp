// The inputs of the fuzz target without the fuzzer: every sample, every file of the library and the examples, and a
// fixed series of changed forms of each. Runs in every build, so also under the sanitizers of another compiler.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "compile_text.hpp"

namespace fs = std::filesystem;
using namespace stepward::tests;

namespace {

std::vector<std::string> sample_texts() {
  std::vector<fs::path> paths;
  for (const char* folder : {"tests/fuzz/samples", "stdlib-procedures", "examples"}) {
    const fs::path root = fs::path(STEPWARD_SOURCE_DIR) / folder;
    if (!fs::exists(root)) continue;
    for (const auto& entry : fs::recursive_directory_iterator(root)) {
      if (entry.path().extension() == ".ward") paths.push_back(entry.path());
    }
  }
  std::sort(paths.begin(), paths.end());
  std::vector<std::string> texts;
  for (const fs::path& path : paths) {
    std::ifstream file(path, std::ios::binary);
    texts.emplace_back(std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>());
  }
  return texts;
}

/// The same numbers on every machine.
class Numbers {
 public:
  std::size_t below(std::size_t limit) {
    state_ ^= state_ << 13;
    state_ ^= state_ >> 7;
    state_ ^= state_ << 17;
    return limit == 0 ? 0 : static_cast<std::size_t>(state_ % limit);
  }

 private:
  std::uint64_t state_ = 88172645463325252ull;
};

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find('\n', at), text.size());
    lines.push_back(text.substr(at, end - at));
    at = end + 1;
  }
  return lines;
}

/// One slip in a text: a line lost, doubled or moved, or a byte lost or changed.
std::string with_slip(const std::string& text, Numbers& numbers) {
  std::vector<std::string> lines = lines_of(text);
  if (lines.empty()) return text;
  const std::size_t place = numbers.below(lines.size());
  std::string& line = lines[place];
  switch (numbers.below(5)) {
    case 0: lines.erase(lines.begin() + static_cast<std::ptrdiff_t>(place)); break;
    case 1:
      lines.insert(lines.begin() + static_cast<std::ptrdiff_t>(numbers.below(lines.size())), std::string(line));
      break;
    case 2: std::swap(lines[place], lines[numbers.below(lines.size())]); break;
    case 3: line = line.substr(0, numbers.below(line.size() + 1)); break;
    default:
      if (!line.empty()) line[numbers.below(line.size())] = static_cast<char>(numbers.below(256));
  }
  std::string joined;
  for (const std::string& each : lines) joined += each + '\n';
  return joined;
}

}  // namespace

TEST_CASE("replay: every sample is read and answered") {
  const std::vector<std::string> texts = sample_texts();
  CHECK(texts.size() >= 10);
  for (const std::string& text : texts) CHECK_NOTHROW(compile_text(text));
}

TEST_CASE("replay: the samples with slips are read and answered") {
  Numbers numbers;
  for (const std::string& text : sample_texts()) {
    std::string slipped = text;
    for (int i = 0; i < 10; ++i) {
      slipped = with_slip(i % 4 == 0 ? text : slipped, numbers);
      CHECK_NOTHROW(compile_text(slipped));
    }
  }
}
