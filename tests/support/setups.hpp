// Invented set-ups without end, for laws that hold for every one of them.
#pragma once

#include "arrays.hpp"

#include <plait/model/setup.hpp>
#include <plait/physics/datasheet_fit.hpp>

#include <algorithm>
#include <string>
#include <vector>

namespace plait::test {

template <class T>
T one_of(Dice& dice, std::initializer_list<T> all) {
    return *(all.begin() + static_cast<std::ptrdiff_t>(dice.below(all.size())));
}

inline GivenDiode given_like(const Panel& panel, Dice& dice) {
    const physics::DiodeCurve stc = physics::fit_datasheet(panel, CurveMethod::prior_ideality)->model.stc;
    const double thermal_v = panel.junctions_in_series() * boltzmann_over_charge_v_per_k * absolute_k(stc_cell);
    // Somebody else's fit of the same panel: not quite through the datasheet's points.
    return {stc.light_current_a * dice.between(0.99, 1.03), stc.saturation_current_a * dice.between(0.7, 1.2),
            stc.ideality_v / thermal_v, stc.series_resistance_ohm,
            1.0 / std::max(1e-4, stc.shunt_conductance_s * dice.between(0.8, 1.2))};
}

inline Panel random_panel(Dice& dice) {
    Panel p;
    p.name = "Invented";
    p.technology = one_of(dice, {Technology::perc, Technology::poly_silicon, Technology::topcon,
                                 Technology::heterojunction, Technology::cigs, Technology::cdte, Technology::unknown});
    p.cells_in_series = 12 * static_cast<int>(3 + dice.below(4));
    p.bypass_diodes = static_cast<int>(dice.below(4));
    p.voc_v = p.cells_in_series * dice.between(0.58, 0.74);
    p.vmp_v = p.voc_v * dice.between(0.77, 0.85);
    p.isc_a = dice.between(1.0, 18.0);
    p.imp_a = p.isc_a * dice.between(0.90, 0.96);
    p.pmax_w = p.vmp_v * p.imp_a;
    p.voc_coefficient_stated = dice.chance(0.7);
    p.voc_coefficient_per_k = p.voc_coefficient_stated ? -dice.between(0.0022, 0.0042) : -0.0035;
    p.isc_coefficient_per_k = dice.between(-0.0001, 0.0009);
    p.pmax_coefficient_per_k = -dice.between(0.0024, 0.0048);
    p.nominal_temperature = Celsius{dice.between(42.0, 50.0)};
    if (dice.chance(0.2)) p.weak_light_efficiency_ratio = dice.between(0.90, 0.99);
    p.max_system_voltage_v = one_of(dice, {100.0, 300.0, 600.0, 1000.0, 1500.0});
    p.max_series_fuse_a = one_of(dice, {10.0, 15.0, 20.0, 25.0, 30.0});
    p.max_series_fuse_stated = dice.chance(0.8);
    p.voc_tolerance_ratio = one_of(dice, {0.0, 0.02, 0.03, 0.05});
    p.isc_tolerance_ratio = one_of(dice, {0.0, 0.03, 0.05});
    p.pmax_tolerance_below_ratio = one_of(dice, {0.0, 0.03});
    p.pmax_tolerance_above_ratio = one_of(dice, {0.0, 0.03});
    if (dice.chance(0.15)) p.bifaciality_ratio = dice.between(0.6, 0.9);
    if (dice.chance(0.15)) p.given_diode = given_like(p, dice);
    return p;
}

inline Site random_site(Dice& dice) {
    Site s;
    s.coldest_air = Celsius{dice.between(-55.0, 15.0)};
    s.hottest_air = Celsius{dice.between(20.0, 48.0)};
    s.mounting = one_of(dice, {Mounting::open_rack, Mounting::close_to_roof, Mounting::propped_up,
                               Mounting::flat_on_ground});
    s.peak_irradiance_w_per_m2 = dice.chance(0.5) ? 1000.0 : dice.between(600.0, 1600.0);
    s.cold_method = one_of(dice, {ColdMethod::coefficient, ColdMethod::coefficient, ColdMethod::code_table,
                                  ColdMethod::flat_factor});
    s.flat_factor_ratio = dice.between(1.0, 1.3);
    s.code = one_of(dice, {Code::nec, Code::iec, Code::both});
    return s;
}

/// Limits near what one to six panels in series and one to four strings give, so that about half are broken.
inline Input random_input(Dice& dice, const Panel& panel) {
    Input input;
    input.name = "PV";
    const double most_v = panel.voc_v * dice.between(0.9, 7.0);
    input.max_voltage_v = most_v;
    if (dice.chance(0.8)) input.tracking_max_v = most_v * dice.between(0.75, 1.0);
    if (dice.chance(0.8)) input.tracking_min_v = most_v * dice.between(0.05, 0.45);
    if (dice.chance(0.5)) input.start_voltage_v = most_v * dice.between(0.1, 0.5);
    if (dice.chance(0.8)) {
        const double split_v = most_v * dice.between(0.3, 0.7);
        const double limit_a = panel.isc_a * dice.between(0.6, 4.5);
        input.bands = {{0.0, most_v, limit_a}};
        if (dice.chance(0.3)) {
            input.bands = {{0.0, split_v, 0.6 * limit_a}, {split_v, most_v, limit_a}};
        }
    }
    if (dice.chance(0.5)) input.max_power_w = panel.pmax_w * dice.between(1.0, 12.0);
    if (dice.chance(0.6)) input.max_short_circuit_a = panel.isc_a * dice.between(0.9, 6.0);
    if (dice.chance(0.2)) input.max_array_power_w = panel.pmax_w * dice.between(1.0, 15.0);
    if (dice.chance(0.2)) input.plug_rating_a = panel.isc_a * dice.between(0.9, 6.0);
    input.over_current = one_of(dice, {OverCurrent::unsaid, OverCurrent::only_clips, OverCurrent::not_permitted});
    return input;
}

inline Controller random_controller(Dice& dice, const Panel& panel) {
    Controller c;
    c.name = "Invented";
    c.type = one_of(dice, {ControllerType::wide_range, ControllerType::wide_range, ControllerType::step_down,
                           ControllerType::step_up, ControllerType::direct_connect});
    c.inputs.push_back(random_input(dice, panel));
    if (dice.chance(0.3)) c.inputs.push_back(random_input(dice, panel));
    if (c.type != ControllerType::wide_range || dice.chance(0.3)) {
        const double nominal_v = one_of(dice, {12.0, 24.0, 48.0}) * (c.type == ControllerType::step_up ? 2.0 : 1.0);
        c.battery = Battery{0.875 * nominal_v, nominal_v, 1.2 * nominal_v, std::nullopt};
        if (dice.chance(0.6)) c.battery->max_charge_current_a = dice.between(5.0, 60.0);
    }
    c.running_headroom_v = 1.0;
    c.starting_headroom_v = 5.0;
    c.direct_connect_drop_v = 0.5;
    c.efficiency_ratio = 0.97;
    return c;
}

inline Cable random_cable(Dice& dice, CableRun run) {
    Cable cable;
    cable.name = std::string(name_of(run));
    cable.run = run;
    cable.length_m = dice.between(1.0, 30.0);
    if (dice.chance(0.3)) {
        cable.size = one_of(dice, {CableSize{3.31, 12}, CableSize{5.26, 10}, CableSize{13.3, 6}});
    } else {
        cable.size.area_mm2 = one_of(dice, {2.5, 4.0, 6.0, 10.0, 25.0});
    }
    cable.kind = one_of(dice, {ConductorKind::plain, ConductorKind::tinned});
    cable.ambient = Celsius{dice.between(20.0, 75.0)};
    cable.laying = one_of(dice, {Laying::free_air, Laying::surface, Laying::bundled});
    cable.circuits = static_cast<int>(1 + dice.below(4));
    cable.insulation = Celsius{one_of(dice, {75.0, 90.0})};
    cable.terminals = Celsius{one_of(dice, {60.0, 75.0})};
    return cable;
}

/// Light and warmth of the bypass groups of one panel; mostly none, and then some with more light than the site.
inline std::vector<GroupState> random_groups(Dice& dice, const Panel& panel) {
    if (dice.chance(0.75)) return {};
    std::vector<GroupState> groups(panel.bypass_diodes > 1 ? static_cast<std::size_t>(panel.bypass_diodes) : 1U);
    const bool one_for_all = dice.chance(0.5);
    for (GroupState& group : groups) {
        group.light_ratio = dice.chance(0.3) ? 1.0 : dice.chance(0.1) ? 0.0 : dice.between(0.05, 2.0);
        group.warmer_k = dice.chance(0.6) ? 0.0 : dice.between(-15.0, 25.0);
        if (is_crystalline_silicon(panel.technology) && dice.chance(0.2)) {
            group.shaded_cells = static_cast<int>(1 + dice.below(static_cast<std::size_t>(
                                                          std::max(1, panel.cells_in_series / static_cast<int>(groups.size())))));
            group.shaded_light_ratio = dice.chance(0.2) ? 0.0 : dice.between(0.0, 1.0);
        }
        if (one_for_all) group = groups.front();
    }
    return groups;
}

inline InputWiring random_setup_wiring(Dice& dice, const Setup& setup, bool plain) {
    InputWiring wiring;
    const std::size_t in_series = 1 + dice.below(6);
    const std::size_t in_parallel = 1 + dice.below(4);
    if (plain || dice.chance(0.5)) {
        return written_out({dice.below(setup.kinds.size()), static_cast<int>(in_series), static_cast<int>(in_parallel)});
    }
    wiring.strings.resize(in_parallel);
    const bool own_fuses = dice.chance(0.15);
    for (SeriesString& string : wiring.strings) {
        string.blocking_diode = dice.chance(0.2);
        if (own_fuses) string.fuse_a = one_of(dice, {6.0, 10.0, 15.0, 20.0, 30.0});
        string.panels.resize(dice.chance(0.7) ? in_series : 1 + dice.below(6));
        for (PanelPlace& place : string.panels) {
            place.kind = dice.below(setup.kinds.size());
            place.groups = random_groups(dice, setup.kinds[place.kind].panel);
        }
    }
    return wiring;
}

/// One or two kinds, one or two inputs; with cables and fittings in some. Its wiring is in the set-up; `plain`: equal
/// strings in full light only.
inline Setup random_setup(Dice& dice, bool plain = false) {
    Setup s;
    s.title = "Invented";
    const std::size_t kinds = plain ? 1 : 1 + dice.below(2);
    for (std::size_t k = 0; k < kinds; ++k) {
        s.kinds.push_back({k == 0 ? "meadow" : "dune", random_panel(dice), 30, std::nullopt});
    }
    s.controller = random_controller(dice, s.kinds.front().panel);
    s.site = random_site(dice);
    s.curve_method = dice.chance(0.25) ? CurveMethod::de_soto : CurveMethod::prior_ideality;
    if (dice.chance(0.5)) s.cables.push_back(random_cable(dice, CableRun::string));
    if (dice.chance(0.5)) s.cables.push_back(random_cable(dice, CableRun::trunk));
    if (s.controller.battery && dice.chance(0.5)) s.cables.push_back(random_cable(dice, CableRun::battery));
    const double isc_a = s.kinds.front().panel.isc_a;
    const double voc_v = s.kinds.front().panel.voc_v;
    if (dice.chance(0.4)) s.fittings.string_fuse_a = one_of(dice, {10.0, 15.0, 20.0, 25.0, 30.0});
    if (dice.chance(0.2)) s.fittings.string_fuse_v = voc_v * dice.between(1.0, 8.0);
    if (dice.chance(0.3)) s.fittings.disconnect_a = isc_a * dice.between(1.0, 6.0);
    if (dice.chance(0.3)) s.fittings.disconnect_v = voc_v * dice.between(1.0, 8.0);
    if (dice.chance(0.3)) s.fittings.battery_fuse_a = one_of(dice, {15.0, 30.0, 60.0, 100.0});
    if (dice.chance(0.2)) s.fittings.connector_a = one_of(dice, {20.0, 30.0, 45.0});
    if (dice.chance(0.2)) s.fittings.branch_a = one_of(dice, {20.0, 30.0, 50.0});
    ArrayPlan plan;
    for (std::size_t i = 0; i < s.controller.inputs.size(); ++i) {
        plan.push_back(i > 0 && dice.chance(0.3) ? InputWiring{} : random_setup_wiring(dice, s, plain));
    }
    s.wiring = plan;
    return s;
}

}  // namespace plait::test
