// Which panels fill which input: every panel of a catalogue on every controller of it, for each pair the wiring that
// `arrange` advises.
//
// A pair is solved by `arrange` on the set-up of both, or settled without: no string of the panel is within the limits of
// any input, or the most that the pair could come to is less than what so many others come to as are wanted. A pair that a
// bound settles says so and shows the bound.
#pragma once

#include <plait/base/names.hpp>
#include <plait/base/parallel.hpp>
#include <plait/model/catalogue.hpp>
#include <plait/search/arrangement.hpp>

#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace plait::search {

/// What puts pairs in order.
enum class MatchBy {
    harvest,  ///< mean watts over the light of a year
    cost,     ///< the same for 100 of the currency
    fill,     ///< how well array and inputs suit each other's size (`PairAnswer::size_fit_ratio`)
};

/// Which usable pairs are listed.
enum class MatchOnly {
    usable,  ///< all that hold or may hold
    ready,   ///< may be connected as they are
    fits,    ///< and all is taken
    proven,  ///< no tolerance and no assumed value is behind the verdict
};

struct MatchRequest {
    MatchBy by = MatchBy::harvest;
    MatchOnly only = MatchOnly::usable;
    int panels = 4;        ///< of the candidate: at most so many, or exactly so many on hand
    bool on_hand = false;  ///< they are there already: the wiring of most watts, whatever it leaves unused
    std::size_t top = 10;  ///< how many pairs the ranking is to be sure of
    bool every = false;    ///< solve every pair, also those that cannot be among the first `top`
};

/// What a pair could come to at most.
struct PairBound {
    double harvest_w = 0.0;  ///< mean watts: all panels one by one, or all that the inputs take
    double value = 0.0;      ///< in what the ranking goes by; infinite where nothing bounds it
};

enum class Settled {
    solved,     ///< by `arrange`
    no_string,  ///< no string of it is within the limits of any input, however many panels it has
    outranked,  ///< by its bound: so many others come to more
};

/// What one pair came to. Figures are those of the wiring advised; all zero where there is none.
struct PairAnswer {
    std::size_t pair = 0;
    Settled settled = Settled::solved;
    PairBound bound;
    bool complete = true;     ///< false: a search was stopped
    int panels = 0;           ///< of the candidate, of which the wiring was sought
    bool usable = false;      ///< there is a wiring
    ArrayPlan plan;           ///< of the set-up of the pair with so many panels
    study::Answers verdict;
    Deciding deciding;
    std::vector<rules::Condition> conditions;
    double harvest_w = 0.0;   ///< mean watts over the light of a year, on a warm day
    double most_w = 0.0;      ///< the same of the best wiring of all panels asked for: within 1 % the simplest, and in a
                              ///< ranking by harvest the fewest panels, are advised
    double wasted_w = 0.0;    ///< mean watts that the panels in use could give and that are not taken
    int candidates_used = 0;  ///< of the candidate
    int panels_used = 0;      ///< of all
    double cold_margin_v = unknown_margin_v;
    double cold_margin_ratio = unknown_margin_ratio;
    double full_sun_w = 0.0;                ///< taken at 1000 W/m² on a warm day
    std::optional<double> fill_ratio;       ///< of what the inputs can take at most, that is taken at 1000 W/m²; absent: no limit known
    std::optional<double> size_fit_ratio;   ///< what is taken in full sun over what either side alone could: panels or inputs
    std::optional<double> price;            ///< of the candidates in use and the controller; absent: not known
    std::optional<double> gained_w;         ///< harvest beyond that of the panels on hand alone

    [[nodiscard]] bool listed(MatchOnly only) const;
    /// W for 100 of the currency; absent without a price.
    [[nodiscard]] std::optional<double> harvest_per_100_w() const;
    /// In what the ranking goes by; absent where it is not known.
    [[nodiscard]] std::optional<double> value(MatchBy by) const;
};

/// The catalogue with all that does not depend on the pair. Every question may be asked from several threads at once.
class MatchStudy {
public:
    /// `kept`: panels that are there and stay, in every pair. `panels`: the candidates, at least one; `controllers` at least
    /// one. A panel or controller without a price counts as nothing where there is no other to choose instead.
    MatchStudy(std::vector<CataloguePanel> panels, std::vector<CatalogueController> controllers, CatalogueSite site,
               std::string currency, std::vector<std::pair<CataloguePanel, int>> kept, const MatchRequest& request);

    [[nodiscard]] std::size_t pairs() const { return panels_.size() * controllers_.size(); }
    [[nodiscard]] std::size_t panel_of(std::size_t pair) const { return pair / controllers_.size(); }
    [[nodiscard]] std::size_t controller_of(std::size_t pair) const { return pair % controllers_.size(); }
    [[nodiscard]] const std::vector<CataloguePanel>& panels() const { return panels_; }
    [[nodiscard]] const std::vector<CatalogueController>& controllers() const { return controllers_; }
    [[nodiscard]] const std::vector<std::pair<CataloguePanel, int>>& kept() const { return kept_; }
    [[nodiscard]] const CatalogueSite& site() const { return site_; }
    [[nodiscard]] const std::string& currency() const { return currency_; }
    [[nodiscard]] const MatchRequest& request() const { return request_; }

