// How far dirt comes, step by step, and where a bare hand meets what may carry.
//
// One row a step; steps of several variants share a row where they say the same. Steps at which no hand meets anything and nothing
// changes are listed together, so that the rows are those that matter.

#include <algorithm>
#include <iterator>
#include <map>
#include <set>

#include "emit/dossier/writer.hpp"

namespace stepward::emit::dossier {

using check::LineContamination;
using check::MapSurface;
using wording::Phrase;

namespace {

/// A row, and where it stands: by variant the label.
struct MapRow {
  model::LineId first;  ///< the step's first line in the source
  Text what, contact;
  std::vector<std::pair<std::size_t, std::string>> at;

  const std::string& lowest() const {
    return std::min_element(at.begin(), at.end(), [](const auto& a, const auto& b) { return stands_before(a.second, b.second); })->second;
  }
};

void join(LineContamination& into, const LineContamination& other) {
  const auto worst = [](auto& kept, const auto& seen) {
    for (const auto& [key, level] : seen) kept[key] = std::max(kept[key], level);
  };
  worst(into.hands, other.hands);
  for (const auto& [surface, rise] : other.rises) {
    check::Rise& kept = into.rises[surface];
    kept.level = std::max(kept.level, rise.level);
    kept.why.insert(rise.why.begin(), rise.why.end());
  }
  worst(into.falls, other.falls);
  for (const auto& [meeting, levels] : other.meetings) {
    check::MeetingLevels& kept = into.meetings[meeting];
    kept.hand = std::max(kept.hand, levels.hand);
    kept.met = std::max(kept.met, levels.met);
  }
}

/// What happens under each label of a variant, in the order of the card.
std::vector<std::pair<std::string, LineContamination>> by_label(const VariantFacts& variant) {
  std::map<std::string, LineContamination> all;
  for (const auto& [line, seen] : variant.map.lines) join(all[variant.course.label(line)], seen);
  std::vector<std::pair<std::string, LineContamination>> in_order;
  for (const std::string& label : labels_of(variant))
    if (const auto found = all.find(label); found != all.end()) in_order.emplace_back(label, std::move(found->second));
  return in_order;
}

bool is_quiet(const LineContamination& seen) { return seen.meetings.empty() && seen.rises.empty() && seen.falls.empty(); }

class MapSection {
 public:
  explicit MapSection(Writer& writer) : writer_(writer) {}

  void write() {
    writer_.section(Phrase::dossier_map);
    writer_.paragraph(said(Phrase::dossier_map_how));
    if (const std::string missing = unfinished(); !missing.empty()) writer_.warning(said(Phrase::dossier_map_unfinished, {{"states", writer_.facts().limit}, {"variants", missing}}));
    bare_hands();
    steps();
    left_out();
  }

 private:
  std::string said(Phrase which, std::initializer_list<wording::Gap> gaps = {}) const { return writer_.said(which, gaps); }
  const model::Protocol& protocol() const { return writer_.protocol(); }
  const std::vector<VariantFacts>& variants() const { return writer_.facts().variants; }

  std::string unfinished() const {
    std::vector<std::size_t> all;
    for (std::size_t v = 0; v < variants().size(); ++v)
      if (!variants()[v].map.complete) all.push_back(v + 1);
    return Writer::numbers(all);
  }

  // ---- bare hands

  bool is_bare_hand(const effects::Bearer& b) const { return b.what == effects::Bearer::What::site && protocol()[b.site].is_hands; }

  void bare_hands() {
    writer_.heading(Phrase::dossier_bare_hands);
    // By what is said, the labels of each variant.
    std::vector<std::pair<std::string, std::vector<std::pair<std::size_t, std::string>>>> met, unclean;
    const auto note = [](auto& all, const std::string& text, std::size_t variant, const std::string& label) {
      auto known = std::find_if(all.begin(), all.end(), [&](const auto& each) { return each.first == text; });
      if (known == all.end()) known = all.insert(all.end(), {text, {}});
      known->second.emplace_back(variant, label);
    };
    for (std::size_t v = 0; v < variants().size(); ++v) {
      for (const auto& [label, seen] : by_label(variants()[v])) {
        for (const auto& [meeting, levels] : seen.meetings)
          if (is_bare_hand(meeting.hand) && levels.met >= effects::kSuspect) note(met, met_in_words(meeting, levels), v, label);
        for (const auto& [surface, rise] : seen.rises)
          if (is_bare_hand(surface.bearer))
            for (const std::string& how : how_unclean(surface, rise)) note(unclean, how, v, label);
      }
    }
    told(met, Phrase::dossier_bare_meet, Phrase::dossier_bare_meet_nowhere);
    if (met.empty() || !unclean.empty()) told(unclean, Phrase::dossier_bare_unclean, Phrase::dossier_bare_unclean_nowhere);
    interrupted();
    slipped();
  }

