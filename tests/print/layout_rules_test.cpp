// Every layout rule on every paper of the example and of protocols of the library, on two sizes each; and for every rule a paper
// on which it is broken, so that each of them can fail.
#include <doctest/doctest.h>

#include <functional>
#include <set>

#include "emit/document/check_words.hpp"
#include "emit/sign_off/sign_off_page.hpp"
#include "layout_rules.hpp"

using namespace stepward;
using namespace stepward::test;
using namespace stepward::emit::pdf;

namespace {

void holds_on_all(LayoutRule rule) {
  REQUIRE(laid_papers().size() > 100);
  for (const LaidPaper& paper : laid_papers()) {
    const NotKept broken = rule(paper);
    for (std::size_t i = 0; i < broken.size() && i < 3; ++i) FAIL_CHECK(paper.name() << ": " << broken[i]);
  }
}

using Spoil = std::function<void(LaidPaper&)>;

/// The rule is kept on this paper, and not any more once it is spoilt.
void fails_when(LayoutRule rule, const std::string& what, Paper size, const Spoil& spoil) {
  LaidPaper paper = laid(what, size);
  CHECK(rule(paper).empty());
  spoil(paper);
  CHECK_FALSE(rule(paper).empty());
}

/// The first part whose block is of this kind and fits.
template <class Kind>
LaidPart& part_with(LaidPaper& paper, const std::function<bool(const Kind&)>& fits = [](const Kind&) { return true; }) {
  for (LaidFace& face : paper.out.faces) {
    for (LaidPart& part : face.parts) {
      const auto* block = part.part == Part::block ? std::get_if<Kind>(&paper.sheet.blocks[part.block]) : nullptr;
      if (block && fits(*block)) return part;
    }
  }
  FAIL("no such block");
  return paper.out.faces.front().parts.front();
}

LaidText& text_tagged(LaidPart& part, const std::string& tag) {
  for (LaidText& text : part.texts) {
    if (text.tag == tag) return text;
  }
  FAIL("no text is tagged " << tag);
  return part.texts.front();
}

LaidMark& mark_of(LaidPart& part, Mark what) {
  for (LaidMark& mark : part.marks) {
    if (mark.what == what) return mark;
  }
  FAIL("no such mark");
  return part.marks.front();
}

void move_by(Rectangle& where, double x, double y) {
  where = {where.left + x, where.top + y, where.right + x, where.bottom + y};
}

void move_by(LaidPart& part, double x, double y) {
  move_by(part.where, x, y);
  for (LaidText& text : part.texts) move_by(text.where, x, y);
  for (LaidMark& mark : part.marks) move_by(mark.where, x, y);
}

void replace(std::string& text, const std::string& what, const std::string& by) {
  const std::size_t at = text.find(what);
  REQUIRE(at != std::string::npos);
  text.replace(at, what.size(), by);
}

bool is_critical(const emit::Step& step) { return step.critical; }
bool has_clock(const emit::Step& step) { return !step.clock.empty(); }

}  // namespace

TEST_CASE("layout: body type is 14 points and more, on A5 12, on ID-1 10, nothing is under 10, what stands on every face not under 7") {
  holds_on_all(type_is_large_enough);
  fails_when(type_is_large_enough, "card", Paper::a4, [](LaidPaper& p) { text_tagged(part_with<emit::Step>(p), "LBody").size = 13; });
  fails_when(type_is_large_enough, "script", Paper::a5, [](LaidPaper& p) { text_tagged(part_with<emit::SayRow>(p), "LBody").size = 11.5; });
  fails_when(type_is_large_enough, "badge", Paper::id1, [](LaidPaper& p) { text_tagged(part_with<emit::Step>(p), "LBody").size = 9; });
  fails_when(type_is_large_enough, "badge", Paper::id1, [](LaidPaper& p) { p.out.faces[0].parts.back().texts[0].size = 6.5; });
  fails_when(type_is_large_enough, "kit", Paper::a4, [](LaidPaper& p) { text_tagged(part_with<emit::TableRow>(p), "TD").size = 11; });
}

TEST_CASE("layout: between lines lie 25 to 33 percent of the type size") {
  holds_on_all(lines_have_air);
  const auto set_gap = [](double gap) {
    return [gap](LaidPaper& p) {
      for (LaidText& text : p.out.faces[0].parts.back().texts) text.pitch = text.size * (1 + gap);
      for (LaidPart& part : p.out.faces[0].parts) for (LaidText& text : part.texts) text.pitch = text.size * (1 + gap);
    };
  };
  fails_when(lines_have_air, "card", Paper::a4, set_gap(0.2));
  fails_when(lines_have_air, "card", Paper::a4, set_gap(0.4));
}

