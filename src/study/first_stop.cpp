// Where a simple tracker ends: it lets the voltage fall from open circuit for as long as that brings more power and no
// limit is met. Common practice, no source, of trackers that only look around themselves.
#include "first_stop.hpp"

#include <algorithm>

namespace plait::study {
namespace {

using physics::Binding;
using physics::PowerPoint;

// The highest voltage from `top_v` down to `end_v` at which the current limits stop the walk; empty: they never do.
// `at_start`: they forbid even the first step.
struct CurrentStop {
    std::optional<FirstStop> stop;
    bool at_start = false;
};

CurrentStop current_stop(const physics::ArrayCurve& array, const std::vector<CurrentBand>& bands, double top_v,
                         double end_v) {
    double here_v = top_v;
    bool begun = false;
    for (auto band = bands.rbegin(); band != bands.rend(); ++band) {
        if (band->from_v > here_v) continue;
        if (band->to_v < here_v) break;  // a gap between bands, where nothing is taken
        if (array.current_a(here_v) > band->limit_a) {
            // Of two bands that meet at the start, the lower may be the more generous.
            if (!begun && band->from_v == here_v) continue;
            break;
        }
        begun = true;
        const double low_v = std::max(band->from_v, end_v);
        if (array.current_a(low_v) > band->limit_a) {
            const double v = std::clamp(array.voltage_v(band->limit_a), low_v, here_v);
            return {FirstStop{{v, array.current_a(v)}, Binding::current_limit, band->limit_a}, false};
        }
        here_v = low_v;
        if (low_v == end_v) return {};
    }
    if (!begun) return {std::nullopt, true};
    return {FirstStop{{here_v, array.current_a(here_v)}, Binding::band_edge, here_v}, false};
}

}  // namespace

std::optional<FirstStop> first_stop(const physics::ArrayCurve& array, const physics::AcceptanceWindow& window,
                                    const physics::PowerExtremes& in_window, double top_v) {
    const physics::PowerExtreme& first = in_window.first_from_open_circuit();
    if (!(first.point.power_w() > 0.0)) return std::nullopt;
    const double end_v = first.point.voltage_v;
    FirstStop stop{first.point, Binding::nothing, 0.0};
    if (first.at_end) {
        stop.binding = end_v < top_v ? Binding::window_bottom : Binding::window_top;
        stop.binding_limit = end_v;
    }
    if (first.point.power_w() > window.power_w) {
        const physics::PowerPoint top{top_v, array.current_a(top_v)};
        if (top.power_w() > window.power_w) return std::nullopt;
        stop = {array.power_crossing(window.power_w, first.point, top), Binding::power_limit, window.power_w};
    }
    if (window.bands.empty()) return stop;
    const CurrentStop current = current_stop(array, window.bands, top_v, stop.point.voltage_v);
    if (current.at_start) return std::nullopt;
    return current.stop ? current.stop : stop;
}

}  // namespace plait::study
