// A set-up by hand, in round invented numbers, so that every sum in these tests can be done in the head.
#pragma once

#include <plait/rules/catalogue.hpp>

#include <catch2/catch.hpp>

#include <string>
#include <string_view>
#include <vector>

namespace plait::rules {

using Catch::Matchers::Contains;

/// Voc 25 V, β −0.4 %/K; Vmp 20 V, γ −0.4 %/K, α 0; Imp 5 A, Isc 6 A; 100 W; fuse 15 A; system voltage 1000 V.
inline Panel round_panel() {
    Panel p;
    p.name = "Round 100";
    p.technology = Technology::mono_silicon;
    p.cells_in_series = 36;
    p.bypass_diodes = 2;
    p.pmax_w = 100.0;
    p.vmp_v = 20.0;
    p.imp_a = 5.0;
    p.voc_v = 25.0;
    p.isc_a = 6.0;
    p.voc_coefficient_per_k = -0.004;
    p.pmax_coefficient_per_k = -0.004;
    p.max_system_voltage_v = 1000.0;
    p.max_series_fuse_a = 15.0;
    return p;
}

/// Coldest −25 °C: 50 K below STC, so the round panel's Voc is 25 × 1.2 = 30 V and its Vmp 20 × 1.2 = 24 V.
/// Hottest 40 °C, propped up (35 K above the air in full sun): cells at 75 °C, 50 K above STC, so Voc is
/// 25 × 0.8 = 20 V and Vmp 20 × 0.8 = 16 V.
inline Site round_site() {
    Site s;
    s.coldest_air = Celsius{-25.0};
    s.hottest_air = Celsius{40.0};
    s.mounting = Mounting::propped_up;
    return s;
}

/// The same free maximum in every weather, held by the input as it is.
inline ConditionPoints same_points(double voltage_v, double current_a) {
    ConditionPoints points;
    for (std::size_t c = 0; c < condition_count; ++c) {
        ConditionPoint& p = points[c];
        p.id = static_cast<ConditionId>(c);
        p.operating.none = physics::NoPoint::held;
        p.operating.point = {voltage_v, current_a};
        p.operating.free_maximum = {voltage_v, current_a};
        p.operating.hand_rule_w = voltage_v * current_a;
        p.open_circuit_v = 1.25 * voltage_v;
        p.short_circuit_a = 1.2 * current_a;
    }
    return points;
}

inline ConditionPoint& at(ConditionPoints& points, ConditionId id) { return points[static_cast<std::size_t>(id)]; }

/// A curve for every kind, as the program makes them; none where a test only says of a panel what it is about, and no
/// curve fits that: then the datasheet's lines are left.
inline std::vector<physics::FittedPanel> curves_of(const Setup& setup) {
    std::vector<physics::FittedPanel> curves;
    for (const PanelKind& kind : setup.kinds) {
        const std::optional<physics::FittedPanel> fitted = physics::fit_datasheet(kind.panel, setup.curve_method);
        if (!fitted) return {};
        curves.push_back(*fitted);
    }
    return curves;
}

/// A set-up with one wiring an input, on which a rule can be tried.
struct Trial {
    Setup setup;
    ArrayPlan plan;
    std::vector<ConditionPoints> points;

    /// One kind of panel, one wide-range input of 100 V and nothing else stated, 1s1p.
    Trial() {
        PanelKind kind;
        kind.id = "round";
        kind.panel = round_panel();
        kind.count = 12;
        setup.kinds.push_back(kind);
        setup.site = round_site();
        setup.controller.inputs.emplace_back();
        input().name = "PV1";
        input().max_voltage_v = 100.0;
        plan.emplace_back();
        points.push_back(same_points(20.0, 5.0));
        wire(1, 1);
    }

    Panel& panel(std::size_t kind = 0) { return setup.kinds[kind].panel; }
    Input& input(std::size_t i = 0) { return setup.controller.inputs[i]; }
    Controller& controller() { return setup.controller; }
    Site& site() { return setup.site; }

    Trial& wire(int in_series, int in_parallel, std::size_t input_index = 0) {
        plan[input_index] = written_out({0, in_series, in_parallel});
        return *this;
    }
    Trial& one_limit_a(double limit_a) {
        input().bands = {{0.0, 100.0, limit_a}};
        return *this;
    }
    std::size_t add_kind(const std::string& id, const Panel& p) {
        PanelKind kind;
        kind.id = id;
        kind.panel = p;
        kind.count = 12;
        setup.kinds.push_back(kind);
        return setup.kinds.size() - 1;
    }
    void add_input(const ConditionPoints& at_it) {
        setup.controller.inputs.push_back(setup.controller.inputs.front());
        plan.push_back(plan.front());
        points.push_back(at_it);
    }

    template <class F>
    auto with_situation(F f) const {
        std::vector<WiredInput> wired;
        for (std::size_t i = 0; i < plan.size(); ++i) wired.push_back({i, &plan[i], &points[i]});
        const std::vector<physics::FittedPanel> curves = curves_of(setup);
        const Situation situation{setup, wired.front(), wired, curves};
        return f(situation);
    }
    Findings check(std::string_view id) const {
        const Rule* rule = rule_named(id);
        REQUIRE(rule != nullptr);
        return with_situation([&](const Situation& s) {
            Findings out;
            rule->check(s, out);
            return out;
        });
    }
    Finding only(std::string_view id) const {
        const Findings found = check(id);
        REQUIRE(found.size() == 1);
        return found.front();
    }
    Words say(std::string_view id, const Finding& f) const {
        const Rule* rule = rule_named(id);
        REQUIRE(rule != nullptr);
        return with_situation([&](const Situation& s) { return words_of(*rule, s, f, cures_of(*rule, s, f)); });
    }
    Cures cures(std::string_view id, const Finding& f) const {
        const Rule* rule = rule_named(id);
        REQUIRE(rule != nullptr);
        return with_situation([&](const Situation& s) { return cures_of(*rule, s, f); });
    }
    Condition condition(std::string_view id, const Finding& f) const {
        const Rule* rule = rule_named(id);
        REQUIRE(rule != nullptr);
        REQUIRE(rule->condition != nullptr);
        return with_situation([&](const Situation& s) { return rule->condition(s, f); });
    }
    std::string because(std::string_view id, const Finding& f) const { return say(id, f).because; }
    std::string instead(std::string_view id, const Finding& f) const { return say(id, f).instead; }
};

/// A string of panels of the given kinds, in full light.
inline SeriesString string_of(std::initializer_list<std::size_t> kinds) {
    SeriesString s;
    for (const std::size_t kind : kinds) s.panels.push_back({kind, {}});
    return s;
}

/// Sums of a few decimal products: exact but for rounding.
inline Approx exactly(double value) { return Approx(value).epsilon(1e-12); }

}  // namespace plait::rules
