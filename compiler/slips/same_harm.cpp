#include "slips/same_harm.hpp"

#include <algorithm>
#include <sstream>

#include "wording/step_text.hpp"

namespace stepward::slips {
namespace {

using graph::SlipKind;

bool comes_to_the_same(const Row& row, const Row& other) {
  return std::all_of(row.harm_in.begin(), row.harm_in.end(), [&](const auto& entry) {
    const auto there = other.harm_in.find(entry.first);
    if (there == other.harm_in.end()) return false;
    const WorstHere &a = entry.second, &b = there->second;
    return a.code == b.code && a.line == b.line && a.ending == b.ending && a.headline == b.headline;
  });
}

class Joiner {
 public:
  Joiner(const model::Protocol& protocol, Table& table) : protocol_(protocol), table_(table) {}

  void run() {
    for (Row& row : table_.rows)
      if (row.outcome == Outcome::harm && (row.key.kind == SlipKind::cut_short || row.key.kind == SlipKind::done_early)) join(row);
  }

 private:
  void join(Row& row) const {
    for (const SlipKind kind : {SlipKind::left_out, SlipKind::cut_short}) {
      if (kind == row.key.kind) return;
      const auto says_it = std::find_if(table_.rows.begin(), table_.rows.end(), [&](const Row& other) { return other.key.kind == kind && is_said_by(row, other); });
      if (says_it == table_.rows.end()) continue;
      row.same_as = static_cast<std::size_t>(says_it - table_.rows.begin());
      return;
    }
  }

  bool is_said_by(const Row& row, const Row& other) const {
    return other.outcome == Outcome::harm && other.answer == row.answer && is_of_its_lines(row, other) && comes_to_the_same(row, other);
  }

  /// Of the line itself, or of one that it comes before: then that one is as good as not done.
  bool is_of_its_lines(const Row& row, const Row& other) const {
    const auto is_there = [&](const source::Span& at) { return at.file.value == other.key.file && at.begin == other.key.begin; };
    return is_there(row.at) || std::any_of(row.passes.begin(), row.passes.end(), [&](model::LineId line) { return is_there(protocol_[line].span); });
  }

  const model::Protocol& protocol_;
  Table& table_;
};

using Words = std::vector<std::string>;

Words words_of(const std::string& sentence) {
  std::istringstream in(sentence);
  Words words;
  for (std::string word; in >> word;) words.push_back(word);
  return words;
}

template <typename From>
std::string joined_words(From first, From last) {
  std::string out;
  for (; first != last; ++first) out += (out.empty() ? "" : " ") + *first;
  return out;
}

/// How many words all sentences share at their beginning.
std::size_t shared(const std::vector<Words>& all) {
  std::size_t n = 0;
  const auto has_same = [&](const Words& words) { return n < words.size() && words[n] == all.front()[n]; };
  while (n + 1 < all.front().size() && std::all_of(all.begin(), all.end(), has_same)) ++n;
  return n;
}

}  // namespace

void join_same_harm(const model::Protocol& protocol, Table& table) { Joiner(protocol, table).run(); }

std::string one_sentence(const std::vector<std::string>& alternatives) {
  if (alternatives.size() < 2) return alternatives.empty() ? "" : alternatives.front();
  std::vector<Words> all;
  for (const std::string& each : alternatives) all.push_back(words_of(each));
  const std::size_t front = shared(all);
  std::vector<std::string> middles;
  for (const Words& words : all) middles.push_back(joined_words(words.begin() + static_cast<std::ptrdiff_t>(std::min(front, words.size())), words.end()));
  const std::string head = joined_words(all.front().begin(), all.front().begin() + static_cast<std::ptrdiff_t>(front));
  return (head.empty() ? "" : head + " ") + wording::joined(middles, " or ");
}

}  // namespace stepward::slips
