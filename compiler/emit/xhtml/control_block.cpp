#include "emit/xhtml/control_block.hpp"

#include "emit/document/square_code.hpp"
#include "wording/phrases.hpp"

namespace stepward::emit::xhtml {

namespace {

/// A caption with its gap filled; the value cannot be torn out of its order by the direction of the words around it.
void add_filled(pugi::xml_node parent, const std::string& caption, const std::string& value, bool strong) {
  for (const wording::PhrasePiece& piece : wording::pieces_of(caption)) {
    if (!piece.is_gap) say(parent, std::string(piece.text));
    else add_words(strong ? add(parent, "strong") : parent, "bdi", "", value);
  }
}

void add_fact(pugi::xml_node list, const Captions& captions, const std::string& caption, const std::string& value) {
  add_filled(add(list, "li"), caption, value.empty() ? captions.not_given : value, false);
}

void add_facts(pugi::xml_node parent, const Sheet& sheet) {
  const Control& control = sheet.control;
  const Captions& captions = sheet.captions;
  pugi::xml_node list = add(parent, "ul", "facts");
  add_fact(list, captions, captions.in_force, date_words(control.in_force, captions));
  add_fact(list, captions, captions.review_due, date_words(control.review_due, captions));
  add_words(list, "li", "", control.status.empty() ? captions.not_given : control.status);
  add_fact(list, captions, captions.owner, control.owner);
  add_fact(list, captions, captions.approved_by, control.approver);
}

/// Its alternative for who cannot see it is what it holds; a text that no code has room for stands there itself.
void add_square_code(pugi::xml_node parent, const std::string& text) {
  const SquareCode code = square_code(text);
  if (code.width == 0) {
    add_words(parent, "p", "", text);
    return;
  }
  std::string path;
  for (const DarkRun& run : code.runs) {
    const std::string length = std::to_string(run.length);
    path += "M" + std::to_string(run.column) + " " + std::to_string(run.row) + "h" + length + "v1h-" + length + "z";
  }
  const std::string side = std::to_string(code.width);
  pugi::xml_node drawing = add(parent, "svg");
  set(drawing, "xmlns", "http://www.w3.org/2000/svg");
  set(drawing, "viewBox", "0 0 " + side + " " + side);
  set(drawing, "shape-rendering", "crispEdges");
  set(drawing, "role", "img");
  set(drawing, "aria-label", text);
  pugi::xml_node ground = add(drawing, "rect");
  for (const char* side_of : {"width", "height"}) set(ground, side_of, side);
  set(ground, "fill", "#fff");
  set(add(drawing, "path"), "d", path);
}

}  // namespace

std::string version_and_status(const Sheet& sheet) {
  const Control& control = sheet.control;
  return filled(sheet.captions.version, control.version) + (control.status.empty() ? "" : " · " + control.status);
}

std::string page_title(const Sheet& sheet, const std::string& mark) {
  const Control& control = sheet.control;
  const std::string marks = marks_in_one_line(mark, control.marks);
  std::string title = marks.empty() ? "" : marks + " – ";
  title += control.title + " – " + control.kind;
  if (!control.variant.empty()) title += " – " + control.variant;
  return title + " – " + control.number + " " + filled(sheet.captions.version, control.version);
}

void add_header(pugi::xml_node body, const Sheet& sheet, const std::string& mark) {
  const Control& control = sheet.control;
  pugi::xml_node header = add(body, "header");
  if (!mark.empty()) {
    add_words(header, "p", "mark", mark);
    // The same word lies across every face that is printed.
    set(add_words(header, "div", "across-face", mark), "aria-hidden", "true");
  }
  for (const FaceMark& each : control.marks) {
    pugi::xml_node words = add(header, "p", "mark-why");
    add_words(words, "strong", "", each.word);
    say(words, " " + each.why);
  }
  pugi::xml_node names = add(header, "div", "names");
  add_words(names, "h1", "", control.title);
  if (!control.variant.empty()) add_filled(add(names, "p"), sheet.captions.for_variant, control.variant, true);
  pugi::xml_node filed = add(header, "div", "filed");
  add_words(add(filed, "p", "number"), "bdi", "", control.number);
  add_words(filed, "p", "", version_and_status(sheet));
  add_words(filed, "p", "kind", control.kind);
  if (!control.reminder.empty()) add_words(header, "p", "reminder", control.reminder);
  new_line(body);
}

void add_footer(pugi::xml_node body, const Sheet& sheet) {
  const Control& control = sheet.control;
  new_line(body);
  pugi::xml_node footer = add(body, "footer");
  add_square_code(footer, control.code);
  pugi::xml_node words = add(footer, "div");
  add_facts(words, sheet);
  pugi::xml_node check = add_words(words, "p", "check-words", sheet.captions.check_words_explained + " ");
  add_words(add(check, "strong"), "bdi", "", control.check_words);
  add_words(words, "p", "", control.verdict + ". " + control.caution);
  new_line(body);
}

}  // namespace stepward::emit::xhtml
