// What to change first, after a log was explained.
#pragma once

#include <plait/measured/log_explanation.hpp>
#include <plait/search/arrangement.hpp>

#include <optional>
#include <vector>

namespace plait::measured {

/// Another wiring, and what the search over all of them says it brings in a year's light.
struct BetterWiring {
    ArrayPlan plan;
    double now_w = 0.0;   ///< European-weighted watts of the wiring as it is
    double then_w = 0.0;  ///< … of the plan
    [[nodiscard]] double gain_ratio() const { return then_w / now_w - 1.0; }
};

struct LogAdvice {
    /// Causes with a loss somebody could do something about, the costliest first: no light, no heat, no scatter. Those
    /// below a hundredth of the measured energy are left out.
    std::vector<Cause> worth;
    /// Where the first of them lies in how array and input fit: the wiring to look at. Empty: none that is better.
    std::optional<BetterWiring> wiring;
};

/// True for losses that another wiring could mend: the input's window and limits.
[[nodiscard]] bool is_about_wiring(Cause cause);

[[nodiscard]] LogAdvice advice_on(const study::SystemModel& system, const ArrayPlan& plan, const LogAccount& account,
                                  const search::KeepGoing& keep_going = {});

}  // namespace plait::measured
