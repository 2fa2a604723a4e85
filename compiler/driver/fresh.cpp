// `stepward fresh`: is the paper on the wall the one that would be printed now, and if not, what has changed.

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "diagnostics/render.hpp"
#include "driver/commands.hpp"
#include "driver/copies.hpp"
#include "driver/disk.hpp"
#include "driver/dossiers.hpp"
#include "driver/papers.hpp"
#include "emit/fresh/answer.hpp"
#include "emit/fresh/known_paper.hpp"
#include "model/variants.hpp"
#include "wording/messages.hpp"

namespace stepward::driver {
namespace {

using emit::Answer;
using emit::KnownPaper;

/// Of one file: what it compiles to, or why it has no papers.
struct Source {
  Compilation made;
  std::string why;
  bool unreadable = false;
};

Source checked_source(const std::string& file, const std::string& today, unsigned cores) {
  const FilesOnDisk disk(file);
  Source source{read(file, disk, today), {}, false};
  source.unreadable = source.made.unreadable;
  if (!source.made.is_walkable()) {
    source.why = source.made.protocol ? "only a protocol has papers, and this is another kind of file" : "it has to be mended first; stepward check tells what";
    return source;
  }
  check::Options options;
  options.workers = cores;
  walk(source.made, options);
  return source;
}

std::vector<std::string> all_but_sign_off() {
  std::vector<std::string> names = paper_names();
  std::erase(names, "sign-off");
  return names;
}

void add_papers(const Source& source, const std::string& file, bool is_now, std::vector<KnownPaper>& known) {
  const std::vector<std::string> what = all_but_sign_off();
  const auto add = [&](std::vector<Paper> papers, const translation::Dictionary* words) {
    for (Paper& paper : papers) known.push_back({paper.what, words ? words->language : std::string(), std::move(paper.sheet), is_now, file});
  };
  std::vector<const translation::Dictionary*> languages{nullptr};
  for (const translation::Dictionary& words : source.made.words) languages.push_back(&words);
  for (const translation::Dictionary* words : languages) {
    for (const check::VariantWalk& walk : source.made.verdict.walks) add(papers_of(source.made, walk, what, words), words);
    add(papers_of_protocol(source.made, what, {}, words), words);
  }
}

/// The dossier as it would be made on that day: it tells of one run of the program, so another day gives other words. Of a file that is being
/// changed just now there is none.
void add_dossier(const Source& source, const std::string& file, bool is_now, const DossierRequest& request, std::vector<KnownPaper>& known) {
  std::string why;
  const auto facts = dossier_facts(source.made, FilesOnDisk(file), request, why);
  if (!facts) return;
  const auto add = [&](const translation::Dictionary* words) {
    for (Paper& paper : papers_of_dossier(source.made, *facts, words)) known.push_back({paper.what, words ? words->language : std::string(), std::move(paper.sheet), is_now, file});
  };
  add(nullptr);
  for (const translation::Dictionary& words : source.made.words) add(&words);
}

emit::PaperNamed named(const KnownPaper& paper) { return {paper.what, paper.language, paper.file, paper.sheet.control}; }

const KnownPaper* same_paper_now(const KnownPaper& old, const std::vector<KnownPaper>& known) {
  const auto found = std::find_if(known.begin(), known.end(), [&](const KnownPaper& each) {
    return each.is_now && each.what == old.what && each.language == old.language && each.sheet.control.variant == old.sheet.control.variant;
  });
  return found == known.end() ? nullptr : &*found;
}

std::vector<std::string> errors_of(const Compilation& made) {
  std::vector<std::string> errors;
  for (const diagnostics::Diagnostic& finding : made.findings) {
    if (finding.severity != diagnostics::Severity::error) continue;
    std::string error = fmt::format("{}  {}", diagnostics::code_name(finding.code), wording::headline(finding.code, finding.args));
    if (std::find(errors.begin(), errors.end(), error) == errors.end()) errors.push_back(std::move(error));
  }
  return errors;
}

void tell_older(const KnownPaper& old, const std::vector<KnownPaper>& known, Answer& answer) {
  answer.what = Answer::What::older;
  const KnownPaper* now = same_paper_now(old, known);
  if (!now) return;
  answer.now = named(*now);
  answer.changes = emit::changes(old.sheet, now->sheet);
}

void tell_found(const emit::Match& match, const std::vector<KnownPaper>& known, const Compilation& made, Answer& answer) {
  answer.found = named(*match.paper);
  answer.words_found = match.words;
  if (!match.is_exact) answer.what = Answer::What::misread;
  else if (!match.paper->is_now) tell_older(*match.paper, known, answer);
  else if (made.protocol->document.status == "withdrawn") answer.what = Answer::What::withdrawn;
  else if (match.lacks_mark && match.own_mark) answer.what = Answer::What::lacks_mark;
  else if (match.own_mark) answer.what = Answer::What::current;
  else if (match.paper->sheet.control.watermark.empty()) answer.what = Answer::What::marked_draft;
  else {
    answer.what = Answer::What::not_printed_now;
    answer.errors = errors_of(made);
  }
}

/// A code that names another document is no question about this one.
bool is_of_another(const emit::Told& told, const model::DocumentControl& document) {
  return told.is_code() && !told.number.empty() && text::fold(told.number) != text::fold(document.number);
}

/// All that the register lists. Exit code 1: some copy is out of date.
Outcome tell_copies(const FreshRequest& request, const Host& host) {
  const Patience patience(host, "making the papers of " + request.file);
  const Source source = checked_source(request.file, request.today.empty() ? host.today : request.today, host.cores);
  if (source.unreadable) return {ExitCode::file_trouble, "", diagnostics::as_text(source.made.findings, source.made.files, {})};
  if (!source.why.empty()) return refusal(ExitCode::findings, request.file + ": " + source.why);
  if (source.made.protocol->copies.empty()) return refusal(ExitCode::wrong_use, request.file + " has no register of copies (copies … end copies)");
  const std::vector<emit::CopyState> states = copy_states(source.made);
  const bool is_any_outdated = std::any_of(states.begin(), states.end(), [](const emit::CopyState& state) { return state.what == emit::CopyState::What::outdated; });
  return {is_any_outdated ? ExitCode::findings : ExitCode::fine, copies_text(source.made, states), ""};
}

}  // namespace

Outcome fresh_command(const FreshRequest& request, const Host& host) {
  if (request.copies) return tell_copies(request, host);
  std::string why;
  const std::optional<emit::Told> told = emit::told(request.words, why);
  if (!told) return refusal(ExitCode::wrong_use, why);
  const Patience patience(host, "making the papers of " + request.file);
  Answer answer;
  answer.told = *told;
  answer.file = request.file;
  answer.today = request.today.empty() ? host.today : request.today;
  answer.looked_among_older = !request.before.empty();
  std::vector<std::string> files{request.file};
  files.insert(files.end(), request.before.begin(), request.before.end());
  std::vector<Source> sources;
  std::vector<KnownPaper> known;
  for (const std::string& file : files) {
    sources.push_back(checked_source(file, answer.today, host.cores));
    const Source& source = sources.back();
    if (source.unreadable) return {ExitCode::file_trouble, "", diagnostics::as_text(source.made.findings, source.made.files, {})};
    if (!source.why.empty()) return refusal(ExitCode::findings, fmt::format("no answer, which does not mean that the card is current. {}: {}", file, source.why));
    add_papers(source, file, sources.size() == 1, known);
  }
  const Compilation& made = sources.front().made;
  answer.document = known.front().sheet.control;
  const bool of_another = is_of_another(*told, made.protocol->document);
  auto found = of_another ? std::nullopt : emit::match(*told, known);
  if (!of_another && !found) {  // a dossier takes longer than all papers: it is made only for words that are on none of them
    for (std::size_t i = 0; i < sources.size(); ++i) add_dossier(sources[i], files[i], i == 0, {answer.today, check::Options{}.limit, host.cores}, known);
    found = emit::match(*told, known);
  }
  if (of_another) answer.what = Answer::What::other_document;
  else if (found) tell_found(*found, known, made, answer);
  return {answer.is_current() ? ExitCode::fine : ExitCode::findings, request.as_json ? emit::as_json(answer) : emit::as_text(answer), ""};
}

}  // namespace stepward::driver
