// Where a shadow over some cells of a bypass group makes them take power instead of giving it: a hot spot.
#pragma once

#include <plait/physics/array_reading.hpp>
#include <plait/rules/rule.hpp>
#include <plait/study/system_model.hpp>

#include <cstddef>
#include <optional>
#include <vector>

namespace plait::study {

struct CurveSheet;
struct InputCurve;

/// Shaded cells that take more than this from the others are a hot spot at whatever voltage the input holds: about a
/// tenth of what the sun warms a 156 mm cell with. *Our choice, no source.*
inline constexpr double hot_spot_cell_w = 2.0;

/// Shaded cells that are driven backward at the most power (and take 0.05 W or more), or take more than `hot_spot_cell_w` in operation.
struct HotSpot {
    std::size_t input = 0;  ///< of the controller
    std::size_t string = 0;
    std::size_t panel = 0;  ///< in its string
    std::size_t group = 0;  ///< in its panel
    physics::ShadedCells cells;  ///< where they take the most of the points looked at
    double array_v = 0.0;        ///< the array's voltage there
    std::optional<rules::ConditionId> weather;  ///< absent: that of a curve sheet
};

/// In the weather and at the points of a curve sheet.
[[nodiscard]] std::vector<HotSpot> hot_spots(const CurveSheet& sheet);
[[nodiscard]] std::vector<HotSpot> hot_spots(const InputCurve& curve);
/// In the worst of the named weathers. Without part-shaded groups nothing is solved.
[[nodiscard]] std::vector<HotSpot> hot_spots(const SystemModel& system, std::size_t input, const InputWiring& wiring);

}  // namespace plait::study