TEST_CASE("layout: one sans serif design") {
  holds_on_all(letters_have_no_serifs);
  fails_when(letters_have_no_serifs, "card", Paper::a4, [](LaidPaper& p) { text_tagged(part_with<emit::Step>(p), "LBody").families = {"Noto Serif"}; });
}

TEST_CASE("layout: the poster is read at two metres") {
  holds_on_all(poster_is_read_at_two_metres);
  fails_when(poster_is_read_at_two_metres, "poster", Paper::a3, [](LaidPaper& p) { text_tagged(part_with<emit::Step>(p), "LBody").size = 39; });
  fails_when(poster_is_read_at_two_metres, "poster", Paper::a3, [](LaidPaper& p) { part_with<emit::Heading>(p).texts[0].size = 36; });
  fails_when(poster_is_read_at_two_metres, "poster", Paper::tabloid, [](LaidPaper& p) { text_tagged(part_with<emit::Step>(p), "Lbl").size = 47; });
}

TEST_CASE("layout: sheets have their exact sizes") {
  holds_on_all(sheet_has_its_exact_size);
  fails_when(sheet_has_its_exact_size, "badge", Paper::id1, [](LaidPaper& p) { p.out.look.width = 85.6; });
}

TEST_CASE("layout: nothing stands nearer to the edge than 10 mm, on ID-1 5 mm") {
  holds_on_all(margins_are_kept);
  fails_when(margins_are_kept, "card", Paper::a4, [](LaidPaper& p) { move_by(part_with<emit::Step>(p), -8, 0); });
  fails_when(margins_are_kept, "kit", Paper::a4, [](LaidPaper& p) { p.out.faces[0].parts.back().texts[0].where.right = p.out.look.width - 20; });
  fails_when(margins_are_kept, "badge", Paper::id1, [](LaidPaper& p) { move_by(p.out.faces[0].parts.front(), 0, -1); });
}

TEST_CASE("layout: scripts leave 20 mm for rings") {
  holds_on_all(scripts_have_room_for_rings);
  fails_when(scripts_have_room_for_rings, "script", Paper::a4, [](LaidPaper& p) { move_by(part_with<emit::SayRow>(p), -40, 0); });
}

TEST_CASE("layout: steps and boxes stand whole on one face, in their order") {
  holds_on_all(nothing_is_split);
  fails_when(nothing_is_split, "card", Paper::a4, [](LaidPaper& p) { move_by(p.out.faces[1].parts[3], 0, 700); });
  fails_when(nothing_is_split, "card", Paper::a4, [](LaidPaper& p) { part_with<emit::Frame>(p).texts.back().where.bottom += 60; });
  fails_when(nothing_is_split, "card", Paper::a4, [](LaidPaper& p) { p.out.faces[2].parts.push_back(part_with<emit::Step>(p)); });
  fails_when(nothing_is_split, "script", Paper::a5, [](LaidPaper& p) { p.out.faces[1].parts.erase(p.out.faces[1].parts.begin() + 2); });
}

TEST_CASE("layout: nothing lies on anything else") {
  holds_on_all(nothing_overlaps);
  fails_when(nothing_overlaps, "card", Paper::a4, [](LaidPaper& p) { move_by(part_with<emit::Frame>(p), 0, -12); });
  fails_when(nothing_overlaps, "script", Paper::a4, [](LaidPaper& p) { text_tagged(part_with<emit::SayRow>(p, [](const emit::SayRow& row) { return !row.look_for.empty(); }), "LBody").where.right += 200; });
  fails_when(nothing_overlaps, "card", Paper::a4, [](LaidPaper& p) { move_by(text_tagged(part_with<emit::Step>(p), "LBody").where, -70, 0); });
}

