#include "emit/xhtml/block_writer.hpp"

namespace stepward::emit::xhtml {

namespace {

std::string class_of(Hatch hatch) {
  switch (hatch) {
    case Hatch::none: return "zone";
    case Hatch::sparse: return "zone sparse";
    case Hatch::dense: return "zone dense";
  }
  return "zone";
}

/// A caption and what it introduces, as one entry of a list of such.
pugi::xml_node entry(pugi::xml_node list, const std::string& classes, const std::string& caption) {
  pugi::xml_node both = add(list, "div", classes);
  add_words(both, "dt", "caption", caption);
  return add(both, "dd");
}

/// Times keep their letters in every language, and so their own direction.
void add_clock(pugi::xml_node parent, const std::string& time) { set(add_words(parent, "span", "clock", time), "dir", "auto"); }

std::string quoted(const std::string& text) { return "“" + text + "”"; }

}  // namespace

BlockWriter::BlockWriter(pugi::xml_node main, const Sheet& sheet)
    : sheet_(sheet), captions_(sheet.captions), links_(sheet), places_(main), tables_(sheet, links_) {}

void BlockWriter::write(const Block& block) {
  const bool in_table = std::holds_alternative<TableRow>(block) || std::holds_alternative<Notice>(block);
  if (!in_table) tables_.close();
  std::visit([this](const auto& each) { put(each); }, block);
}

pugi::xml_node BlockWriter::heading(pugi::xml_node parent, const std::string& classes) {
  pugi::xml_node title = add(parent, "h2", classes);
  title_ = "part-" + std::to_string(++headings_);
  set(title, "id", title_);
  return title;
}

void BlockWriter::put(const ZoneBand& block) {
  pugi::xml_node title = heading(places_.open_section("in-zone"), class_of(block.hatch));
  add_words(title, "span", "", block.name + " · " + block.risk);
}

void BlockWriter::put(const Heading& block) {
  pugi::xml_node section = places_.open_section(block.opens_face ? "opens-face" : block.whole ? "whole" : "");
  links_.mark(section, block.label);
  say(heading(section, ""), block.text);
}

void BlockWriter::put(const Paragraph& block) {
  links_.say(add(places_.outside_of_lists(), "p", block.warning ? "warning" : ""), block.text);
}

void BlockWriter::warnings(pugi::xml_node parent, const std::vector<Text>& all) {
  for (const Text& warning : all) links_.say(add(parent, "p", "warning"), warning);
}

void BlockWriter::label(pugi::xml_node parent, const std::string& words, bool critical) {
  if (!words.empty()) add_words(parent, "span", critical ? "label in-disc" : "label", words);
}

void BlockWriter::put(const Step& block) {
  pugi::xml_node step = add(places_.item(block.level), "div", block.aside ? "step aside" : "step");
  links_.mark(step, block.label);
  warnings(step, block.warnings);
  // Nobody ticks a poster at two metres or a badge in a glove.
  const bool ticked = sheet_.kind != SheetKind::poster && sheet_.kind != SheetKind::badge;
  if (ticked) add(step, "span", "tick");
  label(step, block.label, block.critical);
  pugi::xml_node body = add(step, "div", "body");
  links_.say(add(body, "p", "act"), block.act);
  if (!block.manner.empty()) links_.say(add(body, "p", "manner"), block.manner);
  side_column(step, block);
}

void BlockWriter::side_column(pugi::xml_node parent, const Step& block) {
  if (block.clock.empty() && !block.critical && block.side.empty()) return;
  pugi::xml_node side = add(parent, "div", "side");
  if (!block.clock.empty()) add_clock(add(side, "p"), block.clock);
  if (block.critical) add_words(side, "p", "caption", captions_.critical);
  for (const std::string& note : block.side) add_words(side, "p", "", note);
}

/// What has an answer's word in front of it is a list of such entries; what has none is a line by itself.
void BlockWriter::answers(pugi::xml_node parent, const std::vector<FrameRow>& rows) {
  pugi::xml_node list;
  for (const FrameRow& row : rows) {
    if (row.key.empty()) {
      pugi::xml_node question = add(parent, "p");
      if (!row.label.empty()) add_words(question, "b", "", row.label + " ");
      links_.say(question, row.text);
      list = {};
      continue;
    }
    if (!list) list = add(parent, "dl");
    pugi::xml_node both = add(list, "div");
    add_words(both, "dt", "", row.key);
    links_.say(add(both, "dd"), row.text);
  }
}

void BlockWriter::put(const Frame& block) {
  pugi::xml_node row = add(places_.item(block.level), "div", "question");
  links_.mark(row, block.label);
  label(row, block.label, false);
  pugi::xml_node frame = add(row, "div", "frame");
  links_.say(add(frame, "p", "ask"), block.ask);
  answers(frame, block.rows);
}

void BlockWriter::put(const Notice& block) {
  if (tables_.is_open()) return tables_.title_of_rows(block);
  pugi::xml_node row = add(places_.item(block.level), "div", "notice");
  links_.mark(row, block.label);
  label(row, block.label, false);
  links_.say(add(row, "p"), block.text);
}

void BlockWriter::put(const BranchMark& block) { add_words(places_.before_branch(block.level), "p", "branch-title", block.text); }

void BlockWriter::put(const BoxMark& block) {
  pugi::xml_node section = places_.open_section(block.breach ? "breach" : "box");
  links_.mark(section, block.label);
  pugi::xml_node title = heading(section, "");
  say(title, (block.breach ? captions_.breach : captions_.box) + " " + block.label);
  if (!block.title.empty()) {
    say(title, " ");
    add_words(title, "span", "name", block.title);
  }
  if (!block.when.empty()) links_.say(add(section, "p", "when"), block.when);
}

void BlockWriter::put(const EndMark& block) {
  pugi::xml_node line = add(places_.item(block.level), "p", block.stops ? "end stops" : "end");
  if (!block.stops) set(add_words(line, "span", "", "→ "), "aria-hidden", "true");
  links_.say(line, block.text);
}

// ------------------------------------------------------------------ script

void BlockWriter::put(const SayRow& block) {
  pugi::xml_node row = add(places_.item(block.level), "div", "spoken");
  links_.mark(row, block.label);
  warnings(row, block.warnings);
  label(row, block.label, block.critical);
  said(row, block);
  if (block.critical || !block.look_for.empty() || !block.clock.empty() || !block.if_not.empty()) looked_for(row, block);
}

void BlockWriter::said(pugi::xml_node parent, const SayRow& block) {
  pugi::xml_node side = add(parent, "div", "body");
  if (!block.say.empty() || !block.hear.empty() || !block.act.empty()) {
    pugi::xml_node list = add(side, "dl");
    if (!block.say.empty()) say(entry(list, "say", captions_.say), quoted(block.say));
    if (!block.hear.empty()) say(entry(list, "hear", captions_.hear), quoted(block.hear));
    if (!block.act.empty()) links_.say(entry(list, "do", captions_.act), block.act);
  }
  for (const Text& remark : block.remarks) links_.say(add(side, "p", "remark"), remark);
}

void BlockWriter::looked_for(pugi::xml_node parent, const SayRow& block) {
  pugi::xml_node side = add(parent, "div", "look");
  if (block.critical) add_words(side, "p", "caption", captions_.critical);
  if (block.look_for.empty() && block.clock.empty() && block.if_not.empty()) return;
  pugi::xml_node list = add(side, "dl");
  if (!block.clock.empty()) add_clock(entry(list, "time", captions_.clock), block.clock);
  if (!block.look_for.empty()) say(entry(list, "", captions_.look_for), block.look_for);
  if (!block.if_not.empty()) say(entry(list, "", captions_.if_not), quoted(block.if_not));
}

// ------------------------------------------------------------------ tables

void BlockWriter::put(const TableHead& block) {
  tables_.open(places_.outside_of_lists(), block.table, title_);
  title_.clear();
}

void BlockWriter::put(const TableRow& block) {
  if (!tables_.takes(block)) tables_.open(places_.outside_of_lists(), block.table, "");
  tables_.row(block);
}

}  // namespace stepward::emit::xhtml
