#include "mend/search.hpp"

#include <algorithm>
#include <set>
#include <tuple>

#include "base/side_by_side.hpp"
#include "mend/drafts.hpp"
#include "mend/wants.hpp"
#include "model/variants.hpp"

namespace stepward::mend {
namespace {

using diagnostics::Code;
using diagnostics::Diagnostic;
using diagnostics::Severity;

constexpr std::size_t batch = 8;         ///< drafts looked at side by side
constexpr std::size_t afterglow = 8;     ///< drafts still tried once something was found, for others of its kind
constexpr std::size_t most_parents = 4;  ///< half-way texts that are gone on from

/// A finding wherever its line has gone: code, words, path and the line's number on disk.
using Key = std::tuple<Code, std::vector<std::string>, std::string, std::uint32_t>;
using Keys = std::set<Key>;

std::uint32_t origin_of(const Texts& texts, const std::string& path, std::uint32_t line) {
  const auto text = texts.find(path);
  if (text == texts.end()) return line;
  return line >= 1 && line <= text->second.size() ? text->second[line - 1].origin : 0;
}

/// Of a key, whether it holds the words: a plain walk has none.
enum class By : bool { place, words };

Key key_of(Code code, source::Span at, const std::vector<std::string>& args, const Seen& seen, const Texts& texts, By by) {
  const std::vector<std::string>& words = by == By::words ? args : std::vector<std::string>{};
  if (!at.file) return {code, words, "", 0};
  const std::string& path = seen.files.path(at.file);
  return {code, words, path, origin_of(texts, path, seen.files.position(at.file, at.begin).line)};
}

/// What a change must not bring about. Of the kit nothing is known while there are errors, so an item that nobody uses is no
/// news; nor are notes.
bool counts(const Diagnostic& d) { return d.severity != Severity::note && d.code != Code::S102; }

void add_keys(const Diagnostic& d, const Seen& seen, const Texts& texts, By by, Keys& out) {
  // That an arm was passed over is the reason of a finding and none of its own.
  if (d.code != Code::F601) out.insert(key_of(d.code, d.at, d.args, seen, texts, by));
  for (const auto& also : d.also)
    if (also.code != Code::F601) out.insert(key_of(also.code, also.at, also.args, seen, texts, by));
}

Keys keys_of(const Seen& seen, const Texts& texts, By by) {
  Keys out;
  for (const Diagnostic& d : seen.findings)
    if (counts(d)) add_keys(d, seen, texts, by, out);
  return out;
}

bool share(const Keys& a, const Keys& b) {
  return std::any_of(a.begin(), a.end(), [&](const Key& key) { return b.count(key) != 0; });
}

bool is_error(const Diagnostic& d) { return d.severity == Severity::error; }
bool is_error_of_the_walk(const Diagnostic& d) { return is_error(d) && is_of_the_walk(d.code); }

std::size_t errors_in(const Seen& seen) { return static_cast<std::size_t>(std::count_if(seen.findings.begin(), seen.findings.end(), is_error_of_the_walk)); }
/// That no order is kept goes when what breaks in the order as written does.
bool is_another(const Diagnostic& d) { return is_error(d) && !is_of_the_walk(d.code) && d.code != diagnostics::Code::F116; }
std::size_t others_in(const Seen& seen) { return static_cast<std::size_t>(std::count_if(seen.findings.begin(), seen.findings.end(), is_another)); }

std::size_t warnings_in(const Seen& seen) {
  return static_cast<std::size_t>(std::count_if(seen.findings.begin(), seen.findings.end(), [](const Diagnostic& d) { return d.severity == Severity::warning; }));
}

/// How many errors there are with those that every run comes to behind another error only: these are told as warnings.
std::size_t told_errors(const Seen& seen) {
  return static_cast<std::size_t>(std::count_if(seen.findings.begin(), seen.findings.end(), [](const Diagnostic& d) {
    return diagnostics::default_severity(d.code) == Severity::error && is_of_the_walk(d.code);
  }));
}

/// Errors that a change of steps can clear, those of the walk that come soonest first.
std::vector<Diagnostic> errors_of_the_walk(const Seen& seen) {
  std::vector<Diagnostic> out;
  for (const Diagnostic& d : seen.findings)
    if (is_error_of_the_walk(d)) out.push_back(d);
  std::stable_sort(out.begin(), out.end(), [](const Diagnostic& a, const Diagnostic& b) { return a.story.size() < b.story.size(); });
  return out;
}

/// A text on the way, with what is known of it.
struct Way {
  std::vector<Placed> changes;
  std::uint32_t size = 0, distance = 0;
  Texts texts;
  std::uint32_t longest = 0;         ///< steps of the longest run, without interruptions
  std::size_t left = 0, fresh = 0;   ///< errors of it, and of these and its warnings those that were not there before
};

/// What is typed, wherever it is put: the same lines in another place are no second offer.
void add_typed(const Change& change, std::vector<std::string>& out) {
  for (const std::string& line : change.lines) out.push_back(without_margin(line));
}

std::vector<std::string> typed(const Way& way) {
  std::vector<std::string> out;
  for (const Placed& p : way.changes) add_typed(p.change, out);
  return out;
}

class Search {
 public:
  Search(const Recheck& recheck, const Limits& limits) : recheck_(recheck), limits_(limits) {}

