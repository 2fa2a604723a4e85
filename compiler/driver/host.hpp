#pragma once
// The machine around the compiler: its clock, its terminal, its cores. Everything that differs from run to run is here.
//
// Commands get a `Host` and give back an `Outcome`; they print nothing themselves. So a test can run a whole command,
// and a command that fails half way has printed nothing that looks like a result.

#include <condition_variable>
#include <cstddef>
#include <cstdint>
#include <mutex>
#include <optional>
#include <string>
#include <thread>

namespace stepward::driver {

/// What scripts rely on; the numbers are part of the interface.
enum class ExitCode : int {
  fine = 0,            ///< nothing that must be mended; there may be warnings
  findings = 1,        ///< findings of severity error
  wrong_use = 2,       ///< the command line cannot be followed
  file_trouble = 3,    ///< a file cannot be read or written
  internal_fault = 70  ///< a fault of the program itself
};

/// What a command has to say.
struct Outcome {
  ExitCode code = ExitCode::fine;
  std::string out;     ///< for standard output
  std::string err;     ///< for standard error
};

/// An outcome that is one plain line on standard error, with the program's name in front.
Outcome refusal(ExitCode code, const std::string& why);

enum class Colour { automatic, always, never };

struct Host {
  std::string today;           ///< ISO 8601
  std::string now;             ///< local time, YYYY-MM-DD HH:MM
  unsigned cores = 1;
  bool out_is_terminal = false;
  bool err_is_terminal = false;
  bool no_colour = false;      ///< the environment asks for none
};

/// The machine this runs on.
Host this_machine();
bool wants_colour(const Host& host, Colour wish);
/// True for YYYY-MM-DD that is a day of the calendar.
bool is_date(const std::string& text);
/// Minutes from a fixed moment to "YYYY-MM-DD HH:MM"; nothing if that is none. Summer time is not known to it.
std::optional<std::int64_t> minutes_at(const std::string& moment);

/// Says on standard error what takes long, once it does, if somebody can be watching; silent otherwise.
class Patience {
 public:
  Patience(const Host& host, std::string what);
  ~Patience();
  Patience(const Patience&) = delete;
  Patience& operator=(const Patience&) = delete;

  /// There are so many papers (`what`) to be done, and then that one more of them is; from any thread.
  void expect(std::size_t count, std::string what);
  void one_more();

 private:
  void tell();
  std::string so_far() const;

  std::string what_;
  std::mutex mutex_;           ///< of all below
  std::condition_variable over_;
  std::string of_what_;        ///< "papers"; empty: nothing is counted
  std::size_t expected_ = 0, reached_ = 0;
  bool done_ = false;
  std::thread teller_;
};

/// Seconds since some fixed moment, for timings.
double seconds_now();

}  // namespace stepward::driver
