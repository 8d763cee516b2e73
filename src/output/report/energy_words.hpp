// What it says where energy puts wirings or set-ups in order.
#pragma once

#include <plait/output/report.hpp>
#include <plait/output/subjects.hpp>

#include <string>
#include <vector>

namespace plait::output {

/// What a plan delivers; "–" where it was not counted.
[[nodiscard]] std::string delivered_words(const search::Arrangement& arrangement, const search::RankedPlan& plan);
/// What the advised wiring delivers, over which time, and how much was counted. The arrangement advises one.
[[nodiscard]] std::string energy_sentence(const search::Arrangement& arrangement, const EnergyTime& time);
/// How the order differs from that by watts.
[[nodiscard]] std::string order_change(const Setup& setup, const search::Arrangement& arrangement);
/// Who of several set-ups delivers most, and what changed in the order.
[[nodiscard]] std::vector<std::string> energy_leaders(const std::vector<NamedSetup>& named, const search::Comparison& comparison,
                                                      const EnergyTime& time);

}  // namespace plait::output
