#include "emit/pdf/paper.hpp"

#include <algorithm>
#include <iterator>

namespace stepward::emit::pdf {

namespace {

constexpr double mm = 72.0 / 25.4;

Look card_look(double width, double height) {
  return {width, height, 12 * mm, 12 * mm, 11 * mm, 10.5 * mm, 22,     15, 12.5, 19, 16, 12,      14,
          14,    12.5,   11,      16,      9,       16,        7 * mm, 66, 75,   92, 15, 21 * mm, 6.5};
}

Look small_card_look(double width, double height) {
  return {width, height, 10.5 * mm, 10.5 * mm, 10.5 * mm, 10 * mm, 16,       13, 12, 16, 14, 12,      12,
          13,    12,     10.5,      14,        8,         13,      6.2 * mm, 50, 57, 66, 11, 18 * mm, 5.5};
}

Look script_look(double width, double height) {
  return {width, height, 20 * mm, 11 * mm, 10.5 * mm, 10 * mm, 17, 14, 12, 24,  17, 12,      14,
          14,    12,     10.5,    16,      8.5,       14,      0,  44, 54, 180, 12, 16 * mm, 6};
}

/// Ring-bound cards, A5 on the side: low faces, so everything but the spoken words is as tight as it may be.
Look low_script_look(double width, double height) {
  return {width, height, 20 * mm, 11 * mm, 10 * mm, 10 * mm, 14, 12.5, 12, 22,  15, 12,      12.5,
          12.5,  12,     10,      15.5,    7.5,     13,      0,  35,   42, 186, 11, 14 * mm, 4};
}

/// Read at 2 m: the acts at 1/200 of the distance, all else around them at no less than 16 minutes of arc (both with their sources in
/// tests/print/layout_rules_test.cpp). What is read with a finger on it, in the foot, stays small.
Look poster_look(double width, double height) {
  return {width, height, 15 * mm, 15 * mm, 13 * mm, 12 * mm, 34,  40, 37, 48,  48, 37,      37,
          37,    37,     37,      37,      12,      30,      0,   84, 98, 0,   20, 30 * mm, 5};
}

/// Held in the hand at reading distance: instructions 10 points, what every face must carry 7 points.
Look badge_look(double width, double height) {
  Look look = {width, height, 5 * mm, 5 * mm, 5 * mm, 5 * mm, 7.5, 10, 10, 10, 10, 10,      10,
               10,    10,     10,     10,     7,      7.5,    0,   26, 30, 56, 6,  12 * mm, 0.6};
  look.small = true;
  return look;
}

/// Large print: the same face, every measure as much larger as the sheet is.
Look enlarged(Look look, SheetSize size) {
  const double factor = std::min(size.width / look.width, size.height / look.height);
  for (double* measure : {&look.left, &look.right, &look.top, &look.bottom, &look.title, &look.act, &look.manner, &look.number, &look.branch_number, &look.side,
                          &look.frame, &look.heading, &look.quiet, &look.caps, &look.say, &look.foot, &look.page, &look.tick, &look.number_right, &look.body_x,
                          &look.side_width, &look.set_in, &look.code, &look.air, &look.edge}) {
    *measure *= factor;
  }
  look.width = size.width;
  look.height = size.height;
  return look;
}

/// A breach card is found by its edge: a red band within the margin, and room between it and the words.
Look with_edge(SheetKind kind, Look look) {
  if (kind != SheetKind::breach) return look;
  look.edge = 6 * mm;
  look.left += 4 * mm;
  return look;
}

struct NamedPaper {
  Paper paper;
  const char* name;
  SheetSize size;
};

constexpr NamedPaper papers[] = {{Paper::id1, "ID-1", {85.60 * mm, 53.98 * mm}},  {Paper::a5, "A5", {148 * mm, 210 * mm}},
                                 {Paper::a4, "A4", {210 * mm, 297 * mm}},         {Paper::letter, "Letter", {612, 792}},
                                 {Paper::a3, "A3", {297 * mm, 420 * mm}},         {Paper::tabloid, "Tabloid", {792, 1224}},
                                 {Paper::a5_landscape, "A5", {210 * mm, 148 * mm}}};

const NamedPaper& known(Paper paper) {
  return *std::find_if(std::begin(papers), std::end(papers), [&](const NamedPaper& each) { return each.paper == paper; });
}

bool same_letters(std::string_view a, std::string_view b) {
  const auto lower = [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; };
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [&](char x, char y) { return lower(x) == lower(y); });
}

Look script_look_of(Paper paper, SheetSize size) {
  if (paper == Paper::a5_landscape) return low_script_look(size.width, size.height);
  return script_look(size.width, size.height);
}

Look card_look_of(SheetKind kind, Paper paper, SheetSize size) {
  const bool small = paper == Paper::a5 || paper == Paper::a5_landscape;
  return with_edge(kind, small ? small_card_look(size.width, size.height) : card_look(size.width, size.height));
}

}  // namespace

std::optional<Paper> paper_of(std::string_view name) {
  if (same_letters(name, "A5-landscape")) return Paper::a5_landscape;
  for (const NamedPaper& each : papers) {
    if (same_letters(name, each.name)) return each.paper;
  }
  return std::nullopt;
}

std::string name_of(Paper paper) { return known(paper).name; }

SheetSize size_of(Paper paper) { return known(paper).size; }

std::vector<Paper> papers_for(SheetKind kind) {
  switch (kind) {
    case SheetKind::poster: return {Paper::a3, Paper::tabloid};
    case SheetKind::badge: return {Paper::id1};
    case SheetKind::review: return {Paper::a4, Paper::letter, Paper::a3, Paper::tabloid};
    case SheetKind::card:
    case SheetKind::script:
    case SheetKind::breach:
    case SheetKind::table: return {Paper::a5, Paper::a4, Paper::letter, Paper::a3, Paper::tabloid};
  }
  return {};
}

bool is_printed_on(SheetKind kind, Paper paper) {
  const std::vector<Paper> possible = papers_for(kind);
  const Paper standing = paper == Paper::a5_landscape ? Paper::a5 : paper;
  return std::find(possible.begin(), possible.end(), standing) != possible.end();
}

Paper default_paper(SheetKind kind) { return kind == SheetKind::poster ? Paper::a3 : kind == SheetKind::badge ? Paper::id1 : Paper::a4; }

Paper paper_for(SheetKind kind, Paper wanted) {
  return kind == SheetKind::script && wanted == Paper::a5 ? Paper::a5_landscape : wanted;
}

std::string listed(const std::vector<Paper>& all) {
  std::string list;
  for (std::size_t i = 0; i < all.size(); ++i) list += (i == 0 ? "" : i + 1 == all.size() ? " or " : ", ") + name_of(all[i]);
  return list;
}

Look look_of(SheetKind kind, Paper paper) {
  const SheetSize size = size_of(paper);
  if (kind == SheetKind::poster) return poster_look(size.width, size.height);
  if (kind == SheetKind::badge) return badge_look(size.width, size.height);
  if (paper == Paper::a3 || paper == Paper::tabloid) return enlarged(look_of(kind, paper == Paper::a3 ? Paper::a4 : Paper::letter), size);
  return kind == SheetKind::script ? script_look_of(paper, size) : card_look_of(kind, paper, size);
}

}  // namespace stepward::emit::pdf
