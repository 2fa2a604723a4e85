#pragma once
// Exact fractions for strengths and dilutions, so that "1 part with 9 parts" is never a rounded figure.

#include <cstdint>

namespace stepward {

__extension__ using Wide = __int128;

/// A fraction in lowest terms with a positive denominator. Overflow is the caller's to avoid: the figures of a label (at
/// most six digits, four of them after the point) cannot reach 64 bits in a sum or product of two of them, nor 128 bits
/// in a product of five.
template <class Whole>
struct Fraction {
  Whole num = 0;
  Whole den = 1;

  constexpr Fraction() = default;
  constexpr Fraction(Whole n, Whole d = 1) : num(n), den(d) {
    if (den < 0) { num = -num; den = -den; }
    if (const Whole g = common_divisor(num < 0 ? -num : num, den); g > 1) { num /= g; den /= g; }
  }
  template <class Narrow>
  constexpr explicit Fraction(const Fraction<Narrow>& other) : num(other.num), den(other.den) {}

  constexpr double value() const { return static_cast<double>(num) / static_cast<double>(den); }
  friend constexpr Fraction operator+(Fraction a, Fraction b) { return {a.num * b.den + b.num * a.den, a.den * b.den}; }
  friend constexpr Fraction operator-(Fraction a, Fraction b) { return {a.num * b.den - b.num * a.den, a.den * b.den}; }
  friend constexpr Fraction operator*(Fraction a, Fraction b) { return {a.num * b.num, a.den * b.den}; }
  friend constexpr Fraction operator/(Fraction a, Fraction b) { return {a.num * b.den, a.den * b.num}; }
  friend constexpr bool operator==(Fraction a, Fraction b) = default;
  friend constexpr bool operator<(Fraction a, Fraction b) { return a.num * b.den < b.num * a.den; }

 private:
  /// `std::gcd` knows no 128 bits in strict mode.
  static constexpr Whole common_divisor(Whole a, Whole b) {
    while (b != 0) {
      const Whole rest = a % b;
      a = b;
      b = rest;
    }
    return a;
  }
};

using Rational = Fraction<std::int64_t>;

}  // namespace stepward
