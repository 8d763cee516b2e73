#pragma once

#include <plait/search/plan_search.hpp>
#include <plait/study/judgement.hpp>

#include <cstddef>
#include <limits>
#include <optional>
#include <vector>

namespace plait::search {

/// The room below a maximum that nobody knows: less than any other, so that such a wiring never leads.
inline constexpr double unknown_margin_v = -std::numeric_limits<double>::infinity();
inline constexpr double unknown_margin_ratio = -std::numeric_limits<double>::infinity();

/// The finding behind the first word of a verdict: the first by `rules::HeadlineShare`. Where all is within, the one behind
/// its "?".
struct Deciding {
    rules::HeadlineShare share = rules::HeadlineShare::nothing;
    const rules::Rule* rule = nullptr;  ///< null when all is within
    std::optional<std::size_t> input;   ///< absent: a rule about all inputs together

    /// `doubted`: an assumed value, or a range of temperatures, may turn the finding.
    void look(const rules::Finding& finding, bool doubted, const rules::Rule& by, std::optional<std::size_t> on) {
        rules::HeadlineShare here = rules::headline_share(finding);
        if (here == rules::HeadlineShare::nothing && doubted) here = rules::HeadlineShare::doubts;
        if (here < share) *this = {here, &by, on};
    }
};

/// One wiring of one input, in numbers.
struct Candidate {
    std::size_t input = 0;
    InputWiring wiring;
    study::Answers verdict;
    Deciding deciding;                         ///< of its own rules
    std::vector<rules::Condition> conditions;  ///< of its own rules
    bool wants_fuses = false;                 ///< a string fuse in every string, as `fuses_wanted`
    double cold_voc_v = 0.0;
    double cold_margin_v = unknown_margin_v;  ///< to the input's absolute maximum
    study::LevelPowers level_power_w{};
    double free_european_w = 0.0;  ///< its panels one by one
};

/// One way to use the panels on hand: at most one candidate per input.
struct RankedPlan {
    std::vector<std::size_t> candidates;  ///< indices, rising by input
    study::Answers verdict;
    std::vector<rules::Condition> conditions;  ///< of the rules about all inputs together; the candidates have their own
    Deciding deciding;
    study::Harvest harvest;
    double lost_ratio = 0.0;  ///< of what its panels could give one by one, not taken
    int panels_used = 0;
    int strings = 0;
    int joints = 0;                   ///< strings beyond the first of each input: a pair of branch connectors each
    int unlike = 0;                   ///< kinds beyond the first in each string
    int fuses = 0;                    ///< strings that want or have a fuse of their own
    double cold_margin_v = 0.0;       ///< the smallest of its inputs; `unknown_margin_v` where one has no maximum
    double cold_margin_ratio = 0.0;   ///< the smallest share of an input's maximum that is left; the same
    double highest_cold_voc_v = 0.0;  ///< the most there is to touch
};

/// A plan beside others none of which is better in everything.
struct TradeOff {
    std::size_t plan = 0;
    double one_shaded_worst_w = 0.0;  ///< harvest with one panel at 20 % light, the worst panel for it
    double one_shaded_mean_w = 0.0;   ///< the mean over all panels in use
};

/// What the search over all wirings came to.
struct Searched {
    bool possible = true;           ///< false: too many kinds and panels to hold
    bool finished = true;           ///< false: stopped before the proof was complete
    bool simplest_finished = true;  ///< false: whether a simpler wiring comes near the best was not searched to the end
    bool at_label = false;  ///< no search was needed: the first plan takes all that its panels can give one by one, or
                            ///< all that the inputs take
    double count = 0.0;     ///< how many there are, of strings that may be built
    double bound_w = 0.0;   ///< no usable wiring that is not listed harvests more
    std::size_t solved = 0;
    /// The most that an unseen wiring may bring beyond one that harvests so much.
    [[nodiscard]] double unproven_w(double harvest_w) const { return bound_w > harvest_w ? bound_w - harvest_w : 0.0; }
};

/// The plans in the order of what they deliver over a time, instead of by watts (search/energy_order.hpp).
struct EnergyOrder {
    std::vector<std::optional<double>> delivered_wh;  ///< by plan; absent: it may not be connected, falls short, or time ran out
    std::vector<std::size_t> place_by_watts;          ///< by plan: where it was, the first is 0
    std::optional<std::size_t> advised_by_watts;      ///< which plan was advised then
    bool finished = true;  ///< false: stopped before every usable plan had been counted; those are behind, by watts
    /// More than rounding is between a plan and the next one of the list. Equal strings on equal inputs differ by rounding.
    [[nodiscard]] bool ahead_of_next(std::size_t plan) const;
};

struct ArrangeRequest {
    std::size_t top = 10;     ///< how many of the best plans to be sure of
    bool trade_offs = false;  ///< work out the table of trade-offs
    KeepGoing keep_going;     ///< empty: to the end
};

struct Arrangement {
    std::vector<Candidate> candidates;
    /// By harvest: first those that hold, then those that a tolerance or an unknown limit may carry past what protects the
    /// input, then those that fall short, then those that exceed.
    std::vector<RankedPlan> plans;
    bool thinned = false;  ///< too many combinations of equal strings: of each input only the best wiring per number of
                           ///< panels was combined, and of those only the best kept if they were still too many
    Searched searched;
    /// The simplest plan within `near_tie_ratio` of the best that holds; of the best that may exceed where none holds.
    std::optional<std::size_t> advised;
    std::vector<TradeOff> trade_offs;    ///< by harvest
    std::optional<EnergyOrder> by_energy;  ///< absent: `plans` are by watts
};

/// Harvests no further apart than this count as equal: less than a season's weather, a wash of the panels or a label's
/// tolerance makes.
inline constexpr double near_tie_ratio = 0.01;
/// A shaded panel's share of the light, in the trade-offs.
inline constexpr double shaded_light_ratio = 0.2;

/// Every wiring of one kind in equal strings per input, and of all the others (any panels in a string, unlike strings)
/// the best: proven by search.
[[nodiscard]] Arrangement arrange(const study::SystemModel& system, const ArrangeRequest& request = {});

/// A wiring somebody had in mind, judged.
struct Asked {
    ArrayPlan plan;
    study::Judgement judgement;
};

/// The plan with every place written out.
[[nodiscard]] ArrayPlan written_out(const Arrangement& arrangement, const RankedPlan& plan, std::size_t inputs);

/// The harvest of a plan with one panel in turn at `shaded_light_ratio`: worst and mean.
[[nodiscard]] TradeOff one_panel_shaded(const study::SystemModel& system, const ArrayPlan& plan);

}  // namespace plait::search
