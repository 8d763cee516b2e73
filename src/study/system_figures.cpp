#include "figure_record.hpp"

#include <array>
#include <limits>

namespace plait::study {
namespace {

constexpr std::string_view judgement = "judgement: the span of what is sold";
constexpr std::string_view climates = "judgement: the climates people live in";
constexpr std::string_view manual = "in the controller's manual, by its solar input";
constexpr std::string_view support = "in the controller's manual; else its maker's support";
constexpr std::string_view weather = "from the national weather service, for the nearest station";
constexpr std::string_view cable_print = "printed along the cable; for the rest look where it lies";

Ends tracking_end(const Subject& s) {
    const Input& in = s.input();
    if (s.assumption.figure == Figure::upper_end) {
        const Ends ends{0.6 * *in.tracking_max_v, *in.tracking_max_v};
        return in.tracking_min_v ? at_least(ends, 1.05 * *in.tracking_min_v) : ends;
    }
    const double most_v = 0.95 * in.tracking_max_v.value_or(in.max_voltage_v.value_or(std::numeric_limits<double>::infinity()));
    if (s.controller().type == ControllerType::step_down && s.controller().battery) {
        return at_most({s.controller().battery->min_voltage_v + s.controller().running_headroom_v,
                        s.controller().battery->max_voltage_v + s.controller().starting_headroom_v},
                       most_v);
    }
    return at_most({0.7 * *in.tracking_min_v, 1.2 * *in.tracking_min_v}, most_v);
}

Ends headroom(const Subject& s) {
    if (s.assumption.figure == Figure::running) return {0.5, 2.0};
    if (s.assumption.figure == Figure::starting) return {1.0, 7.0};
    return {0.2, 1.0};  // direct-connect: from the panel to the battery
}

double& headroom_of(Controller& controller, Figure figure) {
    if (figure == Figure::running) return controller.running_headroom_v;
    if (figure == Figure::starting) return controller.starting_headroom_v;
    return controller.direct_connect_drop_v;
}

// What an input that says nothing takes at least: plugs of small power stations carry 8 to 13 A.
constexpr double least_limit_a = 8.0;
// Beyond any array.
constexpr double no_limit_a = 1000.0;

void set_current_limit(Input& input, double limit_a) {
    input.bands.clear();
    if (limit_a < no_limit_a) input.bands.push_back({0.0, input.max_voltage_v.value_or(std::numeric_limits<double>::infinity()), limit_a});
}

// An array above the limits does no harm, or it is forbidden: of a silent manual every limit, of one that speaks of amps
// alone the watts.
void set_over_limit(Input& input, bool forbidden) {
    if (input.over_current == OverCurrent::unsaid) {
        input.over_current = forbidden ? OverCurrent::not_permitted : OverCurrent::only_clips;
    }
    if (forbidden && input.max_power_w) input.max_array_power_w = input.max_power_w;
}

// From a short cool cable of plain copper to a hot one of tinned copper, as far as the file leaves it open.
void set_resistance(Cable& cable, bool harder) {
    if (cable.unstated.kind) cable.kind = harder ? ConductorKind::tinned : ConductorKind::plain;
    if (cable.unstated.conductor) cable.conductor = Celsius{harder ? 90.0 : 20.0};
}
void set_surroundings(Cable& cable, bool harder) {
    if (cable.unstated.ambient) cable.ambient = Celsius{harder ? 70.0 : 30.0};
    if (cable.unstated.laying) cable.laying = harder ? Laying::bundled : Laying::free_air;
    if (cable.unstated.insulation) cable.insulation = Celsius{harder ? 75.0 : 90.0};
    if (cable.unstated.terminals) cable.terminals = Celsius{harder ? 60.0 : 75.0};
}

// Only what the file leaves open, at one end.
std::string cable_words(const Subject& s, double v) {
    Cable cable = s.setup.cables[*s.assumption.cable];
    const UnstatedCable& open = cable.unstated;
    std::string text;
    const auto add = [&](bool is_open, const std::string& words) {
        if (is_open) text += (text.empty() ? "" : ", ") + words;
    };
    if (s.assumption.quantity == Quantity::cable_resistance) {
        set_resistance(cable, v > 0.5);
        add(open.kind, std::string(plait::name_of(cable.kind)) + " copper");
        add(open.conductor, "copper at " + in_degrees(cable.conductor.degc));
        return text;
    }
    set_surroundings(cable, v > 0.5);
    add(open.ambient, "air of " + in_degrees(cable.ambient.degc));
    add(open.laying, std::string(plait::name_of(cable.laying)));
    add(open.insulation, in_degrees(cable.insulation.degc) + " insulation");
    add(open.terminals, in_degrees(cable.terminals.degc) + " terminals");
    return text;
}

Input& input_of(Setup& s, const Assumption& a) { return s.controller.inputs[*a.input]; }

using Q = Quantity;
using S = Subject;

constexpr std::array records{
    FigureRecord{Q::input_max_voltage,
                 [](const S& s) {
                     const double worked_v = s.input().tracking_max_v.value_or(0.0);
                     return Ends{worked_v, 1.5 * worked_v};
                 },
                 [](Setup& s, const Assumption& a, double v) { input_of(s, a).max_voltage_v = v; }, in_volts,
                 "from the end of the tracking range to half as much again; judgement", manual},
    FigureRecord{Q::input_tracking_range, &tracking_end,
                 [](Setup& s, const Assumption& a, double v) {
                     Input& in = input_of(s, a);
                     (a.figure == Figure::upper_end ? in.tracking_max_v : in.tracking_min_v) = v;
                 },
                 in_volts, judgement, manual},
    FigureRecord{Q::input_current_limit,
                 [](const S&) {
                     return Ends{least_limit_a, no_limit_a};
                 },
                 [](Setup& s, const Assumption& a, double v) { set_current_limit(input_of(s, a), v); },
                 [](double v) { return v < no_limit_a ? in_amps(v) : std::string("none"); },
                 "plugs of power stations carry 8 to 13 A [from memory]", manual},
    FigureRecord{Q::input_over_limit,
                 [](const S&) {
                     return Ends{0.0, 1.0};
                 },
                 [](Setup& s, const Assumption& a, double v) { set_over_limit(input_of(s, a), v > 0.5); },
                 [](double v) -> std::string { return v > 0.5 ? "forbidden" : "only clips"; },
                 "makers' manuals say the one or the other [from memory]", support},
    FigureRecord{Q::controller_headroom, &headroom,
                 [](Setup& s, const Assumption& a, double v) { headroom_of(s.controller, a.figure) = v; }, in_volts,
                 "makers' manuals: 5 and 1 V, or 2 V, as the manual says [from memory]", support},
    FigureRecord{Q::controller_efficiency,
                 [](const S&) {
                     return Ends{0.90, 1.0};
                 },
                 [](Setup& s, const Assumption&, double v) { s.controller.efficiency_ratio = v; }, in_per_cent,
                 judgement, support},
    FigureRecord{Q::battery_voltage,
                 [](const S& s) {
                     return Ends{s.controller().battery->min_voltage_v, s.controller().battery->max_voltage_v};
                 },
                 [](Setup& s, const Assumption&, double v) { s.controller.battery->nominal_voltage_v = v; }, in_volts,
                 "between its lowest and its highest", "on the battery's label"},
    FigureRecord{Q::site_coldest_air,
                 [](const S&) {
                     return Ends{-40.0, 5.0};
                 },
                 [](Setup& s, const Assumption&, double v) { s.site.coldest_air = Celsius{v}; }, in_degrees, climates,
                 weather},
    FigureRecord{Q::site_hottest_air,
                 [](const S&) {
                     return Ends{28.0, 50.0};
                 },
                 [](Setup& s, const Assumption&, double v) { s.site.hottest_air = Celsius{v}; }, in_degrees, climates,
                 weather},
    FigureRecord{Q::site_warm_air,
                 [](const S&) {
                     return Ends{15.0, 35.0};
                 },
                 [](Setup& s, const Assumption&, double v) { s.site.warm_air = Celsius{v}; }, in_degrees, climates,
                 "yours to choose: the day by which wirings are ranked"},
    FigureRecord{Q::site_mounting,
                 [](const S&) {
                     return Ends{0.0, 1.0};
                 },
                 [](Setup& s, const Assumption&, double v) {
                     s.site.mounting = v < 0.5 ? Mounting::open_rack : Mounting::flat_on_ground;
                 },
                 [](double v) -> std::string {
                     return std::string(name_of(v < 0.5 ? Mounting::open_rack : Mounting::flat_on_ground));
                 },
                 "the coolest and the hottest way to lay a panel", "look: is there air behind the panels?"},
    FigureRecord{Q::site_peak_irradiance,
                 [](const S&) {
                     return Ends{1000.0, 1250.0};
                 },
                 [](Setup& s, const Assumption&, double v) { s.site.peak_irradiance_w_per_m2 = v; }, in_w_per_m2,
                 "the 1.25 of NEC 690.8 and IEC 62548", "from the weather service"},
    FigureRecord{Q::cable_resistance,
                 [](const S&) {
                     return Ends{0.0, 1.0};
                 },
                 [](Setup& s, const Assumption& a, double v) { set_resistance(s.cables[*a.cable], v > 0.5); }, nullptr,
                 "IEC 60228, from 20 to 90 °C", cable_print, &cable_words},
    FigureRecord{Q::cable_surroundings,
                 [](const S&) {
                     return Ends{0.0, 1.0};
                 },
                 [](Setup& s, const Assumption& a, double v) { set_surroundings(s.cables[*a.cable], v > 0.5); },
                 nullptr, "judgement: from a cool cable by itself to a bundle under hot tiles", cable_print,
                 &cable_words},
    FigureRecord{Q::drop_target,
                 [](const S&) {
                     return Ends{0.01, 0.03};
                 },
                 [](Setup& s, const Assumption&, double v) { s.drop_target_ratio = v; }, in_per_cent,
                 "1 to 3 %, common practice, no source", "yours to choose"},
};

}  // namespace

std::span<const FigureRecord> system_figures() { return records; }

}  // namespace plait::study
