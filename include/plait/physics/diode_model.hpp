// A panel's parameters at STC and the laws that carry them to other light and temperature.
#pragma once

#include <plait/base/constants.hpp>
#include <plait/base/temperature.hpp>
#include <plait/physics/single_diode.hpp>

namespace plait::physics {

struct Condition {
    double irradiance_w_per_m2 = stc_irradiance_w_per_m2;
    Celsius cell = stc_cell;
};

/// How I0 follows temperature.
enum class SaturationLaw {
    voc_line,  ///< so that Voc(1000 W/m², T) is the datasheet's straight line, exactly
    band_gap,  ///< De Soto, Klein & Beckman, Solar Energy 80 (2006)
};

/// With x = G/1000 and t = T − 25 °C:
///     IL = x·(IL + α·Isc·t)      Rs = Rs·(1 + κ·t)      Gsh = x^k/Rsh      a = a·(T/Tr)·(1 + μ·t)
///     voc_line: I0 = x^−m·[IL(1,T) − Gsh·V(T)]/expm1(V(T)/a(T)),  V(T) = Voc·(1 + β·t)
///     band_gap: I0 = I0·(T/Tr)³·exp(Eg/(k·Tr) − Eg(T)/(k·T)),  Eg(T) = Eg·(1 − 0.0002677·t)
/// The equations and their checks are in docs/physics.md.
struct DiodeModel {
    DiodeCurve stc;
    double isc_a = 0.0;
    double voc_v = 0.0;
    double isc_coefficient_per_k = 0.0;  ///< α
    double voc_coefficient_per_k = 0.0;  ///< β
    double series_resistance_per_k = 0.0;  ///< κ
    double ideality_per_k = 0.0;           ///< μ
    double shunt_light_power = 1.0;        ///< k
    double saturation_light_power = 0.0;   ///< m
    SaturationLaw law = SaturationLaw::voc_line;
    double band_gap_ev = 1.121;

    /// The curve at a condition. Irradiance ≥ 0; −60 °C ≤ cell ≤ 150 °C.
    [[nodiscard]] DiodeCurve at(Condition condition) const;
};

}  // namespace plait::physics
