#include "harvest_input.hpp"

#include <plait/physics/window_batch.hpp>

#include <algorithm>
#include <limits>
#include <map>
#include <utility>

namespace plait::study {
namespace {

/// Equal strings of one kind on one plane, all of it in full light.
struct EqualOnPlane {
    EqualStrings strings;
    std::size_t plane = 0;
};

std::optional<EqualOnPlane> equal_on_plane(const Setup& setup, const InputWiring& wiring) {
    // A plane named in the wiring and the same one named by the kind are one plane.
    InputWiring named = wiring;
    for (SeriesString& string : named.strings) {
        for (PanelPlace& place : string.panels) place.plane = plane_of(setup, place);
    }
    const auto equal = as_equal_strings(named);
    if (!equal) return std::nullopt;
    return EqualOnPlane{*equal, *named.strings.front().panels.front().plane};
}

/// Where the watts of a held or missed point go.
HarvestLoss loss_of(physics::NoPoint none, physics::Binding binding, HarvestLoss of_power) {
    if (none == physics::NoPoint::pushed_out) return HarvestLoss::window_top;
    if (none != physics::NoPoint::held) return HarvestLoss::window_bottom;
    switch (binding) {
        case physics::Binding::nothing:
            return HarvestLoss::window_bottom;  // nothing is lost
        case physics::Binding::current_limit:
            return HarvestLoss::current_limit;
        case physics::Binding::power_limit:
            return of_power;
        case physics::Binding::window_bottom:
            return HarvestLoss::window_bottom;
        case physics::Binding::window_top:
            return HarvestLoss::window_top;
        case physics::Binding::band_edge:
            return HarvestLoss::band_edge;
        case physics::Binding::pinned:
            return HarvestLoss::pinned;
    }
    return HarvestLoss::window_bottom;
}

/// What an input wants and who sets its limits.
struct InputTraits {
    double start_v = 0.0;  ///< open-circuit voltage it begins at
    HarvestLoss of_power = HarvestLoss::power_limit;  ///< what its power limit is: its own, or one on all inputs together
    std::optional<double> pinned_v;
};

InputTraits traits_of(const Setup& setup, std::size_t input) {
    const Controller& controller = setup.controller;
    const Input& in = controller.inputs[input];
    InputTraits t;
    t.start_v = in.start_voltage_v.value_or(0.0);
    if (controller.type == ControllerType::step_down && controller.battery) {
        t.start_v = std::max(t.start_v, controller.battery->max_voltage_v + controller.starting_headroom_v);
    }
    const auto charging_w = physics::charging_power_limit_w(controller);
    if (charging_w && *charging_w <= in.max_power_w.value_or(std::numeric_limits<double>::infinity())) {
        t.of_power = lower_limit_on_all(controller);
    }
    t.pinned_v = physics::pinned_voltage_v(controller);
    return t;
}

/// The input through the day: asleep until the array's open circuit reaches its start voltage, then running until it
/// holds no point. `hours` hold what a running input takes; `open_circuit_v(k)` is asked only of one asleep.
template <class Begins>
void wake_and_sleep(const LitHours& lit, const InputTraits& traits, std::vector<InputHour>& hours,
                    const Begins& begins) {
    if (!(traits.start_v > 0.0)) return;
    bool running = false;
    for (std::size_t k = 0; k < hours.size(); ++k) {
        InputHour& h = hours[k];
        running = running && lit.follows[k] != 0;
        if (!running && h.wired_w > 0.0 && !begins(k)) {
            h.taken_w = 0.0;
            h.loss = HarvestLoss::not_started;
            continue;
        }
        running = h.taken_w > 0.0;
    }
}

std::vector<InputHour> equal_hours(PanelHarvest& panels, std::size_t input, const InputWiring& wiring,
                                   const EqualOnPlane& equal) {
    const PanelSeries& one = panels.of(equal.strings.kind, equal.plane);
    const LitHours& lit = panels.lit();
    const int s = equal.strings.in_series;
    const int p = equal.strings.in_parallel;
    const double more_ohm = behind({}, panels.system().wires(input, wiring)).series_resistance_ohm;
    std::vector<double> best_v = one.best_v;
    std::vector<double> best_a = one.best_a;
    if (more_ohm > 0.0) {
        physics::maximum_power_points(one.curves.scaled(s, p, more_ohm), best_v, best_a);
    } else {
        for (double& v : best_v) v *= s;
        for (double& a : best_a) a *= p;
    }
    const InputTraits traits = traits_of(panels.system().setup(), input);
    const physics::AcceptanceWindow& window = panels.system().window(input);
    std::vector<InputHour> hours(lit.size());
    std::vector<std::size_t> limited;
    for (std::size_t k = 0; k < lit.size(); ++k) {
        InputHour& h = hours[k];
        const physics::PowerPoint best{best_v[k], best_a[k]};
        h.own_w = h.array_w = one.best_v[k] * one.best_a[k] * s * p;
        h.wired_w = more_ohm > 0.0 ? best.power_w() : h.own_w;
        const bool taken = !traits.pinned_v && best.current_a <= window.current_limit_a(best.voltage_v) &&
                           best.power_w() <= window.power_w;
        if (taken) {
            h.taken_w = h.wired_w;
        } else if (h.wired_w > 0.0) {
            limited.push_back(k);
        }
    }
    if (!limited.empty()) {
        const physics::CurveBatch curves = one.curves.picked(limited).scaled(s, p, more_ohm);
        std::vector<double> v(limited.size());
        std::vector<double> a(limited.size());
        for (std::size_t i = 0; i < limited.size(); ++i) {
            v[i] = best_v[limited[i]];
            a[i] = best_a[limited[i]];
        }
        std::vector<physics::BatchPoint> points(limited.size());
        if (traits.pinned_v) {
            physics::pinned_points(curves, v, a, *traits.pinned_v, points, physics::best_batch_form());
        } else {
            physics::operating_points(curves, v, a, window, points, physics::best_batch_form());
        }
        for (std::size_t i = 0; i < limited.size(); ++i) {
            InputHour& h = hours[limited[i]];
            h.taken_w = points[i].point.power_w();
            h.loss = loss_of(points[i].none, points[i].binding, traits.of_power);
        }
    }
    wake_and_sleep(lit, traits, hours, [&](std::size_t k) {
        // Open circuit lies above the maximum; and no current, no drop in the wires.
        return best_v[k] >= traits.start_v || one.curves.at(k).open_circuit_v() * s >= traits.start_v;
    });
    return hours;
}

/// A panel of its own, with how often it is there: panels in equal light are worked out once.
struct OwnPanel {
    PanelPlace place;
    double count = 0.0;
};

std::vector<OwnPanel> own_panels(const Setup& setup, const InputWiring& wiring) {
    std::vector<OwnPanel> all;
    for (const SeriesString& string : wiring.strings) {
        for (PanelPlace place : string.panels) {
            place.plane = plane_of(setup, place);
            const auto same = std::find_if(all.begin(), all.end(), [&](const OwnPanel& o) { return o.place == place; });
            if (same != all.end()) {
                same->count += 1.0;
            } else {
                all.push_back({place, 1.0});
            }
        }
    }
    return all;
}

std::vector<InputHour> mixed_hours(PanelHarvest& panels, std::size_t input, const InputWiring& wiring) {
    const SystemModel& system = panels.system();
    const Setup& setup = system.setup();
    const LitHours& lit = panels.lit();
    const std::vector<OwnPanel> own = own_panels(setup, wiring);
    const physics::WireResistance wires = system.wires(input, wiring);
    const bool wired = !wires.string_ohm.empty() || wires.trunk_ohm > 0.0;
    PlaneMoment moment;
    moment.light_w_per_m2.resize(panels.plane_count());
    moment.cell.assign(setup.kinds.size(), std::vector<Celsius>(panels.plane_count()));
    const InputTraits traits = traits_of(setup, input);
    std::vector<std::uint8_t> begins(lit.size(), 0);
    std::vector<InputHour> hours(lit.size());
    for (std::size_t k = 0; k < lit.size(); ++k) {
        InputHour& h = hours[k];
        double brightest = 0.0;
        for (const OwnPanel& o : own) {
            const physics::Condition& c = panels.of(o.place.kind, *o.place.plane).conditions[k];
            moment.light_w_per_m2[*o.place.plane] = c.irradiance_w_per_m2;
            moment.cell[o.place.kind][*o.place.plane] = c.cell;
            brightest = std::max(brightest, c.irradiance_w_per_m2);
        }
        if (!(brightest > 0.0)) continue;
        for (const OwnPanel& o : own) {
            const PanelSeries& series = panels.of(o.place.kind, *o.place.plane);
            if (o.place.groups.empty()) {
                h.own_w += o.count * series.best_v[k] * series.best_a[k];
                continue;
            }
            const InputWiring alone{{SeriesString{{o.place}, false}}};
            const physics::ArrayCurve curve(alone, system.panels(), series.conditions[k]);
            h.own_w += o.count * curve.maximum_power().power_w();
        }
        const SystemModel::WarmedWiring lit_wiring = wiring_in_light(system, wiring, moment);
        const physics::ArrayCurve curve(lit_wiring.wiring, system.panels(), lit_wiring.condition, wires);
        const physics::OperatingPoint point = system.operating_point(input, curve);
        h.wired_w = point.free_maximum.power_w();
        h.array_w = h.wired_w;
        if (wired) {
            const physics::ArrayCurve bare(lit_wiring.wiring, system.panels(), lit_wiring.condition);
            h.array_w = bare.maximum_power().power_w();
        }
        h.taken_w = point.point.power_w();
        h.loss = loss_of(point.none, point.binding, traits.of_power);
        begins[k] = point.free_maximum.voltage_v >= traits.start_v || curve.open_circuit_v() >= traits.start_v ? 1 : 0;
    }
    wake_and_sleep(lit, traits, hours, [&](std::size_t k) { return begins[k] != 0; });
    return hours;
}

}  // namespace

HarvestLoss lower_limit_on_all(const Controller& controller) {
    constexpr double none_w = std::numeric_limits<double>::infinity();
    const double charging_w = physics::charging_power_limit_w(controller).value_or(none_w);
    return charging_w < controller.max_total_power_w.value_or(none_w) ? HarvestLoss::charge_limit : HarvestLoss::shared_limit;
}

std::size_t plane_of(const Setup& setup, const PanelPlace& place) {
    if (place.plane) return *place.plane;
    return setup.kinds[place.kind].plane.value_or(0);
}

SystemModel::WarmedWiring wiring_in_light(const SystemModel& system, const InputWiring& wiring,
                                          const PlaneMoment& moment) {
    const Setup& setup = system.setup();
    SystemModel::WarmedWiring out{wiring, {}};
    const PanelPlace* brightest = nullptr;
    for (const SeriesString& string : wiring.strings) {
        for (const PanelPlace& place : string.panels) {
            const double light = moment.light_w_per_m2[plane_of(setup, place)];
            if (brightest == nullptr || light > moment.light_w_per_m2[plane_of(setup, *brightest)]) brightest = &place;
        }
    }
    const std::size_t first_plane = plane_of(setup, *brightest);
    out.condition = {moment.light_w_per_m2[first_plane], moment.cell[brightest->kind][first_plane]};
    for (SeriesString& string : out.wiring.strings) {
        for (PanelPlace& place : string.panels) {
            const std::size_t plane = plane_of(setup, place);
            const double light_ratio = moment.light_w_per_m2[plane] / out.condition.irradiance_w_per_m2;
            const double warmer_k = moment.cell[place.kind][plane] - out.condition.cell;
            if (light_ratio == 1.0 && warmer_k == 0.0) continue;
            if (place.groups.empty()) place.groups.resize(system.group_count(place.kind));
            for (GroupState& group : place.groups) {
                group.light_ratio *= light_ratio;
                group.warmer_k += warmer_k;
            }
        }
    }
    return out;
}

std::vector<InputHour> input_hours(PanelHarvest& panels, std::size_t input, const InputWiring& wiring) {
    if (const auto equal = equal_on_plane(panels.system().setup(), wiring)) {
        return equal_hours(panels, input, wiring, *equal);
    }
    return mixed_hours(panels, input, wiring);
}

}  // namespace plait::study
