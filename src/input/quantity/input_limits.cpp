#include "input_limits.hpp"

#include <fmt/core.h>

#include <limits>

namespace plait::input {
namespace {

constexpr double most_volts = 3000.0;  // no larger maximum is read

void check_range(const RawInput& raw, const FileNotes& notes) {
    if (raw.tracking_min && raw.tracking_max && raw.tracking_min->value >= raw.tracking_max->value) {
        notes.complain(
            raw.tracking_min->at, Complaint::disagreement,
            fmt::format("'tracking_min' is {}, not below 'tracking_max' {}. Write the lower end of the range as "
                        "tracking_min and the upper as tracking_max.",
                        raw.tracking_min->written, raw.tracking_max->written));
    }
    if (!raw.max_voltage) return;
    const double max_v = raw.max_voltage->value;
    if (raw.tracking_max && raw.tracking_max->value > max_v) {
        notes.complain(
            raw.tracking_max->at, Complaint::disagreement,
            fmt::format("'tracking_max' is {}, above 'max_voltage' {}. The absolute maximum is the higher of the "
                        "two in the manual.",
                        raw.tracking_max->written, raw.max_voltage->written));
    }
    if (raw.tracking_min && !raw.tracking_max && raw.tracking_min->value >= max_v) {
        notes.complain(raw.tracking_min->at, Complaint::disagreement,
                       fmt::format("'tracking_min' is {}, not below 'max_voltage' {}. Look both up in "
                                   "the manual.",
                                   raw.tracking_min->written, raw.max_voltage->written));
    }
    if (raw.start_voltage && raw.start_voltage->value >= max_v) {
        notes.complain(raw.start_voltage->at, Complaint::disagreement,
                       fmt::format("'start_voltage' is {}, not below 'max_voltage' {}. Look both up in the manual.",
                                   raw.start_voltage->written, raw.max_voltage->written));
    }
}

void check_bands(const RawInput& raw, const FileNotes& notes) {
    if (raw.max_current && raw.bands_at) {
        notes.complain(*raw.bands_at, Complaint::without_effect,
                       "'bands' stands beside 'max_current'. Keep max_current if the limit is one number, "
                       "bands if it changes with the voltage.");
    }
    const RawBand* below = nullptr;
    for (const RawBand& band : raw.bands) {
        if (band.from && band.to && band.from->value >= band.to->value) {
            notes.complain(band.from->at, Complaint::disagreement,
                           fmt::format("this band goes from {} to {}. Write the lower edge as from.",
                                       band.from->written, band.to->written));
        }
        // A band that touches its neighbour is what manuals print: 11-24 V, 24-60 V.
        if (below != nullptr && below->to && band.from && band.from->value < below->to->value) {
            notes.complain(band.from->at, Complaint::disagreement,
                           fmt::format("this band begins at {}, below the end {} of the one before it. List "
                                       "the bands from low to high, without overlap.",
                                       band.from->written, below->to->written));
        }
        if (raw.max_voltage && band.to && band.to->value > raw.max_voltage->value) {
            notes.complain(band.to->at, Complaint::disagreement,
                           fmt::format("this band ends at {}, above 'max_voltage' {}. End it there.", band.to->written,
                                       raw.max_voltage->written));
        }
        below = &band;
    }
}

void doubt_limits(const RawInput& raw, const FileNotes& notes) {
    const auto unusual = [&](const std::optional<Measure>& less, std::string_view less_key,
                             const std::optional<Measure>& more, std::string_view more_key) {
        if (!less || !more || less->value >= more->value) return;
        notes.doubt(less->at,
                    fmt::format("'{}' is {}, below '{}' {}. It is usually the larger one; check that they are not "
                                "swapped.",
                                less_key, less->written, more_key, more->written));
    };
    unusual(raw.max_short_circuit_current, "max_short_circuit_current", raw.max_current, "max_current");
    unusual(raw.max_array_power, "max_array_power", raw.max_power, "max_power");
}

class InputCompletion {
public:
    InputCompletion(const RawInput& raw, std::size_t index, const std::string& name, const Controller& controller,
                    const FileNotes& notes)
        : raw_(raw), index_(index), controller_(controller), notes_(notes) {
        input_.name = name;
    }

