// The order of work that keeps hands away from live parts.
#pragma once

#include <plait/study/judgement.hpp>

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace plait::study {

struct Step {
    std::string_view id;
    std::string text;
    std::optional<double> voltage_v;  ///< the most there can be at the hands, DC; empty: nothing is live
    std::vector<Caution> cautions;    ///< each once in the list, where it first matters; that of the voltage first
};

struct StepList {
    std::vector<Step> connect;
    std::vector<Step> take_apart;
};

[[nodiscard]] StepList steps_of(const Setup& setup, const Judgement& judgement);

}  // namespace plait::study
