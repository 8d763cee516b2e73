// Each leg of a branch connector carries its own string, the common leg all of them, the plug at the input what the
// input draws. Where no rating is stated that of the connector's class is taken, and said only if it is passed.
#include "rules.hpp"
#include "words.hpp"

#include <plait/rules/connector_figures.hpp>
#include <plait/rules/cure_search.hpp>

namespace plait::rules {
namespace {

enum Test { leg, common, plug, plug_in_a_fault };
constexpr std::array<std::string_view, 4> tests{"leg", "common-leg", "plug", "plug-in-a-fault"};
constexpr std::array<std::string_view, 4> sources{
    "IEC 62852 and UL 6703, the connector's marked current; 1.25 × Isc by NEC 690.8(A)(1) and IEC 62548-1:2023",
    "the branch connector's marked current against 1.25 × the sum of its strings' Isc",
    "controller manual, the plug's rating, against what the input draws",
    "controller manual, the plug's rating, against 1.25 × Isc, which flows if the input fails as a short circuit"};
constexpr std::array rests{Quantity::panel_isc};  // the 1.25 holds every tolerance of the label

void check(const Situation& s, Findings& out) {
    const ConnectorFigures c = connector_figures(s);
    const auto hold = [&](Test test, const ConnectorLoad& load) {
        if (!load.rating_a) return;
        Finding f = at_most(load.current_a, Interval(load.current_a), *load.rating_a, Unit::ampere,
                            load.assumed ? Outcome::needs : Outcome::exceeds);
        f.test = test;
        f.decides = test != plug_in_a_fault;
        if (load.assumed && f.outcome == Outcome::within) return;
        out.push_back(f);
    };
    hold(leg, c.leg);
    if (s.wiring().strings.size() >= 2) hold(common, c.common);
    hold(plug, c.plug);
    hold(plug_in_a_fault, {c.plug_fault_a, c.plug.rating_a, false});
}

Words say(const Situation& s, const Finding& f) {
    const ConnectorFigures c = connector_figures(s);
    Words w;
    switch (f.test) {
        case leg:
            w.because = fmt::format("Each string's connectors carry up to {}; they are {} {}.", amps(f.value),
                                    c.leg.assumed ? "taken to be of the class of" : "rated", amps(f.limit));
            break;
        case common:
            w.because = fmt::format("Behind the joint of {} flow up to {}; the branch connector's common leg is {} {}.",
                                    counted(s.wiring().strings.size(), "string", "strings"), amps(f.value),
                                    c.common.assumed ? "taken to be of the class of" : "rated", amps(f.limit));
            break;
        case plug:
            w.because =
                fmt::format("Through the input's plug flow up to {}; it is rated {}.", amps(f.value), amps(f.limit));
            break;
        default:
            w.because = fmt::format("If the input failed as a short circuit, {} would flow through its plug, rated {}.",
                                    amps(f.value), amps(f.limit));
    }
    return w;
}

Condition condition(const Situation& s, const Finding& f) {
    return {f.test == common ? ConditionKind::branch_connectors : ConditionKind::connectors, 0, f.value, {}, s.here.input};
}

void cure(const Situation& s, const Finding& f, Cures& out) {
    Cure cure;
    cure.rating_a = f.value;
    switch (f.test) {
        case leg:
            cure.kind = CureKind::connectors;
            out.push_back(cure);
            return;
        case common:
            cure.kind = CureKind::branch_connectors;
            out.push_back(cure);
            return;
        case plug:
            add_fewer_strings(s, connector_rating, f, out);
            return;
        default:
            return;
    }
}

}  // namespace

constinit const Rule connector_rating{
    .id = "connector-rating",
    .title = "Current in the connectors",
    .harm = "plugs overheat and melt",
    .tests = tests,
    .sources = sources,
    .rests_on = rests,
    .check = &check,
    .say = &say,
    .condition = &condition,
    .cure = &cure,
};

}  // namespace plait::rules
