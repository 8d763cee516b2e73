// One bracketed root, by Boost. The policy keeps Boost from throwing: the browser build has no exceptions.
#pragma once

#include <boost/math/policies/policy.hpp>
#include <boost/math/tools/toms748_solve.hpp>

#include <cmath>
#include <cstdint>
#include <optional>

namespace plait::physics {

/// The x between `low` and `high` where f crosses zero, to `width`; nothing where f has one sign at both ends.
/// Algorithm 748 (Alefeld, Potra & Shi, ACM TOMS 21, 1995): never slower than bisection by more than a factor.
template <class F>
[[nodiscard]] std::optional<double> crossing(F f, double low, double high, double width) {
    namespace policies = boost::math::policies;
    using Quiet = policies::policy<policies::domain_error<policies::errno_on_error>,
                                   policies::evaluation_error<policies::errno_on_error>>;
    const double f_low = f(low);
    const double f_high = f(high);
    if (f_low == 0.0) return low;
    if (f_high == 0.0) return high;
    if (!(f_low * f_high < 0.0)) return std::nullopt;
    std::uintmax_t steps = 100;
    const auto close_enough = [width](double a, double b) { return std::abs(b - a) <= width; };
    const auto bracket = boost::math::tools::toms748_solve(f, low, high, f_low, f_high, close_enough, steps, Quiet{});
    return 0.5 * (bracket.first + bracket.second);
}

}  // namespace plait::physics
