#include <plait/rules/catalogue.hpp>

#include "rules.hpp"

namespace plait::rules {

std::span<const Rule* const> all_rules() {
    static constexpr std::array list{
        // what destroys
        &cold_voltage,
        &panel_system_voltage,
        &short_circuit_rating,
        &current_rating,
        &array_power_rating,
        &oversized_array,
        &step_up_ceiling,
        &string_fuses,
        &reverse_current,
        &fuse_window,
        &cable_ampacity,
        &connector_rating,
        &disconnect_rating,
        &unlike_strings,
        // what keeps the input from working
        &start_voltage,
        &tracking_bottom,
        &tracking_with_drop,
        &battery_headroom,
        &steady_point,
        // what wastes sun
        &tracking_top,
        &current_limit,
        &power_limit,
        &cable_drop,
        &charge_current,
        // the plan as a whole
        &shared_power,
        &battery_side,
        &panels_on_hand,
    };
    return list;
}

const Rule* rule_named(std::string_view id) {
    for (const Rule* rule : all_rules()) {
        if (rule->id == id) return rule;
    }
    return nullptr;
}

std::string_view name_of(ConditionId id) {
    switch (id) {
        case ConditionId::cold_bright:
            return "cold-bright";
        case ConditionId::stc:
            return "stc";
        case ConditionId::warm_bright:
            return "warm-bright";
        case ConditionId::hot_bright:
            return "hot-bright";
        case ConditionId::weak_light:
            return "weak-light";
    }
    return "";
}

std::string_view title_of(ConditionId id) {
    switch (id) {
        case ConditionId::cold_bright:
            return "cold and bright";
        case ConditionId::stc:
            return "test conditions (STC)";
        case ConditionId::warm_bright:
            return "warm and bright";
        case ConditionId::hot_bright:
            return "hot and bright";
        case ConditionId::weak_light:
            return "weak light";
    }
    return "";
}

std::string_view when(ConditionId id) {
    switch (id) {
        case ConditionId::cold_bright:
            return "When it is cold and bright";
        case ConditionId::stc:
            return "At test conditions (STC)";
        case ConditionId::warm_bright:
            return "When it is warm and bright";
        case ConditionId::hot_bright:
            return "When it is hot and bright";
        case ConditionId::weak_light:
            return "In weak light";
    }
    return "";
}

bool rests_on(const Rule& rule, int test, Quantity quantity) {
    const auto among = [&](std::span<const Quantity> list) {
        return std::find(list.begin(), list.end(), quantity) != list.end();
    };
    return among(rule.rests_on) ||
           (!rule.tests_rest_on.empty() && among(rule.tests_rest_on[static_cast<std::size_t>(test)]));
}

}  // namespace plait::rules
