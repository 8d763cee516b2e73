// Several set-ups side by side: other controllers, other panels, other sites, each with its best wiring or its own.
#pragma once

#include <plait/search/arrangement.hpp>
#include <plait/study/harvest_account.hpp>
#include <plait/study/harvest_year.hpp>

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace plait::search {

/// What the panels in use and the controller cost; cables, fuses and labour are not in it.
struct Cost {
    std::string currency;           ///< as the file writes it; may be empty
    double panels_price = 0.0;      ///< of those in use, in `currency`
    double controller_price = 0.0;  ///< in `currency`

    [[nodiscard]] double total_price() const { return panels_price + controller_price; }
};

/// A wiring of one set-up with the figures by which set-ups are compared.
struct ComparedPlan {
    ArrayPlan plan;
    study::Judgement judgement;
    study::HarvestAccount account;
    double cold_margin_v = 0.0;      ///< below the absolute maximum of `cold_input` on the coldest morning;
                                     ///< `unknown_margin_v` where nobody knows one
    double cold_margin_ratio = 0.0;  ///< of that maximum: the smallest share of the inputs in use
    std::size_t cold_input = 0;
    double highest_cold_voc_v = 0.0;  ///< the most there is to touch
    int panels_used = 0;
    int joints = 0;                     ///< strings beyond the first of each input
    int fuses = 0;                      ///< strings that want or have one, as `fuses_wanted`
    std::optional<Cost> cost;           ///< absent where a price is missing
    std::vector<std::string> unpriced;  ///< what has no price, in a set-up that has some
    std::optional<double> delivered_wh;  ///< over the time by which set-ups are compared; absent: by watts, or the plan
                                         ///< exceeds or falls short

    /// Nothing exceeds, nothing falls short.
    [[nodiscard]] bool usable() const { return judgement.verdict.usable(); }
    /// European-weighted W for 100 of the currency. Only with a cost.
    [[nodiscard]] double harvest_per_100_w() const;
};

struct ComparedSetup {
    bool priced = false;  ///< the file has at least one price
    int panels_on_hand = 0;
    std::optional<ArrayPlan> by_watts;  ///< the wiring advised by watts, where energy chose another
    std::optional<Searched> searched;  ///< how sure the advised wiring is; absent for a wiring as the file has it
    std::optional<ComparedPlan> plan;  ///< absent when no wiring can be used

    [[nodiscard]] bool usable() const { return plan && plan->usable(); }
};

/// The set-ups with a cost in one currency; amounts in different currencies are never compared.
struct MoneyGroup {
    std::string currency;
    std::vector<std::size_t> setups;  ///< that can be used and have a cost
    std::vector<std::size_t> best;    ///< least money for a watt, within `near_tie_ratio`
};

/// Indices count the set-ups; leaders are in the order of the set-ups, and only those that can be used lead.
struct Comparison {
    std::vector<ComparedSetup> setups;
    std::vector<std::size_t> usable;
    std::vector<std::size_t> most_harvest;  ///< within `near_tie_ratio` of the most watts
    std::vector<std::size_t> most_energy;   ///< … of the most energy; empty where watts are compared
    std::vector<std::size_t> most_room;     ///< by share of the maximum, within `room_tie_ratio`
    std::vector<MoneyGroup> money;          ///< by first appearance
};

/// Shares of an input's maximum no further apart than this count as equal: a thousandth, as in the ranking.
inline constexpr double room_tie_ratio = 0.001;

/// The figures of one wiring. At least one input must be used.
[[nodiscard]] ComparedPlan compared_plan(const study::SystemModel& system, const ArrayPlan& plan);

/// The set-up with the wiring that `arrange` advises.
/// `light`: of the time over which energy decides; null: watts do.
[[nodiscard]] ComparedSetup advised_setup(const study::SystemModel& system, const KeepGoing& keep_going = {},
                                          const study::LightSeries* light = nullptr);
/// The set-up with this wiring, whatever the verdict. At least one input must be used.
[[nodiscard]] ComparedSetup setup_as_wired(const study::SystemModel& system, const ArrayPlan& plan,
                                           const study::LightSeries* light = nullptr);

/// Who leads in what.
[[nodiscard]] Comparison compare(std::vector<ComparedSetup> setups);

}  // namespace plait::search
