// Dilutions and powders against published tables and recipes, each with its source and how it was seen beside it.

#include <algorithm>

#include "doctest/doctest.h"

#include "mixture/recipe.hpp"
#include "orders.hpp"
#include "wording/amounts.hpp"
#include "wording/messages.hpp"

using namespace stepward;
using namespace stepward::published;
using diagnostics::Code;
using mixture::Exact;
using wording::figure_phrase;

namespace {

/// A protocol with an agent that is made from a stock ("at 5 percent") by a line of its own, to so many percent.
std::string with_recipe(const std::string& stock, const std::string& line, const std::string& wanted) {
  std::string text = protocol_text({"dilution", "", Mark::read, "inner gloves", {"hh", "off inner gloves", "rub", "exit"}}, {});
  const std::string joined = line.rfind("fill", 0) == 0 ? " with" : "";
  const std::string agent = "agent test chlorine\n  made from \"bleach\" " + stock + "\n  " + line + joined + " \"cold water\"\n  strength " + wanted +
                            " percent\n  works on gloves\n  contact time 1 minute otherwise\nend agent\n\n";
  return text.insert(text.find("endings\n"), agent);
}

const model::Agent* agent_of(const Checked& checked, const std::string& name) {
  if (!checked.protocol) return nullptr;
  for (const model::Agent& agent : checked.protocol->agents) {
    if (agent.name == name) return &agent;
  }
  return nullptr;
}

Exact percent(Rational figure) { return Exact(figure) * Exact(10'000); }

bool found(const Checked& checked, Code code) {
  return std::any_of(checked.errors.begin(), checked.errors.end(), [&](const auto& error) { return error.code == code; });
}

std::string hint_of(const Checked& checked, Code code) {
  const auto error = std::find_if(checked.errors.begin(), checked.errors.end(), [&](const auto& each) { return each.code == code; });
  return wording::hint(code, error->args);
}

bool found_T(const Checked& checked) {
  for (const auto& d : checked.errors) if (stepward::diagnostics::code_name(d.code).starts_with("T")) return true;
  return false;
}

}  // namespace

TEST_CASE("parts of water, four significant digits, for eleven stocks and four strengths") {
  // Reckoned from the formula of CDC, Best Practices for Environmental Cleaning in Limited Resources, appendix E (read):
  // parts of water to one part of stock = percent of the stock / percent wanted - 1. The stocks are those in print.
  struct Row { Rational stock; const char* parts[4]; };
  const Rational wanted[4] = {{1, 20}, {1, 10}, {1, 2}, {1}};
  const Row rows[] = {
      {{26, 10}, {"51", "25", "4.2", "1.6"}},       {{3}, {"59", "29", "5", "2"}},
      {{35, 10}, {"69", "34", "6", "2.5"}},         {{36, 10}, {"71", "35", "6.2", "2.6"}},
      {{5}, {"99", "49", "9", "4"}},                {{525, 100}, {"104", "51.5", "9.5", "4.25"}},
      {{6}, {"119", "59", "11", "5"}},              {{615, 100}, {"122", "60.5", "11.3", "5.15"}},
      {{825, 100}, {"164", "81.5", "15.5", "7.25"}}, {{10}, {"199", "99", "19", "9"}},
      {{12}, {"239", "119", "23", "11"}},
  };
  for (const Row& row : rows) {
    for (std::size_t at = 0; at < 4; ++at) {
      CAPTURE(row.stock.value());
      CHECK(figure_phrase(mixture::parts_of_diluent(percent(row.stock), percent(wanted[at]))) == row.parts[at]);
    }
  }
}

TEST_CASE("grams of powder for a litre, four significant digits, for five powders and five strengths") {
  // The same appendix (read): grams per litre = percent wanted / percent active * 1000. Its worked example, 35 percent to 0.5
  // percent, prints 14.3; older leaflets print 14.2.
  struct Row { Rational active; const char* grams[5]; };
  const Rational wanted[5] = {{1, 20}, {1, 10}, {1, 2}, {1}, {2}};
  const Row rows[] = {
      {{25}, {"2", "4", "20", "40", "80"}},
      {{30}, {"1.667", "3.333", "16.67", "33.33", "66.67"}},
      {{35}, {"1.429", "2.857", "14.29", "28.57", "57.14"}},
      {{65}, {"0.7692", "1.538", "7.692", "15.38", "30.77"}},
      {{70}, {"0.7143", "1.429", "7.143", "14.29", "28.57"}},
  };
  for (const Row& row : rows) {
    for (std::size_t at = 0; at < 5; ++at) {
      CAPTURE(row.active.value());
      CHECK(figure_phrase(mixture::grams_per_litre(percent(row.active), percent(wanted[at]))) == row.grams[at]);
    }
  }
}

TEST_CASE("recipes in print give what was reckoned from them, and those that are wrong in print are found to be") {
  enum class Fit { same, near, off };
  struct Row { const char *source, *stock, *recipe, *wanted, *gives; Fit fit; };
  const Row rows[] = {
      {"CDC appendix E (read)", "at 3.5 percent", "mix 1 part with 6 parts", "0.5", "0.5", Fit::same},
      {"WHO 2014, table G.1 (read): printed as 1:100", "at 5 percent", "mix 1 part with 99 parts", "0.05", "0.05", Fit::same},
      {"IFRC action 39 (read)", "at 5 percent", "mix 400 parts with 600 parts", "2", "2", Fit::same},
      {"IFRC action 39 (read)", "at 5 percent", "mix 100 parts with 900 parts", "0.5", "0.5", Fit::same},
      {"IFRC action 39 (read)", "at 5 percent", "mix 40 parts with 960 parts", "0.2", "0.2", Fit::same},
      {"IFRC action 39 (read)", "at 5 percent", "mix 10 parts with 990 parts", "0.05", "0.05", Fit::same},
      {"IFRC action 39 (read): calcium hypochlorite", "at 70 percent", "dissolve 30 g in 1 litre", "2", "2.1", Fit::near},
      {"IFRC action 39 (read): calcium hypochlorite", "at 70 percent", "dissolve 7.5 g in 1 litre", "0.5", "0.525", Fit::near},
      {"IFRC action 39 (read): calcium hypochlorite", "at 70 percent", "dissolve 3 g in 1 litre", "0.2", "0.21", Fit::near},
      {"IFRC action 39 (read): calcium hypochlorite", "at 70 percent", "dissolve 0.7 g in 1 litre", "0.05", "0.049", Fit::near},
      {"IFRC action 39 (read): tablets as labelled", "with 8.68 g active each", "dissolve 4 tablets in 1 litre", "2", "3.472", Fit::off},
      {"IFRC action 39 (read): tablets as labelled", "with 8.68 g active each", "dissolve 1 tablet in 1 litre", "0.5", "0.868", Fit::off},
      {"IFRC action 39 (read): tablets as labelled", "with 8.68 g active each", "dissolve 4 tablets in 10 litres", "0.2", "0.3472", Fit::off},
      {"IFRC action 39 (read): tablets as labelled", "with 8.68 g active each", "dissolve 1 tablet in 10 litres", "0.05", "0.0868", Fit::off},
      {"the same, if a tablet yields 5 g (reckoned)", "with 5 g active each", "dissolve 4 tablets in 1 litre", "2", "2", Fit::same},
      {"UNICEF cholera table, appendix 9 (read): 10 ml in 1 litre, as added", "at 5 percent", "add 10 ml to 1 litre", "0.05", "0.0495", Fit::near},
      {"UNICEF cholera table (read), as added", "at 5 percent", "add 40 ml to 1 litre", "0.2", "0.1923", Fit::near},
      {"UNICEF cholera table (read), as added", "at 5 percent", "add 400 ml to 1 litre", "2", "1.429", Fit::off},
      {"UNICEF cholera table (read), as made up to", "at 5 percent", "fill 400 ml to 1 litre", "2", "2", Fit::same},
      {"CDC hand washing (read): tablespoons", "at 5 percent", "add 14 spoons of 14.79 ml to 20 litres", "0.05", "0.05123", Fit::near},
      {"the same with the spoon of the cholera table (read)", "at 5 percent", "add 14 spoons of 10 ml to 20 litres", "0.05", "0.03476", Fit::off},
      {"CDC, making chlorine solution (read)", "at 5 percent", "fill 400 ml to 20 litres", "0.1", "0.1", Fit::same},
      {"CDC, making chlorine solution (read)", "at 70 percent", "dissolve 30 g in 20 litres", "0.1", "0.105", Fit::near},
      {"CDC, making chlorine solution (read)", "at 35 percent", "dissolve 60 g in 20 litres", "0.1", "0.105", Fit::near},
      {"CDC poster 25805 (read): strong", "at 2.6 percent", "mix 1 part with 4 parts", "0.5", "0.52", Fit::near},
      {"CDC poster 25805 (read): mild, from bleach", "at 2.6 percent", "mix 1 part with 100 parts", "0.05", "0.02574", Fit::off},
      {"CDC poster 25805 (read): mild, from strong", "at 0.52 percent", "mix 1 part with 9 parts", "0.05", "0.052", Fit::near},
      {"HICPAC 2003 and CDC 2008 (read in another's account)", "at 5.25 percent", "mix 1 part with 9 parts", "0.525", "0.525", Fit::same},
      {"HICPAC 2003 and CDC 2008 (read in another's account)", "at 6.15 percent", "mix 1 part with 9 parts", "0.615", "0.615", Fit::same},
      {"HICPAC 2003 and CDC 2008 (read in another's account)", "at 5.25 percent", "mix 1 part with 99 parts", "0.0525", "0.0525", Fit::same},
      {"HICPAC 2003 and CDC 2008 (read in another's account)", "at 6.15 percent", "mix 1 part with 99 parts", "0.0615", "0.0615", Fit::same},
  };
  for (const Row& row : rows) {
    CAPTURE(row.source);
    CAPTURE(row.recipe);
    const Checked checked = check_text(with_recipe(row.stock, row.recipe, row.wanted));
    const model::Agent* agent = agent_of(checked, "test chlorine");
    REQUIRE(agent != nullptr);
    REQUIRE(agent->recipe.has_value());
    const Exact gives = *mixture::strength_of(agent->stock, *agent->recipe), wanted(*agent->strength_ppm);
    CHECK(figure_phrase(gives / Exact(10'000)) == row.gives);
    CHECK(mixture::is_same_strength(gives, wanted) == (row.fit == Fit::same));
    CHECK(mixture::is_near(gives, wanted) == (row.fit != Fit::off));
    CHECK(found(checked, Code::T702) == (row.fit != Fit::same));  // a label that is written down has to be right to the ppm
  }
}

TEST_CASE("recipes that read two ways are refused with what each reading gives") {
  // CDC's hand-washing page says tablespoons (14.79 ml), the UNICEF cholera table calls 10 ml a spoon (both read).
  const Checked spoons = check_text(with_recipe("at 5 percent", "add 14 spoons to 20 litres", "0.05"));
  REQUIRE(found(spoons, Code::T708));
  CHECK(hint_of(spoons, Code::T708) == "add 14 spoons of 15 ml to 20 litres gives 520 ppm; add 14 spoons of 10 ml to 20 litres gives 348 ppm");
  // 1:10 is 1 with 9 in HICPAC 2003 (read in another's account) and 1 with 10 to many who mix.
  const Checked ratio = check_text(with_recipe("at 5 percent", "mix 1:10", "0.5"));
  REQUIRE(found(ratio, Code::T701));
  CHECK(hint_of(ratio, Code::T701) == "1 part with 9 parts gives 5 000 ppm; 1 part with 10 parts gives 4 545 ppm");
  // The same table, "400 ml in 1 litre": added it is too weak, and the finding says what it means if it is made up to a litre.
  const Checked added = check_text(with_recipe("at 5 percent", "add 400 ml to 1 litre", "2"));
  REQUIRE(found(added, Code::T702));
  CHECK(hint_of(added, Code::T702) == "fill 400 ml to 1 litre gives 20 000 ppm");
}

TEST_CASE("a stock that is weaker than what is wanted is refused, one that is as strong needs no water") {
  CHECK(found(check_text(with_recipe("at 5 percent", "mix 1 part with 1 part", "6")), Code::T703));
  CHECK(mixture::parts_of_diluent(percent({5}), percent({5})) == Exact(0));
  CHECK(found(check_text(with_recipe("at 5 percent", "mix 1 part with 0 parts", "5")), Code::T706));
}

TEST_CASE("a degree of chlorum is 0.3 percent of active chlorine") {
  // CDC appendix E (read).
  const Checked checked = check_text(with_recipe("at 12 degrees chlorum", "mix 1 part with 35 parts", "0.1"));
  CHECK(!found_T(checked));
}
