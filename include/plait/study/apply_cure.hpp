#pragma once

#include <plait/model/setup.hpp>
#include <plait/rules/cure.hpp>

#include <optional>

namespace plait::study {

/// A set-up and its wiring after a change.
struct ChangedSetup {
    Setup setup;
    ArrayPlan plan;
};

/// The set-up and the plan with one cure made. Fuses, disconnect and connectors are stated once for all inputs, so they
/// change for all. Empty where the cure speaks about an input, a cable or a kind that is not there.
[[nodiscard]] std::optional<ChangedSetup> apply(const rules::Cure& cure, const Setup& setup, const ArrayPlan& plan);

}  // namespace plait::study
