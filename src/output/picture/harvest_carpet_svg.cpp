// Every hour of a year as a tile, by what limits in it; and the sun's way above a plane's horizon.
#include <plait/output/picture.hpp>
#include <plait/study/harvest_sheet.hpp>

#include <plait/base/civil_date.hpp>

#include "plot_frame.hpp"
#include "render/style.hpp"
#include "report/harvest_words.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace plait::output {
namespace {

using study::HarvestLoss;

constexpr double width = 360.0;
constexpr std::size_t days_of_year = 365;

/// What a tile shows: 0 dark, 1 nothing limits, then the limits in the order of the legend.
using Tiles = std::vector<std::array<std::uint8_t, 24>>;

/// The place of a date in the year, 0 … 364; the 29th of February is drawn as the 28th.
std::size_t column_of(int day) {
    constexpr int usual_year = 2025;
    const CivilDate date = date_of(day);
    const bool leap = month_of(date) == 2 && day_of(date) == 29;
    return static_cast<std::size_t>(day_of_year(civil_date(usual_year, month_of(date), leap ? 28 : day_of(date))) - 1);
}

/// The limits by the energy they take, the most first; what is beyond the fourth is drawn as one.
std::vector<HarvestLoss> limits_by_energy(const study::HarvestYear& harvest) {
    std::vector<HarvestLoss> limits;
    for (std::size_t i = 0; i < study::harvest_loss_count; ++i) {
        if (harvest.limited_h[i] > 0.0) limits.push_back(static_cast<HarvestLoss>(i));
    }
    std::stable_sort(limits.begin(), limits.end(), [&](HarvestLoss a, HarvestLoss b) {
        return harvest.total.loss_wh(a) > harvest.total.loss_wh(b);
    });
    return limits;
}

constexpr std::size_t most_limits = 4;
// Shades of grey that stay apart in print; the lightest is an hour without a limit.
constexpr std::array<std::string_view, most_limits + 2> tile_css{"tile t0", "tile t1", "tile t2", "tile t3", "tile t4", "tile t5"};

Tiles tiles_of(const study::HarvestSheet& s, const std::vector<HarvestLoss>& limits) {
    Tiles tiles(days_of_year);
    for (std::size_t i = 0; i < s.light.hours.size(); ++i) {
        const study::LightHour& h = s.light.hours[i];
        const auto hour = static_cast<std::size_t>(std::clamp(std::floor(h.local_h + 1e-6), 0.0, 23.0));
        std::uint8_t& tile = tiles[column_of(h.day)][hour];
        if (tile > 1 || !(s.harvest.possible_w[i] > 0.0)) continue;  // the first of several years or intervals that is limited
        tile = 1;
        if (!s.harvest.limited_by[i]) continue;
        const auto place = static_cast<std::size_t>(std::find(limits.begin(), limits.end(), *s.harvest.limited_by[i]) - limits.begin());
        tile = static_cast<std::uint8_t>(2 + std::min(place, most_limits - 1));
    }
    return tiles;
}

std::string ended(Svg& svg, const Setup& setup, const study::Verdict& plan, PictureUse use) {
    if (plan.connection == study::Connection::forbidden) svg.across("EXCEEDS");
    return finished(svg, setup, plan, use);
}

void draw_months(Svg& svg, const Frame& f) {
    constexpr std::array<std::string_view, 12> names{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
    for (int m = 1; m <= 12; ++m) {
        const double x = static_cast<double>(column_of(day_number(civil_date(2025, m, 1))));
        svg.line(f.at(x, f.least_y), f.at(x, f.most_y), "grid");
        svg.text({f.at(x + 15.0, 0.0).x, f.bottom() + 12.0}, names[static_cast<std::size_t>(m - 1)], "small soft", "middle");
    }
    for (const double hour : {0.0, 6.0, 12.0, 18.0, 24.0}) {
        svg.line(f.at(f.least_v, hour), f.at(f.most_v, hour), "grid");
        svg.text({f.left - 4.0, f.at(0.0, hour).y + 3.5}, fmt::format("{:.0f}", hour), "small soft", "end");
    }
    svg.text({4.0, f.top - 8.0}, "hour of standard time", "small soft");
}

std::string compass(double azimuth_deg) {
    static constexpr std::array<std::string_view, 8> names{"N", "NE", "E", "SE", "S", "SW", "W", "NW"};
    return std::string(names[static_cast<std::size_t>(std::lround(azimuth_deg / 45.0)) % 8]);
}

}  // namespace

std::string harvest_carpet_svg(const Setup& setup, const study::HarvestSheet& s, const study::Verdict& plan, PictureUse use) {
    Frame f;
    f.left = 30.0;
    f.width = width - f.left - 8.0;
    f.height = 168.0;
    f.most_v = static_cast<double>(days_of_year);
    f.most_y = 24.0;
    const std::vector<HarvestLoss> limits = limits_by_energy(s.harvest);
    const Tiles tiles = tiles_of(s, limits);
    std::vector<std::string> lines{"light, and no limit takes anything"};
    for (std::size_t i = 0; i < std::min(limits.size(), most_limits); ++i) {
        const bool rest = i + 1 == most_limits && limits.size() > most_limits;
        lines.push_back(rest ? std::string("other limits")
                             : fmt::format("{}: {} in {:.0f} h", words_of(limits[i]), watt_hours(s.usual_wh_or_h(s.harvest.total.loss_wh(limits[i]))),
                                           s.usual_wh_or_h(s.harvest.limited_h[static_cast<std::size_t>(limits[i])])));
    }
    std::string description = "A tile for each hour: across the days, upwards the hours.";
    for (const std::string& line : lines) description += " " + line + ";";
    const double legend_y = f.bottom() + 30.0;
    Svg svg(width, legend_y + 13.0 * static_cast<double>(lines.size()), "harvest-carpet", "Which limit takes most, hour by hour", description);
    draw_months(svg, f);
    // Neighbouring days that look alike are one rectangle.
    for (std::size_t hour = 0; hour < 24; ++hour) {
        for (std::size_t day = 0; day < days_of_year;) {
            const std::uint8_t tile = tiles[day][hour];
            std::size_t end = day + 1;
            while (end < days_of_year && tiles[end][hour] == tile) ++end;
            if (tile > 0) {
                const Spot top = f.at(static_cast<double>(day), static_cast<double>(hour) + 1.0);
                const Spot bottom = f.at(static_cast<double>(end), static_cast<double>(hour));
                svg.rect(top, bottom.x - top.x, bottom.y - top.y, tile_css[tile]);
            }
            day = end;
        }
    }
    svg.line(f.at(0.0, 12.0), f.at(f.most_v, 12.0), "noon");
    double y = legend_y;
    for (std::size_t i = 0; i < lines.size(); ++i) {
        svg.rect({6.0, y - 8.0}, 14.0, 9.0, tile_css[i + 1]);
        svg.text({25.0, y}, fitting(lines[i], width - 31.0), "small");
        y += 13.0;
    }
    return ended(svg, setup, plan, use);
}

std::string horizon_svg(const Setup& setup, std::size_t plane, const study::Verdict& plan, PictureUse use) {
    const Plane& p = setup.planes[plane];
    const std::vector<study::SunWay> ways = study::sun_ways(*setup.location);
    // The middle of the picture is where the sun is at noon.
    const double first_deg = setup.location->in_the_south() ? 180.0 : 0.0;
    const auto across = [&](double azimuth_deg) { return azimuth_deg < first_deg ? azimuth_deg + 360.0 : azimuth_deg; };
    Frame f;
    f.width = width - f.left - 10.0;
    f.height = 160.0;
    f.least_v = first_deg;
    f.most_v = first_deg + 360.0;
    f.most_y = 90.0;
    Svg svg(width, f.bottom() + 46.0, fmt::format("horizon-{}", plane), "The sun's way, and what hides the sky",
            fmt::format("Seen from {}: the horizon, and the sun's way on 21 June, March, September and December.", p.name));
    for (double deg = f.least_v; deg <= f.most_v; deg += 45.0) {
        svg.line(f.at(deg, 0.0), f.at(deg, 90.0), "grid");
        svg.text({f.at(deg, 0.0).x, f.bottom() + 12.0}, compass(deg), "small soft", "middle");
    }
    for (const double deg : {0.0, 15.0, 30.0, 45.0, 60.0, 75.0, 90.0}) {
        svg.line(f.at(f.least_v, deg), f.at(f.most_v, deg), "grid");
        svg.text({f.left - 4.0, f.at(f.least_v, deg).y + 3.5}, fmt::format("{:.0f}°", deg), "small soft", "end");
    }
    if (!p.horizon.empty()) {
        std::vector<Spot> hidden{f.at(f.least_v, 0.0)};
        for (double deg = f.least_v; deg <= f.most_v; deg += 1.0) {
            hidden.push_back(f.at(deg, horizon_elevation_deg(p.horizon, std::fmod(deg, 360.0))));
        }
        hidden.push_back(f.at(f.most_v, 0.0));
        svg.polygon(hidden, "shade");
        svg.polyline({hidden.begin() + 1, hidden.end() - 1}, "edge");
    }
    for (const study::SunWay& way : ways) {
        if (way.places.empty()) continue;
        std::vector<Spot> line;
        const auto drawn = [&] {
            if (line.size() > 1) svg.polyline(line, way.month == 6 || way.month == 12 ? "path" : "current");
            line.clear();
        };
        const study::SunWay::Place* highest = &way.places.front();
        for (const study::SunWay::Place& place : way.places) {
            const Spot spot = f.at(across(place.azimuth_deg), place.elevation_deg);
            if (!line.empty() && std::abs(spot.x - line.back().x) > 0.5 * f.width) drawn();
            line.push_back(spot);
            if (place.elevation_deg > highest->elevation_deg) highest = &place;
        }
        drawn();
        for (const study::SunWay::Place& place : way.places) {
            if (std::abs(place.local_h - std::round(place.local_h)) > 1e-6 || way.month == 9) continue;
            const Spot spot = f.at(across(place.azimuth_deg), place.elevation_deg);
            svg.circle(spot, 1.8, "mark");
            const int hour = static_cast<int>(std::lround(place.local_h));
            if (hour % 3 == 0 && way.month == (setup.location->in_the_south() ? 12 : 6)) {
                svg.text({spot.x, spot.y - 4.0}, fmt::format("{}", hour), "tag halo", "middle");
            }
        }
        if (way.month == 9) continue;
        // Under the longest day's bow there is room, over it stand its hours.
        const bool longest = way.month == (setup.location->in_the_south() ? 12 : 6);
        svg.text({f.at(across(highest->azimuth_deg), 0.0).x, f.at(0.0, highest->elevation_deg).y + (longest ? 12.0 : -5.0)},
                 way.month == 3 ? std::string("21 March, 21 September") : fmt::format("{} {}", way.day, month_name(way.month)), "small halo",
                 "middle");
    }
    svg.polyline({{f.left, f.top}, {f.left, f.bottom()}, {f.right(), f.bottom()}}, "axis");
    svg.text({6.0, f.bottom() + 28.0}, fitting(fmt::format("from {}, which looks {}", p.name, plane_words(p)), width - 12.0), "small");
    svg.text({6.0, f.bottom() + 41.0},
             p.horizon.empty() ? "no horizon is stated; rings: full hours of standard time"
                               : "tinted: hidden by the stated horizon; rings: full hours of standard time",
             "small soft");
    return finished(svg, setup, plan, use);
}

}  // namespace plait::output
