#pragma once

#include <plait/rules/rule.hpp>

#include <span>

namespace plait::rules {

/// Every rule, in the order of a report.
[[nodiscard]] std::span<const Rule* const> all_rules();

/// The rule of that id, or null.
[[nodiscard]] const Rule* rule_named(std::string_view id);

}  // namespace plait::rules
