#include <plait/input/read_weather.hpp>

#include "quantity/fields.hpp"
#include "quantity/text_guard.hpp"

#include <fmt/core.h>

#include <algorithm>

namespace plait::input {
namespace {

constexpr std::size_t most_voltages = 10001;
constexpr Spec sun{.kind = Kind::irradiance, .limits = {0, 2000}};
constexpr Spec warmth{.kind = Kind::temperature, .limits = {-60, 100}};
constexpr Spec place{.kind = Kind::voltage, .limits = {0, 3000}};

Result<double> one(std::string_view text, const std::string& where, const Spec& spec) {
    if (const auto complaint = encoding_complaint(text, where)) return Failure{Diagnostics{*complaint}};
    Notes notes;
    const std::optional<Measure> read = read_typed(FileNotes(where, notes), spec, text, {});
    if (!read) return Failure{std::move(notes.complaints)};
    return read->value;
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
            {where, 0, 0, Complaint::how_many,
             fmt::format("{} voltages are asked for. At most {} are taken at once.", count, most_voltages)}}};
    }
    Notes notes;
    const FileNotes said(where, notes);
    std::vector<double> voltages;
    int column = 1;
    for (std::size_t begin = 0; begin <= text.size();) {
        const std::size_t end = std::min(text.find(',', begin), text.size());
        const std::string_view part = text.substr(begin, end - begin);
        const auto read = read_typed(said, place, trimmed(part), {1, column});
        if (read) voltages.push_back(read->value);
        column += static_cast<int>(character_count(part)) + 1;
        begin = end + 1;
    }
    if (!notes.complaints.empty()) return Failure{in_order(std::move(notes.complaints))};
    return voltages;
}

}  // namespace plait::input
