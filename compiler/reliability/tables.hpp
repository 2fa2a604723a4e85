#pragma once
// The figures of each published set, one table a file, and how a row is written. Only published.cpp asks for them.

#include "reliability/published.hpp"

namespace stepward::reliability {

/// A row that is a chance to fail; `error_factor` is nought where none is known.
constexpr Figure chance(std::string_view name, double value, double error_factor, Mark mark, std::string_view source) {
  return {name, FigureKind::probability,
          {value, error_factor > 0 ? std::optional<double>(error_factor) : std::nullopt}, mark, source};
}

/// A row that makes something so many times as likely.
constexpr Figure times(std::string_view name, double value, Mark mark, std::string_view source) {
  return {name, FigureKind::multiplier, {value, std::nullopt}, mark, source};
}

/// A row that makes failure certain.
constexpr Figure sure(std::string_view name, Mark mark, std::string_view source) {
  return {name, FigureKind::certain, {1, std::nullopt}, mark, source};
}

std::span<const Figure> therp_figures();
std::span<const Figure> heart_figures();
std::span<const Figure> spar_h_figures();

}  // namespace stepward::reliability
