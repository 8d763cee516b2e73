// A harvest over a year, a month or a day, as a report wants it: the light of that time, the account, and its parts by
// month, day or hour.
#pragma once

#include <plait/base/names.hpp>
#include <plait/study/harvest_year.hpp>

#include <optional>
#include <string>
#include <vector>

namespace plait::study {

enum class HarvestSpan { year, month, day };
inline constexpr Names harvest_span_names{
    Name{HarvestSpan::year, "year"},
    Name{HarvestSpan::month, "month"},
    Name{HarvestSpan::day, "day"},
};
[[nodiscard]] constexpr std::string_view name_of(HarvestSpan span) { return name_in(harvest_span_names, span); }

/// Which time. `month` (1 … 12) for a month and a day, `day` (1 … 31) for a day; `year` where only that one is meant.
struct HarvestPeriod {
    HarvestSpan span = HarvestSpan::year;
    int month = 0;
    int day = 0;
    std::optional<int> year;
};

/// 21 June, or 21 December: within minutes the longest and the shortest day there are.
[[nodiscard]] HarvestPeriod longest_day(const Location& location);
[[nodiscard]] HarvestPeriod shortest_day(const Location& location);

/// The first interval of a day; nothing where the series does not have it. `any_year`: whichever year is written.
[[nodiscard]] std::optional<std::size_t> first_of_day(const LightSeries& light, const HarvestPeriod& day,
                                                      bool any_year = false);

/// What of a series lies in a period; no hours where it has none of it. Of a month all years are kept, of a day without
/// a year the first.
[[nodiscard]] LightSeries light_in(const LightSeries& light, const HarvestPeriod& period);

/// A part of the time: a month, a day, an hour.
struct HarvestPart {
    int first_day = 0;    ///< since 1970-01-01
    double from_h = 0.0;  ///< of that day
    double covered_h = 0.0;
    double possible_wh = 0.0;  ///< every panel in use at its own maximum
    double limited_wh = 0.0;   ///< not taken for a limit
    double delivered_wh = 0.0;
    std::array<double, harvest_loss_count> limited_h{};  ///< hours in which that limit took most
    [[nodiscard]] double covered_days() const { return covered_h / 24.0; }
    [[nodiscard]] double per_day_wh() const { return delivered_wh / covered_days(); }
    [[nodiscard]] double mean_w() const { return delivered_wh / covered_h; }
    /// Not taken for a limit, of what is possible.
    [[nodiscard]] double limited_ratio() const { return possible_wh > 0.0 ? limited_wh / possible_wh : 0.0; }
    void add(const HarvestPart& other);
};

enum class HarvestStep { month, day, hour };
/// The series in parts: calendar months whatever the year, days, or hours.
[[nodiscard]] std::vector<HarvestPart> parts_of(const LightSeries& light, const HarvestYear& harvest, HarvestStep step);

struct HarvestSheet {
    HarvestPeriod period;
    bool from_file = false;  ///< weather as measured; else clear days, as dimmed as the site says
    bool dimmed = false;     ///< by the site's monthly light
    LightSeries light;       ///< of the period
    HarvestYear harvest;

    /// All of it as one part.
    [[nodiscard]] HarvestPart whole() const;
    /// Energy a day; 0 where nothing is covered.
    [[nodiscard]] double per_day_wh() const { return light.covered_days() > 0.0 ? harvest.total.delivered_wh / light.covered_days() : 0.0; }
    /// What one such year or month comes to, of energy or hours, where the series covers several; else the sum as it
    /// is.
    [[nodiscard]] double usual_wh_or_h(double sum_wh_or_h) const;
};

/// Clear skies on 21 June and on 21 December: what a wiring delivers on each, Wh. The set-up must have a location.
struct ClearDays {
    double june_wh = 0.0;
    double december_wh = 0.0;
};
[[nodiscard]] ClearDays clear_day_harvest(const SystemModel& system, const ArrayPlan& plan);

/// The sun's way over one day, while it is up.
struct SunWay {
    int month = 0;
    int day = 0;
    struct Place {
        double azimuth_deg = 0.0;
        double elevation_deg = 0.0;
        double local_h = 0.0;  ///< standard time
    };
    std::vector<Place> places;  ///< every ten minutes; empty in the polar night
};
/// On 21 June, 21 March, 21 September and 21 December.
[[nodiscard]] std::vector<SunWay> sun_ways(const Location& location);

}  // namespace plait::study
