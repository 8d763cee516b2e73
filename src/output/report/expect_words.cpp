#include "expect_words.hpp"

#include <plait/base/names.hpp>

#include "render/style.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace plait::output {
namespace {

bool several_inputs(const measured::FieldModel& model) {
    return std::count_if(model.plan().begin(), model.plan().end(), [](const InputWiring& w) { return !w.empty(); }) > 1;
}

const std::string& input_name(const measured::FieldModel& model, std::size_t input) {
    return model.system().setup().controller.inputs[input].name;
}

std::string per_kelvin(double per_k) { return per_cent(per_k, 2) + "/K"; }

}  // namespace

std::string in_unit(double value, MeterPoint point) {
    return is_power(point) ? watts(value) : is_voltage(point) ? volts(value) : amps(value);
}

std::string_view quantity_of(MeterPoint point) {
    switch (point) {
        case MeterPoint::string_voc:
        case MeterPoint::array_voc:
            return "open voltage";
        case MeterPoint::string_isc:
        case MeterPoint::array_isc:
            return "short-circuit current";
        case MeterPoint::display_v:
            return "voltage";
        case MeterPoint::display_a:
            return "current";
        case MeterPoint::display_w:
            return "power";
    }
    return "";
}

std::string words_of(const measured::FieldModel& model, const ReadingPlace& place) {
    const std::string input = several_inputs(model) ? input_name(model, place.input) + " " : std::string();
    const std::string what = is_of_string(place.point)    ? fmt::format("string {}", place.string + 1)
                             : is_of_display(place.point) ? std::string("display")
                                                          : std::string("array");
    return fmt::format("{}{}, {}", input, what, quantity_of(place.point));
}

std::string where_of(const measured::FieldModel& model, const measured::FaultPlace& place) {
    const Setup& setup = model.system().setup();
    const auto string_words = [&](std::size_t input, std::size_t string) {
        return fmt::format("string {} of {}", string + 1, input_name(model, input));
    };
    std::string out;
    if (place.input) {
        out = place.string ? string_words(*place.input, *place.string)
                           : fmt::format("every string of {}", input_name(model, *place.input));
    }
    if (place.kind && setup.kinds.size() > 1) {
        out += fmt::format("{}panel {}", out.empty() ? "" : ", ", setup.kinds[*place.kind].id);
    }
    if (place.other_kind) out += fmt::format(", with panel {} in its place", setup.kinds[*place.other_kind].id);
    if (place.other_string) {
        out += fmt::format(" and {}", string_words(*place.other_input, *place.other_string));
    } else if (place.other_input) {
        out += fmt::format(", joined to {}", input_name(model, *place.other_input));
    }
    return out.empty() ? "the whole array" : out;
}

std::string amount_of(const measured::FieldModel& model, const measured::Fault& fault,
                      const measured::FaultPlace& place, double amount_factor) {
    const double amount = measured::amount_value(model, fault, place, amount_factor);
    switch (fault.amount) {
        case measured::AmountKind::none:
            return "";
        case measured::AmountKind::light_left:
            return per_cent(amount, 0) + " light";
        case measured::AmountKind::light_factor:
            return fmt::format("{:.0f} W/m²", amount);
        case measured::AmountKind::coefficient_per_k:
            return per_kelvin(amount);
    }
    return "";
}

std::string_view name_of(measured::AmountKind kind) {
    static constexpr Names names{
        Name{measured::AmountKind::none, "none"},
        Name{measured::AmountKind::light_left, "light-left"},
        Name{measured::AmountKind::light_factor, "light-factor"},
        Name{measured::AmountKind::coefficient_per_k, "coefficient-shift-per-k"},
    };
    return name_in(names, kind);
}

std::string_view name_of(measured::StopReason reason) {
    static constexpr Names names{
        Name{measured::StopReason::reversed, "reversed"},
        Name{measured::StopReason::over_maximum, "over-maximum"},
        Name{measured::StopReason::over_maximum_in_cold, "over-maximum-in-cold"},
        Name{measured::StopReason::strings_unlike, "strings-unlike"},
        Name{measured::StopReason::over_short_circuit, "over-short-circuit"},
        Name{measured::StopReason::fault_first, "fault-first"},
    };
    return name_in(names, reason);
}

std::string sentence_of(const measured::FieldModel& model, const measured::Diagnosis& diagnosis,
                        const measured::Stop& stop) {
    const std::string at = words_of(model, stop.place);
    const std::string value = in_unit(stop.value, stop.place.point);
    const std::string limit = in_unit(stop.limit, stop.place.point);
    const std::string& input = input_name(model, stop.place.input);
    switch (stop.reason) {
        case measured::StopReason::reversed:
            return fmt::format(
                "{}: {} has a minus. Either the meter's leads or the array's + and − are swapped. Put the "
                "red lead into the V socket and on the end marked +; if the minus stays, the array is "
                "reversed, and an input can be destroyed by that.",
                at, value);
        case measured::StopReason::over_maximum:
            return fmt::format("{}: {} is more than {} may ever get, {}. Take panels out of the row.", at, value, input,
                               limit);
        case measured::StopReason::over_maximum_in_cold:
            return fmt::format(
                "{}: scaled to the coldest morning this reading becomes {}; {} may never get more than "
                "{}. Take panels out of the row.",
                at, value, input, limit);
        case measured::StopReason::strings_unlike:
            return fmt::format(
                "{}: {} lower than it should be beside {}; up to {} is usual. Joined, the "
                "stronger string drives current back through the weaker. Find the fault before you join "
                "them.",
                at, per_cent(stop.value), words_of(model, *stop.other), per_cent(stop.limit, 0));
        case measured::StopReason::over_short_circuit:
            return fmt::format(
                "{}: {} is more than {} is rated for in short circuit, {}. Use fewer strings side by "
                "side.",
                at, value, input, limit);
        case measured::StopReason::fault_first:
            return fmt::format("The readings point to this, to be put right first: {}, {}.",
                               diagnosis.suspects.front().fault->title,
                               where_of(model, diagnosis.suspects.front().place));
    }
    return "";
}

}  // namespace plait::output
