// What cures a drop of voltage: the cable in which most of it stays, made thicker.
#pragma once

#include <plait/rules/cable_figures.hpp>

#include <algorithm>

namespace plait::rules {

/// The figures must not be empty.
inline void add_cures_for_drop(const std::vector<CableFigures>& all, Cures& out) {
    const auto most = std::max_element(
        all.begin(), all.end(), [](const CableFigures& a, const CableFigures& b) { return a.drop_v < b.drop_v; });
    if (!most->smallest_for_drop) return;
    Cure cure;
    cure.kind = CureKind::cable_sizes;
    cure.cables = {{most->cable, *most->smallest_for_drop}};
    out.push_back(cure);
}

}  // namespace plait::rules
