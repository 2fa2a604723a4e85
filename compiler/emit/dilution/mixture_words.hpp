#pragma once
// Strengths, amounts and stocks in a paper's language. The figures are those of wording/amounts.hpp.

#include "emit/paper_parts.hpp"
#include "mixture/recipe.hpp"

namespace stepward::emit {

std::string percent_words(const PaperSource& source, mixture::Exact ppm);
std::string ppm_words(const PaperSource& source, mixture::Exact ppm);
/// "400 ml", "2.5 litres".
std::string volume_words(const PaperSource& source, mixture::Exact millilitres);
/// "6 parts".
std::string parts_words(const PaperSource& source, mixture::Exact count);
/// "1 part", "7.5 g", "2 spoons of 15 ml".
std::string measured_words(const PaperSource& source, const mixture::Recipe& recipe);
/// "liquid bleach, 3.5 percent".
std::string stock_words(const PaperSource& source, const mixture::Stock& stock);
/// What is measured out for a volume, rounded to three figures: nobody reads four off a jug. Liquids in millilitres, however much.
std::string batch_words(const PaperSource& source, const mixture::Batch& batch);

}  // namespace stepward::emit
