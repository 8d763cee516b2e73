#include "kinds.hpp"

#include <fmt/core.h>

namespace plait::input {
namespace {

using D = Dimension;
constexpr bool bare = true;
constexpr bool with_its_unit = false;

constexpr std::array kind_table{
    KindRow{Kind::voltage, "a voltage", "V", "18.5", 1.0, bare, {D::voltage}, ""},
    KindRow{Kind::current, "a current", "A", "5.5", 1.0, bare, {D::current}, ""},
    KindRow{Kind::power, "a power", "W", "100", 1.0, bare, {D::power}, ""},
    KindRow{Kind::resistance, "a resistance", "ohm", "0.4", 1.0, bare, {D::resistance}, ""},
    KindRow{Kind::temperature, "a temperature", "°C", "-12", 1.0, with_its_unit, {D::temperature}, ""},
    KindRow{Kind::warming, "a temperature difference", "K", "5", 1.0, with_its_unit, {D::difference}, ""},
    KindRow{Kind::deviation, "a temperature difference", "K", "2", 1.0, bare, {D::difference}, ""},
    KindRow{Kind::irradiance, "an irradiance", "W/m²", "1000", 1.0, bare, {D::irradiance}, ""},
    KindRow{Kind::percentage, "a percentage", "%", "95", 0.01, bare, {D::ratio}, ""},
    KindRow{Kind::tolerance, "a percentage", "%", "3", 0.01, bare, {D::ratio}, ""},
    KindRow{Kind::share, "a share", "", "0.2", 1.0, bare, {D::ratio}, "plain (1 = all), %"},
    KindRow{Kind::factor, "a factor", "", "1.2", 1.0, bare, {D::none}, "plain"},
    KindRow{Kind::money, "an amount of money", "", "80", 1.0, bare, {D::none}, "`currency`"},
    KindRow{Kind::count, "a whole number", "", "4", 1.0, bare, {D::none}, "plain"},
    KindRow{Kind::isc_coefficient,
            "a change of current per kelvin",
            "%/K",
            "0.05",
            0.01,
            with_its_unit,
            {D::ratio_per_k, D::current_per_k, D::none},
            ""},
    KindRow{Kind::voc_coefficient,
            "a change of voltage per kelvin",
            "%/K",
            "-0.30",
            0.01,
            with_its_unit,
            {D::ratio_per_k, D::voltage_per_k, D::cell_voltage_per_k},
            ""},
    KindRow{Kind::pmax_coefficient,
            "a change of power per kelvin",
            "%/K",
            "-0.38",
            0.01,
            with_its_unit,
            {D::ratio_per_k, D::power_per_k, D::none},
            ""},
    KindRow{Kind::length, "a length", "m", "5", 1.0, bare, {D::length}, ""},
    KindRow{Kind::wire_size, "a conductor size", "mm²", "4", 1.0, with_its_unit, {D::area, D::gauge, D::none}, ""},
    KindRow{Kind::resistance_per_length,
            "a resistance per length",
            "Ω/km",
            "5.1",
            1e-3,
            bare,
            {D::resistance_per_length},
            ""},
    KindRow{Kind::angle, "an angle", "°", "35", 1.0, bare, {D::angle}, ""},
    KindRow{Kind::capacity, "a capacity", "Wh", "1200", 1.0, bare, {D::energy, D::charge}, ""},
    KindRow{Kind::text, "text", "", "", 1.0, bare, {D::none}, "text"},
    KindRow{Kind::word, "one of the words", "", "", 1.0, bare, {D::none}, "one word"},
    KindRow{Kind::flag, "true or false", "", "", 1.0, bare, {D::none}, "true or false"},
    KindRow{Kind::by_hand, "", "", "", 1.0, bare, {D::none}, ""},
};

std::string number_of(double value, Kind kind, bool rounded) {
    const double shown = value / row_of(kind).scale;
    if (is_coefficient(kind)) return fmt::format("{:+.2f}", shown);
    const std::string number = rounded ? fmt::format("{:.4g}", shown) : plain(shown);
    return kind == Kind::tolerance ? "±" + number : number;
}

std::string in_its_unit(double value, Kind kind, bool rounded) {
    const std::string_view unit = row_of(kind).unit;
    const std::string number = number_of(value, kind, rounded);
    return unit.empty() ? number : fmt::format("{} {}", number, unit);
}

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

std::string assignment(const Spec& spec, const std::string& value) {
    return spec.key.empty() ? value : fmt::format("{} = {}", spec.key, value);
}

std::string assignment(const Spec& spec) {
    const KindRow& row = row_of(spec.kind);
    if (spec.kind == Kind::by_hand) return std::string(spec.form);
    if (spec.kind == Kind::word) return fmt::format("{}, one of {}", assignment(spec, "\"…\""), wanted(spec));
    if (spec.kind == Kind::wire_size) {
        return fmt::format("{} or {}", assignment(spec, "\"… mm²\""), assignment(spec, "\"… AWG\""));
    }
    if (spec.kind == Kind::text) return assignment(spec, "\"…\"");
    // No number: whoever is in a hurry would leave ours in the file, and a limit that nobody looked up would judge the wiring.
    return assignment(spec, row.unit.empty() ? "…" : fmt::format("\"… {}\"", row.unit));
}

std::string wanted(const Spec& spec) {
    const KindRow& row = row_of(spec.kind);
    if (spec.kind == Kind::word) return any_of(Words(spec.words.begin(), spec.words.end()));
    if (spec.kind == Kind::flag || spec.kind == Kind::by_hand) return std::string(row.noun);
    if (spec.kind == Kind::text) return fmt::format("text in quotes, such as {}", assignment(spec, "\"…\""));
    if (is_coefficient(spec.kind)) {
        return fmt::format("a change per kelvin with its unit, such as \"{} {}\"", row.example, row.unit);
    }
    if (spec.kind == Kind::wire_size) return fmt::format("{} such as \"4 mm²\" or \"12 AWG\"", row.noun);
    if (row.unit.empty()) return fmt::format("{} such as {}", row.noun, row.example);
    if (!row.bare) return fmt::format("{} with its unit, such as \"{} {}\"", row.noun, row.example, row.unit);
    return fmt::format("{} such as {} or \"{} {}\"", row.noun, row.example, row.example, row.unit);
}

std::string with_unit(double value, Kind kind) { return in_its_unit(value, kind, false); }
std::string worked_out(double value, Kind kind) { return in_its_unit(value, kind, true); }

std::string range_text(const Spec& spec) {
    const KindRow& row = row_of(spec.kind);
    const std::string_view unit = row.unit;
    return fmt::format("{} to {}{}{}", plain(spec.limits.low / row.scale), plain(spec.limits.high / row.scale),
                       unit.empty() ? "" : " ", unit);
}

std::string fall_back_text(const Spec& spec) {
    if (!spec.fall_back) return {};
    if (spec.kind == Kind::word) return std::string(spec.words[static_cast<std::size_t>(spec.fall_back->value)]);
    return with_unit(spec.fall_back->value, spec.kind);
}

Words unit_words(Kind kind) {
    Words words;
    for (const Dimension dimension : row_of(kind).accepted) {
        for (const Unit& unit : units()) {
            if (dimension != D::none && unit.dimension == dimension && unit.usual) words.push_back(unit.text);
        }
    }
    return words;
}

std::string unit_text(Kind kind) {
    const KindRow& row = row_of(kind);
    if (!row.documented.empty()) return std::string(row.documented);
    std::string list;
    for (const std::string_view word : unit_words(kind)) list += fmt::format("{}{}", list.empty() ? "" : ", ", word);
    return is_coefficient(kind) ? list + " (°C for K too)" : list;
}

}  // namespace plait::input
