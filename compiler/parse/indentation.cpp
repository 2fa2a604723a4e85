#include "parse/indentation.hpp"

#include <algorithm>
#include <cstdint>
#include <string>

#include "parse/placement.hpp"

namespace stepward::parse {
namespace {

enum class Compared : std::uint8_t { less, same, more, unclear };

/// How far the blanks `inner` go in, compared with `outer`.
Compared compare(std::string_view inner, std::string_view outer) {
  if (inner == outer) return Compared::same;
  const std::size_t common = std::min(inner.size(), outer.size());
  if (inner.substr(0, common) != outer.substr(0, common)) return Compared::unclear;
  return inner.size() < outer.size() ? Compared::less : Compared::more;
}

/// What was seen of one block while its lines went by.
struct Seen {
  std::size_t opening = 0;
  const Line* outside = nullptr;  ///< the first line indented less than the block
  const Line* level = nullptr;    ///< the first line indented as much as the block
  bool deeper = false;            ///< some line is indented more
};

class Check {
 public:
  Check(const std::vector<Line>& lines, const std::vector<Extent>& extents, std::string_view text, Findings& findings)
      : lines_(lines), text_(text), findings_(findings), end_of_(lines.size(), 0) {
    for (const Extent& extent : extents) end_of_[extent.opening] = extent.ending;
  }

  void run() {
    for (std::size_t i = 0; i < lines_.size() && !findings_.full(); ++i) {
      if (!open_.empty() && end_of_[open_.back().opening] == i) {
        finish(open_.back(), lines_[i]);
        open_.pop_back();
        continue;
      }
      if (!open_.empty()) see(open_.back(), lines_[i]);
      if (end_of_[i] > i) open_.push_back({i, nullptr, nullptr, false});
    }
  }

 private:
  void see(Seen& block, const Line& line) const {
    const Interior inside = interior_of(lines_[block.opening].head);
    if (line.form != LineForm::statement || divides_its_block(line.head) || is_detail(line.head, inside)) return;
    switch (compare(margin(line), margin(lines_[block.opening]))) {
      case Compared::less: if (!block.outside) block.outside = &line; break;
      case Compared::same: if (!block.level) block.level = &line; break;
      case Compared::more: block.deeper = true; break;
      case Compared::unclear: break;
    }
  }

  void finish(const Seen& block, const Line& end) {
    const Compared ends = compare(margin(end), margin(lines_[block.opening]));
    if (block.outside) return warn(block, *block.outside);
    if (block.level && block.deeper) return warn(block, *block.level);
    if (ends == Compared::less || ends == Compared::more) warn(block, end);
  }

  void warn(const Seen& block, const Line& line) {
    const Line& opening = lines_[block.opening];
    auto& finding = findings_.report(diagnostics::Code::L307, line.span, {std::string(words_of(opening.head))});
    finding.places.push_back({opening.head_span, "opened here"});
  }

  std::string_view margin(const Line& line) const {
    return text_.substr(line.margin.begin, line.margin.end - line.margin.begin);
  }

  const std::vector<Line>& lines_;
  std::string_view text_;
  Findings& findings_;
  std::vector<std::size_t> end_of_;  ///< for a line that opens a block, the line that closes it; else 0
  std::vector<Seen> open_;
};

}  // namespace

void check_indentation(const std::vector<Line>& lines, const std::vector<Extent>& extents, std::string_view text,
                       Findings& findings) {
  Check(lines, extents, text, findings).run();
}

}  // namespace stepward::parse
