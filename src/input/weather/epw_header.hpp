// The eight lines above the rows of an EPW file.
#pragma once

#include "table/measured_complaints.hpp"

#include <plait/model/weather.hpp>

#include <optional>
#include <string_view>

namespace plait::input {

struct EpwHeader {
    Location location;
    int records_per_hour = 1;
};

/// A header line into what it says, by its first field. Unknown lines say nothing.
void read_epw_header_line(std::string_view line, int number, EpwHeader& header, WeatherSeries& series,
                          MeasuredComplaints& complaints);

/// The extremes of a DESIGN CONDITIONS line: behind the label "Extremes" three wind speeds, a wet-bulb temperature, the
/// mean yearly lowest and highest air, their spreads, then lowest and highest for 5, 10, 20 and 50 years (ASHRAE's
/// climate design data as EnergyPlus' auxiliary-programs manual lists them [order of the pairs from memory, so the
/// lower of a pair is the low one]). Handbooks differ: what is not in order is not read.
[[nodiscard]] std::optional<StatedExtremes> extremes_in(std::string_view line);

}  // namespace plait::input
