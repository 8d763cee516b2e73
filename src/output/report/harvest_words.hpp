// Sentences and tables about a harvest over time.
#pragma once

#include <plait/output/report.hpp>
#include <plait/output/subjects.hpp>
#include <plait/study/harvest_sheet.hpp>

#include <string>
#include <string_view>
#include <vector>

namespace plait::output {

/// "21 June", "June"; "21 June 2024" where only that year is meant; "a year".
[[nodiscard]] std::string period_words(const study::HarvestPeriod& period);
/// Where watt-hours go: "current limit".
[[nodiscard]] std::string_view words_of(study::HarvestLoss loss);
/// "south, 35° steep", "120°, 35° steep"
[[nodiscard]] std::string plane_words(const Plane& plane);

/// What a clear day in June and one in December bring.
[[nodiscard]] std::string clear_days_sentence(const study::ClearDays& days);
/// "on 21 June", "in a year"; and "clear days", for a heading.
[[nodiscard]] std::string over_words(const study::HarvestPeriod& period);
[[nodiscard]] std::string_view weather_words(const EnergyTime& time);
/// What is delivered, what limits take of it, what the station uses.
[[nodiscard]] std::vector<std::string> harvest_answer(const Setup& setup, const study::HarvestSheet& sheet);
/// What is left out because nothing states it, as a list and as a sentence; empty where all is stated.
[[nodiscard]] std::vector<std::string> unstated_words(const study::UnstatedLosses& unstated);
[[nodiscard]] std::string not_counted_sentence(const study::UnstatedLosses& unstated);
/// Weather, planes, models, gaps: what the figures rest on.
[[nodiscard]] std::vector<std::string> harvest_basis(const Setup& setup, const study::HarvestSheet& sheet);
/// Months, days or hours with what was possible, not taken and delivered. `brief`: at most a dozen rows.
[[nodiscard]] Table harvest_parts_table(const study::HarvestSheet& sheet, bool brief);
/// The months of a year in two columns: what a day brings, and what limits take of what was possible.
[[nodiscard]] Table harvest_half_years(const study::HarvestSheet& sheet);
/// From the rating in the light down to the battery, every loss.
[[nodiscard]] Table harvest_account_table(const study::HarvestSheet& sheet);
/// Input by input.
[[nodiscard]] Table harvest_inputs_table(const Setup& setup, const study::HarvestSheet& sheet);
/// What would bring more, and what would not.
[[nodiscard]] std::vector<std::string> gain_sentences(const Setup& setup, const study::HarvestSheet& sheet,
                                                      const study::Verdict& verdict, const search::HarvestGains& gains);

}  // namespace plait::output