  Result run() {
    look_before();
    if (!result_.before.protocol || result_.errors.empty()) return std::move(result_);
    std::vector<Way> parents(1);
    for (std::size_t depth = 0; depth < most_changes && !parents.empty() && found_.empty(); ++depth) {
      halfway_.clear();
      for (const Way& parent : parents)
        if (found_.empty()) go_on_from(parent);
      parents = best_halfway();
      const std::size_t left = furthest_.empty() ? told_errors(result_.before) : furthest_.front().left;
      if (!parents.empty() && parents.front().fresh == 0 && parents.front().left < left) furthest_ = {parents.front()};
    }
    offer();
    return std::move(result_);
  }

 private:
  void look_before() {
    result_.before = recheck_({}, {std::nullopt, false, false, limits_.workers});
    if (result_.before.protocol && errors_of_the_walk(result_.before).empty()) {
      result_.before = recheck_({}, {std::nullopt, true, false, limits_.workers});
      result_.with_interruptions = true;
    }
    result_.errors = errors_of_the_walk(result_.before);
    result_.other_errors = others_in(result_.before);
    known_ = keys_of(result_.before, {}, By::place);
  }

  Seen plain(const Texts& texts, std::optional<std::size_t> variant, unsigned workers) const {
    return recheck_(texts, {variant, result_.with_interruptions, true, workers});
  }

  /// A variant in which the error shows; none of the first few: all are asked.
  std::optional<std::size_t> variant_with(const Keys& error, const Texts& texts, const model::Protocol& protocol) const {
    const std::size_t count = model::all_variants(protocol).size();
    for (std::size_t v = 0; v < count && v < 12; ++v)
      if (share(keys_of(plain(texts, v, 1), texts, By::place), error)) return v;
    return std::nullopt;
  }

  void go_on_from(const Way& parent) {
    const Seen seen = parent.changes.empty() ? Seen{} : recheck_(parent.texts, {std::nullopt, result_.with_interruptions, false, limits_.workers});
    const Seen& now = parent.changes.empty() ? result_.before : seen;
    if (!now.protocol) return;
    const std::vector<Diagnostic> errors = errors_of_the_walk(now);
    if (errors.empty()) return;
    const Diagnostic& error = next_of(errors, now, parent.texts);
    target_ = {};
    add_keys(error, now, parent.texts, By::place, target_);
    variant_ = variant_with(target_, parent.texts, *now.protocol);
    const std::vector<Draft> drafts = drafts_for(error, {now.loaded, now.files, *now.protocol, now.findings}, result_.with_interruptions);
    std::size_t stop = drafts.size();
    for (std::size_t i = 0; i < stop && result_.tried < limits_.drafts; i += batch) {
      try_batch(parent, now, drafts, i, std::min(i + batch, stop));
      if (!found_.empty() && stop == drafts.size()) stop = std::min(drafts.size(), i + batch + afterglow);
      if (found_.size() >= limits_.offers) return;
    }
  }

