// What would add to a harvest: another wiring of the panels on hand, one panel more, a larger cable. Only wirings that
// hold are counted: nothing that exceeds, or that a tolerance may carry past a limit.
#pragma once

#include <plait/search/arrangement.hpp>
#include <plait/study/harvest_year.hpp>

#include <cstddef>
#include <optional>
#include <vector>

namespace plait::search {

/// A plan that holds, and what it delivers in the same light.
struct GainedPlan {
    ArrayPlan plan;
    study::Verdict verdict;
    double delivered_wh = 0.0;
};

struct OneMorePanel {
    std::size_t kind = 0;
    std::optional<GainedPlan> gained;  ///< absent: none that holds puts it to use
};

struct LargerCable {
    std::size_t cable = 0;  ///< of the set-up
    CableSize size;         ///< the next one
    double delivered_wh = 0.0;
};

/// Below this share of what is delivered a gain is not worth a word.
inline constexpr double least_gain_ratio = 1e-3;

/// More than the plan asked about delivers.
struct Gain {
    double more_wh = 0.0;
    double more_ratio = 0.0;  ///< of what that delivers; infinite where it delivers nothing
};

struct HarvestGains {
    double now_wh = 0.0;             ///< what the plan asked about delivers
    std::optional<GainedPlan> best;  ///< of the panels on hand: the simplest near the most energy; absent: none holds
    bool best_is_this = false;       ///< it is the plan asked about
    std::size_t tried = 0;           ///< wirings counted for it, those of most watts
    bool finished = true;            ///< false: stopped before the search for wirings had ended
    std::vector<OneMorePanel> one_more;  ///< by kind of which the plan uses all on hand
    std::vector<LargerCable> cables;     ///< each alone
    [[nodiscard]] Gain gain(double delivered_wh) const;
    /// The one that brings most; null without any.
    [[nodiscard]] const LargerCable* best_cable() const;
};

/// `now_wh`: what the plan delivers in this light. Of a plan that exceeds or falls short only `best` is looked for.
[[nodiscard]] HarvestGains harvest_gains(const study::SystemModel& system, const study::LightSeries& light,
                                         const ArrayPlan& plan, const study::Verdict& verdict, double now_wh,
                                         const KeepGoing& keep_going = {});

}  // namespace plait::search
