// Seven orders that no ward would follow. Physics alone must find each, and name the face or the hand where that is the
// harm. They are run in a room that exposes the front only, which hides straps and so is the harder one, and all round.

#include <algorithm>

#include "doctest/doctest.h"

#include "orders.hpp"

using namespace stepward::published;
using stepward::diagnostics::Code;

namespace {

struct Absurd {
  Order order;
  Code code;
  std::string_view names;  ///< what the finding must name
};

const std::vector<Absurd>& absurd_orders() {
  static const std::vector<Absurd> orders = {
      {{"1 mask first, nothing cleaned", "common practice, turned round", Mark::memory_high, "gown, respirator, face shield, inner gloves",
        {"off respirator", "off face shield", "off inner gloves", "off gown"}}, Code::P101, "respirator"},
      {{"2 every disinfection deleted", "common practice, turned round", Mark::memory_high,
        "boot covers, inner gloves, gown, plastic apron, respirator, cloth hood, face shield, outer gloves",
        {"off plastic apron", "off boot covers", "off outer gloves", "off face shield", "off cloth hood", "off gown", "off respirator", "off inner gloves"}}, Code::P101, "face shield"},
      {{"3 coverall and outer gloves together, nothing cleaned", "common practice, turned round", Mark::memory_high,
        "boot covers, inner gloves, coverall, respirator, face shield, head and neck cover, plastic apron, outer gloves",
        {"off plastic apron", "off head and neck cover", "off coverall & outer gloves", "off face shield", "off respirator", "off boot covers", "off inner gloves"}}, Code::P101, "face shield"},
      {{"4 face with uncleaned outer gloves before the suit", "common practice, turned round", Mark::memory_high,
        "boot covers, inner gloves, coverall, respirator, face shield, outer gloves",
        {"off face shield", "off respirator", "hh", "off outer gloves", "hh", "off coverall", "hh", "off boot covers", "hh", "off inner gloves", "hh"}}, Code::P101, "face shield"},
      {{"5 bare unwashed hands at the face", "common practice, turned round", Mark::memory_high,
        "boot covers, inner gloves, coverall, respirator, face shield, outer gloves",
        {"off outer gloves", "off coverall", "off boot covers", "off inner gloves", "off face shield", "off respirator", "hh"}},
       Code::P101, "bare hands"},
      {{"6 gown over the head", "Tomas and others 2015, JAMA Intern Med, name it among the causes of contamination; read", Mark::read,
        "gown, respirator, face shield, inner gloves", {"hh", "off gown using pull over the head", "hh", "off face shield", "hh", "off respirator", "off inner gloves", "hh"}}, Code::P103, "hair"},
      {{"7 observer touches the wearer, then hands over gloves", "common practice, turned round", Mark::memory_high,
        "inner gloves, gown, respirator, face shield",
        {"enter", "say observer acts \"steady the wearer\" touching gown of wearer", "hh", "off inner gloves", "hh", "say observer passes 1 inner gloves to wearer",
         "don inner gloves", "off gown", "hh", "off face shield", "off respirator", "hh", "off inner gloves", "hh"}}, Code::P105, "observer"},
  };
  return orders;
}

bool names(const stepward::diagnostics::Diagnostic& d, std::string_view what) {
  const auto in = [&](const std::string& text) { return text.find(what) != std::string::npos; };
  return std::any_of(d.args.begin(), d.args.end(), in);
}

}  // namespace

TEST_CASE("seven absurd orders are found by physics alone") {
  for (const Absurd& absurd : absurd_orders())
    for (std::string_view exposes : {"front only", "all round"}) {
      const Checked checked = check_text(protocol_text(absurd.order, {.exposes = exposes}));
      CAPTURE(absurd.order.id);
      CAPTURE(exposes);
      CAPTURE(codes(checked));
      CHECK(checked.complete);
      const auto found = std::find_if(checked.errors.begin(), checked.errors.end(), [&](const auto& d) { return d.code == absurd.code && names(d, absurd.names); });
      CHECK(found != checked.errors.end());
      if (found != checked.errors.end()) CHECK(!found->story.empty());
    }
}
