// Invented panels and arrays of them for tests of mixed and shaded wirings.
#pragma once

#include <plait/model/wiring.hpp>
#include <plait/physics/array_curve.hpp>

#include <array>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <random>
#include <string>
#include <vector>

namespace plait::test {

/// A plausible silicon panel: Voc 0.66 V a cell, α +0.04 %/K, β −0.29 %/K.
inline physics::PanelPhysics silicon_panel(int cells, double isc_a, double ideality, double series_ohm,
                                           double shunt_ohm, int bypass_diodes) {
    physics::PanelPhysics panel;
    panel.bypass_diodes = bypass_diodes;
    panel.cells_in_series = cells;
    physics::DiodeModel& m = panel.model;
    const double a = cells * 0.025693 * ideality;
    m.voc_v = 0.66 * cells;
    m.isc_a = isc_a;
    m.stc = {isc_a, isc_a * std::exp(-m.voc_v / a), a, series_ohm, shunt_ohm > 0.0 ? 1.0 / shunt_ohm : 0.0};
    m.isc_coefficient_per_k = 0.0004;
    m.voc_coefficient_per_k = -0.0029;
    return panel;
}

/// Panels of 36, 60 and 72 cells; "bare" has no bypass diode, "sharp" no series resistance and hardly a shunt, "ideal"
/// neither.
inline std::vector<physics::PanelPhysics> six_kinds() {
    return {silicon_panel(36, 6.1, 1.1, 0.20, 150.0, 2),  silicon_panel(60, 9.6, 1.05, 0.30, 300.0, 3),
            silicon_panel(72, 11.2, 1.2, 0.35, 500.0, 3), silicon_panel(36, 5.4, 1.3, 0.25, 90.0, 0),
            silicon_panel(60, 9.1, 1.0, 0.0, 3000.0, 3),  silicon_panel(60, 9.3, 1.0, 0.0, 0.0, 3)};
}
inline const std::array<std::string, 6> six_names{"thirty-six", "sixty", "seventy-two", "bare", "sharp", "ideal"};

/// How many rounds a test of random cases makes: the short form always, the long one where PLAIT_LONG_TESTS is set.
inline int rounds(int in_short, int in_long) { return std::getenv("PLAIT_LONG_TESTS") != nullptr ? in_long : in_short; }

/// The same numbers with every standard library.
class Dice {
public:
    explicit Dice(std::uint64_t seed) : engine_(seed) {}
    double between(double low, double high) {
        return low + (high - low) * (static_cast<double>(engine_() >> 11) * 0x1p-53);
    }
    bool chance(double ratio) { return between(0.0, 1.0) < ratio; }
    std::size_t below(std::size_t n) { return static_cast<std::size_t>(engine_() % n); }

private:
    std::mt19937_64 engine_;
};

/// One to `most_strings` strings of one to six panels; half of the panels partly shaded or warmer.
inline InputWiring random_wiring(Dice& dice, const std::vector<physics::PanelPhysics>& kinds,
                                 std::size_t most_strings) {
    InputWiring wiring;
    wiring.strings.resize(1 + dice.below(most_strings));
    for (SeriesString& string : wiring.strings) {
        string.blocking_diode = dice.chance(0.3);
        string.panels.resize(1 + dice.below(6));
        for (PanelPlace& place : string.panels) {
            place.kind = dice.below(kinds.size());
            if (dice.chance(0.5)) continue;
            place.groups.resize(kinds[place.kind].group_count());
            for (GroupState& group : place.groups) {
                group.light_ratio = dice.chance(0.4) ? 1.0 : dice.chance(0.1) ? 0.0 : dice.between(0.05, 1.0);
                group.warmer_k = dice.chance(0.3) ? dice.between(0.0, 15.0) : 0.0;
            }
        }
    }
    return wiring;
}

/// The same, with some cells of every third group in less light than the rest of it.
inline InputWiring shaded_in_part(InputWiring wiring, Dice& dice, const std::vector<physics::PanelPhysics>& kinds) {
    for (SeriesString& string : wiring.strings) {
        for (PanelPlace& place : string.panels) {
            const physics::PanelPhysics& panel = kinds[place.kind];
            place.groups.resize(panel.group_count());
            for (GroupState& group : place.groups) {
                if (!dice.chance(0.33)) continue;
                const auto cells = static_cast<std::size_t>(panel.row_cells_count()) * (panel.half_cut ? 2 : 1);
                group.shaded_cells = static_cast<int>(1 + dice.below(dice.chance(0.5) ? 2 : cells));
                group.shaded_light_ratio = dice.chance(0.2) ? 0.0 : dice.between(0.02, 1.0);
            }
        }
    }
    return wiring;
}

inline physics::Condition random_condition(Dice& dice) {
    return {dice.between(100.0, 1100.0), Celsius{dice.between(-20.0, 75.0)}};
}

/// A string of kinds, in full light.
inline SeriesString string_of(std::initializer_list<std::size_t> kinds) {
    SeriesString string;
    for (const std::size_t kind : kinds) string.panels.push_back({kind, {}});
    return string;
}

}  // namespace plait::test
