#include "driver/disk.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <memory>

#include <fmt/format.h>

#include "parse/intake.hpp"

namespace stepward::driver {
namespace {

namespace fs = std::filesystem;

std::string reason(int error) {
  switch (error) {
    case ENOENT: return "there is no such file";
    case ENOTDIR: return "a part of its path is not a folder";
    case EACCES:
    case EPERM: return "this user may not do that";
    case EROFS: return "the disk is read only";
    case ENOSPC:
    case EDQUOT: return "the disk is full";
    case ENAMETOOLONG: return "its name is too long";
    default: return std::strerror(error);
  }
}

/// Closes on every way out.
class Descriptor {
 public:
  explicit Descriptor(int number) : number_(number) {}
  ~Descriptor() { close(); }
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  int number() const { return number_; }
  bool close() {
    const int number = number_;
    number_ = -1;
    return number < 0 || ::close(number) == 0;
  }

 private:
  int number_;
};

std::optional<std::string> read_all(int descriptor, std::size_t expected, std::string& why) {
  // One byte more than a source may have is enough for whoever refuses it to see that it is too large.
  constexpr std::size_t most = parse::largest_file + 1;
  std::string bytes(std::min(expected + 1, most), '\0');
  std::size_t filled = 0;
  while (true) {
    if (filled == most) break;
    if (filled == bytes.size()) bytes.resize(std::min(bytes.size() * 2, most));
    const ssize_t got = ::read(descriptor, bytes.data() + filled, bytes.size() - filled);
    if (got < 0 && errno == EINTR) continue;
    if (got < 0) {
      why = reason(errno);
      return std::nullopt;
    }
    if (got == 0) break;
    filled += static_cast<std::size_t>(got);
  }
  bytes.resize(filled);
  return bytes;
}

/// Pipes and devices are refused: some never end, and a second reading gives something else.
std::string not_a_plain_file(const struct stat& facts) {
  if (S_ISDIR(facts.st_mode)) return "it is a folder";
  return S_ISREG(facts.st_mode) ? "" : "it is not a plain file";
}

std::optional<std::string> read_file(const std::string& path, std::string& why) {
  Descriptor file(::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK));
  struct stat facts {};
  if (file.number() < 0 || ::fstat(file.number(), &facts) != 0) {
    why = reason(errno);
    return std::nullopt;
  }
  why = not_a_plain_file(facts);
  if (!why.empty()) return std::nullopt;
  return read_all(file.number(), static_cast<std::size_t>(facts.st_size), why);
}

/// The file that a path leads to in the end; the path itself where nothing is there yet.
std::string behind_links(const std::string& path) {
  std::error_code failed;
  const fs::path real = fs::canonical(path, failed);
  return failed ? path : real.string();
}

/// A file that goes by a temporary name until it is moved, and away if it is not.
class Draft {
 public:
  Draft(const Output& output, std::size_t number) : output_(output), target_(behind_links(output.path)) {
    const fs::path target(target_);
    temporary_ = (target.parent_path() / fmt::format(".{}.{}-{}.part", target.filename().string(), ::getpid(), number)).string();
  }
  ~Draft() {
    if (exists_) ::unlink(temporary_.c_str());
  }
  Draft(const Draft&) = delete;
  Draft& operator=(const Draft&) = delete;

  /// Empty, or why not.
  std::string write() {
    Descriptor file(::open(temporary_.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666));
    if (file.number() < 0) return reason(errno);
    exists_ = true;
    if (!take_over_mode(file.number())) return reason(errno);
    for (std::size_t done = 0; done < output_.bytes.size();) {
      const ssize_t put = ::write(file.number(), output_.bytes.data() + done, output_.bytes.size() - done);
      if (put < 0 && errno == EINTR) continue;
      if (put < 0) return reason(errno);
      done += static_cast<std::size_t>(put);
    }
    // Some file systems tell of a full disk only here.
    if (::fsync(file.number()) != 0 && errno != EINVAL && errno != EROFS) return reason(errno);
    return file.close() ? "" : reason(errno);
  }

