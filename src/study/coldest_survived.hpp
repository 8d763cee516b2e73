#pragma once

#include <plait/study/system_model.hpp>

#include <optional>

namespace plait::study {

/// The coldest air, from the site's down to `rules::coldest_looked_at`, at which no rule about the input finds a limit
/// that must not be passed passed, or possibly passed by the tolerances. Empty where one does so at the site's own.
[[nodiscard]] std::optional<Celsius> coldest_survived(const SystemModel& system, const rules::Situation& s);

}  // namespace plait::study
