#include <plait/study/impossible_figure.hpp>

#include <plait/rules/number_words.hpp>

#include <algorithm>
#include <cmath>

namespace plait::study {
namespace {

// Solved figures are good to 1e-11 of their own and are summed up over many panels.
constexpr double solved_ratio = 1e-7;
constexpr double least_w = 1e-6;

/// Watts that the panels of a wiring give one by one in a weather, and the sum of their open-circuit volts in the string
/// that has most of them.
double one_by_one_w(const SystemModel& system, const InputWiring& wiring, const KindConditions& weather) {
    double sum_w = 0.0;
    for (const SeriesString& string : wiring.strings) {
        const PanelPlace* known = nullptr;
        double own_w = 0.0;
        for (const PanelPlace& place : string.panels) {
            if (known == nullptr || !(*known == place)) {
                known = &place;
                own_w = system.curve(InputWiring{{SeriesString{{place}, false}}}, weather).maximum_power().power_w();
            }
            sum_w += own_w;
        }
    }
    return sum_w;
}

void check_point(FigureCheck& check, const rules::ConditionPoint& p, double most_w, double most_v) {
    check.at_most("open-circuit voltage", p.open_circuit_v, most_v);
    check.finite("short-circuit current", p.short_circuit_a);
    check.at_most("power of the array", p.operating.free_maximum.power_w(), most_w);
    check.at_most("power in operation", p.operating.point.power_w(), most_w);
    check.not_negative("power in operation", p.operating.point.power_w(), most_w);
    check.finite("voltage in operation", p.operating.point.voltage_v);
    check.finite("estimate by hand", p.operating.hand_rule_w);
    for (const rules::StringCurrent& string : p.strings) {
        check.finite("current of a string", string.operating_a);
        check.finite("current of a string with nothing drawn", string.open_circuit_a);
        check.finite("current driven back", string.reverse_spread_a.upper());
    }
    if (!p.cable) return;
    check.finite("drop in the cables", p.cable->drop_v);
    check.not_negative("loss in the cables", p.cable->loss_w, most_w);
}

void check_verdicts(FigureCheck& check, const std::vector<RuleVerdict>& verdicts) {
    for (const RuleVerdict& v : verdicts) {
        check.finite("value of a finding", v.finding.value);
        // Of a limit that nobody states there is no figure.
        if (v.finding.outcome != rules::Outcome::undecided) check.finite("limit of a finding", v.finding.limit);
        check.finite("spread of a finding", v.finding.spread.lower());
        check.finite("spread of a finding", v.finding.spread.upper());
    }
}

void check_cables(FigureCheck& check, const std::vector<rules::CableFigures>& cables) {
    for (const rules::CableFigures& c : cables) {
        check.finite("current in a cable", c.currents.most_a);
        check.not_negative("drop in a cable", c.drop_v, 1.0);
        check.not_negative("loss in a cable", c.loss_w, 1.0);
    }
}

void check_input(FigureCheck& check, const SystemModel& system, const InputJudgement& one) {
    for (const rules::ConditionPoint& p : one.points) {
        check_point(check, p, one_by_one_w(system, one.wiring, system.conditions(p.id)), one.wires.cold_voc_v);
    }
    check_verdicts(check, one.verdicts);
    const ArrayFacts& f = one.facts;
    for (const double v : {f.pmax_w, f.stc_voc_v, f.isc_a, f.bright_isc_a, f.continuous_isc_a, f.cold_vmp_v,
                           f.hot_voc_v, f.hot_vmp_v, f.cold_voc_v[0], f.cold_voc_v[1], f.cold_voc_v[2]}) {
        check.finite("sum of the datasheets", v);
    }
    for (const DrivenString& d : one.driven) {
        check.finite("current driven back", d.open_circuit.current_a);
        check.finite("current driven back in operation", d.operating.current_a);
    }
    const LevelPowers free_w = system.free_powers(one.wiring);
    for (std::size_t l = 0; l < free_w.size(); ++l) {
        check.at_most("power at a level of light", one.level_power_w[l], free_w[l]);
        check.at_most("power without cables", one.wireless_level_power_w[l], free_w[l]);
    }
    check_cables(check, one.wires.cables);
    check.finite("voltage that everything must stand", one.wires.stand_v);
}

}  // namespace

void FigureCheck::complain(const char* what, double value, const std::string& why) {
    if (complaint_) return;
    const std::string figure = std::isnan(value) ? "not a number" : std::isinf(value) ? "without end" : rules::plain_number(value);
    complaint_ = std::string("The ") + what + " came out as " + figure + ", which cannot be" + why + ".";
}

void FigureCheck::finite(const char* what, double value) {
    if (!std::isfinite(value)) complain(what, value, "");
}

void FigureCheck::at_most(const char* what, double value, double most) {
    finite(what, value);
    if (!(value <= most * (1.0 + solved_ratio) + least_w)) {
        complain(what, value, ": " + rules::plain_number(most) + " is the most there can be");
    }
}

void FigureCheck::not_negative(const char* what, double value, double scale) {
    finite(what, value);
    if (!(value >= -solved_ratio * std::abs(scale) - least_w)) complain(what, value, ": it is below zero");
}

std::optional<std::string> impossible_figure(const SystemModel& system, const Judgement& judgement) {
    FigureCheck check;
    for (const InputJudgement& one : judgement.inputs) check_input(check, system, one);
    check_verdicts(check, judgement.plan);
    check_cables(check, judgement.battery.cables);
    if (judgement.battery.current) check.finite("charge current", judgement.battery.current->charge_a);
    check.at_most("harvest", judgement.harvest.european_w, judgement.free_harvest.european_w);
    check.at_most("harvest", judgement.harvest.cec_w, judgement.free_harvest.cec_w);
    check.not_negative("harvest", judgement.harvest.european_w, judgement.free_harvest.european_w);
    check.at_most("harvest without cables", judgement.wireless_harvest.european_w, judgement.free_harvest.european_w);
    return check.complaint();
}

std::optional<std::string> impossible_figure(const CurveSheet& sheet) {
    FigureCheck check;
    for (const InputCurve& c : sheet.inputs) {
        const double most_w = c.at_best.mismatch.own_w;
        check.finite("open-circuit voltage", c.open_circuit_v);
        check.finite("short-circuit current", c.short_circuit_a);
        for (const physics::PowerExtreme& e : c.extremes.points) check.at_most("power of an extreme", e.point.power_w(), most_w);
        for (const physics::PowerExtreme& e : c.in_window) check.at_most("power of an extreme", e.point.power_w(), most_w);
        check.at_most("power in operation", c.operating.point.power_w(), most_w);
        if (c.first_stop) check.at_most("power where a tracker stops", c.first_stop->point.power_w(), most_w);
        for (const CurvePoint& p : c.points) {
            check.finite("voltage of a point", p.point.voltage_v);
            check.finite("current of a point", p.point.current_a);
            check.at_most("power of a point", p.point.power_w(), most_w);
            for (const double a : p.string_a) check.finite("current of a string", a);
        }
        for (const double w : c.column_w) check.at_most("power of a plot", w, most_w);
        for (const double a : c.open_circuit_string_a) check.finite("current of a string with nothing drawn", a);
        for (const std::vector<physics::PanelShare>& string : c.at_best.mismatch.panels) {
            for (const physics::PanelShare& share : string) {
                check.finite("power of a panel", share.delivered_w);
                check.not_negative("power of a panel by itself", share.own_maximum_w, most_w);
            }
        }
    }
    return check.complaint();
}

std::optional<std::string> impossible_figure(const PanelSheet& sheet) {
    FigureCheck check;
    for (const TemperatureRow& row : sheet.temperatures) {
        check.finite("Voc of a panel", row.curve_voc_v);
        check.not_negative("Voc of a panel", row.line_voc_v, sheet.panel.voc_v);
        check.at_most("power of a panel", row.curve_maximum.power_w(), row.curve_voc_v * 2.0 * sheet.panel.isc_a);
    }
    for (const LightRow& row : sheet.light) {
        check.not_negative("power of a panel", row.maximum.power_w(), sheet.panel.pmax_w);
        check.finite("efficiency in weak light", row.efficiency_ratio);
    }
    return check.complaint();
}

}  // namespace plait::study
