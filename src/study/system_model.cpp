#include <plait/study/system_model.hpp>

#include <plait/base/constants.hpp>
#include <plait/physics/array_reading.hpp>
#include <plait/physics/cell_temperature.hpp>
#include <plait/physics/conductor.hpp>
#include <plait/rules/array_figures.hpp>
#include <plait/rules/stated_weather.hpp>

#include <algorithm>
#include <cassert>
#include <utility>

namespace plait::study {
namespace {

using rules::ConditionId;

constexpr double weak_irradiance_w_per_m2 = 200.0;  // that of IEC 61215's low-irradiance test

physics::Condition condition_of(ConditionId id, const Site& site, const Panel& panel) {
    const auto heated = [&](Celsius air, double irradiance) {
        return physics::Condition{irradiance, air + physics::rise_above_air_k(panel, site.mounting, irradiance)};
    };
    switch (id) {
        // First light on the coldest morning: the cells are still at air temperature.
        case ConditionId::cold_bright:
            return {rules::cold_irradiance_w_per_m2(site), site.coldest_air};
        case ConditionId::stc:
            return {};
        case ConditionId::warm_bright:
            return heated(site.warm_air, stc_irradiance_w_per_m2);
        case ConditionId::hot_bright:
            return heated(site.hottest_air, site.peak_irradiance_w_per_m2);
        case ConditionId::weak_light:
            return heated(site.warm_air, weak_irradiance_w_per_m2);
    }
    return {};
}

Celsius air_of(ConditionId id, const Site& site) {
    switch (id) {
        case ConditionId::cold_bright:
            return site.coldest_air;
        case ConditionId::stc:
            return stc_cell;
        case ConditionId::hot_bright:
            return site.hottest_air;
        case ConditionId::warm_bright:
        case ConditionId::weak_light:
            return site.warm_air;
    }
    return site.warm_air;
}

std::vector<rules::StringCurrent> string_currents(const physics::ArrayCurve& curve, const rules::ConditionPoint& p) {
    const physics::OperatingPoint& op = p.operating;
    const std::vector<double> open_a = physics::string_currents_a(curve, p.open_circuit_v);
    const std::vector<double> operating_a = op.held() ? physics::string_currents_a(curve, op.point.voltage_v) : open_a;
    std::vector<rules::StringCurrent> strings;
    for (std::size_t s = 0; s < open_a.size(); ++s) strings.push_back({operating_a[s], open_a[s], Interval(0.0)});
    return strings;
}

}  // namespace

physics::DiodeCurve behind(physics::DiodeCurve curve, const physics::WireResistance& wires) {
    const double strings = static_cast<double>(wires.string_ohm.size());
    if (!wires.string_ohm.empty()) curve.series_resistance_ohm += wires.string_ohm.front() / strings;
    curve.series_resistance_ohm += wires.trunk_ohm;
    return curve;
}

Harvest weighted(const LevelPowers& power_w) {
    //                                             5 %  10 %  20 %  30 %  50 %  75 %  100 %
    static constexpr LevelPowers european_weights{0.03, 0.06, 0.13, 0.10, 0.48, 0.00, 0.20};
    static constexpr LevelPowers cec_weights{0.00, 0.04, 0.05, 0.12, 0.21, 0.53, 0.05};
    Harvest h;
    for (std::size_t i = 0; i < power_w.size(); ++i) {
        h.european_w += european_weights[i] * power_w[i];
        h.cec_w += cec_weights[i] * power_w[i];
    }
    return h;
}

SystemModel::SystemModel(const Setup& setup) : setup_(&setup) {
    for (const PanelKind& kind : setup.kinds) {
        const std::optional<physics::FittedPanel> fitted = physics::fit_datasheet(kind.panel, setup.curve_method);
        assert(fitted && "the reader refuses panels that no curve can be made of");
        fitted_.push_back(*fitted);
        panels_.push_back({fitted->model, kind.panel.bypass_diodes, kind.panel.cells_in_series, kind.panel.half_cut});
    }
    for (const Input& input : setup.controller.inputs) windows_.push_back(physics::window_of(setup.controller, input));
    fill_weather();
    // Neither a panel's curve nor an input's window knows the weather, so the other ends take both over.
    std::vector<SystemModel> ends;
    for (const Site& site : at_other_ends(setup.site)) {
        Setup there = setup;
        there.site = site;
        SystemModel& end = ends.emplace_back(*this);
        end.own_setup_ = std::make_shared<const Setup>(std::move(there));
        end.setup_ = end.own_setup_.get();
        end.fill_weather();
    }
    other_ends_ = std::move(ends);
}

void SystemModel::fill_weather() {
    const Site& site = setup_->site;
    condition_curves_.clear();
    conditions_.clear();
    level_curves_.clear();
    for (std::size_t k = 0; k < setup_->kinds.size(); ++k) {
        const Panel& panel = setup_->kinds[k].panel;
        const physics::DiodeModel& model = fitted_[k].model;
        auto& conditions = conditions_.emplace_back();
        auto& curves = condition_curves_.emplace_back();
        for (std::size_t c = 0; c < conditions.size(); ++c) {
            conditions[c] = condition_of(static_cast<ConditionId>(c), site, panel);
            curves[c] = model.at(conditions[c]);
        }
        auto& levels = level_curves_.emplace_back();
        for (std::size_t l = 0; l < levels.size(); ++l) {
            const double irradiance = harvest_levels[l] * stc_irradiance_w_per_m2;
            const double rise_k = physics::rise_above_air_k(panel, site.mounting, irradiance);
            levels[l] = model.at({irradiance, site.warm_air + rise_k});
        }
    }
}

template <class Curve>
physics::OperatingPoint SystemModel::point(std::size_t input, const Curve& curve) const {
    if (const auto pinned_v = physics::pinned_voltage_v(setup_->controller))
        return physics::pinned_point(curve, *pinned_v);
    return physics::operating_point(curve, windows_[input]);
}

physics::OperatingPoint SystemModel::operating_point(std::size_t input, const physics::ArrayCurve& curve) const {
    return point(input, curve);
}

physics::OperatingPoint SystemModel::operating_point(std::size_t input, const physics::DiodeCurve& curve) const {
    return point(input, curve);
}

SystemModel::WarmedWiring SystemModel::warmed(const InputWiring& wiring, const KindConditions& by_kind) const {
    WarmedWiring out{wiring, by_kind[wiring.strings.front().panels.front().kind]};
    for (SeriesString& string : out.wiring.strings) {
        for (PanelPlace& place : string.panels) {
            const double warmer_k = by_kind[place.kind].cell - out.condition.cell;
            if (warmer_k == 0.0) continue;
            if (place.groups.empty()) place.groups.resize(panels_[place.kind].group_count());
            for (GroupState& group : place.groups) group.warmer_k += warmer_k;
        }
    }
    return out;
}

physics::ArrayCurve SystemModel::curve(const InputWiring& wiring, const KindConditions& by_kind,
                                 const physics::WireResistance& wires) const {
    const WarmedWiring p = warmed(wiring, by_kind);
    return {p.wiring, panels_, p.condition, wires};
}

KindConditions SystemModel::conditions(ConditionId id) const {
    KindConditions by_kind;
    for (const auto& of_kind : conditions_) by_kind.push_back(of_kind[static_cast<std::size_t>(id)]);
    return by_kind;
}

KindConditions SystemModel::conditions_in_air(double irradiance_w_per_m2, Celsius air) const {
    KindConditions by_kind;
    for (const PanelKind& kind : setup_->kinds) {
        const double rise_k = physics::rise_above_air_k(kind.panel, setup_->site.mounting, irradiance_w_per_m2);
        by_kind.push_back({irradiance_w_per_m2, air + rise_k});
    }
    return by_kind;
}

physics::WireResistance SystemModel::wires(std::size_t input, const InputWiring& wiring) const {
    const bool through_battery = setup_->controller.type == ControllerType::direct_connect;
    double string_ohm = 0.0;
    double panel_ohm = 0.0;
    physics::WireResistance wires;
    for (const Cable& cable : setup_->cables) {
        if (cable.input && *cable.input != input) continue;
        const double ohm = physics::loop_resistance_ohm(cable);
        switch (cable.run) {
            case CableRun::panel_leads:
                panel_ohm += ohm;
                break;
            case CableRun::string:
                string_ohm += ohm;
                break;
            case CableRun::trunk:
                wires.trunk_ohm += ohm;
                break;
            case CableRun::battery:
                if (through_battery) wires.trunk_ohm += ohm;
                break;
        }
    }
    if (!(string_ohm > 0.0) && !(panel_ohm > 0.0)) return wires;
    for (const SeriesString& string : wiring.strings) {
        wires.string_ohm.push_back(string_ohm + panel_ohm * static_cast<double>(string.panels.size()));
    }
    return wires;
}

rules::ConditionPoints SystemModel::points(std::size_t input, const InputWiring& wiring) const {
    const std::size_t first_kind = wiring.strings.front().panels.front().kind;
    rules::ConditionPoints points;
    const auto read = [&](rules::ConditionPoint& p, const auto& array) {
        p.operating = point(input, array);
        p.open_circuit_v = array.open_circuit_v();
        p.short_circuit_a = array.short_circuit_a();
    };
    const std::optional<EqualStrings> equal = as_equal_strings(wiring);
    const physics::WireResistance on_the_way = wires(input, wiring);
    const bool wired = !on_the_way.string_ohm.empty() || on_the_way.trunk_ohm > 0.0;
    for (std::size_t c = 0; c < points.size(); ++c) {
        rules::ConditionPoint& p = points[c];
        p.id = static_cast<ConditionId>(c);
        p.air = air_of(p.id, setup_->site);
        p.condition = conditions_[first_kind][c];
        if (equal) {
            const physics::DiodeCurve bare =
                condition_curves_[equal->kind][c].scaled(equal->in_series, equal->in_parallel);
            const physics::DiodeCurve wired_curve = behind(bare, on_the_way);
            read(p, wired_curve);
            if (!wired) continue;
            const double drop_v =
                (wired_curve.series_resistance_ohm - bare.series_resistance_ohm) * p.operating.point.current_a;
            p.cable = rules::CableEffect{drop_v, drop_v * p.operating.point.current_a, point(input, bare)};
        } else {
            const KindConditions by_kind = conditions(p.id);
            const physics::ArrayCurve array = curve(wiring, by_kind, on_the_way);
            read(p, array);
            if (array.branches().size() > 1) p.strings = string_currents(array, p);
            if (!wired) continue;
            const double loss_w = p.operating.held() ? array_reading(array, p.operating.point.voltage_v).wire_w() : 0.0;
            p.cable = rules::CableEffect{loss_w > 0.0 ? loss_w / p.operating.point.current_a : 0.0, loss_w,
                                         point(input, curve(wiring, by_kind))};
        }
    }
    if (!points.front().strings.empty()) spread_reverse_currents(wiring, points, on_the_way);
    return points;
}

physics::StringTolerance tolerance_of(const Setup& setup, const SeriesString& string) {
    physics::StringTolerance tolerance;
    for (const PanelPlace& place : string.panels) {
        const Panel& panel = setup.kinds[place.kind].panel;
        tolerance.voltage_ratio = std::max(tolerance.voltage_ratio, panel.voc_tolerance_ratio);
        tolerance.current_ratio = std::max(tolerance.current_ratio, panel.isc_tolerance_ratio);
    }
    return tolerance;
}

void SystemModel::spread_reverse_currents(const InputWiring& wiring, rules::ConditionPoints& points,
                                    const physics::WireResistance& on_the_way) const {
    std::vector<physics::StringTolerance> tolerances;
    std::vector<double> ratings_a;
    for (const SeriesString& string : wiring.strings) {
        tolerances.push_back(tolerance_of(*setup_, string));
        ratings_a.push_back(rules::weakest_series_fuse_a(*setup_, string));
    }
    std::size_t worst = 0;
    double worst_ratio = 0.0;
    for (std::size_t c = 0; c < points.size(); ++c) {
        for (std::size_t s = 0; s < ratings_a.size(); ++s) {
            const double ratio = -points[c].strings[s].open_circuit_a / ratings_a[s];
            if (!(ratio > worst_ratio)) continue;
            worst_ratio = ratio;
            worst = c;
        }
    }
    const physics::ArrayCurve array = curve(wiring, conditions(points[worst].id), on_the_way);
    const std::vector<Interval> spreads_a = physics::reverse_spreads_a(array, tolerances);
    for (std::size_t s = 0; s < spreads_a.size(); ++s) points[worst].strings[s].reverse_spread_a = spreads_a[s];
}

physics::ArrayCurve SystemModel::level_curve(const InputWiring& wiring, std::size_t level,
                                       const physics::WireResistance& on_the_way) const {
    return curve(wiring, conditions_in_air(harvest_levels[level] * stc_irradiance_w_per_m2, setup_->site.warm_air),
                 on_the_way);
}

double SystemModel::level_power_w(std::size_t input, const InputWiring& wiring, std::size_t level, Wires counted) const {
    const physics::WireResistance on_the_way =
        counted == Wires::counted ? wires(input, wiring) : physics::WireResistance{};
    if (const std::optional<EqualStrings> equal = as_equal_strings(wiring)) {
        const physics::DiodeCurve& one = level_curves_[equal->kind][level];
        return point(input, behind(one.scaled(equal->in_series, equal->in_parallel), on_the_way)).point.power_w();
    }
    return point(input, level_curve(wiring, level, on_the_way)).point.power_w();
}

LevelPowers SystemModel::level_powers(std::size_t input, const InputWiring& wiring, Wires counted) const {
    LevelPowers power_w{};
    for (std::size_t l = 0; l < power_w.size(); ++l) power_w[l] = level_power_w(input, wiring, l, counted);
    return power_w;
}

LevelPowers SystemModel::free_powers(const InputWiring& wiring) const {
    LevelPowers power_w{};
    for (std::size_t l = 0; l < power_w.size(); ++l) {
        for (std::size_t kind = 0; kind < level_curves_.size(); ++kind) {
            std::size_t in_full_light = 0;
            for (const SeriesString& string : wiring.strings) {
                for (const PanelPlace& place : string.panels) {
                    if (place.kind == kind && place.groups.empty()) ++in_full_light;
                    if (place.kind != kind || place.groups.empty()) continue;
                    const InputWiring alone{{SeriesString{{place}, false}}};
                    power_w[l] += level_curve(alone, l).maximum_power().power_w();
                }
            }
            if (in_full_light == 0) continue;
            power_w[l] += static_cast<double>(in_full_light) * level_curves_[kind][l].maximum_power().power_w();
        }
    }
    return power_w;
}

}  // namespace plait::study
