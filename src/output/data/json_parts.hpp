// What the JSON reports share.
#pragma once

#include <plait/output/data.hpp>
#include <plait/output/json_value.hpp>

#include <optional>
#include <string>
#include <vector>

namespace plait::output {

template <class T>
[[nodiscard]] Json maybe(const std::optional<T>& value) {
    return value ? Json(*value) : Json(nullptr);
}

/// A verdict: its word, the headline with every condition, both answers. For the keys of a plan.
[[nodiscard]] Json input_verdict_json(const Setup& setup, const study::Verdict& verdict);  ///< of one input alone
[[nodiscard]] Json verdict_json(const Setup& setup, const study::Verdict& verdict);        ///< of the whole plan
[[nodiscard]] Json verdict_json(const Setup& setup, const study::Judgement& judgement);  ///< with the wiring
/// Without conditions and headline, for a line of a list.
[[nodiscard]] Json answers_json(const study::Answers& verdict);
[[nodiscard]] Json conditions_json(const Setup& setup, const std::vector<rules::Condition>& conditions);

/// How every report begins.
[[nodiscard]] Json head(const char* command);
[[nodiscard]] Json power_point(const physics::PowerPoint& p);
[[nodiscard]] Json assumptions_json(const std::vector<Assumption>& assumptions);
/// From every panel on hand down to what the plan takes.
[[nodiscard]] Json account_json(const study::HarvestAccount& a);
[[nodiscard]] Json harvest_json(const study::Harvest& h);
/// Where the input holds the array, and what it loses there.
[[nodiscard]] Json operation_json(const physics::OperatingPoint& op);
[[nodiscard]] Json cautions_json(const std::vector<study::Caution>& cautions);
[[nodiscard]] Json hot_spots_json(const Setup& setup, const std::vector<study::HotSpot>& spots);
[[nodiscard]] Json site_json(const Site& s);
[[nodiscard]] Json searched_json(const search::Searched& s);

/// The report as text, with a line break at its end.
[[nodiscard]] std::string printed(const Json& j);

}  // namespace plait::output
