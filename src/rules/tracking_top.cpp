// Above the tracking range but below the absolute maximum an input works at the range's edge: nothing breaks, some
// output is lost in the cold.
#include "rules.hpp"
#include "words.hpp"

#include <plait/rules/array_figures.hpp>

namespace plait::rules {
namespace {

constexpr std::array<std::string_view, 1> tests{"cold-vmp"};
constexpr std::array<std::string_view, 1> sources{"controller manual, tracking range; Vmp by the coefficient γ − α"};
constexpr std::array rests{
    Quantity::panel_vmp,           Quantity::panel_pmax_coefficient, Quantity::panel_isc_coefficient,
    Quantity::panel_voc_tolerance, Quantity::site_coldest_air,       Quantity::input_tracking_range};

void check(const Situation& s, Findings& out) {
    if (s.controller().type == ControllerType::direct_connect || !s.input().tracking_max_v) return;
    const Figure vmp = cold_vmp_v(s);
    out.push_back(at_most(vmp.value, vmp.spread, *s.input().tracking_max_v, Unit::volt, Outcome::clips));
}

Words say(const Situation& s, const Finding& f) {
    Words w;
    w.because = fmt::format("At {} the array's working voltage (Vmp) rises to {}; the tracking range ends at {}.",
                            degrees(s.site().coldest_air), volts(f.value), volts(f.limit));
    if (f.outcome == Outcome::clips)
        w.instead = s.input().max_voltage_v
                        ? "Below its absolute maximum nothing breaks; some output is lost on cold bright days. Shorter "
                          "strings avoid it."
                        : "Some output is lost on cold bright days; shorter strings avoid it.";
    return w;
}

}  // namespace

constinit const Rule tracking_top{
    .id = "tracking-top",
    .title = "Working voltage in the cold against the tracking range",
    .harm = "output is lost on cold bright days",
    .tests = tests,
    .sources = sources,
    .rests_on = rests,
    .check = &check,
    .say = &say,
};

}  // namespace plait::rules
