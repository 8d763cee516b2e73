// Numbers with their units, and the names of physics in every form.
#pragma once

#include <plait/model/setup.hpp>
#include <plait/physics/operating_point.hpp>
#include <plait/rules/finding.hpp>
#include <plait/rules/number_words.hpp>

#include <fmt/core.h>

#include <string>
#include <string_view>
#include <vector>

namespace plait::output {

using rules::amps;
using rules::counted;
using rules::degrees;
using rules::size_text;
using rules::volts;
using rules::watts;

/// "1124 kWh", "45.6 kWh", "4.56 kWh", "456 Wh"
[[nodiscard]] std::string watt_hours(double energy_wh);
/// "08:05"; "24:00" at the end of the day.
[[nodiscard]] std::string time_of_day(double hours_h);
/// With its sign, a true minus.
[[nodiscard]] std::string signed_number(double value, int digits);
/// "12.3 %" of 0.123, a true minus, never "−0.0 %".
[[nodiscard]] std::string per_cent(double ratio, int digits = 1);
/// The part of a whole that is shown beside it, as `per_cent`; of nothing 0 %.
[[nodiscard]] std::string per_cent_of(double part, double whole, int digits = 1);
/// "+12.3 %" of 0.123.
[[nodiscard]] std::string signed_per_cent(double ratio, int digits);
/// The room below an input's maximum; "not known" where nobody knows the maximum.
[[nodiscard]] std::string room_in_volts(double margin_v);
/// A finding's value in its unit.
[[nodiscard]] std::string in_unit(double value, rules::Unit unit);

[[nodiscard]] std::string_view name_of(physics::Binding binding);
[[nodiscard]] std::string_view name_of(physics::NoPoint none);

[[nodiscard]] std::vector<std::string> kind_ids(const Setup& setup);

}  // namespace plait::output
