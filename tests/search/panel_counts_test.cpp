#include "panel_counts.hpp"

#include <catch2/catch.hpp>

#include <vector>

using namespace plait::search;

TEST_CASE("panel counts: a walk meets every pair of which one holds the other, once and rising") {
    for (const std::vector<int>& on_hand :
         {std::vector{0}, std::vector{5}, std::vector{3, 2}, std::vector{2, 0, 3, 1}}) {
        const PanelCounts counts(on_hand);
        for (std::size_t c = 0; c < counts.size(); ++c) {
            CAPTURE(on_hand.size(), c);
            std::vector<std::size_t> parts;
            std::vector<std::size_t> wholes;
            for (std::size_t other = 0; other < counts.size(); ++other) {
                if (counts.holds(c, other)) parts.push_back(other);
                if (counts.holds(other, c)) wholes.push_back(other);
            }
            std::vector<std::size_t> met;
            counts.for_each_part(c, [&](std::size_t part) { met.push_back(part); });
            CHECK(met == parts);
            met.clear();
            counts.for_each_whole(c, [&](std::size_t whole) { met.push_back(whole); });
            CHECK(met == wholes);
        }
    }
}

TEST_CASE("panel counts: sums over all parts") {
    const PanelCounts counts({3, 2});
    std::vector<double> sums(counts.size(), 1.0);
    counts.over_parts(sums, [](double& whole, double part) { whole += part; });
    for (std::size_t c = 0; c < counts.size(); ++c) {
        CHECK(sums[c] == (counts.of(c)[0] + 1.0) * (counts.of(c)[1] + 1.0));
    }
}