  std::string met_in_words(const check::Meeting& meeting, const check::MeetingLevels& levels) const {
    return said(Phrase::dossier_bare_hand_meets, {{"hand", writer_.bearer(meeting.hand)}, {"thing", writer_.surfaces({meeting.met})}, {"level", writer_.level(levels.met)}});
  }

  /// In which ways else than by a touch, which stands in the other list.
  std::vector<std::string> how_unclean(const MapSurface& hand, const check::Rise& rise) const {
    using Why = effects::Cause::What;
    std::vector<std::string> all;
    for (const auto& [way, from] : rise.why) {
      const std::string thing = from == hand.bearer ? "" : writer_.bearer(from);
      const auto say = [&](Phrase how) { all.push_back(said(how, {{"hand", writer_.bearer(hand.bearer)}, {"thing", thing}})); };
      if (way == Why::meets) continue;
      if (way == Why::torn) say(Phrase::dossier_bare_by_tear);
      else if (way == Why::pulled_off) say(Phrase::dossier_bare_by_glove);
      else if (way == Why::rests_inside) say(Phrase::dossier_bare_by_inside);
      else if (way == Why::looked) say(Phrase::dossier_bare_by_sight);
      else if (way == Why::exposed) say(Phrase::dossier_bare_by_place);
      else all.push_back(said(Phrase::dossier_thing_with_level, {{"thing", writer_.bearer(hand.bearer)}, {"level", writer_.level(rise.level)}}));
    }
    return all;
  }

  template <typename All>
  void told(const All& all, Phrase some, Phrase nowhere) {
    if (all.empty()) {
      writer_.paragraph(said(nowhere), true);
      return;
    }
    writer_.paragraph(said(some), true);
    writer_.open(fields_table);
    for (const auto& [text, at] : all) writer_.row(fields_table, {{{wording::capitalised(said(Phrase::dossier_at_steps, {{"steps", places(at)}})), true, ""}}, {{wording::capitalised(text), false, ""}}});
  }

  static bool touches_something(const model::Happening& happening) {
    return happening.what == model::Happening::What::touches || happening.what == model::Happening::What::falls;
  }

  /// What the check, which walks interruptions too, found of bare hands.
  void interrupted() {
    if (protocol().interruptions.empty()) return;
    const auto& findings = writer_.facts().findings;
    const auto count = std::count_if(findings.begin(), findings.end(), [](const ToldFinding& f) { return f.code == "P102"; });
    const std::string found = std::to_string(count);
    std::vector<std::string> touching;
    for (const model::Interruption& each : protocol().interruptions)
      if (std::any_of(each.happens.begin(), each.happens.end(), touches_something)) touching.push_back(each.name);
    writer_.paragraph(said(!writer_.facts().complete ? Phrase::dossier_bare_not_known : count == 0 ? Phrase::dossier_bare_also_interrupted : Phrase::dossier_bare_found, {{"count", found}}));
    if (!touching.empty()) writer_.paragraph(said(Phrase::dossier_bare_struck, {{"interruptions", wording::all_of(protocol().tongue, touching)}}));
  }

  /// What slips add that come to harm, or would but for a confirm; of each the worst harm in a variant is known, and told of that variant.
  void slipped() {
    if (!writer_.facts().slips) return writer_.paragraph(said(Phrase::dossier_slips_not_tried));
    std::vector<std::set<model::LineId>> lines(variants().size());
    for (const slips::Row& row : writer_.facts().slips->rows)
      for (const auto& [variant, harm] : row.harm_in)
        if (harm.code == diagnostics::Code::P102 && harm.line) lines[variant].insert(harm.line);
    const std::string text = writer_.by_variant([&](const VariantFacts& variant) { return steps_of(variant, lines[static_cast<std::size_t>(&variant - variants().data())]); }, "; ");
    const std::string section = wording::capitalised(said(Phrase::dossier_slips));
    writer_.paragraph(said(text.empty() ? Phrase::dossier_bare_no_slips : Phrase::dossier_bare_slips, {{"steps", text}, {"section", section}}));
  }

  // ---- the steps

