// Declarations, each resolved to exactly what it says.

#include "model_sample.hpp"

namespace {

using namespace stepward;
using namespace stepward::model;
using sample::at;

}  // namespace

TEST_CASE("a zone knows its risk, exposure, needs, borders and sight") {
  const auto built = sample::library(
      "zone hot room\n  risk high\n  exposes all round\n  needs suit, mask\n"
      "  leads to ward room letting through mask, any gloves\n  leads to store room\n  in sight of ward room\nend "
      "zone\n"
      "zone hatch\n  risk middle\n  exposes front only\nend zone\n");
  REQUIRE_MESSAGE(built.protocol, built.codes());
  const Zone& zone = built->zones[at(built->zones, "hot room")];
  CHECK(zone.risk == Risk::high);
  CHECK(zone.exposes == Exposes::all_round);
  CHECK(zone.called == "the hot room");
  REQUIRE(zone.needs.size() == 2);
  CHECK(zone.needs[0].kind.value == at(built->kinds, "suit"));
  CHECK_FALSE(zone.needs[0].item);
  CHECK(zone.needs[1].item.value == at(built->items, "mask"));
  REQUIRE(zone.leads_to.size() == 2);
  CHECK(zone.leads_to[0].to.value == at(built->zones, "ward room"));
  REQUIRE(zone.leads_to[0].lets_through.size() == 2);
  CHECK(zone.leads_to[0].lets_through[1].kind.value == at(built->kinds, "gloves"));
  CHECK(zone.leads_to[1].lets_through.empty());
  CHECK(zone.in_sight_of == std::vector<ZoneId>{ZoneId{at(built->zones, "ward room")}});
  CHECK(built->zones[at(built->zones, "hatch")].exposes == Exposes::front_only);
}

TEST_CASE("a person knows where to go and whom to keep off, with a source") {
  const auto built = sample::library(
      "role runner\n  may enter ward room\n  keeps hands off wearer, observer\n  source quoted by another \"page "
      "3\"\nend role\n");
  REQUIRE_MESSAGE(built.protocol, built.codes());
  const Role& role = built->roles[at(built->roles, "runner")];
  CHECK(role.may_enter.size() == 1);
  CHECK(role.keeps_hands_off ==
        std::vector<RoleId>{RoleId{at(built->roles, "wearer")}, RoleId{at(built->roles, "observer")}});
  REQUIRE(role.sources.size() == 1);
  CHECK(role.sources[0].mark == SourceMark::quoted_by_another);
  CHECK(role.sources[0].text == "page 3");
}

TEST_CASE("body sites, kinds, findings, fixtures, supplies and surfaces") {
  const auto built = sample::library(
      "body site hair is hair\n"
      "finding gap\n  means skin showing\n  answered by declaring exposure, reporting\n  before any ending\n  called "
      "\"a gap\"\nend finding\n"
      "fixture drip tray in ward room, made of hard surface, meant for dirty things\n"
      "surface wet patch\n  made of hard surface\n  begins soiled\n  stands in store room\nend surface\n");
  REQUIRE_MESSAGE(built.protocol, built.codes());
  CHECK(built->sites[at(built->sites, "bare hands")].is_hands);
  CHECK(built->sites[at(built->sites, "bare hands")].called == "your bare hands");
  CHECK(built->sites[at(built->sites, "face")].nature == SiteNature::mucous);
  CHECK(built->sites[at(built->sites, "hair")].nature == SiteNature::hair);
  CHECK(built->kinds[at(built->kinds, "gloves")].counted_by == "pair");
  const Finding& gap = built->findings[at(built->findings, "gap")];
  CHECK(gap.means == FindingMeans::skin_showing);
  CHECK(gap.before == Deadline::any_ending);
  CHECK(gap.called == "a gap");
  REQUIRE(gap.answered_by.size() == 2);
  CHECK(gap.answered_by[0].kind == AnswerKind::declaring);
  CHECK(gap.answered_by[0].mark == "exposure");
  CHECK(gap.answered_by[1].kind == AnswerKind::reporting);
  const Spot& tray = built->spots[at(built->spots, "drip tray")];
  CHECK(tray.is_fixture);
  CHECK(tray.meant_for_dirty);
  CHECK(tray.zone.value == at(built->zones, "ward room"));
  CHECK(tray.made_of.value == at(built->kinds, "hard surface"));
  const Spot& patch = built->spots[at(built->spots, "wet patch")];
  CHECK_FALSE(patch.is_fixture);
  CHECK(patch.begins == Level::soiled);
  CHECK(built->supplies[at(built->supplies, "wipe")].counted_by == "box");
}

