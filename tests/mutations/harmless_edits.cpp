// Edits that do no harm: more care than before, the same in other words, the same in another place.

#include <algorithm>

#include "mutant.hpp"

namespace stepward::mutations {
namespace {

using model::VerbKind;
using syntax::NodeKind;
using Thing = model::Thing::What;

const model::Line* line_at(const Base& base, Place p) {
  const auto lines = base.lines_at(base.origin(p));
  return lines.empty() ? nullptr : &(*base.protocol)[lines.front()];
}

bool is_of_hands(const Base& base, const model::Line& line) {
  return std::all_of(line.things.begin(), line.things.end(), [&](const model::Thing& t) {
    return t.what == Thing::hands || (t.what == Thing::site && (*base.protocol)[t.site].is_hands);
  });
}

std::string margin(const Base& base, Origin at) {
  const std::string_view text = base.files.line_text(source::FileId(at.file), at.line);
  return std::string(text.substr(0, text.find_first_not_of(' ')));
}

/// A statement again, without the names that may be given only once.
std::vector<TextLine> again(const Base& base, Place p) {
  std::vector<TextLine> out;
  for (const TextLine& line : base.copies.lines(base.range(p)))
    if (line.text.find("known as ") == std::string::npos) out.push_back(line);
  return as_new(out);
}

std::vector<Place> questions_behind(const Base& base, Place look) {
  std::vector<Place> out;
  const auto neighbours = base.neighbours(look);
  for (auto at = std::find(neighbours.begin(), neighbours.end(), look) + 1; at != neighbours.end(); ++at) {
    if (base[*at].kind != NodeKind::if_question) break;
    out.push_back(*at);
  }
  return out;
}

/// True if some line behind these questions' heads takes the looked-at thing off, so that it cannot be looked at again.
bool may_take_it_off(const Base& base, const std::vector<Place>& questions) {
  const model::Protocol& p = *base.protocol;
  std::set<Origin> heads;
  for (const Place& q : questions) heads.insert(base.origin(q));
  for (const model::Variant& variant : base.variants)
    for (const Course& course : base.courses(variant)) {
      bool inside = false;
      for (const Step& s : course) {
        if (s.what == Step::What::question && !s.conditional) inside = heads.count(s.at) != 0;
        if (!s.conditional && s.what != Step::What::question && s.what != Step::What::arm) inside = false;
        if (inside && s.line && p[s.line].verb == VerbKind::doff) return true;
      }
    }
  return false;
}

}  // namespace

std::vector<Mutant> extra_cleanings(const Base& base) {
  std::vector<Mutant> out;
  for (const Place& p : base.all({NodeKind::plain})) {
    const model::Line* line = line_at(base, p);
    if (!line || line->verb != VerbKind::disinfect || !is_of_hands(base, *line) || !base.variant_of(base.origin(p))) continue;
    Mutant m = start(base, "an extra cleaning", base.origin(p));
    m.copies.put_after({p.file, base.range(p).last}, again(base, p));
    out.push_back(std::move(m));
  }
  return out;
}

/// Whether a second look must see what the first saw. Skin that shows may be gone with the next movement: a first answer
/// that no question follows up is then a mistake indeed, and the checker says so.
bool lasts(const Base& base, const model::Line& look) {
  return std::none_of(look.findings.begin(), look.findings.end(), [&](model::FindingId f) {
    return (*base.protocol).findings[f.value].means == model::FindingMeans::skin_showing;
  });
}

// The look alone, where what it finds lasts, and the look with its questions where none of them may end in the thing
// being taken off.
std::vector<Mutant> extra_looks(const Base& base) {
  std::vector<Mutant> out;
  for (const Place& p : base.all({NodeKind::plain})) {
    const model::Line* line = line_at(base, p);
    if (!line || line->verb != VerbKind::inspect || !base.variant_of(base.origin(p))) continue;
    Mutant m = start(base, "an extra look", base.origin(p)), whole = m;
    m.copies.put_after({p.file, base.range(p).last}, again(base, p));
    m.note = "the look alone";
    if (lasts(base, *line)) out.push_back(std::move(m));
    const auto questions = questions_behind(base, p);
    if (questions.empty() || may_take_it_off(base, questions)) continue;
    auto lines = again(base, p);
    for (const Place& q : questions)
      for (TextLine& l : again(base, q)) lines.push_back(std::move(l));
    whole.note = "with its questions";
    whole.copies.put_after({p.file, base.range(questions.back()).last}, lines);
    out.push_back(std::move(whole));
  }
  return out;
}

namespace {

/// Lines that touch nothing and that nothing asks about right away.
bool touches_nothing(const model::Line& line) {
  const bool verb = line.verb == VerbKind::act || line.verb == VerbKind::record || line.verb == VerbKind::call;
  return verb && line.things.empty();
}

/// Two lines that neither of them could notice to be exchanged: each cleans its own doer's hands, or touches nothing.
bool independent(const Base& base, const model::Line& a, const model::Line& b) {
  const auto cleans = [&](const model::Line& l) { return l.verb == VerbKind::disinfect && is_of_hands(base, l); };
  if (cleans(a) && cleans(b)) return a.who != b.who;
  const bool quiet_a = touches_nothing(a), quiet_b = touches_nothing(b);
  return (quiet_a && (quiet_b || cleans(b))) || (quiet_b && cleans(a));
}

}  // namespace

std::vector<Mutant> independent_lines_swapped(const Base& base) {
  std::vector<Mutant> out;
  for (const Place& p : base.all({NodeKind::plain})) {
    const model::Line* line = line_at(base, p);
    if (!line || !base.variant_of(base.origin(p))) continue;
    const auto neighbours = base.neighbours(p);
    const auto next = std::find(neighbours.begin(), neighbours.end(), p) + 1;
    if (next == neighbours.end() || base[*next].kind != NodeKind::plain) continue;
    const model::Line* other = line_at(base, *next);
    if (!other || !independent(base, *line, *other)) continue;
    Mutant m = start(base, "two independent lines swapped", base.origin(p));
    const auto lines = m.copies.cut(base.range(p));
    m.copies.put_after({next->file, base.range(*next).last}, lines);
    out.push_back(std::move(m));
  }
  return out;
}

std::vector<Mutant> phases_split(const Base& base) {
  std::vector<Mutant> out;
  for (const Place& phase : base.all({NodeKind::phase})) {
    const auto statements = base.children(phase);
    for (std::size_t i = 1; i < statements.size(); ++i) {
      Mutant m = start(base, "a phase split", base.origin(statements[i]));
      const std::string title = base[phase].phrase.front().text;
      m.copies.put_before(m.place, {new_line("end phase"), new_line("phase \"" + title + ", second part\"")});
      out.push_back(std::move(m));
    }
  }
  return out;
}

namespace {

/// The action line, of the same file, before or behind a place in the order of the text.
std::vector<Place> action_lines(const Base& base, std::uint32_t file) {
  std::vector<Place> out;
  for (const Place& p : base.all({NodeKind::plain}))
    if (p.file == file && line_at(base, p)) out.push_back(p);
  std::sort(out.begin(), out.end(), [&](Place a, Place b) { return base.origin(a) < base.origin(b); });
  return out;
}

}  // namespace

std::vector<Mutant> notes_moved(const Base& base) {
  std::vector<Mutant> out;
  for (const Place& note : base.all({NodeKind::note})) {
    const auto lines = action_lines(base, note.file);
    const auto own = std::find(lines.begin(), lines.end(), base.parent(note));
    if (own == lines.end()) continue;
    const auto move_to = [&](Place p, const std::string& words) {
      Mutant m = start(base, "a note moved", base.origin(note));
      m.note = words;
      const auto moved = m.copies.cut(base.range(note));
      m.copies.put_after(base.origin(p), moved);
      out.push_back(std::move(m));
    };
    if (own != lines.begin()) move_to(*(own - 1), "to the line before");
    if (own + 1 != lines.end()) move_to(*(own + 1), "to the line behind");
  }
  return out;
}

std::vector<Mutant> contact_times_longer(const Base& base) {
  std::vector<Mutant> out;
  for (const Place& p : base.all({NodeKind::contact_time})) {
    const syntax::Token& number = base[p].phrase.front();
    Mutant m = start(base, "a longer contact time", base.origin(p));
    const std::size_t column = base.files.position(number.span.file, number.span.begin).column - 1;
    m.copies.replace(m.place, column, number.written.size(), std::to_string(2 * std::stoi(number.written)));
    out.push_back(std::move(m));
  }
  return out;
}

namespace {

const syntax::Node* routine_named(const Base& base, const std::string& name, Place& out) {
  for (const Place& r : base.all({NodeKind::routine})) {
    std::string found;
    for (const auto& token : base[r].phrase) found += (found.empty() ? "" : " ") + token.text;
    if (found != name) continue;
    out = r;
    return &base[r];
  }
  return nullptr;
}

void replace_word(std::string& text, const std::string& word, const std::string& with) {
  for (std::size_t at = text.find(word); at != std::string::npos; at = text.find(word, at + with.size())) {
    const bool begins = at == 0 || text[at - 1] == ' ';
    const std::size_t end = at + word.size();
    if (begins && (end == text.size() || text[end] == ' ')) text.replace(at, word.size(), with);
  }
}

struct Call { std::string routine, parameter, argument; };
Call call_at(const Base& base, Place p) {
  Call out;
  std::string* into = &out.routine;
  for (const auto& token : base[p].phrase) {
    if (token.text == "given") { into = &out.parameter; continue; }
    if (token.text == "is" && into == &out.parameter) { into = &out.argument; continue; }
    *into += (into->empty() ? "" : " ") + token.written;
  }
  return out;
}

}  // namespace

// `do R` becomes R's own lines, with what was given in place of its parameter.
std::vector<Mutant> routines_inlined(const Base& base) {
  std::vector<Mutant> out;
  for (const Place& p : base.all({NodeKind::do_routine})) {
    const Call call = call_at(base, p);
    Place routine;
    if (!routine_named(base, call.routine, routine)) continue;
    Mutant m = start(base, "a routine inlined", base.origin(p));
    std::vector<TextLine> body;
    for (const Place& s : base.children(routine)) {
      const NodeKind kind = base[s].kind;
      if (kind == NodeKind::given || kind == NodeKind::may_finish_as || kind == NodeKind::out_of_rhythm) continue;
      for (TextLine& line : again(base, s)) {
        if (!call.parameter.empty()) replace_word(line.text, call.parameter, call.argument);
        body.push_back(std::move(line));
      }
    }
    m.copies.put_after(m.place, body);
    m.copies.erase(base.range(p));
    out.push_back(std::move(m));
  }
  return out;
}

namespace {

/// All endings that a statement may come to by itself, written for `may finish as`.
std::set<std::string> endings_in(const Base& base, Place p) {
  std::set<std::string> out;
  const syntax::Node& node = base[p];
  std::string words;
  for (const auto& token : node.phrase) words += (words.empty() ? "" : " ") + token.text;
  if (node.kind == NodeKind::finish_as) out.insert(words);
  Place routine;
  if (node.kind == NodeKind::do_routine && routine_named(base, call_at(base, p).routine, routine))
    for (const Place& s : base.children(routine)) {
      if (base[s].kind != NodeKind::may_finish_as) continue;
      std::string ending;
      for (const auto& token : base[s].phrase) ending += (ending.empty() ? "" : " ") + token.text;
      out.insert(ending);
    }
  for (const Place& child : base.children(p)) out.merge(endings_in(base, child));
  return out;
}

}  // namespace

// Every two neighbouring statements of a phase become a routine of their own.
std::vector<Mutant> routines_extracted(const Base& base) {
  std::vector<Mutant> out;
  for (const Place& phase : base.all({NodeKind::phase})) {
    const auto statements = base.children(phase);
    for (std::size_t i = 0; i + 1 < statements.size(); ++i) {
      const Range range{phase.file, base.range(statements[i]).first, base.range(statements[i + 1]).last};
      Mutant m = start(base, "a routine extracted", base.origin(statements[i]));
      std::set<std::string> endings = endings_in(base, statements[i]);
      endings.merge(endings_in(base, statements[i + 1]));
      m.copies.put_before(m.place, {new_line(margin(base, m.place) + "do part by itself")});
      const auto body = m.copies.cut(range);
      std::vector<TextLine> routine{new_line("routine part by itself")};
      std::string may;
      for (const std::string& e : endings) may += (may.empty() ? "" : ", ") + e;
      if (!may.empty()) routine.push_back(new_line("  may finish as " + may));
      routine.insert(routine.end(), body.begin(), body.end());
      routine.push_back(new_line("end routine"));
      m.copies.put_at_end(phase.file, routine);
      out.push_back(std::move(m));
    }
  }
  return out;
}

}  // namespace stepward::mutations
