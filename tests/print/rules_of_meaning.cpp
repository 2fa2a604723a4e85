#include <algorithm>
#include <map>
#include <set>

#include <fmt/format.h>

#include "emit/pdf/block_setter.hpp"
#include "example_papers.hpp"
#include "layout_rules.hpp"

namespace stepward::test {

using emit::SheetKind;
using graph::Entry;
using graph::Target;
using wording::Phrase;
using namespace emit::pdf;

namespace {

bool follows_steps(SheetKind kind) { return kind == SheetKind::card || kind == SheetKind::script || kind == SheetKind::breach; }

bool is_step(const emit::Block& block) { return std::holds_alternative<emit::Step>(block) || std::holds_alternative<emit::SayRow>(block); }

/// All words of a part, without white space.
std::string words_of(const LaidPart& part) {
  std::string words;
  for (const LaidText& text : part.texts) words += squeezed(text.words) + "\n";
  return words;
}

std::vector<const emit::Text*> texts_of(const emit::Block& block) {
  std::vector<const emit::Text*> texts;
  if (const auto* step = std::get_if<emit::Step>(&block)) texts = {&step->act, &step->manner};
  if (const auto* row = std::get_if<emit::SayRow>(&block)) texts = {&row->act};
  if (const auto* end = std::get_if<emit::EndMark>(&block)) texts = {&end->text};
  if (const auto* notice = std::get_if<emit::Notice>(&block)) texts = {&notice->text};
  if (const auto* frame = std::get_if<emit::Frame>(&block)) {
    for (const emit::FrameRow& row : frame->rows) texts.push_back(&row.text);
  }
  return texts;
}

/// What has to be printed of a text when its targets stand on these faces: the page behind each that is on another one.
std::string with_pages(const LaidPaper& paper, const emit::Text& text, std::size_t face, const std::map<std::string, std::size_t>& faces) {
  std::string words;
  for (const emit::Run& run : text) {
    words += run.text;
    const auto found = faces.find(run.target);
    if (!run.target.empty() && found != faces.end() && found->second != face) words += ", " + emit::with_no_break(emit::filled(paper.sheet.captions.page, std::to_string(found->second)));
  }
  return squeezed(words);
}

const StandingBlock* standing(const std::vector<StandingBlock>& all, const std::string& label) {
  for (const StandingBlock& each : all) {
    if (!each.part->repeated && emit::label_of(*each.block) == label) return &each;
  }
  return nullptr;
}

/// The first label that a reader meets in a run from a position on; empty: the run ends before.
std::string first_label(const graph::Run& run, std::size_t from) {
  for (std::size_t i = from; i < run.entries.size(); ++i) {
    if (!run.entries[i].label.empty()) return run.entries[i].label;
  }
  return {};
}

}  // namespace

/// Directly below it, on the same face: nothing stands between a step and its question.
NotKept questions_stand_under_their_step(const LaidPaper& paper) {
  NotKept broken;
  if (!follows_steps(paper.sheet.kind)) return broken;
  const auto all = blocks_of(paper);
  for (std::size_t i = 1; i < paper.sheet.blocks.size(); ++i) {
    if (!std::holds_alternative<emit::Frame>(paper.sheet.blocks[i]) || !is_step(paper.sheet.blocks[i - 1])) continue;
    const auto at = [&](std::size_t block) { return std::find_if(all.begin(), all.end(), [&](const StandingBlock& each) { return each.part->block == block; }); };
    const auto step = at(i - 1), frame = at(i);
    const std::string label = emit::label_of(paper.sheet.blocks[i]);
    if (step == all.end() || frame == all.end() || step->face != frame->face) broken.push_back("question " + label + " is on another face than its step");
    else if (frame->part->where.top < step->part->where.bottom - 0.01 || frame->part->where.top > step->part->where.bottom + 20) broken.push_back("question " + label + " does not stand under its step");
  }
  return broken;
}

/// A loop's test says to which step one goes back, how often at most, and what then.
NotKept loops_say_limit_and_fallback(const LaidPaper& paper) {
  NotKept broken;
  if (paper.sheet.kind != SheetKind::card && paper.sheet.kind != SheetKind::script) return broken;
  const auto all = blocks_of(paper);
  const emit::PaperSource source = paper.origin->source();
  for (const graph::Run& run : paper.origin->course.runs) {
    for (const Entry& entry : run.entries) {
      if (entry.what != Entry::What::repeat_asks) continue;
      const StandingBlock* frame = standing(all, entry.label);
      if (!frame) {
        broken.push_back("the test of the loop " + entry.label + " is not printed");
        continue;
      }
      const std::string said = words_of(*frame->part);
      const graph::Fork& fallback = entry.forks.front();
      std::size_t from = 0;
      const auto look_for = [&](const std::string& each) {
        const std::size_t at = said.find(squeezed(each), from);
        if (at == std::string::npos) broken.push_back(fmt::format("the loop {} lacks “{}”", entry.label, each));
        else from = at + squeezed(each).size();
      };
      if (entry.at_most > 1) {
        // "back to A1, page 2, unless it was done 3 times; after that: step A2a": the words between the gaps, so that a page may stand there.
        const std::string phrase = source.said(Phrase::back_to, {{"step", "§"}, {"count", std::to_string(entry.at_most)}, {"then", "§"}});
        const std::size_t step = phrase.find("§"), then = phrase.rfind("§");
        look_for(phrase.substr(0, step) + entry.from);
        look_for(phrase.substr(step + 2, then - step - 2));
      }
      if (fallback.first.what == Target::What::label) look_for(fallback.first.label);
      else if (fallback.first.what == Target::What::ending) look_for(source.said(Phrase::end));
    }
  }
  return broken;
}

/// "Go on at 12, page 4": a label that stands on the paper, the page where it stands, and the step behind the question's branches.
NotKept references_lead_there(const LaidPaper& paper) {
  NotKept broken;
  if (!follows_steps(paper.sheet.kind)) return broken;
  const auto all = blocks_of(paper);
  std::map<std::string, std::size_t> faces;
  for (const StandingBlock& each : all) {
    if (const std::string label = emit::label_of(*each.block); !label.empty() && !each.part->repeated) faces[label] = each.face;
  }
  for (const StandingBlock& each : all) {
    for (const emit::Text* text : texts_of(*each.block)) {
      for (const emit::Run& run : *text) {
        if (!run.target.empty() && faces.count(run.target) == 0) broken.push_back("leads to " + run.target + ", which is not on this paper");
      }
      const std::string wanted = with_pages(paper, *text, each.face, faces);
      if (words_of(*each.part).find(wanted) == std::string::npos) broken.push_back(fmt::format("face {}: not “{}”", each.face, wanted));
    }
  }
  if (paper.sheet.kind == SheetKind::breach) return broken;
  for (const graph::Run& run : paper.origin->course.runs) {
    for (const Entry& entry : run.entries) {
      if (entry.what != Entry::What::question) continue;
      const std::string meeting = first_label(run, entry.skip_to);
      const StandingBlock* frame = standing(all, entry.label);
      for (const graph::Fork& fork : entry.forks) {
        if (!frame || fork.is_trunk || fork.run || meeting.empty() || fork.go_on.what != Target::What::label) continue;
        if (words_of(*frame->part).find(squeezed(meeting)) == std::string::npos) broken.push_back(fmt::format("{} does not lead to {}", entry.label, meeting));
      }
    }
  }
  return broken;
}

/// Each breach opens a face of the breach card, and below it stands where one goes on: the step where one stopped, a numbered step, or an ending.
NotKept breaches_say_where_they_return(const LaidPaper& paper) {
  NotKept broken;
  if (paper.sheet.kind != SheetKind::breach) return broken;
  const auto all = blocks_of(paper);
  const emit::PaperSource source = paper.origin->source();
  const std::string back = squeezed(source.said(Phrase::go_back_where_stopped)).substr(1), over = squeezed(source.said(Phrase::end));
  for (const graph::Breach& breach : paper.origin->course.breaches) {
    const StandingBlock* mark = standing(all, breach.label);
    if (!mark) {
      broken.push_back("breach " + breach.label + " is not on its card");
      continue;
    }
    const bool opens = std::none_of(all.begin(), all.end(), [&](const StandingBlock& each) { return each.face == mark->face && each.part->where.top < mark->part->where.top; });
    if (!opens) broken.push_back("breach " + breach.label + " does not open its face");
    std::string said, label;
    for (const StandingBlock& each : all) {
      if (std::holds_alternative<emit::BoxMark>(*each.block)) label = emit::label_of(*each.block);
      if (label == breach.label) said += words_of(*each.part);
    }
    if (said.find(back) == std::string::npos && said.find(over) == std::string::npos) broken.push_back("breach " + breach.label + " does not say where it returns");
    for (const Entry& entry : paper.origin->course[breach.run].entries) {
      const bool returns_to_step = entry.go_on.what == Target::What::label && !entry.label.empty() && entry.what == Entry::What::box;
      if (returns_to_step && said.find(squeezed(entry.go_on.label)) == std::string::npos) broken.push_back(fmt::format("{} does not say that it goes on at {}", entry.label, entry.go_on.label));
    }
  }
  return broken;
}

/// A change of zone is a band over the whole width with name and risk in words; how dark its hatching is tells the risk in grey: the higher, the darker.
NotKept zones_are_bands(const LaidPaper& paper) {
  NotKept broken;
  if (paper.sheet.kind != SheetKind::card && paper.sheet.kind != SheetKind::script && paper.sheet.kind != SheetKind::poster) return broken;
  const emit::PaperSource source = paper.origin->source();
  std::vector<std::string> wanted, found;
  const auto note = [&](model::ZoneId zone) {
    if (zone) wanted.push_back(squeezed(in_capitals(emit::zone_band(source, zone).name)));
  };
  // A poster has the zones of its own acts, and no band with nothing below it.
  const bool all_zones = paper.sheet.kind != SheetKind::poster;
  const auto acts = blocks_of(paper);
  model::ZoneId zone = emit::first_zone(source.protocol);
  if (all_zones) note(zone);
  for (const Entry& entry : paper.origin->course[paper.origin->course.trunk].entries) {
    if (entry.what != Entry::What::step) continue;
    const model::Line& line = source.protocol[entry.line];
    const bool moves = line.verb == model::VerbKind::move && line.who == source.protocol.acts;
    if (moves) zone = line.zone;
    if (all_zones ? moves : standing(acts, entry.label) != nullptr) note(zone);
  }
  for (const StandingBlock& each : blocks_of(paper)) {
    const auto* band = std::get_if<emit::ZoneBand>(each.block);
    if (!band) continue;
    const std::string said = words_of(*each.part), name = squeezed(in_capitals(band->name));
    if (found.empty() || found.back() != name) found.push_back(name);
    double frame = 0, hatch = 0;
    for (const LaidMark& mark : each.part->marks) {
      if (mark.what == Mark::frame) frame = std::max(frame, mark.where.width());
      if (mark.what == Mark::hatch) hatch = mark.thick / mark.line;
    }
    if (said.find(name) == std::string::npos || said.find(squeezed(in_capitals(band->risk))) == std::string::npos) broken.push_back("a band does not say " + band->name + " and " + band->risk);
    if (frame < paper.out.look.text_width() - 3) broken.push_back("the band of " + band->name + " is no band");
    const bool fits = band->hatch == emit::Hatch::none ? hatch == 0 : band->hatch == emit::Hatch::dense ? hatch >= 0.5 && hatch < 0.8 : hatch > 0.05 && hatch <= 0.25;
    if (!fits) broken.push_back("the hatching of " + band->name + " is not that of its risk");
  }
  wanted.erase(std::unique(wanted.begin(), wanted.end()), wanted.end());
  if (found != wanted) broken.push_back(fmt::format("{} bands instead of {}", found.size(), wanted.size()));
  return broken;
}

/// Never by colour, and never by one sign alone: the number is white on a disc, and the word stands beside. No other step has either.
NotKept critical_by_word_and_shape(const LaidPaper& paper) {
  NotKept broken;
  for (const StandingBlock& each : blocks_of(paper)) {
    const auto* step = std::get_if<emit::Step>(each.block);
    const auto* row = std::get_if<emit::SayRow>(each.block);
    const auto* cells = std::get_if<emit::TableRow>(each.block);
    if (!step && !row && !(cells && !cells->label.empty())) continue;
    const bool critical = (step && step->critical) || (row && row->critical) || (cells && cells->critical);
    bool word = false, shape = false;
    for (const LaidText& text : each.part->texts) {
      word = word || text.words == paper.sheet.captions.critical;
      for (const LaidMark& mark : each.part->marks) {
        const Rectangle &disc = mark.where, &label = text.where;
        const double middle = (label.top + label.bottom) / 2;
        shape = shape || (mark.what == Mark::disc && text.white && disc.left < label.left && disc.right > label.right && disc.top < middle && disc.bottom > middle);
      }
    }
    if (word != critical) broken.push_back(fmt::format("step {}: the word is {}", emit::label_of(*each.block), word ? "there" : "missing"));
    if (shape != critical) broken.push_back(fmt::format("step {}: the disc is {}", emit::label_of(*each.block), shape ? "there" : "missing"));
  }
  return broken;
}

/// The time stands in a round frame in the rectangle of its step, to the right of the act.
NotKept timers_stand_beside_their_step(const LaidPaper& paper) {
  NotKept broken;
  for (const StandingBlock& each : blocks_of(paper)) {
    const auto* step = std::get_if<emit::Step>(each.block);
    const auto* row = std::get_if<emit::SayRow>(each.block);
    const std::string clock = step ? step->clock : row ? row->clock : std::string();
    if (clock.empty()) continue;
    bool framed = false;
    for (const LaidText& text : each.part->texts) {
      if (text.words != clock) continue;
      for (const LaidMark& mark : each.part->marks) {
        const Rectangle &frame = mark.where, &time = text.where, &whole = each.part->where;
        framed = framed || (mark.what == Mark::round_frame && frame.left < time.left && frame.right > time.right && frame.top > whole.top - 1 && frame.bottom < whole.bottom + 1 &&
                            time.left > whole.left + whole.width() / 2);
      }
    }
    if (!framed) broken.push_back(fmt::format("step {}: {} has no frame beside it", emit::label_of(*each.block), clock));
  }
  return broken;
}

}  // namespace stepward::test
