#include "units.hpp"

#include "words.hpp"

#include <plait/base/names.hpp>

#include <algorithm>
#include <array>
#include <utility>

namespace plait::input {
namespace {

using D = Dimension;

// ft, in: exact, 0.3048 m and 25.4 mm. °F: exact definition, (t − 32)·5/9 °C. K: 0 °C is 273.15 K by definition.
// Where two share their letters but for the case, the usual one stands first.
constexpr std::array unit_table{
    Unit{"V", D::voltage, 1.0, 0.0, "volt|volts|vdc|v dc"},
    Unit{"mV", D::voltage, 1e-3, 0.0, "millivolt|millivolts"},
    Unit{"kV", D::voltage, 1e3, 0.0, "kilovolt|kilovolts"},
    Unit{"A", D::current, 1.0, 0.0, "amp|amps|ampere|amperes|adc|a dc"},
    Unit{"mA", D::current, 1e-3, 0.0, "milliamp|milliamps|milliampere|milliamperes"},
    Unit{"W", D::power, 1.0, 0.0, "watt|watts|wp"},
    Unit{"kW", D::power, 1e3, 0.0, "kilowatt|kilowatts|kwp"},
    Unit{"mW", D::power, 1e-3, 0.0, "milliwatt|milliwatts", false},
    Unit{"MW", D::power, 1e6, 0.0, "megawatt|megawatts", false},
    Unit{"ohm", D::resistance, 1.0, 0.0, "ohms"},
    Unit{"Ω", D::resistance, 1.0},
    Unit{"mΩ", D::resistance, 1e-3, 0.0, "mohm|milliohm|milliohms"},
    Unit{"kΩ", D::resistance, 1e3, 0.0, "kohm|kiloohm|kiloohms"},
    Unit{"°C", D::temperature, 1.0, 0.0, "c|degc|deg c|celsius|degrees celsius"},
    Unit{"°F", D::temperature, 5.0 / 9.0, -160.0 / 9.0, "f|degf|deg f|fahrenheit|degrees fahrenheit"},
    Unit{"K", D::temperature, 1.0, -273.15, "kelvin"},
    Unit{"K", D::difference, 1.0, 0.0, "kelvin|kelvins"},
    Unit{"°C", D::difference, 1.0, 0.0, "c|degc|deg c|celsius"},
    Unit{"°F", D::difference, 5.0 / 9.0, 0.0, "f|degf|deg f|fahrenheit"},
    Unit{"W/m²", D::irradiance, 1.0, 0.0, "wm²|w m²|w per m²|watts per square metre"},
    Unit{"kW/m²", D::irradiance, 1e3, 0.0, "kwm²|kw m²"},
    Unit{"%", D::ratio, 1e-2, 0.0, "percent|per cent|pct"},
    Unit{"ratio", D::ratio, 1.0, 0.0, "", false},
    Unit{"%/K", D::ratio_per_k, 1e-2},
    Unit{"1/K", D::ratio_per_k, 1.0},
    Unit{"V/K", D::voltage_per_k, 1.0},
    Unit{"mV/K", D::voltage_per_k, 1e-3},
    Unit{"A/K", D::current_per_k, 1.0},
    Unit{"mA/K", D::current_per_k, 1e-3},
    Unit{"W/K", D::power_per_k, 1.0},
    Unit{"mW/K", D::power_per_k, 1e-3, 0.0, "", false},
    Unit{"V/K per cell", D::cell_voltage_per_k, 1.0, 0.0, "", false},
    Unit{"mV/K per cell", D::cell_voltage_per_k, 1e-3},
    Unit{"m", D::length, 1.0, 0.0, "metre|metres|meter|meters"},
    Unit{"cm", D::length, 1e-2},
    Unit{"mm", D::length, 1e-3},
    Unit{"ft", D::length, 0.3048, 0.0, "foot|feet"},
    Unit{"in", D::length, 0.0254, 0.0, "inch|inches"},
    Unit{"mm²", D::area, 1.0, 0.0, "sqmm|sq mm"},
    Unit{"AWG", D::gauge, 1.0},
    Unit{"Ω/km", D::resistance_per_length, 1e-3, 0.0, "ohm/km|ohms/km"},
    Unit{"mΩ/m", D::resistance_per_length, 1e-3, 0.0, "mohm/m"},
    Unit{"Ω/kft", D::resistance_per_length, 1.0 / 304.8, 0.0, "ohm/kft|ohms/kft"},
    Unit{"°", D::angle, 1.0, 0.0, "deg|degree|degrees"},
    Unit{"Wh", D::energy, 1.0},
    Unit{"kWh", D::energy, 1e3},
    Unit{"Ah", D::charge, 1.0},
};

constexpr Names dimension_names{
    Name{D::none, "a plain number"},
    Name{D::voltage, "a voltage"},
    Name{D::current, "a current"},
    Name{D::power, "a power"},
    Name{D::resistance, "a resistance"},
    Name{D::temperature, "a temperature"},
    Name{D::difference, "a temperature difference"},
    Name{D::irradiance, "an irradiance"},
    Name{D::ratio, "a percentage"},
    Name{D::ratio_per_k, "a relative change per kelvin"},
    Name{D::voltage_per_k, "a voltage change per kelvin"},
    Name{D::current_per_k, "a current change per kelvin"},
    Name{D::power_per_k, "a power change per kelvin"},
    Name{D::cell_voltage_per_k, "a voltage change per kelvin of one cell"},
    Name{D::length, "a length"},
    Name{D::area, "a conductor size"},
    Name{D::gauge, "a conductor size"},
    Name{D::resistance_per_length, "a resistance per length"},
    Name{D::angle, "an angle"},
    Name{D::energy, "an energy"},
    Name{D::charge, "a charge"},
};

// Into a new text: replacing within the old one moves all that follows, once for each place, and a text may be long.
void replace_all(std::string& text, std::string_view what, std::string_view by) {
    std::size_t at = text.find(what);
    if (at == std::string::npos) return;
    std::string out;
    std::size_t from = 0;
    for (; at != std::string::npos; at = text.find(what, from)) {
        out.append(text, from, at - from).append(by);
        from = at + what.size();
    }
    text = out.append(text, from, std::string::npos);
}

bool is_among(std::string_view word, std::string_view words) {
    for (std::size_t begin = 0; begin < words.size();) {
        const std::size_t end = std::min(words.find('|', begin), words.size());
        if (words.substr(begin, end - begin) == word) return true;
        begin = end + 1;
    }
    return false;
}

bool called_otherwise(const Unit& unit, std::string_view text, std::string_view small) {
    if (is_among(small, unit.words)) return true;
    const bool mega = !text.empty() && text.front() == 'M' && unit.text.front() == 'm';
    return !mega && std::equal(small.begin(), small.end(), unit.text.begin(), unit.text.end(),
                               [](char a, char b) { return a == lower(b); });
}

// In bytes, of all units and what they are also called: a longer text is none, which is soon said.
constexpr std::size_t longest_unit() {
    std::size_t longest = 0;
    for (const Unit& unit : unit_table) longest = std::max({longest, unit.text.size(), unit.words.size()});
    return longest;
}

}  // namespace

std::span<const Unit> units() { return unit_table; }

const Unit* unit_called(std::string_view text, Dimension dimension) {
    if (text.size() > longest_unit()) return nullptr;
    for (const Unit& unit : unit_table) {
        if (unit.dimension == dimension && unit.text == text) return &unit;
    }
    const std::string small = lower(text);
    for (const Unit& unit : unit_table) {
        if (unit.dimension == dimension && called_otherwise(unit, text, small)) return &unit;
    }
    return nullptr;
}

std::string_view dimension_name(Dimension dimension) { return name_in(dimension_names, dimension); }

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
    return text;
}

}  // namespace plait::input