  std::string move() {
    if (std::rename(temporary_.c_str(), target_.c_str()) != 0) return reason(errno);
    exists_ = false;
    return {};
  }

 private:
  /// Whoever could not read the file before, cannot read it afterwards. Some file systems know no modes; they refuse.
  bool take_over_mode(int descriptor) const {
    struct stat facts {};
    if (::stat(target_.c_str(), &facts) != 0) return true;
    return ::fchmod(descriptor, facts.st_mode & 07777) == 0 || errno == EPERM || errno == EOPNOTSUPP;
  }

  const Output& output_;
  std::string target_;
  std::string temporary_;
  bool exists_ = false;
};

bool holds_already(const Output& output) {
  std::string why;
  const std::optional<std::string> there = read_file(output.path, why);
  return there && *there == output.bytes;  // a larger output than a source may be never compares equal, and is written
}

/// A rename would replace these with a plain file, which nobody who names one wants.
bool is_special(const std::string& path) {
  struct stat facts {};
  return ::stat(path.c_str(), &facts) == 0 && !S_ISREG(facts.st_mode) && !S_ISDIR(facts.st_mode);
}

std::string write_special(const Output& output) {
  Descriptor file(::open(output.path.c_str(), O_WRONLY | O_CLOEXEC));
  if (file.number() < 0) return reason(errno);
  for (std::size_t done = 0; done < output.bytes.size();) {
    const ssize_t put = ::write(file.number(), output.bytes.data() + done, output.bytes.size() - done);
    if (put < 0) return reason(errno);
    done += static_cast<std::size_t>(put);
  }
  return {};
}

std::string complaint(const Output& output, const std::string& why) {
  return fmt::format("cannot write {}: {}", output.path, why);
}

}  // namespace

FilesOnDisk::FilesOnDisk(const std::string& first_file) : first_file_(first_file) {
  std::error_code ignored;
  const fs::path folder = fs::path(first_file).parent_path();
  folder_ = fs::canonical(folder.empty() ? fs::path(".") : folder, ignored).string();
}

std::optional<std::string> FilesOnDisk::read(std::string_view path, std::string& why) const {
  const std::string name(path);
  if (name != first_file_ && !lies_inside(name)) {
    why = "it lies outside of the protocol's folder";
    return std::nullopt;
  }
  return read_file(name, why);
}

bool FilesOnDisk::lies_inside(const std::string& path) const {
  std::error_code failed;
  const std::string real = fs::canonical(path, failed).string();
  if (failed) return true;  // not there at all: reading says so
  return folder_ == "/" || real.compare(0, folder_.size() + 1, folder_ + "/") == 0;
}

std::string write_all(const std::vector<Output>& outputs) {
  std::vector<std::unique_ptr<Draft>> drafts;
  std::vector<const Output*> drafted;
  for (const Output& output : outputs) {
    if (is_special(output.path)) {
      if (const std::string why = write_special(output); !why.empty()) return complaint(output, why);
      continue;
    }
    if (fs::is_directory(output.path)) return complaint(output, "there is a folder of that name");
    if (holds_already(output)) continue;
    drafts.push_back(std::make_unique<Draft>(output, drafts.size()));
    drafted.push_back(&output);
    if (const std::string why = drafts.back()->write(); !why.empty()) return complaint(output, why);
  }
  for (std::size_t i = 0; i < drafts.size(); ++i) {
    if (const std::string why = drafts[i]->move(); !why.empty()) return complaint(*drafted[i], why);
  }
  return {};
}

bool disk_holds(const std::string& path) {
  std::error_code ignored;
  return fs::exists(fs::symlink_status(path, ignored));
}

std::optional<std::string> read_standard_input(std::string& why) { return read_all(STDIN_FILENO, 0xFFFF, why); }

std::string make_folder(const std::string& path) {
  std::error_code failed;
  fs::create_directories(path, failed);
  if (fs::is_directory(path)) return {};
  return fmt::format("cannot make the folder {}: {}", path, failed ? reason(failed.value()) : "a file of that name is there");
}

}  // namespace stepward::driver
