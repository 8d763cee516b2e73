#include "quantity.hpp"

#include "words.hpp"

#include <fmt/core.h>

#include <array>
#include <cmath>
#include <limits>
#include <locale>
#include <sstream>
#include <utility>

namespace plait::input {
namespace {

constexpr std::size_t longest_quantity = 60;

// ft, in: exact, 0.3048 m and 25.4 mm. °F: exact definition, (t − 32)·5/9 °C. K: 0 °C is 273.15 K by definition.
constexpr std::array unit_table{
    Unit{"V", Dimension::voltage, 1.0},
    Unit{"mV", Dimension::voltage, 1e-3},
    Unit{"kV", Dimension::voltage, 1e3},
    Unit{"A", Dimension::current, 1.0},
    Unit{"mA", Dimension::current, 1e-3},
    Unit{"W", Dimension::power, 1.0},
    Unit{"kW", Dimension::power, 1e3},
    Unit{"ohm", Dimension::resistance, 1.0},
    Unit{"Ω", Dimension::resistance, 1.0},
    Unit{"mΩ", Dimension::resistance, 1e-3},
    Unit{"mohm", Dimension::resistance, 1e-3},
    Unit{"kΩ", Dimension::resistance, 1e3},
    Unit{"°C", Dimension::temperature, 1.0},
    Unit{"C", Dimension::temperature, 1.0},
    Unit{"°F", Dimension::temperature, 5.0 / 9.0, -160.0 / 9.0},
    Unit{"F", Dimension::temperature, 5.0 / 9.0, -160.0 / 9.0},
    Unit{"K", Dimension::temperature, 1.0, -273.15},
    Unit{"K", Dimension::difference, 1.0},
    Unit{"°C", Dimension::difference, 1.0},
    Unit{"C", Dimension::difference, 1.0},
    Unit{"°F", Dimension::difference, 5.0 / 9.0},
    Unit{"F", Dimension::difference, 5.0 / 9.0},
    Unit{"W/m²", Dimension::irradiance, 1.0},
    Unit{"kW/m²", Dimension::irradiance, 1e3},
    Unit{"%", Dimension::ratio, 1e-2},
    Unit{"%/K", Dimension::ratio_per_k, 1e-2},
    Unit{"1/K", Dimension::ratio_per_k, 1.0},
    Unit{"V/K", Dimension::voltage_per_k, 1.0},
    Unit{"mV/K", Dimension::voltage_per_k, 1e-3},
    Unit{"A/K", Dimension::current_per_k, 1.0},
    Unit{"mA/K", Dimension::current_per_k, 1e-3},
    Unit{"W/K", Dimension::power_per_k, 1.0},
    Unit{"mW/K", Dimension::power_per_k, 1e-3},
    Unit{"V/K per cell", Dimension::cell_voltage_per_k, 1.0},
    Unit{"mV/K per cell", Dimension::cell_voltage_per_k, 1e-3},
    Unit{"m", Dimension::length, 1.0},
    Unit{"cm", Dimension::length, 1e-2},
    Unit{"mm", Dimension::length, 1e-3},
    Unit{"ft", Dimension::length, 0.3048},
    Unit{"in", Dimension::length, 0.0254},
    Unit{"mm²", Dimension::area, 1.0},
    Unit{"AWG", Dimension::gauge, 1.0},
    Unit{"Ω/km", Dimension::resistance_per_length, 1e-3},
    Unit{"ohm/km", Dimension::resistance_per_length, 1e-3},
    Unit{"mΩ/m", Dimension::resistance_per_length, 1e-3},
    Unit{"Ω/kft", Dimension::resistance_per_length, 1.0 / 304.8},
    Unit{"ohm/kft", Dimension::resistance_per_length, 1.0 / 304.8},
};

void replace_all(std::string& text, std::string_view what, std::string_view by) {
    for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + by.size())) {
        text.replace(at, what.size(), by);
    }
}

bool begins(std::string_view text, std::string_view what) {
    if (text.size() < what.size()) return false;
    for (std::size_t i = 0; i < what.size(); ++i) {
        if (lower(text[i]) != what[i]) return false;
    }
    return true;
}

// The end of [sign] digits [. digits] [e [sign] digits]; 0 if there is no number.
std::size_t number_end(std::string_view text) {
    std::size_t i = 0;
    if (i < text.size() && (text[i] == '+' || text[i] == '-')) ++i;
    const std::size_t whole = i;
    while (i < text.size() && is_digit(text[i])) ++i;
    bool any = i > whole;
    if (i < text.size() && text[i] == '.') {
        const std::size_t fraction = ++i;
        while (i < text.size() && is_digit(text[i])) ++i;
        any = any || i > fraction;
    }
    if (!any) return 0;
    if (i + 1 < text.size() && (text[i] == 'e' || text[i] == 'E')) {
        std::size_t k = i + 1;
        if (text[k] == '+' || text[k] == '-') ++k;
        const std::size_t exponent = k;
        while (k < text.size() && is_digit(text[k])) ++k;
        if (k > exponent) i = k;
    }
    return i;
}