  /// What a change has brought about is answered first.
  const Diagnostic& next_of(const std::vector<Diagnostic>& errors, const Seen& seen, const Texts& texts) const {
    const auto fresh = std::find_if(errors.begin(), errors.end(), [&](const Diagnostic& d) {
      Keys keys;
      add_keys(d, seen, texts, By::place, keys);
      return !share(keys, known_);
    });
    return fresh == errors.end() ? errors.front() : *fresh;
  }

  /// What came of a draft in the first two sieves.
  struct Sieved { bool passed = false; Way way; };

  void try_batch(const Way& parent, const Seen& seen, const std::vector<Draft>& drafts, std::size_t begin, std::size_t end) {
    std::vector<Sieved> sieved(end - begin);
    std::vector<std::size_t> open;
    for (std::size_t i = begin; i < end; ++i)
      if (!is_offered(parent, drafts[i])) open.push_back(i);
    side_by_side(open.size(), limits_.workers, [&](std::size_t i) { sieved[open[i] - begin] = sieve(parent, seen, drafts[open[i]]); });
    result_.tried += open.size();
    for (Sieved& one : sieved) {
      if (!one.passed) continue;
      if (one.way.left == 0 && one.way.fresh == 0) confirm(std::move(one.way));
      else halfway_.push_back(std::move(one.way));
    }
  }

  bool is_offered(const Way& parent, const Draft& draft) const {
    std::vector<std::string> lines = typed(parent);
    add_typed(draft.change, lines);
    return offered_.count(lines) != 0;
  }

  Sieved sieve(const Way& parent, const Seen& seen, const Draft& draft) const {
    Sieved out;
    out.way = parent;
    const Change& change = draft.change;
    const bool is_new = out.way.texts.count(change.path) == 0;
    if (is_new) out.way.texts[change.path] = text_on_disk(seen, change.path);
    Text& text = out.way.texts[change.path];
    const auto disk_line = [&](std::uint32_t line) { return line_on_disk(text, line); };
    out.way.changes.push_back({change, disk_line(change.before), change.first ? disk_line(change.first) : 0, change.last ? disk_line(change.last) : 0});
    text = changed(text, change);
    out.way.size += draft.size;
    out.way.distance += draft.distance;
    if (variant_) {
      out.passed = clears(plain(out.way.texts, variant_, 1), out.way);
      // What has brought something new about is not worth the other variants, unless nothing better is found.
      if (!out.passed || out.way.fresh != 0) return out;
    }
    out.passed = clears(plain(out.way.texts, std::nullopt, 1), out.way);
    return out;
  }

  /// Whether the error is gone, and what is left or has come instead.
  bool clears(const Seen& after, Way& way) const {
    if (!after.protocol) return false;
    const Keys keys = keys_of(after, way.texts, By::place);
    if (share(keys, target_)) return false;
    way.left = errors_in(after);
    way.longest = after.longest;
    way.fresh = static_cast<std::size_t>(std::count_if(keys.begin(), keys.end(), [&](const Key& key) { return known_.count(key) == 0; }));
    return true;
  }

  static Text text_on_disk(const Seen& seen, const std::string& path) {
    for (std::uint32_t f = 0; f < seen.files.size(); ++f)
      if (seen.files.path(source::FileId(f)) == path) return text_of(seen.files.text(source::FileId(f)));
    return {};
  }

  /// The line that a place has on the disk: that of the next line which was there before.
  static std::uint32_t line_on_disk(const Text& text, std::uint32_t line) {
    for (std::size_t i = line - 1; i < text.size(); ++i)
      if (text[i].origin != 0) return text[i].origin;
    std::uint32_t last = 0;
    for (const TextLine& one : text) last = std::max(last, one.origin);
    return last + 1;
  }

