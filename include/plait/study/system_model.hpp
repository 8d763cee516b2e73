// The physics of one set-up, worked out once: each kind's curve, each input's window, and what an array gives there.
#pragma once

#include <plait/model/setup.hpp>
#include <plait/physics/acceptance_window.hpp>
#include <plait/physics/array_curve.hpp>
#include <plait/physics/datasheet_fit.hpp>
#include <plait/physics/reverse_current.hpp>
#include <plait/rules/rule.hpp>

#include <array>
#include <cstddef>
#include <memory>
#include <span>
#include <vector>

namespace plait::study {

/// Irradiance levels (share of 1000 W/m²) at which a wiring's harvest is worked out.
inline constexpr std::array harvest_levels{0.05, 0.10, 0.20, 0.30, 0.50, 0.75, 1.00};
using LevelPowers = std::array<double, harvest_levels.size()>;  ///< W at each level

/// Mean power over the irradiance of a year, by the weights of the "European" and "CEC" efficiencies (EN 50530 /
/// IEC 61683 practice) [from memory], on a warm day.
struct Harvest {
    double european_w = 0.0;
    double cec_w = 0.0;
};
[[nodiscard]] Harvest weighted(const LevelPowers& power_w);

/// One condition for each kind of the set-up: unlike panels warm unlike in the same weather.
using KindConditions = std::vector<physics::Condition>;

enum class Wires { counted, left_out };

/// Equal strings in parallel behind equal resistances, and all of them behind the trunk: one resistance more in the
/// curve.
[[nodiscard]] physics::DiodeCurve behind(physics::DiodeCurve curve, const physics::WireResistance& wires);

class SystemModel {
public:
    /// Fits every kind. Every panel of the set-up must be plausible, as the reader leaves them.
    explicit SystemModel(const Setup& setup);

    [[nodiscard]] const Setup& setup() const { return *setup_; }
    /// The same set-up at the other ends of the site's temperature ranges; empty where each temperature is one value.
    [[nodiscard]] std::span<const SystemModel> other_ends() const { return other_ends_; }
    [[nodiscard]] const physics::FittedPanel& fitted(std::size_t kind) const { return fitted_[kind]; }
    /// The curve of every kind.
    [[nodiscard]] std::span<const physics::FittedPanel> curves() const { return fitted_; }
    /// What rules work out an array's figures from.
    [[nodiscard]] rules::StatedArray stated() const { return {*setup_, fitted_}; }
    [[nodiscard]] const physics::AcceptanceWindow& window(std::size_t input) const { return windows_[input]; }

    /// Bypass groups of a panel of this kind.
    [[nodiscard]] std::size_t group_count(std::size_t kind) const { return panels_[kind].group_count(); }
    [[nodiscard]] std::span<const physics::PanelPhysics> panels() const { return panels_; }

    /// Each kind in a named weather.
    [[nodiscard]] KindConditions conditions(rules::ConditionId id) const;
    /// Each kind in air of some temperature, warmed by the light as the site's mounting has it.
    [[nodiscard]] KindConditions conditions_in_air(double irradiance_w_per_m2, Celsius air) const;

    /// A wiring whose places say themselves how much warmer they are than one condition for all.
    struct WarmedWiring {
        InputWiring wiring;
        physics::Condition condition;  ///< of the first panel
    };
    /// Any wiring, every panel at its own kind's cell temperature. The wiring must not be empty.
    [[nodiscard]] WarmedWiring warmed(const InputWiring& wiring, const KindConditions& by_kind) const;
    /// The curve of `warmed`, at the far end of the wires.
    [[nodiscard]] physics::ArrayCurve curve(const InputWiring& wiring, const KindConditions& by_kind,
                                            const physics::WireResistance& wires = {}) const;
    /// Where an input holds a curve.
    [[nodiscard]] physics::OperatingPoint operating_point(std::size_t input, const physics::ArrayCurve& curve) const;
    [[nodiscard]] physics::OperatingPoint operating_point(std::size_t input, const physics::DiodeCurve& curve) const;

    /// What the wiring does on an input in each condition. The wiring must not be empty.
    [[nodiscard]] rules::ConditionPoints points(std::size_t input, const InputWiring& wiring) const;
    /// The curve of a wiring at a harvest level.
    [[nodiscard]] physics::ArrayCurve level_curve(const InputWiring& wiring, std::size_t level,
                                                  const physics::WireResistance& wires = {}) const;
    /// Watts taken by the input at a harvest level.
    [[nodiscard]] double level_power_w(std::size_t input, const InputWiring& wiring, std::size_t level,
                                       Wires wires = Wires::counted) const;
    /// Watts taken by the input at each harvest level.
    [[nodiscard]] LevelPowers level_powers(std::size_t input, const InputWiring& wiring,
                                           Wires wires = Wires::counted) const;
    /// The cables of the set-up between this wiring and the input. Behind a direct-connect controller the battery's
    /// cable is one of them: the array's current flows through it.
    [[nodiscard]] physics::WireResistance wires(std::size_t input, const InputWiring& wiring) const;
    /// Watts the same panels would give one by one, in the light they have, each at its own maximum, at each harvest
    /// level.
    [[nodiscard]] LevelPowers free_powers(const InputWiring& wiring) const;

private:
    /// The curves of every kind in the weather of the set-up's site.
    void fill_weather();
    template <class Curve>
    [[nodiscard]] physics::OperatingPoint point(std::size_t input, const Curve& curve) const;
    /// What tolerances may make of the current driven back, in the weather in which that is worst.
    void spread_reverse_currents(const InputWiring& wiring, rules::ConditionPoints& points,
                                 const physics::WireResistance& on_the_way) const;

    const Setup* setup_;
    std::shared_ptr<const Setup> own_setup_;  ///< of another end; others look at the caller's
    std::vector<SystemModel> other_ends_;
    std::vector<physics::FittedPanel> fitted_;
    std::vector<physics::PanelPhysics> panels_;
    std::vector<physics::AcceptanceWindow> windows_;
    std::vector<std::array<physics::DiodeCurve, rules::condition_count>> condition_curves_;
    std::vector<std::array<physics::Condition, rules::condition_count>> conditions_;
    std::vector<std::array<physics::DiodeCurve, harvest_levels.size()>> level_curves_;
};

/// How far a string may lie off its curve: as far as the panel in it that is known least well.
[[nodiscard]] physics::StringTolerance tolerance_of(const Setup& setup, const SeriesString& string);

}  // namespace plait::study