TEST_CASE("an item with every detail") {
  const auto built = sample::library(
      "item Rain Coat\n  kind suit, apron\n  worn on torso, legs\n  reusable\n  surfaces outside, hem exposed, tie "
      "sheltered, inside, inner pocket inside\n"
      "  goes over scrubs, face\n  goes over cuff of inner gloves, front of mask loosely\n  inside rests on what it "
      "covers\n  stays on\n"
      "  usually put on using pull on\n  called \"the long coat\"\nend item\n");
  REQUIRE_MESSAGE(built.protocol, built.codes());
  const Item& item = built->items[at(built->items, "Rain Coat")];
  CHECK(item.kinds.size() == 2);
  CHECK(item.worn_on.size() == 2);
  CHECK(item.reusable);
  CHECK(item.stays_on);
  CHECK(item.inside_rests);
  CHECK_FALSE(item.clothing);
  CHECK(item.called == "the long coat");
  REQUIRE(item.surfaces.size() == 5);
  CHECK(item.surfaces[0].reach == Reach::exposed);
  CHECK(item.surfaces[1].name == "hem");
  CHECK(item.surfaces[1].reach == Reach::exposed);
  CHECK(item.surfaces[2].reach == Reach::sheltered);
  CHECK(item.surfaces[3].reach == Reach::inside);
  CHECK(item.surfaces[4].name == "inner pocket");
  CHECK(item.surfaces[4].reach == Reach::inside);
  REQUIRE(item.goes_over.size() == 4);
  CHECK(item.goes_over[0].item.value == at(built->items, "scrubs"));
  CHECK_FALSE(item.goes_over[0].part.has_value());
  CHECK_FALSE(item.goes_over[0].loosely);
  CHECK(item.goes_over[1].site.value == at(built->sites, "face"));
  CHECK(item.goes_over[2].part == 1);
  CHECK(item.goes_over[2].loosely);
  CHECK(item.goes_over[3].item.value == at(built->items, "mask"));
  CHECK(item.usually_put_on.value == at(built->techniques, "pull on"));
  CHECK_FALSE(item.usually_taken_off);
}