  /// The third sieve. What typed the same elsewhere needs no second walk.
  void confirm(Way way) {
    if (found_.size() >= limits_.offers || !offered_.insert(typed(way)).second) return;
    ++result_.walked;
    Seen whole = recheck_(way.texts, {std::nullopt, true, false, limits_.workers});
    if (!whole.protocol || !whole.complete || !is_as_good(whole, way.texts)) {
      offered_.erase(typed(way));
      return;
    }
    add(std::move(way), std::move(whole));
  }

  /// Whether a whole check finds nothing that it did not find before. Mostly it finds nothing at all, and then the whole check of
  /// the text before need not be made; nor for one that leaves something where another was found that leaves nothing.
  bool is_as_good(const Seen& whole, const Texts& texts) {
    const Keys keys = keys_of(whole, texts, By::words);
    if (keys.empty()) return leaves_nothing_ = true;
    if (leaves_nothing_ || errors_in(whole) != 0) return false;
    learn_whole();
    return std::all_of(keys.begin(), keys.end(), [&](const Key& key) { return whole_known_->count(key) != 0; });
  }

  void learn_whole() {
    if (whole_known_) return;
    const Seen whole = result_.with_interruptions ? result_.before : recheck_({}, {std::nullopt, true, false, limits_.workers});
    whole_known_ = keys_of(whole, {}, By::words);
    result_.other_errors = others_in(whole);
  }

  /// Texts to go on from: first those with nothing new in them.
  std::vector<Way> best_halfway() {
    std::stable_sort(halfway_.begin(), halfway_.end(), [](const Way& a, const Way& b) {
      const bool a_fresh = a.fresh != 0, b_fresh = b.fresh != 0;
      return std::tie(a_fresh, a.left, a.fresh, a.size, a.distance) < std::tie(b_fresh, b.left, b.fresh, b.size, b.distance);
    });
    if (halfway_.size() > most_parents) halfway_.resize(most_parents);
    return std::move(halfway_);
  }

  void offer() {
    if (found_.empty())
      for (Way& way : furthest_) add_partial(std::move(way));
    std::stable_sort(found_.begin(), found_.end(), [](const Mend& a, const Mend& b) {
      return std::tuple(a.changes.size(), a.size, warnings_in(a.seen), a.distance) < std::tuple(b.changes.size(), b.size, warnings_in(b.seen), b.distance);
    });
    result_.mends = std::move(found_);
  }

  /// Some errors are gone and none has come: worth showing, with what is left.
  void add_partial(Way way) {
    Seen whole = recheck_(way.texts, {std::nullopt, true, false, limits_.workers});
    if (!whole.protocol || !whole.complete) return;
    learn_whole();
    for (const Key& key : keys_of(whole, way.texts, By::words))
      if (!whole_known_->count(key)) return;
    ++result_.walked;
    add(std::move(way), std::move(whole));
  }

  void add(Way way, Seen whole) {
    const std::size_t left = errors_in(whole);
    const std::size_t others = others_in(whole);
    found_.push_back({std::move(way.changes), way.size, way.distance, std::move(way.texts), std::move(whole), left, others, result_.before.longest, way.longest});
  }

  const Recheck& recheck_;
  Limits limits_;
  Result result_;
  Keys known_;
  std::optional<Keys> whole_known_;
  Keys target_;                      ///< the error that is being cleared, with what stands under it
  std::optional<std::size_t> variant_;
  std::vector<Way> halfway_, furthest_;
  std::set<std::vector<std::string>> offered_;
  std::vector<Mend> found_;
  bool leaves_nothing_ = false;      ///< one of them: not even a warning
};

}  // namespace

Result find_mends(const Recheck& recheck, const Limits& limits) { return Search(recheck, limits).run(); }

}  // namespace stepward::mend
