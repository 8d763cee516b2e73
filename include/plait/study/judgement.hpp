#pragma once

#include <plait/study/cautions.hpp>
#include <plait/study/harvest_account.hpp>
#include <plait/study/hot_spots.hpp>
#include <plait/study/system_model.hpp>
#include <plait/study/verdict.hpp>
#include <plait/study/wire_sheet.hpp>

#include <optional>
#include <string>
#include <vector>

namespace plait::study {

/// One finding with its rule, and the assumptions it rests on (indices into the judgement's list).
struct RuleVerdict {
    const rules::Rule* rule = nullptr;
    rules::Finding finding;
    rules::Cures cures;  ///< each alone; `study::apply` makes the change
    rules::Words words;
    std::vector<std::size_t> assumptions;
    bool turns_in_range = false;  ///< at another end of the site's temperature ranges it comes out differently

    /// True when neither a tolerance nor an assumed value nor a stated range could turn it.
    [[nodiscard]] bool proven() const { return finding.even_at_worst && assumptions.empty() && !turns_in_range; }
    [[nodiscard]] std::string_view test() const { return rule->tests[static_cast<std::size_t>(finding.test)]; }
    [[nodiscard]] std::string_view source() const { return rule->sources[static_cast<std::size_t>(finding.test)]; }
};

/// What would help, for the kind of panel in use: counts of panels in series.
struct Help {
    /// The coldest air at which no limit that must not be passed is, or may be by the tolerances, passed: by the method
    /// that decides. Absent where one is, or may be, passed at the site's own coldest air (nobody is to wait for summer),
    /// and where nobody knows the input's maximum.
    std::optional<Celsius> coldest_survived;
    std::optional<int> longest_string;   ///< within every such limit, beside as many strings as there are; one kind only
    std::optional<int> shortest_string;  ///< that starts and works on the hottest day; one kind only
};

/// Plain sums over one input's array, from the datasheets.
struct ArrayFacts {
    double pmax_w = 0.0;
    double stc_voc_v = 0.0;              ///< of the longest string
    double isc_a = 0.0;                  ///< all strings, bifacial gain included
    double bright_isc_a = 0.0;           ///< × 1.25 or more, NEC 690.8(A)(1): rules::array_bright_isc_a
    double continuous_isc_a = 0.0;       ///< × 1.25 again, NEC 690.8(B): the least for conductors
    std::array<double, 3> cold_voc_v{};  ///< by coefficient, code table, flat factor (rules::cold_methods)
    std::array<bool, 3> cold_method_applies{};
    double cold_vmp_v = 0.0;  ///< γ − α, highest string
    double hot_voc_v = 0.0;   ///< lowest string
    double hot_vmp_v = 0.0;   ///< γ − α, lowest string
};

/// The most that the other strings drive back through one, over the weathers, A ≥ 0; no weather where it is none.
struct ReverseCurrent {
    double current_a = 0.0;
    std::optional<rules::ConditionId> weather;
};

/// One string among unlike or unequally lit ones.
struct DrivenString {
    bool blocked = false;   ///< by a diode
    double rating_a = 0.0;  ///< the least maximum series fuse of its panels
    ReverseCurrent open_circuit;
    ReverseCurrent operating;  ///< where the input holds the array; weathers in which it does are looked at only
};

struct InputJudgement {
    std::size_t input = 0;
    InputWiring wiring;
    rules::ConditionPoints points;
    std::vector<RuleVerdict> verdicts;
    Verdict verdict;
    Help help;
    ArrayFacts facts;
    std::vector<DrivenString> driven;  ///< by string; empty when all are equal and equally lit
    LevelPowers level_power_w{};
    LevelPowers wireless_level_power_w{};  ///< were there no cables
    WireSheet wires;
};

/// A whole plan, judged.
struct Judgement {
    std::vector<InputJudgement> inputs;  ///< used inputs only
    std::vector<RuleVerdict> plan;       ///< rules about the inputs together
    Verdict verdict;
    HarvestAccount account;    ///< from every panel on hand down to what the plan takes
    Harvest harvest;           ///< with the shared limit
    Harvest free_harvest;      ///< every panel at its own maximum
    Harvest wireless_harvest;  ///< as `harvest`, were there no cables
    BatterySheet battery;
    std::vector<Assumption> assumptions;
    std::vector<physics::FittedPanel> curves;  ///< of every kind of the set-up
    std::vector<HotSpot> hot_spots;            ///< in the worst of the weathers
    std::vector<Caution> cautions;             ///< gravest first
    /// Of what would be harvested without cables, by the European weights.
    [[nodiscard]] double cables_cost_ratio() const { return 1.0 - harvest.european_w / wireless_harvest.european_w; }
};

/// One finding and where it is: nothing for a rule about the inputs together.
struct PlacedFinding {
    std::optional<std::size_t> input;
    const RuleVerdict* verdict = nullptr;
};
/// What keeps an input from taking all its array could give.
enum class ClippedBy { cables, inputs, shared_limit };
[[nodiscard]] ClippedBy clipped_by(const PlacedFinding& found);
/// Mean watts over the light of a year (European weights) that go where this finding says, with all others of its sort; 0
/// for one that does not clip.
[[nodiscard]] double clipped_cost_w(const Judgement& judgement, const PlacedFinding& found);

/// The findings behind the headline in the order of `rules::HeadlineShare`, the costlier of those that clip first. Where one
/// forbids the plan, nothing else follows.
[[nodiscard]] std::vector<PlacedFinding> headline_findings(const Judgement& judgement);

/// Judges a plan in full. At least one input must be used.
[[nodiscard]] Judgement judge(const SystemModel& system, const ArrayPlan& plan);

/// The set-up's assumptions with those the curves add (weak-light efficiency).
[[nodiscard]] std::vector<Assumption> all_assumptions(const SystemModel& system);

/// The curve of every kind of the set-up.
[[nodiscard]] std::vector<physics::FittedPanel> curves_of(const SystemModel& system);

/// Watts of several inputs together at one level, cut by the controller's shared limit.
[[nodiscard]] double shared_w(const Controller& controller, double sum_w);

}  // namespace plait::study
