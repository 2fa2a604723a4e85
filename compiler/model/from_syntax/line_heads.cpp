#include "model/from_syntax/line_heads.hpp"

#include <algorithm>

namespace stepward::model::reading {
namespace {

/// Where a verb was found, and who stands before it.
struct Candidate {
  VerbKind verb = VerbKind::act;
  RoleId who;
  std::size_t verb_at = 0, rest_at = 0;
};

const resolve::Frame& frame_of(const Frames& frames, VerbKind verb) {
  switch (verb) {
    case VerbKind::don: return frames.don;
    case VerbKind::doff: return frames.doff;
    case VerbKind::disinfect: return frames.disinfect;
    case VerbKind::clean: return frames.clean;
    case VerbKind::inspect: return frames.inspect;
    case VerbKind::test: return frames.test;
    case VerbKind::decide: return frames.decide;
    case VerbKind::declare: return frames.declare;
    case VerbKind::record: return frames.record;
    case VerbKind::report: return frames.report;
    case VerbKind::call: return frames.call;
    case VerbKind::take: return frames.take;
    case VerbKind::pass: return frames.pass;
    case VerbKind::act: return frames.act;
    case VerbKind::move: return frames.move;
    case VerbKind::wait: return frames.wait;
    case VerbKind::start_timer: return frames.start_timer;
    case VerbKind::stop_timer: return frames.stop_timer;
  }
  return frames.act;
}

class HeadReader {
 public:
  HeadReader(Context& context, const Node& node, const std::vector<std::uint32_t>& parameters)
      : context_(context), node_(node), parameters_(parameters) {}

  std::optional<Chosen> run() {
    if (node_.phrase.size() > longest_line) {
      context_.explain(node_, {});
      return std::nullopt;
    }
    const resolve::Phrase phrase(context_.names, node_.phrase);
    std::vector<Candidate> candidates;
    find_verbs(phrase, 0, {}, candidates);
    if (candidates.empty()) {
      explain_no_verb(phrase);
      return std::nullopt;
    }
    std::vector<resolve::Cut> cuts(candidates.size());
    std::size_t fitting = candidates.size(), count = 0, furthest = 0;
    for (std::size_t at = 0; at < candidates.size(); ++at) {
      const Candidate& candidate = candidates[at];
      context_.try_read(node_, frame_of(*context_.frames, candidate.verb), cuts[at], candidate.rest_at, parameters_);
      if (!cuts[at].readings.empty()) {
        fitting = at;
        ++count;
      }
      if (cuts[at].stop.position >= cuts[furthest].stop.position) furthest = at;
    }
    if (count == 1 && cuts[fitting].readings.size() == 1) {
      const Candidate& chosen = candidates[fitting];
      return Chosen{chosen.verb, chosen.who, chosen.verb_at, chosen.rest_at, std::move(cuts[fitting].readings.front())};
    }
    explain_cut(cuts, count == 0 ? furthest : fitting, count);
    return std::nullopt;
  }

 private:
  void find_verbs(const resolve::Phrase& phrase, std::size_t at, RoleId who, std::vector<Candidate>& into) const {
    std::vector<resolve::NameTable::Match> matches;
    context_.names.matches_at(phrase.words, at, matches);
    for (const auto& match : matches) {
      const resolve::Meaning& meaning = context_.names.entry(match.entry).meaning;
      if (meaning.what == NameClass::verb)
        into.push_back({static_cast<VerbKind>(meaning.index), who, at, at + match.length});
      if (meaning.what == NameClass::role && at == 0) find_verbs(phrase, match.length, RoleId{meaning.index}, into);
    }
  }

  void explain_cut(std::vector<resolve::Cut>& cuts, std::size_t at, std::size_t count) {
    if (count > 1) {  // two verbs fit: both are shown as one list of readings
      resolve::Cut both;
      for (resolve::Cut& cut : cuts) {
        if (!cut.readings.empty()) both.readings.push_back(cut.readings.front());
      }
      return context_.explain(node_, both);
    }
    context_.explain(node_, cuts[at]);
  }

  void explain_no_verb(const resolve::Phrase& phrase) {
    for (std::size_t at = 1; at < node_.phrase.size(); ++at) {
      std::vector<Candidate> later;
      find_verbs(phrase, at, {}, later);
      if (later.empty()) continue;
      const auto* known = context_.names.find(resolve::words_of(node_.phrase, 0, at));
      if (known) {
        context_.report(Code::N106, span_of(node_, 0, at),
                        {known->name, std::string(resolve::called(known->meaning.what)), "a person"});
      } else {
        explain_person(at);
      }
      return;
    }
    explain_verb(phrase);
  }

  void explain_person(std::size_t end) {
    const std::string unknown = resolve::words_of(node_.phrase, 0, end);
    auto& finding = context_.report(Code::N101, span_of(node_, 0, end), {unknown});
    if (const auto near = resolve::nearest_name(context_.names, unknown, resolve::only(NameClass::role))) {
      finding.fix = *near + " " + resolve::words_of(node_.phrase, end, node_.phrase.size());
    }
  }

  /// No word of the line is a verb: the one that comes nearest is offered, at the head or behind a person.
  void explain_verb(const resolve::Phrase& phrase) {
    std::vector<resolve::NameTable::Match> matches;
    context_.names.matches_at(phrase.words, 0, matches);
    std::size_t at = 0;
    for (const auto& match : matches) {
      if (context_.names.entry(match.entry).meaning.what == NameClass::role) at = match.length;
    }
    const std::size_t size = node_.phrase.size();
    std::optional<std::string> near;
    std::size_t end = std::min(at + 1, size), least = SIZE_MAX;
    for (std::size_t until = at + 1; until <= std::min(at + 2, size); ++until) {
      const std::string part = resolve::words_of(node_.phrase, at, until);
      const auto verb = resolve::nearest_name(context_.names, part, resolve::only(NameClass::verb));
      const std::size_t apart = verb ? resolve::distance(part, *verb) : SIZE_MAX;
      if (verb && apart <= least) {
        least = apart;
        near = verb;
        end = until;
      }
    }
    const bool stops = at >= size;
    auto& finding = context_.report(Code::N105, stops ? node_.span : span_of(node_, at, end),
                                    {stops ? "the end of the line" : resolve::words_of(node_.phrase, at, end)});
    if (near) {
      finding.fix = resolve::words_of(node_.phrase, 0, at);
      finding.fix += (at > 0 ? " " : "") + *near + " " + resolve::words_of(node_.phrase, end, size);
    }
  }

  Context& context_;
  const Node& node_;
  const std::vector<std::uint32_t>& parameters_;
};

}  // namespace

std::optional<Chosen> choose_verb(Context& context, const Node& node, const std::vector<std::uint32_t>& parameters) {
  return HeadReader(context, node, parameters).run();
}

}  // namespace stepward::model::reading
