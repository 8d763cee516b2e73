// What may be wrong with an array, one record a fault: how it would change what meters read (`suspect`), how likely it
// is before anything is measured, and what to do about it.
#pragma once

#include <plait/measured/field_model.hpp>

#include <functional>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

namespace plait::measured {

/// The thing a suspicion is about; all count from 0.
struct FaultPlace {
    std::optional<std::size_t> input;
    std::optional<std::size_t> string;
    std::optional<std::size_t> kind;
    std::optional<std::size_t> other_kind;  ///< that hangs where `kind` is planned
    std::optional<std::size_t> other_input;
    std::optional<std::size_t> other_string;
};

/// One way the fault may be there. Of a fault that comes in degrees, `amounts` lists some from the least to the most;
/// any between them is as likely.
struct Suspicion {
    FaultPlace place;
    std::vector<double> amounts;              ///< empty: it is there or it is not
    double example_factor = 0.0;              ///< an amount to show
    std::function<FieldState(double)> state;  ///< at an amount
};
using Suspicions = std::vector<Suspicion>;

/// What an amount is of.
enum class AmountKind { none, light_left, light_factor, coefficient_per_k };

/// Where a string is: input and string, from 0.
struct StringPlace {
    std::size_t input = 0;
    std::size_t string = 0;
};

/// What is looked at. Suspicions keep `planned`: it must outlive them.
struct FaultScene {
    const Setup& setup;
    const ArrayPlan& plan;
    const FieldState& planned;
    std::vector<StringPlace> strings;  ///< those to be suspected
};

/// Strings without a reading of their own: this many stand for all of them. Faults between two strings would otherwise
/// grow with the square of their number, and tell nothing more.
inline constexpr std::size_t most_unread_strings = 8;

/// The scene of a plan: every string that a reading is of, and up to `most_unread_strings` others.
[[nodiscard]] FaultScene fault_scene(const FieldModel& model, const FieldState& planned,
                                     std::span<const ReadingPlace> read);

struct Fault {
    std::string_view id;
    std::string_view title;
    std::string_view meaning;  ///< how it shows
    std::string_view remedy;   ///< what to do
    AmountKind amount = AmountKind::none;
    bool never_connect = false;  ///< must be put right before anything is plugged in
    double weight = 0.0;         ///< how common, against the other faults: our judgement, no source
    void (*suspect)(const FaultScene&, Suspicions&) = nullptr;
};

/// What a fault's amount comes to in its own unit: the ratio of light left, the light in W/m², the Voc coefficient per kelvin;
/// 0 for a fault that has no amount.
[[nodiscard]] double amount_value(const FieldModel& model, const Fault& fault, const FaultPlace& place, double amount_factor);

/// Every fault, in the order of the card.
[[nodiscard]] std::span<const Fault* const> all_faults();

/// Before anything is measured: that nothing is wrong, and that something is which no fault above describes. The rest
/// is shared out by the faults' weights, and each fault's share among its suspicions. Our judgement, no source.
inline constexpr double sound_prior_ratio = 0.75;
inline constexpr double unknown_prior_ratio = 0.01;

}  // namespace plait::measured
