#include <plait/input/read_charging.hpp>

#include "place_words.hpp"
#include "quantity/decimal.hpp"
#include "quantity/fields.hpp"
#include "quantity/text_guard.hpp"
#include "quantity/words.hpp"


#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace plait::input {
namespace {

constexpr std::size_t longest = 60;
constexpr Spec charge{.kind = Kind::percentage, .limits = {0.0, 1.0}};
constexpr Spec wall{.kind = Kind::power, .limits = {0.1, 1e6}};

Failure<Diagnostics> fault(const std::string& where, std::string message) {
    return Failure{Diagnostics{{where, 0, 0, Complaint::time, std::move(message)}}};
}

/// What no text of an option may be; empty where it is fine.
std::optional<Diagnostic> unreadable(std::string_view text, const std::string& where) {
    if (auto complaint = encoding_complaint(text, where)) return complaint;
    if (text.size() > longest) return Diagnostic{where, 0, 0, Complaint::how_many, "this is far too long"};
    return std::nullopt;
}

Result<double> measured(std::string_view text, const std::string& where, const Spec& spec) {
    Notes notes;
    const std::optional<Measure> read = read_typed(FileNotes(where, notes), spec, text, {});
    if (!read) return Failure{std::move(notes.complaints)};
    return read->value;
}

}  // namespace

Result<double> read_charge_ratio(std::string_view text, const std::string& where) {
    if (auto complaint = unreadable(text, where)) return Failure{Diagnostics{*std::move(complaint)}};
    const std::string word = lower(trimmed(text));
    if (word == "full") return 1.0;
    if (word == "empty") return 0.0;
    return measured(trimmed(text), where, charge);
}

Result<std::optional<double>> read_wall_power_w(std::string_view text, const std::string& where) {
    if (auto complaint = unreadable(text, where)) return Failure{Diagnostics{*std::move(complaint)}};
    const std::string word = lower(trimmed(text));
    if (word == "none" || word == "0" || word == "0 w") return std::optional<double>();
    const Result<double> watts = measured(trimmed(text), where, wall);
    if (!watts) return Failure{watts.error()};
    return std::optional(*watts);
}

Result<double> read_time_of_day_h(std::string_view text, const std::string& where) {
    if (auto complaint = unreadable(text, where)) return Failure{Diagnostics{*std::move(complaint)}};
    const auto hours = written_time_of_day(text);
    if (hours && *hours < 24.0) return *hours;
    return fault(where, fmt::format("{} is no time of day; write one such as \"08:30\", from 00:00 to 23:59",
                                    quoted(trimmed(text))));
}

Result<double> read_clock_offset_s(std::string_view text, const std::string& where) {
    if (auto complaint = unreadable(text, where)) return Failure{Diagnostics{*std::move(complaint)}};
    constexpr double most_s = 86400.0;
    std::string_view all = trimmed(text);
    const std::size_t blank = all.find_first_not_of("+-.0123456789");
    const std::string unit = blank == std::string_view::npos ? "s" : lower(trimmed(all.substr(blank)));
    std::string_view digits = trimmed(all.substr(0, std::min(blank, all.size())));
    if (!digits.empty() && digits.front() == '+') digits.remove_prefix(1);
    const auto number = decimal_number(digits);
    const double factor = unit == "s" ? 1.0 : unit == "min" ? 60.0 : unit == "h" ? 3600.0 : 0.0;
    if (number && factor > 0.0 && std::abs(*number * factor) <= most_s) return *number * factor;
    return fault(where, fmt::format("{} is no time a clock is off by; write it with s, min or h, such as \"3 min\", or "
                                    "\"-40 s\" if the clock was behind",
                                    quoted(all)));
}

}  // namespace plait::input
