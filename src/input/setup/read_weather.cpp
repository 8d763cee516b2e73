#include <plait/input/read_weather.hpp>

#include "quantity/fields.hpp"
#include "quantity/text_guard.hpp"

#include <fmt/core.h>

#include <algorithm>

namespace plait::input {
namespace {

constexpr std::size_t most_voltages = 10001;
constexpr Spec sun{.key = "light", .kind = Kind::irradiance, .meaning = "", .if_missing = "", .limits = {0, 2000}};
constexpr Spec warmth{
    .key = "temperature", .kind = Kind::temperature, .meaning = "", .if_missing = "", .limits = {-60, 100}};
constexpr Spec place{.key = "voltage", .kind = Kind::voltage, .meaning = "", .if_missing = "", .limits = {0, 3000}};

// A number without a unit is read like one without quotes in a file: on a command line there are no quotes to tell.
std::optional<double> quantity(std::string_view text, Place at, const Spec& spec, const FileNotes& notes) {
    const auto split = split_quantity(text);
    const Node node = split && split->unit.empty() ? Node{at, split->number} : Node{at, std::string(text)};
    const std::optional<Measure> measure = read_measure(notes, spec, node);
    return measure ? std::optional<double>(measure->value) : std::nullopt;
}

Result<double> one(std::string_view text, const std::string& where, const Spec& spec) {
    if (const auto complaint = encoding_complaint(text, where)) return Failure{Diagnostics{*complaint}};
    Notes notes;
    const std::optional<double> value = quantity(text, {}, spec, FileNotes(where, notes));
    if (!value) return Failure{std::move(notes.complaints)};
    return *value;
}

}  // namespace

Result<double> read_irradiance(std::string_view text, const std::string& where) { return one(text, where, sun); }

Result<Celsius> read_temperature(std::string_view text, const std::string& where) {
    const Result<double> degc = one(text, where, warmth);
    if (!degc) return Failure{degc.error()};
    return Celsius{*degc};
}

Result<std::vector<double>> read_voltages(std::string_view text, const std::string& where) {
    if (const auto complaint = encoding_complaint(text, where)) return Failure{Diagnostics{*complaint}};
    const auto count = static_cast<std::size_t>(std::count(text.begin(), text.end(), ',')) + 1;
    if (count > most_voltages) {
        return Failure{Diagnostics{
            {where, 0, 0,
             fmt::format("{} voltages are asked for. At most {} are taken at once.", count, most_voltages)}}};
    }
    Notes notes;
    const FileNotes said(where, notes);
    std::vector<double> voltages;
    int column = 1;
    for (std::size_t begin = 0; begin <= text.size();) {
        const std::size_t end = std::min(text.find(',', begin), text.size());
        const std::string_view part = text.substr(begin, end - begin);
        const auto value = quantity(trimmed(part), {1, column}, place, said);
        if (value) voltages.push_back(*value);
        column += static_cast<int>(character_count(part)) + 1;
        begin = end + 1;
    }
    if (!notes.complaints.empty()) return Failure{in_order(std::move(notes.complaints))};
    return voltages;
}

}  // namespace plait::input