// The library's own parsing of decimals is not in every standard library yet; a stream held to the classic locale
// reads them correctly rounded in all of them.
double number_from(const std::string& text) {
    std::istringstream stream(text);
    stream.imbue(std::locale::classic());
    double value = 0.0;
    stream >> value;
    // "1e999" fails; so does "1e-999" in some libraries, which is nought for every purpose here.
    if (stream.fail() && std::abs(value) < 1.0) return 0.0;
    return stream.fail() ? std::numeric_limits<double>::infinity() : value;
}

}  // namespace

std::span<const Unit> units() { return unit_table; }

std::string_view dimension_name(Dimension dimension) {
    switch (dimension) {
        case Dimension::none:
            return "a plain number";
        case Dimension::voltage:
            return "a voltage";
        case Dimension::current:
            return "a current";
        case Dimension::power:
            return "a power";
        case Dimension::resistance:
            return "a resistance";
        case Dimension::temperature:
            return "a temperature";
        case Dimension::difference:
            return "a temperature difference";
        case Dimension::irradiance:
            return "an irradiance";
        case Dimension::ratio:
            return "a percentage";
        case Dimension::ratio_per_k:
            return "a relative change per kelvin";
        case Dimension::voltage_per_k:
            return "a voltage change per kelvin";
        case Dimension::current_per_k:
            return "a current change per kelvin";
        case Dimension::power_per_k:
            return "a power change per kelvin";
        case Dimension::cell_voltage_per_k:
            return "a voltage change per kelvin of one cell";
        case Dimension::length:
            return "a length";
        case Dimension::area:
        case Dimension::gauge:
            return "a conductor size";
        case Dimension::resistance_per_length:
            return "a resistance per length";
    }
    return "";
}

std::string normal_unit(std::string_view unit) {
    std::string text(trimmed(unit));
    using Pair = std::pair<std::string_view, std::string_view>;
    constexpr std::array<Pair, 13> same{
        Pair{"\u00A0", " "},
        Pair{"º", "°"},
        Pair{"˚", "°"},
        Pair{"℃", "°C"},
        Pair{"℉", "°F"},
        Pair{"\u2126", "Ω"},
        Pair{"° C", "°C"},
        Pair{"° F", "°F"},
        Pair{" /", "/"},
        Pair{"/ ", "/"},
        Pair{"m^2", "m²"},
        Pair{"/°C", "/K"},
        Pair{"/cell", " per cell"},
    };
    for (const auto& [spelling, normal] : same) replace_all(text, spelling, normal);
    if (text.size() >= 2 && text.substr(text.size() - 2) == "m2") text.replace(text.size() - 1, 1, "²");
    replace_all(text, "/C per", "/K per");
    if (text.size() >= 2 && text.substr(text.size() - 2) == "/C") text.back() = 'K';
    while (text.find("  ") != std::string::npos) replace_all(text, "  ", " ");
    text = std::string(trimmed(text));
    if (text == "Ohm" || text == "ohms") text = "ohm";
    return text;
}

double in_base_unit(double number, const Unit& unit) { return number * unit.factor + unit.offset; }

std::string fahrenheit_reading(double number) {
    return fmt::format("{} °F, which is {:.3g} °C", plain(number), (number - 32.0) * 5.0 / 9.0);
}

Result<NumberAndUnit, std::string> split_quantity(std::string_view written) {
    using Text = std::string;
    if (trimmed(written).empty()) return Failure{Text("is empty")};
    if (character_count(written) > longest_quantity) return Failure{Text("is far too long for a number with a unit")};
    std::string text(trimmed(written));
    replace_all(text, "\u2212", "-");  // the typographic minus, as datasheets print it
    if (text.size() > 1 && (text[0] == '-' || text[0] == '+') && text[1] == ' ') text.erase(1, 1);

    const std::string_view unsigned_text = std::string_view(text).substr(text[0] == '-' || text[0] == '+' ? 1 : 0);
    if (begins(unsigned_text, "nan") || begins(unsigned_text, "inf")) return Failure{Text("is not a finite number")};
    const std::size_t end = number_end(text);
    if (end == 0) return Failure{Text("does not begin with a number")};
    if (end + 1 < text.size() && text[end] == ',' && is_digit(text[end + 1])) {
        std::string with_point = text;
        with_point[end] = '.';
        return Failure{
            fmt::format("uses a comma. Write the decimal point, \"{}\", and no sign between thousands", with_point)};
    }
    const double number = number_from(text.substr(0, end));
    if (!std::isfinite(number)) return Failure{Text("is too large a number")};
    return NumberAndUnit{number, normal_unit(std::string_view(text).substr(end))};
}

}  // namespace plait::input