  /// "12", or "12 (1–3)" and "11 (4–6)" in lines: in brackets the variants.
  std::string places(const std::vector<std::pair<std::size_t, std::string>>& at) const {
    std::vector<std::string> labels(variants().size());
    for (const auto& [variant, label] : at) labels[variant] += (labels[variant].empty() ? "" : ", ") + label;
    std::string text;
    for (const Shared& each : writer_.shared([&](const VariantFacts& variant) { return labels[static_cast<std::size_t>(&variant - variants().data())]; })) {
      if (each.said.empty()) continue;
      const bool everywhere = each.variants.size() == variants().size();
      text += (text.empty() ? "" : "\n") + each.said + (everywhere ? "" : " (" + Writer::numbers(each.variants) + ")");
    }
    return text;
  }

  void steps() {
    std::vector<MapRow> rows;
    for (std::size_t v = 0; v < variants().size(); ++v)
      for (const auto& [label, seen] : by_label(variants()[v]))
        if (!is_quiet(seen)) place(rows, row(variants()[v], label, seen), {v, label});
    rows = in_order(std::move(rows));
    writer_.heading(Phrase::dossier_map_steps);
    if (!rows.empty()) writer_.open(map_table);
    for (const MapRow& each : rows) writer_.row(map_table, {{{places(each.at), true, ""}}, each.what, each.contact});
  }

  /// In the order of every variant's card: a row stands when all that come before it in some variant do. Of several that could be next it is
  /// the one with the lowest number. Where the cards of two variants contradict each other, as where their boxes have other letters, a row is
  /// told twice: first for the variants whose card has come to it, and again where the others do.
  static std::vector<MapRow> in_order(std::vector<MapRow> rows) {
    std::vector<MapRow> ordered;
    while (!rows.empty()) {
      std::size_t next = rows.size();
      for (std::size_t i = 0; i < rows.size(); ++i) {
        const bool waits = std::any_of(rows.begin(), rows.end(), [&](const MapRow& other) { return comes_before(other, rows[i]); });
        if (!waits && (next == rows.size() || stands_before(rows[i].lowest(), rows[next].lowest()))) next = i;
      }
      if (next == rows.size()) {
        ordered.push_back(taken_apart(rows));
        continue;
      }
      ordered.push_back(std::move(rows[next]));
      rows.erase(rows.begin() + static_cast<std::ptrdiff_t>(next));
    }
    return ordered;
  }

  /// Of the row that most variants have come to, the part of these variants; the rest of it stays.
  static MapRow taken_apart(std::vector<MapRow>& rows) {
    const auto has_come = [&](const std::pair<std::size_t, std::string>& place) {
      return std::none_of(rows.begin(), rows.end(), [&](const MapRow& other) {
        return std::any_of(other.at.begin(), other.at.end(), [&](const auto& its) { return its.first == place.first && stands_before(its.second, place.second); });
      });
    };
    std::size_t next = 0;
    std::vector<std::pair<std::size_t, std::string>> most;
    for (std::size_t i = 0; i < rows.size(); ++i) {
      std::vector<std::pair<std::size_t, std::string>> come;
      std::copy_if(rows[i].at.begin(), rows[i].at.end(), std::back_inserter(come), has_come);
      if (come.size() <= most.size()) continue;
      next = i;
      most = std::move(come);
    }
    MapRow part = rows[next];
    part.at = most;
    std::erase_if(rows[next].at, [&](const auto& place) { return std::find(most.begin(), most.end(), place) != most.end(); });
    return part;
  }

  static bool comes_before(const MapRow& a, const MapRow& b) {
    for (const auto& [variant, label] : a.at)
      for (const auto& [other, its] : b.at)
        if (variant == other && stands_before(label, its)) return true;
    return false;
  }

  /// Adds a row, or its place to the one that says the same of the same line.
  static void place(std::vector<MapRow>& rows, MapRow row, std::pair<std::size_t, std::string> at) {
    auto same = std::find_if(rows.begin(), rows.end(), [&](const MapRow& each) {
      return each.first == row.first && plain_text(each.what) == plain_text(row.what) && plain_text(each.contact) == plain_text(row.contact);
    });
    if (same == rows.end()) same = rows.insert(rows.end(), std::move(row));
    same->at.push_back(std::move(at));
  }

