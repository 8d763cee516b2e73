// What panels of each technology are like, so that a slip of the pen shows.
#pragma once

#include <plait/model/panel.hpp>

namespace plait {

struct Limits {
    double low = 0.0;
    double high = 0.0;
};

/// Within `usual` nothing is said; outside it, a doubt; outside `possible`, the file is refused.
struct Bounds {
    Limits usual;
    Limits possible;
};

/// Ratios, volts, and coefficients in 1/K.
struct TechnologyRanges {
    Technology technology;
    double voc_per_cell_v;  ///< middling; counts the cells of a panel whose maker does not
    Bounds voc_per_cell;
    Limits usual_fill_factor;
    Limits usual_vmp_over_voc;
    Limits usual_imp_over_isc;
    Bounds voc_coefficient;
    Bounds pmax_coefficient;
    Bounds isc_coefficient;
};

inline constexpr Limits possible_fill_factor{0.5, 0.9};

[[nodiscard]] const TechnologyRanges& ranges_of(Technology technology);

[[nodiscard]] constexpr bool within(double value, Limits limits) { return value >= limits.low && value <= limits.high; }

}  // namespace plait
