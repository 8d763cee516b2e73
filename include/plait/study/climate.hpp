// What a station's daily record says of the coldest and hottest air. How, and what it is worth: docs/weather.md.
#pragma once

#include <plait/model/site.hpp>
#include <plait/model/weather.hpp>
#include <plait/physics/extreme_values.hpp>

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace plait::study {

/// The extreme of one season, or of one calendar year.
struct YearExtreme {
    int year = 0;  ///< of a season over new year: the later one
    int day = 0;   ///< since 1970-01-01
    double value_degc = 0.0;
};

/// A season or year left out, and why: so many days of its decisive quarter have no value.
struct YearGap {
    int year = 0;
    int missing = 0;
    int quarter = 0;  ///< days of that quarter
};

/// What is passed once in so many years.
struct ReturnLevel {
    double period_years = 0.0;
    Celsius level;
    Celsius low;  ///< 95 % of the likelihood lies between these two
    Celsius high;
};

/// A straight line through the seasons' extremes: kelvins per ten years, and half its 95 % range.
struct Trend {
    double per_decade_k = 0.0;
    double uncertain_k = 0.0;
};

/// One side of the record: the lows or the highs.
struct ExtremeSide {
    YearExtreme record;
    std::size_t days = 0;                    ///< with a value
    std::vector<YearExtreme> seasons;        ///< complete enough: winters for the lows, summers for the highs
    std::vector<YearGap> gaps;               ///< seasons left out
    std::optional<double> mean_yearly_degc;  ///< over calendar years that are complete enough
    std::size_t mean_years = 0;              ///< how many these are
    /// Of the seasons' extremes, lows negated; empty with fewer than `least_seasons`.
    std::optional<physics::ExtremeValues> fit;
    std::vector<ReturnLevel> levels;  ///< of 10 and 50 years, as far as there is a fit
    std::optional<Trend> trend;
};

/// Fewer seasons give no return level: *our judgement*.
inline constexpr std::size_t least_seasons = 10;
/// A season or year counts while no more of its decisive quarter is missing: *common practice, no source*.
inline constexpr double most_missing_ratio = 0.10;

struct ClimateSheet {
    std::string id;
    std::string name;
    bool in_the_south = false;
    int first_day = 0;  ///< of the record, since 1970-01-01
    int last_day = 0;
    std::size_t flagged = 0;
    std::optional<ExtremeSide> cold;  ///< empty: no lows at all
    std::optional<ExtremeSide> hot;
    /// For [site]: the colder (hotter) of record and 50-year level.
    std::optional<Celsius> coldest_air;
    TemperatureBasis coldest_basis = TemperatureBasis::unsaid;
    std::optional<Celsius> hottest_air;
    TemperatureBasis hottest_basis = TemperatureBasis::unsaid;
    std::vector<std::string> notes;
};

/// The winters are December to February in the north, June to August in the south; `in_the_south` goes before what the
/// record says of its latitude.
[[nodiscard]] ClimateSheet climate_sheet(const StationRecord& record, std::optional<bool> in_the_south = std::nullopt);

/// Lines to paste under [site]: the chosen values with their basis, the others as comments. Lows are rounded down to a
/// tenth, highs up.
[[nodiscard]] std::vector<std::string> site_lines(const ClimateSheet& sheet);

}  // namespace plait::study
