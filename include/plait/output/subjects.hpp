// What a report or a file of data is about, where that is more than one value of the layers below.
#pragma once

#include <plait/measured/log_advice.hpp>
#include <plait/measured/log_explanation.hpp>
#include <plait/model/weather.hpp>
#include <plait/search/comparison.hpp>
#include <plait/study/climate.hpp>

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

}  // namespace plait::output
