// The poster and the badge card: what stands on them, and what they say of themselves; and several faces on one sheet.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <regex>
#include <set>
#include <sstream>

#include "emit/badge/badge_card.hpp"
#include "emit/card/card.hpp"
#include "emit/pdf/imposition.hpp"
#include "emit/poster/poster.hpp"
#include "example_papers.hpp"
#include "laid_papers.hpp"
#include "model/variants.hpp"

using namespace stepward;
using emit::pdf::Paper;

namespace {

test::Origin origin_of(const model::Protocol& protocol, const model::Variant& variant) {
  test::Origin origin{"", protocol, variant, {}, {}};
  origin.course = graph::number_steps(origin.protocol, variant);
  return origin;
}

std::vector<std::string> step_labels(const emit::Sheet& sheet) {
  std::vector<std::string> labels;
  for (const emit::Block& block : sheet.blocks) {
    if (std::holds_alternative<emit::Step>(block)) labels.push_back(emit::label_of(block));
  }
  return labels;
}

/// By label, the act of each step of a card.
std::map<std::string, std::string> acts_of(const emit::Sheet& sheet) {
  std::map<std::string, std::string> acts;
  for (const emit::Block& block : sheet.blocks) {
    if (const auto* step = std::get_if<emit::Step>(&block)) acts[step->label] = emit::plain_text(step->act);
  }
  return acts;
}

bool ends_with(const std::string& text, const std::string& end) { return text.size() >= end.size() && text.compare(text.size() - end.size(), end.size(), end) == 0; }

/// The whole act or, of a box's step, its beginning; a condition that ends in a colon may stand in front.
bool says(const std::string& act, const std::string& full) {
  if (ends_with(act, full) || full.rfind(act, 0) == 0) return true;
  for (std::size_t colon = act.find(": "); colon != std::string::npos; colon = act.find(": ", colon + 1)) {
    if (full.rfind(act.substr(colon + 2), 0) == 0 && act.size() > colon + 4) return true;
  }
  return false;
}

/// Blocks of one breach of a sheet.
std::vector<emit::Block> part_of(const emit::Sheet& sheet, const std::string& breach) {
  std::vector<emit::Block> part;
  bool inside = false;
  for (const emit::Block& block : sheet.blocks) {
    if (const auto* mark = std::get_if<emit::BoxMark>(&block)) inside = mark->label == breach;
    if (inside) part.push_back(block);
  }
  return part;
}

}  // namespace

TEST_CASE("poster: what the wearer takes off and puts on along the trouble-free path, and how hands are cleansed after the last of it, in order and under its numbers") {
  const auto look_at = [](const model::Protocol& protocol) {
    for (const model::Variant& variant : model::all_variants(protocol)) {
      const test::Origin origin = origin_of(protocol, variant);
      std::vector<std::string> wanted, cleansing;  // cleansing: since the last change
      for (const graph::Entry& entry : origin.course[origin.course.trunk].entries) {
        if (entry.what != graph::Entry::What::step) continue;
        const model::Line& line = origin.protocol[entry.line];
        const bool changes = line.verb == model::VerbKind::doff || line.verb == model::VerbKind::don;
        const bool cleanses = (line.verb == model::VerbKind::disinfect || line.verb == model::VerbKind::clean) && line.who == protocol.acts;
        const bool is_of_hands = std::any_of(line.things.begin(), line.things.end(), [&](const model::Thing& thing) {
          return thing.what == model::Thing::What::hands || (thing.what == model::Thing::What::site && protocol[thing.site].is_hands);
        });
        if (changes && (line.who == protocol.acts || line.of == protocol.acts)) wanted.push_back(entry.label), cleansing.clear();
        else if (cleanses && is_of_hands) cleansing.push_back(entry.label);
      }
      if (!wanted.empty()) wanted.insert(wanted.end(), cleansing.begin(), cleansing.end());
      wanted.erase(std::unique(wanted.begin(), wanted.end()), wanted.end());
      const auto poster = emit::poster(origin.source());
      REQUIRE(poster.has_value() == !wanted.empty());
      if (!poster) continue;
      CHECK(step_labels(*poster) == wanted);
      const auto card = acts_of(emit::wearers_card(origin.protocol, variant, origin.course, origin.facts, origin.protocol)), here = acts_of(*poster);
      for (const auto& [label, act] : here) CHECK(act == card.at(label));
    }
  };
  for (const char* name : {"aldermoss-exit.ward", "aldermoss-entry.ward"}) look_at(test::example(name));
  for (const char* name : {"respirator-exit", "contact-taking-off", "hand-rub", "waste-bagging"}) look_at(test::library_protocol(name));
}

