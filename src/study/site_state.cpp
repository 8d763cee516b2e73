#include <plait/study/site_state.hpp>

#include <algorithm>
#include <array>
#include <cassert>

namespace plait::study {
namespace {

using C = Condition;
using R = Reading;

// What an action needs and what is read in it. An array of its own for each, because a span needs one to look at.
constexpr std::array strings_apart{C::strings_apart};
constexpr std::array controller_needs{C::not_charging, C::off_input};
constexpr std::array input_cable_needs{C::joint_open, C::no_cable_at_input, C::battery_not_live};
constexpr std::array battery_cable_needs{C::battery_apart, C::not_charging};
constexpr std::array battery_fuse_out{C::battery_fuse_out};
constexpr std::array battery_fuse_needs{C::battery_fuse_out, C::battery_polarity_read, C::off_input};
constexpr std::array plug_together_needs{C::covered, C::strings_apart, C::joint_open};
constexpr std::array close_middle_needs{C::covered, C::strings_in_parts, C::joint_open};
constexpr std::array covered{C::covered};
constexpr std::array lit{C::lit};
constexpr std::array read_strings_needs{C::lit, C::strings_whole, C::joint_open};
constexpr std::array join_needs{C::covered,          C::strings_whole, C::joint_open,
                                C::string_fuses_out, C::strings_read,  C::off_input};
constexpr std::array first_fuse_needs{C::covered, C::joined, C::string_fuses_out, C::strings_read, C::off_input};
constexpr std::array across_needs{C::lit, C::joined, C::first_fuse_in, C::off_input};
constexpr std::array other_fuses_needs{C::joined, C::first_fuse_in, C::strings_read, C::holders_read, C::off_input};
constexpr std::array read_array_needs{C::lit, C::joined, C::string_fuses_in, C::off_input};
constexpr std::array close_needs{C::joined,       C::array_read,     C::battery_ready,
                                 C::not_charging, C::cable_at_input, C::off_input};
constexpr std::array plug_in_needs{C::covered,       C::joined,       C::array_read,       C::string_fuses_in,
                                   C::battery_ready, C::not_charging, C::no_cable_at_input};
constexpr std::array charge_needs{C::lit, C::on_input, C::battery_ready};
constexpr std::array in_use_needs{C::lit, C::on_input};
constexpr std::array on_input{C::on_input};
constexpr std::array open_needs{C::on_input, C::not_charging};
constexpr std::array no_current_needs{C::covered, C::not_charging};
constexpr std::array unplug_needs{C::covered, C::on_input, C::currentless, C::not_charging};
constexpr std::array fuses_out_needs{C::covered, C::string_fuses_in, C::currentless, C::off_input};
constexpr std::array part_joint_needs{C::covered, C::joined, C::string_fuses_out, C::currentless, C::off_input};
constexpr std::array part_strings_needs{C::covered, C::strings_whole, C::joint_open};
constexpr std::array battery_out_needs{C::off_input, C::not_charging};
constexpr std::array loosen_battery_needs{C::battery_fuse_out, C::off_input};
constexpr std::array no_voltage_needs{C::joint_open, C::battery_not_live};
constexpr std::array loosen_input_needs{C::joint_open, C::battery_not_live, C::cable_at_input};

constexpr std::array read_one_by_one{R::polarity, R::open_circuit_voltage, R::string_against_string};
constexpr std::array read_whole{R::polarity, R::open_circuit_voltage};
constexpr std::array read_holders{R::across_holders};
constexpr std::array read_battery{R::battery_polarity};
constexpr std::array read_in_use{R::display, R::string_currents};
constexpr std::array read_no_current{R::no_current};
constexpr std::array read_no_voltage{R::no_voltage};

using A = Action;
using P = Place;
constexpr Contact none = Contact::none;
constexpr Contact insulated = Contact::insulated;
constexpr Contact probes = Contact::probes;
constexpr Contact bare = Contact::bare;

constexpr std::array records{
    ActionRecord{A::stop, "stop", P::nowhere, none, {}, {}},
    ActionRecord{A::set_up_controller, "controller", P::nowhere, none, controller_needs, {}},
    ActionRecord{A::bond_frames, "bond-frames", P::frames, bare, strings_apart, {}},
    ActionRecord{A::lay_out, "lay-out", P::panel_plugs, insulated, strings_apart, {}},
    ActionRecord{A::fasten_input_cable, "input-cable", P::input_cable, bare, input_cable_needs, {}},
    ActionRecord{A::fasten_battery_cable, "battery-cable", P::battery_poles, bare, battery_cable_needs, {}},
    ActionRecord{A::read_battery, "read-battery", P::battery_poles, probes, battery_fuse_out, read_battery},
    ActionRecord{A::battery_fuse_in, "battery-fuse", P::battery_poles, insulated, battery_fuse_needs, {}},
    ActionRecord{A::close_all_but_middle, "plug-together", P::panel_plugs, insulated, plug_together_needs, {}},
    ActionRecord{A::close_middle, "close-middle", P::panel_plugs, insulated, close_middle_needs, {}},
    ActionRecord{A::close_strings, "close-strings", P::panel_plugs, insulated, plug_together_needs, {}},
    ActionRecord{A::uncover, "uncover", P::panels, none, covered, {}},
    ActionRecord{A::cover, "cover", P::panels, none, lit, {}},
    ActionRecord{A::read_strings, "read-strings", P::string_ends, probes, read_strings_needs, read_one_by_one},
    ActionRecord{A::join, "join", P::string_ends, insulated, join_needs, {}},
    ActionRecord{A::first_fuse_in, "first-fuse", P::fuse_holders, insulated, first_fuse_needs, {}},
    ActionRecord{A::read_across_holders, "read-holders", P::fuse_holders, probes, across_needs, read_holders},
    ActionRecord{A::other_fuses_in, "other-fuses", P::fuse_holders, insulated, other_fuses_needs, {}},
    ActionRecord{A::read_array, "read-array", P::array_side, probes, read_array_needs, read_whole},
    ActionRecord{A::close_disconnect, "close-disconnect", P::disconnect_handle, insulated, close_needs, {}},
    ActionRecord{A::plug_into_input, "plug-in", P::array_side, insulated, plug_in_needs, {}},
    ActionRecord{A::let_charge, "let-charge", P::nowhere, none, charge_needs, {}},
    ActionRecord{A::watch, "watch", P::nowhere, none, in_use_needs, read_in_use},
    ActionRecord{A::stop_charging, "stop-charging", P::nowhere, none, on_input, {}},
    ActionRecord{A::open_disconnect, "open-disconnect", P::disconnect_handle, insulated, open_needs, {}},
    ActionRecord{A::read_no_current, "no-current", P::array_side, insulated, no_current_needs, read_no_current},
    ActionRecord{A::unplug_from_input, "unplug", P::array_side, insulated, unplug_needs, {}},
    ActionRecord{A::fuses_out, "fuses-out", P::fuse_holders, insulated, fuses_out_needs, {}},
    ActionRecord{A::part_joint, "part-joint", P::string_ends, insulated, part_joint_needs, {}},
    ActionRecord{A::part_strings, "part-strings", P::panel_plugs, insulated, part_strings_needs, {}},
    ActionRecord{A::battery_fuse_out, "battery-fuse-out", P::battery_poles, insulated, battery_out_needs, {}},
    ActionRecord{A::loosen_battery_cable, "battery-cable-off", P::battery_poles, bare, loosen_battery_needs, {}},
    ActionRecord{A::read_no_voltage, "no-voltage", P::input_cable, probes, no_voltage_needs, read_no_voltage},
    ActionRecord{A::loosen_input_cable, "input-cable-off", P::input_cable, bare, loosen_input_needs, {}},
};
static_assert(records.size() == action_count);

// In two parts, the larger first: where a string is 3 panels long, 2 and 1.
struct Parts {
    double highest_v = 0.0;
    double whole_v = 0.0;
};

Parts parts_of_string(const rules::StatedArray& stated, const SeriesString& string) {
    const auto half = static_cast<std::ptrdiff_t>((string.panels.size() + 1) / 2);
    const SeriesString first{{string.panels.begin(), string.panels.begin() + half}, false};
    const SeriesString second{{string.panels.begin() + half, string.panels.end()}, false};
    const double first_v = highest_voltage_v(stated, first);
    const double second_v = highest_voltage_v(stated, second);
    return {std::max(first_v, second_v), first_v + second_v};
}

double within_strings_v(const rules::StatedArray& stated, const InputWiring& wiring, Strings strings) {
    double highest_v = 0.0;
    for (const SeriesString& string : wiring.strings) {
        const Parts parts = parts_of_string(stated, string);
        if (strings == Strings::whole) highest_v = std::max(highest_v, parts.whole_v);
        if (strings == Strings::in_parts) highest_v = std::max(highest_v, parts.highest_v);
        if (strings != Strings::apart) continue;
        for (const PanelPlace& place : string.panels) {
            highest_v = std::max(highest_v, highest_voltage_v(stated, SeriesString{{place}, false}));
        }
    }
    return highest_v;
}

// Between the ends of two strings that share a pole, one of them the wrong way round.
double one_reversed_v(const rules::StatedArray& stated, const InputWiring& wiring) {
    double highest_v = 0.0;
    double second_v = 0.0;
    for (const SeriesString& string : wiring.strings) {
        const double v = highest_voltage_v(stated, string);
        second_v = std::max(second_v, std::min(v, highest_v));
        highest_v = std::max(highest_v, v);
    }
    return highest_v + second_v;
}

std::optional<double> live(double v) { return v > 0.0 ? std::optional(v) : std::nullopt; }

}  // namespace

const ActionRecord& record_of(Action action) {
    const ActionRecord& record = records[static_cast<std::size_t>(action)];
    assert(record.action == action);
    return record;
}

bool holds(Condition condition, const SiteState& site, std::size_t input) {
    const InputState& in = site.inputs[input];
    switch (condition) {
        case C::covered:
            return in.light == Light::covered;
        case C::lit:
            return in.light == Light::lit;
        case C::strings_apart:
            return in.strings == Strings::apart;
        case C::strings_in_parts:
            return in.strings == Strings::in_parts;
        case C::strings_whole:
            return in.strings == Strings::whole;
        case C::joint_open:
            return in.joint == Joint::open;
        case C::joined:
            return in.joint == Joint::joined;
        case C::string_fuses_out:
            return in.fuses == StringFuses::out || in.fuses == StringFuses::not_fitted;
        case C::first_fuse_in:
            return in.fuses == StringFuses::one_in;
        case C::string_fuses_in:
            return in.fuses == StringFuses::in || in.fuses == StringFuses::not_fitted;
        case C::off_input:
            return !in.array_on_input();
        case C::on_input:
            return in.array_on_input();
        case C::strings_read:
            return in.strings_read || in.string_count == 1;
        case C::holders_read:
            return in.holders_read;
        case C::array_read:
            return in.array_read;
        case C::currentless:
            return in.known_currentless;
        case C::no_cable_at_input:
            return !in.cable_at_input;
        case C::cable_at_input:
            return in.cable_at_input;
        case C::battery_apart:
            return site.battery == BatteryLink::apart;
        case C::battery_fuse_out:
            return site.battery == BatteryLink::fuse_out;
        case C::battery_not_live:
            return site.battery != BatteryLink::fuse_in;
        case C::battery_ready:
            return site.battery == BatteryLink::none || site.battery == BatteryLink::fuse_in;
        case C::battery_polarity_read:
            return site.battery_read;
        case C::not_charging:
            return !site.charging;
    }
    return false;
}

SiteState after(Action action, SiteState site, std::size_t input) {
    InputState& in = site.inputs[input];
    switch (action) {
        case A::stop:
        case A::set_up_controller:
        case A::bond_frames:
        case A::watch:
        case A::read_no_voltage:
            break;
        case A::lay_out:
        case A::cover:
            in.light = Light::covered;
            break;
        case A::uncover:
            in.light = Light::lit;
            in.known_currentless = false;
            break;
        case A::fasten_input_cable:
        case A::plug_into_input:
            in.cable_at_input = true;
            break;
        case A::unplug_from_input:
        case A::loosen_input_cable:
            in.cable_at_input = false;
            break;
        case A::fasten_battery_cable:
        case A::battery_fuse_out:
            site.battery = BatteryLink::fuse_out;
            break;
        case A::read_battery:
            site.battery_read = true;
            break;
        case A::battery_fuse_in:
            site.battery = BatteryLink::fuse_in;
            break;
        case A::loosen_battery_cable:
            site.battery = BatteryLink::apart;
            site.battery_read = false;
            break;
        case A::close_all_but_middle:
            in.strings = Strings::in_parts;
            break;
        case A::close_middle:
        case A::close_strings:
            in.strings = Strings::whole;
            break;
        case A::part_strings:
            in.strings = Strings::apart;
            in.strings_read = false;
            break;
        case A::read_strings:
            in.strings_read = true;
            break;
        case A::join:
            in.joint = Joint::joined;
            break;
        case A::part_joint:
            in.joint = Joint::open;
            in.holders_read = false;
            in.array_read = false;
            in.known_currentless = false;
            break;
        case A::first_fuse_in:
            in.fuses = StringFuses::one_in;
            break;
        case A::read_across_holders:
            in.holders_read = true;
            break;
        case A::other_fuses_in:
            in.fuses = StringFuses::in;
            break;
        case A::fuses_out:
            in.fuses = StringFuses::out;
            break;
        case A::read_array:
            in.array_read = true;
            break;
        case A::close_disconnect:
            in.disconnect = Disconnect::closed;
            break;
        case A::open_disconnect:
            in.disconnect = Disconnect::open;
            break;
        case A::let_charge:
            site.charging = true;
            break;
        case A::stop_charging:
            site.charging = false;
            break;
        case A::read_no_current:
            in.known_currentless = true;
            break;
    }
    return site;
}

std::optional<double> voltage_at_v(Place place, const SiteState& site, std::size_t input, const Setup& setup,
                                   const Judgement& judgement) {
    const InputState& in = site.inputs[input];
    const InputWiring& wiring = judgement.inputs[input].wiring;
    const rules::StatedArray stated{setup, judgement.curves};
    const double battery_v = site.battery == BatteryLink::none ? 0.0 : setup.controller.battery->max_voltage_v;
    const double back_v = site.battery == BatteryLink::fuse_in ? battery_v : 0.0;
    const double strings_v = within_strings_v(stated, wiring, in.strings);
    // A fuse that is out opens one pole; the other still hangs on the strings.
    const double joined_v = in.joint == Joint::joined ? strings_v : 0.0;
    const bool through = in.cable_at_input && in.disconnect != Disconnect::open;
    switch (place) {
        case Place::frames:
            return std::nullopt;
        case Place::panels:
        case Place::panel_plugs:
        case Place::string_ends:
            return live(std::max(strings_v, in.joint == Joint::joined && through ? back_v : 0.0));
        case Place::fuse_holders:
            if (joined_v > 0.0 && !in.holders_read) return live(one_reversed_v(stated, wiring));
            return live(std::max(joined_v, through ? back_v : 0.0));
        case Place::array_side:
            return live(std::max(joined_v, through ? back_v : 0.0));
        case Place::nowhere:
        case Place::disconnect_handle:
        case Place::input_cable:
            return live(std::max(joined_v, back_v));
        case Place::battery_poles:
            return live(battery_v);
    }
    return std::nullopt;
}

}  // namespace plait::study
