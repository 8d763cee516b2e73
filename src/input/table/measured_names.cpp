#include "measured_names.hpp"

#include "measured_complaints.hpp"
#include "measured_words.hpp"
#include "quantity/kinds.hpp"
#include "quantity/words.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <utility>
#include <vector>

namespace plait::input {
namespace {

using C = MeasuredColumn;
using D = Dimension;

constexpr Spec by_hand(std::string_view form) { return {.kind = Kind::by_hand, .form = form}; }

constexpr std::array<ColumnFacts, measured_column_count> facts{{
    {C::time, "a time", "2024-06-01T12:30:00, 12:30:00 or seconds such as 90.5", by_hand("s, ms, min or h")},
    {C::date, "a date", "2024-06-01", by_hand("no unit")},
    {C::voltage, "a voltage", "13.2", {.kind = Kind::voltage, .limits = {-1000, 3000}}},
    {C::current, "a current", "7.95", {.kind = Kind::current, .limits = {-1000, 1000}}},
    {C::power, "a power", "104.5", {.kind = Kind::power, .limits = {-1e6, 1e6}}},
    {C::state, "a state", "charging, idle or error", by_hand("no unit")},
    {C::supply_limit, "a current limit of the supply", "10", {.kind = Kind::current, .limits = {0, 1000}}},
    {C::irradiance, "an irradiance", "820", {.kind = Kind::irradiance, .limits = {-50, 2000}}},
    {C::global_irradiance, "an irradiance on flat ground", "640", {.kind = Kind::irradiance, .limits = {-50, 2000}}},
    {C::air_temperature, "an air temperature", "21.5", {.kind = Kind::temperature, .limits = {-90, 70}}},
    {C::panel_temperature, "a panel temperature", "48.0", {.kind = Kind::temperature, .limits = {-90, 150}}},
    {C::state_of_charge, "a state of charge", "85", {.kind = Kind::percentage, .limits = {0, 1}}},
    {C::wall_charging, "a charging power from the wall", "600", {.kind = Kind::power, .limits = {-1e5, 1e5}}},
    {C::display_power, "a power on the display", "104", {.kind = Kind::power, .limits = {-1e6, 1e6}}},
    {C::display_current, "a current on the display", "7.9", {.kind = Kind::current, .limits = {-1000, 1000}}},
    {C::battery_power, "a power at the battery", "98.5", {.kind = Kind::power, .limits = {-1e6, 1e6}}},
}};

constexpr std::array measured_dimensions{D::voltage,    D::current,     D::power,
                                         D::irradiance, D::temperature, D::ratio};

constexpr std::size_t longest_title = 100;

// Phrases whose words mean something else one by one, and the word they are read as. The input of a charger on the wall
// is no input of panels.
constexpr std::array<std::pair<std::string_view, std::string_view>, 21> phrases{{
    {"state of charge", "soc"}, {"etat de charge", "soc"},     {"estado de carga", "soc"},   {"battery level", "soc"},
    {"battery percentage", "soc"}, {"battery percent", "soc"}, {"niveau de batterie", "soc"}, {"nivel de bateria", "soc"},
    {"ac input", "wall"},       {"ac in", "wall"},             {"grid input", "wall"},       {"grid in", "wall"},
    {"mains input", "wall"},    {"mains in", "wall"},          {"shore input", "wall"},      {"shore power", "wall power"},
    {"utility input", "wall"},  {"utility power", "wall power"}, {"ac charging", "wall charging"}, {"ac charge", "wall charge"},
    {"ac eingang", "wall"},
}};

// Energies and charges: known so that they are not taken for something else.
bool energy_unit(std::string_view text) {
    return text == "wh" || text == "kwh" || text == "mwh" || text == "ah" || text == "mah" || text == "j" ||
           text == "kj";
}

// A header cell taken apart: its words, what stands in brackets, and a unit if there is one.
struct Parts {
    std::vector<std::string_view> words;
    std::string_view unit;          ///< as written, in normal form
    bool unit_in_brackets = false;  ///< then one that does not fit is a mistake, and not the sign of another column
    std::string_view bracketed{};   ///< in round brackets, no unit: "UTC", "dd/mm/yyyy"
};

bool holds_words(C column) { return facts_of(column).spec.kind == Kind::by_hand; }

bool is_unit(std::string_view text) {
    return measured_unit(text) != nullptr || seconds_in(text).has_value() || energy_unit(text);
}

std::vector<std::string_view> words_of(std::string_view text) {
    std::vector<std::string_view> words;
    for (std::size_t i = 0; i < text.size();) {
        const std::size_t end = std::min(text.find_first_of(" /:,", i), text.size());
        if (end > i) words.push_back(text.substr(i, end - i));
        i = end + 1;
    }
    return words;
}

// The last words that are a unit together, in front of them at least one other: "pv voltage v", "g w/m²", "u / v".
void take_trailing_unit(std::string_view& text, Parts& parts) {
    for (std::size_t at = text.find_first_of(" /"); at != std::string_view::npos;
         at = text.find_first_of(" /", at + 1)) {
        const std::string_view name = trimmed(text.substr(0, at));
        const std::string_view rest = trimmed(text.substr(at + 1));
        if (name.empty() || !is_unit(rest)) continue;
        parts.unit = rest;
        text = name;
        while (!text.empty() && (text.back() == '/' || text.back() == ' ')) text.remove_suffix(1);
        if (text.size() > 3 && text.substr(text.size() - 3) == " in") text.remove_suffix(3);
        return;
    }
}

// `text` and `rest` own what the parts look at.
Parts parted(const std::string& text, std::string& rest) {
    Parts parts;
    rest.clear();
    for (std::size_t i = 0; i < text.size();) {
        const char close = text[i] == '[' ? ']' : text[i] == '(' ? ')' : '\0';
        const std::size_t end = close == '\0' ? std::string::npos : text.find(close, i);
        if (end == std::string::npos) {
            rest += text[i++];
            continue;
        }
        const std::string_view inner = trimmed(std::string_view(text).substr(i + 1, end - i - 1));
        const bool unit = is_unit(inner);
        if (unit || (close == ']' && parts.unit.empty())) {
            parts.unit = inner;
            parts.unit_in_brackets = true;
        } else {
            parts.bracketed = inner;
        }
        rest += ' ';
        i = end + 1;
    }
    // A phrase whose words mean something else one by one.
    for (const auto& [phrase, word] : phrases) {
        const std::size_t at = rest.find(phrase);
        const std::size_t end = at + phrase.size();
        const bool whole = at != std::string::npos && (at == 0 || rest[at - 1] == ' ') && (end == rest.size() || rest[end] == ' ');
        if (whole) rest.replace(at, phrase.size(), word);
    }
    std::string_view name = trimmed(rest);
    if (parts.unit.empty()) take_trailing_unit(name, parts);
    parts.words = words_of(name);
    return parts;
}

struct Sense {
    C column;
    std::uint32_t needs;   ///< all of these
    std::uint32_t one_of;  ///< and one of these, if any are named
    std::uint32_t may;     ///< and nothing but these besides
};

constexpr std::uint32_t of_panels = says::pv | says::panel | says::filler | says::number;
constexpr std::array<Sense, 16> senses{{
    {C::voltage, says::volts, 0, of_panels | says::supply},
    {C::current, says::amps, 0, of_panels | says::supply},
    {C::power, says::watts, 0, of_panels | says::supply},
    {C::supply_limit, says::limit, 0, says::amps | says::supply | says::filler},
    {C::irradiance, says::irradiance, 0, of_panels | says::light},
    {C::global_irradiance, says::irradiance | says::horizontal, 0, says::filler},
    {C::air_temperature, says::temperature | says::air, 0, says::filler},
    {C::panel_temperature, says::temperature | says::panel, 0, says::pv | says::filler | says::number},
    {C::state_of_charge, says::charge_state, 0, says::battery | says::filler},
    {C::wall_charging, says::wall, says::watts | says::charging, says::filler | says::supply},
    {C::state, says::state, 0, of_panels | says::charging},
    {C::display_power, says::display | says::watts, 0, of_panels},
    {C::display_current, says::display | says::amps, 0, of_panels},
    {C::battery_power, says::battery | says::watts, 0, says::charging | says::filler},
    {C::time, says::time, 0, says::date | says::elapsed | says::filler},
    {C::date, says::date, 0, says::filler},
}};

std::optional<C> column_of(std::uint32_t said) {
    for (const Sense& s : senses) {
        const std::uint32_t rest = said & ~(s.needs | s.one_of | s.may);
        if ((said & s.needs) == s.needs && rest == 0 && (s.one_of == 0 || (said & s.one_of) != 0)) return s.column;
    }
    return std::nullopt;
}

// The quantity that only the unit tells: "PV [V]", "battery %", "module [°C]".
std::uint32_t quantity_of(D dimension) {
    switch (dimension) {
        case D::voltage:
            return says::volts;
        case D::current:
            return says::amps;
        case D::power:
            return says::watts;
        case D::irradiance:
            return says::irradiance;
        case D::temperature:
            return says::temperature;
        case D::ratio:
            return says::charge_state;
        default:
            return 0;
    }
}

constexpr std::uint32_t quantities = says::volts | says::amps | says::watts | says::temperature | says::irradiance |
                                     says::charge_state | says::state | says::limit | says::time | says::date;

std::optional<NamedColumn> time_named(std::uint32_t said, const Parts& parts) {
    NamedColumn named{(said & says::time) != 0 ? C::time : C::date, 1.0, 0.0, ""};
    named.from_start = (said & says::elapsed) != 0;
    named.order = asked_order(parts.unit.empty() ? parts.bracketed : parts.unit);
    if (parts.unit.empty()) return named;
    if (const auto seconds = seconds_in(parts.unit)) {
        if (named.column == C::date) return std::nullopt;
        named.factor = *seconds;
        named.unit_given = true;
        return named;
    }
    // "time [UTC]" is a time, "day [kWh]" none.
    return is_unit(parts.unit) ? std::nullopt : std::optional<NamedColumn>(named);
}

std::optional<NamedColumn> named_by(const Parts& parts, std::uint32_t said) {
    const Unit* unit = parts.unit.empty() ? nullptr : measured_unit(parts.unit);
    if ((said & (says::time | says::date)) != 0) return column_of(said) ? time_named(said, parts) : std::nullopt;
    std::uint32_t whole = said;
    if ((said & quantities) == 0 && unit != nullptr) whole |= quantity_of(unit->dimension);
    if ((said & says::limit) != 0 && (said & (says::amps | says::supply)) == 0 && unit == nullptr) return std::nullopt;
    // A percentage alone is of a battery only where one is named.
    if ((whole & ~said) == says::charge_state && (said & says::battery) == 0) return std::nullopt;
    const std::optional<C> column = column_of(whole);
    if (!column) return std::nullopt;
    const ColumnFacts& f = facts_of(*column);
    NamedColumn named{*column, 1.0, 0.0, ""};
    named.of_panels = (said & (says::pv | says::panel)) != 0;
    if (*column == C::state) return unit == nullptr ? std::optional<NamedColumn>(named) : std::nullopt;
    if (parts.unit.empty()) {
        if (*column == C::state_of_charge) named.factor = 0.01;
        return named;
    }
    if (unit != nullptr && unit->dimension == f.dimension()) {
        named.factor = unit->factor;
        named.offset = unit->offset;
        named.unit_given = true;
        return named;
    }
    if (!parts.unit_in_brackets) return std::nullopt;
    named.bad_unit = std::string(parts.unit);
    return named;
}

// A unit alone stands for its quantity: "mA", "kW", "W/m²", "s".
std::optional<NamedColumn> unit_alone(std::string_view text) {
    if (const auto seconds = seconds_in(text); seconds && text != "min" && text != "h" && text != "d") {
        NamedColumn named{C::time, *seconds, 0.0, ""};
        named.unit_given = true;
        return named;
    }
    const Unit* unit = measured_unit(text);
    if (unit == nullptr || unit->dimension == D::temperature || unit->dimension == D::ratio) {
        return std::nullopt;
    }
    const auto column = std::find_if(facts.begin(), facts.end(),
                                     [&](const ColumnFacts& f) { return f.dimension() == unit->dimension; });
    if (column == facts.end()) return std::nullopt;
    NamedColumn named{column->column, unit->factor, unit->offset, ""};
    // Single letters name a quantity as often as a unit.
    named.unit_given = text.size() > 1;
    return named;
}

std::optional<NamedColumn> named_in(std::string_view cell) {
    const std::string text = normal_name(trimmed(cell));
    if (text.empty() || text.size() > 64) return std::nullopt;
    if (const auto alone = unit_alone(text)) return alone;
    std::string rest;
    const Parts parts = parted(text, rest);
    if (parts.words.empty()) return parts.unit_in_brackets ? unit_alone(parts.unit) : std::nullopt;
    // "t" is the time, "T" as often a temperature.
    if (parts.words.size() == 1 && parts.words.front() == "t") {
        if (trimmed(cell).front() == 'T' && !seconds_in(parts.unit)) return std::nullopt;
        return time_named(says::time, parts);
    }
    std::uint32_t said = 0;
    for (const std::string_view word : parts.words) {
        const std::optional<std::uint32_t> meaning = word == "t" ? says::temperature : word_says(word);
        if (!meaning) return std::nullopt;
        said |= *meaning;
    }
    if (!parts.bracketed.empty() && (said & (says::time | says::date)) == 0) {
        for (const std::string_view word : words_of(parts.bracketed)) {
            const auto meaning = word_says(word);
            if (!meaning) return std::nullopt;
            said |= *meaning;
        }
    }
    return named_by(parts, said);
}

// The first title of each list is the one messages name.
constexpr std::array<ColumnNames, measured_column_count> names{{
    {C::time, "time", "time, timestamp, date/time, Zeit, Uhrzeit, heure, hora, tijd, elapsed [s]"},
    {C::date, "date", "date, day, Datum, fecha"},
    {C::voltage, "volts", "volts, V, voltage, PV voltage, string voltage, Spannung, tension, spanning"},
    {C::current, "amps", "amps, A, current, PV current, Strom, courant, corriente, stroom"},
    {C::power, "watts", "watts, W, power, PV power, Leistung, puissance, potencia, vermogen"},
    {C::state, "state", "state, status, mode, Zustand, etat, estado"},
    {C::supply_limit, "supply-limit", "supply limit, current limit, Strombegrenzung"},
    {C::irradiance, "light", "irradiance, G, GPOA, sun, Einstrahlung, irradiancia"},
    {C::global_irradiance, "global-light", "GHI, global horizontal irradiance, global [W/m²]"},
    {C::air_temperature, "air", "air temperature [°C], ambient temp [°C], T_amb [°C], Lufttemperatur [°C]"},
    {C::panel_temperature, "panel", "panel temperature [°C], module temp [°C], T_cell [°C], Modultemperatur [°C]"},
    {C::state_of_charge, "charge", "SOC, state of charge, battery level (%), battery percentage, Ladezustand [%], battery %"},
    {C::wall_charging, "wall",
     "wall power, wall charging, AC input (W), AC in [W], grid power, grid [W], mains power, Netz [W], Netzleistung, "
     "shore power, utility power, secteur [W], red [W], lichtnet [W]"},
    {C::display_power, "display-watts", "display W, displayed power, Anzeige [W], affichage [W]"},
    {C::display_current, "display-amps", "display A, displayed current, Anzeige [A]"},
    {C::battery_power, "battery-watts", "battery W, battery power, Batterieleistung"},
}};

bool same_title(std::string_view a, std::string_view b) { return normal_name(trimmed(a)) == normal_name(trimmed(b)); }

}  // namespace

const std::array<ColumnNames, measured_column_count>& column_names() { return names; }

Result<ColumnByHand, std::string> column_by_hand(std::string_view text) {
    const std::size_t sign = text.find('=');
    const std::string name = normal_name(trimmed(text.substr(0, std::min(sign, text.size()))));
    const std::string_view title = sign == std::string_view::npos ? std::string_view() : trimmed(text.substr(sign + 1));
    std::string all;
    for (const ColumnNames& n : names) {
        if (normal_name(n.by_hand) == name && !title.empty()) return ColumnByHand{n.column, std::string(title)};
        all += (all.empty() ? "" : ", ") + std::string(n.by_hand);
    }
    return Failure{title.empty() ? "write what it is and the title of the column, such as wall=AC in"
                                 : shown(name) + " is none of " + all};
}

NamedColumn with_unit(NamedColumn named, std::string_view text) {
    named.bad_unit.clear();
    named.factor = 1.0;
    named.offset = 0.0;
    const Unit* const unit = measured_unit(text);
    const auto seconds = named.column == C::time ? seconds_in(normal_name(text)) : std::nullopt;
    if (seconds) named.factor = *seconds;
    if (seconds || holds_words(named.column)) return named;
    if (unit == nullptr || unit->dimension != facts_of(named.column).dimension()) {
        named.bad_unit = std::string(text);
        return named;
    }
    named.factor = unit->factor;
    named.offset = unit->offset;
    named.unit_given = true;
    return named;
}

std::optional<NamedColumn> named_column(std::string_view cell, const std::vector<ColumnByHand>& by_hand) {
    const auto named = std::find_if(by_hand.begin(), by_hand.end(), [&](const ColumnByHand& c) { return same_title(c.title, cell); });
    if (named == by_hand.end()) {
        const std::optional<NamedColumn> known = named_column(cell);
        const bool taken = known && std::any_of(by_hand.begin(), by_hand.end(), [&](const ColumnByHand& c) { return c.column == known->column; });
        return taken ? std::nullopt : known;
    }
    NamedColumn column{named->column, 1.0, 0.0, ""};
    column.by_hand = true;
    if (column.column == C::state_of_charge) column.factor = 0.01;
    std::string rest;
    const std::string text = normal_name(trimmed(cell));
    const Parts parts = parted(text, rest);
    const Unit* const unit = parts.unit.empty() ? nullptr : measured_unit(parts.unit);
    const bool fits = unit != nullptr && !holds_words(column.column) && unit->dimension == facts_of(column.column).dimension();
    return fits || (column.column == C::time && seconds_in(parts.unit)) ? with_unit(column, parts.unit) : column;
}

const Unit* measured_unit(std::string_view text) {
    const std::string wanted = normal_unit(normal_name(text));
    for (const Dimension dimension : measured_dimensions) {
        if (const Unit* unit = unit_called(wanted, dimension)) return unit;
    }
    return nullptr;
}

Dimension ColumnFacts::dimension() const { return row_of(spec.kind).accepted[0]; }
std::string ColumnFacts::units() const {
    return spec.kind == Kind::by_hand ? std::string(spec.form) : any_of(unit_words(spec.kind));
}

std::optional<double> seconds_in(std::string_view unit) {
    struct Time {
        std::string_view text;
        double length_s;
    };
    static constexpr std::array times{
        Time{"s", 1},          Time{"sec", 1},      Time{"secs", 1},      Time{"second", 1},
        Time{"seconds", 1},    Time{"sekunden", 1}, Time{"secondes", 1},  Time{"segundos", 1},
        Time{"seconden", 1},   Time{"ms", 1e-3},    Time{"millis", 1e-3}, Time{"milliseconds", 1e-3},
        Time{"us", 1e-6},      Time{"µs", 1e-6},    Time{"min", 60},      Time{"mins", 60},
        Time{"minute", 60},    Time{"minutes", 60}, Time{"minuten", 60},  Time{"h", 3600},
        Time{"hr", 3600},      Time{"hrs", 3600},   Time{"hour", 3600},   Time{"hours", 3600},
        Time{"stunden", 3600}, Time{"std", 3600},   Time{"d", 86400},     Time{"days", 86400},
        Time{"tage", 86400}};
    const auto found = std::find_if(times.begin(), times.end(), [&](const Time& t) { return t.text == unit; });
    return found == times.end() ? std::nullopt : std::optional<double>(found->length_s);
}

const ColumnFacts& facts_of(MeasuredColumn column) {
    const ColumnFacts& f = facts[static_cast<std::size_t>(column)];
    assert(f.column == column && "the table keeps the order of the enumeration");
    return f;
}

std::optional<NamedColumn> named_column(std::string_view cell) {
    if (cell.size() > longest_title) return std::nullopt;
    if (auto named = named_in(cell)) return named;
    const std::string apart = parted_at_capitals(cell);
    return apart == cell ? std::nullopt : named_in(apart);
}

}  // namespace plait::input
