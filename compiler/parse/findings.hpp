#pragma once
// The findings of one file, up to a limit.
//
// A file that is no protocol at all can be wrong on every line. Nobody reads the hundred-and-first message, and a
// list of a million would only slow the answer, so each file may report `most_shown` findings and then says that more
// follow. Passes ask `full()` where going on would be wasted.

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include "diagnostics/diagnostic.hpp"

namespace stepward::parse {

class Findings {
 public:
  static constexpr std::size_t most_shown = 100;

  explicit Findings(diagnostics::Sink& sink) : sink_(sink) {}

  bool full() const { return count_ > most_shown; }
  /// How many were reported so far, the unlisted ones included.
  std::size_t count() const { return count_; }

  /// Reports a finding. The one that is returned may be filled further until the next call; past the limit it is lost.
  diagnostics::Diagnostic& report(diagnostics::Code code, source::Span at, std::vector<std::string> args = {}) {
    ++count_;
    if (count_ == most_shown + 1) {
      sink_.push_back(diagnostics::make(diagnostics::Code::L117, at, {std::to_string(most_shown)}));
    }
    if (full()) return lost_ = {};
    sink_.push_back(diagnostics::make(code, at, std::move(args)));
    return sink_.back();
  }

 private:
  diagnostics::Sink& sink_;
  diagnostics::Diagnostic lost_;
  std::size_t count_ = 0;
};

}  // namespace stepward::parse
