#pragma once
// Exact fractions for strengths and dilutions, so that "1 part with 9 parts" is never a rounded figure.

#include <cstdint>
#include <numeric>

namespace stepward {

/// A fraction in lowest terms with a positive denominator. Overflow beyond 64 bits is the caller's to avoid: the
/// figures of a label (at most six digits) cannot reach it in a sum or product.
struct Rational {
  std::int64_t num = 0;
  std::int64_t den = 1;

  constexpr Rational() = default;
  constexpr Rational(std::int64_t n, std::int64_t d = 1) : num(n), den(d) {
    if (den < 0) { num = -num; den = -den; }
    if (const std::int64_t g = std::gcd(num, den); g > 1) { num /= g; den /= g; }
  }
  constexpr double value() const { return static_cast<double>(num) / static_cast<double>(den); }
  friend constexpr Rational operator+(Rational a, Rational b) { return {a.num * b.den + b.num * a.den, a.den * b.den}; }
  friend constexpr Rational operator-(Rational a, Rational b) { return {a.num * b.den - b.num * a.den, a.den * b.den}; }
  friend constexpr Rational operator*(Rational a, Rational b) { return {a.num * b.num, a.den * b.den}; }
  friend constexpr Rational operator/(Rational a, Rational b) { return {a.num * b.den, a.den * b.num}; }
  friend constexpr bool operator==(Rational a, Rational b) = default;
  friend constexpr bool operator<(Rational a, Rational b) { return a.num * b.den < b.num * a.den; }
};

}  // namespace stepward
