#include "driver/host.hpp"

#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <ctime>

#include <fmt/format.h>

namespace stepward::driver {
namespace {

/// "2031-03-14 08:00"
std::string moment_of_clock() {
  const std::time_t now = std::time(nullptr);
  std::tm day{};
  localtime_r(&now, &day);
  return fmt::format("{:04}-{:02}-{:02} {:02}:{:02}", day.tm_year + 1900, day.tm_mon + 1, day.tm_mday, day.tm_hour, day.tm_min);
}

std::optional<std::chrono::year_month_day> calendar_day(const std::string& text) {
  int year = 0, month = 0, day = 0, read = 0;
  if (text.size() != 10 || std::sscanf(text.c_str(), "%4d-%2d-%2d%n", &year, &month, &day, &read) != 3 || read != 10) return std::nullopt;
  const std::chrono::year_month_day date{std::chrono::year{year}, std::chrono::month{static_cast<unsigned>(month)},
                                         std::chrono::day{static_cast<unsigned>(day)}};
  return date.ok() ? std::optional(date) : std::nullopt;
}

bool is_set(const char* name) {
  const char* value = std::getenv(name);
  return value != nullptr && *value != '\0';
}

}  // namespace

Outcome refusal(ExitCode code, const std::string& why) { return {code, "", "stepward: " + why + "\n"}; }

Host this_machine() {
  Host host;
  host.now = moment_of_clock();
  host.today = host.now.substr(0, 10);
  host.cores = std::max(1u, std::thread::hardware_concurrency());
  host.out_is_terminal = isatty(STDOUT_FILENO) == 1;
  host.err_is_terminal = isatty(STDERR_FILENO) == 1;
  host.no_colour = is_set("NO_COLOR");
  return host;
}

bool wants_colour(const Host& host, Colour wish) {
  switch (wish) {
    case Colour::always: return true;
    case Colour::never: return false;
    case Colour::automatic: return host.out_is_terminal && !host.no_colour;
  }
  return false;
}

bool is_date(const std::string& text) { return calendar_day(text).has_value(); }

std::optional<std::int64_t> minutes_at(const std::string& moment) {
  if (moment.size() != 16 || moment[10] != ' ') return std::nullopt;
  const auto day = calendar_day(moment.substr(0, 10));
  int hour = 0, minute = 0, read = 0;
  if (!day || std::sscanf(moment.c_str() + 11, "%2d:%2d%n", &hour, &minute, &read) != 2 || read != 5) return std::nullopt;
  if (hour < 0 || hour > 23 || minute < 0 || minute > 59) return std::nullopt;
  return std::chrono::sys_days(*day).time_since_epoch().count() * std::int64_t{24 * 60} + hour * 60 + minute;
}

Patience::Patience(const Host& host, std::string what) : what_(std::move(what)) {
  if (host.err_is_terminal) teller_ = std::thread([this] { tell(); });
}

Patience::~Patience() {
  if (!teller_.joinable()) return;
  {
    const std::lock_guard<std::mutex> lock(mutex_);
    done_ = true;
  }
  over_.notify_all();
  teller_.join();
}

void Patience::expect(std::size_t count, std::string what) {
  const std::lock_guard<std::mutex> lock(mutex_);
  expected_ = count;
  reached_ = 0;
  of_what_ = std::move(what);
}

void Patience::one_more() {
  const std::lock_guard<std::mutex> lock(mutex_);
  ++reached_;
}

std::string Patience::so_far() const { return of_what_.empty() ? std::string() : fmt::format("{} of {} {}, ", reached_, expected_, of_what_); }

void Patience::tell() {
  std::unique_lock<std::mutex> lock(mutex_);
  const auto begin = std::chrono::steady_clock::now();
  // A second of silence first: what is done by then needs no comfort.
  auto pause = std::chrono::milliseconds(1000);
  bool told = false;
  while (!over_.wait_for(lock, pause, [this] { return done_; })) {
    const auto seconds = std::chrono::duration_cast<std::chrono::seconds>(std::chrono::steady_clock::now() - begin).count();
    std::fprintf(stderr, "\r\x1b[K%s: %s%d s ", what_.c_str(), so_far().c_str(), static_cast<int>(seconds));
    std::fflush(stderr);
    told = true;
    pause = std::chrono::milliseconds(250);
  }
  // Wipes the line, so that nothing of it stands in front of the findings.
  if (told) std::fputs("\r\x1b[K", stderr);
}

double seconds_now() {
  return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

}  // namespace stepward::driver
