#include "shown_rows.hpp"

#include <algorithm>
#include <sstream>

#include "check/verdict.hpp"
#include "diagnostics/render.hpp"
#include "every_line.hpp"
#include "every_word.hpp"
#include "judge.hpp"

namespace stepward::mutations {
namespace {

const std::string bar = " | ";

struct NamedEdit { std::string name; Mutant mutant; };

/// Every edit of every operator, by a name that no other edit of this protocol has.
std::vector<NamedEdit> every_edit(const Base& base) {
  std::vector<NamedEdit> out;
  std::map<std::string, int> same;
  const auto add = [&](Mutant m) {
    const std::string words = base.words(m.place) + (m.note.empty() ? "" : " [" + m.note + "]");
    const std::string name = m.operation + bar + base.files.path(source::FileId(m.place.file)) + bar + words;
    out.push_back({name + bar + std::to_string(++same[name]), std::move(m)});
  };
  for (const auto& deletions : {every_deletion(base), looks_with_questions(base)})
    for (const Deletion& d : deletions) add(d.mutant);
  for (const auto operation : {every_swap, every_swap_of_phases, every_wait_left_out, every_move_changed, every_removal_by_another,
                               every_item_left_off, every_hand_at_the_front})
    for (Mutant& m : operation(base)) add(std::move(m));
  return out;
}

Verdict judged(const Base& base, const Mutant& m) { return judge(base, m, {true, !m.all_variants.empty()}); }

bool tells(const Verdict& verdict, const std::string& by) {
  if (!is_finding(by)) return std::find(verdict.rules_not_kept.begin(), verdict.rules_not_kept.end(), by) != verdict.rules_not_kept.end();
  return std::any_of(verdict.told.begin(), verdict.told.end(), [&](const auto& told) { return diagnostics::code_name(told.first) == by; });
}

Mutant unedited_for(const Base& base, const Mutant& m) {
  Mutant out;
  out.copies = base.copies;
  out.variant = m.variant;
  out.all_variants = m.all_variants;
  return out;
}

const model::Rule* rule_of(const Base& base, const std::string& number) {
  for (const model::Rule& rule : base.protocol->rules)
    if (rule.number == number) return &rule;
  return nullptr;
}

bool is_any_of(const std::string& name, const std::vector<std::string>& list) { return std::find(list.begin(), list.end(), name) != list.end(); }

/// Whether a name that the page gives means what is called so in this protocol: two protocols may number their own rules alike.
bool is_meant(const PageRow& statement, const std::string& by, const std::string& subject, const Base& base) {
  if (!is_any_of(by, statement.held_by)) return false;
  if (is_finding(by)) return true;
  const model::Rule* rule = rule_of(base, by);
  return rule && (rule->pack != 0 || is_any_of(subject.substr(0, subject.find(".ward")), statement.quoted));
}

/// Whether an edit is of what the statement speaks of.
bool is_about(const PageRow& statement, const std::string& by, const std::string& edit) {
  if (!is_finding(by) || statement.quoted.empty()) return true;
  return std::any_of(statement.quoted.begin(), statement.quoted.end(), [&](const std::string& name) { return edit.find(name) != std::string::npos; });
}

bool only_forbids_it(const model::Rule& rule) { return rule.pattern == model::Pattern::never && !rule.has_unless && !rule.has_while; }

/// What is told of a protocol that walks to its end without an error.
std::optional<diagnostics::Sink> clean_walk(const Base& base, const std::string& witness) {
  check::Options options;
  options.witness = witness;
  diagnostics::Sink sink;
  const bool complete = check::check(*base.protocol, options, sink).complete;
  if (!complete || diagnostics::count(sink).errors > 0) return std::nullopt;
  return sink;
}

bool says_that_it_matters(const diagnostics::Sink& sink, const std::string& rule) {
  return std::any_of(sink.begin(), sink.end(), [&](const auto& d) { return d.code == diagnostics::Code::R206 && d.args.at(0) == rule; });
}

bool is_kept(const Base& base, const std::string& by) {
  const model::Rule* rule = rule_of(base, by);
  const bool asks = rule && !only_forbids_it(*rule);
  const auto told = clean_walk(base, asks ? by : "");
  return told && (!asks || says_that_it_matters(*told, by));
}

/// A statement and one of the names that hold it.
struct Wanted {
  const PageRow* statement = nullptr;
  std::string by;
  friend auto operator<=>(const Wanted&, const Wanted&) = default;
};

/// For each of these the first edit after which it is told.
std::map<Wanted, std::string> breaking_edits(const Base& base, std::vector<Wanted> open) {
  std::map<Wanted, std::string> out;
  for (const NamedEdit& edit : every_edit(base)) {
    if (open.empty()) break;
    const Verdict verdict = judged(base, edit.mutant);
    std::erase_if(open, [&](const Wanted& w) { return is_about(*w.statement, w.by, edit.name) && tells(verdict, w.by) && out.emplace(w, edit.name).second; });
  }
  return out;
}

}  // namespace

std::vector<ShownRow> read_shown_rows(const std::string& text) {
  std::vector<ShownRow> out;
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    if (line.empty() || line[0] == '#') continue;
    ShownRow row;
    std::size_t at = 0;
    for (std::string* field : {&row.number, &row.by, &row.kept_in, &row.edited_in}) {
      const std::size_t end = std::min(line.find(bar, at), line.size());
      *field = line.substr(at, end - at);
      at = std::min(end + bar.size(), line.size());
    }
    row.edit = line.substr(at);
    out.push_back(std::move(row));
  }
  return out;
}

