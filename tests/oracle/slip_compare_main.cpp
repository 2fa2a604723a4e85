// slip_compare [--count N] [--from N] [--pairs N] [--triples N]: every slip of random procedures, and some pairs and sets of three of them, followed
// by the compiler and by brute force. Exit 0: both find the same harms after the same least number of steps, and there were some to find. 1: not.
// 2: wrong arguments.
#include <cstdio>
#include <cstdlib>
#include <cstring>

#include "base/side_by_side.hpp"
#include "slip_brute.hpp"
#include "trial.hpp"

namespace {

using namespace stepward::oracle;

struct Request { std::uint64_t from = 0, count = 200, pairs = 30, triples = 6; };

bool read_arguments(int argc, char** argv, Request& request) {
  for (int i = 1; i < argc; ++i) {
    const auto takes = [&](const char* name, std::uint64_t& value) {
      if (std::strcmp(argv[i], name) != 0 || i + 1 == argc) return false;
      value = std::strtoull(argv[++i], nullptr, 10);
      return true;
    };
    if (!takes("--count", request.count) && !takes("--from", request.from) && !takes("--pairs", request.pairs) && !takes("--triples", request.triples)) return false;
  }
  return true;
}

}  // namespace

int main(int argc, char** argv) {
  Request request;
  if (!read_arguments(argc, argv, request)) {
    std::fputs("slip_compare [--count N] [--from N] [--pairs N] [--triples N]\n", stderr);
    return 2;
  }
  std::vector<SlipComparison> all(request.count);
  std::vector<char> refused(request.count, 0);
  stepward::side_by_side(request.count, 2, [&](std::size_t i) {
    const Trial trial = read_procedure(request.from + i);
    if (trial.protocol) all[i] = compare_slips(*trial.protocol, {request.pairs, request.triples, request.from + i});
    else refused[i] = 1;
  });
  SlipComparison sum;
  std::size_t differing = 0, none = 0;
  for (std::size_t i = 0; i < all.size(); ++i) {
    none += refused[i] != 0;
    sum.ways += all[i].ways;
    sum.pairs += all[i].pairs;
    sum.triples += all[i].triples;
    sum.threefold_harms += all[i].threefold_harms;
    sum.harms += all[i].harms;
    sum.joint_harms += all[i].joint_harms;
    sum.given_up += all[i].given_up;
    if (all[i].differs.empty()) continue;
    ++differing;
    std::printf("procedure %llu\n%s", static_cast<unsigned long long>(request.from + i), all[i].differs.c_str());
  }
  std::printf("%zu slips with %zu harms, %zu pairs with %zu joint harms, %zu sets of three with %zu, %zu given up, %zu refused: %zu procedures differ\n", sum.ways,
              sum.harms, sum.pairs, sum.joint_harms, sum.triples, sum.threefold_harms, sum.given_up, none, differing);
  const bool some = sum.harms > 0 && (request.pairs == 0 || sum.joint_harms > 0) && (request.triples == 0 || sum.threefold_harms > 0);
  return differing == 0 && none == 0 && some ? 0 : 1;
}
