// spin_slips [--count N] [--from N] [--keep DIR] [--file FILE]…: harm that one slip, and that two slips can come to, found by the
// search for slips and by the model checker SPIN under the same budget.
//
// With one slip, both must come to the same harms, each after the same least number of steps. With two, ways that harm alone are shut in SPIN's
// model, as the search asks for pairs of others only; then either both come to harm, after the same least number of steps, or neither does, and every
// harm of a pair is one of SPIN's. What may happen at any time does not happen. Procedures that come to harm without a slip are passed over.
// Exit 0: all agree, and there was harm by one slip and by two. 1: not. 2: SPIN or gcc is missing, or wrong arguments.

#include <algorithm>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <map>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "explore/deviation.hpp"
#include "model/variants.hpp"
#include "promela.hpp"
#include "rules/advice.hpp"
#include "slips/slipped_system.hpp"
#include "trial.hpp"
#include "verifier.hpp"

namespace {

using namespace stepward;
namespace disk = std::filesystem;
using Harms = std::map<std::uint32_t, std::uint32_t>;  ///< by report of the system: least steps

constexpr std::uint64_t limit = 2'000'000;

/// What the compiler's search finds.
class Searched {
 public:
  explicit Searched(const slips::SlippedSystem& made) : made_(made), trodden_(made.packed, explore::walk(made.packed, {.interruptions = false})) {
    follow_singles();
    follow_pairs();
  }

  bool harms_without_slip() const {
    const auto& found = trodden_.walk.found;
    return std::any_of(found.begin(), found.end(), [&](const explore::Found& f) { return made_.signs.reports[f.report] >= explore::Weight::stop; });
  }
  const Harms& one() const { return one_; }
  const Harms& two() const { return two_; }
  const std::vector<bool>& is_harmful() const { return harmful_; }

 private:
  void note(Harms& harms, std::uint32_t packed_report, std::uint32_t steps) const {
    const auto [at, fresh] = harms.try_emplace(made_.packed.reports[packed_report].value, steps);
    if (!fresh) at->second = std::min(at->second, steps);
  }

  void follow_singles() {
    explore::Deviations deviations(made_.packed, trodden_, made_.signs, false, limit);
    for (std::uint32_t w = 0; w < made_.ways.ways.size(); ++w) {
      const explore::Followed followed = deviations.follow(made_.ways.ways[w].at, made_.way_edges[w]);
      for (const explore::Halt& h : followed.harms) note(one_, h.report, h.run.steps);
      harmful_.push_back(!followed.harms.empty());
    }
  }

  void follow_pairs() {
    std::vector<explore::Deviations::Second> quiet;
    for (std::uint32_t w = 0; w < harmful_.size(); ++w)
      if (!harmful_[w]) quiet.push_back({made_.ways.ways[w].at, made_.way_edges[w]});
    explore::Deviations deviations(made_.packed, trodden_, made_.signs, false, limit);
    for (const auto& first : quiet) {
      deviations.follow(first.at, first.edge);
      std::vector<explore::Deviations::Joint> joints;
      deviations.follow_seconds(quiet, joints);
      for (const auto& joint : joints) note(two_, joint.report, joint.run.steps);
    }
  }

  const slips::SlippedSystem& made_;
  explore::Trodden trodden_;
  std::vector<bool> harmful_;
  Harms one_, two_;
};

/// The field that says what was missed and is packed there. Fields that no run needs have no place of their own, so that one has to be asked for.
effects::FieldId field_at(const slips::SlippedSystem& made, const explore::Slot& slot) {
  std::uint32_t f = 0;
  const auto is_it = [&] { return made.system.fields[f].meaning.what == effects::FieldMeaning::What::missed && made.packed.fields[f] == slot; };
  while (!is_it()) ++f;
  return effects::FieldId(f);
}

/// The same system for SPIN. `shut`: by way.
spin::Slips slips_for(const slips::SlippedSystem& made, unsigned budget, const std::vector<bool>& shut) {
  spin::Slips out;
  out.budget = budget;
  out.is_way.resize(made.system.edges.size());
  out.is_shut.resize(made.system.edges.size());
  out.seen_by.resize(made.system.edges.size());
  for (std::size_t w = 0; w < made.way_edges.size(); ++w) {
    out.is_way[made.way_edges[w]] = true;
    out.is_shut[made.way_edges[w]] = shut[w];
  }
  for (std::size_t e = 0; e < made.system.edges.size(); ++e) {
    for (const explore::Slot slot : made.signs.seen_by[e]) out.seen_by[e].push_back(field_at(made, slot));
  }
  out.ends.resize(made.system.reports.size());
  out.is_told.resize(made.system.reports.size());
  for (std::size_t r = 0; r < made.packed.reports.size(); ++r) {
    out.ends[made.packed.reports[r].value] = made.signs.reports[r] >= explore::Weight::stop;
    out.is_told[made.packed.reports[r].value] = made.signs.reports[r] == explore::Weight::harm;
  }
  return out;
}

std::uint32_t soonest(const Harms& harms) {
  std::uint32_t least = UINT32_MAX;
  for (const auto& [report, steps] : harms) least = std::min(least, steps);
  return least;
}

std::string told(const Harms& harms) {
  std::string text;
  for (const auto& [report, steps] : harms) text += fmt::format(" {} after {}", report, steps);
  return text.empty() ? " none" : text;
}

/// Every pair names one harm that it comes to, so SPIN may know more, or a sooner run by another pair.
bool agree_on_pairs(const Harms& here, const Harms& there) {
  return soonest(here) == soonest(there) && std::all_of(here.begin(), here.end(), [&](const auto& harm) {
           const auto other = there.find(harm.first);
           return other != there.end() && other->second <= harm.second;
         });
}

class Comparison {
 public:
  explicit Comparison(disk::path folder) : folder_(std::move(folder)) {}

