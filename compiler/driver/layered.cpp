#include "driver/layered.hpp"

#ifdef STEPWARD_WITH_LAYOUT

#include <algorithm>
#include <array>
#include <cerrno>
#include <deque>
#include <utility>

#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

#include "emit/layout/drawing_bytes.hpp"
#include "emit/layout/library.hpp"

namespace stepward::driver {

using emit::layout::Answer;
using emit::layout::Drawing;
using emit::layout::Sketch;

namespace {

constexpr std::size_t side_by_side_children = 2;

struct PlacingJob {
  std::size_t sketch = 0;
  bool straight = false;
};

bool write_to_pipe(int pipe, const std::string& bytes) {
  for (std::size_t done = 0; done < bytes.size();) {
    const ssize_t count = ::write(pipe, bytes.data() + done, bytes.size() - done);
    if (count < 0 && errno != EINTR) return false;
    done += count > 0 ? static_cast<std::size_t>(count) : 0;
  }
  return true;
}

/// All that a child does. What the library or the C library says of a fault is no message of this program's.
void place_in_child(const std::vector<Sketch>& sketches, const std::vector<PlacingJob>& jobs, int pipe) {
  if (const int nowhere = ::open("/dev/null", O_WRONLY); nowhere >= 0) ::dup2(nowhere, STDERR_FILENO);
  emit::layout::Library library;
  for (const PlacingJob& job : jobs) {
    Answer answer;
    answer.drawing = library.place(sketches[job.sketch], job.straight, answer.why);
    if (!write_to_pipe(pipe, emit::layout::as_bytes(answer))) return;
  }
}

/// A process that places some of the sketches. Owned by one round; when it goes out of sight it has ended.
class PlacingChild {
 public:
  PlacingChild(const std::vector<Sketch>& sketches, std::vector<PlacingJob> jobs) : jobs_(std::move(jobs)) {
    std::array<int, 2> ends{};
    if (::pipe(ends.data()) != 0) return;
    id_ = ::fork();
    if (id_ == 0) {
      ::close(ends[0]);
      place_in_child(sketches, jobs_, ends[1]);
      ::_exit(0);
    }
    ::close(ends[1]);
    pipe_ = ends[0];
  }
  PlacingChild(PlacingChild&& other) noexcept : jobs_(std::move(other.jobs_)), id_(std::exchange(other.id_, -1)), pipe_(std::exchange(other.pipe_, -1)) {}
  PlacingChild& operator=(PlacingChild&&) = delete;
  ~PlacingChild() {
    if (pipe_ >= 0) ::close(pipe_);
    while (id_ > 0 && ::waitpid(id_, nullptr, 0) < 0 && errno == EINTR) {}
  }

  bool was_started() const { return id_ > 0; }
  const std::vector<PlacingJob>& jobs() const { return jobs_; }

  /// Of its jobs in their order, as many as it came to.
  std::vector<Answer> answers() const {
    std::string bytes;
    std::array<char, 1 << 16> some{};
    for (;;) {
      const ssize_t count = ::read(pipe_, some.data(), some.size());
      if (count > 0) bytes.append(some.data(), static_cast<std::size_t>(count));
      else if (count == 0 || errno != EINTR) break;
    }
    return emit::layout::answers_in(bytes);
  }

 private:
  std::vector<PlacingJob> jobs_;
  pid_t id_ = -1;
  int pipe_ = -1;
};

class PlacingRounds {
 public:
  explicit PlacingRounds(const std::vector<Sketch>& sketches) : sketches_(sketches), drawings_(sketches.size()) {
    for (std::size_t i = 0; i < sketches.size(); ++i) waiting_.push_back({i, false});
  }

  std::optional<std::vector<Drawing>> place(std::string& why) {
    while (!waiting_.empty() && why_.empty()) round();
    if (why_.empty()) return std::move(drawings_);
    why = why_;
    return std::nullopt;
  }

 private:
  /// Neighbours go to different children, since the bands of one phase are about alike.
  void round() {
    std::vector<std::vector<PlacingJob>> shares(side_by_side_children);
    for (std::size_t k = 0; k < side_by_side_children * most_of_a_child && !waiting_.empty(); ++k) {
      shares[k % side_by_side_children].push_back(waiting_.front());
      waiting_.pop_front();
    }
    std::vector<PlacingChild> children;
    for (std::vector<PlacingJob>& share : shares)
      if (!share.empty()) children.emplace_back(sketches_, std::move(share));
    for (const PlacingChild& child : children) {
      if (child.was_started()) take(child);
      else why_ = "no process could be started to place boxes in";
    }
  }

  void take(const PlacingChild& child) {
    std::vector<Answer> answers = child.answers();
    for (std::size_t k = 0; k < answers.size() && k < child.jobs().size(); ++k) {
      if (answers[k].drawing) drawings_[child.jobs()[k].sketch] = std::move(*answers[k].drawing);
      else why_ = answers[k].why;
    }
    if (answers.size() >= child.jobs().size()) return;
    // What an earlier sketch wrote where it should not may end a later one; by itself in a new process each is judged alone.
    PlacingJob ended = child.jobs()[answers.size()];
    const bool has_lanes = sketches_[ended.sketch].lanes > 0;
    if (answers.empty() && (ended.straight || !has_lanes)) {
      why_ = "the library that places boxes ended with a fault of its own";
      return;
    }
    ended.straight = has_lanes;
    waiting_.insert(waiting_.end(), child.jobs().begin() + static_cast<std::ptrdiff_t>(answers.size()) + 1, child.jobs().end());
    waiting_.push_front(ended);
  }

  const std::vector<Sketch>& sketches_;
  std::vector<Drawing> drawings_;
  std::deque<PlacingJob> waiting_;
  std::string why_;
};

}  // namespace

std::optional<std::vector<Drawing>> place_layered(const std::vector<Sketch>& sketches, std::string& why) { return PlacingRounds(sketches).place(why); }

}  // namespace stepward::driver

#endif