// WHO, My 5 moments (from memory): hands are cleansed after the last of the equipment is off. It is the act that nothing afterwards makes good.
TEST_CASE("poster: taking off ends with clean hands") {
  const auto last_act = [](const model::Protocol& protocol) {
    const test::Origin origin = origin_of(protocol, model::all_variants(protocol).front());
    return acts_of(*emit::poster(origin.source())).at(step_labels(*emit::poster(origin.source())).back());
  };
  CHECK(last_act(test::example("aldermoss-exit.ward")).rfind("DISINFECT your bare hands", 0) == 0);
  CHECK(last_act(test::library_protocol("respirator-exit")).rfind("DISINFECT your bare hands", 0) == 0);
}

TEST_CASE("poster: no band and no heading stands empty, and no face has next to nothing") {
  for (const test::LaidPaper& paper : test::laid_papers()) {
    if (paper.what != "poster") continue;
    CAPTURE(paper.name());
    const auto& blocks = paper.sheet.blocks;
    for (std::size_t i = 0; i < blocks.size(); ++i) {
      if (std::holds_alternative<emit::ZoneBand>(blocks[i])) CHECK((i + 1 < blocks.size() && !std::holds_alternative<emit::ZoneBand>(blocks[i + 1])));
      if (std::holds_alternative<emit::Heading>(blocks[i])) CHECK((i + 1 < blocks.size() && !std::holds_alternative<emit::Heading>(blocks[i + 1])));
    }
    // A phase that would fit elsewhere is not torn: so faces are as even as whole phases let them be. The least has a fifth of the most.
    double least = 1e9, most = 0;
    for (const emit::pdf::LaidFace& face : paper.out.faces) {
      double high = 0;
      for (const emit::pdf::LaidPart& part : face.parts) high += part.part == emit::pdf::Part::block ? part.where.height() : 0;
      least = std::min(least, high);
      most = std::max(most, high);
    }
    if (paper.out.faces.size() > 1) CHECK(least > most / 5);
  }
}

TEST_CASE("poster: it says on every face that it is not the whole procedure, and which card is") {
  const test::LaidPaper& paper = test::laid("poster", Paper::a3);
  const emit::Control& control = paper.sheet.control;
  CHECK(control.reminder.find("Not the whole procedure") == 0);
  CHECK(control.reminder.find("wearer’s card, " + control.number) != std::string::npos);
  const auto* first = std::get_if<emit::Paragraph>(&paper.sheet.blocks.front());
  REQUIRE(first != nullptr);
  CHECK(first->warning);
  CHECK(emit::plain_text(first->text).find("Not the whole procedure") == 0);
  const test::PrintedFile file(paper.sheet, Paper::a3);
  std::istringstream faces(file.told_by("pdftotext -raw % -"));
  int told = 0;
  for (std::string face; std::getline(faces, face, '\f');) told += test::squeezed(face).find(test::squeezed(control.reminder)) != std::string::npos;
  CHECK(told == file.faces());
}

TEST_CASE("poster: every variant has its own") {
  const model::Protocol& protocol = test::example("aldermoss-exit.ward");
  std::set<std::string> check_words;
  const auto variants = model::all_variants(protocol);
  for (const model::Variant& variant : variants) {
    const test::Origin origin = origin_of(protocol, variant);
    check_words.insert(emit::poster(origin.source())->control.check_words);
  }
  CHECK(check_words.size() == variants.size());
}

TEST_CASE("badge: the first three acts of every breach, in the words of the breach card, and where that one goes on") {
  const auto look_at = [](const model::Protocol& protocol) {
    for (const model::Variant& variant : model::all_variants(protocol)) {
      const test::Origin origin = origin_of(protocol, variant);
      const auto badge = emit::badge_card(origin.source()), whole = emit::breach_card(origin.source());
      REQUIRE(badge.has_value() == whole.has_value());
      if (!badge) continue;
      const auto acts = acts_of(*whole);
      for (const graph::Breach& breach : origin.course.breaches) {
        CAPTURE(breach.label);
        const auto here = part_of(*badge, breach.label), there = part_of(*whole, breach.label);
        REQUIRE_FALSE(here.empty());
        std::vector<std::string> shown, all;
        for (const emit::Block& block : here) {
          const auto* step = std::get_if<emit::Step>(&block);
          if (!step) continue;
          shown.push_back(step->label);
          // A condition may stand in front; of a box's step the way on is not repeated.
          // Which card the box is on, only the badge card has to say.
          const std::string act = std::regex_replace(emit::plain_text(step->act), std::regex(" on the breach card"), ""), full = acts.at(step->label);
          CHECK_MESSAGE(says(act, full), act);
        }
        for (const emit::Block& block : there) {
          if (const auto* step = std::get_if<emit::Step>(&block)) all.push_back(step->label);
        }
        CHECK(shown.size() <= static_cast<std::size_t>(emit::acts_on_badge));
        REQUIRE(shown.size() <= all.size());
        CHECK(std::equal(shown.begin(), shown.end(), all.begin()));
        // What is left out is told by number.
        if (shown.size() == all.size()) continue;
        const auto* end = std::get_if<emit::EndMark>(&here.back());
        REQUIRE(end != nullptr);
        CHECK(emit::plain_text(end->text).find("Breach card: go on at ") == 0);
      }
    }
  };
  for (const char* name : {"aldermoss-exit.ward", "aldermoss-entry.ward"}) look_at(test::example(name));
  for (const char* name : {"respirator-exit", "body-fluid-spill-cloth-first", "central-line-insertion", "hand-rub"}) look_at(test::library_protocol(name));
}

