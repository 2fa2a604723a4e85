#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "emit/card/card.hpp"
#include "emit/document/check_words.hpp"
#include "emit/document/direction.hpp"
#include "example_papers.hpp"
#include "layout_rules.hpp"

namespace stepward::test {

using emit::SheetKind;
using namespace emit::pdf;

namespace {

constexpr double millimetre = 72.0 / 25.4;

/// ISO 216 (A3, A4, A5), ANSI/ASME Y14.1 in inches (Letter, Tabloid), ISO/IEC 7810 (ID-1): facts/reliability.md, 10.8.
SheetSize published_size(Paper paper) {
  switch (paper) {
    case Paper::a3: return {297 * millimetre, 420 * millimetre};
    case Paper::a4: return {210 * millimetre, 297 * millimetre};
    case Paper::a5: return {148 * millimetre, 210 * millimetre};
    case Paper::a5_landscape: return {210 * millimetre, 148 * millimetre};
    case Paper::letter: return {8.5 * 72, 11 * 72};
    case Paper::tabloid: return {11 * 72, 17 * 72};
    case Paper::id1: return {85.60 * millimetre, 53.98 * millimetre};
  }
  return {};
}

/// Letters fill the middle of their line: what is set closer than that touches.
Rectangle letters_of(const LaidText& text) {
  const double air = text.size * 0.3;
  return {text.where.left + 0.4, text.where.top + air, text.where.right - 0.4, text.where.bottom - air};
}

bool meet(const Rectangle& a, const Rectangle& b) { return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom; }

bool is_tick_box(const LaidMark& mark) { return mark.what == Mark::frame && std::abs(mark.where.width() - mark.where.height()) < 0.1; }

/// What head, foot and captions leave of any face.
double least_room(const LaidPaper& paper) { return 0.55 * paper.out.look.height; }

void look_at_texts(const std::vector<const LaidText*>& texts, std::size_t face, NotKept& broken) {
  for (std::size_t a = 0; a < texts.size(); ++a) {
    for (std::size_t b = a + 1; b < texts.size(); ++b) {
      if (meet(letters_of(*texts[a]), letters_of(*texts[b]))) broken.push_back(fmt::format("face {}: “{}” and “{}”", face, texts[a]->words, texts[b]->words));
    }
  }
}

}  // namespace

NotKept sheet_has_its_exact_size(const LaidPaper& paper) {
  const SheetSize wanted = published_size(paper_for(paper.sheet.kind, paper.paper));
  const Look& look = paper.out.look;
  if (std::abs(look.width - wanted.width) < 0.001 && std::abs(look.height - wanted.height) < 0.001) return {};
  return {fmt::format("{} x {} points instead of {} x {}", look.width, look.height, wanted.width, wanted.height)};
}

/// 10 mm and more, for laminating (own judgement; pouches leave 2 to 3 mm of film per side); 5 mm inside the trim of what is cut out (a print guide).
NotKept margins_are_kept(const LaidPaper& paper) {
  NotKept broken;
  const double margin = (paper.paper == Paper::id1 ? 5 : 10) * millimetre - 0.01;
  const Rectangle area{margin, margin, paper.out.look.width - margin, paper.out.look.height - margin};
  const auto is_inside = [&](const Rectangle& r) { return r.left >= area.left && r.right <= area.right && r.top >= area.top && r.bottom <= area.bottom; };
  for (std::size_t face = 0; face < paper.out.faces.size(); ++face) {
    for (const LaidPart& part : paper.out.faces[face].parts) {
      for (const LaidText& text : part.texts) {
        if (!is_inside(text.where)) broken.push_back(fmt::format("face {}: “{}”", face + 1, text.words));
      }
      for (const LaidMark& mark : part.marks) {
        if (!is_inside(mark.where)) broken.push_back(fmt::format("face {}: a mark at {:.1f}, {:.1f} to {:.1f}, {:.1f}", face + 1, mark.where.left, mark.where.top, mark.where.right, mark.where.bottom));
      }
    }
  }
  return broken;
}

/// 20 mm at the side where rings go (CAP 676 asks for a margin for binding and thumb; the figure is common practice).
NotKept scripts_have_room_for_rings(const LaidPaper& paper) {
  NotKept broken;
  if (paper.sheet.kind != SheetKind::script) return broken;
  const bool right = emit::reads_right_to_left(paper.sheet.control.language);
  for (const LaidFace& face : paper.out.faces) {
    for (const LaidPart& part : face.parts) {
      for (const LaidText& text : part.texts) {
        const double room = right ? paper.out.look.width - text.where.right : text.where.left;
        if (room < 20 * millimetre - 0.01) broken.push_back(fmt::format("“{}” is {:.1f} mm off the rings", text.words, room / millimetre));
      }
    }
  }
  return broken;
}

/// Each block stands on one face, once, in its order, between head and foot; what it holds lies within it.
NotKept nothing_is_split(const LaidPaper& paper) {
  NotKept broken;
  std::vector<int> seen(paper.sheet.blocks.size(), 0);
  std::size_t next = 0;
  for (std::size_t face = 0; face < paper.out.faces.size(); ++face) {
    double top = 0, foot = paper.out.look.height;
    for (const LaidPart& part : paper.out.faces[face].parts) {
      if (part.part == Part::head || part.part == Part::continued) top = std::max(top, part.where.bottom);
      if (part.part == Part::foot && part.where.top > top) foot = std::min(foot, part.where.top);
    }
    for (const LaidPart& part : paper.out.faces[face].parts) {
      if (part.part != Part::block) continue;
      if (part.where.top < top - 0.01 || part.where.bottom > foot + 0.01) broken.push_back(fmt::format("face {}: block {} runs out of its face", face + 1, part.block));
      for (const LaidText& text : part.texts) {
        if (letters_of(text).top < part.where.top || letters_of(text).bottom > part.where.bottom) broken.push_back(fmt::format("face {}: “{}” hangs out of its block", face + 1, text.words));
      }
      if (part.repeated) continue;
      if (part.block < next) broken.push_back(fmt::format("face {}: block {} is out of order", face + 1, part.block));
      next = part.block;
      ++seen[part.block];
    }
  }
  for (std::size_t i = 0; i < seen.size(); ++i) {
    if (seen[i] != 1) broken.push_back(fmt::format("block {} stands {} times", i, seen[i]));
  }
  return broken;
}

/// No part runs into the next, no words into other words, no words into a box to tick.
NotKept nothing_overlaps(const LaidPaper& paper) {
  NotKept broken;
  for (std::size_t face = 0; face < paper.out.faces.size(); ++face) {
    std::vector<const LaidText*> texts;
    const LaidPart* above = nullptr;
    for (const LaidPart& part : paper.out.faces[face].parts) {
      if (part.part != Part::foot) {
        if (above && part.where.top < above->where.bottom - 0.01) broken.push_back(fmt::format("face {}: two parts at {:.1f}", face + 1, part.where.top));
        above = &part;
      }
      for (const LaidText& text : part.texts) {
        texts.push_back(&text);
        for (const LaidMark& mark : part.marks) {
          if (is_tick_box(mark) && meet(letters_of(text), mark.where)) broken.push_back(fmt::format("face {}: “{}” and a box to tick", face + 1, text.words));
        }
      }
    }
    look_at_texts(texts, face + 1, broken);
  }
  return broken;
}

/// 6 mm and more (a gloved hand with a marker; own judgement), one for each step that is the reader's, and for each attempt or thing in a table.
NotKept boxes_take_a_gloved_marker(const LaidPaper& paper) {
  NotKept broken;
  for (const StandingBlock& standing : blocks_of(paper)) {
    std::vector<const LaidMark*> boxes;
    for (const LaidMark& mark : standing.part->marks) {
      if (is_tick_box(mark)) boxes.push_back(&mark);
    }
    std::size_t wanted = 0;
    const auto* step = std::get_if<emit::Step>(standing.block);
    if (step && (paper.sheet.kind == SheetKind::card || paper.sheet.kind == SheetKind::breach)) wanted = 1;
    if (const auto* row = std::get_if<emit::TableRow>(standing.block)) {
      const emit::Table& table = paper.sheet.tables[row->table];
      wanted = static_cast<std::size_t>(std::count_if(table.begin(), table.end(), [](const emit::Column& c) { return c.what == emit::Column::What::tick; }));
    }
    if (boxes.size() != wanted) broken.push_back(fmt::format("block {} has {} boxes instead of {}", standing.part->block, boxes.size(), wanted));
    for (const LaidMark* box : boxes) {
      if (box->where.width() < 6 * millimetre) broken.push_back(fmt::format("a box of {:.1f} mm", box->where.width() / millimetre));
    }
  }
  return broken;
}

/// Document control on every face; under A6 what the order of the project lists: number, version, review due, page, check words and code, and the caution.
NotKept every_face_says_what_it_is(const LaidPaper& paper) {
  NotKept broken;
  const emit::Control& control = paper.sheet.control;
  for (std::size_t face = 0; face < paper.out.faces.size(); ++face) {
    std::string said;
    bool has_code = false;
    for (const LaidPart& part : paper.out.faces[face].parts) {
      if (part.part != Part::head && part.part != Part::foot) continue;
      for (const LaidText& text : part.texts) said += squeezed(text.words) + "\n";
      for (const LaidMark& mark : part.marks) {
        // Its dark and light modules without the quiet zone: at least seven tenths of its side.
        const Rectangle& code = mark.where;
        has_code = has_code || (mark.what == Mark::square_code && code.width() > 0.7 * paper.out.look.code && std::abs(code.width() - code.height()) < 0.1);
      }
    }
    std::vector<std::string> wanted{control.number, control.version, control.check_words, control.caution, control.variant, emit::filled(paper.sheet.captions.review_due, control.review_due.empty() ? paper.sheet.captions.not_given : emit::date_words(control.review_due, paper.sheet.captions)),
                                    fmt::format("{} / {}", face + 1, paper.out.faces.size())};
    if (!paper.out.look.small) wanted.insert(wanted.end(), {control.title, control.status, control.owner, control.approver, control.verdict, control.reminder});
    for (const std::string& each : wanted) {
      if (said.find(squeezed(each)) == std::string::npos) broken.push_back(fmt::format("face {} lacks “{}”", face + 1, each));
    }
    if (!has_code) broken.push_back(fmt::format("face {} lacks its square code", face + 1));
  }
  return broken;
}

/// OVERDUE and SET ASIDE in the head of every face: white on a black band of its own, which no other words lie on; the reason beside the word
/// wherever a face is A6 or larger. (That a copy in grey keeps them is own judgement: black and white have no shade to lose.)
NotKept marks_stand_on_every_face(const LaidPaper& paper) {
  NotKept broken;
  for (std::size_t face = 0; face < paper.out.faces.size(); ++face) {
    for (const emit::FaceMark& mark : paper.sheet.control.marks) {
      const std::string wanted = squeezed(paper.out.look.small ? mark.word : mark.word + mark.why);
      bool stands = false;
      for (const LaidPart& part : paper.out.faces[face].parts) {
        if (part.part != Part::head) continue;
        for (const LaidText& text : part.texts) {
          if (!text.white || squeezed(text.words).find(wanted) == std::string::npos) continue;
          for (const LaidMark& band : part.marks) {
            const bool under = band.what == Mark::rule && band.shade == 0 && band.where.left <= text.where.left && band.where.right >= text.where.right &&
                               band.where.top <= text.where.top && band.where.bottom >= text.where.bottom;
            const bool alone = std::all_of(part.texts.begin(), part.texts.end(), [&](const LaidText& other) { return &other == &text || !meet(letters_of(other), band.where); });
            stands = stands || (under && alone);
          }
        }
      }
      if (!stands) broken.push_back(fmt::format("face {} lacks {}", face + 1, mark.word));
    }
  }
  return broken;
}

/// Where a breach of a badge card goes on behind a face, the face says so by an arrow and the number of the next; and no other face does.
NotKept next_faces_are_told(const LaidPaper& paper) {
  NotKept broken;
  if (paper.sheet.kind != SheetKind::badge) return broken;
  const auto all = blocks_of(paper);
  for (std::size_t face = 1; face < paper.out.faces.size(); ++face) {
    const auto first = std::find_if(all.begin(), all.end(), [&](const StandingBlock& each) { return each.face == face + 1; });
    const bool goes_on = first != all.end() && !std::holds_alternative<emit::BoxMark>(*first->block);
    const std::string arrow = squeezed("→ face " + std::to_string(face + 1));
    bool told = false;
    for (const LaidPart& part : paper.out.faces[face - 1].parts) {
      for (const LaidText& text : part.texts) {
        std::string words = squeezed(text.words);
        for (std::size_t at = words.find("\xC2\xA0"); at != std::string::npos; at = words.find("\xC2\xA0")) words.erase(at, 2);
        told = told || words == arrow;
      }
    }
    if (told != goes_on) broken.push_back(fmt::format("face {} {} that its breach goes on", face, goes_on ? "does not say" : "says"));
  }
  return broken;
}

/// Four words that are read out stand on one line: in the foot, on the sign-off page, on the recall list.
NotKept check_words_stand_on_one_line(const LaidPaper& paper) {
  NotKept broken;
  for (const LaidFace& face : paper.out.faces) {
    for (const LaidPart& part : face.parts) {
      for (const LaidText& text : part.texts) {
        const std::size_t wanted = emit::check_words_in(text.words).size();
        std::size_t whole = 0;
        for (const std::string& line : text.by_line) whole += emit::check_words_in(line).size();
        if (whole != wanted) broken.push_back(fmt::format("torn: “{}”", text.words));
      }
    }
  }
  return broken;
}

/// "Page" and "7" are one thing to look for: no line ends between them. The project's own judgement.
NotKept pages_stay_with_their_word(const LaidPaper& paper) {
  NotKept broken;
  const std::string& caption = paper.sheet.captions.page;
  const std::string word = caption.substr(0, caption.find_last_not_of(' ', caption.find('[') - 1) + 1);
  for (const LaidFace& face : paper.out.faces) {
    for (const LaidPart& part : face.parts) {
      for (const LaidText& text : part.texts) {
        for (std::size_t i = 0; i + 1 < text.by_line.size(); ++i) {
          const std::string line = text.by_line[i].substr(0, text.by_line[i].find_last_not_of(' ') + 1);
          const bool number_next = text.by_line[i + 1][0] >= '0' && text.by_line[i + 1][0] <= '9';
          const bool ends_so = number_next && line.size() > word.size() && line.compare(line.size() - word.size() - 1, std::string::npos, " " + word) == 0;
          if (ends_so) broken.push_back(fmt::format("torn: “{}”", text.words));
        }
      }
    }
  }
  return broken;
}

/// The title of a table's rows stands above them on every face that has some of them.
NotKept titles_stand_above_their_rows(const LaidPaper& paper) {
  NotKept broken;
  std::vector<std::string> titles;  // by block: that of its rows
  for (const emit::Block& block : paper.sheet.blocks) {
    const auto* notice = std::get_if<emit::Notice>(&block);
    const bool goes_on = std::holds_alternative<emit::TableRow>(block) && !titles.empty();
    titles.push_back(notice && notice->heads_rows ? emit::plain_text(notice->text) : goes_on ? titles.back() : std::string());
  }
  for (const LaidFace& face : paper.out.faces) {
    std::string said;
    for (const LaidPart& part : face.parts) {
      const bool is_row = part.part == Part::block && std::holds_alternative<emit::TableRow>(paper.sheet.blocks[part.block]);
      if (is_row && said.find(titles[part.block]) == std::string::npos) broken.push_back(fmt::format("“{}” does not stand above its rows", titles[part.block]));
      const bool may_say = part.part == Part::continued || (part.part == Part::block && !is_row);
      if (may_say) for (const LaidText& text : part.texts) said += text.words + "\n";
    }
  }
  return broken;
}

/// Rows that hang together (a question and its answer) stand on one face, as long as one holds them.
NotKept answers_stand_under_their_question(const LaidPaper& paper) {
  NotKept broken;
  const auto all = blocks_of(paper);
  const auto where = [&](std::size_t block) { return std::find_if(all.begin(), all.end(), [&](const StandingBlock& each) { return each.part->block == block && !each.part->repeated; }); };
  for (std::size_t begin = 0; begin < paper.sheet.blocks.size();) {
    std::size_t end = begin;
    double height = 0;
    const auto keeps = [&](std::size_t i) {
      const auto* row = std::get_if<emit::TableRow>(&paper.sheet.blocks[i]);
      return row && row->keeps_with_next;
    };
    for (; end < paper.sheet.blocks.size() && keeps(end); ++end) height += where(end) == all.end() ? 0 : where(end)->part->where.height();
    if (end > begin && end < paper.sheet.blocks.size()) {
      height += where(end)->part->where.height();
      const bool torn = where(begin)->face != where(end)->face;
      if (torn && height < least_room(paper)) broken.push_back(fmt::format("“{}” is parted from what it leads to", emit::label_of(paper.sheet.blocks[begin])));
    }
    begin = end + 1;
  }
  return broken;
}

/// On a competency sheet a question of a breach stands with each of its answers, and an end with the step in front of it, as on the card.
NotKept answers_are_cut_between_steps(const LaidPaper& paper) {
  NotKept broken;
  if (paper.what != "competency") return broken;
  const auto stand_together = [&](const std::string& one, const std::string& other) {
    for (const LaidFace& face : paper.out.faces) for (const LaidPart& part : face.parts) for (const LaidText& text : part.texts) {
      const std::string words = squeezed(text.words);
      if (words.find(squeezed(one)) != std::string::npos && words.find(squeezed(other)) != std::string::npos) return;
    }
    broken.push_back(fmt::format("“{}” and “{}” do not stand in one row", one, other));
  };
  bool asked = false;
  std::string step;
  for (const emit::Block& block : emit::card_blocks(paper.origin->source())) {
    if (const auto* mark = std::get_if<emit::BoxMark>(&block)) asked = mark->breach;
    const auto* frame = asked ? std::get_if<emit::Frame>(&block) : nullptr;
    for (const emit::FrameRow& row : frame ? frame->rows : std::vector<emit::FrameRow>()) stand_together(frame->label + "  " + emit::plain_text(frame->ask), (row.key.empty() ? row.label + " " : row.key + ": ") + emit::plain_text(row.text));
    const auto* end = asked ? std::get_if<emit::EndMark>(&block) : nullptr;
    if (end && !step.empty()) stand_together(step, emit::plain_text(end->text));
    const auto* told = std::get_if<emit::Step>(&block);
    step = told ? told->label + "  " + emit::plain_text(told->act) : "";
  }
  return broken;
}

/// Alone on a face an end is read as all that the face asks for: it stands under the step that leads to it, as long as a face holds both. (Those
/// of a badge card often do not; there an arrow leads from one to the next.)
NotKept ends_stand_with_their_step(const LaidPaper& paper) {
  NotKept broken;
  if (paper.sheet.kind == SheetKind::badge) return broken;
  const auto all = blocks_of(paper);
  for (const StandingBlock& end : all) {
    if (end.part->repeated || end.part->block == 0 || !std::holds_alternative<emit::EndMark>(*end.block)) continue;
    std::size_t before = end.part->block - 1;
    if (before > 0 && std::holds_alternative<emit::ZoneBand>(paper.sheet.blocks[before])) --before;
    const auto step = std::find_if(all.begin(), all.end(), [&](const StandingBlock& each) { return each.part->block == before && !each.part->repeated; });
    const bool leads = step != all.end() && (std::holds_alternative<emit::Step>(*step->block) || std::holds_alternative<emit::SayRow>(*step->block));
    const bool fits = leads && step->part->where.height() + end.part->where.height() < least_room(paper);
    if (fits && step->face != end.face) broken.push_back(fmt::format("face {}: an end without its step {}", end.face, emit::label_of(*step->block)));
  }
  return broken;
}

}  // namespace stepward::test
