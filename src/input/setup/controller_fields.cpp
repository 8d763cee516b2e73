#include "controller_fields.hpp"

#include <plait/model/controller.hpp>

#include <fmt/core.h>

#include <array>

namespace plait::input {
namespace {

constexpr std::size_t most_inputs = 20;
constexpr std::size_t most_bands = 50;

constexpr auto type_words = texts_of(controller_type_names);
// "unsaid" is what a missing key means; it is not written.
constexpr auto over_current_words = first_texts<2>(over_current_names);

// Common practice: start 5 V above the battery, go on 1 V above it.
constexpr std::string_view usual_headroom = "not stated; common for controllers of this type";

using C = Field<RawController>;
constexpr std::array controller_table{
    C{{.key = "name",
       .kind = Kind::text,
       .meaning = "what reports call the controller or power station",
       .if_missing = "\"controller\"",
       .limits = {1, 80}},
      &RawController::name},
    C{{.key = "type",
       .kind = Kind::word,
       .meaning =
           "`step-down` works above the battery's voltage, `step-up` below it, `wide-range` (most power stations) "
           "anywhere in its range, `direct-connect` (PWM) at it",
       .words = type_words,
       .required = true},
      &RawController::type},
    C{{.key = "running_headroom",
       .kind = Kind::voltage,
       .meaning = "step-down: how far above the battery the array must stay",
       .fall_back = FallBack{1.0, Quantity::controller_headroom, "running headroom", usual_headroom, false,
                             Figure::running},
       .limits = {0, 30}},
      &RawController::running_headroom},
    C{{.key = "starting_headroom",
       .kind = Kind::voltage,
       .meaning = "step-down: how far above the battery the array must be to begin",
       .fall_back = FallBack{5.0, Quantity::controller_headroom, "starting headroom", usual_headroom, false,
                             Figure::starting},
       .limits = {0, 50}},
      &RawController::starting_headroom},
    C{{.key = "drop",
       .kind = Kind::voltage,
       .meaning = "direct-connect: panel above battery while charging",
       .fall_back = FallBack{0.5, Quantity::controller_headroom, "drop to the battery", usual_headroom},
       .limits = {0, 5}},
      &RawController::drop},
    C{{.key = "efficiency",
       .kind = Kind::percentage,
       .meaning = "battery watts over array watts",
       .if_missing = "the lowest power limit; counts where there is a battery",
       .fall_back = FallBack{1.0, Quantity::controller_efficiency, "efficiency",
                             "not stated; gives the lowest power limit from the battery side"},
       .limits = {0.5, 1.0}},
      &RawController::efficiency},
    C{{.key = "max_total_power",
       .kind = Kind::power,
       .meaning = "shared by all inputs",
       .if_missing = "no shared limit",
       .limits = {1, 1e6}},
      &RawController::max_total_power},
    C{{.key = "price",
       .kind = Kind::money,
       .meaning = "of the controller",
       .if_missing = "not counted",
       .limits = {0.01, 1e7}},
      &RawController::price},
    C{{.key = "battery",
       .kind = Kind::by_hand,
       .meaning = "the battery behind it",
       .if_missing = "none; required for step-down, step-up and direct-connect",
       .form = "[controller.battery]"},
      {}},
    C{{.key = "input",
       .kind = Kind::by_hand,
       .meaning = "its solar inputs",
       .if_missing = "at least one",
       .form = "[[controller.input]] tables ([[input]] in a controller file) with the limits of each",
       .required = true},
      {}},
};

using B = Field<RawBattery>;
constexpr std::array battery_table{
    B{{.key = "min_voltage",
       .kind = Kind::voltage,
       .meaning = "the lowest it is run down to",
       .limits = {1, 1000},
       .required = true},
      &RawBattery::min_voltage},
    B{{.key = "nominal_voltage",
       .kind = Kind::voltage,
       .meaning = "in everyday use",
       .if_missing = "midway between the two others, assumed",
       .limits = {1, 1000}},
      &RawBattery::nominal_voltage},
    B{{.key = "max_voltage",
       .kind = Kind::voltage,
       .meaning = "the highest charging voltage",
       .limits = {1, 1000},
       .required = true},
      &RawBattery::max_voltage},
    B{{.key = "max_charge_current",
       .kind = Kind::current,
       .meaning = "the most the controller puts into the battery",
       .if_missing = "no limit",
       .limits = {0.1, 2000}},
      &RawBattery::max_charge_current},
};

using I = Field<RawInput>;
constexpr std::array input_table{
    I{{.key = "name",
       .kind = Kind::text,
       .meaning = "unique; what wirings call the input",
       .if_missing = "\"PV1\", \"PV2\" …",
       .limits = {1, 40}},
      &RawInput::name},
    I{{.key = "max_voltage",
       .kind = Kind::voltage,
       .meaning = "absolute maximum, open circuit, ever",
       .if_missing = "not known: the input is read, but no wiring can be called within",
       .limits = {1, 3000}},
      &RawInput::max_voltage},
    I{{.key = "tracking_min",
       .kind = Kind::voltage,
       .meaning = "lowest voltage at which the input draws power",
       .if_missing = "step-down: battery maximum plus running headroom; else `start_voltage`; assumed. Not needed for "
                     "direct-connect",
       .limits = {0, 3000}},
      &RawInput::tracking_min},
    I{{.key = "tracking_max",
       .kind = Kind::voltage,
       .meaning = "highest voltage at which it does",
       .if_missing = "`max_voltage`, assumed; one of the two is required, except for direct-connect",
       .limits = {1, 3000}},
      &RawInput::tracking_max},
    I{{.key = "start_voltage",
       .kind = Kind::voltage,
       .meaning = "what it needs to wake up",
       .if_missing = "not stated",
       .limits = {0.1, 3000}},
      &RawInput::start_voltage},
    I{{.key = "max_current",
       .kind = Kind::current,
       .meaning = "the current limit, where it is one number",
       .if_missing = "none stated, which is listed as assumed",
       .limits = {0.1, 1000}},
      &RawInput::max_current},
    I{{.key = "bands",
       .kind = Kind::by_hand,
       .meaning = "instead of `max_current`: the limit by voltage, rising",
       .if_missing = "see `max_current`",
       .form = "bands = [ { from = \"11 V\", to = \"24 V\", current = \"8 A\" }, … ]"},
      {}},
    I{{.key = "max_power",
       .kind = Kind::power,
       .meaning = "the most it takes",
       .if_missing = "no limit of its own",
       .limits = {1, 1e6}},
      &RawInput::max_power},
    I{{.key = "max_short_circuit_current",
       .kind = Kind::current,
       .meaning = "the most the array may deliver into a short circuit, where the manual says so",
       .if_missing = "not stated",
       .limits = {0.1, 1000}},
      &RawInput::max_short_circuit_current},
    I{{.key = "max_array_power",
       .kind = Kind::power,
       .meaning = "the most watts of panels the manual allows",
       .if_missing = "not stated",
       .limits = {1, 1e6}},
      &RawInput::max_array_power},
    I{{.key = "plug_rating",
       .kind = Kind::current,
       .meaning = "current rating of the plug or terminal the array goes into, where it is stated",
       .if_missing = "not stated",
       .limits = {0.5, 1000}},
      &RawInput::plug_rating},
    I{{.key = "over_current",
       .kind = Kind::word,
       .meaning = "what the manual says of an array that could give more than the current or power limit",
       .if_missing = "unsaid: whatever rests on it is not proven",
       .words = over_current_words},
      &RawInput::over_current},
};

using K = Field<RawBand>;
constexpr std::array band_table{
    K{{.key = "from",
       .kind = Kind::voltage,
       .meaning = "lower edge",
       .limits = {0, 3000},
       .required = true},
      &RawBand::from},
    K{{.key = "to",
       .kind = Kind::voltage,
       .meaning = "upper edge",
       .limits = {0.1, 3000},
       .required = true},
      &RawBand::to},
    K{{.key = "current",
       .kind = Kind::current,
       .meaning = "the limit between the two",
       .limits = {0.1, 1000},
       .required = true},
      &RawBand::current},
};

constexpr Spec file_spec{.key = "file",
                         .kind = Kind::text,
                         .meaning = "a controller file, relative to this one; then only `price` may stand beside it",
                         .if_missing = "the controller's keys stand here",
                         .limits = {1, 400}};

constexpr std::string_view how_bands = "Write bands = [ { from = \"11 V\", to = \"24 V\", current = \"8 A\" }, … ]";
constexpr std::string_view how_inputs =
    "Write each input under [[controller.input]] with double brackets ([[input]] in a controller file)";

void read_bands(const FileNotes& notes, const Entry& entry, RawInput& input) {
    input.bands_at = entry.value.at;
    const List* list = read_list(notes, entry, how_bands);
    if (list == nullptr) return;
    if (list->empty() || list->size() > most_bands) {
        notes.complain(
            entry.value.at, Complaint::how_many,
            fmt::format("'bands' lists {} bands; 1 to {} are read. {}.", list->size(), most_bands, how_bands));
        return;
    }
    for (const Node& node : *list) {
        const auto* table = node.as<Table>();
        if (table == nullptr) {
            notes.complain(node.at, Complaint::wrong_type,
                           fmt::format("a band is {}. {}.", type_name(node), how_bands));
            continue;
        }
        check_keys(notes, *table, node.at, "a band", specs_of(band_fields()));
        RawBand band;
        band.at = node.at;
        read_fields(notes, *table, band_fields(), band);
        input.bands.push_back(std::move(band));
    }
}

RawInput read_raw_input(const FileNotes& notes, const Table& table, Place at) {
    const std::size_t before = notes.complaint_count();
    check_keys(notes, table, at, "[[controller.input]]", specs_of(input_fields()));
    RawInput input;
    input.at = at;
    read_fields(notes, table, input_fields(), input);
    if (const Entry* bands = find(table, "bands")) read_bands(notes, *bands, input);
    input.clean = notes.complaint_count() == before;
    return input;
}

void read_inputs(const FileNotes& notes, const Entry& entry, RawController& controller) {
    const List* list = read_list(notes, entry, how_inputs);
    if (list == nullptr) return;
    if (list->empty() || list->size() > most_inputs) {
        notes.complain(
            entry.at, Complaint::how_many,
            fmt::format("{} inputs are listed; 1 to {} are read. {}.", list->size(), most_inputs, how_inputs));
        return;
    }
    for (const Node& node : *list) {
        if (const auto* table = node.as<Table>()) {
            controller.inputs.push_back(read_raw_input(notes, *table, node.at));
        } else {
            notes.complain(node.at, Complaint::wrong_type,
                           fmt::format("an input is {}. {}.", type_name(node), how_inputs));
        }
    }
}

}  // namespace

std::span<const Field<RawController>> controller_fields() { return controller_table; }
std::span<const Field<RawBattery>> battery_fields() { return battery_table; }
std::span<const Field<RawInput>> input_fields() { return input_table; }
std::span<const Field<RawBand>> band_fields() { return band_table; }
const Spec& controller_file_spec() { return file_spec; }

RawController read_raw_controller(const FileNotes& notes, const Table& table, Place at) {
    RawController controller;
    controller.at = at;
    read_fields(notes, table, controller_fields(), controller);
    if (const Entry* entry = find(table, "battery")) {
        controller.has_battery_key = true;
        if (const Table* battery = read_table(notes, *entry, "Write its keys under [controller.battery]")) {
            check_keys(notes, *battery, entry->value.at, "[controller.battery]", specs_of(battery_fields()));
            controller.battery.emplace();
            controller.battery->at = entry->value.at;
            read_fields(notes, *battery, battery_fields(), *controller.battery);
        }
    }
    if (const Entry* entry = find(table, "input")) read_inputs(notes, *entry, controller);
    return controller;
}

}  // namespace plait::input
