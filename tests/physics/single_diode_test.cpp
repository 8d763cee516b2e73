#include <plait/physics/single_diode.hpp>

#include <catch2/catch.hpp>

using plait::physics::DiodeCurve;

TEST_CASE("voltage and current undo each other") {
    const DiodeCurve c{10.0, 1e-9, 1.9, 0.3, 0.002};
    for (const double v : {-5.0, 0.0, 20.0, 40.0, 43.0, 60.0}) CHECK(c.voltage_v(c.current_a(v)) == Approx(v).margin(1e-9));
    CHECK(c.current_a(c.open_circuit_v()) == Approx(0.0).margin(1e-12));
}
