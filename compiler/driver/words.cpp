// `stepward words`: what a language still has to say, as a file of words to be filled in.

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "diagnostics/render.hpp"
#include "driver/commands.hpp"
#include "driver/disk.hpp"
#include "driver/papers.hpp"
#include "resolve/imports.hpp"
#include "translation/source_texts.hpp"

namespace stepward::driver {
namespace {

using translation::SourceText;
using translation::Unsaid;

std::string heading(const Compilation& made, const std::string& language) {
  const model::DocumentControl& document = made.protocol->document;
  return fmt::format("stepward 1 words\n\ndocument\n  title   \"{}, in {}\"\n  number  {}-{}\n  version 1.0\n  status  draft\nend document\n\n"
                     "words in {} for {} version {}\n",
                     document.title, language, document.number, text::upper(text::lower(language).substr(0, 2)), language, document.number, document.version);
}

std::vector<std::string> of_kind(const std::vector<Unsaid>& unsaid, Unsaid::What what) {
  std::vector<std::string> all;
  for (const Unsaid& each : unsaid) {
    if (each.what == what) all.push_back(each.english);
  }
  return all;
}

/// A name is written without quotes where a line could not be misread.
std::string name_in_line(const std::string& name) {
  const bool plain = std::all_of(name.begin(), name.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == ' ' || c == '-';
  });
  return plain ? name : '"' + name + '"';
}

std::string place_in_line(const std::string& place) {
  const std::string phase = "phase ";
  return place.rfind(phase, 0) == 0 ? phase + '"' + place.substr(phase.size()) + '"' : place;
}

/// The texts under the place of each: a line's own name where it has one, for a line may move.
std::string passages(const resolve::Loaded& loaded, const std::vector<std::string>& texts) {
  std::vector<std::pair<std::string, std::vector<std::string>>> by_place;
  std::vector<std::string> placed;
  for (const SourceText& source : translation::source_texts(loaded)) {
    const auto holds = [&](const std::vector<std::string>& all) { return std::find(all.begin(), all.end(), source.text) != all.end(); };
    if (!holds(texts) || holds(placed)) continue;
    placed.push_back(source.text);
    const std::string& place = source.places.back();
    const auto known = std::find_if(by_place.begin(), by_place.end(), [&](const auto& each) { return each.first == place; });
    if (known != by_place.end()) known->second.push_back(source.text);
    else by_place.push_back({place, {source.text}});
  }
  std::string text;
  for (const auto& [place, all] : by_place) {
    text += "\ntext for " + place_in_line(place) + '\n';
    for (const std::string& each : all) text += fmt::format("  from \"{}\"\n  say  \"\"\n", each);
    text += "end text\n";
  }
  return text;
}

std::string file_of_words(const Compilation& made, const Coverage& coverage) {
  std::string text = heading(made, coverage.language);
  const auto names = of_kind(coverage.unsaid, Unsaid::What::name), phrases = of_kind(coverage.unsaid, Unsaid::What::phrase);
  if (!names.empty()) text += "\n# What things are called: first the name alone, then as it stands on a line, with its article.\n";
  for (const std::string& name : names) text += fmt::format("name {} \"\" called \"\"\n", name_in_line(name));
  if (!phrases.empty()) text += "\n# What papers say by themselves. Gaps in square brackets stay as they are, in any order.\n";
  for (const std::string& phrase : phrases) text += fmt::format("phrase \"{}\" \"\"\n", phrase);
  return text + passages(made.loaded, of_kind(coverage.unsaid, Unsaid::What::text));
}

}  // namespace

Outcome words_command(const WordsRequest& request, const Host& host) {
  const Patience patience(host, "looking for what is not said in " + request.language);
  const FilesOnDisk disk(request.file);
  Compilation made = read(request.file, disk, host.today);
  check::Options options;
  options.workers = host.cores;
  walk(made, options);
  if (made.unreadable) return {ExitCode::file_trouble, "", diagnostics::as_text(made.findings, made.files, {})};
  if (!made.is_walkable() || diagnostics::count(made.findings).errors > 0) {
    const std::string why = made.protocol && !made.is_walkable() ? "only a protocol has papers" : "what was found has to be mended first";
    return {ExitCode::findings, "", diagnostics::as_text(made.findings, made.files, {}) + "stepward: no words were listed: " + why + '\n'};
  }
  const translation::Dictionary* known = dictionary_of(made, request.language);
  translation::Dictionary none;
  none.language = text::capitalised(request.language);
  const Coverage coverage = cover(made, known ? *known : none);
  const std::string summary = fmt::format("{}: {} of {} papers are complete\n", coverage.language, coverage.complete, coverage.papers);
  if (coverage.unsaid.empty()) return {ExitCode::fine, summary, ""};
  std::string text = file_of_words(made, coverage);
  if (request.output.empty()) return {ExitCode::fine, std::move(text), ""};
  std::string why;
  if (disk_holds(request.output)) return refusal(ExitCode::wrong_use, request.output + " is there already; nothing was changed");
  why = write_all({{request.output, std::move(text)}});
  return why.empty() ? Outcome{ExitCode::fine, summary, ""} : refusal(ExitCode::file_trouble, why);
}

}  // namespace stepward::driver