TEST_CASE("layout: boxes to tick are 6 mm and more, and each step has one, whoever does it") {
  holds_on_all(boxes_take_a_gloved_marker);
  const auto own = [](const emit::Step& step) { return !step.aside; };
  const auto others = [](const emit::Step& step) { return step.aside; };
  fails_when(boxes_take_a_gloved_marker, "card", Paper::a4, [&](LaidPaper& p) { part_with<emit::Step>(p, others).marks.clear(); });
  fails_when(boxes_take_a_gloved_marker, "card", Paper::a5, [&](LaidPaper& p) {
    Rectangle& box = mark_of(part_with<emit::Step>(p, own), Mark::frame).where;
    box.right = box.left + 5 * 72 / 25.4;
    box.bottom = box.top + 5 * 72 / 25.4;
  });
  fails_when(boxes_take_a_gloved_marker, "breach", Paper::a4, [&](LaidPaper& p) { part_with<emit::Step>(p, own).marks.clear(); });
  fails_when(boxes_take_a_gloved_marker, "competency", Paper::a4, [](LaidPaper& p) { part_with<emit::TableRow>(p, [](const emit::TableRow& row) { return !row.label.empty(); }).marks.pop_back(), part_with<emit::TableRow>(p, [](const emit::TableRow& row) { return !row.label.empty(); }).marks.clear(); });
}

TEST_CASE("layout: every face says which document, version, page and check words it has") {
  holds_on_all(every_face_says_what_it_is);
  for (const char* what : {"card", "poster", "badge", "dilution"}) {
    const Paper size = std::string(what) == "poster" ? Paper::a3 : std::string(what) == "badge" ? Paper::id1 : Paper::a4;
    fails_when(every_face_says_what_it_is, what, size, [](LaidPaper& p) {
      for (LaidPart& part : p.out.faces.back().parts) if (part.part == Part::foot) part.texts.clear();
    });
    fails_when(every_face_says_what_it_is, what, size, [](LaidPaper& p) {
      for (LaidPart& part : p.out.faces.back().parts) if (part.part == Part::foot) part.marks.clear();
    });
    fails_when(every_face_says_what_it_is, what, size, [](LaidPaper& p) { p.out.faces.push_back(p.out.faces.back()); });
  }
}

TEST_CASE("layout: OVERDUE and SET ASIDE stand on every face, white on a band of their own") {
  holds_on_all(marks_stand_on_every_face);
  std::set<std::string> kinds;
  for (const LaidPaper& paper : laid_papers()) {
    if (paper.sheet.control.marks.empty()) continue;
    kinds.insert(paper.what);
    const auto is_mark = [](const LaidText& text) { return text.words.find("OVERDUE") != std::string::npos; };
    const auto spoilt = [&](const std::function<void(LaidPart&, LaidText&)>& spoil) {
      LaidPaper copy = paper;
      for (LaidPart& part : copy.out.faces.back().parts) for (LaidText& text : part.texts) if (part.part == Part::head && is_mark(text)) spoil(part, text);
      return !marks_stand_on_every_face(copy).empty();
    };
    CAPTURE(paper.name());
    CHECK(spoilt([](LaidPart&, LaidText& text) { text.words = ""; }));
    CHECK(spoilt([](LaidPart&, LaidText& text) { text.white = false; }));
    CHECK(spoilt([](LaidPart& part, LaidText&) { part.marks.clear(); }));
    CHECK(spoilt([](LaidPart& part, LaidText& text) { LaidText other = text; other.words = "other words"; part.texts.push_back(other); }));
  }
  CHECK(kinds.size() == 9);
}

TEST_CASE("layout: a badge card tells on which face a breach goes on") {
  holds_on_all(next_faces_are_told);
  const auto say_instead = [](const std::string& words) {
    return [words](LaidPaper& p) {
      for (LaidFace& face : p.out.faces) for (LaidPart& part : face.parts) for (LaidText& text : part.texts) {
        if (text.words.find("→") == 0 && text.words.find("face") != std::string::npos) text.words = words;
      }
    };
  };
  fails_when(next_faces_are_told, "badge", Paper::id1, say_instead("→ page 2"));
  fails_when(next_faces_are_told, "badge", Paper::id1, say_instead(""));
}

TEST_CASE("layout: check words are never broken over two lines") {
  holds_on_all(check_words_stand_on_one_line);
  for (const char* what : {"card", "script", "sign-off"}) {
    fails_when(check_words_stand_on_one_line, what, Paper::a5, [](LaidPaper& p) {
      for (LaidFace& face : p.out.faces) for (LaidPart& part : face.parts) for (LaidText& text : part.texts) {
        const std::size_t dash = text.by_line.empty() ? std::string::npos : text.by_line.back().rfind(" – ");
        if (dash == std::string::npos || emit::check_words_in(text.by_line.back()).empty()) continue;
        const std::string line = text.by_line.back();
        text.by_line.back() = line.substr(0, dash);
        text.by_line.push_back(line.substr(dash + 1));
      }
    });
  }
}

