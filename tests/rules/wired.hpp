// The round set-up with one cable.
#pragma once

#include "situation.hpp"

#include <plait/rules/cable_figures.hpp>

namespace plait::rules {

inline CableSize metric(double mm2) { return {mm2, std::nullopt}; }
inline CableSize awg(int number) {
    for (const CableSize& size : physics::american_sizes()) {
        if (size.awg == number) return size;
    }
    FAIL("no such size: " << number << " AWG");
    return {};
}

/// Bundled alone, 60 °C air, 90 °C wire, 60 °C terminals, copper at 75 °C; a target of 2 %.
inline Trial wired(CableRun run, CableSize size, double length_m) {
    Trial t;
    Cable c;
    c.name = "cable";
    c.run = run;
    c.size = size;
    c.length_m = length_m;
    t.setup.cables.push_back(c);
    return t;
}

}  // namespace plait::rules
