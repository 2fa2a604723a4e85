#include "model_sample.hpp"

namespace {

using namespace stepward;
using sample::at;

constexpr const char* four =
    "variants\n"
    "  suit choice is coverall or gown\n"
    "  face choice is mask or bare\n"
    "  eye choice is goggles or visor only for mask\n"
    "  never together gown with visor\n"
    "    because \"the gown is too low\"\n"
    "end variants\n";

sample::Built with_choices() {
  return sample::protocol("  act \"Goggles.\" only for goggles\n  put on suit choice using pull on\n  finish as out\n",
                          "", four);
}

}  // namespace

TEST_CASE("variants leave out what is excluded and what is not open, in a fixed order") {
  const auto built = with_choices();
  REQUIRE_MESSAGE(built.protocol, built.codes());
  const auto variants = model::all_variants(*built);
  std::vector<std::string> names;
  for (const auto& variant : variants) names.push_back(model::variant_name(*built, variant));
  CHECK(names == std::vector<std::string>{"coverall · mask · goggles", "coverall · mask · visor", "coverall · bare",
                                          "gown · mask · goggles", "gown · bare"});
  CHECK(variants[2] == model::Variant{0, 1, -1});
  REQUIRE(built->exclusions.size() == 1);
  CHECK(built->exclusions[0].because == "the gown is too low");
}

TEST_CASE("a protocol without choices has one variant") {
  const auto built = sample::protocol("  act \"Stand.\"\n  finish as out\n");
  REQUIRE(built.protocol);
  CHECK(model::all_variants(*built) == std::vector<model::Variant>{{}});
  CHECK(model::variant_name(*built, {}).empty());
}

TEST_CASE("a condition asks the choice and not what is worn") {
  const auto built = with_choices();
  const model::ChoiceValue goggles{model::ChoiceId{2u}, 0};
  CHECK(built->lines[0].only_for.size() == 1);
  CHECK(model::holds(built->lines[0].only_for, {0, 0, 0}));
  CHECK_FALSE(model::holds(built->lines[0].only_for, {0, 0, 1}));
  CHECK_FALSE(model::holds({goggles}, {0, 1, -1}));
  CHECK(model::holds({}, {0, 1, -1}));
}

TEST_CASE("a thing that is a choice stands for the item of the variant") {
  const auto built = with_choices();
  const model::Thing& suit = built->lines[1].things.at(0);
  CHECK(suit.what == model::Thing::What::choice);
  CHECK(model::item_of(*built, suit, {0, 1, -1}).value == at(built->items, "coverall"));
  CHECK(model::item_of(*built, suit, {1, 1, -1}).value == at(built->items, "gown"));
}

TEST_CASE("the usual technique is told for each item where the values differ") {
  const auto built = sample::protocol("  take off suit choice\n  take off inner gloves\n  finish as out\n", "",
                                      "variants\n  suit choice is coverall or gown\nend variants\n");
  REQUIRE_MESSAGE(built.protocol, built.codes());
  const model::Line& suit = built->lines[0];
  CHECK_FALSE(suit.technique);
  const model::ItemId coverall{at(built->items, "coverall")}, gown{at(built->items, "gown")};
  CHECK(model::technique_of(*built, suit, coverall).value == at(built->techniques, "roll down"));
  CHECK(model::technique_of(*built, suit, gown).value == at(built->techniques, "draw away"));
  CHECK(built->lines[1].technique.value == at(built->techniques, "peel inside out"));
}

TEST_CASE("too many combinations are refused") {
  std::string variants = "variants\n";
  std::string lines;
  for (int choice = 0; choice < 13; ++choice) {
    const std::string n(1, static_cast<char>('a' + choice));
    variants += "  choice " + n + " is left " + n + " or right " + n + "\n";
    lines += "  act \"One.\" only for left " + n + "\n";
  }
  const auto built = sample::protocol(lines + "  finish as out\n", "", variants + "end variants\n");
  CHECK_FALSE(built.protocol);
  CHECK(built.codes() == "V109");
}