TEST_CASE("layout: questions of a competency sheet stand with their answers") {
  holds_on_all(answers_stand_under_their_question);
  const auto keeps = [](const LaidPaper& p, std::size_t block) {
    const auto* row = std::get_if<emit::TableRow>(&p.sheet.blocks[block]);
    return row && row->keeps_with_next;
  };
  fails_when(answers_stand_under_their_question, "competency", Paper::a4, [&](LaidPaper& p) {
    for (std::size_t face = 0; face < p.out.faces.size(); ++face) {
      const std::size_t other = face > 0 ? face - 1 : 1;
      auto& parts = p.out.faces[face].parts;
      for (auto part = parts.begin(); part != parts.end(); ++part) {
        const auto* row = part->part == Part::block ? std::get_if<emit::TableRow>(&p.sheet.blocks[part->block]) : nullptr;
        if (!row || row->keeps_with_next || !keeps(p, part->block - 1)) continue;
        p.out.faces[other].parts.push_back(*part);
        parts.erase(part);
        return;
      }
    }
  });
}

TEST_CASE("layout: a competency sheet cuts the answer to a breach between steps only") {
  holds_on_all(answers_are_cut_between_steps);
  const auto cut_in_front_of = [](const std::string& words) {
    return [words](LaidPaper& p) {
      for (LaidFace& face : p.out.faces) for (LaidPart& part : face.parts) {
        const auto found = std::find_if(part.texts.begin(), part.texts.end(), [&](const LaidText& text) { return text.words.find(words) != std::string::npos; });
        if (part.part != Part::block || found == part.texts.end()) continue;
        LaidText rest = *found;
        rest.words = rest.words.substr(rest.words.find(words));
        found->words.resize(found->words.find(words));
        p.out.faces.back().parts.back().texts.push_back(rest);
        return;
      }
      FAIL("nothing says " << words);
    };
  };
  for (const char* words : {"NO: go on at", "YES: step", "STOP HERE."}) fails_when(answers_are_cut_between_steps, "competency", Paper::a4, cut_in_front_of(words));
}

TEST_CASE("layout: an end stands on the face of its step") {
  holds_on_all(ends_stand_with_their_step);
  for (const char* what : {"card", "script", "breach"}) {
    fails_when(ends_stand_with_their_step, what, Paper::a4, [](LaidPaper& p) {
      const auto is_step = [&](std::size_t block) { return std::holds_alternative<emit::Step>(p.sheet.blocks[block]) || std::holds_alternative<emit::SayRow>(p.sheet.blocks[block]); };
      for (std::size_t face = 0; face + 1 < p.out.faces.size(); ++face) {
        auto& parts = p.out.faces[face].parts;
        for (auto part = parts.begin(); part != parts.end(); ++part) {
          if (part->part != Part::block || part->block == 0 || !std::holds_alternative<emit::EndMark>(p.sheet.blocks[part->block]) || !is_step(part->block - 1)) continue;
          auto& next = p.out.faces[face + 1].parts;
          next.insert(std::find_if(next.begin(), next.end(), [](const LaidPart& each) { return each.part == Part::block && !each.repeated; }), *part);
          return void(parts.erase(part));
        }
      }
      FAIL("no end stands under a step");
    });
  }
}

TEST_CASE("layout: questions stand directly under their step") {
  holds_on_all(questions_stand_under_their_step);
  const auto spoil_frame = [](LaidPaper& p, const std::function<void(LaidPart&)>& spoil) {
    for (std::size_t i = 1; i < p.sheet.blocks.size(); ++i) {
      if (!std::holds_alternative<emit::Frame>(p.sheet.blocks[i]) || !std::holds_alternative<emit::Step>(p.sheet.blocks[i - 1])) continue;
      for (LaidFace& face : p.out.faces) for (LaidPart& part : face.parts) if (part.part == Part::block && part.block == i) spoil(part);
      return;
    }
  };
  fails_when(questions_stand_under_their_step, "card", Paper::a4, [&](LaidPaper& p) { spoil_frame(p, [](LaidPart& part) { move_by(part, 0, 40); }); });
  fails_when(questions_stand_under_their_step, "card", Paper::a4, [&](LaidPaper& p) { spoil_frame(p, [](LaidPart& part) { part.part = Part::foot; }); });
}

