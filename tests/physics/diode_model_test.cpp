// Each law that carries a curve away from STC, one at a time and by hand.
#include <plait/physics/diode_model.hpp>

#include <catch2/catch.hpp>

#include <cmath>

using namespace plait;
using namespace plait::physics;

namespace {

DiodeModel plain_model() {
    DiodeModel m;
    m.stc = {10.0, 1e-9, 1.7, 0.3, 0.01};
    m.isc_a = 9.9;
    m.voc_v = m.stc.open_circuit_v();
    m.isc_coefficient_per_k = 0.0005;
    m.voc_coefficient_per_k = -0.003;
    return m;
}

}  // namespace

TEST_CASE("light scales the light current, and the shunt and I0 by their powers") {
    DiodeModel m = plain_model();
    m.shunt_light_power = 0.5;
    m.saturation_light_power = 0.25;
    const DiodeCurve full = m.at({});
    const DiodeCurve weak = m.at({160.0, stc_cell});
    CHECK(full.light_current_a == Approx(10.0));
    CHECK(full.saturation_current_a == Approx(1e-9).epsilon(1e-9));
    CHECK(weak.light_current_a == Approx(1.6));
    CHECK(weak.shunt_conductance_s == Approx(0.004));                                    // √0.16 = 0.4
    CHECK(weak.saturation_current_a / full.saturation_current_a == Approx(1.58113883));  // 0.16^−1/4, by hand
    CHECK(weak.series_resistance_ohm == 0.3);
    CHECK(weak.ideality_v == 1.7);
}

TEST_CASE("without shunt Voc falls by a·(1 + m) per factor e of light") {
    DiodeModel m = plain_model();
    m.stc.shunt_conductance_s = 0.0;
    m.voc_v = m.stc.open_circuit_v();
    m.saturation_light_power = 0.5;
    const double fall_v = m.voc_v - m.at({200.0, stc_cell}).open_circuit_v();
    CHECK(fall_v == Approx(1.7 * 1.5 * std::log(5.0)).epsilon(1e-6));
}

TEST_CASE("warmth stretches a, and Rs and n by their coefficients") {
    DiodeModel m = plain_model();
    m.series_resistance_per_k = 0.01;
    m.ideality_per_k = -0.002;
    const DiodeCurve warm = m.at({1000.0, Celsius{54.815}});  // 1.1 times 298.15 K
    CHECK(warm.light_current_a == Approx(10.0 + 0.0005 * 9.9 * 29.815));
    CHECK(warm.series_resistance_ohm == Approx(0.3 * 1.29815));
    CHECK(warm.ideality_v == Approx(1.7 * 1.1 * (1.0 - 0.05963)));
    CHECK(warm.open_circuit_v() == Approx(m.voc_v * (1.0 - 0.003 * 29.815)).epsilon(1e-10));
}

TEST_CASE("De Soto's saturation current") {
    // (323.15/298.15)³·exp(1.121/(k·298.15) − 1.121·(1 − 0.0002677·25)/(k·323.15)), k in eV/K, worked outside.
    DiodeModel m = plain_model();
    m.law = SaturationLaw::band_gap;
    CHECK(m.at({1000.0, Celsius{50.0}}).saturation_current_a == Approx(1e-9 * 48.7369686841).epsilon(1e-8));
    CHECK(m.at({1000.0, stc_cell}).saturation_current_a == Approx(1e-9));
    CHECK(m.at({400.0, stc_cell}).saturation_current_a == Approx(1e-9));  // light does not move it
}

TEST_CASE("no light, no power, and no number gone wrong") {
    // −1 makes I0 proportional to the light, as a shunt of power 1 is: neither may vanish in the dark.
    for (const double m_power : {-1.5, -1.0, 0.0, 3.0}) {
        DiodeModel m = plain_model();
        m.saturation_light_power = m_power;
        m.shunt_light_power = m_power == -1.0 ? 1.0 : 0.4;
        CHECK(m.at({0.0, stc_cell}).saturation_current_a > 0.0);
        CHECK(m.at({0.0, stc_cell}).shunt_conductance_s > 0.0);
        CHECK(m.at({0.0, stc_cell}).maximum_power().power_w() == 0.0);
        for (const double g : {1e-6, 1e-3, 0.1, 1.0, 10.0}) {
            const double p = m.at({g, stc_cell}).maximum_power().power_w();
            CHECK(std::isfinite(p));
            CHECK(p >= 0.0);
            CHECK(p < 0.4 * g);  // 400 W panel, no better than at full light
        }
    }
}
