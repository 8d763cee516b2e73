// Absolute temperatures are the one quantity here where plain arithmetic goes wrong (25 °C is not 25 K, and
// nothing is 10 % hotter), so they have types. A difference of two is a plain double in kelvins.
#pragma once

namespace plait {

inline constexpr double zero_celsius_in_k = 273.15;

/// An absolute temperature in degrees Celsius.
struct Celsius {
    double degc = 0.0;

    friend constexpr bool operator==(Celsius a, Celsius b) { return a.degc == b.degc; }
    friend constexpr bool operator<(Celsius a, Celsius b) { return a.degc < b.degc; }
    friend constexpr bool operator>(Celsius a, Celsius b) { return b < a; }
    /// The difference in kelvins.
    friend constexpr double operator-(Celsius a, Celsius b) { return a.degc - b.degc; }
    /// Warmer by so many kelvins.
    friend constexpr Celsius operator+(Celsius a, double rise_k) { return {a.degc + rise_k}; }
    friend constexpr Celsius operator-(Celsius a, double fall_k) { return {a.degc - fall_k}; }
};

/// The thermodynamic temperature in kelvins.
[[nodiscard]] constexpr double absolute_k(Celsius t) { return t.degc + zero_celsius_in_k; }

}  // namespace plait
