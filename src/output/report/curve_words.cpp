#include "curve_words.hpp"

#include <plait/base/names.hpp>

#include "render/style.hpp"

#include <algorithm>
#include <array>

namespace plait::output {

std::string_view name_of(study::Mark mark) {
    static constexpr Names names{
        Name{study::Mark::short_circuit, "short-circuit"},
        Name{study::Mark::bypass_knee, "bypass-knee"},
        Name{study::Mark::minimum, "minimum"},
        Name{study::Mark::maximum, "maximum"},
        Name{study::Mark::best, "best"},
        Name{study::Mark::in_operation, "in-operation"},
        Name{study::Mark::first_stop, "first-stop"},
        Name{study::Mark::window_edge, "window-edge"},
        Name{study::Mark::open_circuit, "open-circuit"},
    };
    return name_in(names, mark);
}

std::string_view words_of(study::Mark mark) {
    static constexpr Names names{
        Name{study::Mark::short_circuit, "short circuit"},
        Name{study::Mark::bypass_knee, "below: bypass diodes conduct"},
        Name{study::Mark::minimum, "a dip"},
        Name{study::Mark::maximum, "a maximum"},
        Name{study::Mark::best, "the most power"},
        Name{study::Mark::in_operation, "in operation"},
        Name{study::Mark::first_stop, "first stop"},
        Name{study::Mark::window_edge, "window's edge"},
        Name{study::Mark::open_circuit, "open circuit"},
    };
    return name_in(names, mark);
}

bool first_stop_matters(const study::InputCurve& c) {
    return c.first_stop_matters();
}

std::string first_stop_sentence(const study::InputCurve& c) {
    if (!first_stop_matters(c)) return "";
    const physics::PowerPoint& stop = c.first_stop->point;
    const physics::PowerPoint& held = c.operating.point;
    return fmt::format(
        "A tracker that comes down from open circuit meets {} at {} first. If it stays there it loses {} ({}) of "
        "the {} at {}; one that looks over its whole range now and then finds those. The manual should say which it "
        "is.",
        watts(stop.power_w()), volts(stop.voltage_v), watts(c.first_stop_lost_w()),
        per_cent_of(c.first_stop_lost_w(), held.power_w()), watts(held.power_w()), volts(held.voltage_v));
}

std::string binding_words(physics::Binding binding, double limit) {
    switch (binding) {
        case physics::Binding::nothing:
            return "at a maximum of the array's own";
        case physics::Binding::current_limit:
            return "held by the current limit of " + amps(limit);
        case physics::Binding::power_limit:
            return "held by the power limit of " + watts(limit);
        case physics::Binding::window_bottom:
            return "held at the window's bottom, " + volts(limit);
        case physics::Binding::window_top:
            return "held at the window's top, " + volts(limit);
        case physics::Binding::band_edge:
            return "held at a current band's edge, " + volts(limit);
        case physics::Binding::pinned:
            return "pulled to the battery's voltage";
    }
    return "";
}

std::string none_words(physics::NoPoint none) {
    switch (none) {
        case physics::NoPoint::dark:
            return "no light, no power";
        case physics::NoPoint::pushed_out:
            return "no steady point: the array pushes the voltage out of the window";
        case physics::NoPoint::too_low:
            return "nothing: the voltage does not reach the window";
        case physics::NoPoint::held:
            break;
    }
    return "";
}

bool shaded(const InputWiring& wiring) {
    return std::any_of(wiring.strings.begin(), wiring.strings.end(), [](const SeriesString& s) {
        return std::any_of(s.panels.begin(), s.panels.end(), [](const PanelPlace& p) {
            return std::any_of(p.groups.begin(), p.groups.end(),
                               [](const GroupState& g) { return !(g == GroupState{}); });
        });
    });
}

}  // namespace plait::output
