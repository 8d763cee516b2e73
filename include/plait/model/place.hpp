// Where the panels are and which way they look.
#pragma once

#include <plait/base/names.hpp>
#include <plait/base/temperature.hpp>
#include <plait/model/site.hpp>

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace plait {

/// Clocks go ahead between two dates of each year (from > to: over new year, as in the south).
struct SummerTime {
    int from_month = 0;  ///< the first day of it
    int from_day = 0;
    int to_month = 0;  ///< the first day after it
    int to_day = 0;
    double ahead_h = 1.0;
};

/// A place on Earth; north and east positive.
struct Location {
    double latitude_deg = 0.0;
    double longitude_deg = 0.0;
    double height_m = 0.0;
    double from_utc_h = 0.0;  ///< of standard time: 1 in middle Europe, −5 at New York, 5.75 in Nepal
    std::optional<SummerTime> summer_time;
    double turbidity_value = 3.0;  ///< Linke turbidity of clear air

    [[nodiscard]] bool in_the_south() const { return latitude_deg < 0.0; }
};

/// How much clocks at the place are ahead of universal time on a day (hours); the change is taken at midnight.
[[nodiscard]] double clock_ahead_h(const Location& location, int month, int day);

/// How far up something hides the sky in one direction.
struct HorizonPoint {
    double azimuth_deg = 0.0;    ///< from north through east
    double elevation_deg = 0.0;  ///< 0 … 90
};

/// A flat surface with panels on it.
struct Plane {
    std::string name;
    double tilt_deg = 0.0;             ///< 0 looks up, 90 at the horizon
    double azimuth_deg = 180.0;        ///< which way it looks down: 0 north, 90 east
    std::optional<Mounting> mounting;  ///< absent: the site's
    double albedo_ratio = 0.2;         ///< of the ground before it
    std::vector<HorizonPoint>
        horizon;  ///< rising in azimuth; straight lines between them, round the circle; empty: flat
};

/// The height of the plane's horizon in a direction.
[[nodiscard]] double horizon_elevation_deg(const std::vector<HorizonPoint>& horizon, double azimuth_deg);

/// How light from the sky is spread over it.
enum class SkyModel {
    isotropic,   ///< Liu & Jordan, Solar Energy 4 (1960)
    hay_davies,  ///< Hay & Davies (1980)
    perez,       ///< Perez et al., Solar Energy 44 (1990)
};

/// What glass reflects when the light comes in flat.
enum class IncidenceModel {
    none,
    ashrae,       ///< 1 − b0·(1/cos θ − 1)
    physical,     ///< Fresnel and absorption
    martin_ruiz,  ///< IEC 61853-3
};

/// How cells warm above the air.
enum class WarmingModel {
    nominal,      ///< by the datasheet's NOCT, no wind
    faiman,       ///< Faiman (2008), IEC 61853-2
    exponential,  ///< SAND2004-3535
};

inline constexpr std::array sky_models{SkyModel::isotropic, SkyModel::hay_davies, SkyModel::perez};
inline constexpr std::array incidence_models{IncidenceModel::none, IncidenceModel::ashrae, IncidenceModel::physical,
                                             IncidenceModel::martin_ruiz};
inline constexpr std::array warming_models{WarmingModel::nominal, WarmingModel::faiman, WarmingModel::exponential};

inline constexpr Names sky_model_names{
    Name{SkyModel::isotropic, "isotropic"},
    Name{SkyModel::hay_davies, "hay-davies"},
    Name{SkyModel::perez, "perez"},
};
[[nodiscard]] constexpr std::string_view name_of(SkyModel m) { return name_in(sky_model_names, m); }
inline constexpr Names incidence_model_names{
    Name{IncidenceModel::none, "none"},
    Name{IncidenceModel::ashrae, "ashrae"},
    Name{IncidenceModel::physical, "physical"},
    Name{IncidenceModel::martin_ruiz, "martin-ruiz"},
};
[[nodiscard]] constexpr std::string_view name_of(IncidenceModel m) { return name_in(incidence_model_names, m); }
inline constexpr Names warming_model_names{
    Name{WarmingModel::nominal, "nominal"},
    Name{WarmingModel::faiman, "faiman"},
    Name{WarmingModel::exponential, "exponential"},
};
[[nodiscard]] constexpr std::string_view name_of(WarmingModel m) { return name_in(warming_model_names, m); }

}  // namespace plait
