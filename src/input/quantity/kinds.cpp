#include "kinds.hpp"

#include <fmt/core.h>

#include <algorithm>

namespace plait::input {
namespace {

constexpr auto none = Dimension::none;
constexpr std::array kind_table{
    KindRow{Kind::voltage, "a voltage", "V", "18.5", 1.0, {Dimension::voltage}, "V, mV, kV"},
    KindRow{Kind::current, "a current", "A", "5.5", 1.0, {Dimension::current}, "A, mA"},
    KindRow{Kind::power, "a power", "W", "100", 1.0, {Dimension::power}, "W, kW"},
    KindRow{Kind::resistance, "a resistance", "ohm", "0.4", 1.0, {Dimension::resistance}, "ohm, Ω, mΩ, kΩ"},
    KindRow{Kind::temperature, "a temperature", "°C", "-12", 1.0, {Dimension::temperature}, "°C, °F, K"},
    KindRow{Kind::warming, "a temperature difference", "K", "5", 1.0, {Dimension::difference}, "K, °C, °F"},
    KindRow{Kind::irradiance, "an irradiance", "W/m²", "1000", 1.0, {Dimension::irradiance}, "W/m², kW/m²"},
    KindRow{Kind::percentage, "a percentage", "%", "95", 0.01, {Dimension::ratio}, "%"},
    KindRow{Kind::share, "a share", "", "0.2", 1.0, {Dimension::ratio}, "plain (1 = all), %"},
    KindRow{Kind::factor, "a factor", "", "1.2", 1.0, {none}, "plain"},
    KindRow{Kind::money, "an amount of money", "", "80", 1.0, {none}, "`currency`"},
    KindRow{Kind::count, "a whole number", "", "4", 1.0, {none}, "plain"},
    KindRow{Kind::isc_coefficient,
            "a change of current per kelvin",
            "",
            "0.05 %/K",
            1.0,
            {Dimension::ratio_per_k, Dimension::current_per_k, none},
            "%/K, 1/K, A/K, mA/K (°C for K too)"},
    KindRow{Kind::voc_coefficient,
            "a change of voltage per kelvin",
            "",
            "-0.30 %/K",
            1.0,
            {Dimension::ratio_per_k, Dimension::voltage_per_k, Dimension::cell_voltage_per_k},
            "%/K, 1/K, V/K, mV/K, mV/K per cell (°C for K too)"},
    KindRow{Kind::pmax_coefficient,
            "a change of power per kelvin",
            "",
            "-0.38 %/K",
            1.0,
            {Dimension::ratio_per_k, Dimension::power_per_k, none},
            "%/K, 1/K, W/K (°C for K too)"},
    KindRow{Kind::length, "a length", "m", "5", 1.0, {Dimension::length}, "m, cm, mm, ft, in"},
    KindRow{Kind::wire_size,
            "a conductor size",
            "",
            "\"4 mm²\" or \"12 AWG\"",
            1.0,
            {Dimension::area, Dimension::gauge, none},
            "mm², AWG"},
    KindRow{Kind::resistance_per_length,
            "a resistance per length",
            "Ω/km",
            "5.1",
            1e-3,
            {Dimension::resistance_per_length},
            "Ω/km, mΩ/m, Ω/kft"},
    KindRow{Kind::text, "text", "", "", 1.0, {none}, "text"},
    KindRow{Kind::word, "one of the words", "", "", 1.0, {none}, "one word"},
    KindRow{Kind::flag, "true or false", "", "", 1.0, {none}, "true or false"},
    KindRow{Kind::by_hand, "", "", "", 1.0, {none}, ""},
};

}  // namespace

const KindRow& row_of(Kind kind) {
    for (const KindRow& row : kind_table) {
        if (row.kind == kind) return row;
    }
    return kind_table.back();
}

bool is_coefficient(Kind kind) {
    return kind == Kind::isc_coefficient || kind == Kind::voc_coefficient || kind == Kind::pmax_coefficient;
}

bool accepts(const KindRow& row, Dimension dimension) {
    return dimension != none && std::find(row.accepted.begin(), row.accepted.end(), dimension) != row.accepted.end();
}

// How the key is written, for someone who left it out.
std::string assignment(const Spec& spec) {
    const KindRow& row = row_of(spec.kind);
    if (spec.kind == Kind::by_hand) return std::string(spec.form);
    if (spec.kind == Kind::word) return fmt::format("{} = \"…\", one of {}", spec.key, wanted(spec));
    if (spec.kind == Kind::wire_size) return fmt::format("{} = \"4 mm²\" or {} = \"12 AWG\"", spec.key, spec.key);
    if (row.unit.empty()) return fmt::format("{} = {}", spec.key, row.example);
    return fmt::format("{} = \"{} {}\"", spec.key, row.example, row.unit);
}

std::string wanted(const Spec& spec) {
    const KindRow& row = row_of(spec.kind);
    if (spec.kind == Kind::word) return any_of(Words(spec.words.begin(), spec.words.end()));
    if (spec.kind == Kind::flag || spec.kind == Kind::by_hand) return std::string(row.noun);
    if (spec.kind == Kind::text) return fmt::format("text in quotes, such as {} = \"…\"", spec.key);
    if (is_coefficient(spec.kind)) return fmt::format("a change per kelvin with its unit, such as \"{}\"", row.example);
    if (row.unit.empty()) return fmt::format("{} such as {}", row.noun, row.example);
    if (spec.kind == Kind::temperature || spec.kind == Kind::warming) {
        return fmt::format("{} with its unit, such as \"{} {}\"", row.noun, row.example, row.unit);
    }
    return fmt::format("{} such as {} or \"{} {}\"", row.noun, row.example, row.example, row.unit);
}

std::string with_unit(double value, Kind kind) {
    const KindRow& row = row_of(kind);
    const std::string number = plain(value / row.scale);
    return row.unit.empty() ? number : fmt::format("{} {}", number, row.unit);
}

std::string range_text(const Spec& spec) {
    const KindRow& row = row_of(spec.kind);
    return fmt::format("{} to {}", plain(spec.limits.low / row.scale), with_unit(spec.limits.high, spec.kind));
}

std::string_view unit_text(Kind kind) { return row_of(kind).documented; }

}  // namespace plait::input
