// How rules name cables.
#pragma once

#include <plait/model/cable.hpp>

#include "words.hpp"

namespace plait::rules {

inline std::string cable_text(const Cable& cable) { return fmt::format("{} ({})", cable.name, size_text(cable.size)); }

// A size to use in place of one's own: whoever buys by the square millimetre is told how many an American size has.
inline std::string size_beside(const CableSize& size, const CableSize& own) {
    return size.awg && !own.awg ? fmt::format("{} AWG ({:.1f} mm²)", *size.awg, size.area_mm2) : size_text(size);
}

}  // namespace plait::rules
