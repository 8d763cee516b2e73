#include "weather_columns.hpp"

#include "quantity/words.hpp"

#include <algorithm>
#include <array>

namespace plait::input {
namespace {

struct Name {
    std::string_view name;
    WeatherColumn column;
};
constexpr std::array names{
    Name{"time", WeatherColumn::time},
    Name{"timestamp", WeatherColumn::time},
    Name{"datetime", WeatherColumn::time},
    Name{"date time", WeatherColumn::time},
    Name{"date and time", WeatherColumn::time},
    Name{"time utc", WeatherColumn::time},
    Name{"utc", WeatherColumn::time},
    Name{"date", WeatherColumn::date},
    Name{"day", WeatherColumn::date},
    Name{"ghi", WeatherColumn::global},
    Name{"global", WeatherColumn::global},
    Name{"global horizontal", WeatherColumn::global},
    Name{"global irradiance", WeatherColumn::global},
    Name{"global radiation", WeatherColumn::global},
    Name{"global horizontal irradiance", WeatherColumn::global},
    Name{"global horizontal radiation", WeatherColumn::global},
    Name{"g h", WeatherColumn::global},
    Name{"gh", WeatherColumn::global},
    Name{"irradiance", WeatherColumn::global},
    Name{"shortwave radiation", WeatherColumn::global},
    Name{"solar radiation", WeatherColumn::global},
    Name{"globalstrahlung", WeatherColumn::global},
    Name{"dni", WeatherColumn::direct_normal},
    Name{"direct normal", WeatherColumn::direct_normal},
    Name{"direct normal irradiance", WeatherColumn::direct_normal},
    Name{"direct normal radiation", WeatherColumn::direct_normal},
    Name{"beam normal", WeatherColumn::direct_normal},
    Name{"gb n", WeatherColumn::direct_normal},
    Name{"dhi", WeatherColumn::diffuse},
    Name{"diffuse", WeatherColumn::diffuse},
    Name{"diffuse horizontal", WeatherColumn::diffuse},
    Name{"diffuse horizontal irradiance", WeatherColumn::diffuse},
    Name{"diffuse irradiance", WeatherColumn::diffuse},
    Name{"diffuse radiation", WeatherColumn::diffuse},
    Name{"gd h", WeatherColumn::diffuse},
    Name{"air", WeatherColumn::air},
    Name{"air temperature", WeatherColumn::air},
    Name{"air temp", WeatherColumn::air},
    Name{"temperature", WeatherColumn::air},
    Name{"temp", WeatherColumn::air},
    Name{"temp air", WeatherColumn::air},
    Name{"dry bulb", WeatherColumn::air},
    Name{"ambient temperature", WeatherColumn::air},
    Name{"t2m", WeatherColumn::air},
    Name{"temperature 2m", WeatherColumn::air},
    Name{"lufttemperatur", WeatherColumn::air},
    Name{"wind", WeatherColumn::wind},
    Name{"wind speed", WeatherColumn::wind},
    Name{"windspeed", WeatherColumn::wind},
    Name{"wind speed 10m", WeatherColumn::wind},
    Name{"ws10m", WeatherColumn::wind},
    Name{"windgeschwindigkeit", WeatherColumn::wind},
    Name{"pressure", WeatherColumn::pressure},
    Name{"air pressure", WeatherColumn::pressure},
    Name{"albedo", WeatherColumn::albedo},
};

enum class Size { light, temperature, speed, pressure, ratio, none };
struct UnitRow {
    std::string_view unit;  ///< small letters, without blanks
    Size size;
    double factor;
    double offset = 0.0;
    bool energy = false;
};
constexpr std::array unit_rows{
    UnitRow{"w/m2", Size::light, 1.0},
    UnitRow{"w/m²", Size::light, 1.0},
    UnitRow{"w/m^2", Size::light, 1.0},
    UnitRow{"wm-2", Size::light, 1.0},
    UnitRow{"kw/m2", Size::light, 1e3},
    UnitRow{"kw/m²", Size::light, 1e3},
    UnitRow{"wh/m2", Size::light, 1.0, 0.0, true},
    UnitRow{"wh/m²", Size::light, 1.0, 0.0, true},
    UnitRow{"kwh/m2", Size::light, 1e3, 0.0, true},
    UnitRow{"kwh/m²", Size::light, 1e3, 0.0, true},
    UnitRow{"°c", Size::temperature, 1.0},
    UnitRow{"c", Size::temperature, 1.0},
    UnitRow{"degc", Size::temperature, 1.0},
    UnitRow{"°f", Size::temperature, 5.0 / 9.0, -160.0 / 9.0},
    UnitRow{"f", Size::temperature, 5.0 / 9.0, -160.0 / 9.0},
    UnitRow{"degf", Size::temperature, 5.0 / 9.0, -160.0 / 9.0},
    UnitRow{"k", Size::temperature, 1.0, -273.15},
    UnitRow{"m/s", Size::speed, 1.0},
    UnitRow{"ms-1", Size::speed, 1.0},
    UnitRow{"km/h", Size::speed, 1.0 / 3.6},
    UnitRow{"mph", Size::speed, 0.44704},
    UnitRow{"kn", Size::speed, 1852.0 / 3600.0},
    UnitRow{"kt", Size::speed, 1852.0 / 3600.0},
    UnitRow{"pa", Size::pressure, 1.0},
    UnitRow{"hpa", Size::pressure, 100.0},
    UnitRow{"mbar", Size::pressure, 100.0},
    UnitRow{"kpa", Size::pressure, 1000.0},
    UnitRow{"%", Size::ratio, 0.01},
};

Size size_of(WeatherColumn c) {
    switch (c) {
        case WeatherColumn::global:
        case WeatherColumn::direct_normal:
        case WeatherColumn::diffuse:
            return Size::light;
        case WeatherColumn::air:
            return Size::temperature;
        case WeatherColumn::wind:
            return Size::speed;
        case WeatherColumn::pressure:
            return Size::pressure;
        case WeatherColumn::albedo:
            return Size::ratio;
        case WeatherColumn::time:
        case WeatherColumn::date:
            return Size::none;
    }
    return Size::none;
}

/// Small letters, single blanks for _ - . ( ) and tabs.
std::string normal(std::string_view text) {
    std::string out;
    for (const char c : text) {
        const bool part = c == '_' || c == '-' || c == '.' || c == ' ' || c == '\t' || c == '(' || c == ')';
        if (part) {
            if (!out.empty() && out.back() != ' ') out += ' ';
        } else {
            out += lower(c);
        }
    }
    while (!out.empty() && out.back() == ' ') out.pop_back();
    return out;
}

const Name* known(std::string_view name) {
    const auto found = std::find_if(names.begin(), names.end(), [&](const Name& n) { return n.name == name; });
    return found == names.end() ? nullptr : &*found;
}

std::string without_blanks(std::string_view text) {
    std::string out;
    for (const char c : text) {
        if (c != ' ') out += lower(c);
    }
    return out;
}

void set_unit(WeatherHeading& heading, std::string_view written) {
    const std::string unit = without_blanks(written);
    if (unit.empty()) return;
    if (size_of(heading.column) == Size::none) return;  // "UTC", "yyyy-mm-dd"
    for (const UnitRow& row : unit_rows) {
        if (row.unit != unit || row.size != size_of(heading.column)) continue;
        heading.factor = row.factor;
        heading.offset = row.offset;
        heading.energy = row.energy;
        heading.unit_given = true;
        return;
    }
    heading.bad_unit = std::string(written);
}

}  // namespace

std::optional<WeatherHeading> weather_heading(std::string_view cell) {
    cell = trimmed(cell);
    if (!cell.empty() && cell.front() == '#') cell = trimmed(cell.substr(1));
    // "name [unit]", "name (unit)", "name / unit"; or a name that has brackets in it, "G(h)".
    if (const Name* whole = known(normal(cell))) return WeatherHeading{whole->column};
    for (const auto& [open, close] : {std::pair{'[', ']'}, std::pair{'(', ')'}}) {
        const std::size_t begin = cell.rfind(open);
        if (begin == std::string_view::npos || cell.back() != close) continue;
        const Name* name = known(normal(cell.substr(0, begin)));
        if (name == nullptr) continue;
        WeatherHeading heading{name->column};
        set_unit(heading, cell.substr(begin + 1, cell.size() - begin - 2));
        return heading;
    }
    for (const std::string_view part : {std::string_view(" / "), std::string_view(" in "), std::string_view(", "),
                                        std::string_view("_"), std::string_view(" ")}) {
        const std::size_t at = part == "_" || part == " " ? cell.rfind(part) : cell.find(part);
        if (at == std::string_view::npos) continue;
        const Name* name = known(normal(cell.substr(0, at)));
        if (name == nullptr) continue;
        WeatherHeading heading{name->column};
        set_unit(heading, cell.substr(at + part.size()));
        return heading;
    }
    return std::nullopt;
}

std::string_view describe(WeatherColumn column) {
    switch (column) {
        case WeatherColumn::time:
            return "a time";
        case WeatherColumn::date:
            return "a date";
        case WeatherColumn::global:
            return "global light (W/m²)";
        case WeatherColumn::direct_normal:
            return "direct normal light (W/m²)";
        case WeatherColumn::diffuse:
            return "diffuse light (W/m²)";
        case WeatherColumn::air:
            return "an air temperature (°C)";
        case WeatherColumn::wind:
            return "a wind speed (m/s)";
        case WeatherColumn::pressure:
            return "a pressure (Pa)";
        case WeatherColumn::albedo:
            return "an albedo (0 to 1)";
    }
    return "";
}

bool has_unit(WeatherColumn column) { return size_of(column) != Size::none && size_of(column) != Size::ratio; }

WeatherLimits limits_of(WeatherColumn column) {
    switch (column) {
        case WeatherColumn::global:
        case WeatherColumn::direct_normal:
        case WeatherColumn::diffuse:
            return {-30.0, 1700.0};  // thermal sensors read a little below 0 at night
        case WeatherColumn::air:
            return {-95.0, 65.0};
        case WeatherColumn::wind:
            return {0.0, 120.0};
        case WeatherColumn::pressure:
            return {30000.0, 115000.0};
        case WeatherColumn::albedo:
            return {0.0, 1.0};
        case WeatherColumn::time:
        case WeatherColumn::date:
            return {0.0, 0.0};
    }
    return {0.0, 0.0};
}

}  // namespace plait::input