TEST_CASE("badge: no question is parted from its answers, faces are called faces, and each says which document it is from") {
  for (const test::LaidPaper& paper : test::laid_papers()) {
    if (paper.what != "badge") continue;
    CAPTURE(paper.name());
    for (const emit::Block& block : paper.sheet.blocks) {
      CHECK_FALSE(std::holds_alternative<emit::Frame>(block));
      CHECK_FALSE(std::holds_alternative<emit::BranchMark>(block));
    }
    for (const emit::pdf::LaidFace& face : paper.out.faces) {
      std::string head;
      for (const emit::pdf::LaidPart& part : face.parts) {
        for (const emit::pdf::LaidText& text : part.texts) {
          CHECK_MESSAGE(text.words.find("page\xC2\xA0") == std::string::npos, text.words);
          if (part.part == emit::pdf::Part::head) head += text.words;
        }
      }
      CHECK(head.find(paper.sheet.control.title) != std::string::npos);
    }
  }
}

TEST_CASE("badge: the way of doing an act and what is called out stand with it") {
  const auto said = [](const model::Protocol& protocol) {
    const test::Origin origin = origin_of(protocol, model::all_variants(protocol).front());
    return emit::plain_text(*emit::badge_card(origin.source()));
  };
  const std::string exit = said(test::library_protocol("respirator-exit"));
  CHECK(exit.find("EYES and mouth shut.") != std::string::npos);
  CHECK(exit.find("Nobody kneels. Nobody touches the face. Second team, come.") != std::string::npos);
  // A question whose answers all end the breach alike is said in front of its acts; one that leads elsewhere is left to the breach card.
  const std::string basic = said(test::library_protocol("basic-taking-off"));
  CHECK(basic.find("Are your hands bare? YES: DISINFECT your bare hands with hand rub") != std::string::npos);
  CHECK(basic.find("NO go back") == std::string::npos);
  CHECK(said(test::library_protocol("central-line-insertion")).find("Breach card: go on at QB1.1.") != std::string::npos);
}

TEST_CASE("badge: an act that hangs on an answer says so, and nothing is said that the breach card does not say") {
  const model::Protocol& protocol = test::example("aldermoss-exit.ward");
  const test::Origin origin = origin_of(protocol, model::all_variants(protocol).front());
  const auto badge = acts_of(*emit::badge_card(origin.source()));
  CHECK(badge.at("B2.1") == "EYES and mouth shut. Hands off your face.");
  // The observer carries this card, too: "you" would be whoever reads it.
  CHECK(badge.at("B2.1a") == "Is the wearer in the care room? YES: GO to the exit area");
  CHECK(badge.at("B2.2") == "DO box H on the breach card (cleanse hands)");
  CHECK(badge.at("B1.1") == "Observer: CALL “second team to the exit area”");
  CHECK(badge.count("B1.4") == 0);
  const auto end_of = [](const test::Origin& of, const char* breach) {
    std::string all;
    for (const emit::Block& block : part_of(*emit::badge_card(of.source()), breach)) {
      if (const auto* end = std::get_if<emit::EndMark>(&block)) all += emit::plain_text(end->text);
    }
    return all;
  };
  CHECK(end_of(origin, "B2") == "Breach card: go on at B2.3.");
  const model::Protocol& entry = test::example("aldermoss-entry.ward");
  // The number alone: a face has no room for the title.
  CHECK(end_of(origin_of(entry, model::all_variants(entry).front()), "B1") == "STOP HERE. END: entry called off. Continue with AMH-IP-016.");
}

