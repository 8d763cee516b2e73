#pragma once

#include <plait/base/temperature.hpp>
#include <plait/model/setup.hpp>
#include <plait/physics/diode_model.hpp>
#include <plait/physics/operating_point.hpp>
#include <plait/rules/condition.hpp>
#include <plait/rules/cure.hpp>
#include <plait/rules/figure.hpp>
#include <plait/rules/finding.hpp>

#include <array>
#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace plait::rules {

/// The weather a wiring is looked at in.
enum class ConditionId { cold_bright, stc, warm_bright, hot_bright, weak_light };
inline constexpr std::size_t condition_count = 5;

/// One string among unlike ones in parallel, A; negative: the others drive current back through it.
struct StringCurrent {
    double operating_a = 0.0;  ///< where the input holds the array; at open circuit if it holds none
    double open_circuit_a = 0.0;
    /// Of the current driven back at open circuit, ≥ 0, over the tolerances of Voc and Isc. Only in the weather in
    /// which the string that stands worst against its panels' fuse rating is driven back most; zero in others.
    Interval reverse_spread_a;
};

/// What the cables between array and input do at an operating point.
struct CableEffect {
    double drop_v = 0.0;              ///< the loss over the current: with unlike strings a mean
    double loss_w = 0.0;              ///< turned into heat
    physics::OperatingPoint without;  ///< the point if they were not there
};

/// What one input's array does in one condition, seen from the input.
struct ConditionPoint {
    ConditionId id = ConditionId::stc;
    Celsius air;
    physics::Condition condition;
    physics::OperatingPoint operating;
    double open_circuit_v = 0.0;
    double short_circuit_a = 0.0;
    std::vector<StringCurrent> strings;  ///< empty when all are equal and equally lit: none drives another
    std::optional<CableEffect> cable;    ///< where the set-up has cables on this way
    /// What they turn into heat of what the array gives; 0 without cables.
    [[nodiscard]] double cable_loss_ratio() const;
};
using ConditionPoints = std::array<ConditionPoint, condition_count>;

[[nodiscard]] std::string_view name_of(ConditionId id);
[[nodiscard]] std::string_view title_of(ConditionId id);
/// The same as the beginning of a sentence: "When it is cold and bright", "At test conditions (STC)".
[[nodiscard]] std::string_view when(ConditionId id);

/// One input with what is plugged into it.
struct WiredInput {
    std::size_t input = 0;  ///< of the controller
    const InputWiring* wiring = nullptr;
    const ConditionPoints* points = nullptr;
};

/// What a rule looks at. Rules about one input look at `here`; rules about the whole plan at `plan` (used inputs only).
struct Situation {
    const Setup& setup;
    WiredInput here;
    std::span<const WiredInput> plan;
    std::span<const physics::FittedPanel> curves;  ///< of every kind of the set-up; empty: the datasheets' lines alone

    [[nodiscard]] StatedArray stated() const { return {setup, curves}; }
    [[nodiscard]] const Controller& controller() const { return setup.controller; }
    [[nodiscard]] const Input& input() const { return setup.controller.inputs[here.input]; }
    [[nodiscard]] const Site& site() const { return setup.site; }
    [[nodiscard]] const InputWiring& wiring() const { return *here.wiring; }
    [[nodiscard]] const ConditionPoints& points() const { return *here.points; }
    [[nodiscard]] const Panel& panel(const PanelPlace& place) const { return setup.kinds[place.kind].panel; }
};

/// What was found, in words, and what to do about it; the second is empty when there is nothing to do. `say` of a rule
/// leaves to `words_of` what can be said from the cures: its `instead` follows them.
struct Words {
    std::string because;
    std::string instead;
};

enum class Scope { input, plan };

/// One rule: what it guards against, on whose authority, and how it is worked out. `check` gives numbers only and no
/// finding where the rule does not apply; `say` puts one of its findings into words, `cure` lists what would cure it.
struct Rule {
    std::string_view id;
    std::string_view title;
    std::string_view harm;
    std::span<const std::string_view> tests;    ///< a name for each test of the rule; one is enough for most
    std::span<const std::string_view> sources;  ///< the authority of each test
    std::span<const Quantity> rests_on;         ///< what was assumed of these makes a finding unproven
    /// The same for each test by itself, beyond what all rest on; empty, or one for each test.
    std::span<const std::span<const Quantity>> tests_rest_on{};
    Scope scope = Scope::input;
    /// Looks at the datasheets alone, not at the curves; and once some strings break its limit, no further string in
    /// parallel mends that. A search over wirings may turn back there.
    bool stays_broken = false;
    /// Looks at the points of the input's curves: it cannot be asked about a wiring of which only the panels are known.
    bool asks_curves = false;
    void (*check)(const Situation&, Findings&) = nullptr;
    Words (*say)(const Situation&, const Finding&) = nullptr;
    /// What to add, of a finding that is `Outcome::needs`; every rule that can find that has it, no other.
    Condition (*condition)(const Situation&, const Finding&) = nullptr;
    void (*cure)(const Situation&, const Finding&, Cures&) = nullptr;  ///< null: nothing in numbers cures it
};

/// Whether what a test of a rule finds rests on a quantity.
[[nodiscard]] bool rests_on(const Rule& rule, int test, Quantity quantity);

}  // namespace plait::rules