  MapRow row(const VariantFacts& variant, const std::string& label, const LineContamination& seen) const {
    const std::vector<model::LineId>& lines = variant.course.lines_at.at(label);
    MapRow row{*std::min_element(lines.begin(), lines.end()), writer_.act(variant, lines.front()), {}, {}};
    std::string hands;
    for (const auto& [layer, level] : seen.hands)
      hands += (hands.empty() ? "" : ", ") + said(Phrase::dossier_thing_with_level, {{"thing", writer_.bearer(layer)}, {"level", writer_.level(level)}});
    if (!hands.empty()) row.what.push_back({"\n" + said(Phrase::dossier_hands, {{"hands", hands}}), false, ""});
    for (const std::string& line : contact(seen)) row.contact.push_back({(row.contact.empty() ? "" : "\n") + line, false, ""});
    return row;
  }

  std::vector<std::string> contact(const LineContamination& seen) const {
    // Several layers of a hand may meet one surface: it stands once, with the worst.
    std::map<MapSurface, std::uint32_t> worst;
    for (const auto& [meeting, levels] : seen.meetings) worst[meeting.met] = std::max(worst[meeting.met], levels.met);
    std::map<std::uint32_t, std::vector<MapSurface>> met;
    for (const auto& [surface, level] : worst) met[level].push_back(surface);
    std::vector<std::string> lines;
    for (auto& [level, things] : met) lines.push_back(said(Phrase::dossier_meet, {{"level", writer_.level(level)}, {"things", sorted(things)}}));
    // A look touches nothing; what a tear lets through is told as what it is.
    std::vector<MapSurface> torn;
    std::map<std::uint32_t, std::vector<MapSurface>> rises;
    for (const auto& [surface, rise] : seen.rises) (rise.is_only(effects::Cause::What::torn) ? torn : rises[rise.level]).push_back(surface);
    if (!torn.empty()) lines.push_back(said(Phrase::dossier_if_torn, {{"things", sorted(torn)}}));
    for (auto& [level, things] : rises) lines.push_back(said(level > effects::kSuspect ? Phrase::dossier_becomes_soiled : Phrase::dossier_becomes_suspect, {{"things", sorted(things)}}));
    // What one run cleans another may soil at the same step, since "it" is another thing there.
    std::vector<MapSurface> clean, clean_elsewhere;
    for (const auto& [surface, level] : seen.falls) (seen.rises.count(surface) ? clean_elsewhere : clean).push_back(surface);
    if (!clean.empty()) lines.push_back(said(Phrase::dossier_becomes_clean, {{"things", sorted(clean)}}));
    if (!clean_elsewhere.empty()) lines.push_back(said(Phrase::dossier_clean_in_others, {{"things", sorted(clean_elsewhere)}}));
    return lines;
  }

  std::string sorted(std::vector<MapSurface>& things) const {
    std::sort(things.begin(), things.end());
    return writer_.surfaces(things);
  }

  // ---- what has no row

  void left_out() {
    bool is_open = false;
    const auto list = [&](Phrase what, const std::function<std::string(const VariantFacts&)>& say) {
      const std::string steps = writer_.by_variant(say);
      if (!steps.empty() && !is_open) writer_.open(fields_table);
      is_open |= !steps.empty();
      if (!steps.empty()) writer_.row(fields_table, {{{said(what), true, ""}}, {{steps, false, ""}}});
    };
    list(Phrase::dossier_quiet_steps, [&](const VariantFacts& variant) { return steps_of(variant, quiet_lines(variant)); });
    list(Phrase::dossier_interrupted_steps, [&](const VariantFacts& variant) { return steps_of(variant, only_interrupted(variant)); });
  }

  static std::set<model::LineId> quiet_lines(const VariantFacts& variant) {
    std::set<std::string> loud;
    for (const auto& [label, seen] : by_label(variant))
      if (!is_quiet(seen)) loud.insert(label);
    std::set<model::LineId> lines;
    for (const auto& [line, seen] : variant.map.lines)
      if (!loud.count(variant.course.label(line))) lines.insert(line);
    return lines;
  }

  /// Steps that runs come to through an interruption only.
  static std::set<model::LineId> only_interrupted(const VariantFacts& variant) {
    std::set<std::string> walked;
    for (const auto& [line, seen] : variant.map.lines) walked.insert(variant.course.label(line));
    std::set<model::LineId> lines;
    for (const model::LineId line : variant.reached)
      if (!walked.count(variant.course.label(line))) lines.insert(line);
    return lines;
  }

  Writer& writer_;
};

}  // namespace

void write_map(Writer& writer) { MapSection(writer).write(); }

}  // namespace stepward::emit::dossier
