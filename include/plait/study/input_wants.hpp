// What one input wants before any panel is chosen: the rules that judge a wiring, asked the other way round.
#pragma once

#include <plait/model/catalogue.hpp>
#include <plait/model/setup.hpp>

#include <cstddef>
#include <optional>
#include <vector>

namespace plait::study {

/// The greatest open-circuit voltage at 25 °C (V, of a whole string, the label's figure) that the rule of the cold finds
/// within the input's maximum, over a label's tolerance too.
struct ColdRoom {
    Technology technology = Technology::unknown;
    double steep_per_k = 0.0;         ///< the usual coefficients of the technology
    double shallow_per_k = 0.0;
    double voc_steep_v = 0.0;         ///< with the steepest of them
    double voc_shallow_v = 0.0;       ///< with the shallowest
    double voc_unstated_v = 0.0;      ///< where the maker does not print the coefficient
};

/// Working voltage of a string at test conditions, V, that keeps it in one current band from the hottest day to the coldest
/// morning.
struct BandVolts {
    CurrentBand band;
    double from_v = 0.0;  ///< on the hottest day it does not fall below the band, nor below what the input tracks
    double to_v = 0.0;    ///< on the coldest morning it does not rise above the band, nor above what the input tracks;
                          ///< below `from_v`: no voltage stays in the band all year
};

/// A panel's rated watts and amps, beyond which more of them bring nothing at one light, on the warm day.
struct LightCeiling {
    double irradiance_w_per_m2 = 0.0;
    std::optional<double> array_w;  ///< rated power of the array; absent: no power limit
    std::optional<double> array_a;  ///< its Imp; absent: no current limit
};

/// One size of array over the year's light.
struct YearStep {
    double array_w = 0.0;       ///< rated
    double taken_ratio = 0.0;   ///< of what such an array gives on an input without a power limit
    double next_ratio = 0.0;    ///< of what the next watt of array gives, that is taken
    std::optional<double> delivered_wh;  ///< in a year, where the place is known; of an array at its own maximum
};

struct InputWants {
    std::size_t input = 0;
    double label_tolerance_ratio = 0.0;  ///< of Voc, reckoned with
    std::vector<ColdRoom> cold;          ///< by technology; empty where nobody knows the maximum
    double start_voc_v = 0.0;  ///< Voc at 25 °C of a string that still starts the input on the hottest day; 0: any does
    std::vector<BandVolts> bands;        ///< one for each band; one of no limit where none is stated
    std::optional<std::size_t> best_band;  ///< that of the most current in which some voltage stays all year
    std::vector<LightCeiling> ceilings;  ///< at 1000 and 800 W/m²
    std::vector<YearStep> year;          ///< rising; empty without a power limit
    std::optional<double> half_w;   ///< rated power of the array beyond which the next watt brings less than half of itself
    std::optional<double> tenth_w;  ///< … less than a tenth
    bool year_is_local = false;          ///< by the light of the site; false: by the European weights

    /// The Voc that any panel of crystalline silicon may have: the least of `cold` over its technologies, with the steepest
    /// usual coefficient and with none printed. Absent where nobody knows the maximum.
    [[nodiscard]] std::optional<double> silicon_voc_v() const;
};

/// The technologies listed in `cold`.
[[nodiscard]] const std::vector<Technology>& wanted_technologies();

/// `controller` must have that input. A typical panel's curve is taken for the array's where light and warmth count.
[[nodiscard]] InputWants input_wants(const CatalogueController& controller, std::size_t input, const CatalogueSite& site);

}  // namespace plait::study
