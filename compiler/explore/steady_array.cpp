#include "explore/steady_array.hpp"

#include <cstdlib>

#if defined(__linux__)
#include <sys/mman.h>
#endif

namespace stepward::explore {

#if defined(__linux__)

namespace {

constexpr std::size_t large_page = std::size_t(1) << 21;

// The system takes large pages only at their own bounds, so more is asked for and both ends are given back.
void* map_at_bound(std::size_t bytes) {
  void* const got = mmap(nullptr, bytes + large_page, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
  if (got == MAP_FAILED) return MAP_FAILED;
  const auto begin = reinterpret_cast<std::uintptr_t>(got);
  const std::uintptr_t at = (begin + large_page - 1) & ~(large_page - 1);
  if (at > begin) munmap(got, at - begin);
  if (const std::size_t behind = begin + large_page - at) munmap(reinterpret_cast<void*>(at + bytes), behind);
  return reinterpret_cast<void*>(at);
}

}  // namespace

ZeroedBlock::ZeroedBlock(std::size_t bytes, bool large) : bytes_(bytes) {
  void* const got = large ? map_at_bound(bytes) : mmap(nullptr, bytes, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
  if (got == MAP_FAILED) return;
  data_ = got;
  if (large) madvise(data_, bytes, MADV_HUGEPAGE);
}

ZeroedBlock::~ZeroedBlock() {
  if (data_) munmap(data_, bytes_);
}

#else

ZeroedBlock::ZeroedBlock(std::size_t bytes, bool) : data_(std::calloc(bytes, 1)), bytes_(bytes) {}
ZeroedBlock::~ZeroedBlock() { std::free(data_); }

#endif

}  // namespace stepward::explore
