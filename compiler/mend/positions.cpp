#include "mend/positions.hpp"

#include <algorithm>
#include <utility>

#include "mend/change.hpp"

namespace stepward::mend {

using syntax::NodeKind;

std::string_view Positions::text(std::uint32_t file, std::uint32_t line) const { return files_.line_text(loaded_.files[file].tree.file, line); }

Position Positions::before(std::uint32_t statement, std::uint32_t distance) const {
  const Statement& s = outline_.all[statement];
  Position out{s.file, s.first, margin_of(text(s.file, s.first)), distance};
  while (out.before > 1 && without_margin(text(s.file, out.before - 1)).rfind('#', 0) == 0) --out.before;
  return out;
}

Position Positions::behind(std::uint32_t statement, std::uint32_t distance) const {
  const Statement& s = outline_.all[statement];
  return {s.file, s.last + 1, margin_of(text(s.file, s.first)), distance};
}

std::vector<Position> Positions::backwards(std::uint32_t from, std::uint32_t distance) const {
  std::vector<Position> out;
  for (std::uint32_t at = from; distance <= farthest;) {
    if (outline_.all[at].parent == nowhere) {
      const std::uint32_t last = last_of_phase_before(at);
      if (last == nowhere) return out;
      out.push_back(behind(last, ++distance));
      at = last;
      continue;
    }
    out.push_back(before(at, distance++));
    const std::uint32_t previous = neighbour(at, -1);
    at = previous != nowhere ? previous : outline_.all[at].parent;
  }
  return out;
}

std::uint32_t Positions::last_of_phase_before(std::uint32_t phase) const {
  if (outline_.all[phase].kind != NodeKind::phase) return nowhere;
  const std::uint32_t previous = neighbour(phase, -1);
  std::uint32_t last = nowhere;
  for (std::uint32_t s = 0; previous != nowhere && s < outline_.all.size(); ++s)
    if (outline_.all[s].parent == previous) last = s;
  return last;
}

std::uint32_t Positions::neighbour(std::uint32_t statement, int by) const {
  const std::vector<std::uint32_t> all = outline_.siblings(statement);
  const auto here = std::find(all.begin(), all.end(), statement) - all.begin() + by;
  return here < 0 || here >= static_cast<std::ptrdiff_t>(all.size()) ? nowhere : all[static_cast<std::size_t>(here)];
}

bool Positions::is_about_choice_of(std::uint32_t block, const std::string& words) const {
  constexpr std::string_view opening = "only for ";
  const std::string& only = outline_.all[block].words;
  return only.rfind(opening, 0) == 0 && (words + ' ').find(' ' + only.substr(opening.size()) + ' ') != std::string::npos;
}

bool Positions::on_every_run_of(std::uint32_t from, std::uint32_t to) const {
  std::vector<std::pair<std::uint32_t, std::uint32_t>> around;  // blocks with the arm
  const auto& all = outline_.all;
  std::uint32_t top = from;
  for (std::uint32_t at = from; all[at].parent != nowhere; at = top = all[at].parent) around.push_back({all[at].parent, all[at].arm});
  for (std::uint32_t at = to; all[at].parent != nowhere; at = all[at].parent) {
    if (all[all[at].parent].parent == nowhere) {
      const std::uint32_t other = all[at].parent;
      return other == top || (all[other].kind == NodeKind::phase && all[top].kind == NodeKind::phase);
    }
    const bool is_around = std::find(around.begin(), around.end(), std::pair{all[at].parent, all[at].arm}) != around.end();
    if (!is_around && !is_about_choice_of(all[at].parent, all[from].words)) return false;
  }
  return false;
}

}  // namespace stepward::mend
