#include "emit/pdf/furniture.hpp"

#include <algorithm>

#include "emit/pdf/block_setter.hpp"
#include "emit/pdf/square_code.hpp"
#include "wording/phrases.hpp"

namespace stepward::emit::pdf {

namespace {

constexpr double heavy = 3.2;
/// "in force 1 Oct 2030"; what the author did not give is said not to be given.
std::string fact(const Captions& captions, const std::string& caption, const std::string& value) {
  return filled(caption, value.empty() ? captions.not_given : value);
}

/// At the edge: its quiet zone may lie in the margin, since nothing is printed there.
void add_code(Galley& galley, Typesetter& type, const Look& look, const std::string& code, double y) {
  if (add_square_code(galley, code, 0, y, look.code)) return;
  type.set("\xEF\xBF\xBF", {look.foot}, -1);  // an unprintable sign: reported as a fault of the foot
}

/// A caption in front of what it says of the sheet.
Text with_strong_value(const std::string& caption, const std::string& value) {
  Text text;
  for (const wording::PhrasePiece& piece : wording::pieces_of(caption)) {
    text.push_back({piece.is_gap ? value : std::string(piece.text), piece.is_gap, ""});
  }
  return text;
}

/// What the number of the face takes of the foot's width.
double count_width(const Look& look) { return look.small ? look.page * 5 : std::max(look.page * 4, look.foot * 5.6); }

constexpr double foot_top = 5;  // below its rule

constexpr double low_mark = 10;
constexpr double least_of_foot = 7;

/// White on black over the whole width, below the rule of the head: no copier and no foil loses it, and nothing is printed over anything.
/// Under A6 there is room for the words, and not for the reasons; on a low face they share one band.
void add_marks(Galley& galley, Typesetter& type, const Look& look, const std::vector<FaceMark>& marks) {
  if (marks.empty()) return;
  const bool low = look.width > look.height;
  const double inset = look.small ? 3 : 8, pad = look.small ? 0.3 : 2.5, size = look.small ? look.title : low ? low_mark : look.heading;
  const auto band = [&](const Text& words) {
    const Layout text = type.set(words, {size}, look.text_width() - 2 * inset);
    const double height = Typesetter::extent(text).height + 2 * pad;
    galley.rule(0, galley.height, look.text_width(), height);
    galley.text(inset, galley.height + pad, text, "P", true);
    galley.height += height + (look.small ? 1 : 2);
  };
  if (look.small) return band({{marks_in_one_line("", marks), true, ""}});
  Text together;
  for (const FaceMark& mark : marks) {
    const Text words{{(low && !together.empty() ? "   " : "") + mark.word, true, ""}, {"  " + mark.why, false, ""}};
    if (!low) band(words);
    together.insert(together.end(), words.begin(), words.end());
  }
  if (low) band(together);
  galley.height += low ? 1 : 4;
}

/// The title, since who carries a card for going in has one for coming out as well; the size says what kind of paper it is.
Text small_title(const Control& control) {
  Text words{{control.title, true, ""}};
  if (!control.variant.empty()) words.push_back({" · " + control.variant, false, ""});
  return words;
}

constexpr double next_face = 5.2;  // what "→ face 12" takes, in sizes of the foot

/// Whether the number of the face and the next one's stand side by side on one line with the title; else one below the other, beside two.
bool has_one_line(Typesetter& type, const Look& look, const Sheet& sheet) {
  return Typesetter::extent(type.set(small_title(sheet.control), {look.foot}, -1)).width <= look.text_width() - count_width(look) - next_face * look.foot;
}

Galley small_head(Typesetter& type, const Look& look, const Sheet& sheet) {
  Galley galley;
  type.in("the head");
  galley.height = galley.text(0, 0, type.set(small_title(sheet.control), {look.foot}, look.text_width() - count_width(look)), "H1");
  if (!has_one_line(type, look, sheet)) galley.height = std::max(galley.height, 2 * 1.36 * look.foot);
  galley.height += 0.5;
  galley.rule(0, galley.height, look.text_width(), 1.2);
  galley.height += 1.2 + 1;
  add_marks(galley, type, look, sheet.control.marks);
  return galley;
}

/// Number, version, review, check words, caution and square code: what a face of a card still has to carry, and no more.
Galley small_foot(Typesetter& type, const Look& look, const Sheet& sheet) {
  const Control& control = sheet.control;
  const Captions& captions = sheet.captions;
  Galley galley;
  type.in("the foot");
  galley.rule(0, 0, look.text_width(), 0.9);
  const double x = look.code * 0.88 + 1, width = look.text_width() - x;
  const std::string review = fact(captions, captions.review_due, date_words(control.review_due, captions));
  // Four words joined by dashes are what the check words look like on every paper; their caption would take a line in some languages.
  const Text all{{control.number + " v" + control.version, true, ""}, {" · " + review + "\n", false, ""},
                 {control.check_words, true, ""}, {"\n" + control.caution + (control.reminder.empty() ? "" : " "), false, ""}, {control.reminder, true, ""}};
  const double y = 1.5 + galley.text(x, 1.5, type.set(all, {look.foot}, width));
  add_code(galley, type, look, control.code, 3);
  galley.height = std::max(y, 3 + look.code * 25 / 33);
  return galley;
}

/// As large as the foot's other words and a little more, or what of that lets the four stand on one line.
double check_words_size(Typesetter& type, const Look& look, const std::string& words, double width) {
  const double wanted = look.foot + 1, wide = Typesetter::extent(type.set(Text{{words, true, ""}}, {wanted}, -1)).width;
  return wide <= width ? wanted : std::max(least_of_foot, wanted * (width - 0.5) / wide);
}

/// What the words are for is said where that takes no line more.
Layout check_line(Typesetter& type, const Look& look, const Sheet& sheet, double width) {
  const double size = check_words_size(type, look, sheet.control.check_words, width);
  const auto set = [&](const std::string& caption, double room) {
    return type.set(Text{{caption + " ", false, ""}, {sheet.control.check_words, true, ""}}, {size}, room);
  };
  const bool fits = Typesetter::extent(set(sheet.captions.check_words_explained, -1)).width <= width;
  return set(fits ? sheet.captions.check_words_explained : sheet.captions.check_words, width);
}

}  // namespace

Galley first_head(Typesetter& type, const Look& look, const Sheet& sheet) {
  if (look.small) return small_head(type, look, sheet);
  const Control& control = sheet.control;
  Galley galley;
  type.in("the head");
  // A long number is not cut: the title gives way to it. On a poster it is read from near by.
  const Style numbers{sheet.kind == SheetKind::poster ? 2 * look.foot : look.manner + 1, 700, Align::end};
  const Layout number = type.set(control.number, numbers, -1);
  const double width = look.text_width(), right = std::max({width * 0.27, 122.0, Typesetter::extent(number).width + 1}), left = width - right - 12;
  double y = galley.text(0, 0, type.set(control.title, {look.title, 700}, left), "H1");
  double side = 2;
  const double x = width - right;
  side += galley.text(x, side, type.set(control.number, numbers, right));
  const std::string version = filled(sheet.captions.version, control.version) + (control.status.empty() ? "" : " · " + control.status);
  side += galley.text(x, side, type.set(version, {look.foot + 2, 400, Align::end}, right));
  side += galley.text(x, side, type.set(in_capitals(control.kind), {look.foot + 1.5, 600, Align::end, 0.4}, right));
  if (!control.variant.empty()) {
    // Beside number and version where it fits there on one line, else below them over the whole width.
    const Text only = with_strong_value(sheet.captions.for_variant, control.variant);
    const bool fits = Typesetter::extent(type.set(only, {look.manner}, -1)).width <= left;
    y = 2 + (fits ? y : std::max(y, side));
    y += galley.text(0, y, type.set(only, {look.manner}, fits ? left : width));
  }
  galley.height = std::max(y, side) + 4;
  galley.rule(0, galley.height, width, heavy);
  galley.height += heavy + (control.marks.empty() ? 7 : 3);
  add_marks(galley, type, look, control.marks);
  return galley;
}

Galley next_head(Typesetter& type, const Look& look, const Sheet& sheet) {
  if (look.small) return small_head(type, look, sheet);
  const Control& control = sheet.control;
  Galley galley;
  type.in("the head");
  const double width = look.text_width();
  const Layout number = type.set(control.number + " v" + control.version, {look.foot + 1, 700}, -1);
  const double right = Typesetter::extent(number).width;
  Text words{{in_capitals(control.kind), true, ""}, {" · " + control.title, false, ""}};
  if (!control.variant.empty()) words.push_back({" · " + control.variant, true, ""});
  const double height = galley.text(0, 0, type.set(words, {look.foot + 1}, width - right - 14));
  galley.text(width - right, 0, number);
  galley.height = height + 3;
  galley.rule(0, galley.height, width, heavy);
  galley.height += heavy + (control.marks.empty() ? 6 : 3);
  add_marks(galley, type, look, control.marks);
  return galley;
}

Galley continued_line(Typesetter& type, const Look& look, const std::string& words) {
  Galley galley;
  type.in("the continuation line");
  galley.height = galley.text(0, 0, type.set(words, {look.quiet, 600}, look.text_width())) + (look.small ? 0.5 : 3);
  galley.rule(0, galley.height, look.text_width(), 0.9);
  galley.height += look.small ? 1 : 2;
  return galley;
}

Galley foot(Typesetter& type, const Look& look, const Sheet& sheet) {
  if (look.small) return small_foot(type, look, sheet);
  const Control& control = sheet.control;
  Galley galley;
  type.in("the foot");
  const double width = look.text_width();
  constexpr double rule = 1.8;
  galley.rule(0, 0, width, rule);
  const double x = look.code - 2, words = width - x - count_width(look) - 6, top = foot_top;
  // On a low face the control block stands in two columns, on a high one in one.
  const bool low = look.width > look.height;
  const double first = low ? words * 0.44 : words, second = low ? words - first - 12 : words;
  double y = top;
  if (!control.reminder.empty())
    y += galley.text(x, y, type.set(control.reminder, {look.foot + (low ? 2.5 : 3.5), 700}, first)) + 1;
  const double after_reminder = y;
  const Layout check = check_line(type, look, sheet, first);
  y = low ? y + galley.text(x, y, check) : y;
  double other = low ? top : after_reminder;
  const Captions& captions = sheet.captions;
  const std::string dates = fact(captions, captions.in_force, date_words(control.in_force, captions)) + " · " +
                            fact(captions, captions.review_due, date_words(control.review_due, captions)) + " · " +
                            (control.status.empty() ? captions.not_given : control.status) + " · " +
                            fact(captions, captions.owner, control.owner) + " · " +
                            fact(captions, captions.approved_by, control.approver);
  const double at = low ? x + first + 12 : x;
  other += galley.text(at, other, type.set(dates, {look.foot}, second));
  if (!low) other += galley.text(at, other, check);
  other += galley.text(at, other, type.set(control.verdict + ". " + control.caution, {look.foot}, second));
  y = std::max(y, other);
  // Four light modules between the rule and the code, as ISO/IEC 18004 wants them all round.
  add_code(galley, type, look, control.code, rule + 4 * look.code / 37);
  galley.height = std::max(y, rule + look.code * 0.9);
  return galley;
}

Galley face_count(Typesetter& type, const Look& look, const Sheet& sheet, int face, bool goes_on, int faces) {
  Galley galley;
  type.in("the foot");
  const double page = count_width(look), top = look.small ? 0 : foot_top;
  double x = look.text_width() - page;
  // A hundred faces and more are a little wider than the corner is; they stay on one line.
  const Layout count = type.set(std::to_string(face) + " / " + std::to_string(faces), {look.small ? look.foot : look.page, 700}, -1);
  galley.height = galley.text(look.text_width() - Typesetter::extent(count).width, top, count);
  if (!goes_on) return galley;
  const bool beside = look.small && has_one_line(type, look, sheet);
  const double wide = beside ? next_face * look.foot : page, y = top + (beside ? 0 : galley.height);
  if (beside) x = look.text_width() - page - wide + 6;
  const std::string next = look.arrow() + with_no_break(filled(sheet.captions.page, std::to_string(face + 1)));
  galley.text(x, y, type.set(next, {look.foot, look.small ? 700 : 400, Align::end}, wide));
  return galley;
}

void draw_edge(cairo_t* c, const Look& look) {
  if (look.edge == 0) return;
  const double unreached = 5 * 72 / 25.4;
  cairo_save(c);
  cairo_set_source_rgb(c, 0.64, 0.11, 0.11);
  cairo_rectangle(c, look.right_to_left ? look.width - unreached - look.edge : unreached, unreached, look.edge, look.height - 2 * unreached);
  cairo_fill(c);
  cairo_restore(c);
}

void draw_watermark(cairo_t* c, Typesetter& type, const Look& look, const std::string& word) {
  type.in("the watermark");
  const Layout words = type.set(word, {look.width / 4.2, 700}, -1);
  const Extent extent = Typesetter::extent(words);
  cairo_save(c);
  cairo_translate(c, look.width / 2, look.height / 2);
  cairo_rotate(c, look.width < look.height ? -0.95 : -0.5);
  const double shrink = std::min(1.0, 0.9 * std::max(look.width, look.height) / extent.width);
  cairo_scale(c, shrink, shrink);
  cairo_set_source_rgb(c, 0.86, 0.86, 0.86);
  cairo_move_to(c, -extent.width / 2, -extent.height / 2);
  cairo_tag_begin(c, "P", nullptr);
  pango_cairo_show_layout(c, words.get());
  cairo_tag_end(c, "P");
  cairo_restore(c);
}

}  // namespace stepward::emit::pdf
