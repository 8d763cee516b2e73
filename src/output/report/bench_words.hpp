// Sentences and tables about a bench session: display against meter, protections, where to measure next.
#pragma once

#include <plait/measured/display_check.hpp>
#include <plait/measured/next_readings.hpp>
#include <plait/measured/protections.hpp>

#include <plait/output/report.hpp>

#include <string>
#include <string_view>
#include <vector>

namespace plait::output {

[[nodiscard]] std::string_view name_of(measured::ReadingReason reason);
[[nodiscard]] std::string_view name_of(measured::PlanReason reason);
[[nodiscard]] std::string_view name_of(measured::Protection protection);
[[nodiscard]] std::string_view name_of(measured::ProtectionResult result);

/// What everything that was measured beside the window says, a sentence each.
[[nodiscard]] std::vector<std::string> instruments_said(const measured::LearnSheet& sheet);
/// Display and battery over each stretch of the window; empty where one figure tells it.
[[nodiscard]] Table instruments_table(const measured::LearnSheet& sheet);

[[nodiscard]] std::vector<measured::ProtectionCheck> protections_of(const measured::LearnSheet& sheet);
/// What each protection did, and whether that keeps to the print.
[[nodiscard]] Table protection_table(const measured::LearnSheet& sheet);

[[nodiscard]] std::vector<measured::NextReading> next_readings_of(const measured::LearnSheet& sheet);
/// "Measure at 26 V, voltage rising: …", the best first.
[[nodiscard]] std::vector<std::string> next_sentences(const measured::LearnSheet& sheet);

}  // namespace plait::output
