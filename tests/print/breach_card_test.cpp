// The breach card: what may strike at any time, whole, on faces of its own, in the words and numbers of the wearer's card.
#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <set>
#include <sstream>

#include "emit/card/card.hpp"
#include "emit/pdf/paper.hpp"
#include "example_papers.hpp"
#include "model/variants.hpp"

using namespace stepward;
using emit::Block;
using emit::pdf::Paper;

namespace {

struct Cards {
  graph::Course course;
  emit::Sheet card;
  std::optional<emit::Sheet> breach;
};

Cards cards_of(const model::Protocol& protocol, const model::Variant& variant) {
  Cards cards{graph::number_steps(protocol, variant), {}, {}};
  const emit::WalkFacts facts;
  const emit::PaperSource source{protocol, protocol, variant, cards.course, facts};
  cards.card = emit::wearers_card(protocol, variant, cards.course, facts, protocol);
  cards.breach = emit::breach_card(source);
  return cards;
}

/// What stands in each box and breach of a sheet, by its label, as one text.
std::map<std::string, std::string> parts_of(const emit::Sheet& sheet) {
  std::map<std::string, std::string> parts;
  std::string label;
  for (const Block& block : sheet.blocks) {
    if (const auto* mark = std::get_if<emit::BoxMark>(&block)) label = mark->label;
    if (std::holds_alternative<emit::Heading>(block) || std::holds_alternative<emit::ZoneBand>(block)) label.clear();
    if (label.empty()) continue;
    emit::Sheet one;
    one.blocks = {block};
    // Which letters are not used is said of each paper by itself.
    if (auto* mark = std::get_if<emit::BoxMark>(&one.blocks[0]); mark && !mark->breach) {
      std::string& when = mark->when.at(0).text;
      when.resize(std::min(when.size(), when.find(" Letters not used on this paper")));
    }
    parts[label] += emit::plain_text(one) + '\n';
  }
  return parts;
}

/// The labels that a reader is sent to, by whatever block.
std::set<std::string> sent_to(const emit::Sheet& sheet) {
  std::set<std::string> labels;
  const auto look_at = [&](const emit::Text& text) {
    for (const emit::Run& run : text) if (!run.target.empty()) labels.insert(run.target);
  };
  for (const Block& block : sheet.blocks) {
    if (const auto* step = std::get_if<emit::Step>(&block)) look_at(step->act);
    if (const auto* end = std::get_if<emit::EndMark>(&block)) look_at(end->text);
    if (const auto* notice = std::get_if<emit::Notice>(&block)) look_at(notice->text);
    if (const auto* frame = std::get_if<emit::Frame>(&block)) for (const emit::FrameRow& row : frame->rows) look_at(row.text);
  }
  return labels;
}

std::set<std::string> labels_of(const emit::Sheet& sheet) {
  std::set<std::string> labels;
  for (const Block& block : sheet.blocks) labels.insert(emit::label_of(block));
  return labels;
}

}  // namespace

TEST_CASE("breach card: every breach and every box that one sends to, as they stand on the wearer's card") {
  for (const char* name : {"aldermoss-exit.ward", "aldermoss-entry.ward"}) {
    const model::Protocol& protocol = test::example(name);
    for (const model::Variant& variant : model::all_variants(protocol)) {
      const Cards cards = cards_of(protocol, variant);
      REQUIRE(cards.breach.has_value());
      CAPTURE(model::variant_name(protocol, variant));
      const auto here = parts_of(*cards.breach), there = parts_of(cards.card);
      for (const graph::Breach& breach : cards.course.breaches) CHECK(here.count(breach.label) == 1);
      for (const auto& [label, text] : here) {
        CAPTURE(label);
        CHECK(there.at(label) == text);
      }
      const std::set<std::string> wanted = sent_to(*cards.breach), known = labels_of(*cards.breach);
      for (const std::string& label : wanted) CHECK_MESSAGE(known.count(label) == 1, "it sends to " << label << ", which is not on it");
      const auto is_breach = [&](const std::string& label) {
        return std::any_of(cards.course.breaches.begin(), cards.course.breaches.end(), [&](const auto& each) { return each.label == label; });
      };
      for (const auto& [label, text] : here) CHECK_MESSAGE((is_breach(label) || wanted.count(label) == 1), "nothing sends to box " << label);
    }
  }
}

TEST_CASE("breach card: each breach opens a face, and boxes come behind them all") {
  const model::Protocol& protocol = test::example("aldermoss-exit.ward");
  const Cards cards = cards_of(protocol, model::all_variants(protocol).front());
  for (const Paper paper : {Paper::a4, Paper::a5, Paper::letter}) {
    std::istringstream faces(test::PrintedFile(*cards.breach, paper).told_by("pdftotext -raw % -"));
    std::size_t opened = 0;
    for (std::string face; std::getline(faces, face, '\f');) {
      std::size_t breaches = 0;
      for (const graph::Breach& breach : cards.course.breaches) breaches += face.find("BREACH " + breach.label + " ") != std::string::npos && face.find("Stop, then:") != std::string::npos;
      CHECK(breaches <= 1);
      opened += breaches;
    }
    CHECK(opened == cards.course.breaches.size());
  }
  bool boxes_began = false;
  for (const Block& block : cards.breach->blocks) {
    const auto* mark = std::get_if<emit::BoxMark>(&block);
    if (!mark) continue;
    CHECK_FALSE((mark->breach && boxes_began));
    boxes_began = boxes_began || !mark->breach;
  }
  CHECK(boxes_began);
}

TEST_CASE("breach card: the red band keeps off the edge of the paper and off the words") {
  const double mm = 72 / 25.4;
  for (const Paper paper : {Paper::a4, Paper::a5, Paper::letter}) {
    const emit::pdf::Look look = emit::pdf::look_of(emit::SheetKind::breach, paper);
    CHECK(look.edge >= 5 * mm);
    CHECK(look.left >= 5 * mm + look.edge + 2 * mm);
    CHECK(emit::pdf::look_of(emit::SheetKind::card, paper).edge == 0);
  }
}

TEST_CASE("breach card: none where nothing strikes") {
  model::Protocol calm = test::example("aldermoss-exit.ward");
  calm.interruptions.clear();
  CHECK_FALSE(cards_of(calm, model::all_variants(calm).front()).breach.has_value());
}
