// Rules about where the reader's eye goes: to the next line that is meant for her, and to no other.
// What they rest on is the project's own judgement, after people who had not made the papers read them as staff would.
#include <algorithm>

#include <fmt/format.h>

#include "example_papers.hpp"
#include "layout_rules.hpp"
#include "wording/step_text.hpp"

namespace stepward::test {

using emit::SheetKind;
using graph::Entry;
using model::VerbKind;
using wording::Phrase;
using namespace emit::pdf;

namespace {

bool is_read_in_order(SheetKind kind) { return kind == SheetKind::card || kind == SheetKind::script || kind == SheetKind::breach; }

std::string said_on(const LaidPart& part) {
  std::string words;
  for (const LaidText& text : part.texts) words += squeezed(text.words) + "\n";
  return words;
}

/// The parts that stand once, in reading order.
std::vector<StandingBlock> in_order(const LaidPaper& paper) {
  std::vector<StandingBlock> all = blocks_of(paper);
  all.erase(std::remove_if(all.begin(), all.end(), [](const StandingBlock& each) { return each.part->repeated; }), all.end());
  return all;
}

template <class Kind>
const Kind* as(const StandingBlock& each) { return std::get_if<Kind>(each.block); }

const LaidText* text_saying(const LaidPart& part, const std::string& words) {
  const auto found = std::find_if(part.texts.begin(), part.texts.end(), [&](const LaidText& text) { return text.words == words; });
  return found == part.texts.end() ? nullptr : &*found;
}

/// The room for blocks on a face, between head and foot.
double room_on(const LaidFace& face) {
  double top = 0, foot = 0;
  for (const LaidPart& part : face.parts) {
    if (part.part == Part::head || part.part == Part::continued) top = std::max(top, part.where.bottom);
    if (part.part == Part::foot && (foot == 0 || part.where.top < foot)) foot = part.where.top;
  }
  return foot - top;
}

/// Whether a run comes to an ending anywhere but behind its last line.
bool ends_on_the_way(const graph::Course& course, graph::RunId id) {
  const auto& entries = course[id].entries;
  for (std::size_t i = 0; i < entries.size(); ++i) {
    const bool last = i + 1 == entries.size();
    if (!last && (entries[i].what == Entry::What::finish || entries[i].what == Entry::What::resume)) return true;
    for (const graph::Fork& fork : entries[i].forks) {
      if (!fork.run) continue;
      const Entry& end = course[fork.run].entries.back();
      if (end.what == Entry::What::finish || end.what == Entry::What::resume || ends_on_the_way(course, fork.run)) return true;
    }
  }
  return false;
}

const model::Line* line_at(const LaidPaper& paper, const std::string& label) {
  const auto found = paper.origin->course.lines_at.find(label);
  return found == paper.origin->course.lines_at.end() ? nullptr : &paper.origin->protocol[found->second.front()];
}

bool concerns_acts(const model::Protocol& protocol, const model::Line& line) {
  return line.of == protocol.acts || std::any_of(line.things.begin(), line.things.end(), [&](const model::Thing& thing) { return thing.of == protocol.acts || thing.role == protocol.acts; });
}

/// The script is held by somebody else than who acts, if there is anybody.
bool somebody_else_reads(const model::Protocol& protocol) {
  return std::any_of(protocol.people.begin(), protocol.people.end(), [&](const auto& person) { return person.role != protocol.acts; });
}

}  // namespace

/// Behind the run and the breaches, by their letters; and no foot leads on to a face that begins with a box or a breach.
NotKept boxes_stand_last(const LaidPaper& paper) {
  NotKept broken;
  if (!is_read_in_order(paper.sheet.kind)) return broken;
  std::vector<std::string> letters;
  for (const StandingBlock& each : in_order(paper)) {
    const auto* mark = as<emit::BoxMark>(each);
    const bool of_run = as<emit::Heading>(each) || as<emit::ZoneBand>(each) || (mark && mark->breach);
    if (of_run && !letters.empty()) broken.push_back(fmt::format("face {}: the run goes on behind box {}", each.face, letters.back()));
    if (mark && !mark->breach) letters.push_back(mark->label);
  }
  std::vector<std::string> known;
  for (const graph::Box& box : paper.origin->course.boxes) {
    if (std::find(letters.begin(), letters.end(), box.label) != letters.end()) known.push_back(box.label);
  }
  if (letters != known) broken.push_back("the boxes do not stand in the order of their letters");
  for (std::size_t face = 0; face + 1 < paper.out.faces.size(); ++face) {
    const auto& next = paper.out.faces[face + 1].parts;
    const auto first = std::find_if(next.begin(), next.end(), [](const LaidPart& part) { return part.part == Part::block && !part.repeated; });
    const bool begins_box = first != next.end() && std::holds_alternative<emit::BoxMark>(paper.sheet.blocks[first->block]);
    const std::string arrow = squeezed(paper.out.look.arrow() + emit::with_no_break(emit::filled(paper.sheet.captions.page, std::to_string(face + 2))));
    bool leads = false;
    for (const LaidPart& part : paper.out.faces[face].parts) {
      for (const LaidText& text : part.texts) leads = leads || (part.part == Part::foot && squeezed(text.words) == arrow);
    }
    if (leads == begins_box) broken.push_back(fmt::format("face {}: the foot {} to the next face", face + 1, leads ? "leads" : "does not lead"));
  }
  return broken;
}

/// STOP HERE in a frame, no arrow; and what stands below it is something new, or says for whom it is.
NotKept endings_stop_the_reader(const LaidPaper& paper) {
  NotKept broken;
  if (!is_read_in_order(paper.sheet.kind)) return broken;
  const emit::PaperSource source = paper.origin->source();
  const std::string stop = squeezed(source.said(Phrase::stop_here)), over = squeezed(source.said(Phrase::end)), arrow = squeezed(paper.out.look.arrow());
  const std::string here = squeezed(source.said(Phrase::goes_on_here, {{"answers", ""}}));
  const auto all = in_order(paper);
  for (std::size_t i = 0; i < all.size(); ++i) {
    const std::string said = said_on(*all[i].part);
    if (!as<emit::EndMark>(all[i]) || said.find(over) == std::string::npos) continue;
    if (said.find(stop) == std::string::npos || said.find(arrow) != std::string::npos) broken.push_back(fmt::format("face {}: “{}” does not stop", all[i].face, said));
    const bool framed = std::any_of(all[i].part->marks.begin(), all[i].part->marks.end(), [&](const LaidMark& mark) {
      return mark.what == Mark::frame && std::all_of(all[i].part->texts.begin(), all[i].part->texts.end(), [&](const LaidText& text) { return mark.where.left < text.where.left && mark.where.right > text.where.right && mark.where.top < text.where.top && mark.where.bottom > text.where.bottom; });
    });
    if (!framed) broken.push_back(fmt::format("face {}: “{}” has no frame", all[i].face, said));
    if (i + 1 == all.size() || as<emit::BoxMark>(all[i + 1]) || as<emit::BranchMark>(all[i + 1])) continue;
    const bool says_whose = as<emit::Notice>(all[i + 1]) && said_on(*all[i + 1].part).find(here) != std::string::npos;
    if (!says_whose) broken.push_back(fmt::format("face {}: below “{}” stands “{}”", all[i].face, said, said_on(*all[i + 1].part)));
  }
  return broken;
}

/// Nobody answers the wrong line: one answer below the other, and of YES and NO always YES above.
NotKept yes_stands_above_no(const LaidPaper& paper) {
  NotKept broken;
  if (!is_read_in_order(paper.sheet.kind)) return broken;
  const emit::PaperSource source = paper.origin->source();
  const std::string yes = source.said(Phrase::yes), no = source.said(Phrase::no);
  for (const StandingBlock& each : in_order(paper)) {
    const auto* frame = as<emit::Frame>(each);
    if (!frame) continue;
    if (frame->rows.size() < 2) broken.push_back(frame->label + " has no answers");
    double below = each.part->where.top;
    for (const emit::FrameRow& row : frame->rows) {
      const LaidText* key = row.key.empty() ? nullptr : text_saying(*each.part, row.key);
      if (!key) continue;
      if (frame->rows.size() == 2 && key->where.top < below) broken.push_back(fmt::format("{}: {} has no line of its own", frame->label, row.key));
      below = key->where.bottom - 1;
    }
    const LaidText *above = text_saying(*each.part, yes), *under = text_saying(*each.part, no);
    if (above && under && above->where.top >= under->where.top) broken.push_back(frame->label + ": NO stands first");
  }
  return broken;
}

/// A box or a breach that has room on one face stands on one.
NotKept boxes_are_whole(const LaidPaper& paper) {
  NotKept broken;
  if (!is_read_in_order(paper.sheet.kind)) return broken;
  const auto all = in_order(paper);
  const double above = 15;  // what a box keeps off the block over it
  for (std::size_t i = 0; i < all.size(); ++i) {
    const auto* mark = as<emit::BoxMark>(all[i]);
    if (!mark) continue;
    double height = all[i].part->where.height();
    std::size_t end = i + 1;
    for (; end < all.size() && !as<emit::BoxMark>(all[end]); ++end) height += all[end].part->where.height();
    const bool torn = all[end - 1].face != all[i].face;
    if (torn && height + above < room_on(paper.out.faces[1])) broken.push_back(fmt::format("{} is torn, and would have room on a face", mark->label));
  }
  return broken;
}

/// Where a branch may end the run on its way, its row sends to its first step and promises nothing behind it.
NotKept rows_promise_what_holds(const LaidPaper& paper) {
  NotKept broken;
  if (!is_read_in_order(paper.sheet.kind) || paper.sheet.kind == SheetKind::breach) return broken;
  const emit::PaperSource source = paper.origin->source();
  const std::string then = source.said(Phrase::what_then_go_on, {{"what", ""}, {"go on", ""}});
  for (const StandingBlock& each : in_order(paper)) {
    const auto* frame = as<emit::Frame>(each);
    for (const graph::Run& run : frame ? paper.origin->course.runs : std::vector<graph::Run>()) {
      for (const Entry& entry : run.entries) {
        if (entry.label != frame->label || entry.what != Entry::What::question) continue;
        for (const graph::Fork& fork : entry.forks) {
          if (!fork.run || emit::fits_in_row(source, fork) || !ends_on_the_way(paper.origin->course, fork.run)) continue;
          const std::string key = emit::branch_name(source, entry, static_cast<std::size_t>(&fork - entry.forks.data()));
          const std::string answer = key.substr(key.rfind(' ') + 1), first = emit::plain_text(emit::go_on_text(source, fork.first));
          const bool sends = std::any_of(each.part->texts.begin(), each.part->texts.end(), [&](const LaidText& text) { return squeezed(text.words).rfind(squeezed(first), 0) == 0 && text.words.find(then) == std::string::npos; });
          if (!sends || !text_saying(*each.part, answer)) broken.push_back(fmt::format("{}: {} does not “{}”", frame->label, answer, first));
        }
      }
    }
  }
  return broken;
}

/// "Your" is the reader's. On the card that is who acts; on the script of somebody else a question names whose hands it asks about.
NotKept your_is_the_readers(const LaidPaper& paper) {
  NotKept broken;
  const model::Protocol& protocol = paper.origin->protocol;
  const std::string your = paper.origin->source().said(Phrase::your_hands);
  if (paper.sheet.kind != SheetKind::card && paper.sheet.kind != SheetKind::script && paper.sheet.kind != SheetKind::breach) return broken;
  const bool script = paper.sheet.kind == SheetKind::script;
  for (const StandingBlock& each : in_order(paper)) {
    const std::string label = emit::label_of(*each.block);
    const model::Line* line = line_at(paper, label);
    const bool others = !script && as<emit::Step>(each) && line && line->who != protocol.acts && line->verb != VerbKind::inspect && line->verb != VerbKind::decide && line->verb != VerbKind::pass && !concerns_acts(protocol, *line);
    const bool asked = script && as<emit::Frame>(each) && somebody_else_reads(protocol);
    if ((others || asked) && said_on(*each.part).find(squeezed(your)) != std::string::npos) broken.push_back(fmt::format("{} says “{}”", label, your));
  }
  return broken;
}

/// What the card has in fields of its own, a script says aloud: the agent, and the bin.
NotKept scripts_say_agent_and_bin(const LaidPaper& paper) {
  NotKept broken;
  if (paper.sheet.kind != SheetKind::script) return broken;
  const emit::PaperSource source = paper.origin->source();
  for (const StandingBlock& each : in_order(paper)) {
    const auto* row = as<emit::SayRow>(each);
    const model::Line* line = row ? line_at(paper, row->label) : nullptr;
    if (!line || line->who != source.protocol.acts || row->say.empty()) continue;
    const std::string said = said_on(*each.part);
    if (line->agent && said.find(squeezed(source.protocol[line->agent].name)) == std::string::npos) broken.push_back(row->label + " does not say with what");
    if (const std::string bin = emit::bin_of(source, *line); !bin.empty() && said.find(squeezed(bin)) == std::string::npos) broken.push_back(row->label + " does not say into what");
  }
  return broken;
}

/// Who has the script read to her cannot see what stands above its step: a warning is in quotation marks behind SAY.
NotKept scripts_read_warnings_aloud(const LaidPaper& paper) {
  NotKept broken;
  if (paper.sheet.kind != SheetKind::script) return broken;
  const emit::PaperSource source = paper.origin->source();
  for (const StandingBlock& each : in_order(paper)) {
    const auto* row = as<emit::SayRow>(each);
    const model::Line* line = row && !row->say.empty() ? line_at(paper, row->label) : nullptr;
    const std::string warning = line ? wording::step_text(source.protocol, source.variant, *line, {}).warning : std::string();
    const auto is_read = [&](const LaidText& text) {
      const std::size_t say = text.words.find(source.said(Phrase::say) + " “"), at = text.words.find(warning + "”");
      return say != std::string::npos && at != std::string::npos && say < at;
    };
    if (!warning.empty() && std::none_of(each.part->texts.begin(), each.part->texts.end(), is_read)) broken.push_back(row->label + " does not have its warning read aloud");
  }
  return broken;
}

/// So that a voice can name one; and a branch says which of them it answers.
NotKept questions_have_their_own_numbers(const LaidPaper& paper) {
  NotKept broken;
  if (!is_read_in_order(paper.sheet.kind)) return broken;
  std::vector<std::string> numbers;
  const auto asked = [&](const StandingBlock& each, const std::string& number) {
    const bool printed = std::any_of(each.part->texts.begin(), each.part->texts.end(), [&](const LaidText& text) { return text.words == number || text.words.rfind(number + " ", 0) == 0; });
    if (number.empty() || !printed) broken.push_back(fmt::format("a question of {} has no number", emit::label_of(*each.block)));
    if (std::find(numbers.begin(), numbers.end(), number) != numbers.end()) broken.push_back(number + " is two questions");
    numbers.push_back(number);
  };
  for (const StandingBlock& each : in_order(paper)) {
    if (const auto* frame = as<emit::Frame>(each)) {
      asked(each, frame->label);
      for (const emit::FrameRow& row : frame->rows) if (row.key.empty()) asked(each, row.label);
    }
    const auto* branch = as<emit::BranchMark>(each);
    const std::string answered = branch ? branch->text.substr(0, branch->text.find(':')) : std::string();
    if (branch && std::find(numbers.begin(), numbers.end(), answered) == numbers.end()) broken.push_back(answered + " is answered, and nowhere asked");
  }
  return broken;
}

/// Letters are those of the variant on all its papers; whoever misses one is told at the next box that it is not used here.
NotKept letters_left_out_are_told(const LaidPaper& paper) {
  NotKept broken;
  if (!is_read_in_order(paper.sheet.kind)) return broken;
  char next = 'A';
  for (const StandingBlock& each : in_order(paper)) {
    const auto* mark = as<emit::BoxMark>(each);
    if (!mark || mark->breach || mark->label.size() != 1) continue;
    std::vector<std::string> missing;
    for (; next < mark->label[0]; ++next) missing.emplace_back(1, next);
    next = static_cast<char>(mark->label[0] + 1);
    const emit::PaperSource source = paper.origin->source();
    const std::string told = source.said(Phrase::letters_not_used, {{"letters", wording::all_of(source.protocol.tongue, missing)}});
    if ((said_on(*each.part).find(squeezed(told)) != std::string::npos) == missing.empty()) broken.push_back(fmt::format("box {}: not “{}”", mark->label, told));
  }
  return broken;
}

}  // namespace stepward::test
