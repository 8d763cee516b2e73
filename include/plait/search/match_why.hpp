// Why a pair of a catalogue is not the first, or cannot be used at all, and which one change would mend it. And what an
// input does with panels of the usual classes.
#pragma once

#include <plait/model/usual_panels.hpp>
#include <plait/search/matching.hpp>
#include <plait/study/look_up.hpp>

#include <memory>
#include <optional>
#include <vector>

namespace plait::search {

/// A pair with its wiring judged in full. Where no wiring can be used, the wiring is the least bad one, if there is any.
struct JudgedPair {
    PairAnswer answer;
    std::unique_ptr<const Setup> setup;
    std::unique_ptr<const study::SystemModel> system;
    ArrayPlan plan;
    study::LookedUp judged;
};
[[nodiscard]] JudgedPair judged_pair(const MatchStudy& study, PairAnswer answer);

struct PairWhy {
    JudgedPair pair;
    std::optional<std::size_t> place;    ///< in the ranking of the pairs listed, from 0; absent: behind them, or not usable
    bool passes = true;                  ///< it is of the pairs asked for with `only`
    std::optional<PairAnswer> one_more;  ///< with one panel more: where that makes it usable, or worth over 1 % more
    std::optional<PairAnswer> one_less;  ///< with one panel less, the same
    std::optional<std::size_t> better_class;  ///< of the usual panels: the one that suits the controller's size best
    std::optional<PairAnswer> with_class;     ///< what it comes to, with at most as many panels
};
/// `outcome`: of a run of the same study.
[[nodiscard]] PairWhy why_pair(const MatchStudy& study, const MatchOutcome& outcome, std::size_t pair,
                               const KeepGoing& keep_going = {});

/// What a controller does with one usual class of panel.
struct ClassAnswer {
    std::size_t usual = 0;   ///< which class
    JudgedPair pair;         ///< the number of panels that suits the size of the inputs best
    std::optional<int> shortest_string;  ///< fewest in series that hold, on any input; absent: none does
    std::optional<int> longest_string;   ///< most in series
};
/// Every usual class with at most so many panels.
[[nodiscard]] std::vector<ClassAnswer> class_answers(const CatalogueController& controller, const CatalogueSite& site,
                                                     int most_panels);

}  // namespace plait::search
