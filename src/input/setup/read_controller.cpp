#include <plait/input/read_controller.hpp>

#include "controller_fields.hpp"
#include "controller_from.hpp"
#include "quantity/input_limits.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <utility>

namespace plait::input {
namespace {

class ControllerReading {
public:
    ControllerReading(RawController raw, const FileNotes& notes) : raw_(std::move(raw)), notes_(notes) {
        controller_.name = raw_.name ? raw_.name->value : "controller";
        subject_.text = fmt::format("controller '{}'", controller_.name);
    }

    // `clean`: nothing was complained of while the keys were read.
    std::optional<Controller> run(bool clean) {
        const std::size_t before = notes_.complaint_count();
        type();
        battery();
        fill_missing(notes_, subject_, controller_fields(), raw_, [&](std::string_view key) { return counts(key); });
        const auto take = [](const std::optional<Measure>& from, double& to) {
            if (from) to = from->value;
        };
        take(raw_.running_headroom, controller_.running_headroom_v);
        take(raw_.starting_headroom, controller_.starting_headroom_v);
        take(raw_.drop, controller_.direct_connect_drop_v);
        take(raw_.efficiency, controller_.efficiency_ratio);
        compare_headrooms();
        if (raw_.max_total_power) controller_.max_total_power_w = raw_.max_total_power->value;
        if (raw_.price) controller_.price = raw_.price->value;
        inputs(clean && notes_.complaint_count() == before);
        if (!clean || notes_.complaint_count() != before) return std::nullopt;
        return std::move(controller_);
    }

private:
    void assume(Quantity quantity, std::string what, std::string value, std::string why) {
        notes_.assume({quantity, std::nullopt, std::nullopt, subject_.text, std::move(what), std::move(value),
                       std::move(why), Figure::only});
    }

    void only_for(ControllerType type, const std::optional<Measure>& given, std::string_view key) {
        if (!raw_.type || !given || controller_.type == type) return;
        notes_.complain(given->at, Complaint::without_effect,
                        fmt::format("'{}' is only for type = \"{}\", but this one is \"{}\". Delete the line, or "
                                    "change the type.",
                                    key, name_of(type), name_of(controller_.type)));
    }

    // Which keys say something of a controller of this type. The efficiency turns a charge current into a limit of array
    // power; without a battery there is nothing to turn.
    [[nodiscard]] bool counts(std::string_view key) const {
        if (!raw_.type) return false;
        if (key == "running_headroom" || key == "starting_headroom") return controller_.type == ControllerType::step_down;
        if (key == "drop") return controller_.type == ControllerType::direct_connect;
        return key == "efficiency" && controller_.battery && controller_.type != ControllerType::direct_connect;
    }

    void compare_headrooms() {
        if (!raw_.running_headroom || !raw_.starting_headroom ||
            raw_.starting_headroom->value >= raw_.running_headroom->value || raw_.starting_headroom->at.line == 0) {
            return;
        }
        notes_.doubt(raw_.starting_headroom->at,
                     fmt::format("'starting_headroom' is {}, below the running headroom of {} V. Check that they are "
                                 "not swapped.",
                                 raw_.starting_headroom->written, plain(controller_.running_headroom_v)));
    }

    void type() {
        if (!raw_.type) return;
        controller_.type = controller_type_names[raw_.type->index].value;
        only_for(ControllerType::step_down, raw_.running_headroom, "running_headroom");
        only_for(ControllerType::step_down, raw_.starting_headroom, "starting_headroom");
        only_for(ControllerType::direct_connect, raw_.drop, "drop");
        if (controller_.type != ControllerType::wide_range && !raw_.has_battery_key) {
            notes_.complain(raw_.at, Complaint::missing,
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
                given.min_voltage->at, Complaint::disagreement,
                fmt::format("the battery's 'min_voltage' is {}, not below its 'max_voltage' {}. Write the empty "
                            "battery's voltage as min_voltage, the highest charging voltage as max_voltage.",
                            given.min_voltage->written, given.max_voltage->written));
            return;
        }
        if (given.nominal_voltage) {
            battery.nominal_voltage_v = given.nominal_voltage->value;
            if (battery.nominal_voltage_v < battery.min_voltage_v ||
                battery.nominal_voltage_v > battery.max_voltage_v) {
                notes_.complain(given.nominal_voltage->at, Complaint::outside_range,
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
                    at, Complaint::unknown_word,
                    fmt::format("the input's name is {}; the signs ; = | + part the wirings on one line. Name "
                                "it without them.",
                                quoted(name)));
            }
            if (std::find(names.begin(), names.end(), name) != names.end()) {
                notes_.complain(at, Complaint::twice,
                                fmt::format("two inputs are called {}. Give each a name of its own.", named(name)));
            }
            names.push_back(name);
            const std::size_t before = notes_.complaint_count();
            check_input(input, notes_);
            if (!rest_is_sound || !input.clean || notes_.complaint_count() != before) continue;
            controller_.inputs.push_back(completed_input(input, i, name, controller_, notes_));
        }
    }

    RawController raw_;
    const FileNotes& notes_;
    Subject subject_;
    Controller controller_;
};

}  // namespace

std::optional<Controller> controller_from(const FileNotes& notes, const Table& table, Place at) {
    const std::size_t before = notes.complaint_count();
    RawController raw = read_raw_controller(notes, table, at);
    return ControllerReading(std::move(raw), notes).run(notes.complaint_count() == before);
}

std::optional<Controller> controller_from_file(const FileNotes& notes, std::string_view text) {
    const auto table = parse_document(text, notes);
    if (!table) return std::nullopt;
    for (const std::string_view key : {"controller", "panel", "site", "wiring"}) {
        const Entry* entry = find(*table, key);
        if (entry == nullptr) continue;
        notes.complain(entry->at, Complaint::wrong_file,
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
