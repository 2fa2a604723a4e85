#include "emit/pdf/paper.hpp"

namespace stepward::emit::pdf {

namespace {

constexpr double mm = 72.0 / 25.4;

Look card_look(double width, double height) {
  return {width, height, 12 * mm, 12 * mm, 11 * mm, 10.5 * mm, 22,     15, 12.5, 19, 16, 12,      13.5,
          14,    12.5,   10,      16,      9,       16,        7 * mm, 66, 75,   92, 15, 21 * mm, 6.5};
}

Look small_card_look(double width, double height) {
  return {width, height, 10.5 * mm, 10.5 * mm, 10.5 * mm, 10 * mm, 16,       13, 12, 16, 14, 12,      12,
          13,    12,     9.5,       14,        8,         13,      6.2 * mm, 50, 57, 66, 11, 18 * mm, 5.5};
}

Look script_look(double width, double height) {
  return {width, height, 20 * mm, 11 * mm, 10.5 * mm, 10 * mm, 17, 13, 12, 24,  17, 12,      13,
          13,    12,     9.5,     16,      8.5,       14,      0,  44, 54, 180, 12, 16 * mm, 6};
}

/// Ring-bound cards, A5 on the side: low faces, so everything but the spoken words is as tight as it may be.
Look low_script_look(double width, double height) {
  return {width, height, 20 * mm, 11 * mm, 10 * mm, 10 * mm, 14, 12.5, 12, 22,  15, 12,      12.5,
          12.5,  12,     9,       15.5,    7.5,     13,      0,  35,   42, 186, 11, 14 * mm, 4};
}

/// A breach card is found by its edge: a red band within the margin, and room between it and the words.
Look with_edge(SheetKind kind, Look look) {
  if (kind != SheetKind::breach) return look;
  look.edge = 6 * mm;
  look.left += 4 * mm;
  return look;
}

}  // namespace

std::optional<Paper> paper_of(std::string_view name) {
  if (name == "A4" || name == "a4") return Paper::a4;
  if (name == "A5" || name == "a5") return Paper::a5;
  if (name == "A5-landscape" || name == "a5-landscape") return Paper::a5_landscape;
  if (name == "letter" || name == "Letter") return Paper::letter;
  return std::nullopt;
}

Paper paper_for(SheetKind kind, Paper wanted) {
  return kind == SheetKind::script && wanted == Paper::a5 ? Paper::a5_landscape : wanted;
}

Look look_of(SheetKind kind, Paper paper) {
  const bool script = kind == SheetKind::script;
  switch (paper) {
    case Paper::a4: return script ? script_look(210 * mm, 297 * mm) : with_edge(kind, card_look(210 * mm, 297 * mm));
    case Paper::letter: return script ? script_look(612, 792) : with_edge(kind, card_look(612, 792));
    case Paper::a5: return script ? script_look(148 * mm, 210 * mm) : with_edge(kind, small_card_look(148 * mm, 210 * mm));
    case Paper::a5_landscape: return script ? low_script_look(210 * mm, 148 * mm) : with_edge(kind, small_card_look(210 * mm, 148 * mm));
  }
  return card_look(210 * mm, 297 * mm);
}

}  // namespace stepward::emit::pdf
