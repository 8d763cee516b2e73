#include <plait/rules/cable_figures.hpp>

#include <plait/base/constants.hpp>
#include <plait/physics/acceptance_window.hpp>
#include <plait/rules/array_figures.hpp>
#include <plait/rules/fuse_figures.hpp>

#include <algorithm>
#include <limits>

namespace plait::rules {
namespace {

bool covers(const std::optional<double>& ampacity_a, double need_a) {
    return ampacity_a && need_a <= *ampacity_a * (1.0 + rounding_ratio);
}

double string_imp_a(const Situation& s, const SeriesString& string) {
    double imp_a = 0.0;
    for (const PanelPlace& place : string.panels) imp_a = std::max(imp_a, s.panel(place).imp_a);
    return imp_a;
}

RunCurrents string_currents(const Situation& s) {
    RunCurrents c;
    for (const StringFuse& f : string_fuses_by_panels(s)) {
        // Without a fuse the others' current may flow backwards through a faulty string's cable; where fuses are called
        // for they come first, and the cable is held against their own current.
        const bool guarded = f.fitted_a || f.needed(s.site().code);
        c.most_a = std::max(c.most_a, guarded ? f.bright_a : std::max(f.bright_a, f.others_bright_a));
        c.guarded_a = std::max(c.guarded_a, f.bright_a);
    }
    for (const SeriesString& string : s.wiring().strings) c.working_a = std::max(c.working_a, string_imp_a(s, string));
    c.continuous_a = continuous_duty_factor * c.most_a;
    return c;
}

RunCurrents trunk_currents(const Situation& s) {
    RunCurrents c;
    for (const SeriesString& string : s.wiring().strings) c.working_a += string_imp_a(s, string);
    c.most_a = array_bright_isc_a(s, s.wiring()).value;
    c.guarded_a = c.most_a;
    c.continuous_a = continuous_duty_factor * c.most_a;
    return c;
}

/// How often the cable lies on one current's way: panel leads once a panel.
double times_on_way(const Situation& s, const Cable& cable) {
    return cable.run == CableRun::panel_leads ? static_cast<double>(s.wiring().longest_string()) : 1.0;
}

/// The loss in all the run's cables at their own working currents.
double run_loss_w(const Situation& s, const Cable& cable, double working_a) {
    const double ohm = physics::loop_resistance_ohm(cable);
    if (cable.run == CableRun::trunk || cable.run == CableRun::battery) return ohm * working_a * working_a;
    double loss_w = 0.0;
    for (const SeriesString& string : s.wiring().strings) {
        const double imp_a = string_imp_a(s, string);
        const double times = cable.run == CableRun::panel_leads ? static_cast<double>(string.panels.size()) : 1.0;
        loss_w += times * ohm * imp_a * imp_a;
    }
    return loss_w;
}

bool enough(const std::optional<physics::NecAmpacity>& a, const RunCurrents& c) {
    return a && covers(a->terminal_a, c.continuous_a) && covers(a->corrected_a, c.most_a);
}
bool enough(const std::optional<physics::IecAmpacity>& a, const RunCurrents& c) {
    return a && covers(a->corrected_a, c.most_a);
}

CableFigures figures_of(const Situation& s, std::size_t index, const RunCurrents& currents, double voltage_v) {
    const Cable& cable = s.setup.cables[index];
    CableFigures f;
    f.cable = index;
    f.currents = currents;
    f.table_ohm_per_m =
        cable.resistance_ohm_per_m.value_or(physics::table_resistance_ohm_per_m(cable.size, cable.kind));
    f.loop_ohm = times_on_way(s, cable) * physics::loop_resistance_ohm(cable);
    f.drop_v = f.loop_ohm * currents.working_a;
    f.drop_ratio = f.drop_v / voltage_v;
    f.loss_w = run_loss_w(s, cable, currents.working_a);
    f.nec = physics::nec_ampacity(cable);
    f.iec = physics::iec_ampacity(cable);
    for (const CableSize& size : physics::american_sizes()) {
        if (!f.smallest_by_nec && enough(physics::nec_ampacity(cable, size), currents)) f.smallest_by_nec = size;
    }
    for (const CableSize& size : physics::metric_sizes()) {
        if (!f.smallest_by_iec && enough(physics::iec_ampacity(cable, size), currents)) f.smallest_by_iec = size;
    }
    return f;
}

void find_sizes_for_drop(const Situation& s, std::vector<CableFigures>& all, double voltage_v) {
    double total_v = 0.0;
    for (const CableFigures& f : all) total_v += f.drop_v;
    const double allowed_v = s.setup.drop_target_ratio * voltage_v * (1.0 + rounding_ratio);
    for (CableFigures& f : all) {
        const Cable& cable = s.setup.cables[f.cable];
        for (const CableSize& size : physics::sizes_like(cable.size)) {
            const double own_v =
                times_on_way(s, cable) * physics::loop_resistance_ohm(cable, size) * f.currents.working_a;
            if (total_v - f.drop_v + own_v > allowed_v) continue;
            f.smallest_for_drop = size;
            break;
        }
    }
}

}  // namespace

bool CableFigures::within_nec() const { return enough(nec, currents); }
bool CableFigures::within_iec() const { return enough(iec, currents); }

bool CableFigures::wants_fuses(Code code) const {
    RunCurrents guarded = currents;
    guarded.most_a = currents.guarded_a;
    guarded.continuous_a = continuous_duty_factor * currents.guarded_a;
    const bool by_nec = code != Code::iec && !enough(nec, currents) && enough(nec, guarded);
    const bool by_iec = code != Code::nec && !enough(iec, currents) && enough(iec, guarded);
    return by_nec || by_iec;
}

double working_voltage_v(const Situation& s) {
    double lowest_v = std::numeric_limits<double>::infinity();
    for (const SeriesString& string : s.wiring().strings) {
        double vmp_v = 0.0;
        for (const PanelPlace& place : string.panels) vmp_v += s.panel(place).vmp_v;
        lowest_v = std::min(lowest_v, vmp_v);
    }
    return lowest_v;
}

double fuse_ceiling_a(const CableFigures& f, Code code) {
    double most_a = std::numeric_limits<double>::infinity();
    if (code != Code::iec) {
        // The conductor's ampacity is no more than its terminals allow, 110.14(C).
        const double ampacity_a =
            f.nec ? std::min(f.nec->corrected_a.value_or(0.0), f.nec->terminal_a.value_or(0.0)) : 0.0;
        most_a = ampacity_a > 0.0 ? next_nec_size_a(ampacity_a).value_or(ampacity_a) : 0.0;
        if (f.nec) most_a = std::min(most_a, physics::nec_small_conductor_cap_a(*f.nec->taken_as.awg).value_or(most_a));
    }
    if (code != Code::nec) most_a = std::min(most_a, f.iec ? f.iec->corrected_a.value_or(0.0) : 0.0);
    return most_a;
}

std::vector<CableFigures> cable_figures(const Situation& s) {
    std::vector<CableFigures> all;
    if (s.setup.cables.empty()) return all;
    const RunCurrents of_string = string_currents(s);
    const RunCurrents of_trunk = trunk_currents(s);
    const double voltage_v = working_voltage_v(s);
    for (std::size_t i = 0; i < s.setup.cables.size(); ++i) {
        const Cable& cable = s.setup.cables[i];
        if (cable.run == CableRun::battery || (cable.input && *cable.input != s.here.input)) continue;
        all.push_back(figures_of(s, i, cable.run == CableRun::trunk ? of_trunk : of_string, voltage_v));
    }
    find_sizes_for_drop(s, all, voltage_v);
    return all;
}

std::optional<BatteryCurrent> battery_current(const Situation& s) {
    const std::optional<Battery>& battery = s.controller().battery;
    if (!battery) return std::nullopt;
    BatteryCurrent c;
    // A controller without tracking passes on what the array gives; only the others hold to a charge current.
    const bool direct = s.controller().type == ControllerType::direct_connect;
    if (direct) {
        for (const WiredInput& w : s.plan) c.unlimited_a += array_bright_isc_a(s, *w.wiring).value;
    } else {
        c.unlimited_a = plan_lit_pmax_w(s).value * s.controller().efficiency_ratio / battery->nominal_voltage_v;
    }
    c.charge_a =
        direct ? c.unlimited_a : std::min(c.unlimited_a, battery->max_charge_current_a.value_or(c.unlimited_a));
    c.fuse_least_a = continuous_duty_factor * c.charge_a;
    c.fuse_a = next_nec_size_a(c.fuse_least_a);
    return c;
}

std::vector<CableFigures> battery_cable_figures(const Situation& s) {
    std::vector<CableFigures> all;
    const std::optional<BatteryCurrent> current = battery_current(s);
    if (!current) return all;
    const RunCurrents currents{current->charge_a, current->charge_a, current->fuse_least_a, current->charge_a};
    const double voltage_v = s.controller().battery->nominal_voltage_v;
    for (std::size_t i = 0; i < s.setup.cables.size(); ++i) {
        if (s.setup.cables[i].run == CableRun::battery) all.push_back(figures_of(s, i, currents, voltage_v));
    }
    find_sizes_for_drop(s, all, voltage_v);
    return all;
}

}  // namespace plait::rules
