#include "emit/fresh/answer.hpp"

#include <algorithm>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "base/text.hpp"

namespace stepward::emit {

namespace {

using Json = nlohmann::ordered_json;
using Change = PaperChange::What;

std::string in_force(const Control& control) { return control.in_force.empty() ? "" : ", in force " + control.in_force; }

std::string version_line(const Control& control) {
  return fmt::format("{} version {}{}{}", control.number, control.version, in_force(control),
                     control.review_due.empty() ? "" : ", review due " + control.review_due);
}

std::string slips(const Told& told) {
  std::string text;
  for (const Slip& slip : told.slips) {
    text += slip.meant.empty() ? fmt::format("  “{}” is no check word\n", slip.heard)
                               : fmt::format("  “{}” was taken for “{}”: have that word read again\n", slip.heard, slip.meant);
  }
  return text;
}

std::string anew(const Answer& answer, const PaperNamed* paper) {
  std::string command = fmt::format("stepward print {} --to FOLDER", answer.file);
  if (paper) command += " --what " + paper->what;
  if (paper && !paper->language.empty()) command += " --language " + paper->language;
  return command;
}

// ------------------------------------------------------------------ what changed

std::string place(const PaperLine& line) {
  if (line.is_fact) return line.label;
  if (line.label.empty()) return "a line";
  const char first = line.label.front();
  return (first >= '0' && first <= '9' ? "step " : first == 'Q' ? "question " : "at ") + line.label;
}

std::string in_words(const std::string& words) { return words.empty() ? "(nothing)" : words; }

std::string change_text(const PaperChange& change) {
  switch (change.what) {
    case Change::added: return fmt::format("  new      {}: {}\n", place(change.now), in_words(change.now.text));
    case Change::gone: return fmt::format("  gone     {}: {}\n", place(change.then), in_words(change.then.text));
    case Change::changed:
      return fmt::format("  changed  {}: {}\n     was   {}: {}\n", place(change.now), in_words(change.now.text), place(change.then), in_words(change.then.text));
    case Change::moved: return fmt::format("  moved    {}: {}\n     was   {}\n", place(change.now), in_words(change.now.text), place(change.then));
    case Change::renumbered: return {};
  }
  return {};
}

/// "step 12 is now 13": one of them, as an example.
std::string renumbered_text(const std::vector<PaperChange>& changes) {
  const auto is_one = [](const PaperChange& each) { return each.what == Change::renumbered; };
  const auto count = std::count_if(changes.begin(), changes.end(), is_one);
  if (count == 0) return {};
  const auto labelled = std::find_if(changes.begin(), changes.end(), [&](const PaperChange& each) { return is_one(each) && each.then.label != each.now.label; });
  const std::string example = labelled == changes.end() ? "" : fmt::format(", from {} on, which is now {}", labelled->then.label, labelled->now.label);
  return fmt::format("  {} the same but for numbers{}\n", count == 1 ? "1 line is" : fmt::format("{} lines are", count), example);
}

std::string changes_text(const std::vector<PaperChange>& changes) {
  std::string text;
  for (const PaperChange& change : changes) text += change_text(change);
  text += renumbered_text(changes);
  return text.empty() ? "  no word has changed; only how they stand together\n" : text;
}

std::string older_text(const Answer& answer) {
  std::string text = fmt::format("not current: take it down\n  it is {} of {}, from {}\n", name_of(*answer.found), version_line(answer.found->control), answer.found->file);
  if (!answer.now) return text + fmt::format("  {} has no such paper any more; see what it has: {}\n", answer.file, anew(answer, nullptr));
  text += fmt::format("  now there is {}\n  print it anew: {}\n", version_line(answer.now->control), anew(answer, &*answer.now));
  return text + "what has changed on this paper since:\n" + changes_text(answer.changes);
}

std::string misread_text(const Answer& answer) {
  return fmt::format("not current as it was read\n  read     {}\n  nearest  {}, on {} of {}\n"
                     "  have the words read again; if they are as they were read, take it down\n",
                     in_one_line(answer.told.heard), in_one_line(answer.words_found), name_of(*answer.found), version_line(answer.found->control));
}

std::string unknown_text(const Answer& answer) {
  std::string text = fmt::format("not current: no paper of {} carries this now\n  take it down and print it anew: {}\n", answer.file, anew(answer, nullptr));
  if (answer.told.is_code() && !answer.told.version.empty() && answer.told.version != answer.document.version)
    text += fmt::format("  it is of version {}; now there is version {}\n", answer.told.version, answer.document.version);
  if (!answer.looked_among_older) text += "  --before OLDFILE looks among the papers of an older file as well, and tells what has changed\n";
  text += fmt::format("  a review dossier was looked for as it would be made on {}; of another one, give its own day with --today\n", answer.today);
  return text + "  a sign-off page is not looked for: it tells of one run; have the papers read that it lists\n";
}

std::string not_printed_text(const Answer& answer) {
  std::string text = fmt::format("not current: nothing on it has changed, but its protocol would not be printed now\n  it is {} of {}\n", name_of(*answer.found), version_line(answer.found->control));
  for (const std::string& error : answer.errors) text += "  " + error + '\n';
  const std::string& owner = answer.document.owner;
  return text + (owner.empty() ? std::string("  ask before it is used again\n") : fmt::format("  ask its owner before it is used again: {}\n", owner));
}

std::string current_text(const Answer& answer) {
  std::string text = fmt::format("current: it is {}\n  {}\n", name_of(*answer.found), version_line(answer.found->control));
  if (!answer.found->control.watermark.empty()) text += fmt::format("  it is marked {}: not for use\n", answer.found->control.watermark);
  for (const FaceMark& mark : answer.found->control.marks) text += fmt::format("  it is marked {}: {}\n", mark.word, mark.why);
  return text;
}

std::string words_of(const Answer& answer) {
  switch (answer.what) {
    case Answer::What::current: return current_text(answer);
    case Answer::What::withdrawn:
      return fmt::format("not current: take it down\n  it is {} of {}, and that document is withdrawn\n", name_of(*answer.found), version_line(answer.found->control));
    case Answer::What::not_printed_now: return not_printed_text(answer);
    case Answer::What::marked_draft:
      return fmt::format("not current: take it down\n  it is a draft of {} of {}, which is printed without that mark now: {}\n", name_of(*answer.found),
                         version_line(answer.found->control), anew(answer, &*answer.found));
    case Answer::What::lacks_mark:
      return fmt::format("not current: take it down\n  it is {} of {}, without the mark that it has now: {}\n  print it anew: {}\n", name_of(*answer.found),
                         version_line(answer.found->control), marks_in_one_line("", answer.found->control.marks), anew(answer, &*answer.found));
    case Answer::What::older: return older_text(answer);
    case Answer::What::misread: return misread_text(answer);
    case Answer::What::other_document:
      return fmt::format("not answered: it is a paper of document {}, and {} is {}\n  ask the file of that document\n", answer.told.number, answer.file, answer.document.number);
    case Answer::What::unknown: return unknown_text(answer);
  }
  return {};
}

// ------------------------------------------------------------------ JSON

const char* name_of(Answer::What what) {
  switch (what) {
    case Answer::What::current: return "current";
    case Answer::What::withdrawn: return "withdrawn";
    case Answer::What::not_printed_now: return "not printed now";
    case Answer::What::marked_draft: return "marked draft";
    case Answer::What::lacks_mark: return "lacks a mark";
    case Answer::What::older: return "older";
    case Answer::What::misread: return "misread";
    case Answer::What::other_document: return "other document";
    case Answer::What::unknown: return "unknown";
  }
  return "";
}

const char* name_of(Change what) {
  switch (what) {
    case Change::added: return "new";
    case Change::gone: return "gone";
    case Change::changed: return "changed";
    case Change::moved: return "moved";
    case Change::renumbered: return "renumbered";
  }
  return "";
}

Json paper(const std::optional<PaperNamed>& named) {
  if (!named) return nullptr;
  const Control& c = named->control;
  return {{"what", named->what}, {"name", c.kind}, {"variant", c.variant}, {"language", named->language}, {"number", c.number}, {"version", c.version},
          {"in_force", c.in_force}, {"review_due", c.review_due}, {"mark", marks_in_one_line(c.watermark, c.marks)}, {"check_words", c.check_words}, {"code", c.code}, {"file", named->file}};
}

Json line(const PaperLine& line) {
  if (line.sense.empty()) return nullptr;
  return {{line.is_fact ? "fact" : "at", line.label}, {"text", line.text}};
}

Json told_in_json(const Told& told) {
  if (told.is_code()) return {{"number", told.number}, {"version", told.version}, {"hash", told.hash}};
  Json slips = Json::array();
  for (const Slip& slip : told.slips) slips.push_back({{"heard", slip.heard}, {"meant", slip.meant}});
  return {{"words", told.words}, {"slips", slips}};
}

}  // namespace

std::string name_of(const PaperNamed& paper) {
  std::string kind = paper.control.kind;
  if (!kind.empty()) kind = text::lower(kind.substr(0, 1)) + kind.substr(1);
  return fmt::format("the {}{}{}", kind, paper.control.variant.empty() ? "" : " for " + paper.control.variant, paper.language.empty() ? "" : ", in " + paper.language);
}

std::string as_text(const Answer& answer) { return words_of(answer) + slips(answer.told); }

std::string as_json(const Answer& answer) {
  Json json;
  json["format"] = "stepward fresh";
  json["version"] = 1;
  json["current"] = answer.is_current();
  json["answer"] = name_of(answer.what);
  json["told"] = told_in_json(answer.told);
  json["file"] = answer.file;
  json["number"] = answer.document.number;
  json["document_version"] = answer.document.version;
  json["today"] = answer.today;
  json["paper"] = paper(answer.found);
  json["now"] = paper(answer.now);
  json["errors"] = answer.errors;
  json["changes"] = Json::array();
  for (const PaperChange& change : answer.changes)
    json["changes"].push_back({{"what", name_of(change.what)}, {"then", line(change.then)}, {"now", line(change.now)}});
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

}  // namespace stepward::emit
