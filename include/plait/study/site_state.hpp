// The state of a set-up while it is wired or taken apart, the actions that change it, and what voltage it leaves where
// hands go. The order of work is made of these; a test walks through it.
#pragma once

#include <plait/study/judgement.hpp>

#include <cstddef>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

namespace plait::study {

enum class Light { lit, covered };
/// The plugs within an input's strings.
enum class Strings {
    apart,     ///< every panel by itself
    in_parts,  ///< all but the middle plug of each string closed
    whole,
};
/// The plugs between the strings and what they go into: the joint, or the one cable to the input.
enum class Joint { open, joined };
enum class StringFuses { not_fitted, out, one_in, in };
enum class Disconnect { not_fitted, open, closed };
enum class BatteryLink {
    none,   ///< the set-up names no battery: a power station has its own
    apart,  ///< no cable at the battery
    fuse_out,
    fuse_in,
};

struct InputState {
    std::size_t string_count = 1;
    Light light = Light::lit;
    Strings strings = Strings::apart;
    Joint joint = Joint::open;
    StringFuses fuses = StringFuses::not_fitted;
    Disconnect disconnect = Disconnect::not_fitted;
    /// The cable from the joint, through the disconnect if there is one, is fastened at the input.
    bool cable_at_input = false;
    bool strings_read = false;       ///< polarity and Voc of every string by itself
    bool holders_read = false;       ///< across the open fuse holders
    bool array_read = false;         ///< polarity and Voc of the joined array
    bool known_currentless = false;  ///< somebody has read that no current flows

    /// Whether the array can drive the input.
    [[nodiscard]] bool array_on_input() const {
        return strings == Strings::whole && joint == Joint::joined && fuses != StringFuses::out && cable_at_input &&
               disconnect != Disconnect::open;
    }
};

struct SiteState {
    BatteryLink battery = BatteryLink::none;
    bool battery_read = false;       ///< polarity, at the holder of its fuse
    bool charging = false;           ///< the controller is let to charge
    std::vector<InputState> inputs;  ///< one for each used input of the judgement, in its order
};

/// What a person does. The order of work is a list of these.
enum class Action {
    stop,
    set_up_controller,
    bond_frames,
    lay_out,
    fasten_input_cable,
    fasten_battery_cable,
    read_battery,
    battery_fuse_in,
    close_all_but_middle,
    close_middle,
    close_strings,
    uncover,
    cover,
    read_strings,
    join,
    first_fuse_in,
    read_across_holders,
    other_fuses_in,
    read_array,
    close_disconnect,
    plug_into_input,
    let_charge,
    watch,
    stop_charging,
    open_disconnect,
    read_no_current,
    unplug_from_input,
    fuses_out,
    part_joint,
    part_strings,
    battery_fuse_out,
    loosen_battery_cable,
    read_no_voltage,
    loosen_input_cable,
};
inline constexpr std::size_t action_count = 34;

/// Where hands or probes are.
enum class Place {
    nowhere,      ///< at a switch of the controller, or only looking
    frames,       ///< metal that carries nothing
    panels,       ///< glass and covers, not the plugs
    panel_plugs,  ///< within the strings
    string_ends,  ///< the plugs that go into the joint
    fuse_holders,
    disconnect_handle,
    array_side,   ///< of the disconnect; without one the plug that goes into the input
    input_cable,  ///< from the disconnect to the input, with the terminals at both ends
    battery_poles,
};

enum class Contact {
    none,       ///< eyes, a display, a button
    insulated,  ///< plugs closed around their pins, holders, handles, the jacket of a cable
    probes,     ///< a meter's tips
    bare,       ///< metal that is bare while it is worked on
};

/// What is read with a meter or from the display.
enum class Reading {
    polarity,
    open_circuit_voltage,
    string_against_string,
    across_holders,  ///< about 0 V; twice the string's voltage if one is reversed
    battery_polarity,
    string_currents,
    no_current,
    no_voltage,
    display,
};

/// What has to be so before an action, about its input or, where it is about the whole site, about every input.
enum class Condition {
    covered,
    lit,
    strings_apart,
    strings_in_parts,
    strings_whole,
    joint_open,
    joined,
    string_fuses_out,  ///< or none fitted
    first_fuse_in,
    string_fuses_in,  ///< or none fitted
    off_input,        ///< `array_on_input` is false
    on_input,
    strings_read,  ///< or there is one string: it cannot drive another
    holders_read,
    array_read,
    currentless,
    no_cable_at_input,
    cable_at_input,
    battery_apart,
    battery_fuse_out,
    battery_not_live,  ///< none, apart, or its fuse out
    battery_ready,     ///< none, or its fuse in
    battery_polarity_read,
    not_charging,
};

/// An action as data. What it changes is `after`.
struct ActionRecord {
    Action action;
    std::string_view id;
    Place place;
    Contact contact;
    std::span<const Condition> needs;
    std::span<const Reading> readings;
};
[[nodiscard]] const ActionRecord& record_of(Action action);

/// Whether a condition holds at an input of a site.
[[nodiscard]] bool holds(Condition condition, const SiteState& site, std::size_t input);

/// The site after an action at an input.
[[nodiscard]] SiteState after(Action action, SiteState site, std::size_t input);

/// The highest direct voltage at a place of an input, V: on the coldest morning, at the top of the Voc tolerance; empty
/// when nothing there is live. Covered panels count as lit, since a cover can slip. The input's side counts the battery
/// as soon as its fuse is in: some controllers let it through. `input` counts the judgement's inputs.
[[nodiscard]] std::optional<double> voltage_at_v(Place place, const SiteState& site, std::size_t input,
                                                 const Setup& setup, const Judgement& judgement);

}  // namespace plait::study
