#include "check/merger.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "wording/sources.hpp"

namespace stepward::check {
namespace {

using diagnostics::Code;
using diagnostics::Diagnostic;
using diagnostics::Severity;

/// Where a mending hand would begin: the question that skipped an arm, else the line itself.
source::Span place_of(const Sighting& s) { return s.skipped ? s.skipped->at : s.at; }

bool is_question_code(Code code) { return code == Code::F201 || code == Code::F202 || code == Code::F203; }

bool same(const diagnostics::Also& a, const diagnostics::Also& b) {
  return a.code == b.code && key_of(a.at) == key_of(b.at) && a.args == b.args;
}

void add_also(Diagnostic& d, diagnostics::Also other) {
  const bool known = same(other, {d.code, d.at, d.args}) ||
                     std::any_of(d.also.begin(), d.also.end(), [&](const auto& a) { return same(a, other); });
  if (!known) d.also.push_back(std::move(other));
}

}  // namespace

void Merger::add(const Sighting& s, std::size_t variant) {
  // A skipped arm matters only as the reason of something else.
  if (s.report.code == Code::F601) return;
  Merged& m = merged_[{key_of(s.at), s.report.code, s.args}];
  const bool better = !m.shortest || std::pair(s.follows, s.steps) < std::pair(m.shortest->follows, m.shortest->steps);
  if (better) {
    m.shortest = &s;
    m.seen = next_++;
  }
  m.variants.insert(variant);
}

void Merger::finish(diagnostics::Sink& sink) {
  for (std::size_t i = 0; i < sink.size(); ++i)
    if (sink[i].code == Code::F301) heads_.push_back({nullptr, key_of(sink[i].at), i});
  std::vector<const Merged*> order;
  for (const auto& [key, merged] : merged_) order.push_back(&merged);
  std::stable_sort(order.begin(), order.end(), [](const Merged* a, const Merged* b) {
    return std::tuple(a->shortest->follows, a->shortest->steps, a->seen) <
           std::tuple(b->shortest->follows, b->shortest->steps, b->seen);
  });
  for (const Merged* m : order) file(*m, sink);
}

void Merger::file(const Merged& m, diagnostics::Sink& sink) {
  const Sighting& s = *m.shortest;
  const bool is_error = s.report.severity == Severity::error;
  if (const Head* head = is_error || s.follows ? head_of(s) : nullptr) return join(*head, s, sink);
  if (is_error) heads_.push_back({&s, key_of(place_of(s)), sink.size()});
  sink.push_back(worded(s, m));
  // What every run comes to behind an error only is told, but the error is what has to be mended.
  if (s.follows) sink.back().places.push_back({first_error_, "may go once this is mended"});
  else if (is_error && !first_error_.file) first_error_ = sink.back().at;
}

const Merger::Head* Merger::head_of(const Sighting& s) const {
  const PlaceKey at = key_of(place_of(s));
  const auto head = std::find_if(heads_.begin(), heads_.end(), [&](const Head& h) {
    if (!h.sighting) return h.at == at && is_question_code(s.report.code);
    return h.at == at || share_a_mistake(h.sighting->traces, s.traces);
  });
  return head == heads_.end() ? nullptr : &*head;
}

void Merger::join(const Head& head, const Sighting& s, diagnostics::Sink& sink) const {
  if (s.skipped) add_also(sink[head.index], {Code::F601, s.skipped->at, s.skipped->args});
  add_also(sink[head.index], {s.report.code, s.at, s.args});
}

Diagnostic Merger::worded(const Sighting& s, const Merged& m) const {
  Diagnostic d;
  d.code = s.report.code;
  d.severity = s.report.severity;
  d.at = s.at;
  d.args = s.args;
  d.story = s.story;
  if (s.report.rule) {
    const model::Rule& rule = protocol_[s.report.rule];
    d.because = rule.because;
    d.source = wording::best_source_phrase(rule.sources);
    if (!(rule.span == s.at)) d.places.push_back({rule.span, "rule"});
    if (s.report.set_aside != UINT32_MAX) d.places.push_back({protocol_.set_aside[s.report.set_aside].span, "set aside here"});
  }
  if (s.skipped) {
    d.also.push_back({d.code, d.at, d.args});
    d.code = Code::F601;
    d.at = s.skipped->at;
    d.args = s.skipped->args;
  }
  if (variant_count_ > 1) d.shared = fmt::format("{} of {} variants", m.variants.size(), variant_count_);
  return d;
}

}  // namespace stepward::check
