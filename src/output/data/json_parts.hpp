// What the JSON reports share.
#pragma once

#include <plait/output/json.hpp>

#include <nlohmann/json.hpp>

#include <optional>
#include <string>
#include <vector>

namespace plait::output {

using Json = nlohmann::ordered_json;

/// JSON has no infinity and no NaN; what is not a number is null, on purpose and not by a library's leave.
[[nodiscard]] Json number(double value);
template <class T>
[[nodiscard]] Json maybe(const std::optional<T>& value) {
    return value ? Json(*value) : Json(nullptr);
}

/// How every report begins.
[[nodiscard]] Json head(const char* command);
[[nodiscard]] Json power_point(const physics::PowerPoint& p);
[[nodiscard]] Json assumptions_json(const std::vector<Assumption>& assumptions);
[[nodiscard]] Json harvest_json(const study::Harvest& h);
/// Where the input holds the array, and what it loses there.
[[nodiscard]] Json operation_json(const physics::OperatingPoint& op);
[[nodiscard]] Json cautions_json(const std::vector<study::Caution>& cautions);
[[nodiscard]] Json site_json(const Site& s);
[[nodiscard]] Json searched_json(const search::Searched& s);

/// The report as text, with a line break at its end.
[[nodiscard]] std::string printed(const Json& j);

}  // namespace plait::output
