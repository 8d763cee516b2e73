// From the controller to the battery: a cable that carries the charge current for hours, and a fuse close to the
// battery that carries it too and blows before the cable is harmed. The battery can drive thousands of amperes.
#include "cable_words.hpp"
#include "rules.hpp"

#include <plait/rules/cable_figures.hpp>

#include <algorithm>
#include <limits>

namespace plait::rules {
namespace {

enum Test { nec, iec, drop, fuse_least, fuse_cable };
constexpr std::array<std::string_view, 5> tests{"NEC", "IEC", "drop", "fuse-least", "fuse-cable"};
constexpr std::array<std::string_view, 5> sources{
    "NEC 690.8(B) and table 310.16: 1.25 × the charge current in the terminals' column, once the current where it lies",
    "EN 50618 tables A.3 and A.4 [from memory]", "common practice, no source: as little as on the array's side",
    "1.25 × the charge current, continuous duty (NEC 690.9(B) [from memory])",
    "NEC 240.4(B) and (D), the next standard size above the ampacity; IEC 60364-4-43 [from memory], the ampacity"};
constexpr std::array rests{Quantity::battery_voltage,  Quantity::controller_efficiency, Quantity::panel_isc,
                           Quantity::cable_resistance, Quantity::cable_surroundings,    Quantity::drop_target};

// The least any of the cables may carry.
double ampacity_a(const std::vector<CableFigures>& all, bool by_nec) {
    double least_a = std::numeric_limits<double>::infinity();
    for (const CableFigures& f : all) {
        double own_a = 0.0;
        // In the terminals' column the current counts 1.25 times.
        if (by_nec && f.nec && f.nec->terminal_a && f.nec->corrected_a) {
            own_a = std::min(*f.nec->terminal_a / 1.25, *f.nec->corrected_a);
        }
        if (!by_nec && f.iec) own_a = f.iec->corrected_a.value_or(0.0);
        least_a = std::min(least_a, own_a);
    }
    return least_a;
}

double fuse_ceiling_of_all_a(const Situation& s, const std::vector<CableFigures>& all) {
    double least_a = std::numeric_limits<double>::infinity();
    for (const CableFigures& f : all) least_a = std::min(least_a, fuse_ceiling_a(f, s.site().code));
    return least_a;
}

void check(const Situation& s, Findings& out) {
    const std::optional<double>& fuse_a = s.setup.fittings.battery_fuse_a;
    const std::optional<BatteryCurrent> current = battery_current(s);
    if (!current || (s.setup.cables.empty() && !fuse_a)) return;
    const std::vector<CableFigures> all = battery_cable_figures(s);
    const auto add = [&](Test test, Finding f, bool decides = true) {
        f.test = test;
        f.decides = decides;
        out.push_back(f);
    };
    const double charge_a = current->charge_a;
    if (!all.empty()) {
        add(nec, at_most(charge_a, Interval(charge_a), ampacity_a(all, true), Unit::ampere, Outcome::exceeds),
            s.site().code != Code::iec);
        add(iec, at_most(charge_a, Interval(charge_a), ampacity_a(all, false), Unit::ampere, Outcome::exceeds),
            s.site().code != Code::nec);
        double drop_v = 0.0;
        for (const CableFigures& f : all) drop_v += f.drop_v;
        add(drop,
            at_most(drop_v, Interval(drop_v), s.setup.drop_target_ratio * s.controller().battery->nominal_voltage_v,
                    Unit::volt, Outcome::clips));
    }
    if (fuse_a) {
        add(fuse_least, at_least(*fuse_a, Interval(*fuse_a), current->fuse_least_a, Unit::ampere, Outcome::needs));
        if (!all.empty()) {
            add(fuse_cable,
                at_most(*fuse_a, Interval(*fuse_a), fuse_ceiling_of_all_a(s, all), Unit::ampere, Outcome::exceeds));
        }
    }
}

std::string thicker(const std::vector<CableFigures>& all, std::optional<CableSize> CableFigures::*smallest) {
    for (const CableFigures& f : all) {
        if (f.*smallest) return fmt::format("Use {} or thicker.", size_text(*(f.*smallest)));
    }
    return "No size of the table is enough: lay two in parallel, or lay it cooler, by a licensed person's advice.";
}

Words say(const Situation& s, const Finding& f) {
    const std::vector<CableFigures> all = battery_cable_figures(s);
    Words w;
    switch (f.test) {
        case nec:
        case iec:
            w.because =
                fmt::format("The battery's cable carries {} for hours; it may carry {}.", amps(f.value), amps(f.limit));
            if (f.outcome == Outcome::exceeds) {
                w.instead =
                    thicker(all, f.test == nec ? &CableFigures::smallest_by_nec : &CableFigures::smallest_by_iec);
            }
            break;
        case drop:
            w.because = fmt::format("The battery's cable takes {}; {} ({:.1f} %) is wanted.", volts(f.value),
                                    volts(f.limit), 100.0 * s.setup.drop_target_ratio);
            if (f.outcome == Outcome::clips)
                w.instead = "Move the controller closer to the battery, or use thicker cable.";
            break;
        case fuse_least:
            w.because = fmt::format(
                "The fuse at the battery is {}; to carry the charge current for hours it must be {} or "
                "more.",
                amps(f.value), amps(f.limit));
            if (f.outcome == Outcome::needs) w.instead = "Fit a larger one that the cable still allows.";
            break;
        default:
            w.because = fmt::format("The fuse at the battery is {}; {} is the most that guards its cable.",
                                    amps(f.value), amps(f.limit));
            if (f.outcome == Outcome::exceeds) w.instead = "Fit a smaller fuse or a thicker cable.";
    }
    return w;
}

}  // namespace

constinit const Rule battery_side{
    .id = "battery-side",
    .title = "Cable and fuse at the battery",
    .harm = "the cable overheats, or a short circuit is not broken",
    .tests = tests,
    .sources = sources,
    .rests_on = rests,
    .scope = Scope::plan,
    .check = &check,
    .say = &say,
};

}  // namespace plait::rules
