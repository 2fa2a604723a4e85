// Sheets as PDF: the same bytes, exact pages, faults as data.
#include <doctest/doctest.h>

#include <algorithm>

#include "emit/card/card.hpp"
#include "emit/pdf/furniture.hpp"
#include "emit/pdf/write.hpp"
#include "emit/script/script.hpp"
#include "model/variants.hpp"
#include "paper_protocol.hpp"

using namespace stepward;
using namespace stepward::emit;
using pdf::Fault;

namespace {

Sheet card() {
  const test::PaperProtocol made;
  const auto variant = model::all_variants(made.protocol)[0];
  return wearers_card(made.protocol, variant, graph::number_steps(made.protocol, variant), {}, made.protocol);
}

Sheet script() {
  const test::PaperProtocol made;
  const auto variant = model::all_variants(made.protocol)[0];
  return observers_script(made.protocol, variant, graph::number_steps(made.protocol, variant), {}, made.protocol);
}

Sheet with_step(const std::string& act, const std::string& manner = {}) {
  Sheet sheet = card();
  sheet.blocks = {Step{"7", 0, false, false, {}, {{act, true, ""}}, {{manner, false, ""}}, "", {}}};
  return sheet;
}

bool has(const pdf::Faults& faults, Fault::What what, const std::string& where) {
  return std::any_of(faults.begin(), faults.end(),
                     [&](const Fault& fault) { return fault.what == what && fault.where == where; });
}

}  // namespace

TEST_CASE("pdf: card and script print without a fault on every paper") {
  for (const auto paper : {pdf::Paper::a4, pdf::Paper::a5, pdf::Paper::letter, pdf::Paper::a5_landscape}) {
    for (const Sheet& sheet : {card(), script()}) {
      const pdf::Pdf printed = pdf::write(sheet, {paper, "2031-01-01", false});
      CHECK(printed.faults.empty());
      CHECK(printed.faces > 1);
      CHECK(printed.bytes.rfind("%PDF-", 0) == 0);
    }
  }
}

TEST_CASE("pdf: the same sheet gives the same bytes") {
  const pdf::Options options{pdf::Paper::a4, "2031-01-01", false};
  CHECK(pdf::write(card(), options).bytes == pdf::write(card(), options).bytes);
}

TEST_CASE("pdf: the date given is the only date in the file") {
  const std::string bytes = pdf::write(card(), {pdf::Paper::a4, "2031-01-01", false}).bytes;
  CHECK(bytes.find("20310101") != std::string::npos);
  CHECK(bytes != pdf::write(card(), {pdf::Paper::a4, "2031-01-02", false}).bytes);
}

TEST_CASE("pdf: the catalogue has language and title, the file its outline") {
  const std::string bytes = pdf::write(card(), {pdf::Paper::a4, "2031-01-01", false}).bytes;
  for (const char* key :
       {"/Lang", "/DisplayDocTitle true", "/Metadata", "/StructTreeRoot", "/Outlines", "/PageLabels"}) {
    CHECK_MESSAGE(bytes.find(key) != std::string::npos, key);
  }
}

TEST_CASE("pdf: a step that is taller than a face is a fault that names it, and nothing is written") {
  std::string endless;
  for (int i = 0; i < 900; ++i) endless += "again and again ";
  const pdf::Pdf printed = pdf::write(with_step("WAIT", endless), {});
  CHECK(has(printed.faults, Fault::What::too_tall, "step 7"));
  CHECK(printed.bytes.empty());
  CHECK(pdf::sentence(printed.faults.back()).find("step 7") == 0);
}

TEST_CASE("pdf: a word wider than its column is a fault that names its step") {
  const pdf::Pdf printed = pdf::write(with_step(std::string(90, 'W')), {});
  CHECK(has(printed.faults, Fault::What::too_wide, "step 7"));
  CHECK(printed.bytes.empty());
}

TEST_CASE("pdf: a sign that no font has is a fault that names the sign, and says that no package would help") {
  const pdf::Pdf printed = pdf::write(with_step("WAIT \xF3\xB0\x80\x80 for it"), {});  // a private sign
  REQUIRE(has(printed.faults, Fault::What::no_glyph, "step 7"));
  const std::string told = pdf::sentence(printed.faults.front());
  CHECK(told.find("(U+F0000) in “WAIT") != std::string::npos);
  CHECK(told.find("no package would help") != std::string::npos);
  CHECK(printed.bytes.empty());
}

TEST_CASE("pdf: margins are ten millimetres and more, type twelve points and more") {
  for (const auto kind : {SheetKind::card, SheetKind::script}) {
    for (const auto paper : {pdf::Paper::a4, pdf::Paper::a5, pdf::Paper::letter, pdf::Paper::a5_landscape}) {
      const pdf::Look look = pdf::look_of(kind, paper);
      for (const double margin : {look.left, look.right, look.top, look.bottom}) CHECK(margin >= 10 * 72 / 25.4 - 0.01);
      for (const double size : {look.act, look.manner, look.frame, look.heading, look.side, look.quiet, look.say})
        CHECK(size >= 12);
      if (kind == SheetKind::card && (paper == pdf::Paper::a4 || paper == pdf::Paper::letter)) CHECK(look.act >= 14);
      if (kind == SheetKind::card) CHECK(look.tick >= 6 * 72 / 25.4);
    }
  }
}

TEST_CASE("pdf: dates in words") {
  CHECK(date_words("2031-03-05", card().captions) == "5 Mar 2031");
  CHECK(date_words("soon", card().captions) == "soon");
}