TEST_CASE("layout: loops say how often at most, and what then") {
  holds_on_all(loops_say_limit_and_fallback);
  for (const char* what : {"card", "script"}) {
    fails_when(loops_say_limit_and_fallback, what, Paper::a4, [](LaidPaper& p) {
      for (LaidFace& face : p.out.faces) for (LaidPart& part : face.parts) for (LaidText& text : part.texts) {
        const std::size_t at = text.words.find(" times; after that");
        if (at != std::string::npos) text.words[at - 1] = '7';
      }
    });
    fails_when(loops_say_limit_and_fallback, what, Paper::a4, [](LaidPaper& p) {
      for (LaidFace& face : p.out.faces) for (LaidPart& part : face.parts) for (LaidText& text : part.texts) {
        const std::size_t at = text.words.find("after that:");
        if (at != std::string::npos) text.words.resize(at);
      }
    });
  }
}

TEST_CASE("layout: what sends the reader on names a step that is there, the step behind the question, and its page") {
  holds_on_all(references_lead_there);
  const auto spoil_words = [](LaidPaper& p, const std::string& what, const std::string& by) {
    for (LaidFace& face : p.out.faces) for (LaidPart& part : face.parts) {
      if (part.part != Part::block) continue;
      for (LaidText& text : part.texts) if (text.words.find(what) != std::string::npos) return replace(text.words, what, by);
    }
    FAIL("nothing says " << what);
  };
  fails_when(references_lead_there, "card", Paper::a4, [&](LaidPaper& p) { spoil_words(p, "page\xC2\xA0", "page\xC2\xA0" "9"); });
  fails_when(references_lead_there, "card", Paper::a5, [&](LaidPaper& p) { spoil_words(p, "go on at ", "go on at 1"); });
  fails_when(references_lead_there, "script", Paper::a4, [](LaidPaper& p) {
    for (emit::Block& block : p.sheet.blocks) if (auto* row = std::get_if<emit::SayRow>(&block)) row->label += "x";
  });
  fails_when(references_lead_there, "card", Paper::a4, [](LaidPaper& p) { std::swap(p.out.faces[1], p.out.faces[5]); });
}

TEST_CASE("layout: each breach opens a face and says where it returns") {
  holds_on_all(breaches_say_where_they_return);
  fails_when(breaches_say_where_they_return, "breach", Paper::a4, [](LaidPaper& p) {
    for (LaidFace& face : p.out.faces) for (LaidPart& part : face.parts) {
      if (part.part == Part::block && std::holds_alternative<emit::EndMark>(p.sheet.blocks[part.block])) part.texts.clear();
    }
  });
  fails_when(breaches_say_where_they_return, "breach", Paper::a5, [](LaidPaper& p) {
    LaidPart& mark = part_with<emit::BoxMark>(p);
    move_by(mark, 0, 200);
  });
}

TEST_CASE("layout: zones are bands, with name and risk in words and hatching by risk") {
  holds_on_all(zones_are_bands);
  fails_when(zones_are_bands, "card", Paper::a4, [](LaidPaper& p) { mark_of(part_with<emit::ZoneBand>(p), Mark::frame).where.right -= 100; });
  fails_when(zones_are_bands, "script", Paper::a4, [](LaidPaper& p) { part_with<emit::ZoneBand>(p).texts[0].words = "CARE ROOM"; });
  fails_when(zones_are_bands, "poster", Paper::a3, [](LaidPaper& p) { mark_of(part_with<emit::ZoneBand>(p), Mark::hatch).thick = 1, part_with<emit::ZoneBand>(p).marks.resize(1); });
  fails_when(zones_are_bands, "poster", Paper::a3, [](LaidPaper& p) {
    for (LaidFace& face : p.out.faces) for (LaidPart& part : face.parts) {
      if (part.part == Part::block && std::holds_alternative<emit::ZoneBand>(p.sheet.blocks[part.block])) part.part = Part::foot;
    }
  });
}

