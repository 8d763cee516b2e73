#include <plait/input/read_controller.hpp>

#include "controller_fields.hpp"
#include "controller_from.hpp"
#include "quantity/input_limits.hpp"

#include <fmt/core.h>

#include <algorithm>

namespace plait::input {
namespace {

constexpr double running_headroom_v = 1.0;  // common practice: start 5 V above the battery, go on 1 V above it
constexpr double starting_headroom_v = 5.0;
constexpr double direct_connect_drop_v = 0.5;

class ControllerReading {
public:
    ControllerReading(const RawController& raw, const FileNotes& notes) : raw_(raw), notes_(notes) {
        controller_.name = raw.name ? raw.name->value : "controller";
    }

    // `clean`: nothing was complained of while the keys were read.
    std::optional<Controller> run(bool clean) {
        const std::size_t before = notes_.complaint_count();
        type();
        battery();
        if (raw_.efficiency) controller_.efficiency_ratio = raw_.efficiency->value;
        // It turns a charge current into a limit of array power; without a battery there is nothing to turn.
        if (!raw_.efficiency && controller_.battery && controller_.type != ControllerType::direct_connect) {
            assume(Quantity::controller_efficiency, "efficiency", "100 %",
                   "not stated; gives the lowest power limit from the battery side");
        }
        if (raw_.max_total_power) controller_.max_total_power_w = raw_.max_total_power->value;
        if (raw_.price) controller_.price = raw_.price->value;
        inputs(clean && notes_.complaint_count() == before);
        if (!clean || notes_.complaint_count() != before) return std::nullopt;
        return std::move(controller_);
    }

private:
    void assume(Quantity quantity, std::string what, std::string value, std::string why,
                Figure figure = Figure::only) {
        notes_.assume({quantity, std::nullopt, std::nullopt, fmt::format("controller '{}'", controller_.name),
                       std::move(what), std::move(value), std::move(why), figure});
    }

    void only_for(ControllerType type, const std::optional<Measure>& given, std::string_view key) {
        if (!raw_.type || !given || controller_.type == type) return;
        notes_.complain(given->at,
                        fmt::format("'{}' is only for type = \"{}\", but this one is \"{}\". Delete the line, or "
                                    "change the type.",
                                    key, name_of(type), name_of(controller_.type)));
    }

    void headroom(const std::optional<Measure>& given, double fall_back_v, std::string_view what, double& member,
                  Figure figure) {
        member = given ? given->value : fall_back_v;
        if (given) return;
        assume(Quantity::controller_headroom, std::string(what), fmt::format("{} V", plain(fall_back_v)),
               "not stated; common for controllers of this type", figure);
    }

    void type() {
        if (!raw_.type) return;
        controller_.type = static_cast<ControllerType>(raw_.type->index);
        only_for(ControllerType::step_down, raw_.running_headroom, "running_headroom");
        only_for(ControllerType::step_down, raw_.starting_headroom, "starting_headroom");
        only_for(ControllerType::direct_connect, raw_.drop, "drop");
        if (controller_.type == ControllerType::step_down) {
            headroom(raw_.running_headroom, running_headroom_v, "running headroom", controller_.running_headroom_v,
                     Figure::running);
            headroom(raw_.starting_headroom, starting_headroom_v, "starting headroom", controller_.starting_headroom_v,
                     Figure::starting);
            if (raw_.starting_headroom && controller_.starting_headroom_v < controller_.running_headroom_v) {
                notes_.doubt(
                    raw_.starting_headroom->at,
                    fmt::format("'starting_headroom' is {}, below the running headroom of {} V. Check that they are "
                                "not swapped.",
                                raw_.starting_headroom->written, plain(controller_.running_headroom_v)));
            }
        }
        if (controller_.type == ControllerType::direct_connect) {
            headroom(raw_.drop, direct_connect_drop_v, "drop to the battery", controller_.direct_connect_drop_v,
                     Figure::only);
        }
        if (controller_.type != ControllerType::wide_range && !raw_.has_battery_key) {
            notes_.complain(raw_.at,
                            fmt::format("a {} controller works by the battery's voltage, but no battery is given. "
                                        "Add [controller.battery] ([battery] in a controller file) with min_voltage "
                                        "and max_voltage.",
                                        name_of(controller_.type)));
        }
    }