TEST_CASE("an agent with every detail, exactly") {
  const auto built = sample::library(
      "agent violet wash\n  made from \"crystals\" at 2.5 percent\n  fill 50 ml to 2 litres with \"tap water\"\n  "
      "strength 625 ppm\n"
      "  works on any gloves, mask, face, low bench\n  never on legs\n  contact time 90 seconds on gloves, mask\n  "
      "contact time 1 hour otherwise\n"
      "  only after soil is cleaned\n  keeps 24 hours once mixed\n  source local \"formulary\"\nend agent\n");
  REQUIRE_MESSAGE(built.protocol, built.codes());
  CHECK(built.codes().empty());
  const Agent& agent = built->agents[at(built->agents, "violet wash")];
  CHECK_FALSE(agent.ready_to_use);
  CHECK(agent.stock.name == "crystals");
  CHECK(agent.diluent == "tap water");
  CHECK(agent.stock.ppm == Rational(25'000));
  REQUIRE(agent.recipe.has_value());
  CHECK(agent.recipe->how == mixture::Recipe::How::filled_up);
  CHECK(agent.recipe->stock.count == Rational(50));
  CHECK(agent.recipe->stock.unit == mixture::Unit::millilitre);
  CHECK(agent.recipe->other == Rational(2000));
  CHECK(agent.strength_ppm == Rational(625));
  REQUIRE(agent.works_on.size() == 4);
  CHECK(agent.works_on[0].kind.value == at(built->kinds, "gloves"));
  CHECK(agent.works_on[1].item.value == at(built->items, "mask"));
  CHECK(agent.works_on[2].site.value == at(built->sites, "face"));
  CHECK(agent.works_on[3].spot.value == at(built->spots, "low bench"));
  REQUIRE(agent.contact_times.size() == 2);
  CHECK(agent.contact_times[0].time == Duration{90});
  CHECK(agent.contact_times[0].on.size() == 2);
  CHECK(agent.contact_times[1].time == Duration{3600});
  CHECK(agent.contact_times[1].on.empty());
  CHECK(agent.keeps == Duration{86400});
  CHECK(agent.only_after_cleaning);
  const Agent& strong = built->agents[at(built->agents, "strong chlorine")];
  REQUIRE(strong.recipe.has_value());
  CHECK(strong.recipe->stock.count == Rational(1));
  CHECK(strong.recipe->other == Rational(9));
}

TEST_CASE("a dilution is held against its label without rounding, but for half a ppm") {
  const auto codes = [](const char* mix, const char* strength) {
    return sample::library(std::string("agent wash\n  made from \"stock\" at 5.25 percent\n  ") + mix +
                           "\n  strength " + strength + "\n  works on suit\nend agent\n")
        .codes();
  };
  CHECK(codes("mix 1 part with 9 parts \"water\"", "5250 ppm").empty());
  CHECK(codes("mix 1 part with 9 parts \"water\"", "0.525 percent").empty());
  CHECK(codes("mix 1 part with 9 parts \"water\"", "5251 ppm") == "T702");
  CHECK(codes("mix 1 part with 10 parts \"water\"", "4773 ppm").empty());  // 4772.73
  CHECK(codes("mix 1 part with 10 parts \"water\"", "4772 ppm") == "T702");
  CHECK(codes("mix 1 part with 1 part \"water\"", "5.3 percent") == "T703");
}

TEST_CASE("a ratio is refused with both strengths, and the one that fits the label is offered") {
  const auto built = sample::library(
      "agent wash\n  made from \"stock\" at 5 percent\n  mix 1:10 \"cold water\"\n  strength 4545 ppm\n  works on "
      "suit\nend agent\n");
  REQUIRE(built.codes() == "T701");
  CHECK(built.sink[0].args[1] == "1 part with 9 parts gives 5 000 ppm");
  CHECK(built.sink[0].args[2] == "1 part with 10 parts gives 4 545 ppm");
  CHECK(built.sink[0].fix == "mix 1 part with 10 parts \"cold water\"");
}

TEST_CASE("a technique with every detail") {
  const auto built = sample::library(
      "technique fold up\n  takes off any apron with any gloves, gown\n  cleans anything\n  puts on any item\n"
      "  handles outside of it, front of gown\n  handles inside of it held away from the body\n"
      "  brushes outside of it against face\n  may brush it against what it covers\n  drops it into wipe\n  uses up 2 "
      "wipe\n"
      "  words on gloves \"Fold [item].\"\n  words otherwise \"Roll [item].\"\n  watch \"No gap.\"\n  because \"it is "
      "short\"\n"
      "  source read \"page 9\"\nend technique\n");
  REQUIRE_MESSAGE(built.protocol, built.codes());
  const Technique& technique = built->techniques[at(built->techniques, "fold up")];
  REQUIRE(technique.serves.size() == 4);
  REQUIRE(technique.serves[0].together.size() == 2);
  CHECK(technique.serves[0].together[0].kind.value == at(built->kinds, "apron"));
  CHECK(technique.serves[1].together.size() == 1);
  CHECK(technique.serves[1].together[0].item.value == at(built->items, "gown"));
  CHECK(technique.serves[2].use == TechniqueUse::cleans);
  CHECK(technique.serves[2].together[0].anything);
  CHECK_FALSE(technique.serves[2].together[0].items_only);
  CHECK(technique.serves[3].together[0].items_only);
  REQUIRE(technique.handles.size() == 3);
  CHECK(technique.handles[0].thing.part == "outside");
  CHECK_FALSE(technique.handles[0].held_away);
  CHECK(technique.handles[1].thing.item.value == at(built->items, "gown"));
  CHECK(technique.handles[2].held_away);
  REQUIRE(technique.brushes.size() == 2);
  CHECK(technique.brushes[0].always);
  CHECK(technique.brushes[0].against.site.value == at(built->sites, "face"));
  CHECK_FALSE(technique.brushes[1].always);
  CHECK(technique.brushes[1].against.what == TechniqueThing::What::what_it_covers);
  CHECK(technique.drops_into == "wipe");
  REQUIRE(technique.uses_up.size() == 1);
  CHECK(technique.uses_up[0].count == 2);
  REQUIRE(technique.wording.words.size() == 2);
  CHECK(technique.wording.words[0].on.size() == 1);
  CHECK(technique.wording.words[1].otherwise);
  CHECK(technique.wording.watch[0].text == "No gap.");
  CHECK(technique.because == "it is short");
}

TEST_CASE("verbs are worded by kind") {
  const auto built = sample::library("verb takes off\n  words \"TAKE OFF [item].\"\n  if not \"Stop.\"\nend verb\n");
  REQUIRE_MESSAGE(built.protocol, built.codes());
  REQUIRE(built->verb_wordings.size() == 1);
  CHECK(built->verb_wordings[0].verb == VerbKind::doff);
  CHECK(built->verb_wordings[0].wording.if_not[0].text == "Stop.");
}

TEST_CASE("a declaration that is wrong still declares its name") {
  const auto built = sample::library(
      "item veil\n  kind nothing known\n  worn on face\n  surfaces front, straps\nend item\n"
      "technique lift\n  takes off veil\n  handles front of it\nend technique\n"
      "item cape\n  worn on torso\n  surfaces outside\n  goes over front of veil\nend item\n");
  CHECK(built.codes() == "N101");
}
