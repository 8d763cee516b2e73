#include "measured_names.hpp"

#include "words.hpp"

#include <algorithm>
#include <array>
#include <cassert>

namespace plait::input {
namespace {

using C = MeasuredColumn;
using D = Dimension;

constexpr std::array<ColumnFacts, measured_column_count> facts{{
    {C::time, "a time", "2024-06-01T12:30:00, 12:30:00 or seconds such as 90.5", "s, ms, min or h", "", D::none, 0, 0},
    {C::date, "a date", "2024-06-01", "no unit", "", D::none, 0, 0},
    {C::voltage, "a voltage", "13.2", "V, mV or kV", "-1000 … 3000 V", D::voltage, -1000, 3000},
    {C::current, "a current", "7.95", "A or mA", "-1000 … 1000 A", D::current, -1000, 1000},
    {C::power, "a power", "104.5", "W, mW or kW", "-1000000 … 1000000 W", D::power, -1e6, 1e6},
    {C::state, "a state", "charging, idle or error", "no unit", "", D::none, 0, 0},
    {C::supply_limit, "a current limit of the supply", "10", "A or mA", "0 … 1000 A", D::current, 0, 1000},
    {C::irradiance, "an irradiance", "820", "W/m² or kW/m²", "-50 … 2000 W/m²", D::irradiance, -50, 2000},
    {C::air_temperature, "an air temperature", "21.5", "°C, °F or K", "-90 … 70 °C", D::temperature, -90, 70},
    {C::panel_temperature, "a panel temperature", "48.0", "°C, °F or K", "-90 … 150 °C", D::temperature, -90, 150},
    {C::state_of_charge, "a state of charge", "85", "%", "0 … 100 %", D::ratio, 0, 1},
    {C::wall_charging, "a charging power from the wall", "600", "W, mW or kW", "-100 … 100000 W", D::power, -100, 1e5},
}};

struct UnitName {
    std::string_view text;
    MeasuredUnit unit;
};

constexpr double freezing_degf = 32.0;
constexpr std::array<UnitName, 48> unit_names{{
    {"v", {D::voltage, 1, 0}},
    {"volt", {D::voltage, 1, 0}},
    {"volts", {D::voltage, 1, 0}},
    {"vdc", {D::voltage, 1, 0}},
    {"v dc", {D::voltage, 1, 0}},
    {"mv", {D::voltage, 1e-3, 0}},
    {"millivolt", {D::voltage, 1e-3, 0}},
    {"millivolts", {D::voltage, 1e-3, 0}},
    {"kv", {D::voltage, 1e3, 0}},
    {"a", {D::current, 1, 0}},
    {"amp", {D::current, 1, 0}},
    {"amps", {D::current, 1, 0}},
    {"ampere", {D::current, 1, 0}},
    {"amperes", {D::current, 1, 0}},
    {"adc", {D::current, 1, 0}},
    {"a dc", {D::current, 1, 0}},
    {"ma", {D::current, 1e-3, 0}},
    {"milliamp", {D::current, 1e-3, 0}},
    {"milliamps", {D::current, 1e-3, 0}},
    {"w", {D::power, 1, 0}},
    {"watt", {D::power, 1, 0}},
    {"watts", {D::power, 1, 0}},
    {"mw", {D::power, 1e-3, 0}},
    {"milliwatt", {D::power, 1e-3, 0}},
    {"milliwatts", {D::power, 1e-3, 0}},
    {"kw", {D::power, 1e3, 0}},
    {"kilowatt", {D::power, 1e3, 0}},
    {"kilowatts", {D::power, 1e3, 0}},
    {"w/m²", {D::irradiance, 1, 0}},
    {"w/m2", {D::irradiance, 1, 0}},
    {"w/m^2", {D::irradiance, 1, 0}},
    {"wm2", {D::irradiance, 1, 0}},
    {"w m2", {D::irradiance, 1, 0}},
    {"w per m2", {D::irradiance, 1, 0}},
    {"kw/m²", {D::irradiance, 1e3, 0}},
    {"kw/m2", {D::irradiance, 1e3, 0}},
    {"°c", {D::temperature, 1, 0}},
    {"c", {D::temperature, 1, 0}},
    {"degc", {D::temperature, 1, 0}},
    {"deg c", {D::temperature, 1, 0}},
    {"celsius", {D::temperature, 1, 0}},
    {"°f", {D::temperature, 5.0 / 9.0, -freezing_degf * 5.0 / 9.0}},
    {"degf", {D::temperature, 5.0 / 9.0, -freezing_degf * 5.0 / 9.0}},
    {"fahrenheit", {D::temperature, 5.0 / 9.0, -freezing_degf * 5.0 / 9.0}},
    {"k", {D::temperature, 1, -273.15}},
    {"%", {D::ratio, 0.01, 0}},
    {"percent", {D::ratio, 0.01, 0}},
    {"pct", {D::ratio, 0.01, 0}},
}};

struct Alias {
    std::string_view name;
    C column;
    bool needs_unit = false;  ///< only together with a unit of this column's dimension ("pv" is the volts or the amps)
};

constexpr std::array<Alias, 127> aliases{{
    {"time", C::time},
    {"timestamp", C::time},
    {"time stamp", C::time},
    {"datetime", C::time},
    {"date time", C::time},
    {"date/time", C::time},
    {"date and time", C::time},
    {"utc", C::time},
    {"time utc", C::time},
    {"utc time", C::time},
    {"local time", C::time},
    {"elapsed", C::time},
    {"elapsed time", C::time},
    {"seconds", C::time},
    {"t", C::time},
    {"date", C::date},
    {"day", C::date},
    {"v", C::voltage},
    {"volt", C::voltage},
    {"volts", C::voltage},
    {"voltage", C::voltage},
    {"u", C::voltage},
    {"vdc", C::voltage},
    {"dc voltage", C::voltage},
    {"dc volts", C::voltage},
    {"input voltage", C::voltage},
    {"input volts", C::voltage},
    {"pv voltage", C::voltage},
    {"pv volts", C::voltage},
    {"panel voltage", C::voltage},
    {"array voltage", C::voltage},
    {"solar voltage", C::voltage},
    {"supply voltage", C::voltage},
    {"measured voltage", C::voltage},
    {"vin", C::voltage},
    {"v in", C::voltage},
    {"vpv", C::voltage},
    {"v pv", C::voltage},
    {"upv", C::voltage},
    {"u pv", C::voltage},
    {"pv", C::voltage, true},
    {"input", C::voltage, true},
    {"solar", C::voltage, true},
    {"array", C::voltage, true},
    {"a", C::current},
    {"amp", C::current},
    {"amps", C::current},
    {"ampere", C::current},
    {"amperes", C::current},
    {"current", C::current},
    {"i", C::current},
    {"adc", C::current},
    {"dc current", C::current},
    {"input current", C::current},
    {"input amps", C::current},
    {"pv current", C::current},
    {"pv amps", C::current},
    {"panel current", C::current},
    {"array current", C::current},
    {"solar current", C::current},
    {"measured current", C::current},
    {"iin", C::current},
    {"i in", C::current},
    {"ipv", C::current},
    {"i pv", C::current},
    {"pv", C::current, true},
    {"input", C::current, true},
    {"solar", C::current, true},
    {"array", C::current, true},
    {"w", C::power},
    {"watt", C::power},
    {"watts", C::power},
    {"power", C::power},
    {"p", C::power},
    {"dc power", C::power},
    {"input power", C::power},
    {"input watts", C::power},
    {"pv power", C::power},
    {"pv watts", C::power},
    {"panel power", C::power},
    {"array power", C::power},
    {"solar power", C::power},
    {"solar watts", C::power},
    {"measured power", C::power},
    {"ppv", C::power},
    {"p pv", C::power},
    {"pv", C::power, true},
    {"input", C::power, true},
    {"solar", C::power, true},
    {"array", C::power, true},
    {"state", C::state},
    {"status", C::state},
    {"mode", C::state},
    {"supply limit", C::supply_limit},
    {"current limit", C::supply_limit},
    {"supply current limit", C::supply_limit},
    {"i limit", C::supply_limit},
    {"ilim", C::supply_limit},
    {"limit", C::supply_limit, true},
    {"irradiance", C::irradiance},
    {"plane irradiance", C::irradiance},
    {"solar irradiance", C::irradiance},
    {"poa", C::irradiance},
    {"sun", C::irradiance},
    {"g", C::irradiance},
    {"air temperature", C::air_temperature},
    {"air temp", C::air_temperature},
    {"ambient temperature", C::air_temperature},
    {"ambient temp", C::air_temperature},
    {"t air", C::air_temperature},
    {"air", C::air_temperature, true},
    {"ambient", C::air_temperature, true},
    {"panel temperature", C::panel_temperature},
    {"panel temp", C::panel_temperature},
    {"module temperature", C::panel_temperature},
    {"module temp", C::panel_temperature},
    {"cell temperature", C::panel_temperature},
    {"t panel", C::panel_temperature},
    {"panel", C::panel_temperature, true},
    {"soc", C::state_of_charge},
    {"state of charge", C::state_of_charge},
    {"battery soc", C::state_of_charge},
    {"battery", C::state_of_charge, true},
    {"wall charging", C::wall_charging},
    {"wall power", C::wall_charging},
    {"wall charging power", C::wall_charging},
    {"wall", C::wall_charging, true},
}};

// Lower case, blanks for _ and - and ., single blanks; ° and ² also where they are written in one byte, as some loggers
// do.
std::string normal(std::string_view text) {
    std::string out;
    const auto byte = [](char c) { return static_cast<unsigned char>(c); };
    for (std::size_t i = 0; i < text.size(); ++i) {
        char c = text[i];
        const bool led = i > 0 && byte(text[i - 1]) >= 0xC2U;
        if (byte(c) == 0xB0U && !led) {
            out += "°";
            continue;
        }
        if (byte(c) == 0xB2U && !led) {
            out += "²";
            continue;
        }
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
        if (c == '_' || c == '-' || c == '.' || c == '\t') c = ' ';
        if (c == ' ' && (out.empty() || out.back() == ' ')) continue;
        out += c;
    }
    while (!out.empty() && (out.back() == ' ' || out.back() == ':')) out.pop_back();
    return out;
}

const UnitName* unit_called(std::string_view normal_text) {
    const auto found =
        std::find_if(unit_names.begin(), unit_names.end(), [&](const UnitName& u) { return u.text == normal_text; });
    return found == unit_names.end() ? nullptr : &*found;
}

// A name in front of a unit. `sure` says that the unit stood in brackets: then one that does not fit is a mistake to
// speak of, and not the sign of another column.
std::optional<NamedColumn> with_unit(std::string_view name, std::string_view unit, bool sure) {
    const UnitName* known = unit_called(unit);
    const std::optional<double> seconds = seconds_in(unit);
    std::optional<NamedColumn> misfit;
    for (const Alias& a : aliases) {
        if (a.name != name) continue;
        const ColumnFacts& f = facts_of(a.column);
        if (a.column == C::time && seconds) return NamedColumn{C::time, *seconds, 0.0, ""};
        if (known != nullptr && f.dimension != D::none && known->unit.dimension == f.dimension) {
            return NamedColumn{a.column, known->unit.factor, known->unit.offset, ""};
        }
        if (f.dimension == D::none && sure) return NamedColumn{a.column, 1.0, 0.0, ""};  // "time (UTC)"
        if (sure && !a.needs_unit) misfit = NamedColumn{a.column, 1.0, 0.0, std::string(unit)};
    }
    return misfit;
}

std::optional<NamedColumn> without_unit(std::string_view name) {
    for (const Alias& a : aliases) {
        if (a.name != name || a.needs_unit) continue;
        return NamedColumn{a.column, a.column == C::state_of_charge ? 0.01 : 1.0, 0.0, ""};
    }
    if (const UnitName* unit = unit_called(name)) {  // the unit stands for the quantity: "mA", "kW", "W/m²"
        const auto fits = [&](const ColumnFacts& f) { return f.dimension == unit->unit.dimension; };
        const bool clear = unit->unit.dimension != D::temperature && unit->unit.dimension != D::ratio;
        const auto column = std::find_if(facts.begin(), facts.end(), fits);
        if (clear && column != facts.end()) {
            return NamedColumn{column->column, unit->unit.factor, unit->unit.offset, ""};
        }
    }
    return std::nullopt;
}

}  // namespace

std::optional<MeasuredUnit> measured_unit(std::string_view text) {
    const std::string wanted = normal(text);
    if (wanted == "f") return unit_called("°f")->unit;
    const UnitName* known = unit_called(wanted);
    return known == nullptr ? std::nullopt : std::optional<MeasuredUnit>(known->unit);
}

std::optional<double> seconds_in(std::string_view unit) {
    struct Time {
        std::string_view text;
        double length_s;
    };
    static constexpr std::array<Time, 12> times{{{"s", 1},
                                                 {"sec", 1},
                                                 {"second", 1},
                                                 {"seconds", 1},
                                                 {"ms", 1e-3},
                                                 {"milliseconds", 1e-3},
                                                 {"min", 60},
                                                 {"minutes", 60},
                                                 {"h", 3600},
                                                 {"hr", 3600},
                                                 {"hour", 3600},
                                                 {"hours", 3600}}};
    const auto found = std::find_if(times.begin(), times.end(), [&](const Time& t) { return t.text == unit; });
    return found == times.end() ? std::nullopt : std::optional<double>(found->length_s);
}

const ColumnFacts& facts_of(MeasuredColumn column) {
    const ColumnFacts& f = facts[static_cast<std::size_t>(column)];
    assert(f.column == column && "the table keeps the order of the enumeration");
    return f;
}

std::optional<NamedColumn> named_column(std::string_view cell) {
    std::string text = normal(trimmed(cell));
    if (text.empty() || text.size() > 64) return std::nullopt;
    if (const auto whole = without_unit(text)) return whole;
    const char last = text.back();
    if (last == ']' || last == ')') {
        const std::size_t open = text.rfind(last == ']' ? '[' : '(');
        if (open == std::string::npos) return std::nullopt;
        std::string_view unit = trimmed(std::string_view(text).substr(open + 1, text.size() - open - 2));
        std::string_view name = trimmed(std::string_view(text).substr(0, open));
        return name.empty() ? without_unit(unit) : with_unit(name, unit == "f" ? "°f" : unit, true);
    }
    const std::string_view all = text;
    if (const std::size_t blank = all.rfind(' '); blank != std::string_view::npos) {
        const std::string_view unit = all.substr(blank + 1);
        std::string_view name = all.substr(0, blank);
        if (name.size() > 3 && name.substr(name.size() - 3) == " in") name = name.substr(0, name.size() - 3);
        if (name.size() > 2 && name.substr(name.size() - 2) == " /") name = name.substr(0, name.size() - 2);
        if (const auto found = with_unit(name, unit == "f" ? "°f" : unit, false)) return found;
    }
    for (const std::string_view compound : {" w per m2", " w m2", " v dc", " a dc", " deg c"}) {
        if (all.size() > compound.size() && all.substr(all.size() - compound.size()) == compound) {
            return with_unit(all.substr(0, all.size() - compound.size()), compound.substr(1), false);
        }
    }
    if (const std::size_t stroke = all.find('/'); stroke != std::string_view::npos) {
        return with_unit(trimmed(all.substr(0, stroke)), trimmed(all.substr(stroke + 1)), false);
    }
    return std::nullopt;
}

}  // namespace plait::input
