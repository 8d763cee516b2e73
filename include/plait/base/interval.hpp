// A value known only to a tolerance. Boost's interval arithmetic carries the ends through every product and sum.
// Rounding is left alone on purpose: the tolerances are per cent, an outward rounding step is 1e-16, and it would
// turn "125 A against a limit of 125 A" into "undecided". It also keeps the library free of floating-point modes,
// which a browser build does not have.
#pragma once

#include <boost/numeric/interval/arith.hpp>
#include <boost/numeric/interval/checking.hpp>
#include <boost/numeric/interval/interval.hpp>
#include <boost/numeric/interval/policies.hpp>
#include <boost/numeric/interval/rounding.hpp>
#include <boost/numeric/interval/rounded_arith.hpp>
#include <boost/numeric/interval/utility.hpp>

namespace plait {

using Interval =
    boost::numeric::interval<double, boost::numeric::interval_lib::policies<
                                         boost::numeric::interval_lib::rounded_arith_exact<double>,
                                         boost::numeric::interval_lib::checking_base<double>>>;

/// The interval nominal·(1 − below) … nominal·(1 + above); the ratios are not negative.
[[nodiscard]] inline Interval within(double nominal_value, double below_ratio, double above_ratio) {
    return nominal_value * Interval(1.0 - below_ratio, 1.0 + above_ratio);
}

}  // namespace plait