TEST_CASE("layout: critical steps are marked by word and by shape, and no others") {
  holds_on_all(critical_by_word_and_shape);
  for (const char* what : {"card", "poster"}) {
    const Paper size = std::string(what) == "poster" ? Paper::a3 : Paper::a4;
    fails_when(critical_by_word_and_shape, what, size, [](LaidPaper& p) { mark_of(part_with<emit::Step>(p, is_critical), Mark::disc).what = Mark::frame; });
    fails_when(critical_by_word_and_shape, what, size, [](LaidPaper& p) {
      LaidPart& part = part_with<emit::Step>(p, is_critical);
      part.texts.erase(std::remove_if(part.texts.begin(), part.texts.end(), [&](const LaidText& t) { return t.words == p.sheet.captions.critical; }), part.texts.end());
    });
  }
  fails_when(critical_by_word_and_shape, "competency", Paper::a4, [](LaidPaper& p) {
    for (emit::Block& block : p.sheet.blocks) if (auto* row = std::get_if<emit::TableRow>(&block)) row->critical = !row->critical;
  });
}

TEST_CASE("layout: times stand in a frame beside their step") {
  holds_on_all(timers_stand_beside_their_step);
  fails_when(timers_stand_beside_their_step, "card", Paper::a4, [](LaidPaper& p) { mark_of(part_with<emit::Step>(p, has_clock), Mark::round_frame).what = Mark::frame; });
  fails_when(timers_stand_beside_their_step, "badge", Paper::id1, [](LaidPaper& p) { move_by(mark_of(part_with<emit::Step>(p, has_clock), Mark::round_frame).where, 0, 50); });
  fails_when(timers_stand_beside_their_step, "script", Paper::a4, [](LaidPaper& p) {
    for (emit::Block& block : p.sheet.blocks) if (auto* row = std::get_if<emit::SayRow>(&block)) row->clock = "9 min";
  });
}

TEST_CASE("layout: boxes stand behind run and breaches by their letters, and no foot leads on into one") {
  holds_on_all(boxes_stand_last);
  for (const char* what : {"card", "script", "breach"}) {
    fails_when(boxes_stand_last, what, Paper::a4, [](LaidPaper& p) {
      for (emit::Block& block : p.sheet.blocks) {
        auto* mark = std::get_if<emit::BoxMark>(&block);
        if (mark && !mark->breach) return void(mark->label = "Z");
      }
    });
  }
  fails_when(boxes_stand_last, "card", Paper::a4, [](LaidPaper& p) {
    for (emit::Block& block : p.sheet.blocks) if (auto* mark = std::get_if<emit::BoxMark>(&block)) mark->breach = !mark->breach;
  });
  const auto with_foot = [](LaidPaper& p, bool leading, const std::function<void(LaidText&)>& spoil) {
    for (LaidFace& face : p.out.faces) for (LaidPart& part : face.parts) for (LaidText& text : part.texts) {
      if (part.part == Part::foot && (text.words.rfind("→", 0) == 0) == leading) return spoil(text);
    }
  };
  fails_when(boxes_stand_last, "card", Paper::a5, [&](LaidPaper& p) { with_foot(p, true, [](LaidText& text) { text.words.clear(); }); });
  fails_when(boxes_stand_last, "breach", Paper::a4, [&](LaidPaper& p) { with_foot(p, false, [](LaidText& text) { text.words = "→ page\xC2\xA0" "2"; }); });
}

TEST_CASE("layout: an ending stops the reader, and what stands below it says for whom it is") {
  holds_on_all(endings_stop_the_reader);
  for (const char* what : {"card", "script", "breach"}) {
    const auto stops = [](const emit::EndMark& mark) { return mark.stops; };
    fails_when(endings_stop_the_reader, what, Paper::a4, [&](LaidPaper& p) { replace(part_with<emit::EndMark>(p, stops).texts[0].words, "STOP HERE. ", "→ "); });
    fails_when(endings_stop_the_reader, what, Paper::a4, [&](LaidPaper& p) { part_with<emit::EndMark>(p, stops).marks.clear(); });
  }
  fails_when(endings_stop_the_reader, "card", Paper::a4, [](LaidPaper& p) {
    for (LaidFace& face : p.out.faces) for (LaidPart& part : face.parts) for (LaidText& text : part.texts) {
      if (part.part == Part::block && text.words.find("Go on here.") != std::string::npos) text.words = "Go on.";
    }
  });
}

