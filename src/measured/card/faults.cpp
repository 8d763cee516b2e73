#include "faults.hpp"

#include <algorithm>
#include <array>

namespace plait::measured {

std::span<const Fault* const> all_faults() {
    static constexpr std::array list{
        &string_reversed, &panel_reversed, &panel_missing,  &panel_in_other_string,
        &strings_swapped, &string_open,    &group_bypassed, &string_at_other_input,
        &panel_shaded,    &group_shaded,   &light_differs,  &coefficient_differs,
        &strings_short,   &strings_long,   &meter_range,    &panel_of_other_kind,
    };
    return list;
}

FaultScene fault_scene(const FieldModel& model, const FieldState& planned, std::span<const ReadingPlace> read) {
    FaultScene scene{model.system().setup(), model.plan(), planned, {}};
    std::size_t unread = 0;
    for (std::size_t i = 0; i < planned.inputs.size(); ++i) {
        for (std::size_t s = 0; s < planned.inputs[i].size(); ++s) {
            if (planned.inputs[i][s].panels.empty()) continue;
            const bool is_read = std::any_of(read.begin(), read.end(), [&](const ReadingPlace& r) {
                return is_of_string(r.point) && r.input == i && r.string == s;
            });
            if (!is_read && unread == most_unread_strings) continue;
            if (!is_read) ++unread;
            scene.strings.push_back({i, s});
        }
    }
    return scene;
}

double amount_value(const FieldModel& model, const Fault& fault, const FaultPlace& place, double amount_factor) {
    switch (fault.amount) {
        case AmountKind::none:
            return 0.0;
        case AmountKind::light_left:
            return amount_factor;
        case AmountKind::light_factor:
            return amount_factor * model.sky().irradiance_w_per_m2;
        case AmountKind::coefficient_per_k:
            return model.system().setup().kinds[place.kind.value_or(0)].panel.voc_coefficient_per_k + amount_factor;
    }
    return 0.0;
}

}  // namespace plait::measured
