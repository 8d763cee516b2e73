// From the controller to the battery: a cable that carries the charge current for hours, and a fuse close to the
// battery that carries it too and blows before the cable is harmed. The battery can drive thousands of amperes.
#include "cable_cures.hpp"
#include "cable_words.hpp"
#include "rules.hpp"

#include <plait/rules/array_figures.hpp>
#include <plait/rules/cable_figures.hpp>

#include <algorithm>

namespace plait::rules {
namespace {

enum Test { nec, iec, drop, fuse_least, fuse_cable };
constexpr std::array<std::string_view, 5> tests{"NEC", "IEC", "drop", "fuse-least", "fuse-cable"};
constexpr std::array<std::string_view, 5> sources{
    "NEC table 310.16 and 110.14(C): 1.25 × the charge current in the terminals' column, once the current where it lies. "
    "Article 690 ends at the controller: 706.30 governs permanent storage above 60 V DC and 1 kWh, Article 480 what is "
    "smaller, 551 and 552 vehicles",
    "IEC 60364-5-52 tables B.52.2 to B.52.14 [from memory], 70 °C and 90 °C insulation; EN 50618 is for PV cable alone",
    "common practice, no source: as little as on the array's side",
    "1.25 × the charge current, continuous duty (NEC 706.30 and 706.31 for permanent storage above 60 V DC and 1 kWh, "
    "Article 480 below [from memory])",
    "NEC 240.4(B) and (D), the next standard size above the ampacity, which is no more than the terminals' (110.14(C)); "
    "IEC 60364-4-43 [from memory], the ampacity"};
// The charge current, and beyond it what each test looks at.
constexpr std::array of_cable{Quantity::panel_isc, Quantity::panel_pmax, Quantity::battery_voltage,
                              Quantity::controller_efficiency, Quantity::cable_surroundings};
constexpr std::array of_drop{Quantity::panel_isc,        Quantity::panel_pmax,
                             Quantity::battery_voltage,  Quantity::controller_efficiency,
                             Quantity::cable_resistance, Quantity::drop_target};
constexpr std::array of_charge{Quantity::panel_isc, Quantity::panel_pmax, Quantity::battery_voltage,
                               Quantity::controller_efficiency};
constexpr std::array of_surroundings{Quantity::cable_surroundings};
constexpr std::array<std::span<const Quantity>, 5> tests_rest{of_cable, of_cable, of_drop, of_charge, of_surroundings};

// What a cable may carry, by one code; 0 where the table has no value.
double ampacity_a(const CableFigures& f, Test by) {
    // In the terminals' column the current counts as one that flows for hours.
    if (by == nec && f.nec && f.nec->terminal_a && f.nec->corrected_a) {
        return std::min(*f.nec->terminal_a / continuous_duty_factor, *f.nec->corrected_a);
    }
    return by == iec && f.iec ? f.iec->corrected_a.value_or(0.0) : 0.0;
}

// The cable for which a figure is least; there must be one.
template <class Measure>
const CableFigures& least_by(const std::vector<CableFigures>& all, Measure measure) {
    return *std::min_element(all.begin(), all.end(),
                             [&](const CableFigures& a, const CableFigures& b) { return measure(a) < measure(b); });
}
const CableFigures& weakest(const std::vector<CableFigures>& all, Test by) {
    return least_by(all, [&](const CableFigures& f) { return ampacity_a(f, by); });
}
const CableFigures& least_fused(const Situation& s, const std::vector<CableFigures>& all) {
    return least_by(all, [&](const CableFigures& f) { return fuse_ceiling_a(f, s.site().code); });
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
        add(nec,
            at_most(charge_a, Interval(charge_a), ampacity_a(weakest(all, nec), nec), Unit::ampere, Outcome::exceeds),
            s.site().code != Code::iec);
        add(iec,
            at_most(charge_a, Interval(charge_a), ampacity_a(weakest(all, iec), iec), Unit::ampere, Outcome::exceeds),
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
            add(fuse_cable, at_most(*fuse_a, Interval(*fuse_a), fuse_ceiling_a(least_fused(s, all), s.site().code),
                                    Unit::ampere, Outcome::exceeds));
        }
    }
}

Words cable_words(const Situation& s, const Finding& f, const std::vector<CableFigures>& all) {
    const CableFigures& cable = weakest(all, f.test == nec ? nec : iec);
    const std::string name = cable_text(s.setup.cables[cable.cable]);
    Words w;
    w.because =
        f.limit > 0.0
            ? fmt::format("The {} carries {} for hours; where it lies it may carry {}.", name, amps(f.value),
                          amps(f.limit))
            : fmt::format("The {} carries {} for hours; so thin, or where it lies, the table has no value for it.",
                          name, amps(f.value));
    if (f.outcome == Outcome::exceeds && !(f.test == nec ? cable.smallest_by_nec : cable.smallest_by_iec)) {
        w.instead =
            "No size of the table is enough: lay two in parallel, or lay it cooler, by a licensed person's advice.";
    }
    return w;
}

Words drop_words(const Situation& s, const Finding& f) {
    Words w;
    w.because =
        fmt::format("From controller to battery {} stay in the cable; {} ({:.1f} % of the battery's) is wanted.",
                    volts(f.value), volts(f.limit), 100.0 * s.setup.drop_target_ratio);
    if (f.outcome == Outcome::clips) w.instead = "Moving the controller closer to the battery does it too.";
    return w;
}

// A standard fuse that carries the charge current for hours and still guards the cable; nothing where there is none.
std::optional<double> suiting_fuse_a(const Situation& s) {
    const std::optional<BatteryCurrent> current = battery_current(s);
    if (!current || !current->fuse_a) return std::nullopt;
    const std::vector<CableFigures> all = battery_cable_figures(s);
    const bool guards = all.empty() || *current->fuse_a <= fuse_ceiling_a(least_fused(s, all), s.site().code);
    return guards ? current->fuse_a : std::nullopt;
}

Words fuse_least_words(const Situation& s, const Finding& f) {
    Words w;
    w.because =
        fmt::format("The fuse at the battery is {}; to carry the charge current for hours it must be {} or more.",
                    amps(f.value), amps(f.limit));
    if (f.outcome == Outcome::needs && !suiting_fuse_a(s)) {
        w.instead = "No standard size does that and guards the cable: use a thicker cable and a larger fuse.";
    }
    return w;
}

Words say(const Situation& s, const Finding& f) {
    const std::vector<CableFigures> all = battery_cable_figures(s);
    if (f.test == nec || f.test == iec) return cable_words(s, f, all);
    if (f.test == drop) return drop_words(s, f);
    if (f.test == fuse_least) return fuse_least_words(s, f);
    Words w;
    w.because = fmt::format("The fuse at the battery is {}; {} is the most that guards the {}.", amps(f.value),
                            amps(f.limit), cable_text(s.setup.cables[least_fused(s, all).cable]));
    if (f.outcome == Outcome::exceeds) w.instead = "A thicker cable does it too.";
    return w;
}

Condition condition(const Situation&, const Finding& f) { return {ConditionKind::battery_fuse, 0, f.limit, {}, {}}; }

void cure(const Situation& s, const Finding& f, Cures& out) {
    const std::vector<CableFigures> all = battery_cable_figures(s);
    if (f.test == drop) {
        add_cures_for_drop(all, out);
        return;
    }
    Cure cure;
    if (f.test == nec || f.test == iec) {
        const CableFigures& cable = weakest(all, f.test == nec ? nec : iec);
        const std::optional<CableSize>& enough = f.test == nec ? cable.smallest_by_nec : cable.smallest_by_iec;
        if (!enough) return;
        cure.kind = CureKind::cable_sizes;
        cure.cables = {{cable.cable, *enough}};
        out.push_back(cure);
    } else if (const std::optional<double> fuse_a = suiting_fuse_a(s)) {
        cure.kind = CureKind::battery_fuse;
        cure.rating_a = *fuse_a;
        out.push_back(cure);
    }
}

}  // namespace

constinit const Rule battery_side{
    .id = "battery-side",
    .title = "Cable and fuse at the battery",
    .harm = "the cable overheats, or a short circuit is not broken",
    .tests = tests,
    .sources = sources,
    .rests_on = {},
    .tests_rest_on = tests_rest,
    .scope = Scope::plan,
    .check = &check,
    .say = &say,
    .condition = &condition,
    .cure = &cure,
};

}  // namespace plait::rules
