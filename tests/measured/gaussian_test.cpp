// A Gaussian of correlated readings against what can be worked out by hand.
#include "card/gaussian.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace plait::measured;

TEST_CASE("one reading: the normal density") {
    Gaussian g(1);
    g.add(0, 0.3);
    g.add({0.4});  // 0.3² + 0.4² = 0.5²
    g.close();
    CHECK(g.distance_squared({2.0}, {1.0}) == Approx(4.0).epsilon(1e-14));
    // 1/(0.5·√(2π)) = 0.797884560802865: the tables' 0.39894228 over 0.5.
    CHECK(g.log_density({1.0}, {1.0}) == Approx(std::log(0.797884560802865)).epsilon(1e-14));
    CHECK(g.log_density({2.0}, {1.0}) == Approx(std::log(0.797884560802865) - 2.0).epsilon(1e-14));
}

TEST_CASE("two readings that err together: their difference is known better than each") {
    Gaussian g(2);
    g.add(0, 0.1);
    g.add(1, 0.1);
    g.add({1.0, 1.0});
    g.close();
    // Covariance 1.01 and 1.00: eigenvalues 2.01 along (1, 1), 0.01 along (1, −1).
    CHECK(g.distance_squared({1.0, 1.0}, {0.0, 0.0}) == Approx(2.0 / 2.01).epsilon(1e-12));
    CHECK(g.distance_squared({1.0, -1.0}, {0.0, 0.0}) == Approx(2.0 / 0.01).epsilon(1e-12));
    CHECK(g.log_density({0.0, 0.0}, {0.0, 0.0}) ==
          Approx(-std::log(2.0 * 3.14159265358979324) - 0.5 * std::log(2.01 * 0.01)).epsilon(1e-12));
}
