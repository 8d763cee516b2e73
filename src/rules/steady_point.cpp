// An input can only work where the array's curve passes through its window. Where it does not, the array either never
// reaches the window or gives more current than the input takes everywhere in it, and leaves it at the top.
#include "rules.hpp"
#include "words.hpp"

#include <plait/physics/acceptance_window.hpp>

namespace plait::rules {
namespace {

constexpr std::array<std::string_view, 2> tests{"reaches-window", "held-inside"};
constexpr std::array<std::string_view, 2> sources{
    "the array's curve against the input's stated window",
    "the array's curve against the input's stated window: a point off the curve cannot be held"};
constexpr std::array rests{Quantity::panel_vmp, Quantity::panel_imp, Quantity::panel_voc, Quantity::panel_isc,
                           Quantity::input_tracking_range};

// The weather in which there is no point, the most ordinary first.
const ConditionPoint* first_without(const Situation& s) {
    for (const ConditionId id :
         {ConditionId::warm_bright, ConditionId::hot_bright, ConditionId::stc, ConditionId::cold_bright}) {
        const ConditionPoint& p = s.points()[static_cast<std::size_t>(id)];
        if (!p.operating.held() && p.operating.none != physics::NoPoint::dark) return &p;
    }
    return nullptr;
}

void check(const Situation& s, Findings& out) {
    const ConditionPoint* p = first_without(s);
    if (p == nullptr) return;
    const physics::AcceptanceWindow window = physics::window_of(s.controller(), s.input());
    Finding f;
    f.outcome = Outcome::falls_short;
    f.even_at_worst = true;
    if (p->operating.none == physics::NoPoint::too_low) {
        f.value = p->open_circuit_v;
        f.limit = physics::pinned_voltage_v(s.controller()).value_or(window.low_v);
        f.sense = Sense::at_least;
    } else {
        f.test = 1;
        f.value = p->open_circuit_v;
        f.limit = window.high_v;
    }
    f.spread = Interval(f.value);
    out.push_back(f);
}

Words say(const Situation& s, const Finding& f) {
    const ConditionPoint* p = first_without(s);
    const std::string_view weather = p != nullptr ? when(p->id) : "At work";
    Words w;
    if (f.test == 0) {
        w.because = fmt::format("{}, the array's open-circuit voltage is {}; the input works from {} up.", weather,
                                volts(f.value), volts(f.limit));
        w.instead = "Put more panels in series, if the cold allows it.";
    } else {
        w.because = fmt::format(
            "{}, the array gives more than the input takes everywhere up to {}: the voltage "
            "leaves the window at the top and the input stops or keeps tripping.",
            weather, volts(f.limit));
        w.instead = "Use fewer strings in parallel, or fewer panels, so that some point of the curve fits.";
    }
    return w;
}

}  // namespace

constinit const Rule steady_point{
    .id = "steady-point",
    .title = "A point the input can hold",
    .harm = "the input takes nothing, or starts and stops all day",
    .tests = tests,
    .sources = sources,
    .rests_on = rests,
    .asks_curves = true,
    .check = &check,
    .say = &say,
};

}  // namespace plait::rules
