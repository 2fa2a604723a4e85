#include "compare.hpp"

#include <algorithm>
#include <map>

#include "check/verdict.hpp"

namespace stepward::oracle {
namespace {

/// Codes whose thing is a person, a zone or a need; the fast walk keeps those apart from things.
bool has_no_thing(diagnostics::Code code) {
  return code == Code::P202 || code == Code::P203 || code == Code::P204 || code == Code::P205 || code == Code::P301 ||
         code == Code::P702 || code == Code::F101;
}

/// Bounds on time: the fast walk tells one line of each, so the line is left aside; how many steps it takes counts only
/// where a bound is broken.
bool is_about_time(diagnostics::Code code) {
  return code == Code::R103 || code == Code::R104 || code == Code::R202 || code == Code::T811 || code == Code::T812;
}
bool is_open_bound(diagnostics::Code code) { return code == Code::R202 || code == Code::T812; }

/// Findings of the structure of a protocol, not of a run: the oracle looks for none.
bool is_about_runs(diagnostics::Code code) {
  const std::string_view name = diagnostics::code_name(code);
  return name[0] == 'P' || is_about_time(code) || code == Code::T801 || code == Code::T802 || code == Code::T803 || code == Code::R101 || code == Code::R102 || code == Code::F101 || code == Code::F201 ||
         code == Code::F202 || code == Code::F203;
}

/// Several findings may look alike here; the shortest run counts.
class Shortest {
 public:
  void add(Common found) {
    const auto key = std::make_tuple(found.code, found.line, found.about);
    const auto [entry, is_new] = steps_.insert({key, found.steps});
    if (!is_new) entry->second = std::min(entry->second, found.steps);
  }
  std::vector<Common> all() const {
    std::vector<Common> list;
    for (const auto& [key, steps] : steps_)
      list.push_back({std::get<0>(key), std::get<1>(key), std::get<2>(key), steps});
    return list;
  }

 private:
  std::map<std::tuple<std::string, std::string, std::string>, int> steps_;
};

/// A bound that is broken on some run is not told as open on others; nor is a rule that is broken for one person or item.
bool is_broken_somewhere(const Result& result, const Finding& open) {
  return std::any_of(result.shortest.begin(), result.shortest.end(), [&](const auto& entry) {
    const Finding& other = entry.first;
    return is_about_time(other.code) && !is_open_bound(other.code) && other.thing == open.thing &&
           (open.code == Code::R202 || other.who == open.who);
  });
}

bool is_line(const Protocol& protocol, const std::string& id) {
  return std::any_of(protocol.lines.begin(), protocol.lines.end(), [&](const Line& line) { return line.id == id; });
}

}  // namespace

std::vector<Common> slow_findings(const Protocol& protocol, const Result& result) {
  Shortest shortest;
  for (const auto& [finding, steps] : result.shortest) {
    if (is_open_bound(finding.code) && is_broken_somewhere(result, finding)) continue;
    shortest.add({std::string(diagnostics::code_name(finding.code)),
                  is_line(protocol, finding.where) && !is_about_time(finding.code) ? finding.where : std::string(),
                  has_no_thing(finding.code) ? std::string() : finding.thing, is_open_bound(finding.code) ? 0 : steps});
  }
  return shortest.all();
}

std::vector<Common> fast_findings(const Protocol& protocol, const Variant& variant, bool reduce,
                                  const check::Tamper& tamper) {
  Shortest shortest;
  for (const check::PlainFinding& finding : check::plain_walk(protocol, variant, reduce, tamper).findings) {
    if (!is_about_runs(finding.code)) continue;
    shortest.add({std::string(diagnostics::code_name(finding.code)),
                  finding.line && !is_about_time(finding.code) ? protocol[finding.line].id : std::string(),
                  has_no_thing(finding.code) ? std::string() : finding.about, static_cast<int>(finding.steps)});
  }
  return shortest.all();
}

std::string disagreement(const std::vector<Common>& slow, const std::vector<Common>& fast) {
  const auto lines = [](const std::vector<Common>& some, const std::vector<Common>& others, const char* mark) {
    std::string text;
    for (const Common& each : some) {
      if (std::find(others.begin(), others.end(), each) != others.end()) continue;
      text += std::string(mark) + each.code + (each.line.empty() ? "" : " at " + each.line) +
              (each.about.empty() ? "" : ": " + each.about) + ", " + std::to_string(each.steps) + " steps\n";
    }
    return text;
  };
  return lines(slow, fast, "  only slow: ") + lines(fast, slow, "  only fast: ");
}

}  // namespace stepward::oracle
