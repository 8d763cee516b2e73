#include <plait/rules/array_figures.hpp>
#include <plait/rules/connector_figures.hpp>

#include <algorithm>
#include <limits>

namespace plait::rules {
namespace {

constexpr double branch_class_a = 30.0;

double connector_class_a(const Situation& s) {
    double thinnest_mm2 = std::numeric_limits<double>::infinity();
    for (const Cable& cable : s.setup.cables) {
        if (cable.run != CableRun::string && cable.run != CableRun::panel_leads) continue;
        if (cable.input && *cable.input != s.here.input) continue;
        thinnest_mm2 = std::min(thinnest_mm2, cable.size.area_mm2);
    }
    if (thinnest_mm2 == std::numeric_limits<double>::infinity() || thinnest_mm2 < 3.31) return 22.0;
    return thinnest_mm2 < 5.26 ? 30.0 : 40.0;
}

}  // namespace

ConnectorFigures connector_figures(const Situation& s) {
    const Fittings& fittings = s.setup.fittings;
    const double all_a = array_bright_isc_a(s, s.wiring()).value;
    ConnectorFigures c;
    for (const SeriesString& string : s.wiring().strings) {
        const double own_a = string_bright_isc_a(s, string).value;
        c.leg.current_a = std::max(c.leg.current_a, own_a);
        c.leg_reverse_a = std::max(c.leg_reverse_a, all_a - own_a);
    }
    c.leg.assumed = !fittings.connector_a;
    c.leg.rating_a = fittings.connector_a.value_or(connector_class_a(s));
    c.common.current_a = all_a;
    c.common.assumed = !fittings.branch_a;
    c.common.rating_a = fittings.branch_a.value_or(branch_class_a);
    c.plug_fault_a = all_a;
    c.plug.current_a = c.plug_fault_a;
    c.plug.rating_a = s.input().plug_rating_a;
    // A tracking input that only clips draws no more than its limit.
    const bool draws_all = s.controller().type == ControllerType::direct_connect || s.input().bands.empty() ||
                           s.input().over_current != OverCurrent::only_clips;
    if (!draws_all) {
        double limit_a = 0.0;
        for (const CurrentBand& band : s.input().bands) limit_a = std::max(limit_a, band.limit_a);
        c.plug.current_a = std::min(c.plug.current_a, limit_a);
    }
    return c;
}

}  // namespace plait::rules