    Input run() {
        if (raw_.max_voltage) {
            input_.max_voltage_v = raw_.max_voltage->value;
        } else {
            assume(Quantity::input_max_voltage, "absolute maximum voltage", "not known",
                   "not stated, so no wiring can be called within. Ask the maker for the highest open-circuit voltage "
                   "the input may ever see");
        }
        if (raw_.start_voltage) input_.start_voltage_v = raw_.start_voltage->value;
        // A direct-connect input follows the battery; it has no range of its own unless the manual gives one.
        const bool tracks = controller_.type != ControllerType::direct_connect;
        if (raw_.tracking_max) input_.tracking_max_v = raw_.tracking_max->value;
        if (raw_.tracking_min) input_.tracking_min_v = raw_.tracking_min->value;
        if (tracks && !raw_.tracking_max) upper_end();
        if (tracks && !raw_.tracking_min) lower_end();
        currents();
        if (raw_.max_power) input_.max_power_w = raw_.max_power->value;
        if (raw_.max_short_circuit_current) input_.max_short_circuit_a = raw_.max_short_circuit_current->value;
        if (raw_.max_array_power) input_.max_array_power_w = raw_.max_array_power->value;
        if (raw_.plug_rating) input_.plug_rating_a = raw_.plug_rating->value;
        if (raw_.over_current) {
            input_.over_current = over_current_names[raw_.over_current->index].value;
        }
        over_limit();
        return std::move(input_);
    }

private:
    void assume(Quantity quantity, std::string what, std::string value, std::string why,
                Figure figure = Figure::only) {
        notes_.assume({quantity, std::nullopt, index_, fmt::format("input '{}'", input_.name), std::move(what),
                       std::move(value), std::move(why), figure});
    }

    void upper_end() {
        if (!input_.max_voltage_v) {
            notes_.complain(raw_.at, Complaint::missing,
                            fmt::format("input {} has neither 'max_voltage' nor 'tracking_max', so there is no voltage "
                                        "to hold an array against. Add max_voltage from the manual.",
                                        named(input_.name)));
            input_.tracking_max_v = std::numeric_limits<double>::infinity();
            return;
        }
        input_.tracking_max_v = input_.max_voltage_v;
        assume(Quantity::input_tracking_range, "upper end of the tracking range",
               fmt::format("{} V", plain(*input_.max_voltage_v)), "not stated; the absolute maximum",
               Figure::upper_end);
    }

    void lower_end() {
        std::string why;
        if (controller_.type == ControllerType::step_down && controller_.battery) {
            input_.tracking_min_v = controller_.battery->max_voltage_v + controller_.running_headroom_v;
            why = "not stated; the battery's highest voltage plus the running headroom";
        } else if (input_.start_voltage_v) {
            input_.tracking_min_v = input_.start_voltage_v;
            why = "not stated; the start voltage";
        } else {
            notes_.complain(raw_.at, Complaint::missing,
                            fmt::format("input {} has neither 'tracking_min' nor 'start_voltage', so the voltage "
                                        "from which it draws power is not known. Add tracking_min from the manual.",
                                        named(input_.name)));
            return;
        }
        if (*input_.tracking_min_v >= *input_.tracking_max_v) {
            notes_.complain(
                raw_.at, Complaint::missing,
                fmt::format("input {} has no 'tracking_min', and the {} V that would be assumed ({}) is "
                            "not below {} V, the upper end of its range. Add tracking_min, or correct "
                            "the voltages.",
                            named(input_.name), plain(*input_.tracking_min_v), why, plain(*input_.tracking_max_v)));
            return;
        }
        assume(Quantity::input_tracking_range, "lower end of the tracking range",
               fmt::format("{} V", plain(*input_.tracking_min_v)), why, Figure::lower_end);
    }

    void currents() {
        for (const RawBand& band : raw_.bands) {
            input_.bands.push_back({band.from->value, band.to->value, band.current->value});
        }
        if (raw_.max_current) {
            const double top_v = input_.max_voltage_v.value_or(input_.tracking_max_v.value_or(most_volts));
            input_.bands.push_back({0.0, top_v, raw_.max_current->value});
        }
        if (input_.bands.empty()) {
            assume(Quantity::input_current_limit, "current limit", "none",
                   "not stated; only the voltage and power limits are checked. Look for it in the manual");
        }
    }

    // What an array above its limits does to the input is the maker's to say. A direct-connect controller takes
    // whatever comes: its limits are ratings whatever the manual says.
    void over_limit() {
        const std::optional<Battery>& battery = controller_.battery;
        const bool limits_power = input_.max_power_w || controller_.max_total_power_w ||
                                  (battery && battery->max_charge_current_a);
        if (controller_.type == ControllerType::direct_connect) return;
        if (input_.over_current == OverCurrent::unsaid && (!input_.bands.empty() || limits_power)) {
            assume(Quantity::input_over_limit, "an array above the input's limits", "only clips",
                   "not stated; most tracking inputs simply take less, but some makers forbid it. Ask the maker, and write "
                   "over_current");
        }
        if (input_.over_current == OverCurrent::not_permitted && limits_power && !input_.max_array_power_w) {
            assume(Quantity::input_over_limit, "an array above the power limit", "only clips",
                   "the manual forbids more current; of watts the file does not say. Ask the maker for the largest array, "
                   "and write max_array_power");
        }
    }

    const RawInput& raw_;
    std::size_t index_;
    const Controller& controller_;
    const FileNotes& notes_;
    Input input_;
};

}  // namespace

void check_input(const RawInput& raw, const FileNotes& notes) {
    check_range(raw, notes);
    check_bands(raw, notes);
    doubt_limits(raw, notes);
}

Input completed_input(const RawInput& raw, std::size_t index, const std::string& name, const Controller& controller,
                      const FileNotes& notes) {
    return InputCompletion(raw, index, name, controller, notes).run();
}

}  // namespace plait::input
