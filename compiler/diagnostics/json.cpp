#include <type_traits>

#include <nlohmann/json.hpp>

#include "diagnostics/render.hpp"
#include "wording/messages.hpp"

namespace stepward::diagnostics {
namespace {

using Json = nlohmann::ordered_json;

Json place(source::Span at, const source::Files& files) {
  if (!at.file) return nullptr;
  const source::Position begin = files.position(at.file, at.begin);
  const source::Position end = files.position(at.file, at.end);
  return {{"file", files.path(at.file)}, {"line", begin.line}, {"column", begin.column},
          {"end_line", end.line}, {"end_column", end.column}};
}

Json places(const Diagnostic& finding, const source::Files& files) {
  Json all = Json::array();
  for (const Place& other : finding.places) {
    all.push_back({{"caption", wording::caption(other.caption, finding.args)}, {"at", place(other.span, files)}});
  }
  return all;
}

Json story(const std::vector<StoryLine>& lines) {
  Json all = Json::array();
  for (const StoryLine& line : lines) all.push_back({{"step", line.step}, {"text", line.text}, {"here", line.here}});
  return all;
}

Json also(const Diagnostic& finding, const source::Files& files) {
  Json all = Json::array();
  for (const Also& other : finding.also) {
    all.push_back({{"code", code_name(other.code)}, {"headline", wording::headline(other.code, other.args)}, {"at", place(other.at, files)}});
  }
  return all;
}

void put(Json& into, const std::string& name, const Cell& cell) {
  std::visit([&](const auto& value) { into[name] = value; }, cell);
}

Json fact_in_json(const Fact& fact) {
  if (const auto* rows = std::get_if<std::vector<Row>>(&fact)) {
    Json all = Json::array();
    for (const Row& row : *rows) {
      Json entry = Json::object();
      for (const auto& [name, cell] : row.cells) put(entry, name, cell);
      all.push_back(std::move(entry));
    }
    return all;
  }
  Json json;
  std::visit([&](const auto& value) {
    if constexpr (!std::is_same_v<std::decay_t<decltype(value)>, std::vector<Row>>) json = value;
  }, fact);
  return json;
}

Json one(const Diagnostic& finding, const source::Files& files) {
  Json json;
  json["code"] = code_name(finding.code);
  json["name"] = code_title(finding.code);
  json["severity"] = severity_name(finding.severity);
  json["headline"] = wording::headline(finding.code, finding.args);
  json["hint"] = wording::hint(finding.code, finding.args);
  json["fix"] = finding.fix.empty() ? wording::fix(finding.code, finding.args) : finding.fix;
  json["because"] = finding.because;
  json["source"] = finding.source;
  json["args"] = finding.args;
  json["at"] = place(finding.at, files);
  json["places"] = places(finding, files);
  json["story"] = story(finding.story);
  json["also"] = also(finding, files);
  json["shared"] = finding.shared;
  return json;
}

}  // namespace

std::string as_json(const Sink& findings, const source::Files& files,
                    const std::vector<std::pair<std::string, Fact>>& summary) {
  const Counts counts = count(findings);
  Json json;
  json["format"] = "stepward findings";
  json["version"] = 1;
  json["counts"] = {{"error", counts.errors}, {"warning", counts.warnings}, {"note", counts.notes}};
  json["summary"] = Json::object();
  for (const auto& [name, fact] : summary) json["summary"][name] = fact_in_json(fact);
  json["findings"] = Json::array();
  for (const Diagnostic& finding : findings) json["findings"].push_back(one(finding, files));
  // Text that is no UTF-8 (a path, say) is replaced rather than thrown at the caller.
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

}  // namespace stepward::diagnostics