TEST_CASE("sheets to be cut: faces lie whole on the sheet, apart from each other, and no mark is inside of one") {
  struct Case {
    emit::pdf::SheetSize face;
    Paper sheet;
    std::size_t least;
  };
  const auto size = [](Paper paper) { return emit::pdf::size_of(paper); };
  for (const Case& each : {Case{size(Paper::id1), Paper::a4, 8}, Case{size(Paper::id1), Paper::letter, 8}, Case{size(Paper::a5), Paper::a4, 2}, Case{size(Paper::a5_landscape), Paper::a4, 2},
                           Case{size(Paper::a5), Paper::a3, 2}, Case{size(Paper::a4), Paper::a3, 2}, Case{size(Paper::letter), Paper::tabloid, 2}}) {
    const auto laid = emit::pdf::several_up(each.face, 24, each.sheet, false);
    REQUIRE(laid.has_value());
    std::set<int> faces;
    CHECK(laid->sides.front().spots.size() >= each.least);
    const bool touching = laid->sides.front().marks.size() <= 4;
    for (const emit::pdf::PrintedSide& side : laid->sides) {
      CHECK_FALSE(side.marks.empty());
      for (std::size_t i = 0; i < side.spots.size(); ++i) {
        const emit::pdf::Spot& spot = side.spots[i];
        CHECK(faces.insert(spot.face).second);
        CHECK((spot.x >= -0.01 && spot.y >= -0.01 && spot.x + each.face.width <= laid->sheet.width + 0.01 && spot.y + each.face.height <= laid->sheet.height + 0.01));
        for (std::size_t k = 0; k < i; ++k) {
          const emit::pdf::Spot& other = side.spots[k];
          CHECK((std::abs(other.x - spot.x) >= each.face.width - 0.01 || std::abs(other.y - spot.y) >= each.face.height - 0.01));
        }
        for (const emit::pdf::CutMark& mark : side.marks) {
          const double x = (mark.x1 + mark.x2) / 2, y = (mark.y1 + mark.y2) / 2, inside = 0.01;
          CHECK_FALSE((x > spot.x + inside && x < spot.x + each.face.width - inside && y > spot.y + inside && y < spot.y + each.face.height - inside));
          // Marks keep 4.9 mm off the edge of the sheet, where printers do not reach.
          for (const double at : {mark.x1, mark.x2, laid->sheet.width - mark.x1, laid->sheet.width - mark.x2, mark.y1, mark.y2, laid->sheet.height - mark.y1, laid->sheet.height - mark.y2})
            CHECK(at >= 4.9 * 72 / 25.4);
        }
      }
      // Around a face that stands alone each corner has two marks.
      if (!touching) CHECK(side.marks.size() == 8 * side.spots.size());
    }
    CHECK(faces.size() == 24);
  }
}

TEST_CASE("sheets to be cut: the back of each badge card lies behind its front when the sheet is turned about its long side") {
  const emit::pdf::SheetSize card = emit::pdf::size_of(Paper::id1);
  for (const int faces : {1, 2, 5, 7, 40}) {
    const auto laid = emit::pdf::several_up(card, faces, Paper::a4, true);
    REQUIRE(laid.has_value());
    REQUIRE(laid->sides.size() % 2 == 0);
    std::set<int> printed;
    for (std::size_t side = 0; side < laid->sides.size(); side += 2) {
      for (const emit::pdf::Spot& front : laid->sides[side].spots) {
        CHECK(front.face % 2 == 1);
        printed.insert(front.face);
        const auto& backs = laid->sides[side + 1].spots;
        const auto behind = std::find_if(backs.begin(), backs.end(), [&](const emit::pdf::Spot& back) {
          return std::abs(back.x + card.width + front.x - laid->sheet.width) < 0.01 && std::abs(back.y - front.y) < 0.01;
        });
        if (front.face == faces) CHECK(behind == backs.end());
        else {
          REQUIRE(behind != backs.end());
          CHECK(behind->face == front.face + 1);
          printed.insert(behind->face);
        }
      }
    }
    CHECK(printed.size() == static_cast<std::size_t>(faces));
  }
}

TEST_CASE("sheets to be cut: the file has the size of the sheet, and all words of the faces") {
  const test::LaidPaper& badge = test::laid("badge", Paper::id1);
  const emit::pdf::Pdf pdf = emit::pdf::write(badge.sheet, {Paper::id1, "2030-11-01", false, Paper::a4});
  CHECK(pdf.faults.empty());
  const test::PrintedFile alone(badge.sheet, Paper::id1);
  const test::PrintedFile cut(badge.sheet, Paper::id1, false, Paper::a4);
  CHECK(cut.told_by("pdfinfo %").find("841.89 x 595.276") != std::string::npos);
  CHECK(cut.told_by("qpdf --check %").find("No syntax or stream encoding errors found") != std::string::npos);
  const std::string all = test::squeezed(cut.told_by("pdftotext -raw % -"));
  for (int face = 1; face <= alone.faces(); ++face) CHECK(all.find(std::to_string(face) + "/" + std::to_string(alone.faces())) != std::string::npos);
  const emit::pdf::Pdf too_large = emit::pdf::write(badge.sheet, {Paper::id1, "2030-11-01", false, Paper::id1});
  REQUIRE(too_large.faults.size() == 1);
  CHECK(emit::pdf::sentence(too_large.faults.front()).find("two faces of ID-1 do not fit on ID-1") != std::string::npos);
}
