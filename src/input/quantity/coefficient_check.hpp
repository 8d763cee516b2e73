// Temperature coefficients are where datasheets are misread most: the unit, the sign, the decimal point.
#pragma once

#include "fields.hpp"

#include <plait/model/technology_ranges.hpp>

#include <string_view>

namespace plait::input {

struct StatedCoefficient {
    std::string_view key;
    const Measure& given;
    bool negative;           ///< of Voc and Pmax; that of Isc is positive
    double base;             ///< the value at test conditions, in `unit`; 0 if not known
    int cells;               ///< 0 if not known
    Bounds bounds;           ///< 1/K
    std::string_view unit;   ///< "V", "A" or "W"
    std::string_view title;  ///< of the technology
};

/// True if the coefficient is possible; a doubt is said if it is unusual, a complaint with what may have been meant if
/// it is neither.
bool check_coefficient(const StatedCoefficient& coefficient, const FileNotes& notes);

}  // namespace plait::input
