// What a log shows beyond its account: limits as they are, sensors against each other, the wall, shade, what cannot be told.
#pragma once

#include <plait/output/subjects.hpp>

#include <plait/output/report.hpp>

#include <string>
#include <string_view>
#include <vector>

namespace plait::output {

[[nodiscard]] std::string_view name_of(measured::Teller teller);

/// A sentence for each thing that the log shows of input, sensors, panels and place.
[[nodiscard]] std::vector<std::string> findings(const study::SystemModel& system, const ExplainedLog& log);
/// What was had with the wall and without; empty where one of the two is missing.
[[nodiscard]] Table wall_table(const ExplainedLog& log);

}  // namespace plait::output
