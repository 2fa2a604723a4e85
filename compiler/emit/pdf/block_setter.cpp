#include "emit/pdf/block_setter.hpp"

#include <algorithm>

namespace stepward::emit::pdf {

namespace {

constexpr double gutter = 9;     // between columns
constexpr double frame_air_of_paper = 7;  // inside frames
constexpr double hairline_shade = 0.45;
constexpr double label_gap = 7;    // between a tick box and a long label
constexpr double disc_size = 1.42, disc_middle = 0.36;  // of the number on it, from its foot
constexpr double disc_above = disc_size / 2 + disc_middle;

/// The first line of the first words of a row.
std::string title_of(const TableRow& row) {
  for (const Text& cell : row.cells) {
    const std::string words = plain_text(cell);
    if (!words.empty()) return words.substr(0, words.find('\n'));
  }
  return {};
}

std::string name_of(const Block& block) {
  const std::string label = label_of(block);
  if (const auto* row = std::get_if<TableRow>(&block)) return "row " + (label.empty() ? "“" + title_of(*row) + "”" : label);
  if (std::holds_alternative<TableHead>(block)) return "the head of a table";
  if (std::holds_alternative<Paragraph>(block)) return "a paragraph";
  if (const auto* figure = std::get_if<Figure>(&block)) return "the figure “" + figure->told + "”";
  if (std::holds_alternative<Frame>(block)) return "question " + label;
  if (std::holds_alternative<BoxMark>(block)) return "box " + label;
  if (!label.empty()) return "step " + label;
  if (const auto* heading = std::get_if<Heading>(&block)) return "phase “" + heading->text + "”";
  return "a line between the steps";
}

}  // namespace

std::string in_capitals(const std::string& text) {
  char* upper = g_utf8_strup(text.c_str(), static_cast<gssize>(text.size()));
  std::string capitals = upper;
  g_free(upper);
  return capitals;
}

Galley BlockSetter::set(const Block& block, int face) {
  face_ = face;
  type_.in(name_of(block));
  Galley galley = std::visit([&](const auto& each) { return set(each); }, block);
  galley.where = type_.where();
  galley.label = label_of(block);
  return galley;
}

/// A reference to another face names it; one to the same face needs no page.
Text BlockSetter::with_pages(const Text& text) const {
  Text paged;
  for (const Run& run : text) {
    paged.push_back(run);
    const int face = run.target.empty() ? 0 : face_of_(run.target);
    if (face > 0 && face_ > 0 && face != face_) paged.push_back({", " + with_no_break(filled(captions_.page, std::to_string(face))), false, ""});
  }
  return paged;
}

/// Branches hang on a bar at their left, one for each level.
void BlockSetter::finish(Galley& galley, Level level, double height, bool hairline) {
  galley.height = height;
  if (hairline) galley.rule(indent(level), height - 0.6, look_.text_width() - indent(level), 0.6, hairline_shade);
  for (Level each = 0; each < level; ++each) galley.rule(indent(each) + 2, 0, 3, height);
}

Galley BlockSetter::set(const ZoneBand& block) {
  Galley galley;
  const std::string name = in_capitals(block.name + " · " + block.risk);
  const Style style{std::max(look_.caps + 1, look_.quiet), 700, Align::start, 0.8};
  Layout words = type_.set(name, style, -1);
  double width = Typesetter::extent(words).width, end = look_.text_width() * 0.16;
  // A long name takes the hatched end's room, and then a second line.
  if (end + width + 3 * gutter > look_.text_width()) end = look_.text_width() * 0.06;
  if (end + width + 3 * gutter > look_.text_width()) {
    words = type_.set(name, style, look_.text_width() - end - 2 * gutter);
    width = look_.text_width();
  }
  const double height = std::max(style.size + 12, Typesetter::extent(words).height + 4);
  galley.above = 9;
  galley.shape(Ink::What::frame, 0.6, 0.6, look_.text_width() - 1.2, height - 1.2, 1.2);
  if (block.hatch != Hatch::none) {
    // The higher the risk, the darker: thick lines close together, or thin ones far apart.
    const bool dense = block.hatch == Hatch::dense;
    const double step = style.size * (dense ? 0.6 : 0.9), thick = step * (dense ? 0.6 : 0.15);
    const double from = end + width + 2 * gutter;
    galley.hatch(1, 1, end, height - 2, step, thick);
    if (from < look_.text_width()) galley.hatch(from, 1, look_.text_width() - from - 1, height - 2, step, thick);
  }
  const double text_height = Typesetter::extent(words).height;
  galley.text(end + gutter, (height - text_height) / 2, words, "H2");
  galley.height = height + 2;
  galley.keeps_with_next = true;
  return galley;
}

Galley BlockSetter::set(const Heading& block) {
  Galley galley;
  galley.above = 9;
  const double height = galley.text(0, 0, type_.set(block.text, {look_.heading, 700}, look_.text_width()), "H2");
  galley.rule(0, height + 1.5, look_.text_width(), 1.2);
  galley.height = height + 3;
  galley.keeps_with_next = true;
  galley.outline = block.text;
  return galley;
}

Galley BlockSetter::set(const Paragraph& block) {
  Galley galley;
  const double x = block.warning ? 14 : 0;
  const double height = galley.text(x, look_.air, type_.set(with_pages(block.text), {look_.manner}, look_.text_width() - x));
  if (block.warning) galley.rule(0, look_.air, 5, height);
  galley.height = height + look_.air;
  return galley;
}

double BlockSetter::warnings(Galley& galley, const std::vector<Text>& all, double size, double x, double y) {
  for (const Text& warning : all) {
    const Layout words = type_.set(warning, {size}, look_.text_width() - x);
    const double height = galley.text(x, y, words);
    galley.rule(x - 12, y, 5, height);
    y += height + 5;
  }
  return y;
}

double BlockSetter::number_size(const std::string& label, bool branch) const { return branch || label.size() > 3 ? look_.branch_number : look_.number; }

/// How far a label that is too long for its column ("QB10.12") pushes itself and what stands behind it to the right.
double BlockSetter::pushed_by(const std::string& label, bool branch, double from, double right) {
  if (label.empty()) return 0;
  return std::max(0.0, from + Typesetter::extent(type_.set(label, {number_size(label, branch), 700}, -1)).width - right);
}

/// The number hangs left of `right` on the baseline of the act; a critical one stands white on a black disc.
double BlockSetter::number(Galley& galley, const std::string& label, bool critical, double right, double base,
                           bool branch) {
  const double size = number_size(label, branch);
  const Layout words = type_.set(label, {size, 700}, -1);
  const double width = Typesetter::extent(words).width;
  const double y = base - Typesetter::baseline(words);
  if (!critical) {
    galley.text(right - width, y, words, "Lbl");
    return 0;
  }
  const double disc = size * disc_size, wide = std::max(disc, width + size * 0.55);
  const double middle = base - size * disc_middle;
  galley.shape(Ink::What::disc, right - wide + 4, middle - disc / 2, wide, disc);
  galley.text(right + 4 - wide / 2 - width / 2, y, words, "Lbl", true);
  return middle + disc / 2;
}

double BlockSetter::clock(Galley& galley, const std::string& time, double right, double y) {
  const Layout words = type_.set(time, {look_.side + 1, 700}, -1);
  const Extent extent = Typesetter::extent(words);
  const double width = extent.width + 14, height = extent.height + 2;
  galley.shape(Ink::What::round_frame, right - width, y + 0.5, width - 0.5, height, 1.1);
  galley.text(right - width + 7, y + 1.5, words);
  return height + 3;
}

/// As wide as what stands in it, so that the act has the rest of the line.
double BlockSetter::side_needs(const Step& step) {
  double width = 0;
  const auto need = [&](const std::string& text, const Style& style, double more) {
    if (!text.empty()) width = std::max(width, Typesetter::extent(type_.set(text, style, -1)).width + more);
  };
  need(step.clock, {look_.side + 1, 700}, 15);
  need(step.critical ? captions_.critical : "", {look_.caps, 700, Align::end, 0.7}, 1);
  for (const std::string& note : step.side) need(note, {look_.side}, 1);
  return std::min(width, look_.side_width);
}

double BlockSetter::side_column(Galley& galley, const Step& step, double y) {
  const double right = look_.text_width(), x = right - look_.side_width;
  if (!step.clock.empty()) y += clock(galley, step.clock, right, y);
  if (step.critical) {
    y += galley.text(x, y, type_.set(captions_.critical, {look_.caps, 700, Align::end, 0.7}, look_.side_width));
  }
  for (const std::string& note : step.side) {
    y += galley.text(x, y, type_.set(note, {look_.side, 400, Align::end}, look_.side_width));
  }
  return y;
}

/// Without a side column: behind the act where it has one line and there is room, else below it. Returns by how much the step grows.
double BlockSetter::critical_word(Galley& galley, const Layout& act, double x, double base, double below) {
  const Layout word = type_.set(captions_.critical, {look_.caps, 700, Align::start, 0.7}, -1);
  const double width = Typesetter::extent(word).width;
  if (pango_layout_get_line_count(act.get()) > 1 || x + Typesetter::extent(act).width + 2 * gutter + width > look_.text_width())
    return galley.text(x, below, word, "LBody");
  galley.text(look_.text_width() - width, base - Typesetter::baseline(word), word, "LBody");
  return 0;
}

Galley BlockSetter::set(const Step& block) {
  Galley galley;
  galley.list_item = true;
  const double x = indent(block.level);
  const bool ticked = look_.tick > 0, small = block.level > 0 || block.aside;
  const double pushed = pushed_by(block.label, small, x + (ticked ? look_.tick + label_gap : 0), x + look_.number_right), body = x + look_.body_x + pushed;
  const bool has_side = look_.side_width > 0 && (!block.clock.empty() || block.critical || !block.side.empty());
  const double width = look_.text_width() - body - (has_side ? side_needs(block) + gutter : 0);
  double top = warnings(galley, block.warnings, look_.manner, body, look_.air);
  const Layout act = type_.set(with_pages(block.act), {block.aside ? look_.manner : look_.act}, width);
  // A disc that is higher than the line keeps below the rule of the block above.
  if (block.critical) top = std::max(top, disc_above * look_.number - Typesetter::baseline(act) + 1);
  const double base = top + Typesetter::baseline(act);
  double low =
      number(galley, block.label, block.critical, x + look_.number_right + pushed, base, small);
  if (ticked) {
    galley.shape(Ink::What::frame, x + 0.7, base - look_.act * 0.36 - look_.tick / 2, look_.tick, look_.tick, 1.3);
    low = std::max(low, base - look_.act * 0.36 + look_.tick / 2 + 1);
  }
  double y = top + galley.text(body, top, act, "LBody");
  if (!block.manner.empty()) y += galley.text(body, y, type_.set(block.manner, {look_.manner}, width), "LBody");
  if (look_.side_width == 0 && block.critical) y += critical_word(galley, act, body, base, y);
  const double side = has_side ? side_column(galley, block, top) : 0;
  finish(galley, block.level, std::max({y, side, low}) + look_.air, true);
  return galley;
}

Galley BlockSetter::set(const Frame& block) {
  Galley galley;
  // On a small face the label stands inside, so that the question has the whole width.
  const double frame_air = look_.small ? 3 : frame_air_of_paper;
  const double x = indent(block.level), pushed = look_.small ? 0 : pushed_by(block.label, true, x, x + look_.number_right - 4);
  const double left = look_.small ? x : x + look_.body_x + pushed - frame_air, width = look_.text_width() - left;
  const double inner = left + frame_air + 1, room = width - 2 * frame_air - 2;
  double y = look_.air + frame_air - 1;
  Text asked = with_pages(block.ask);
  if (look_.small) asked.insert(asked.begin(), {block.label + "  ", true, ""});
  const Layout ask = type_.set(asked, {look_.frame, 700}, room);
  if (!look_.small) number(galley, block.label, false, x + look_.number_right + pushed - 4, y + Typesetter::baseline(ask), true);
  y += galley.text(inner, y, ask) + 1;
  double key_width = 0;
  std::vector<Layout> keys;
  for (const FrameRow& row : block.rows) {
    keys.push_back(type_.set(row.key, {look_.frame, 700}, -1));
    key_width = std::max(key_width, Typesetter::extent(keys.back()).width + gutter);
  }
  for (std::size_t i = 0; i < block.rows.size(); ++i) {
    const double at = block.rows[i].key.empty() ? 0 : key_width;
    galley.text(inner, y, keys[i]);
    Text text = with_pages(block.rows[i].text);
    if (!block.rows[i].label.empty()) text.insert(text.begin(), {block.rows[i].label + "  ", true, ""});
    y += galley.text(inner + at, y, type_.set(text, {look_.frame}, room - at)) + 1.5;
  }
  y += frame_air - 1.5;
  galley.shape(Ink::What::corner_frame, left, look_.air, width - 0.7, y - look_.air, 1.2);
  finish(galley, block.level, y + look_.air, false);
  return galley;
}

Galley BlockSetter::set(const Notice& block) {
  Galley galley;
  const double left = indent(block.level), pushed = look_.small ? 0 : pushed_by(block.label, true, left, left + look_.number_right - 4);
  const double x = left + look_.body_x + pushed;
  Text text = with_pages(block.text);
  if (look_.small && !block.label.empty()) text.insert(text.begin(), {block.label + "  ", true, ""});
  const Layout words = type_.set(text, {look_.quiet}, look_.text_width() - x);
  if (!block.label.empty() && !look_.small)
    number(galley, block.label, false, x - look_.body_x + look_.number_right - 4, look_.air + Typesetter::baseline(words), true);
  const double height = galley.text(x, look_.air, words);
  finish(galley, block.level, height + look_.air + 2, false);
  galley.keeps_with_next = true;
  return galley;
}

Galley BlockSetter::set(const BranchMark& block) {
  Galley galley;
  const double x = indent(block.level);
  const double height = galley.text(x, 4, type_.set(block.text, {look_.quiet, 700}, look_.text_width() - x));
  finish(galley, block.level, height + 6, true);
  galley.keeps_with_next = true;
  return galley;
}

/// A breach is a reversed band; a box an outlined one. The word stands in both, so that neither hangs on its shade.
Galley BlockSetter::set(const BoxMark& block) {
  Galley galley;
  const double width = look_.text_width(), inset = look_.small ? 4 : 12, pad = look_.small ? 1 : 4;
  const std::string word = (block.breach ? captions_.breach : captions_.box) + " " + block.label;
  const Layout name =
      type_.set(Text{{word, true, ""}, {block.title.empty() ? "" : "  " + block.title, block.breach, ""}},
                {look_.small ? look_.heading : look_.heading + 1}, width - 2 * inset);
  // What opens the box stands beside its name where it fits, else below it, within the band.
  const Layout beside = type_.set(block.when, {look_.quiet}, -1);
  const Extent room = Typesetter::extent(beside), title = Typesetter::extent(name);
  const bool fits = title.width + room.width + 2 * inset + (look_.small ? 8 : 20) <= width;
  const Layout below = type_.set(block.when, {look_.quiet}, width - 2 * inset);
  const double band = title.height + 2 * pad + (fits ? 0 : Typesetter::extent(below).height);
  galley.above = look_.small ? 4 : 14;
  if (block.breach)
    galley.rule(0, 0, width, band);
  else
    galley.shape(Ink::What::frame, 1, 1, width - 2, band - 2, 2);
  galley.text(inset, pad, name, "H2", block.breach);
  if (fits) galley.text(width - inset - room.width, (band - room.height) / 2, beside, "P", block.breach);
  else galley.text(inset, pad + title.height, below, "P", block.breach);
  galley.height = band + (look_.small ? 1 : 3);
  galley.keeps_with_next = true;
  galley.outline = word + (block.title.empty() ? "" : ": " + block.title);
  return galley;
}

Galley BlockSetter::set(const EndMark& block) {
  if (block.stops) return stopping(block);
  Galley galley;
  const double x = indent(block.level) + look_.body_x;
  Text text = with_pages(block.text);
  text.insert(text.begin(), {look_.arrow(), false, ""});  // Noto Sans Math has no bold
  const double above = look_.small ? 1 : 5;
  const double height = galley.text(x, above, type_.set(text, {look_.frame}, look_.text_width() - x));
  finish(galley, block.level, height + 2 * above + 1, false);
  galley.rule(indent(block.level), galley.height - 1.2, look_.text_width() - indent(block.level), 1.2);
  return galley;
}

/// Nothing leads on from here: no arrow, and a frame as thick as a box's that shuts the words off from what stands below.
Galley BlockSetter::stopping(const EndMark& block) {
  Galley galley;
  const double left = indent(block.level) + look_.body_x - frame_air_of_paper, pad = frame_air_of_paper, above = 5;
  const double width = look_.text_width() - left;
  const double height = galley.text(left + pad, above + 3, type_.set(with_pages(block.text), {look_.frame}, width - 2 * pad));
  galley.shape(Ink::What::frame, left + 1, above, width - 2, height + 6, 2);
  finish(galley, block.level, height + 2 * above + 8, false);
  return galley;
}

// ------------------------------------------------------------------ script

double BlockSetter::caption(Galley& galley, const std::string& words, double x, double y, double width) {
  return galley.text(x, y, type_.set(words, {look_.caps, 700, Align::start, 1.0}, width));
}

/// A caption with its words on the same line; the words of all such captions begin at one edge.
double BlockSetter::beside(Galley& galley, const std::string& words, const Text& text, double size, double x, double y,
                           double width) {
  const auto caption_of = [&](const std::string& each) { return type_.set(each, {look_.caps, 700, Align::start, 1.0}, -1); };
  const auto wide = [&](const std::string& each) { return Typesetter::extent(caption_of(each)).width + look_.caps * 0.8; };
  const double column = std::max({look_.caps * 4.2, wide(captions_.hear), wide(captions_.act)});
  const Layout name = caption_of(words);
  const Layout body = type_.set(with_pages(text), {size}, width - column);
  const double gap = 2;
  galley.text(x, y + gap + Typesetter::baseline(body) - Typesetter::baseline(name), name);
  return gap + galley.text(x + column, y + gap, body, "LBody");
}

double BlockSetter::say_side(Galley& galley, const SayRow& row, double x, double width) {
  double y = look_.air;
  if (!row.say.empty()) {
    y += caption(galley, captions_.say, x, y, width);
    y += galley.text(x, y, type_.set("“" + row.say + "”", {look_.say, 600}, width), "LBody");
  }
  if (!row.hear.empty()) y += beside(galley, captions_.hear, Text{{"“" + row.hear + "”", false, ""}}, look_.act, x, y, width);
  if (!row.act.empty()) y += beside(galley, captions_.act, row.act, row.say.empty() ? look_.act + 1 : look_.act, x, y, width);
  for (const Text& remark : row.remarks) y += 3 + galley.text(x, y + 3, type_.set(remark, {look_.quiet}, width));
  return y;
}

double BlockSetter::look_side(Galley& galley, const SayRow& row, double x, double width) {
  double y = look_.air;
  if (row.critical) y += 2 + galley.text(x, y, type_.set(captions_.critical, {look_.caps, 700, Align::start, 1.0}, width));
  // The clock stands on the caption's line, at the edge of the face, where a thumb finds it.
  if (!row.clock.empty()) {
    const Layout time = type_.set(row.clock, {look_.side + 1, 700}, -1);
    const Layout words = type_.set(captions_.clock, {look_.caps, 700, Align::start, 1.0}, -1);
    const double edge = x + width, frame = Typesetter::extent(time).width + 14;
    clock(galley, row.clock, edge, y - 3);
    galley.text(edge - frame - Typesetter::extent(words).width - 5, y, words);
    if (row.look_for.empty()) y += 14;
  }
  if (!row.look_for.empty()) {
    y += caption(galley, captions_.look_for, x, y, width);
    y += (row.clock.empty() ? 0 : 4) +
         galley.text(x, y + (row.clock.empty() ? 0 : 4), type_.set(row.look_for, {look_.act}, width), "LBody");
  }
  if (!row.if_not.empty()) {
    y += 3 + caption(galley, captions_.if_not, x, y + 3, width);
    y += galley.text(x, y, type_.set("“" + row.if_not + "”", {look_.act}, width), "LBody");
  }
  return y;
}

Galley BlockSetter::set(const SayRow& block) {
  Galley galley;
  galley.list_item = true;
  const double x = indent(block.level), pushed = pushed_by(block.label, block.level > 0, x, x + look_.number_right), body = x + look_.body_x + pushed;
  const bool has_side = block.critical || !block.look_for.empty() || !block.clock.empty() || !block.if_not.empty();
  const double right = look_.text_width() - look_.side_width;
  const double width = has_side ? right - 2 * gutter - body : look_.text_width() - body;
  Galley rows;
  const double top = warnings(galley, block.warnings, look_.act, body, block.warnings.empty() ? 0 : look_.air);
  number(galley, block.label, block.critical, x + look_.number_right + pushed, top + look_.air + look_.number * 0.95,
         block.level > 0);
  const double said = say_side(rows, block, body, width);
  const double looked = has_side ? look_side(rows, block, right, look_.side_width) : 0;
  const double height = std::max({said, looked, look_.number * 1.7});
  for (Ink& ink : rows.inks) {
    ink.y += top;
    galley.inks.push_back(std::move(ink));
  }
  if (has_side) galley.rule(right - gutter, top + look_.air, 0.9, height - look_.air);
  finish(galley, block.level, top + height + look_.air, true);
  return galley;
}

}  // namespace stepward::emit::pdf
