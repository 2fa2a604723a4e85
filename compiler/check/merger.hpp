#pragma once
// Brings together what the variants found: the same finding once, and one mistake as one error (one_mistake.hpp).

#include <map>
#include <set>
#include <string>
#include <tuple>
#include <vector>

#include "check/variant_check.hpp"

namespace stepward::check {

class Merger {
 public:
  Merger(const model::Protocol& protocol, std::size_t variants) : protocol_(protocol), variant_count_(variants) {}

  /// One finding of one variant. `s` must outlive the merger.
  void add(const Sighting& s, std::size_t variant);
  /// Appends what was added, worded; what `sink` already holds of a loop that cannot end takes its questions along.
  void finish(diagnostics::Sink& sink);

 private:
  /// The same line, thing and code in several variants or call places is one finding, told by its shortest run.
  struct Merged {
    const Sighting* shortest = nullptr;
    std::size_t seen = 0;  ///< in which order the walk came to it: the cause stands before what follows from it
    std::set<std::size_t> variants;
  };
  using MergeKey = std::tuple<PlaceKey, diagnostics::Code, std::vector<std::string>>;
  /// An error that was filed; others may join it.
  struct Head {
    const Sighting* sighting = nullptr;  ///< none: read off the text alone
    PlaceKey at;
    std::size_t index = 0;               ///< in the sink
  };

  void file(const Merged& m, diagnostics::Sink& sink);
  const Head* head_of(const Sighting& s) const;
  void join(const Head& head, const Sighting& s, diagnostics::Sink& sink) const;
  diagnostics::Diagnostic worded(const Sighting& s, const Merged& m) const;

  const model::Protocol& protocol_;
  std::size_t variant_count_;
  std::map<MergeKey, Merged> merged_;
  std::size_t next_ = 0;
  source::Span first_error_;
  std::vector<Head> heads_;
};

}  // namespace stepward::check
