// The fuzz target: any bytes at all must end in findings or a verdict, never in a fault.
//
// Build and run (clang with its runtime package):
//   cmake --preset sanitized && cmake --build --preset sanitized
//   ctest --preset sanitized                                        the short run, always the same inputs
//   mkdir -p build/sanitized/found
// The long run, ten minutes, on one line; new inputs are kept in found/:
//   build/sanitized/bin/fuzz_target -dict=build/sanitized/generated/keywords.dict -max_len=8192 -max_total_time=600
//     build/sanitized/found tests/fuzz/samples stdlib-procedures
// A fault leaves its input as crash-…; add a small form of it to samples/, where the replay test runs it for ever.

#include <cstddef>
#include <cstdint>

#include "compile_text.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size);

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  stepward::tests::compile_text({reinterpret_cast<const char*>(bytes), size});
  return 0;
}
