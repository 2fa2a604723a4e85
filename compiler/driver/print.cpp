// `stepward print`: checks, then writes the papers, one file for each and for each variant where they differ.

#include <algorithm>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "base/side_by_side.hpp"
#include "base/text.hpp"
#include "check/verdict.hpp"
#include "diagnostics/render.hpp"
#include "driver/commands.hpp"
#include "driver/disk.hpp"
#include "driver/dossiers.hpp"
#include "driver/paper_formats.hpp"
#include "driver/paper_sizes.hpp"
#include "driver/papers.hpp"
#include "driver/variant_choice.hpp"
#include "driver/verdict_text.hpp"
#include "model/variants.hpp"

namespace stepward::driver {

namespace {

using emit::Sheet;

/// Version and paper are in the name, so that no other version's card is ever written over; drafts are told apart too.
std::string file_stem(const Compilation& made, const PrintRequest& request, const Sheet& sheet, const std::string& variant,
                      const std::string& what) {
  const model::DocumentControl& document = made.protocol->document;
  std::string name = file_part(document.number) + "-v" + file_part(document.version);
  if (!variant.empty()) name += '-' + slug(variant);
  name += '-' + what + '-' + size_part(request, sheet.kind);
  if (!request.language.empty()) name += '-' + slug(request.language);
  if (request.draft || sheet.control.watermark == sheet.captions.draft_mark) name += "-draft";
  return (request.folder.empty() || request.folder.back() == '/' ? request.folder : request.folder + '/') + name;
}

/// One paper, from what it says to its bytes.
struct Print {
  Paper paper;
  std::string stem;
  SetPaper set;
};

struct Printed {
  std::vector<Print> prints;
  std::string left_out;            ///< papers that were asked for and have nothing to say
};

void add(const Compilation& made, const PrintRequest& request, std::vector<Paper> papers, const std::string& variant, Printed& printed) {
  for (Paper& paper : papers) {
    std::string stem = file_stem(made, request, paper.sheet, variant, paper.what);
    printed.prints.push_back({std::move(paper), std::move(stem), {}});
  }
}

/// What the sign-off page tells of others.
void list(const std::vector<Paper>& papers, std::vector<emit::SignedPaper>& listed) {
  for (const Paper& paper : papers) {
    const emit::Control& control = paper.sheet.control;
    listed.push_back({control.kind, control.variant, control.check_words});
  }
}

/// A register of copies is not missed by a protocol that has none; its list is only missed by whoever asked for it.
std::string nothing_to_say(const std::string& paper, const PrintRequest& request) {
  if (paper == "dilution") return "no dilution card: no step uses a mixture\n";
  return is_among(request.what, paper) ? "no recall list: the protocol has no register of copies\n" : "";
}

constexpr const char* page_to_sign = "sign-off";

/// How many papers of the whole protocol are to come.
std::size_t made_once(const Compilation& made, const std::vector<std::string>& what) {
  std::size_t count = 0;
  for (const std::string& name : protocol_paper_names()) {
    const bool has_nothing = name == "recall" && made.protocol->copies.empty();
    count += is_among(what, name) && !has_nothing ? 1 : 0;
  }
  return count;
}

/// Tells of papers that have nothing to say for any variant, where they were asked for by name.
void note_empty_papers(const Compilation& made, const PrintRequest& request, Printed& printed) {
  const auto is_missing = [&](const char* name) {
    return is_among(request.what, name) && std::none_of(printed.prints.begin(), printed.prints.end(), [&](const Print& print) { return print.paper.what == name; });
  };
  for (const char* name : {"breach", "badge"}) {
    if (is_missing(name) && made.protocol->interruptions.empty()) printed.left_out += fmt::format("no {} card: nothing strikes at any time\n", name);
  }
  if (is_missing("poster")) printed.left_out += "no poster: nothing is taken off or put on while all is well\n";
}

/// A badge card has room for short acts only. Where nobody asked for it by name, one that does not fit is left out and told, and
/// keeps nobody from the other papers.
void leave_out_badges_that_do_not_fit(const PrintRequest& request, Printed& printed) {
  if (!request.what.empty()) return;
  std::erase_if(printed.prints, [&](const Print& print) {
    if (print.paper.sheet.kind != emit::SheetKind::badge || print.set.faults.empty()) return false;
    printed.left_out += "no badge card: " + print.set.faults.front() + '\n';
    return true;
  });
}

/// Every paper that was asked for, set on pages; those of variants by several threads.
Printed print_all(const Compilation& made, const PrintRequest& request, const std::vector<std::string>& what, const std::vector<std::size_t>& variants,
                  std::vector<Paper> dossier, const translation::Dictionary* words, const std::string& today, unsigned workers, Patience& patience) {
  Printed printed;
  // A sign-off page lists every paper of the protocol, also those that are not printed with it, or not on this size.
  const std::vector<std::string> said = is_among(what, page_to_sign) ? paper_names() : what;
  std::vector<emit::SignedPaper> listed;
  std::vector<std::vector<Paper>> papers(variants.size());
  side_by_side(variants.size(), workers, [&](std::size_t i) { papers[i] = papers_of(made, made.verdict.walks[variants[i]], said, words); });
  for (std::size_t i = 0; i < variants.size(); ++i) {
    list(papers[i], listed);
    std::erase_if(papers[i], [&](const Paper& paper) { return !is_among(what, paper.what); });
    add(made, request, std::move(papers[i]), made.verdict.walks[variants[i]].name, printed);
  }
  list(dossier, listed);
  add(made, request, std::move(dossier), "", printed);
  const auto set = [&](std::size_t i) {
    Print& print = printed.prints[i];
    print.set = set_paper(print.paper.sheet, print.stem, request, today);
    patience.one_more();
  };
  patience.expect(printed.prints.size() + made_once(made, what), "papers");
  side_by_side(printed.prints.size(), workers, set);
  note_empty_papers(made, request, printed);
  leave_out_badges_that_do_not_fit(request, printed);
  // The sign-off page comes last, since it tells of all others.
  for (const std::string& name : protocol_paper_names()) {
    if (!is_among(said, name)) continue;
    std::vector<Paper> once = papers_of_protocol(made, {name}, listed, words);
    list(once, listed);
    if (!is_among(what, name)) continue;
    const std::size_t before = printed.prints.size();
    add(made, request, std::move(once), "", printed);
    if (printed.prints.size() == before) printed.left_out += nothing_to_say(name, request);
    for (std::size_t i = before; i < printed.prints.size(); ++i) set(i);
  }
  return printed;
}

std::string faults_of(const Printed& printed) {
  std::string text;
  for (const Print& print : printed.prints) {
    for (const std::string& fault : print.set.faults) text += fault + '\n';
  }
  return text;
}

std::vector<Output> outputs_of(Printed& printed) {
  std::vector<Output> outputs;
  for (Print& print : printed.prints) {
    for (Output& file : print.set.files) outputs.push_back({file.path, std::move(file.bytes)});
  }
  return outputs;
}

/// What stands where these are to go and was printed for a later day. To put the older in its place is a slip more often than a wish:
/// a run that was repeated with yesterday's --today, a source from an archive.
std::string newer_there(const std::vector<Output>& outputs, const std::string& today) {
  std::string text;
  for (const Output& output : outputs) {
    std::string why;
    const std::optional<std::string> there = FilesOnDisk(output.path).read(output.path, why);
    if (!there || *there == output.bytes) continue;
    const std::string day = printed_for(*there);
    if (day > today) text += fmt::format("{}: was printed for {}, later than {}\n", output.path, day, today);
  }
  return text;
}

/// The names that nothing is made under; empty: there are none.
std::string unknown_papers(const std::vector<std::string>& what) {
  std::vector<std::string> known = paper_names();
  known.push_back(dossier_name);
  for (const std::string& name : what) {
    if (!is_among(known, name)) return fmt::format("there is no paper \"{}\"; there are {}", name, fmt::join(known, ", "));
  }
  return {};
}

/// No language is asked for, or the one that the protocol is written in.
bool is_its_own(const Compilation& made, const std::string& language) {
  if (language.empty() || !made.protocol) return true;
  const auto& languages = made.protocol->document.languages;
  return text::fold(language) == text::fold(languages.empty() ? "English" : languages.front());
}

std::string no_such_language(const Compilation& made, const std::string& language) {
  std::string known;
  for (const translation::Dictionary& words : made.words) known += (known.empty() ? "; there are words in " : ", ") + words.language;
  return fmt::format("this protocol has no words in \"{}\"{}", language, known);
}

/// Empty when it may be printed.
std::string refused(const Compilation& made, const PrintRequest& request) {
  const std::size_t errors = diagnostics::count(made.findings).errors;
  if (!made.protocol) return "nothing was printed: what was found has to be mended first";
  if (!made.is_walkable()) return "nothing was printed: only a protocol has cards, and this is another kind of file";
  if (errors == 0 || request.draft) return {};
  // Who reviews a protocol has to see its errors; the dossier is marked as a draft by itself.
  if (request.what.size() == 1 && request.what.front() == dossier_name) return {};
  return fmt::format("nothing was printed: {}; --draft prints with DRAFT on every face",
                     errors == 1 ? "there is 1 error" : fmt::format("there are {} errors", errors));
}

/// "8 texts are not in Spanish yet": behind a paper that is a draft for that reason.
std::string unsaid_in_words(std::size_t count, const std::string& language) {
  if (count == 0) return {};
  return fmt::format(", a draft: {} not in {} yet", count == 1 ? "1 text is" : fmt::format("{} texts are", count), language);
}

std::string told(const Compilation& made, const PrintRequest& request, const translation::Dictionary* words, const Printed& printed) {
  std::string text;
  for (const Print& print : printed.prints) {
    const std::string unsaid = unsaid_in_words(print.paper.unsaid, words ? words->language : request.language);
    for (const Output& file : print.set.files) text += fmt::format("{}  {}{}\n", file.path, told_of(file, print.set), unsaid);
  }
  return text + printed.left_out + verdict_for_paper(made) + '\n';
}

}  // namespace

Outcome print_command(const PrintRequest& request, const Host& host) {
  if (const std::string cannot = why_no_such_format(request); !cannot.empty()) return refusal(ExitCode::wrong_use, cannot);
  const std::vector<std::string> wanted = request.what.empty() ? paper_names() : request.what;
  if (const std::string unknown = unknown_papers(wanted); !unknown.empty()) return refusal(ExitCode::wrong_use, unknown);
  const SizesChosen sizes = choose_sizes(request, wanted);
  if (!sizes.refused.empty()) return refusal(ExitCode::wrong_use, sizes.refused);
  Patience patience(host, "printing " + request.file);
  const std::string today = request.today.empty() ? host.today : request.today;
  const FilesOnDisk disk(request.file);
  Compilation made = read(request.file, disk, today);
  std::optional<std::size_t> only;
  std::string why;
  if (!request.only.empty() && made.is_walkable()) {
    only = variant_meant(*made.protocol, request.only, why);
    if (!only) return refusal(ExitCode::wrong_use, why);
  }
  const translation::Dictionary* words = nullptr;
  if (!is_its_own(made, request.language) && made.is_walkable()) {
    words = dictionary_of(made, request.language);
    if (!words) return refusal(ExitCode::wrong_use, no_such_language(made, request.language));
  }
  // Always the whole protocol: a card of one variant still says what the protocol was checked against.
  check::Options options;
  options.workers = host.cores;
  walk(made, options);

  const std::string findings = diagnostics::as_text(made.findings, made.files, {});
  if (made.unreadable) return {ExitCode::file_trouble, "", findings};
  if (why = refused(made, request); !why.empty()) return {ExitCode::findings, "", findings + "stepward: " + why + '\n'};
  std::vector<Paper> dossier;
  if (is_among(sizes.what, dossier_name)) {
    const auto facts = dossier_facts(made, disk, {today, options.limit, host.cores}, why);
    if (!facts) return refusal(ExitCode::file_trouble, why + "; nothing was printed");
    dossier = papers_of_dossier(made, *facts, words);
  }

  std::vector<std::size_t> variants;
  for (std::size_t i = 0; i < made.verdict.walks.size(); ++i) {
    if (!only || *only == i) variants.push_back(i);
  }
  Printed printed = print_all(made, request, sizes.what, variants, std::move(dossier), words, today, host.cores, patience);
  printed.left_out += sizes.left_out;
  if (const std::string faults = faults_of(printed); !faults.empty()) return {ExitCode::findings, "", faults + "stepward: nothing was printed\n"};
  const std::vector<Output> outputs = outputs_of(printed);
  if (const std::string newer = newer_there(outputs, today); !newer.empty() && !request.overwrite)
    return {ExitCode::file_trouble, "", newer + "stepward: nothing was printed over what is newer; --overwrite does it all the same\n"};
  if (why = make_folder(request.folder); why.empty()) why = write_all(outputs);
  if (!why.empty()) return refusal(ExitCode::file_trouble, why + "; nothing was changed");
  return {ExitCode::fine, told(made, request, words, printed), ""};
}

}  // namespace stepward::driver
