// A datasheet's second column against the curve that its first one made.
#pragma once

#include <plait/physics/datasheet_fit.hpp>

#include <optional>

namespace plait::physics {

/// What the curve gives at 800 W/m² and the nominal module operating temperature over what is printed, minus one; as
/// far as it is printed.
struct NmotResiduals {
    std::optional<double> pmax_ratio;
    std::optional<double> vmp_ratio;
    std::optional<double> imp_ratio;
    std::optional<double> voc_ratio;
    std::optional<double> isc_ratio;

    /// Whether some figure is further off than rounding, ±2 K of temperature and the curve itself explain: 4 % of Pmax,
    /// 3 % of the others. Measured modules stay within 2 % of the curve at 800 W/m² and 45 °C (docs/physics.md); ±2 K
    /// are 0.8 % of Pmax; the rest is *our judgement*. A figure that far off is a slip, or of another irradiance.
    [[nodiscard]] bool contradicts() const;
};

/// Nothing where the datasheet prints no such point.
[[nodiscard]] std::optional<NmotResiduals> nmot_residuals(const Panel& panel, const FittedPanel& fitted);

}  // namespace plait::physics
