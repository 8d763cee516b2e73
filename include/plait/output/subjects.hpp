// What a report or a file of data is about, where that is more than one value of the layers below.
#pragma once

#include <plait/measured/log_advice.hpp>
#include <plait/measured/log_explanation.hpp>
#include <plait/model/weather.hpp>
#include <plait/search/comparison.hpp>
#include <plait/search/harvest_gains.hpp>
#include <plait/study/climate.hpp>
#include <plait/study/harvest_sheet.hpp>
#include <plait/study/look_up.hpp>

#include <optional>
#include <string>
#include <vector>

namespace plait::output {

struct NamedSetup {
    std::string file;
    const Setup* setup = nullptr;
};

struct ExplainedLog {
    std::size_t input = 0;
    InputWiring wiring;
    measured::LogAccuracy accuracy;
    measured::LogAccount account;
    measured::LogAdvice advice;
    study::Verdict verdict;          ///< of the whole plan
    std::vector<std::string> notes;  ///< the reader's, about the file
};

/// One file that says how cold it gets: a station's record, or a weather file.
struct ClimateSource {
    std::string file;
    std::optional<study::ClimateSheet> sheet;
    std::optional<WeatherSeries> weather;
};

/// The time over which energy puts wirings or set-ups in order.
struct EnergyTime {
    study::HarvestPeriod period;
    bool from_file = false;
    bool dimmed = false;
};

/// A plan's harvest over a time, with what the plan is and what would add. Everything must outlive it.
struct HarvestSubject {
    const study::SystemModel& system;
    const ArrayPlan& plan;
    const study::LookedUp& judged;
    const study::HarvestSheet& sheet;
    const search::HarvestGains& gains;
};

}  // namespace plait::output
