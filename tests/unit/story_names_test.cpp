// Names in findings: number, gaps with two forms, and whose a thing is.
#include <doctest/doctest.h>

#include "wording/messages.hpp"
#include "wording/story.hpp"

using namespace stepward;

TEST_CASE("names: garments and parts of the body take the right number") {
  for (const char* several :
       {"inner gloves", "goggles", "hands (inner gloves)", "ties of gown", "feet", "fresh inner gloves"}) {
    CAPTURE(several);
    CHECK(wording::is_plural(several));
  }
  for (const char* one : {"gown", "cuff of inner gloves", "face", "harness", "glass", "plastic apron", ""}) {
    CAPTURE(one);
    CHECK_FALSE(wording::is_plural(one));
  }
}

TEST_CASE("messages: a gap of two forms follows the number of its argument") {
  CHECK(wording::fill("{0} {0:is|are} off", {"goggles"}) == "goggles are off");
  CHECK(wording::fill("{0} {0:is|are} off", {"gown"}) == "gown is off");
  CHECK(wording::fill("{1:goes|go} on over {0}", {"gown", "gloves"}) == "go on over gown");
  CHECK(wording::fill("{0:is}", {"gown"}) == "{0:is}");
  CHECK(wording::fill("{9:is|are}", {"gown"}) == "is");
}

TEST_CASE("messages: a headline sheds an empty gap at its end with the colon before it") {
  CHECK(wording::headline(diagnostics::Code::F801, {""}) == "not every path was walked");
  CHECK(wording::headline(diagnostics::Code::F801, {"gown"}) == "not every path was walked: gown");
}

TEST_CASE("names: whose a thing is stands only where it is another person's") {
  model::Protocol p;
  p.roles.resize(2);
  p.roles[0].name = "wearer";
  p.roles[1].name = "helper";
  p.acts = model::RoleId(0u);
  p.sites.resize(1);
  p.sites[0].name = "bare hands";
  p.sites[0].is_hands = true;
  p.items.resize(1);
  p.items[0].name = "inner gloves";
  p.items[0].worn_on = {model::SiteId(0u)};
  using B = effects::Bearer;
  const auto gloves_of = [](std::uint32_t role) {
    return B{B::What::worn, model::RoleId(role), model::ItemId(0u), {}, {}};
  };
  const auto skin_of = [](std::uint32_t role) {
    return B{B::What::site, model::RoleId(role), {}, model::SiteId(0u), {}};
  };
  CHECK(wording::bearer_name(p, gloves_of(0)) == "inner gloves");
  CHECK(wording::bearer_name(p, gloves_of(1)) == "helper's inner gloves");
  CHECK(wording::hand_name(p, gloves_of(0)) == "hands (inner gloves)");
  CHECK(wording::hand_name(p, gloves_of(1)) == "helper's hands (inner gloves)");
  CHECK(wording::hand_name(p, skin_of(0)) == "bare hands");
  CHECK(wording::bearer_name(p, {B::What::fresh, {}, model::ItemId(0u), {}, {}}) == "fresh inner gloves");
}
