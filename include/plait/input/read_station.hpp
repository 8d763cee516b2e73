// Daily station records: the open GHCN-Daily data set, as .dly or CSV.
#pragma once

#include <plait/base/result.hpp>
#include <plait/model/weather.hpp>

#include <string>
#include <string_view>

namespace plait::input {

/// Reads a station's daily lowest and highest air: fixed-width .dly, or CSV long (station, date, element, value, flags;
/// with or without header) or wide (a row a day with TMIN and TMAX columns). Values with a quality flag are left out
/// and counted. `station` picks one of several; empty: the file must hold only one. Fails with every complaint, but
/// stops after twenty.
[[nodiscard]] Result<StationRecord> read_station(std::string_view text, const std::string& file,
                                                 const std::string& station = {});

}  // namespace plait::input
