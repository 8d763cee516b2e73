// One record a quantity that may be assumed: its range, how it is set and written, and where people find it. Ranges
// without a source are judgement: what is sold, on the wide side, so that "cannot turn the verdict" is seldom wrong.
#pragma once

#include "plain_number.hpp"

#include <plait/model/setup.hpp>
#include <plait/model/technology_ranges.hpp>

#include <algorithm>
#include <span>
#include <string>
#include <string_view>

namespace plait::study {

struct Subject {
    const Setup& setup;
    const Assumption& assumption;

    [[nodiscard]] const Panel& panel() const { return setup.kinds[*assumption.kind].panel; }
    [[nodiscard]] const Input& input() const { return setup.controller.inputs[*assumption.input]; }
    [[nodiscard]] const Controller& controller() const { return setup.controller; }
    [[nodiscard]] const TechnologyRanges& ranges() const { return ranges_of(panel().technology); }
    /// Whether another figure of the same panel is assumed too.
    [[nodiscard]] bool assumed(Quantity quantity) const {
        return std::any_of(setup.assumptions.begin(), setup.assumptions.end(),
                           [&](const Assumption& a) { return a.quantity == quantity && a.kind == assumption.kind; });
    }
};

struct Ends {
    double low = 0.0;
    double high = 0.0;
};

inline Ends ends_of(Limits limits) { return {limits.low, limits.high}; }
inline Ends around(double value, double ratio) { return {value * (1.0 - ratio), value * (1.0 + ratio)}; }
// No curve goes through Vmp at Voc or Imp at Isc, and no range ends before it begins.
inline Ends at_most(Ends ends, double most) { return {std::min(ends.low, most), std::min(ends.high, most)}; }
inline Ends at_least(Ends ends, double least) { return {std::max(ends.low, least), std::max(ends.high, least)}; }

struct FigureRecord {
    Quantity quantity;
    Ends (*ends)(const Subject&);
    void (*set)(Setup&, const Assumption&, double);
    std::string (*words)(double);
    std::string_view source;
    std::string_view where;
    std::string (*words_here)(const Subject&, double) = nullptr;  ///< in place of `words`
};

inline std::string in_volts(double v) { return plain(v) + " V"; }
inline std::string in_amps(double a) { return plain(a) + " A"; }
inline std::string in_watts(double w) { return plain(w) + " W"; }
inline std::string in_degrees(double degc) { return plain(degc) + " °C"; }
inline std::string in_per_cent(double ratio) { return plain(100.0 * ratio) + " %"; }
inline std::string in_per_cent_per_k(double per_k) { return plain(100.0 * per_k) + " %/K"; }
inline std::string in_w_per_m2(double irradiance_w_per_m2) { return plain(irradiance_w_per_m2) + " W/m²"; }
inline std::string as_count(double n) { return std::to_string(std::lround(n)); }
inline std::string plus_minus(double ratio) { return "±" + in_per_cent(ratio); }

/// Of the panels, and of everything else: input, controller, battery, site and cables.
[[nodiscard]] std::span<const FigureRecord> panel_figures();
[[nodiscard]] std::span<const FigureRecord> system_figures();

}  // namespace plait::study