    /// The set-up of a pair with so many panels of the candidate.
    [[nodiscard]] Setup setup(std::size_t pair, int panels) const;

    /// What the pair could come to with at most the panels asked for.
    [[nodiscard]] PairBound bound(std::size_t pair) const;
    /// Whether no string of the candidate, however long, is within the nominal limits of any input. With panels that stay,
    /// false.
    [[nodiscard]] bool no_string(std::size_t pair) const;
    /// The pair's answer by `arrange`, whatever its bound.
    [[nodiscard]] PairAnswer solve(std::size_t pair, const KeepGoing& keep_going = {}) const;
    /// With exactly so many panels of the candidate on hand.
    [[nodiscard]] PairAnswer solve_with(std::size_t pair, int panels, const KeepGoing& keep_going = {}) const;

private:
    struct Counted {
        physics::FittedPanel curve;
        study::LevelPowers free_w{};  ///< one panel at its own maximum, by level
    };
    [[nodiscard]] PairBound bound_with(std::size_t pair, int panels) const;
    [[nodiscard]] std::optional<double> price_of(std::size_t pair, int panels) const;
    [[nodiscard]] PairAnswer fewest_near_the_most(std::size_t pair, const KeepGoing& keep_going) const;
    [[nodiscard]] PairAnswer best_count(std::size_t pair, const KeepGoing& keep_going) const;
    [[nodiscard]] Counted counted(const CataloguePanel& panel) const;

    std::vector<CataloguePanel> panels_;
    std::vector<CatalogueController> controllers_;
    CatalogueSite site_;
    std::string currency_;
    std::vector<std::pair<CataloguePanel, int>> kept_;
    MatchRequest request_;
    std::vector<Counted> counted_;       ///< by panel
    std::vector<Counted> counted_kept_;  ///< by kept panel
    std::vector<double> inputs_w_;       ///< by controller: what all its inputs take at most
    std::vector<double> kept_alone_w_;   ///< by controller: harvest of the panels that stay, alone
    bool panels_cost_ = true;       ///< false: one kind only, without a price
    bool controllers_cost_ = true;  ///< … one controller only
};

/// Whether `a` is listed before `b`: what holds first, then by value, then less wasted, cheaper, fewer panels, by the order of
/// the files.
[[nodiscard]] bool ranks_before(const PairAnswer& a, const PairAnswer& b, MatchBy by);

/// How a run over all pairs reaches the outside.
struct MatchHooks {
    InParallel in_parallel;
    /// Asked by many, also within a search: false stops.
    std::function<bool()> go_on;
    /// Called between blocks of pairs, with how many are settled.
    std::function<void(std::size_t done)> progress;
    /// Every pair in the order of the files, as soon as all before it are settled.
    std::function<void(const PairAnswer&)> take;
};

/// How many pairs went which way.
struct MatchTally {
    std::size_t solved = 0;
    std::size_t no_string = 0;
    std::size_t outranked = 0;
    std::size_t holds = 0;      ///< of those solved
    std::size_t may_exceed = 0;
    std::size_t none = 0;       ///< solved, and there is no usable wiring
    std::size_t filtered = 0;   ///< usable, and not what was asked for
};

struct MatchOutcome {
    std::vector<PairAnswer> best;  ///< the first `top` of all pairs done
    MatchTally tally;
    std::size_t done = 0;   ///< pairs settled, in the order of the files
    bool finished = true;   ///< false: stopped; `best` is of the pairs done
};

/// Settles every pair. The result does not depend on how many threads there are: pairs are looked at in blocks, and what
/// outranks a pair was settled in blocks before its own.
[[nodiscard]] MatchOutcome match(const MatchStudy& study, const MatchHooks& hooks = {});

inline constexpr Names match_by_names{
    Name{MatchBy::harvest, "harvest"},
    Name{MatchBy::cost, "cost"},
    Name{MatchBy::fill, "fill"},
};
[[nodiscard]] constexpr std::string_view name_of(MatchBy by) { return name_in(match_by_names, by); }
inline constexpr Names match_only_names{
    Name{MatchOnly::usable, "usable"},
    Name{MatchOnly::ready, "ready"},
    Name{MatchOnly::fits, "fits"},
    Name{MatchOnly::proven, "proven"},
};
[[nodiscard]] constexpr std::string_view name_of(MatchOnly only) { return name_in(match_only_names, only); }
inline constexpr Names settled_names{
    Name{Settled::solved, "solved"},
    Name{Settled::no_string, "no-string"},
    Name{Settled::outranked, "outranked"},
};
[[nodiscard]] constexpr std::string_view name_of(Settled settled) { return name_in(settled_names, settled); }

}  // namespace plait::search
