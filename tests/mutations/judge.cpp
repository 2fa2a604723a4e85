#include "judge.hpp"

#include <algorithm>
#include <chrono>

#include "check/verdict.hpp"
#include "diagnostics/render.hpp"
#include "model/from_syntax.hpp"
#include "model/variants.hpp"
#include "wording/messages.hpp"

namespace stepward::mutations {
namespace {

using diagnostics::Diagnostic;
using diagnostics::Severity;

/// Codes that are read off the text alone, so that no story leads to them.
bool needs_story(diagnostics::Code code) { return diagnostics::code_name(code)[0] == 'P' || diagnostics::code_name(code)[0] == 'R'; }

/// A right code at the place of the error: its own, or one that stands under it there.
bool is_code(const Mutant& m, const Diagnostic& d) {
  if (m.codes.count(d.code)) return true;
  return std::any_of(d.also.begin(), d.also.end(), [&](const diagnostics::Also& other) {
    return other.at.file == d.at.file && other.at.begin == d.at.begin && m.codes.count(other.code) != 0;
  });
}

Origin origin_of(const Mutant& m, const source::Files& files, source::Span at) {
  return m.copies.origin(files.path(at.file), files.position(at.file, at.begin).line);
}

Reported reported(const Mutant& m, const source::Files& files, const Diagnostic& d) {
  Reported r;
  r.code = d.code;
  r.at = origin_of(m, files, d.at);
  r.headline = wording::headline(d.code, d.args);
  r.args = d.args;
  r.has_story = !d.story.empty() || !needs_story(d.code);
  r.expected = is_code(m, d) && m.lines.count(r.at) != 0;
  return r;
}

/// A rule's number, if the finding says that one was not kept.
void note_rule(diagnostics::Code code, const std::vector<std::string>& args, std::vector<std::string>& rules) {
  using diagnostics::Code;
  if (code == Code::R101 || code == Code::R102 || code == Code::R103 || code == Code::R104) rules.push_back(args.at(1));
}

void check_one(const model::Protocol& p, const Mutant& m, const JudgeOptions& options, diagnostics::Sink& sink) {
  check::Options with;
  with.interruptions = options.interruptions;
  if (!options.every_variant) with.only_variant = m.variant;
  if (!options.every_variant || m.all_variants.empty()) { check::check(p, with, sink); return; }
  for (const std::size_t v : m.all_variants) { with.only_variant = v; check::check(p, with, sink); }
}

/// The errors at which runs come to their first: what an author would mend first, with nothing that follows from it.
void note_first_errors(const model::Protocol& p, const Mutant& m, const source::Files& files, Verdict& v) {
  const auto variants = model::all_variants(p);
  if (m.variant >= variants.size()) return;
  Lines lines;
  v.first_as_expected = true;
  for (const check::PlainFinding& f : check::plain_walk(p, variants[m.variant], true).findings) {
    const bool error = diagnostics::default_severity(f.code) == Severity::error;
    if (!error || !f.line) continue;
    const Origin origin = origin_of(m, files, p[f.line].span);
    lines.insert(origin);
    v.first_as_expected = v.first_as_expected && m.lines.count(origin) != 0;
  }
  v.first_lines = lines.size();
}

}  // namespace

bool shows(const Verdict& verdict, const Mutant& m) {
  return std::any_of(verdict.told.begin(), verdict.told.end(),
                     [&](const auto& told) { return m.codes.count(told.first) != 0 && m.lines.count(told.second) != 0; });
}

Verdict judge(const Base&, const Mutant& m, const JudgeOptions& options) {
  const auto begin = std::chrono::steady_clock::now();
  source::Files files;
  diagnostics::Sink sink;
  const FilesInMemory access = m.copies.as_files();
  const auto loaded = resolve::load(m.copies.path(0), access, files, sink);
  const auto protocol = model::build(loaded, files, sink);
  if (protocol) check_one(*protocol, m, options, sink);
  diagnostics::sort(sink, files);
  Verdict v;
  for (const Diagnostic& d : sink) {
    if (d.severity != Severity::note) v.told.emplace_back(d.code, origin_of(m, files, d.at));
    note_rule(d.code, d.args, v.rules_not_kept);
    for (const diagnostics::Also& other : d.also) {
      v.told.emplace_back(other.code, origin_of(m, files, other.at));
      note_rule(other.code, other.args, v.rules_not_kept);
    }
    if (d.severity == Severity::warning) v.warnings.push_back(reported(m, files, d));
    if (d.severity != Severity::error) continue;
    v.errors.push_back(reported(m, files, d));
    v.text += diagnostics::as_text(d, files);
    v.found = v.found || v.errors.back().expected;
    v.has_story = v.has_story || (v.errors.back().expected && v.errors.back().has_story);
  }
  if (protocol && v.errors.size() > 1) note_first_errors(*protocol, m, files, v);
  v.as_expected = v.found && std::all_of(v.errors.begin(), v.errors.end(), [](const Reported& r) { return r.expected; });
  v.alone = v.found && v.errors.size() == 1;
  v.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
  return v;
}

}  // namespace stepward::mutations
