// The program. Everything it says is said here, after a command has come to its end.

#include <unistd.h>
#ifdef __GLIBC__
#include <malloc.h>
#endif

#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <exception>
#include <new>

#include "driver/command_line.hpp"

namespace {

using stepward::driver::ExitCode;

/// Writes all of `text`; false if it cannot be, as on a full disk.
bool say(int descriptor, const std::string& text) {
  for (std::size_t done = 0; done < text.size();) {
    const ssize_t put = ::write(descriptor, text.data() + done, text.size() - done);
    if (put < 0 && errno == EINTR) continue;
    if (put < 0) return false;
    done += static_cast<std::size_t>(put);
  }
  return true;
}

int fault(const char* what) {
  std::fprintf(stderr,
               "stepward: the program itself has a fault (%s). Nothing half-written was left behind.\n"
               "Please report it with the file and the command that led here.\n",
               what);
  return static_cast<int>(ExitCode::internal_fault);
}

/// A run builds and drops many lists of middle size. Given back to the system each time and asked for again, they cost more than
/// what is done with them.
void keep_memory_at_hand() {
#ifdef __GLIBC__
  mallopt(M_MMAP_THRESHOLD, 4 << 20);
  mallopt(M_TRIM_THRESHOLD, 64 << 20);
#endif
}

/// What escapes from a thread of the walk ends the program; it shall still say so in the same words.
[[noreturn]] void end_by_fault() {
  std::_Exit(fault("it ended unexpectedly"));
}

}  // namespace

int main(int argc, char** argv) {
  keep_memory_at_hand();
  std::set_terminate(end_by_fault);
  try {
    const std::vector<std::string> arguments(argv + (argc > 0 ? 1 : 0), argv + argc);
    const stepward::driver::Outcome outcome = stepward::driver::run(arguments, stepward::driver::this_machine());
    say(STDERR_FILENO, outcome.err);
    if (say(STDOUT_FILENO, outcome.out)) return static_cast<int>(outcome.code);
    std::fprintf(stderr, "stepward: cannot write the answer: %s\n", std::strerror(errno));
    return static_cast<int>(ExitCode::file_trouble);
  } catch (const std::bad_alloc&) {
    return fault("there is not enough memory for this");
  } catch (const std::exception& thrown) {
    return fault(thrown.what());
  } catch (...) {
    return fault("of an unknown kind");
  }
}
