#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "emit/pdf/typesetter.hpp"
#include "layout_rules.hpp"

namespace stepward::test {

using emit::SheetKind;
using namespace emit::pdf;

namespace {

bool is_caption(const LaidPaper& paper, const LaidText& text) {
  const emit::Captions& c = paper.sheet.captions;
  const std::string* captions[] = {&c.critical, &c.say, &c.hear, &c.act, &c.clock, &c.look_for, &c.if_not};
  return text.tag == "TH" || std::any_of(std::begin(captions), std::end(captions), [&](const std::string* each) { return *each == text.words; });
}

/// What is read while it is done: the act, what is said, heard and looked for, and questions.
bool is_main(const emit::Block& block, const LaidText& text, double largest) {
  if (const auto* step = std::get_if<emit::Step>(&block)) return !step->aside && text.tag == "LBody" && text.size >= largest - 0.01;
  if (std::holds_alternative<emit::SayRow>(block)) return text.tag == "LBody";
  return std::holds_alternative<emit::Frame>(block);
}

double largest_body(const LaidPart& part) {
  double largest = 0;
  for (const LaidText& text : part.texts) {
    if (text.tag == "LBody") largest = std::max(largest, text.size);
  }
  return largest;
}

/// Body 14 points by default, which gives an x-height of 0.10 in (Degani 1992, NASA CR-177605; 13.77 points for a face of x-height 0.523), warning
/// under 12, error under 10 (CAP 676 issue 3: about 12, at least 10). A5 has 12. Faces under A6: 10 (own judgement with CAP 676's least).
struct Least { double main = 14, other = 12, caption = 10, furniture = 7; };

Least least_for(const LaidPaper& paper) {
  if (paper.sheet.kind == SheetKind::badge) return {10, 10, 10, 7};
  if (paper.sheet.kind == SheetKind::poster) return {32, 32, 32, 7};
  return paper.paper == Paper::a5 ? Least{12, 12, 10, 7} : Least{};
}

/// The height of a capital, in millimetres, as the font draws it.
double capital_height(double size) {
  Faults faults;
  Typesetter type(faults);
  PangoRectangle ink;
  pango_layout_get_extents(type.set(std::string("H"), {size}, -1).get(), &ink, nullptr);
  return static_cast<double>(ink.height) / PANGO_SCALE * 25.4 / 72;
}

}  // namespace

std::vector<StandingBlock> blocks_of(const LaidPaper& paper) {
  std::vector<StandingBlock> all;
  for (std::size_t face = 0; face < paper.out.faces.size(); ++face) {
    for (const LaidPart& part : paper.out.faces[face].parts) {
      if (part.part == Part::block) all.push_back({face + 1, &part, &paper.sheet.blocks[part.block]});
    }
  }
  return all;
}

NotKept type_is_large_enough(const LaidPaper& paper) {
  NotKept broken;
  const Least least = least_for(paper);
  const auto look_at = [&](const LaidText& text, double wanted) {
    if (text.size < wanted - 0.01) broken.push_back(fmt::format("“{}” has {} points instead of {}", text.words, text.size, wanted));
  };
  for (const StandingBlock& standing : blocks_of(paper)) {
    const double largest = largest_body(*standing.part);
    for (const LaidText& text : standing.part->texts) {
      look_at(text, is_caption(paper, text) ? least.caption : is_main(*standing.block, text, largest) ? least.main : least.other);
    }
  }
  for (const LaidFace& face : paper.out.faces) {
    for (const LaidPart& part : face.parts) {
      for (const LaidText& text : part.texts) look_at(text, part.part == Part::continued ? least.other : least.furniture);
    }
  }
  return broken;
}

/// The gap between lines is 25 to 33 percent of the size (Degani 1992, NASA CR-177605). Noto Sans only: letters of other scripts are taller,
/// and have at least as much.
NotKept lines_have_air(const LaidPaper& paper) {
  NotKept broken;
  for (const LaidFace& face : paper.out.faces) {
    for (const LaidPart& part : face.parts) {
      for (const LaidText& text : part.texts) {
        if (text.lines < 2) continue;
        const double gap = text.pitch / text.size - 1;
        const bool plain = text.families == std::vector<std::string>{"Noto Sans"};
        if (gap < 0.25 || (plain && gap > 0.33)) broken.push_back(fmt::format("“{}” has {:.1f} percent between its lines", text.words, 100 * gap));
      }
    }
  }
  return broken;
}

/// Sans serif (CAP 676; Degani 1992). Every family that may be used is of one design.
NotKept letters_have_no_serifs(const LaidPaper& paper) {
  NotKept broken;
  for (const LaidFace& face : paper.out.faces) {
    for (const LaidPart& part : face.parts) {
      for (const LaidText& text : part.texts) {
        for (const std::string& family : text.families) {
          if (family.rfind("Noto Sans", 0) != 0) broken.push_back(fmt::format("“{}” is set in {}", text.words, family));
        }
        if (text.families.empty() && !text.words.empty() && text.words != " ") broken.push_back("no family for “" + text.words + "”");
      }
    }
  }
  return broken;
}

/// At 2 m: acts at 1/200 of the distance (FAA's advice; CAP 676's 12 points at 600 mm are the same within 1.4 percent), that is 10 mm; all else around them
/// at 16 minutes of arc and more (least of ISO 9241-3), h = 2 d tan(a/2) = 9.308 mm. The figures are those of facts/reliability.md, 10.4.
NotKept poster_is_read_at_two_metres(const LaidPaper& paper) {
  NotKept broken;
  if (paper.sheet.kind != SheetKind::poster) return broken;
  constexpr double distance = 2000, minute = 3.14159265358979323846 / 180 / 60;
  const double act = distance / 200, least = 2 * distance * std::tan(8 * minute);
  for (const StandingBlock& standing : blocks_of(paper)) {
    const double largest = largest_body(*standing.part);
    for (const LaidText& text : standing.part->texts) {
      const bool is_act = std::holds_alternative<emit::Step>(*standing.block) && (text.tag == "Lbl" || (text.tag == "LBody" && text.size >= largest - 0.01));
      const double high = capital_height(text.size), wanted = is_act ? act : least;
      if (high < wanted) broken.push_back(fmt::format("capitals of “{}” are {:.2f} mm high instead of {:.2f}", text.words, high, wanted));
      if (text.tag == "Lbl" && text.size < 48) broken.push_back(fmt::format("the number {} has {} points instead of 48", text.words, text.size));
    }
  }
  return broken;
}

}  // namespace stepward::test
