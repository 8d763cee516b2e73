#pragma once

#include <plait/base/names.hpp>
#include <plait/base/temperature.hpp>

#include <array>
#include <optional>
#include <string_view>
#include <vector>

namespace plait {

/// Where a temperature comes from; it decides how often it is passed.
enum class TemperatureBasis {
    record,        ///< the lowest or highest ever measured there
    mean_extreme,  ///< the mean of the yearly extremes: passed about every second year
    forecast,      ///< expected for the days in question only
    fifty_year,    ///< reached once in 50 years on average
    unsaid,
};

enum class Mounting { open_rack, close_to_roof, propped_up, flat_on_ground };

enum class ColdMethod {
    coefficient,  ///< the panel's own Voc coefficient
    code_table,   ///< the factors of NEC table 690.7(A), crystalline silicon only
    flat_factor,  ///< one factor for every winter
};

/// Whose installation rules are quoted.
enum class Code { nec, iec, both };

/// A temperature of which no more is known than that it lies between these two.
struct TemperatureRange {
    Celsius low;
    Celsius high;
};

/// Of a range the graver end is judged (the low one of the coldest air, the high one of the hottest), of the warm day
/// the middle; the ranges are kept beside them.
struct Site {
    Celsius coldest_air{-20.0};
    std::optional<TemperatureRange> coldest_air_range;
    TemperatureBasis coldest_basis = TemperatureBasis::unsaid;
    Celsius hottest_air{40.0};
    std::optional<TemperatureRange> hottest_air_range;
    TemperatureBasis hottest_basis = TemperatureBasis::unsaid;
    Celsius warm_air{25.0};  ///< the day by which wirings are ranked
    std::optional<TemperatureRange> warm_air_range;
    Mounting mounting = Mounting::open_rack;
    double peak_irradiance_w_per_m2 = 1000.0;
    ColdMethod cold_method = ColdMethod::coefficient;
    double flat_factor_ratio = 1.2;  ///< IEC 60364-7-712 where no panel data are at hand
    Code code = Code::both;
};

/// The site at every other combination of the ends of its ranges; empty where each temperature is one value.
[[nodiscard]] std::vector<Site> at_other_ends(const Site& site);

/// The last stands for a key that is missing; it is not written.
inline constexpr Names temperature_basis_names{
    Name{TemperatureBasis::record, "record"},     Name{TemperatureBasis::mean_extreme, "mean-extreme"},
    Name{TemperatureBasis::forecast, "forecast"}, Name{TemperatureBasis::fifty_year, "fifty-year"},
    Name{TemperatureBasis::unsaid, "unsaid"},
};
[[nodiscard]] constexpr std::string_view name_of(TemperatureBasis b) { return name_in(temperature_basis_names, b); }

inline constexpr Names mounting_names{
    Name{Mounting::open_rack, "open-rack"},
    Name{Mounting::close_to_roof, "close-to-roof"},
    Name{Mounting::propped_up, "propped-up"},
    Name{Mounting::flat_on_ground, "flat-on-ground"},
};
[[nodiscard]] constexpr std::string_view name_of(Mounting m) { return name_in(mounting_names, m); }

inline constexpr Names cold_method_names{
    Name{ColdMethod::coefficient, "coefficient"},
    Name{ColdMethod::code_table, "code-table"},
    Name{ColdMethod::flat_factor, "flat-factor"},
};
[[nodiscard]] constexpr std::string_view name_of(ColdMethod m) { return name_in(cold_method_names, m); }

inline constexpr Names code_names{
    Name{Code::nec, "NEC"},
    Name{Code::iec, "IEC"},
    Name{Code::both, "both"},
};
[[nodiscard]] constexpr std::string_view name_of(Code c) { return name_in(code_names, c); }

}  // namespace plait
