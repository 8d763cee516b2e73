#include <plait/rules/catalogue.hpp>

#include <plait/base/names.hpp>

#include "rules.hpp"

#include <array>

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

double ConditionPoint::cable_loss_ratio() const {
    const double given_w = cable ? operating.point.power_w() + cable->loss_w : 0.0;
    return given_w > 0.0 ? cable->loss_w / given_w : 0.0;
}

std::string_view name_of(ConditionId id) {
    static constexpr Names names{
        Name{ConditionId::cold_bright, "cold-bright"}, Name{ConditionId::stc, "stc"},
        Name{ConditionId::warm_bright, "warm-bright"}, Name{ConditionId::hot_bright, "hot-bright"},
        Name{ConditionId::weak_light, "weak-light"},
    };
    return name_in(names, id);
}

std::string_view title_of(ConditionId id) {
    static constexpr Names names{
        Name{ConditionId::cold_bright, "cold and bright"}, Name{ConditionId::stc, "test conditions (STC)"},
        Name{ConditionId::warm_bright, "warm and bright"}, Name{ConditionId::hot_bright, "hot and bright"},
        Name{ConditionId::weak_light, "weak light"},
    };
    return name_in(names, id);
}

std::string_view when(ConditionId id) {
    static constexpr Names names{
        Name{ConditionId::cold_bright, "When it is cold and bright"},
        Name{ConditionId::stc, "At test conditions (STC)"},
        Name{ConditionId::warm_bright, "When it is warm and bright"},
        Name{ConditionId::hot_bright, "When it is hot and bright"},
        Name{ConditionId::weak_light, "In weak light"},
    };
    return name_in(names, id);
}

bool rests_on(const Rule& rule, int test, Quantity quantity) {
    const auto among = [&](std::span<const Quantity> list) {
        return std::find(list.begin(), list.end(), quantity) != list.end();
    };
    return among(rule.rests_on) ||
           (!rule.tests_rest_on.empty() && among(rule.tests_rest_on[static_cast<std::size_t>(test)]));
}

}  // namespace plait::rules
