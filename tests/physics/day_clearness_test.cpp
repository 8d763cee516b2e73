// The days of a month, clear and dull, from the month's mean.
#include <plait/physics/day_clearness.hpp>

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <vector>

using plait::physics::day_clearness;

namespace {

double mean_of(const std::vector<double>& v) { return std::accumulate(v.begin(), v.end(), 0.0) / static_cast<double>(v.size()); }

}  // namespace

TEST_CASE("a month's days have its mean, dullest first, none clearer than a clear day") {
    for (double mean = 0.02; mean < 0.8; mean += 0.01) {
        for (const double clear : {0.3, 0.55, 0.72, 0.9}) {
            for (const std::size_t days : {std::size_t{1}, std::size_t{28}, std::size_t{31}}) {
                INFO(mean << " of " << clear << ", " << days << " days");
                const std::vector<double> all = day_clearness(mean, clear, days);
                REQUIRE(all.size() == days);
                CHECK(mean_of(all) == Approx(mean).epsilon(1e-12));
                CHECK(std::is_sorted(all.begin(), all.end()));
                if (mean < clear) CHECK(all.back() <= clear * (1.0 + 1e-9));
                if (mean > 0.05) CHECK(all.front() >= 0.05 - 1e-9);
            }
        }
    }
}

TEST_CASE("the days are those of the published distribution") {
    // The share of days up to a clearness K is (exp(γ·0.05) − exp(γ·K)) / (exp(γ·0.05) − exp(γ·Kmax)). For γ there is a
    // published fit, which shares nothing with the root that is solved here: γ = −1.498 + (1.184·ξ − 27.182·exp(−1.5·ξ))
    // / (Kmax − 0.05) with ξ = (Kmax − 0.05)/(Kmax − mean) (Herzog 1985, in Duffie and Beckman, Solar Engineering of
    // Thermal Processes, equations 2.9.6 and 2.9.7 [from memory]).
    for (const double mean : {0.3, 0.4, 0.5, 0.6, 0.7}) {
        const double most = 0.6313 + 0.267 * mean - 11.9 * std::pow(mean - 0.75, 8.0);
        const double xi = (most - 0.05) / (most - mean);
        const double slope = -1.498 + (1.184 * xi - 27.182 * std::exp(-1.5 * xi)) / (most - 0.05);
        const std::size_t days = 1000;
        const std::vector<double> all = day_clearness(mean, 1.0, days);
        for (const double clearness : {0.15, 0.3, 0.45, 0.6, 0.7}) {
            if (clearness >= most) continue;
            const double published =
                (std::exp(slope * 0.05) - std::exp(slope * clearness)) / (std::exp(slope * 0.05) - std::exp(slope * most));
            const auto below = std::upper_bound(all.begin(), all.end(), clearness) - all.begin();
            INFO("mean " << mean << ", up to " << clearness);
            CHECK(static_cast<double>(below) / static_cast<double>(days) == Approx(published).margin(0.02));
        }
    }
}

TEST_CASE("where only one kind of day is possible all days are alike") {
    CHECK(day_clearness(0.7, 0.65, 3) == std::vector<double>(3, 0.7));
    CHECK(day_clearness(0.03, 0.65, 3) == std::vector<double>(3, 0.03));
    CHECK(day_clearness(0.0, 0.0, 3) == std::vector<double>(3, 0.0));
}
