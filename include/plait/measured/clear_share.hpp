// How the light that volts and amps tell compares with a clear sky's, where nobody measured it: the one hint that the sun
// gives of a string that is missing all day.
#pragma once

#include <plait/measured/log_explanation.hpp>

#include <optional>

namespace plait::measured {

class ClearShare {
public:
    /// Rows by rising time. Counted are those whose light was not measured, under a sun worth speaking of, and in which
    /// the array itself decided, so that amps tell the light.
    void add(const ExplainedRow& row);
    /// Of the hours of the clock that are covered to three quarters: the light reckoned with over a clear sky's, in the
    /// one in which it is most. Empty where there is no such hour.
    [[nodiscard]] std::optional<double> best_hour_ratio() const;

private:
    struct Hour {
        double covered_s = 0.0;
        double light_ws = 0.0;  // per m²
        double clear_ws = 0.0;
        /// Empty where too little of the hour is there.
        [[nodiscard]] std::optional<double> share_ratio() const;
    };
    double hour_h_ = 0.0;
    Hour now_;
    std::optional<double> best_ratio_;
};

}  // namespace plait::measured