std::string as_line(const ShownRow& row) { return row.number + bar + row.by + bar + row.kept_in + bar + row.edited_in + bar + row.edit; }

const Base* Showing::base(const std::string& subject) {
  if (const auto known = bases_.find(subject); known != bases_.end()) return &known->second;
  for (const Subject& each : subjects_)
    if (each.name == subject) return &bases_.emplace(subject, each.read()).first->second;
  return nullptr;
}

std::string Showing::why_not_shown(const PageRow& statement, const ShownRow& row) {
  const Base* kept = base(row.kept_in);
  const Base* edited = base(row.edited_in);
  if (!kept || !edited) return "there is no such protocol";
  if (!is_meant(statement, row.by, row.kept_in, *kept) || !is_meant(statement, row.by, row.edited_in, *edited)) return "the page means another";
  if (!is_about(statement, row.by, row.edit)) return "the edit is of something else";
  if (!is_kept(*kept, row.by)) return "nothing shows that it is kept there";
  const auto edits = every_edit(*edited);
  const auto edit = std::find_if(edits.begin(), edits.end(), [&](const NamedEdit& e) { return e.name == row.edit; });
  if (edit == edits.end()) return "there is no such edit";
  if (tells(judged(*edited, unedited_for(*edited, edit->mutant)), row.by)) return "it is broken without the edit";
  return tells(judged(*edited, edit->mutant), row.by) ? "" : "the edit does not break it";
}

std::vector<ShownRow> Showing::search(const std::vector<PageRow>& rows) {
  std::map<std::string, ShownRow> out;  // by number
  std::map<Wanted, std::string> kept_in;
  std::map<Wanted, std::pair<std::string, std::string>> edited_in;  // protocol and edit
  for (const Subject& subject : subjects_) {
    const Base& here = *base(subject.name);
    std::vector<Wanted> wanted;
    for (const PageRow& row : rows)
      for (const std::string& by : row.held_by)
        if (out.count(row.number) == 0 && is_meant(row, by, subject.name, here)) wanted.push_back({&row, by});
    const auto edits = breaking_edits(here, wanted);
    for (const Wanted& w : wanted) {
      const bool is_kept_here = is_kept(here, w.by);
      if (is_kept_here) kept_in.emplace(w, subject.name);
      if (edits.count(w)) edited_in.emplace(w, std::pair(subject.name, edits.at(w)));
      if (is_kept_here && edits.count(w)) out.emplace(w.statement->number, ShownRow{w.statement->number, w.by, subject.name, subject.name, edits.at(w)});
    }
    bases_.erase(subject.name);
  }
  for (const auto& [w, where] : kept_in)
    if (const auto edit = edited_in.find(w); edit != edited_in.end())
      out.emplace(w.statement->number, ShownRow{w.statement->number, w.by, where, edit->second.first, edit->second.second});
  std::vector<ShownRow> rows_shown;
  for (const auto& [number, row] : out) rows_shown.push_back(row);
  return rows_shown;
}

}  // namespace stepward::mutations
