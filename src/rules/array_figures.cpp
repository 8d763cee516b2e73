#include <plait/rules/array_figures.hpp>

#include <plait/base/constants.hpp>
#include <plait/physics/cell_temperature.hpp>
#include <plait/rules/cold_methods.hpp>

#include <algorithm>
#include <limits>

namespace plait::rules {
namespace {

template <class PanelVolts>
Figure string_sum_v(const Situation& s, const SeriesString& string, PanelVolts panel_v) {
    Figure sum;
    for (const PanelPlace& place : string.panels) {
        const Panel& panel = s.panel(place);
        const double v = panel_v(panel);
        sum.value += v;
        sum.spread += within(v, panel.voc_tolerance_ratio, panel.voc_tolerance_ratio);
    }
    return sum;
}

// Unlike strings may have unlike tolerances: the one that is lowest at worst need not be the one that is lowest as
// printed, so each end is looked for by itself.
template <class PanelVolts>
Figure lowest_string_v(const Situation& s, PanelVolts panel_v) {
    constexpr double none = std::numeric_limits<double>::infinity();
    Figure lowest{none, Interval(none)};
    for (const SeriesString& string : s.wiring().strings) {
        const Figure sum = string_sum_v(s, string, panel_v);
        lowest.value = std::min(lowest.value, sum.value);
        lowest.spread = Interval(std::min(lowest.spread.lower(), sum.spread.lower()),
                                 std::min(lowest.spread.upper(), sum.spread.upper()));
    }
    return lowest;
}

template <class PanelVolts>
Figure highest_string_v(const Situation& s, PanelVolts panel_v) {
    Figure highest;
    for (const SeriesString& string : s.wiring().strings) {
        const Figure sum = string_sum_v(s, string, panel_v);
        highest.value = std::max(highest.value, sum.value);
        highest.spread = Interval(std::max(highest.spread.lower(), sum.spread.lower()),
                                  std::max(highest.spread.upper(), sum.spread.upper()));
    }
    return highest;
}

}  // namespace

Celsius hottest_cell(const Situation& s, const Panel& panel) {
    return s.site().hottest_air +
           physics::rise_above_air_k(panel, s.site().mounting, s.site().peak_irradiance_w_per_m2);
}

Figure hot_vmp_v(const Situation& s) {
    return lowest_string_v(s, [&](const Panel& panel) {
        return panel.vmp_v * (1.0 + panel.vmp_coefficient_per_k() * (hottest_cell(s, panel) - stc_cell));
    });
}

Figure hot_voc_v(const Situation& s) {
    return lowest_string_v(s, [&](const Panel& panel) {
        return panel.voc_v * (1.0 + panel.voc_coefficient_per_k * (hottest_cell(s, panel) - stc_cell));
    });
}

Figure cold_vmp_v(const Situation& s) {
    return highest_string_v(s, [&](const Panel& panel) {
        return panel.vmp_v * (1.0 + panel.vmp_coefficient_per_k() * (s.site().coldest_air - stc_cell));
    });
}

Figure cold_voc_v(const Situation& s, ColdMethod method) {
    return highest_string_v(s, [&](const Panel& panel) {
        return panel.voc_v * cold_factor(panel, s.site(), method, s.site().coldest_air);
    });
}

Figure string_isc_a(const Situation& s, const SeriesString& string) {
    constexpr double rear_light_ratio = 0.135;
    Figure strongest;
    for (const PanelPlace& place : string.panels) {
        const Panel& panel = s.panel(place);
        const double isc_a = panel.isc_a * (1.0 + rear_light_ratio * panel.bifaciality_ratio.value_or(0.0));
        if (isc_a > strongest.value) {
            strongest = {isc_a, within(isc_a, panel.isc_tolerance_ratio, panel.isc_tolerance_ratio)};
        }
    }
    return strongest;
}

Figure array_isc_a(const Situation& s, const InputWiring& wiring) {
    Figure sum;
    for (const SeriesString& string : wiring.strings) {
        const Figure one = string_isc_a(s, string);
        sum.value += one.value;
        sum.spread += one.spread;
    }
    return sum;
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

Figure plan_pmax_w(const Situation& s) {
    Figure sum;
    for (const WiredInput& w : s.plan) {
        const Figure one = array_pmax_w(s, *w.wiring);
        sum.value += one.value;
        sum.spread += one.spread;
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
