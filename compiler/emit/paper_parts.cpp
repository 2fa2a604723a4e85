#include "emit/paper_parts.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "model/variants.hpp"
#include "wording/act_phrases.hpp"
#include "wording/amounts.hpp"

namespace stepward::emit {

using graph::Entry;
using graph::Fork;
using graph::Target;
using model::LineId;
using wording::Phrase;

namespace {

constexpr const char* narrow_no_break = "\xE2\x80\xAF";  // U+202F

std::string signed_by(const PaperSource& source, const std::vector<model::Signature>& signatures) {
  if (signatures.empty()) return source.said(Phrase::nobody_yet);
  const auto& first = signatures.front();
  return first.office.empty() ? first.name : fmt::format("{}, {}", first.name, first.office);
}

std::string watermark(const PaperSource& source) {
  const std::string& status = source.written.document.status;
  if (status == "withdrawn") return source.said(Phrase::withdrawn_mark);
  return source.facts.has_errors || source.facts.half_said || status == "draft" ? source.said(Phrase::draft_mark) : "";
}

/// What the day of the run and the exceptions of the document put on every face.
std::vector<FaceMark> face_marks(const PaperSource& source, const Captions& captions) {
  std::vector<FaceMark> marks;
  const std::string day = with_no_break(date_words(source.protocol.document.review_due, captions));
  if (source.facts.is_overdue) marks.push_back({source.said(Phrase::overdue_mark), source.said(Phrase::overdue_why, {{"day", day}}), false});
  if (!source.written.set_aside.empty()) marks.push_back({source.said(Phrase::set_aside_mark), source.said(Phrase::set_aside_why)});
  return marks;
}

std::string status_in_words(const PaperSource& source) {
  const std::string& status = source.written.document.status;
  if (status == "draft") return source.said(Phrase::is_draft);
  if (status == "approved") return source.said(Phrase::is_approved);
  return status == "withdrawn" ? source.said(Phrase::is_withdrawn) : status;
}

/// The language in which the author says that it is written, if no words were put in its place.
std::string tag_of(const PaperSource& source) {
  const auto& languages = source.written.document.languages;
  if (source.protocol.tongue.language != "English" || languages.empty()) return source.protocol.tongue.tag;
  return std::string(wording::language_tag(languages.front()));
}

void add_layers(std::vector<HandLayer>& all, const std::map<LineId, std::vector<HandLayer>>& seen, LineId line) {
  const auto found = seen.find(line);
  if (found == seen.end()) return;
  for (const HandLayer layer : found->second) {
    if (std::find(all.begin(), all.end(), layer) == all.end()) all.push_back(layer);
  }
}

/// Every layer seen at any of the lines that share this line's number.
std::vector<HandLayer> layers_at(const PaperSource& source, const std::map<LineId, std::vector<HandLayer>>& seen,
                                 LineId line) {
  std::vector<HandLayer> layers;
  const auto same_number = source.course.lines_at.find(source.course.label(line));
  if (same_number == source.course.lines_at.end()) return layers;
  for (const LineId each : same_number->second) add_layers(layers, seen, each);
  return layers;
}

/// Who gets what a line hands out: the wearer of what is put on, the taker of what is passed.
model::RoleId receiver_of(const model::Line& line) {
  if (line.verb == model::VerbKind::don) return line.of ? line.of : line.who;
  if (line.verb == model::VerbKind::pass) return line.to;
  return line.verb == model::VerbKind::take ? line.who : model::RoleId{};
}

bool wears_at_first(const PaperSource& source, model::RoleId person, model::ItemId item) {
  for (const model::PersonStart& start : source.protocol.people) {
    if (start.role != person) continue;
    for (const model::Wearing& each : start.wearing) {
      if (model::item_of(source.protocol, each.thing, source.variant) == item && model::holds(each.only_for, source.variant)) return true;
    }
  }
  return false;
}

bool takes_off(const PaperSource& source, const model::Line& line, model::RoleId person, model::ItemId item) {
  if (line.verb != model::VerbKind::doff || (line.of ? line.of : line.who) != person) return false;
  return std::any_of(line.things.begin(), line.things.end(), [&](const model::Thing& thing) { return model::item_of(source.protocol, thing, source.variant) == item; });
}

/// Something for single use that the person wore before: at the start, or up to a line above in the same run.
bool is_anew(const PaperSource& source, const Entry& entry) {
  const model::Line& line = source.protocol[entry.line];
  const model::RoleId person = receiver_of(line);
  const model::ItemId item = person && !line.things.empty() ? model::item_of(source.protocol, line.things[0], source.variant) : model::ItemId{};
  if (!item || source.protocol[item].reusable) return false;
  if (wears_at_first(source, person, item)) return true;
  for (const graph::Run& run : source.course.runs) {
    bool was_off = false;
    for (const Entry& each : run.entries) {
      if (each.what != Entry::What::step) continue;
      if (each.label == entry.label) return was_off;
      was_off |= takes_off(source, source.protocol[each.line], person, item);
    }
  }
  return false;
}

Control control_block(const PaperSource& source, const std::string& kind) {
  const model::DocumentControl& document = source.protocol.document;
  Control control;
  control.kind = kind;
  control.title = document.title;
  control.number = document.number;
  control.version = document.version;
  control.status = status_in_words(source);
  control.in_force = document.in_force_from;
  control.review_due = document.review_due;
  control.owner = signed_by(source, document.written_by);
  control.approver = signed_by(source, document.approved_by);
  control.variant = model::variant_name(source.protocol, source.variant);
  control.verdict = source.facts.verdict.empty() ? source.said(Phrase::not_checked_yet) : with_whole_figures(source.facts.verdict);
  control.caution = source.said(Phrase::caution);
  control.language = tag_of(source);
  control.watermark = watermark(source);
  return control;
}

}  // namespace

std::string whole_figure(std::uint64_t number) { return with_whole_figures(wording::grouped(std::to_string(number))); }

std::string with_whole_figures(const std::string& text) {
  const auto is_figure = [&](std::size_t i) { return i < text.size() && text[i] >= '0' && text[i] <= '9'; };
  const auto is_gap = [&](std::size_t i) { return i > 0 && i < text.size() && text[i] == ' ' && is_figure(i - 1) && is_figure(i + 1); };
  std::string whole;
  for (std::size_t i = 0; i < text.size();) {
    std::size_t end = i, figures = 0;
    for (; is_figure(end) || (end > i && is_gap(end)); ++end) figures += is_figure(end) ? 1 : 0;
    for (; i < end; ++i) {
      if (text[i] != ' ') whole += text[i];
      else if (figures > 4) whole += narrow_no_break;
    }
    if (i < text.size() && !is_figure(i)) whole += text[i++];
  }
  return whole;
}

Sheet begun_sheet(const PaperSource& source, SheetKind kind, const std::string& name) {
  Sheet sheet;
  sheet.kind = kind;
  sheet.control = control_block(source, name);
  sheet.captions = captions_of(source);
  sheet.control.marks = face_marks(source, sheet.captions);
  return sheet;
}

wording::Setting setting_of(const PaperSource& source, const Entry& entry) {
  // The layers are those of whoever does the line; of somebody else's hands that are looked at they say nothing.
  const model::Line& line = source.protocol[entry.line];
  const bool of_others = std::any_of(line.things.begin(), line.things.end(), [&](const model::Thing& t) {
    return t.what == model::Thing::What::hands && t.of && t.of != line.who;
  });
  if (of_others) return {{}, entry.named};
  return {layers_at(source, source.facts.hands_before, entry.line), entry.named, is_anew(source, entry)};
}

bool is_received(const model::Protocol& protocol, const model::Line& line) { return line.verb == model::VerbKind::pass && line.to && line.to == protocol.acts; }

wording::Act act_received(const PaperSource& source, const model::Line& line, const wording::StepText& words, bool anew) {
  const std::string take = source.said(Phrase::take);
  if (words.act.verb == take) return words.act;
  const std::string counted = line.things.empty() ? std::string() : wording::counted_phrase(source.protocol, source.variant, line.count, line.things[0], anew);
  return {take, source.said(Phrase::counted_from_person, {{"counted", counted}, {"person", called(source, source.protocol[line.who])}})};
}

Clock clock_of(const PaperSource& source, const Entry& entry) {
  const auto same_number = source.course.lines_at.find(entry.label);
  std::map<std::uint32_t, std::vector<std::string>> things;  // by seconds
  if (same_number == source.course.lines_at.end()) return {};
  for (const LineId id : same_number->second) {
    const model::Line& line = source.protocol[id];
    const wording::Setting setting = setting_of(source, entry);
    const std::uint32_t contact = wording::contact_time(source.protocol, source.variant, line, setting).seconds;
    // A line that asks for longer than the agent needs is not done before.
    auto& named = things[contact > 0 && line.at_least ? std::max(contact, line.at_least->seconds) : contact];
    for (const auto& thing : line.things) {
      const std::string name = wording::thing_phrase(source.protocol, source.variant, thing, {});
      if (std::find(named.begin(), named.end(), name) == named.end()) named.push_back(name);
    }
  }
  Clock clock{{things.rbegin()->first}, {}};
  for (const auto& [seconds, names] : things) {
    if (seconds == clock.time.seconds) continue;
    clock.shorter +=
        fmt::format("{}{}: {}.", clock.shorter.empty() ? "" : " ",
                    wording::capitalised(wording::all_of(source.protocol.tongue, names)), wording::duration_phrase({seconds}));
  }
  return clock;
}

std::string hands_afterwards(const PaperSource& source, LineId line) {
  const auto layers = layers_at(source, source.facts.hands_after, line);
  if (layers.size() != 1) return {};
  const std::string layer = layers[0] ? source.protocol[layers[0]].name : source.said(Phrase::bare);
  return source.said(Phrase::hands_are, {{"layer", layer}});
}

void add(Text& text, const Text& more) { text.insert(text.end(), more.begin(), more.end()); }

Text phrase_text(const PaperSource& source, Phrase which, std::initializer_list<GapText> gaps, bool strong) {
  Text text;
  for (const wording::PhrasePiece& piece : wording::pieces_of(wording::unfilled(source.protocol.tongue, which))) {
    const auto* gap = std::find_if(gaps.begin(), gaps.end(), [&](const GapText& each) { return piece.is_gap && each.name == piece.text; });
    if (gap != gaps.end()) add(text, gap->text);
    else text.push_back({piece.is_gap ? fmt::format("[{}]", piece.text) : std::string(piece.text), strong, ""});
  }
  return text;
}

Text then(const PaperSource& source, Text what, Text go_on) {
  return phrase_text(source, Phrase::what_then_go_on, {{"what", std::move(what)}, {"go on", std::move(go_on)}});
}

namespace {

/// A bin is named by a technique, and mostly declared as a supply.
std::string bin_in_words(const PaperSource& source, const std::string& name) {
  const auto& supplies = source.protocol.supplies;
  const auto known = std::find_if(supplies.begin(), supplies.end(), [&](const model::Supply& supply) { return supply.name == name; });
  return known != supplies.end() ? called(source, *known) : source.said(Phrase::the_thing, {{"name", name}});
}

}  // namespace

std::string bin_of(const PaperSource& source, const model::Line& line) {
  for (const model::Thing& thing : line.things) {
    const auto item = model::item_of(source.protocol, thing, source.variant);
    if (!item || line.verb != model::VerbKind::doff) continue;
    const auto technique = model::technique_of(source.protocol, line, item);
    if (technique && !source.protocol[technique].drops_into.empty()) return bin_in_words(source, source.protocol[technique].drops_into);
  }
  return {};
}

model::RoleId reader_of(const model::Protocol& protocol) {
  if (protocol.rhythm.given && protocol.rhythm.reads) return protocol.rhythm.reads;
  for (const auto& person : protocol.people) {
    if (!protocol[person.role].keeps_hands_off.empty()) return person.role;
  }
  for (const auto& person : protocol.people) {
    if (person.role != protocol.acts) return person.role;
  }
  return protocol.acts;
}

std::string called(const PaperSource& source, const model::Named& named) { return wording::called(source.protocol.tongue, named); }

Text ending_text(const PaperSource& source, model::EndingId ending) {
  Text text{{source.said(Phrase::end) + " ", true, ""}, {source.said(Phrase::run_is_over), true, ""}};
  if (!ending) return text;
  const model::Ending& end = source.protocol[ending];
  text[1].text = end.name;
  if (!end.continue_with.empty()) text.push_back({". " + source.said(Phrase::continue_with, {{"document", end.continue_with}}), false, ""});
  return text;
}

EndMark resume_mark(const PaperSource& source, Level level) {
  return {{{wording::capitalised(source.said(Phrase::go_back_where_stopped)) + ".", true, ""}}, level};
}

Text go_on_text(const PaperSource& source, const Target& target) {
  switch (target.what) {
    case Target::What::nowhere: return {};
    case Target::What::label: return phrase_text(source, Phrase::go_on_at, {{"step", {{target.label, true, target.label}}}});
    case Target::What::back: return phrase_text(source, Phrase::go_on_where_left_for_box, {{"box", {{target.label, false, ""}}}});
    case Target::What::ending: return ending_text(source, target.ending);
    case Target::What::resume: return {{source.said(Phrase::go_back_where_stopped), false, ""}};
  }
  return {};
}

ZoneBand zone_band(const PaperSource& source, model::ZoneId id) {
  const model::Zone& zone = source.protocol[id];
  ZoneBand band;
  band.name = zone.name;
  switch (zone.risk) {
    case model::Risk::low:
      band.risk = source.said(Phrase::low_risk);
      band.hatch = Hatch::none;
      break;
    case model::Risk::middle:
      band.risk = source.said(Phrase::middle_risk);
      band.hatch = Hatch::sparse;
      break;
    case model::Risk::high:
      band.risk = source.said(Phrase::high_risk);
      band.hatch = Hatch::dense;
      break;
  }
  return band;
}

model::ZoneId first_zone(const model::Protocol& protocol) {
  for (const auto& person : protocol.people) {
    if (person.role == protocol.acts && person.zone) return person.zone;
  }
  return {};
}

Text repeat_notice(const PaperSource& source, const Entry& entry) {
  const std::string times = entry.at_most == 1 ? source.said(Phrase::once) : source.said(Phrase::times_with_the_first, {{"count", std::to_string(entry.at_most)}});
  if (entry.from == entry.to) return {{source.said(Phrase::repeat_step, {{"step", entry.from}, {"times", times}}), false, ""}};
  const std::string steps = source.said(Phrase::from_to, {{"from", entry.from}, {"to", entry.to}});
  return {{source.said(Phrase::repeat_steps, {{"steps", steps}, {"times", times}}), false, ""}};
}

Text together_notice(const PaperSource& source, const Entry& entry) {
  const std::string steps = source.said(Phrase::from_to, {{"from", entry.from}, {"to", entry.to}});
  return {{source.said(Phrase::steps_together, {{"steps", steps}}), false, ""}};
}

std::string box_title(const PaperSource& source, const graph::Box& box) {
  return box.routine ? source.protocol[box.routine].name : std::string();
}

Text box_text(const PaperSource& source, const Entry& entry, Phrase how) {
  const graph::Box& box = source.course[entry.box];
  std::vector<std::string> things;
  for (const auto& thing : entry.arguments) {
    things.push_back(wording::thing_phrase(source.protocol, source.variant, thing, {{}, entry.named}));
  }
  std::string about = box_title(source, box);
  if (!things.empty()) about += ": " + wording::all_of(source.protocol.tongue, things);
  Text text = phrase_text(source, how, {{"box", {{box.label, true, about.empty() ? box.label : ""}}}}, how != Phrase::do_box);
  // The page is named behind the title, so that the brackets stay with their box.
  if (!about.empty()) text.push_back({fmt::format(" ({})", about), false, box.label});
  return text;
}

Captions captions_of(const PaperSource& source) {
  Captions captions;
  captions.critical = source.said(Phrase::critical);
  captions.say = source.said(Phrase::say);
  captions.hear = source.said(Phrase::hear);
  captions.act = source.said(Phrase::do_it);
  captions.clock = source.said(Phrase::clock);
  captions.look_for = source.said(Phrase::look_for);
  captions.if_not = source.said(Phrase::if_not);
  captions.box = source.said(Phrase::box);
  captions.breach = source.said(Phrase::breach);
  const auto with_gap = [&](Phrase which) { return std::string(wording::unfilled(source.protocol.tongue, which)); };
  captions.for_variant = with_gap(Phrase::for_variant);
  captions.version = with_gap(Phrase::version);
  captions.continued = with_gap(Phrase::continued);
  captions.page = with_gap(Phrase::page);
  captions.in_force = with_gap(Phrase::in_force);
  captions.review_due = with_gap(Phrase::review_due);
  captions.owner = with_gap(Phrase::owner);
  captions.approved_by = with_gap(Phrase::approved_by);
  captions.date = with_gap(Phrase::date);
  captions.check_words = source.said(Phrase::check_words);
  captions.check_words_explained = source.said(Phrase::check_words_explained);
  captions.not_given = source.said(Phrase::not_given);
  captions.draft_mark = source.said(Phrase::draft_mark);
  for (std::size_t month = 0; month < captions.months.size(); ++month) {
    captions.months[month] = source.said(static_cast<Phrase>(static_cast<std::size_t>(Phrase::january) + month));
  }
  return captions;
}

}  // namespace stepward::emit
