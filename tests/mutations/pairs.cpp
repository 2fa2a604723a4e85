#include "pairs.hpp"

#include <algorithm>
#include <cstdio>
#include <map>
#include <optional>
#include <set>
#include <string_view>

#include "judge.hpp"

namespace stepward::mutations {
namespace {

std::map<Origin, std::string> lines_of(const Copies& copies) {
  std::map<Origin, std::string> out;
  for (std::uint32_t f = 0; f < copies.size(); ++f)
    for (const TextLine& line : copies.file(f)) out[line.origin] = line.text;
  return out;
}

/// The lines that a mistake took out, if that is all it did.
std::optional<std::set<Origin>> lines_taken_out(const Base& base, const Mutant& m) {
  const auto after = lines_of(m.copies);
  std::set<Origin> gone;
  std::size_t same = 0;
  for (const auto& [origin, text] : lines_of(base.copies)) {
    const auto now = after.find(origin);
    if (now == after.end()) gone.insert(origin);
    else same += now->second == text;
  }
  return !gone.empty() && same == after.size() ? std::optional(gone) : std::nullopt;
}

/// Both in one text; the second one only takes lines out.
std::optional<Mutant> both(const Base& base, const Mutant& a, const Mutant& b) {
  const auto gone = lines_taken_out(base, b);
  if (!gone || a.place == b.place) return std::nullopt;
  const auto still = lines_of(a.copies);
  const bool possible = std::all_of(gone->begin(), gone->end(), [&](Origin o) { return still.count(o) != 0; });
  if (!possible) return std::nullopt;
  Mutant m = a;
  for (Origin o : *gone) m.copies.erase({o.file, o.line, o.line});
  m.all_variants = {a.variant, b.variant};
  return m;
}

/// Found by a walk: where the text alone shows a mistake there is no walk until it is mended.
bool is_found(const Base& base, const Mutant& m) {
  const Verdict v = judge(base, m, {true, false});
  if (!v.alone) return false;
  const std::string_view code = diagnostics::code_name(v.errors.front().code);
  return code[0] == 'P' || code[0] == 'R' || code.substr(0, 2) == "F2" || code.substr(0, 2) == "F6";
}

}  // namespace

PairCount judge_pairs(const Base& base, const std::vector<Mutant>& mistakes, std::size_t wanted) {
  PairCount count;
  std::vector<const Mutant*> found;
  // Twice as many as are needed to make the pairs, spread over all kinds.
  const std::size_t step = std::max<std::size_t>(1, mistakes.size() / std::max<std::size_t>(2 * wanted, 8));
  for (std::size_t i = 0; i < mistakes.size(); i += step)
    if (is_found(base, mistakes[i])) found.push_back(&mistakes[i]);
  const std::size_t all = found.size() * found.size();
  for (std::size_t k = 0; k < all && count.pairs < wanted; ++k) {
    // A stride without a factor in common walks through every pair once, far from one to the next.
    const std::size_t at = (k * 7919) % all;
    const Mutant &a = *found[at / found.size()], &b = *found[at % found.size()];
    const auto m = both(base, a, b);
    if (!m) continue;
    const Verdict v = judge(base, *m, {true, true});
    const bool shows_both = shows(v, a) && shows(v, b);
    ++count.pairs;
    count.both += shows_both;
    count.apart += shows_both && v.errors.size() > 1;
    if (!shows_both)
      std::printf("  only one shown  %s %s  and  %s %s\n%s", base.place_words(a.place).c_str(), base.words(a.place).c_str(),
                  base.place_words(b.place).c_str(), base.words(b.place).c_str(), v.text.c_str());
  }
  return count;
}

}  // namespace stepward::mutations
