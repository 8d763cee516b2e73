// What a person measures at an array, in what weather, and how well.
#pragma once

#include <plait/base/names.hpp>
#include <plait/base/temperature.hpp>

#include <array>
#include <cstddef>
#include <optional>
#include <string_view>

namespace plait {

/// A place to put a meter, or a figure on the input's own display.
enum class MeterPoint {
    string_voc,  ///< one string alone, nothing connected
    string_isc,  ///< one string alone, shorted
    array_voc,   ///< an input's strings joined, not plugged in
    array_isc,
    display_v,  ///< plugged in and working
    display_a,
    display_w,
};

inline constexpr std::array meter_points{MeterPoint::string_voc, MeterPoint::string_isc, MeterPoint::array_voc,
                                         MeterPoint::array_isc,  MeterPoint::display_v,  MeterPoint::display_a,
                                         MeterPoint::display_w};

/// Both indices count from 0; `string` is 0 for everything but strings.
struct ReadingPlace {
    MeterPoint point = MeterPoint::array_voc;
    std::size_t input = 0;
    std::size_t string = 0;

    friend bool operator==(const ReadingPlace& a, const ReadingPlace& b) {
        return a.point == b.point && a.input == b.input && a.string == b.string;
    }
};

/// V, A or W by the point; negative: the meter shows a minus.
struct MeterReading {
    ReadingPlace place;
    double value = 0.0;
};

/// The weather while measuring; absent: nobody measured it. Irradiance is that in the panels' plane.
struct FieldWeather {
    std::optional<Celsius> air;
    std::optional<Celsius> cell;  ///< goes before `air`
    std::optional<double> irradiance_w_per_m2;
};

/// How far a figure may be off: half the width that about 95 % of cases stay in (two standard deviations; JCGM
/// 100:2008, coverage factor 2). The defaults are *common practice, no source*: the 5 % of IEC 62446-1 is string
/// against string, and against the datasheet it names no number [from memory].
struct Accuracies {
    double array_ratio = 0.05;       ///< array against datasheet
    double meter_ratio = 0.01;       ///< of the reading
    double display_ratio = 0.03;     ///< the input's own figures
    double irradiance_ratio = 0.05;  ///< a small hand-held sensor
    double temperature_k = 2.0;      ///< a thermometer, or a sensor on a panel's back
    double mounting_k = 5.0;         ///< cells worked out from the air: wind and mounting
};

struct FieldConditions {
    FieldWeather weather;
    Accuracies accuracies;
};

[[nodiscard]] constexpr bool is_voltage(MeterPoint p) {
    return p == MeterPoint::string_voc || p == MeterPoint::array_voc || p == MeterPoint::display_v;
}
[[nodiscard]] constexpr bool is_power(MeterPoint p) { return p == MeterPoint::display_w; }
[[nodiscard]] constexpr bool is_of_string(MeterPoint p) {
    return p == MeterPoint::string_voc || p == MeterPoint::string_isc;
}
[[nodiscard]] constexpr bool is_of_display(MeterPoint p) {
    return p == MeterPoint::display_v || p == MeterPoint::display_a || p == MeterPoint::display_w;
}

inline constexpr Names meter_point_names{
    Name{MeterPoint::string_voc, "string-voc"}, Name{MeterPoint::string_isc, "string-isc"},
    Name{MeterPoint::array_voc, "array-voc"},   Name{MeterPoint::array_isc, "array-isc"},
    Name{MeterPoint::display_v, "display-v"},   Name{MeterPoint::display_a, "display-a"},
    Name{MeterPoint::display_w, "display-w"},
};
[[nodiscard]] constexpr std::string_view name_of(MeterPoint p) { return name_in(meter_point_names, p); }

}  // namespace plait
