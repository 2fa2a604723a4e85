// Findings as SARIF 2.1.0 (OASIS, 2020), for quality gates and editors that know it.
//
// A log has one run for each checked file. A story becomes a code flow, other places related locations, what the same mistake
// breaks too a sentence of the message. Only a fix that mends the spelling of one name is given as a fix that a program may
// apply: anything else changes what people do, and is told in words.

#include <cstdint>
#include <map>
#include <optional>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "base/text.hpp"
#include "diagnostics/render.hpp"
#include "wording/messages.hpp"

namespace stepward::diagnostics {
namespace {

using Sarif = nlohmann::ordered_json;

/// RFC 3986: what is neither unreserved nor a slash is written as its bytes.
std::string uri_of(const std::string& path) {
  std::string uri = !path.empty() && path.front() == '/' ? "file://" : "";
  for (const char c : path) {
    const auto byte = static_cast<unsigned char>(c);
    const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || std::string_view("-._~/").find(c) != std::string_view::npos;
    uri += plain ? std::string(1, c) : fmt::format("%{:02X}", byte);
  }
  return uri;
}

Sarif region(source::Span at, const source::Files& files) {
  const source::Position begin = files.position(at.file, at.begin), end = files.position(at.file, at.end);
  return {{"startLine", begin.line}, {"startColumn", begin.column}, {"endLine", end.line}, {"endColumn", end.column}};
}

Sarif physical(source::Span at, const source::Files& files) {
  return {{"artifactLocation", {{"uri", uri_of(files.path(at.file))}}}, {"region", region(at, files)}};
}

Sarif message(std::string said) { return {{"text", std::move(said)}}; }

void add_sentence(std::string& all, const std::string& sentence) {
  if (sentence.empty()) return;
  if (!all.empty()) all += all.back() == '.' || all.back() == '!' || all.back() == '?' ? " " : ". ";
  all += text::capitalised(sentence);
}

std::string whole_message(const Diagnostic& finding) {
  std::string all;
  add_sentence(all, wording::headline(finding.code, finding.args));
  add_sentence(all, wording::hint(finding.code, finding.args));
  add_sentence(all, finding.because);
  for (const Also& other : finding.also) add_sentence(all, wording::headline(other.code, other.args));
  const std::string fix = finding.fix.empty() ? wording::fix(finding.code, finding.args) : finding.fix;
  if (!fix.empty()) add_sentence(all, "fix: " + fix);
  return all;
}

Sarif related(const Diagnostic& finding, const source::Files& files) {
  Sarif all = Sarif::array();
  for (const Place& other : finding.places) {
    if (!other.span.file) continue;
    all.push_back({{"id", all.size()}, {"physicalLocation", physical(other.span, files)}, {"message", message(wording::caption(other.caption, finding.args))}});
  }
  return all;
}

/// The story, line by line; where it ends is where the finding stands.
Sarif code_flow(const Diagnostic& finding, const source::Files& files) {
  Sarif steps = Sarif::array();
  for (const StoryLine& line : finding.story) {
    Sarif location = {{"message", message((line.step.empty() ? "" : line.step + " ") + line.text)}};
    if (line.here && finding.at.file) location["physicalLocation"] = physical(finding.at, files);
    steps.push_back({{"location", std::move(location)}, {"executionOrder", steps.size() + 1}, {"importance", line.here ? "essential" : "important"}});
  }
  return {{"message", message("the shortest run that leads there")}, {"threadFlows", Sarif::array({{{"locations", std::move(steps)}}})}};
}

bool is_about_spelling(Code code) { return code == Code::N101 || code == Code::V102; }

/// What to put in the place of the finding, if its fix is the line with that name spelt otherwise and nothing else.
std::optional<std::string> respelt(const Diagnostic& finding, const source::Files& files) {
  if (!is_about_spelling(finding.code) || finding.fix.empty() || !finding.at.file) return std::nullopt;
  const std::string_view all = files.text(finding.at.file);
  const std::size_t begin_of_line = all.rfind('\n', finding.at.begin) + 1;
  const std::size_t end_of_line = std::min(all.find('\n', finding.at.end), all.size());
  std::string_view before = all.substr(begin_of_line, finding.at.begin - begin_of_line);
  before.remove_prefix(std::min(before.find_first_not_of(" \t"), before.size()));
  std::string_view behind = all.substr(finding.at.end, end_of_line - finding.at.end);
  const std::string_view fix = finding.fix;
  // Remarks and spaces at the end of the line are no part of the fix.
  if (fix.substr(0, before.size()) != before) return std::nullopt;
  for (std::size_t kept = behind.size() + 1; kept-- > 0;) {
    const std::string_view tail = behind.substr(0, kept);
    if (fix.size() < before.size() + tail.size() || fix.substr(fix.size() - tail.size()) != tail) continue;
    if (kept < behind.size() && behind[kept] != ' ' && behind[kept] != '\t' && behind[kept] != '#') continue;
    const std::string name(fix.substr(before.size(), fix.size() - before.size() - tail.size()));
    return name.empty() ? std::nullopt : std::optional(name);
  }
  return std::nullopt;
}

Sarif spelling_fix(const Diagnostic& finding, const std::string& name, const source::Files& files) {
  const Sarif replacement = {{"deletedRegion", region(finding.at, files)}, {"insertedContent", {{"text", name}}}};
  const Sarif change = {{"artifactLocation", {{"uri", uri_of(files.path(finding.at.file))}}}, {"replacements", Sarif::array({replacement})}};
  return {{"description", message("write \"" + name + "\"")}, {"artifactChanges", Sarif::array({change})}};
}

/// The same finding again after lines have moved: by what it is about, not by where it stands (FNV-1a, 64 bits).
std::string fingerprint(const Diagnostic& finding) {
  std::uint64_t hash = 14695981039346656037ull;
  const auto take = [&](std::string_view part) {
    for (const char c : part) hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211ull;
    hash = (hash ^ 0xFF) * 1099511628211ull;
  };
  take(code_name(finding.code));
  for (const std::string& arg : finding.args) take(arg);
  for (const StoryLine& line : finding.story) take(line.text);
  return fmt::format("{:016x}", hash);
}

Sarif result(const Diagnostic& finding, const source::Files& files, std::size_t rule) {
  Sarif json = {{"ruleId", code_name(finding.code)}, {"ruleIndex", rule}, {"level", severity_name(finding.severity)}, {"message", message(whole_message(finding))}};
  if (finding.at.file) json["locations"] = Sarif::array({{{"physicalLocation", physical(finding.at, files)}}});
  if (Sarif others = related(finding, files); !others.empty()) json["relatedLocations"] = std::move(others);
  if (!finding.story.empty()) json["codeFlows"] = Sarif::array({code_flow(finding, files)});
  if (const auto name = respelt(finding, files)) json["fixes"] = Sarif::array({spelling_fix(finding, *name, files)});
  json["partialFingerprints"] = {{"whatItIsAbout/v1", fingerprint(finding)}};
  Sarif more = Sarif::object();
  if (!finding.source.empty()) more["source"] = finding.source;
  if (!finding.shared.empty()) more["shared"] = finding.shared;
  if (!more.empty()) json["properties"] = std::move(more);
  return json;
}

Sarif rule(Code code) {
  std::string title(code_title(code));
  for (char& c : title) {
    if (c == '_') c = ' ';
  }
  return {{"id", code_name(code)},
          {"name", code_title(code)},
          {"shortDescription", message(text::capitalised(title) + ".")},
          {"help", message(fmt::format("\"stepward explain {}\" tells more and shows an example.", code_name(code)))},
          {"defaultConfiguration", {{"level", severity_name(default_severity(code))}}}};
}

Sarif run(const SarifRun& checked) {
  std::map<Code, std::size_t> known;
  Sarif rules = Sarif::array(), results = Sarif::array();
  for (const Diagnostic& finding : *checked.findings) {
    const auto [entry, fresh] = known.emplace(finding.code, rules.size());
    if (fresh) rules.push_back(rule(finding.code));
    results.push_back(result(finding, *checked.files, entry->second));
  }
  Sarif json;
  json["tool"] = {{"driver", {{"name", "Stepward"}, {"version", STEPWARD_VERSION}, {"language", "en"}, {"rules", std::move(rules)}}}};
  json["invocations"] = Sarif::array({{{"executionSuccessful", checked.was_read}}});
  json["automationDetails"] = {{"id", "stepward check/" + uri_of(checked.file)}, {"description", message(checked.verdict)}};
  json["columnKind"] = "unicodeCodePoints";
  json["results"] = std::move(results);
  return json;
}

}  // namespace

std::string as_sarif_run(const SarifRun& checked) {
  // A path may be no UTF-8; what is none of it is replaced rather than thrown at the caller.
  return run(checked).dump(2, ' ', false, Sarif::error_handler_t::replace);
}

std::string as_sarif(const std::vector<std::string>& runs) {
  std::string log = "{\n\"$schema\": \"https://json.schemastore.org/sarif-2.1.0.json\",\n\"version\": \"2.1.0\",\n\"runs\": [\n";
  for (std::size_t i = 0; i < runs.size(); ++i) log += (i > 0 ? ",\n" : "") + runs[i];
  return log + "\n]\n}\n";
}

}  // namespace stepward::diagnostics
