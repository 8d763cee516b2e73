// What a file says of a controller, before anything is assumed.
#pragma once

#include "quantity/fields.hpp"

#include <optional>
#include <span>
#include <vector>

namespace plait::input {

struct RawBand {
    Place at;
    std::optional<Measure> from, to, current;
};

struct RawInput {
    Place at;
    std::optional<Text> name;
    std::optional<Measure> max_voltage, tracking_min, tracking_max, start_voltage;
    std::optional<Measure> max_current, max_power, max_short_circuit_current, max_array_power, plug_rating;
    std::optional<Word> over_current;
    std::vector<RawBand> bands;
    std::optional<Place> bands_at;
    bool clean = true;  // every key was read without complaint
};

struct RawBattery {
    Place at;
    std::optional<Measure> min_voltage, nominal_voltage, max_voltage, max_charge_current;
};

struct RawController {
    Place at;
    std::optional<Text> name;
    std::optional<Word> type;
    std::optional<Measure> running_headroom, starting_headroom, drop, efficiency, max_total_power, price;
    std::optional<RawBattery> battery;
    bool has_battery_key = false;  // true even if it was read with complaints
    std::vector<RawInput> inputs;
};

[[nodiscard]] std::span<const Field<RawController>> controller_fields();
[[nodiscard]] std::span<const Field<RawBattery>> battery_fields();
[[nodiscard]] std::span<const Field<RawInput>> input_fields();
[[nodiscard]] std::span<const Field<RawBand>> band_fields();

/// The key that only a set-up's [controller] has, in place of the others.
[[nodiscard]] const Spec& controller_file_spec();

[[nodiscard]] RawController read_raw_controller(const FileNotes& notes, const Table& table, Place at);

}  // namespace plait::input
