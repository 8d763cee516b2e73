#include <plait/base/civil_date.hpp>

#include "csv_field.hpp"
#include "report/harvest_words.hpp"

#include <fmt/core.h>

#include <cmath>
#include <iterator>

namespace plait::output {
namespace {

/// "2025-06-21T11:30", of hours since 1970-01-01.
std::string stamp(double hours) {
    const auto minutes = static_cast<long long>(std::llround(hours * 60.0));
    const auto day = static_cast<int>(std::floor(static_cast<double>(minutes) / 1440.0));
    const long long of_day = minutes - 1440LL * day;
    return fmt::format("{}T{:02d}:{:02d}", iso_date(day), of_day / 60, of_day % 60);
}

}  // namespace

std::string harvest_csv(const HarvestSubject& subject) {
    const Setup& setup = subject.system.setup();
    const study::LightSeries& light = subject.sheet.light;
    const study::HarvestYear& harvest = subject.sheet.harvest;
    std::string out = csv_remark("harvest", setup, subject.judged.judgement.verdict);
    out += "begins_utc,begins_standard_time,air_degc,sun_elevation_deg,sun_azimuth_deg,global_w_per_m2";
    for (std::size_t p = 0; p < light.planes.size(); ++p) {
        out += "," + csv_field(fmt::format("light_{}_w_per_m2", setup.planes.empty() ? light.assumed_plane.name : setup.planes[p].name));
    }
    out += ",possible_w,limited_w";
    for (const study::InputHarvest& one : harvest.inputs) {
        out += "," + csv_field(fmt::format("taken_{}_w", setup.controller.inputs[one.input].name));
    }
    out += ",delivered_w,limited_most_by\n";
    const auto to = std::back_inserter(out);
    for (std::size_t i = 0; i < light.hours.size(); ++i) {
        const study::LightHour& h = light.hours[i];
        fmt::format_to(to, "{},{},{},{},{},{}", stamp(h.start_ut_h), stamp(24.0 * h.day + h.local_h), h.air.degc, h.elevation_deg,
                       h.azimuth_deg, h.global_w_per_m2);
        for (const study::PlaneSeries& plane : light.planes) fmt::format_to(to, ",{}", plane.light_w_per_m2[i]);
        fmt::format_to(to, ",{},{}", harvest.possible_w[i], harvest.limited_w[i]);
        for (const study::InputHarvest& one : harvest.inputs) fmt::format_to(to, ",{}", one.taken_w[i]);
        fmt::format_to(to, ",{},{}\n", harvest.delivered_w[i], harvest.limited_by[i] ? study::name_of(*harvest.limited_by[i]) : "");
    }
    return out;
}

}  // namespace plait::output
