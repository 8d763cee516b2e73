// The rules' round set-up, with real curves behind it.
#pragma once

#include "../rules/situation.hpp"

#include <plait/search/arrangement.hpp>
#include <plait/study/judgement.hpp>
#include <plait/study/panel_sheet.hpp>

namespace plait::study {

using rules::exactly;
using rules::Outcome;
using rules::Trial;

/// Round panels (30 V open on the coldest morning; 20 V open and 16 V at work on the hottest day) on one input of 100 V
/// that tracks 30 to 100 V, starts at 35 V and never clips what a dozen panels give.
inline Trial roomy_trial() {
    Trial t;
    t.input().tracking_min_v = 30.0;
    t.input().tracking_max_v = 100.0;
    t.input().start_voltage_v = 35.0;
    t.one_limit_a(100.0);
    t.input().max_power_w = 5000.0;
    t.input().max_short_circuit_a = 100.0;
    t.input().over_current = OverCurrent::only_clips;
    return t;
}

/// Ten metres of a cable that matters, thick enough for any rule about its current.
inline Cable resisting_cable(CableRun run, double ohm_per_m) {
    Cable c;
    c.name = "cable";
    c.run = run;
    c.size = {50.0, std::nullopt};
    c.length_m = 10.0;
    c.resistance_ohm_per_m = ohm_per_m;
    return c;
}

inline Judgement judged(const Trial& t) { return judge(SystemModel(t.setup), t.plan); }

/// The deciding verdict of a rule on the first used input.
inline const RuleVerdict& deciding(const Judgement& j, std::string_view rule) {
    for (const RuleVerdict& v : j.inputs.at(0).verdicts) {
        if (v.rule->id == rule && v.finding.decides) return v;
    }
    FAIL("the rule has no deciding finding: " << rule);
    return j.inputs.front().verdicts.front();
}

}  // namespace plait::study
