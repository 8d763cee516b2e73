#include <plait/rules/array_figures.hpp>

#include <plait/base/constants.hpp>
#include <plait/physics/array_curve.hpp>
#include <plait/rules/cold_methods.hpp>
#include <plait/rules/stated_weather.hpp>

#include <algorithm>
#include <limits>

namespace plait::rules {
namespace {

// Voc of a group shaded in part, over that of a group in full light: its shaded cells leak as its lit ones do, so they give
// less than a group that gets their light as a whole.
double part_shaded_factor(const Panel& panel, const physics::FittedPanel& curve, Celsius cell,
                          double irradiance_w_per_m2, const GroupState& group) {
    const double bright_w_per_m2 = std::min(irradiance_w_per_m2, stc_irradiance_w_per_m2);
    if (!(bright_w_per_m2 > 0.0)) return 0.0;
    const physics::PanelPhysics made{curve.model, panel.bypass_diodes, panel.cells_in_series, panel.half_cut};
    const GroupState state{1.0, 0.0, group.shaded_cells, group.shaded_light_ratio};
    const double group_v = physics::group_curve(made, {bright_w_per_m2, cell}, state).voltage_v(0.0);
    return group_v * static_cast<double>(made.group_count()) / curve_voc_v(curve, cell);
}

// The sum along a string of what each bypass group's share of its panel gives.
template <class GroupVolts>
Figure string_sum_v(const Situation& s, const SeriesString& string, GroupVolts group_v) {
    Figure sum;
    const PanelPlace* known = nullptr;  // the panel before is most often the same
    double v = 0.0;
    for (const PanelPlace& place : string.panels) {
        const Panel& panel = s.panel(place);
        if (known == nullptr || !(*known == place)) {
            known = &place;
            v = place.groups.empty() ? group_v(place.kind, GroupState{}) : 0.0;
            for (const GroupState& group : place.groups) {
                v += group_v(place.kind, group) / static_cast<double>(place.groups.size());
            }
        }
        sum.value += v;
        sum.spread += within(v, panel.voc_tolerance_ratio, panel.voc_tolerance_ratio);
    }
    return sum;
}

// Unlike strings may have unlike tolerances: the one that is lowest at worst need not be the one that is lowest as
// printed, so each end is looked for by itself.
template <class GroupVolts>
Figure lowest_string_v(const Situation& s, GroupVolts group_v) {
    constexpr double none = std::numeric_limits<double>::infinity();
    Figure lowest{none, Interval(none)};
    for (const SeriesString& string : s.wiring().strings) {
        const Figure sum = string_sum_v(s, string, group_v);
        lowest.value = std::min(lowest.value, sum.value);
        lowest.spread = Interval(std::min(lowest.spread.lower(), sum.spread.lower()),
                                 std::min(lowest.spread.upper(), sum.spread.upper()));
    }
    return lowest;
}

template <class GroupVolts>
Figure highest_string_v(const Situation& s, GroupVolts group_v) {
    Figure highest;
    for (const SeriesString& string : s.wiring().strings) {
        const Figure sum = string_sum_v(s, string, group_v);
        highest.value = std::max(highest.value, sum.value);
        highest.spread = Interval(std::max(highest.spread.lower(), sum.spread.lower()),
                                  std::max(highest.spread.upper(), sum.spread.upper()));
    }
    return highest;
}

// The rear light of the nameplate irradiance, IEC TS 60904-1-2: 135 W/m².
constexpr double rear_light_ratio = 0.135;

double label_isc_a(const Panel& panel, const PanelPlace& place) {
    return panel.isc_a * (1.0 + rear_light_ratio * panel.bifaciality_ratio.value_or(0.0)) *
           strongest_light_ratio(place);
}

// What one panel's curve gives in the site's strongest light over what the label says, at the cell temperature at which
// that is most.
double lit_isc_ratio(const Situation& s, const PanelPlace& place) {
    const Panel& panel = s.panel(place);
    const Site& site = s.site();
    const double light_ratio = site.peak_irradiance_w_per_m2 / stc_irradiance_w_per_m2;
    const bool more_when_hot = panel.isc_coefficient_per_k >= 0.0;
    double shift_k = 0.0;
    for (const GroupState& group : place.groups) {
        shift_k = more_when_hot ? std::max(shift_k, group.warmer_k) : std::min(shift_k, group.warmer_k);
    }
    const Celsius cell = (more_when_hot ? hottest_cell(site, panel) : site.coldest_air) + shift_k;
    if (s.curves.empty()) return light_ratio * (1.0 + panel.isc_coefficient_per_k * (cell - stc_cell));
    // What the light makes, of which a few thousandths never reach the terminals: the curve's own Isc sinks by millionths
    // when a cell becomes very cold, and colder must never be better.
    return s.curves[place.kind].model.at({site.peak_irradiance_w_per_m2, cell}).light_current_a / panel.isc_a;
}

template <class StringFigure>
Figure sum_over(const InputWiring& wiring, StringFigure of) {
    Figure sum;
    for (const SeriesString& string : wiring.strings) {
        const Figure one = of(string);
        sum.value += one.value;
        sum.spread += one.spread;
    }
    return sum;
}

}  // namespace

Figure hot_vmp_v(const Situation& s) {
    return lowest_string_v(s, [&](std::size_t kind, const GroupState& group) {
        const Panel& panel = s.setup.kinds[kind].panel;
        const Celsius cell = hottest_cell(s.site(), panel) + std::max(0.0, group.warmer_k);
        return panel.vmp_v * (1.0 + panel.vmp_coefficient_per_k() * (cell - stc_cell));
    });
}

Figure hot_voc_v(const Situation& s) {
    return lowest_string_v(s, [&](std::size_t kind, const GroupState& group) {
        const Panel& panel = s.setup.kinds[kind].panel;
        const Celsius cell = hottest_cell(s.site(), panel) + std::max(0.0, group.warmer_k);
        const double line_v = panel.voc_v * (1.0 + panel.voc_coefficient_per_k * (cell - stc_cell));
        if (s.curves.empty()) return line_v;
        const physics::FittedPanel& curve = s.curves[kind];
        const double irradiance = s.site().peak_irradiance_w_per_m2 * std::min(1.0, group.light_ratio);
        const double light_factor = group.part_shaded() ? part_shaded_factor(panel, curve, cell, irradiance, group)
                                    : irradiance < stc_irradiance_w_per_m2 ? voc_light_factor(curve, cell, irradiance)
                                                                           : 1.0;
        return std::min(line_v, curve_voc_v(curve, cell)) * std::min(1.0, light_factor);
    });
}

Figure cold_vmp_v(const Situation& s) {
    return highest_string_v(s, [&](std::size_t kind, const GroupState& group) {
        const Panel& panel = s.setup.kinds[kind].panel;
        const Celsius cell = s.site().coldest_air + std::min(0.0, group.warmer_k);
        return panel.vmp_v * (1.0 + panel.vmp_coefficient_per_k() * (cell - stc_cell));
    });
}

Figure cold_voc_v(const Situation& s) { return array_cold_voc_v(s.stated(), s.wiring()); }

Figure string_isc_a(const Situation& s, const SeriesString& string) {
    Figure strongest;
    for (const PanelPlace& place : string.panels) {
        const Panel& panel = s.panel(place);
        const double isc_a = label_isc_a(panel, place);
        if (isc_a > strongest.value) {
            strongest = {isc_a, within(isc_a, panel.isc_tolerance_ratio, panel.isc_tolerance_ratio)};
        }
    }
    return strongest;
}

Figure string_bright_isc_a(const Situation& s, const SeriesString& string) {
    Figure strongest;
    const PanelPlace* known = nullptr;
    for (const PanelPlace& place : string.panels) {
        if (known != nullptr && *known == place) continue;
        known = &place;
        const Panel& panel = s.panel(place);
        const double isc_a = label_isc_a(panel, place);
        const double by_code_a = bright_sky_factor * isc_a;
        const double lit_a = lit_isc_ratio(s, place) * isc_a;
        const Interval lit_spread_a = within(lit_a, panel.isc_tolerance_ratio, panel.isc_tolerance_ratio);
        strongest.value = std::max({strongest.value, by_code_a, lit_a});
        strongest.spread = Interval(std::max({strongest.spread.lower(), by_code_a, lit_spread_a.lower()}),
                                    std::max({strongest.spread.upper(), by_code_a, lit_spread_a.upper()}));
    }
    return strongest;
}

double string_lit_isc_a(const Situation& s, const SeriesString& string) {
    return string_isc_a(s, string).value *
           std::max(1.0, s.site().peak_irradiance_w_per_m2 / stc_irradiance_w_per_m2);
}

Figure array_bright_isc_a(const Situation& s, const InputWiring& wiring) {
    return sum_over(wiring, [&](const SeriesString& string) { return string_bright_isc_a(s, string); });
}

Figure array_isc_a(const Situation& s, const InputWiring& wiring) {
    return sum_over(wiring, [&](const SeriesString& string) { return string_isc_a(s, string); });
}

Figure array_pmax_w(const Situation& s, const InputWiring& wiring) {
    Figure sum;
    for (const SeriesString& string : wiring.strings) {
        for (const PanelPlace& place : string.panels) {
            const Panel& panel = s.panel(place);
            sum.value += panel.pmax_w;
            sum.spread += within(panel.pmax_w, panel.pmax_tolerance_below_ratio, panel.pmax_tolerance_above_ratio);
        }
    }
    return sum;
}

Figure plan_lit_pmax_w(const Situation& s) {
    const double site_ratio = std::max(1.0, s.site().peak_irradiance_w_per_m2 / stc_irradiance_w_per_m2);
    Figure sum;
    for (const WiredInput& w : s.plan) {
        for (const SeriesString& string : w.wiring->strings) {
            for (const PanelPlace& place : string.panels) {
                const Panel& panel = s.panel(place);
                const double lit_w = panel.pmax_w * site_ratio * strongest_light_ratio(place);
                sum.value += lit_w;
                sum.spread += within(lit_w, panel.pmax_tolerance_below_ratio, panel.pmax_tolerance_above_ratio);
            }
        }
    }
    return sum;
}

double weakest_series_fuse_a(const Setup& setup, const SeriesString& string) {
    double rating_a = std::numeric_limits<double>::infinity();
    for (const PanelPlace& place : string.panels) {
        rating_a = std::min(rating_a, setup.kinds[place.kind].panel.max_series_fuse_a);
    }
    return rating_a;
}

}  // namespace plait::rules
