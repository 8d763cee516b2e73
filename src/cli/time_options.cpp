#include "time_options.hpp"

#include "weather_file.hpp"

#include <plait/base/civil_date.hpp>

#include <algorithm>
#include <array>
#include <cctype>
#include <string_view>
#include <vector>

namespace plait::cli {
namespace {

using study::HarvestPeriod;
using study::HarvestSpan;

std::string lower(std::string_view text) {
    std::string out(text);
    for (char& c : out) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    return out;
}

std::optional<int> whole(std::string_view text) {
    if (text.empty() || text.size() > 4) return std::nullopt;
    int value = 0;
    for (const char c : text) {
        if (c < '0' || c > '9') return std::nullopt;
        value = 10 * value + (c - '0');
    }
    return value;
}

/// The words of a date: "2026-06-21", "21 June", "June 21, 2026" in parts.
std::vector<std::string> parts_of(const std::string& text) {
    std::vector<std::string> parts(1);
    for (const char c : text) {
        if (c == '-' || c == ' ' || c == ',' || c == '.') {
            if (!parts.back().empty()) parts.emplace_back();
        } else {
            parts.back() += c;
        }
    }
    if (parts.back().empty()) parts.pop_back();
    return parts;
}

std::optional<HarvestPeriod> day_of_text(const std::string& typed, const Setup& setup) {
    constexpr int usual_day = 21;  // of a month alone: that of the longest and the shortest days
    const std::string text = lower(typed);
    if ((text == "longest" || text == "shortest") && setup.location) {
        return text == "longest" ? study::longest_day(*setup.location) : study::shortest_day(*setup.location);
    }
    HarvestPeriod p{HarvestSpan::day, 0, 0, std::nullopt};
    std::vector<int> numbers;
    for (const std::string& part : parts_of(text)) {
        if (const int month = month_named(part); month > 0 && p.month == 0) {
            p.month = month;
        } else if (const std::optional<int> number = whole(part)) {
            if (part.size() == 4) {
                if (p.year) return std::nullopt;
                p.year = *number;
            } else {
                numbers.push_back(*number);
            }
        } else {
            return std::nullopt;
        }
    }
    if (p.month == 0) {
        // Numbers alone are month and day, as in ISO 8601; other orders are not guessed at.
        if (numbers.size() != 2) return std::nullopt;
        p.month = numbers[0];
        p.day = numbers[1];
    } else {
        if (numbers.size() > 1) return std::nullopt;
        p.day = numbers.empty() ? usual_day : numbers.front();
    }
    constexpr int leap_year = 2024;
    const bool fits = p.month >= 1 && p.month <= 12 && p.day >= 1 && (!p.year || (*p.year >= 1950 && *p.year <= 2100)) &&
                      civil_date(p.year.value_or(leap_year), p.month, p.day).ok();
    return fits ? std::optional(p) : std::nullopt;
}

std::optional<HarvestPeriod> month_of_text(const std::string& typed) {
    const std::string text = lower(typed);
    HarvestPeriod p{HarvestSpan::month, month_named(text), 0, std::nullopt};
    if (p.month == 0) p.month = whole(text).value_or(0);
    const bool fits = p.month >= 1 && p.month <= 12;
    return fits ? std::optional(p) : std::nullopt;
}

}  // namespace

Result<HarvestPeriod> asked_day(const std::string& text, const Setup& setup) {
    if (const auto day = day_of_text(text, setup)) return *day;
    return Failure{Diagnostics{{"--day", 0, 0, Complaint::time,
                                "'" + text +
                                    "' is no day; write 2026-06-21, 06-21, \"21 June\", june (its 21st), longest or "
                                    "shortest"}}};
}

Result<HarvestPeriod> period_of(const TimeOptions& o, const Setup& setup) {
    if (o.day) return asked_day(*o.day, setup);
    if (o.month) {
        if (const auto month = month_of_text(*o.month)) return *month;
        return Failure{
            Diagnostics{{"--month", 0, 0, Complaint::time, "'" + *o.month + "' is no month; write june, or 6"}}};
    }
    return HarvestPeriod{};
}

Result<TimeLight> light_over(const TimeOptions& o, const std::string& file, Setup& setup, Session& session) {
    // The place comes first: the longest day depends on it. The year of clear days comes from the period.
    TimeLight out;
    const auto written_year = [&]() -> std::optional<int> {
        const Result<HarvestPeriod> asked = period_of(o, setup);
        return asked ? asked->year : std::nullopt;
    };
    Result<ReadWeather> weather = weather_of(o.weather, written_year(), o.day ? study::DaysOfMonth::alike : study::DaysOfMonth::mixed, file, setup, session);
    if (!weather) return Failure{weather.error()};
    const Result<HarvestPeriod> period = period_of(o, setup);
    if (!period) return Failure{period.error()};
    out.period = *period;
    out.from_file = weather->from_file;
    out.dimmed = weather->dimmed;
    const study::LightSeries all = study::light_series(setup, weather->series);
    out.light = study::light_in(all, out.period);
    if (weather->series.pieced_together && out.light.hours.empty() && out.period.year) {
        // A typical year is made of months of several years: the day counts, not the year.
        out.period.year.reset();
        out.light = study::light_in(all, out.period);
    }
    if (out.light.hours.empty()) {
        const std::string covers = all.hours.empty()
                                       ? std::string("it has no rows")
                                       : "it goes from " + iso_date(all.hours.front().day) + " to " + iso_date(all.hours.back().day);
        return Failure{Diagnostics{
            {o.weather.file.empty() ? std::string("--day") : o.weather.file, 0, 0, Complaint::no_answer,
             "the weather has nothing of that time; " + covers + ": ask for a time within, or without a year"}}};
    }
    return out;
}

Result<TimeLight> light_by(const std::string& by, const TimeOptions& o, const std::string& file, Setup& setup, Session& session) {
    TimeOptions time = o;
    if (by == "day" && !time.day) time.day = "longest";
    if (by == "year" && time.day) {
        return Failure{
            Diagnostics{{"--day", 0, 0, Complaint::option, "a day goes with --by day; leave one of the two away"}}};
    }
    return light_over(time, file, setup, session);
}

}  // namespace plait::cli