TEST_CASE("layout: each answer of a question has a line, and YES stands above NO") {
  holds_on_all(yes_stands_above_no);
  const auto two = [](const emit::Frame& frame) { return frame.rows.size() == 2 && frame.rows[0].key == "YES" && frame.rows[1].key == "NO"; };
  for (const char* what : {"card", "script"}) {
    const auto key = [&](LaidPaper& p, const std::string& words) -> LaidText& {
      for (LaidText& text : part_with<emit::Frame>(p, two).texts) if (text.words == words) return text;
      return part_with<emit::Frame>(p, two).texts.front();
    };
    fails_when(yes_stands_above_no, what, Paper::a4, [&](LaidPaper& p) { std::swap(key(p, "YES").where, key(p, "NO").where); });
    fails_when(yes_stands_above_no, what, Paper::a5, [&](LaidPaper& p) { key(p, "NO").where.top = key(p, "YES").where.top; });
    fails_when(yes_stands_above_no, what, Paper::a4, [&](LaidPaper& p) { std::get<emit::Frame>(p.sheet.blocks[part_with<emit::Frame>(p, two).block]).rows.pop_back(); });
  }
}

TEST_CASE("layout: a box or a breach that has room on a face is not torn") {
  holds_on_all(boxes_are_whole);
  for (const char* what : {"card", "script", "breach"}) {
    fails_when(boxes_are_whole, what, Paper::a4, [](LaidPaper& p) {
      for (std::size_t face = 0; face + 1 < p.out.faces.size(); ++face) {
        std::vector<LaidPart>& parts = p.out.faces[face].parts;
        const auto last = std::find_if(parts.rbegin(), parts.rend(), [](const LaidPart& part) { return part.part == Part::block; });
        const bool is_end = last != parts.rend() && std::holds_alternative<emit::EndMark>(p.sheet.blocks[last->block]) && std::get<emit::EndMark>(p.sheet.blocks[last->block]).level == 0;
        const bool opened = std::any_of(parts.begin(), parts.end(), [&](const LaidPart& part) { return part.part == Part::block && std::holds_alternative<emit::BoxMark>(p.sheet.blocks[part.block]); });
        if (!is_end || !opened) continue;
        p.out.faces[face + 1].parts.insert(p.out.faces[face + 1].parts.begin(), *last);
        parts.erase(std::next(last).base());
        return;
      }
    });
  }
}

TEST_CASE("layout: where a branch may end on its way, its row promises nothing behind it") {
  holds_on_all(rows_promise_what_holds);
  std::size_t spoilt = 0;
  for (const LaidPaper& each : laid_papers()) {
    LaidPaper copy = each;
    for (LaidFace& face : copy.out.faces) for (LaidPart& part : face.parts) for (LaidText& text : part.texts) {
      const bool sends = part.part == Part::block && std::holds_alternative<emit::Frame>(copy.sheet.blocks[part.block]) && text.words.rfind("go on at", 0) == 0;
      if (sends) text.words = "steps 17a to 17d, then " + text.words;
    }
    spoilt += rows_promise_what_holds(copy).empty() ? 0 : 1;
  }
  CHECK(spoilt > 3);
}

TEST_CASE("layout: “your” is the reader's, whoever's line it is") {
  holds_on_all(your_is_the_readers);
  fails_when(your_is_the_readers, "card", Paper::a4, [](LaidPaper& p) {
    for (LaidFace& face : p.out.faces) for (LaidPart& part : face.parts) for (LaidText& text : part.texts) {
      if (const std::size_t at = text.words.find("own hands"); at != std::string::npos) text.words.replace(at, 3, "your");
    }
  });
  fails_when(your_is_the_readers, "script", Paper::a4, [](LaidPaper& p) { part_with<emit::Frame>(p).texts.back().words = "Soil on your hands?"; });
}

TEST_CASE("layout: a script says aloud with what, and into which bin") {
  holds_on_all(scripts_say_agent_and_bin);
  const auto spoil = [](const std::string& what) {
    return [what](LaidPaper& p) {
      for (LaidFace& face : p.out.faces) for (LaidPart& part : face.parts) for (LaidText& text : part.texts) {
        for (std::size_t at = text.words.find(what); at != std::string::npos; at = text.words.find(what)) text.words.erase(at, what.size());
      }
    };
  };
  fails_when(scripts_say_agent_and_bin, "script", Paper::a4, spoil("strong chlorine"));
  fails_when(scripts_say_agent_and_bin, "script", Paper::a5, spoil("the waste drum"));
}