  void compare(const model::Protocol& protocol, const std::string& name) {
    model::Protocol advised = rules::with_rules_as_advice(protocol);
    advised.interruptions.clear();
    for (const model::Variant& variant : model::all_variants(advised)) compare(slips::slipped_system(advised, variant), name + " " + model::variant_name(advised, variant));
  }

  std::size_t compared() const { return compared_; }

  int summary() const {
    std::printf("%zu systems with %zu slips: %zu harms by one slip, %zu by two; %zu come to harm without any and were passed over; %zu differ\n", compared_, slips_, by_one_, by_two_,
                passed_over_, differ_);
    return differ_ == 0 && by_one_ > 0 && by_two_ > 0 ? 0 : 1;
  }

 private:
  void compare(const slips::SlippedSystem& made, const std::string& name) {
    const Searched here(made);
    if (here.harms_without_slip()) { ++passed_over_; return; }
    ++compared_;
    slips_ += made.way_edges.size();
    const Harms one = by_spin(made, slips_for(made, 1, std::vector<bool>(made.way_edges.size(), false)));
    const Harms two = by_spin(made, slips_for(made, 2, here.is_harmful()));
    by_one_ += one.size();
    by_two_ += two.size();
    if (one == here.one() && agree_on_pairs(here.two(), two)) return;
    ++differ_;
    std::printf("%s\n  one slip: here%s, in SPIN%s\n  two: here%s, in SPIN%s\n", name.c_str(), told(here.one()).c_str(), told(one).c_str(), told(here.two()).c_str(), told(two).c_str());
  }

  Harms by_spin(const slips::SlippedSystem& made, const spin::Slips& slips) {
    const spin::Verified verified = spin::verified(spin::as_promela(made.system, slips), folder_);
    if (verified.states == 0) ++differ_;
    return verified.met;
  }

  disk::path folder_;
  std::size_t compared_ = 0, slips_ = 0, by_one_ = 0, by_two_ = 0, passed_over_ = 0, differ_ = 0;
};

}  // namespace

int main(int count, char** words) {
  std::uint64_t wanted = 20, from = 1;
  std::vector<std::string> files;
  disk::path folder = disk::temp_directory_path() / fmt::format("spin-slips-{}", static_cast<const void*>(&files));
  bool keep = false;
  for (int i = 1; i < count; ++i) {
    const bool more = i + 1 < count;
    if (!std::strcmp(words[i], "--count") && more) wanted = std::stoull(words[++i]);
    else if (!std::strcmp(words[i], "--from") && more) from = std::stoull(words[++i]);
    else if (!std::strcmp(words[i], "--file") && more) files.push_back(words[++i]);
    else if (!std::strcmp(words[i], "--keep") && more) { folder = words[++i]; keep = true; }
    else return std::fputs("spin_slips [--count N] [--from N] [--keep DIR] [--file FILE]…\n", stderr), 2;
  }
  if (!spin::is_installed()) return 2;
  Comparison comparison(folder);
  for (const std::string& file : files) {
    const auto protocol = spin::protocol_of(file);
    if (!protocol) return std::fprintf(stderr, "%s is no protocol without a mistake\n", file.c_str()), 2;
    comparison.compare(*protocol, file);
  }
  for (std::uint64_t number = from; files.empty() && comparison.compared() < wanted; ++number) {
    const oracle::Trial trial = oracle::read_procedure(number);
    if (trial.protocol) comparison.compare(*trial.protocol, fmt::format("procedure {}", number));
  }
  if (!keep) disk::remove_all(folder);
  return comparison.summary();
}
