// Over which time, in which weather: what the commands about energy take besides the set-up.
#pragma once

#include <plait/study/harvest_sheet.hpp>

#include "session.hpp"

#include <optional>
#include <string>

namespace plait::cli {

/// Light over the time that was asked for.
struct TimeLight {
    study::HarvestPeriod period;
    bool from_file = false;
    bool dimmed = false;
    study::LightSeries light;  ///< of the period; it has hours
};

/// The period, or what is wrong with how it was written.
[[nodiscard]] Result<study::HarvestPeriod> period_of(const TimeOptions& o, const Setup& setup);

/// Puts the models that were typed into the set-up, reads the weather and cuts it to the period. A set-up without a place
/// gets that of the weather file; without either, the complaint says what to write.
[[nodiscard]] Result<TimeLight> light_over(const TimeOptions& o, const std::string& file, Setup& setup, Session& session);

/// The same for `--by year` and `--by day`.
[[nodiscard]] Result<TimeLight> light_by(const std::string& by, const TimeOptions& o, const std::string& file, Setup& setup,
                                         Session& session);

/// "2026-06-21", "06-21", "21 June", "june", "longest" (where the place is known): a day, or what to write.
[[nodiscard]] Result<study::HarvestPeriod> asked_day(const std::string& text, const Setup& setup);

}  // namespace plait::cli
