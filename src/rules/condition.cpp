#include <plait/rules/condition.hpp>

#include <plait/rules/number_words.hpp>

#include <fmt/core.h>

#include <array>
#include <utility>

namespace plait::rules {
namespace {

constexpr std::array names{
    std::pair{ConditionKind::string_fuses, "string-fuses"},
    std::pair{ConditionKind::larger_string_fuses, "larger-string-fuses"},
    std::pair{ConditionKind::panel_fuse_rating, "panel-fuse-rating"},
    std::pair{ConditionKind::connectors, "connectors"},
    std::pair{ConditionKind::branch_connectors, "branch-connectors"},
    std::pair{ConditionKind::battery_fuse, "battery-fuse"},
    std::pair{ConditionKind::more_panels, "more-panels"},
};

// "string 1: 15 A, strings 2 and 3: 10 A" would be longer than it helps: one figure a string, in their order.
std::string by_string(const std::vector<double>& ratings_a) {
    std::string list;
    for (const double a : ratings_a) list += fmt::format("{}{:g} A", list.empty() ? "" : ", ", a);
    return "one a string: " + list;
}

std::string things(const Condition& c, const Setup& setup) {
    const std::string rating = c.rating_a ? amps(*c.rating_a) : std::string();
    switch (c.kind) {
        case ConditionKind::string_fuses:
            return counted(c.count, "string fuse", "string fuses") +
                   (c.rating_a ? " of at most " + rating : " (" + by_string(c.ratings_a) + ")");
        case ConditionKind::larger_string_fuses:
            return fmt::format("string fuses of at least {}", rating);
        case ConditionKind::panel_fuse_rating:
            return "the panels' maximum series fuse, which is not stated";
        case ConditionKind::connectors:
            return fmt::format("connectors rated for {} or more", rating);
        case ConditionKind::branch_connectors:
            return fmt::format("a branch connector rated for {} or more", rating);
        case ConditionKind::battery_fuse:
            return fmt::format("a battery fuse of at least {}", rating);
        case ConditionKind::more_panels:
            return setup.kinds.size() > 1
                       ? fmt::format("{} of '{}'", counted(c.count, "more panel", "more panels"), setup.kinds[*c.panel_kind].id)
                       : counted(c.count, "more panel", "more panels");
    }
    return "";
}

}  // namespace

std::string_view name_of(ConditionKind kind) {
    for (const auto& [known, name] : names) {
        if (known == kind) return name;
    }
    return "";
}

std::string words_of(const Condition& condition, const Setup& setup) {
    const bool tell = condition.input && setup.controller.inputs.size() > 1;
    return things(condition, setup) + (tell ? " on " + setup.controller.inputs[*condition.input].name : "");
}

}  // namespace plait::rules