    void battery() {
        if (!raw_.battery || !raw_.battery->min_voltage || !raw_.battery->max_voltage) return;
        const RawBattery& given = *raw_.battery;
        Battery battery;
        battery.min_voltage_v = given.min_voltage->value;
        battery.max_voltage_v = given.max_voltage->value;
        if (battery.min_voltage_v >= battery.max_voltage_v) {
            notes_.complain(
                given.min_voltage->at,
                fmt::format("the battery's 'min_voltage' is {}, not below its 'max_voltage' {}. Write the empty "
                            "battery's voltage as min_voltage, the highest charging voltage as max_voltage.",
                            given.min_voltage->written, given.max_voltage->written));
            return;
        }
        if (given.nominal_voltage) {
            battery.nominal_voltage_v = given.nominal_voltage->value;
            if (battery.nominal_voltage_v < battery.min_voltage_v ||
                battery.nominal_voltage_v > battery.max_voltage_v) {
                notes_.complain(given.nominal_voltage->at,
                                fmt::format("the battery's 'nominal_voltage' is {}, outside its 'min_voltage' {} and "
                                            "'max_voltage' {}. Check the three.",
                                            given.nominal_voltage->written, given.min_voltage->written,
                                            given.max_voltage->written));
            }
        } else {
            battery.nominal_voltage_v = 0.5 * (battery.min_voltage_v + battery.max_voltage_v);
            assume(Quantity::battery_voltage, "nominal battery voltage",
                   fmt::format("{} V", plain(battery.nominal_voltage_v)),
                   "not stated; midway between the lowest and the highest");
        }
        if (given.max_charge_current) battery.max_charge_current_a = given.max_charge_current->value;
        controller_.battery = battery;
    }

    void inputs(bool rest_is_sound) {
        std::vector<std::string> names;
        for (std::size_t i = 0; i < raw_.inputs.size(); ++i) {
            const RawInput& input = raw_.inputs[i];
            const std::string name = input.name ? input.name->value : fmt::format("PV{}", i + 1);
            const Place at = input.name ? input.name->at : input.at;
            if (name.find_first_of(";=|+") != std::string::npos) {
                notes_.complain(
                    at, fmt::format("the input's name is {}; the signs ; = | + part the wirings on one line. Name "
                                    "it without them.",
                                    quoted(name)));
            }
            if (std::find(names.begin(), names.end(), name) != names.end()) {
                notes_.complain(at, fmt::format("two inputs are called {}. Give each a name of its own.", named(name)));
            }
            names.push_back(name);
            const std::size_t before = notes_.complaint_count();
            check_input(input, notes_);
            if (!rest_is_sound || !input.clean || notes_.complaint_count() != before) continue;
            controller_.inputs.push_back(completed_input(input, i, name, controller_, notes_));
        }
    }

    const RawController& raw_;
    const FileNotes& notes_;
    Controller controller_;
};

}  // namespace

std::optional<Controller> controller_from(const FileNotes& notes, const Table& table, Place at) {
    const std::size_t before = notes.complaint_count();
    const RawController raw = read_raw_controller(notes, table, at);
    return ControllerReading(raw, notes).run(notes.complaint_count() == before);
}

std::optional<Controller> controller_from_file(const FileNotes& notes, std::string_view text) {
    const auto table = parse_document(text, notes);
    if (!table) return std::nullopt;
    for (const std::string_view key : {"controller", "panel", "site", "wiring"}) {
        const Entry* entry = find(*table, key);
        if (entry == nullptr) continue;
        notes.complain(entry->at,
                       fmt::format("{} makes this a whole set-up, but a controller file was wanted. A controller "
                                   "file has the keys of [controller] at top level, [battery] and [[input]].",
                                   named(key)));
        return std::nullopt;
    }
    constexpr Place top{1, 1};
    const std::size_t before = notes.complaint_count();
    Specs known;
    // What a controller costs is the set-up's business.
    for (const Spec* spec : specs_of(controller_fields())) {
        if (spec->key != "price") known.push_back(spec);
    }
    check_keys(notes, *table, top, "a controller file", known);
    auto controller = controller_from(notes, *table, top);
    return notes.complaint_count() == before ? std::move(controller) : std::nullopt;
}

Result<ControllerFile> read_controller(std::string_view text, const std::string& file) {
    Notes notes;
    auto controller = controller_from_file(FileNotes(file, notes), text);
    if (!controller) return Failure{in_order(std::move(notes.complaints))};
    return ControllerFile{std::move(*controller), std::move(notes.assumptions), std::move(notes.doubts)};
}

}  // namespace plait::input
