#include "trial.hpp"

using namespace plait;
using namespace plait::study;

TEST_CASE("panel sheet: the datasheet's straight lines by hand, the datasheet's point at STC") {
    const PanelSheet sheet = panel_sheet(rules::round_panel(), CurveMethod::prior_ideality);
    REQUIRE(sheet.temperatures.size() == 13);
    for (std::size_t i = 0; i < sheet.temperatures.size(); ++i) {
        const TemperatureRow& r = sheet.temperatures[i];
        CAPTURE(i);
        CHECK(r.cell.degc == -40.0 + 10.0 * static_cast<double>(i));
        CHECK(r.line_voc_v == exactly(25.0 - 0.1 * (r.cell.degc - 25.0)));   // −0.4 %/K of 25 V
        CHECK(r.line_vmp_v == exactly(20.0 - 0.08 * (r.cell.degc - 25.0)));  // −0.4 %/K of 20 V
        // The curve's Voc follows the coefficient near STC; far from it the two part by little.
        CHECK(r.curve_voc_v == Approx(r.line_voc_v).epsilon(0.02));
    }
    REQUIRE(sheet.light.size() == 6);
    CHECK(sheet.light.back().irradiance_w_per_m2 == 1000.0);
    CHECK(sheet.light.back().efficiency_ratio == exactly(1.0));
    CHECK(sheet.light.back().maximum.power_w() == Approx(100.0).epsilon(1e-9));
    for (std::size_t i = 1; i < sheet.light.size(); ++i) {
        CHECK(sheet.light[i].maximum.power_w() > sheet.light[i - 1].maximum.power_w());
    }
}
