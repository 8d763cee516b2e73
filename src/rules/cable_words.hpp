// How rules name cables and their sizes.
#pragma once

#include <plait/model/cable.hpp>

#include "words.hpp"

namespace plait::rules {

inline std::string size_text(const CableSize& size) {
    return size.awg ? fmt::format("{} AWG", *size.awg) : fmt::format("{:g} mm²", size.area_mm2);
}
inline std::string cable_text(const Cable& cable) {
    return fmt::format("{} ({})", cable.name, size_text(cable.size));
}

}  // namespace plait::rules