TEST_CASE("layout: a script has the warning of a step read aloud with it") {
  holds_on_all(scripts_read_warnings_aloud);
  std::size_t spoilt = 0;
  for (const LaidPaper& each : laid_papers()) {
    LaidPaper copy = each;
    for (LaidFace& face : copy.out.faces) for (LaidPart& part : face.parts) for (LaidText& text : part.texts) {
      if (const std::size_t at = text.words.find("SAY “"); at != std::string::npos) text.words.erase(at, 4);
    }
    spoilt += scripts_read_warnings_aloud(copy).empty() ? 0 : 1;
  }
  CHECK(spoilt > 3);
}

TEST_CASE("layout: each question has a number of its own, and a branch says which it answers") {
  holds_on_all(questions_have_their_own_numbers);
  fails_when(questions_have_their_own_numbers, "card", Paper::a4, [](LaidPaper& p) {
    for (emit::Block& block : p.sheet.blocks) if (auto* mark = std::get_if<emit::BranchMark>(&block)) return void(mark->text = "Q99: YES");
  });
  fails_when(questions_have_their_own_numbers, "script", Paper::a5, [](LaidPaper& p) {
    std::string first;
    for (emit::Block& block : p.sheet.blocks) {
      auto* frame = std::get_if<emit::Frame>(&block);
      if (frame && first.empty()) first = frame->label;
      else if (frame) return void(frame->label = first);
    }
  });
  std::size_t several = 0;  // frames that ask more than one thing
  for (const LaidPaper& each : laid_papers()) {
    LaidPaper copy = each;
    bool found = false;
    for (emit::Block& block : copy.sheet.blocks) {
      auto* frame = std::get_if<emit::Frame>(&block);
      for (std::size_t i = 0; frame && i < frame->rows.size(); ++i) if (frame->rows[i].key.empty()) found = true, frame->rows[i].label.clear();
    }
    if (!found || questions_have_their_own_numbers(each).size() > 0) continue;
    several += questions_have_their_own_numbers(copy).empty() ? 0 : 1;
  }
  CHECK(several > 1);
}

TEST_CASE("layout: a letter that no box of a paper has is told at the box behind it") {
  holds_on_all(letters_left_out_are_told);
  for (const char* what : {"card", "script", "breach"}) {
    fails_when(letters_left_out_are_told, what, Paper::a4, [](LaidPaper& p) {
      for (LaidText& text : part_with<emit::BoxMark>(p, [](const emit::BoxMark& mark) { return !mark.breach && mark.label != "A"; }).texts) {
        if (const std::size_t at = text.words.find(" Letters"); at != std::string::npos) text.words.resize(at);
      }
    });
  }
}

TEST_CASE("layout: a page's number stands on the line of its word") {
  holds_on_all(pages_stay_with_their_word);
  fails_when(pages_stay_with_their_word, "card", Paper::a4, [](LaidPaper& p) {
    for (LaidFace& face : p.out.faces) for (LaidPart& part : face.parts) for (LaidText& text : part.texts) {
      const std::size_t at = part.part == Part::block ? text.words.find("page\xC2\xA0") : std::string::npos;
      if (at != std::string::npos) return void(text.by_line = {text.words.substr(0, at + 4), text.words.substr(at + 6)});
    }
  });
}

TEST_CASE("layout: rows that go over to another face stand under their title there, too") {
  holds_on_all(titles_stand_above_their_rows);
  // As many papers as six variants have, so that the table goes over several faces.
  LaidPaper paper = laid("sign-off", Paper::a5);
  std::vector<emit::SignedPaper> papers;
  for (const char* variant : {"gown · goggles", "gown · face shield", "coverall · goggles", "coverall · face shield"})
    for (int i = 0; i < 8; ++i) papers.push_back({"Paper " + std::to_string(i), variant, "cinnamon – hammock – cinnamon – woodland"});
  for (const Paper size : {Paper::a5, Paper::a4}) {
    paper.sheet = emit::sign_off_page(paper.origin->source(), {{}, {}, papers});
    paper.out = lay_out(paper.sheet, size);
    REQUIRE(paper.out.faults.empty());
    CHECK(titles_stand_above_their_rows(paper) == NotKept{});
    for (LaidFace& face : paper.out.faces) for (LaidPart& part : face.parts) if (part.part == Part::continued) part.texts.clear();
    CHECK_FALSE(titles_stand_above_their_rows(paper).empty());
  }
}
