// People, endings, stock, rhythm and document control.

#include "model_sample.hpp"

namespace {

using namespace stepward;
using namespace stepward::model;
using sample::at;

sample::Built whole() {
  return sample::build(
      "stepward 1 protocol\n"
      "document\n  title \"All of it\"\n  number VIR-P07\n  version 1.10\n  status approved\n"
      "  written by \"Ada\", \"office\"\n  reviewed by \"Bo\", \"ward\" on 2031-02-11\n  approved by \"Cy\", \"board\" "
      "on 2031-03-02\n"
      "  in force from 2031-03-15\n  review due 2032-03-15\n  replaces VIR-P07 version 0.9\n  applies to \"Ward 3\"\n  "
      "languages English, Spanish\n"
      "end document\n"
      "use library \"basis.ward\"\n"
      "reading perfect hands\n"
      "variants\n  suit choice is coverall or gown\nend variants\n"
      "people\n"
      "  wearer begins in ward room wearing scrubs, suit choice\n"
      "  wearer begins wearing plastic apron only for gown\n"
      "  observer begins in store room\n"
      "  observer ends dressed, continue with VIR-P09\n"
      "  wearer acts unless a line names someone else\n"
      "end people\n"
      "endings\n"
      "  out is normal\n"
      "    wearer is in store room\n"
      "    wearer wears mask, gown only for gown\n"
      "    clean bare hands of wearer, scrubs of wearer\n"
      "  stopped is emergency, continue with VIR-P08\n"
      "end endings\n"
      "before starting, have\n  2 pair inner gloves\n  30 wipe\n  1 low bench\nend have\n"
      "rhythm\n  observer reads aloud\n  wearer repeats back\n  wearer acts\n  observer confirms\nend rhythm\n"
      "phase \"One\"\n  act \"Stand.\"\n  finish as out\nend phase\n");
}

}  // namespace

TEST_CASE("document control is kept as written") {
  const auto built = whole();
  REQUIRE_MESSAGE(built.protocol, built.codes());
  const DocumentControl& document = built->document;
  CHECK(document.title == "All of it");
  CHECK(document.number == "VIR-P07");
  CHECK(document.version == "1.10");
  CHECK(document.status == "approved");
  CHECK(document.reviewed_by[0].date == "2031-02-11");
  CHECK(document.approved_by[0].office == "board");
  CHECK(document.replaces == "VIR-P07 version 0.9");
  CHECK(document.languages == std::vector<std::string>{"English", "Spanish"});
  CHECK(built->reading == HandReading::perfect);
}

TEST_CASE("people begin somewhere, from the inside out, by variant") {
  const auto built = whole();
  REQUIRE(built->people.size() == 2);
  const PersonStart& wearer = built->people[0];
  CHECK(wearer.zone.value == at(built->zones, "ward room"));
  REQUIRE(wearer.wearing.size() == 3);
  CHECK(wearer.wearing[0].thing.item.value == at(built->items, "scrubs"));
  CHECK(wearer.wearing[1].thing.what == Thing::What::choice);
  CHECK(wearer.wearing[2].only_for.size() == 1);
  CHECK(built->people[1].ends_dressed);
  CHECK(built->people[1].continue_with == "VIR-P09");
  CHECK(built->acts.value == at(built->roles, "wearer"));
}

TEST_CASE("endings say who is where, in what, and what is clean") {
  const auto built = whole();
  REQUIRE(built->endings.size() == 2);
  const Ending& out = built->endings[0];
  CHECK(out.normal);
  REQUIRE(out.where.size() == 1);
  CHECK(out.where[0].zone.value == at(built->zones, "store room"));
  REQUIRE(out.wears.size() == 1);
  REQUIRE(out.wears[0].wearing.size() == 2);
  CHECK(out.wears[0].wearing[0].only_for.size() == 1);  // the tail is for the whole line
  CHECK(out.wears[0].wearing[1].only_for.size() == 1);
  REQUIRE(out.clean.size() == 2);
  CHECK(out.clean[0].what == Thing::What::site);
  CHECK(out.clean[1].of.value == at(built->roles, "wearer"));
  CHECK_FALSE(built->endings[1].normal);
  CHECK(built->endings[1].continue_with == "VIR-P08");
}

TEST_CASE("stock and rhythm") {
  const auto built = whole();
  REQUIRE(built->stock.size() == 3);
  CHECK(built->stock[0].count == 2);
  CHECK(built->stock[0].thing.item.value == at(built->items, "inner gloves"));
  CHECK(built->stock[1].thing.what == Thing::What::supply);
  CHECK(built->stock[2].thing.what == Thing::What::spot);
  CHECK(built->rhythm.given);
  CHECK(built->rhythm.reads.value == at(built->roles, "observer"));
  CHECK(built->rhythm.acts.value == at(built->roles, "wearer"));
}
