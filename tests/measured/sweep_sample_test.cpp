// A long sweep in bounded memory: nothing changes below the bound, and above it what is kept is like what was there.
#include <plait/measured/sweep_sample.hpp>

#include <catch2/catch.hpp>

#include <cmath>
#include <cstdint>

namespace plait::measured {
namespace {

SweepRow row_of(std::size_t i) {
    SweepRow r;
    r.line = static_cast<int>(i);
    r.voltage_v = 10.0 + static_cast<double>(i % 7);
    return r;
}

SweepSample sample_of(std::size_t n) {
    SweepSample s;
    for (std::size_t i = 0; i < n; ++i) s.add(row_of(i));
    return s;
}

}  // namespace

TEST_CASE("a sweep up to the bound is kept as it is") {
    for (const std::size_t n : {std::size_t{0}, std::size_t{1}, std::size_t{1000}, SweepSample::most_kept}) {
        const SweepSample s = sample_of(n);
        CHECK(s.seen() == n);
        CHECK(s.run_length() == 1);
        REQUIRE(s.rows().size() == n);
        for (std::size_t i = 0; i < n; ++i) REQUIRE(s.rows()[i].line == static_cast<int>(i));
    }
}

TEST_CASE("of a longer sweep one row of each run is kept, in order") {
    constexpr std::size_t most = SweepSample::most_kept;
    for (const std::size_t n :
         {most + 1, most + 2, 2 * most - 1, 2 * most, 2 * most + 1, 3 * most + 17, 9 * most + 5}) {
        INFO(n);
        const SweepSample s = sample_of(n);
        const std::size_t run = s.run_length();
        CHECK(s.seen() == n);
        CHECK(s.rows().size() <= most);
        CHECK(s.rows().size() >= most / 2);
        // Every whole run has its row; of the last, which may be cut short, the row may lie beyond the end.
        CHECK(s.rows().size() >= n / run);
        CHECK(s.rows().size() <= (n + run - 1) / run);
        std::size_t run_of_row = 0;
        for (const SweepRow& r : s.rows()) {
            REQUIRE(static_cast<std::size_t>(r.line) / run == run_of_row);
            ++run_of_row;
        }
    }
}

TEST_CASE("which row of a run is kept follows no pattern of the sweep") {
    // The place within the run by chance: of n runs each of the 16 places has n/16 within five standard deviations, and
    // so have the seven voltages, which come back every seventh row. Binomial distribution, common practice, no source.
    const SweepSample s = sample_of(16 * SweepSample::most_kept);
    REQUIRE(s.run_length() == 16);
    std::vector<double> places(16, 0.0);
    std::vector<double> volts(7, 0.0);
    for (const SweepRow& r : s.rows()) {
        ++places[static_cast<std::size_t>(r.line) % 16];
        ++volts[static_cast<std::size_t>(std::lround(r.voltage_v - 10.0))];
    }
    const auto n = static_cast<double>(s.rows().size());
    for (const double count : places) CHECK(std::abs(count - n / 16.0) < 5.0 * std::sqrt(n / 16.0));
    for (const double count : volts) CHECK(std::abs(count - n / 7.0) < 5.0 * std::sqrt(n / 7.0));
}

TEST_CASE("a window learned from a sample is that of all the rows") {
    // 8 A up to 30 V, then 240 W, with a scatter of 1 %; three times as many rows as are kept.
    std::vector<SweepRow> all;
    SweepSample sample;
    std::uint32_t state = 1;
    const std::size_t n = 3 * SweepSample::most_kept;
    for (std::size_t i = 0; i < n; ++i) {
        SweepRow r;
        r.line = static_cast<int>(i);
        r.voltage_v = 12.0 + 46.0 * static_cast<double>(i) / static_cast<double>(n);
        state = state * 1664525U + 1013904223U;
        const double scatter = (static_cast<double>(state >> 8U) / 16777216.0 - 0.5) * 0.03;
        r.current_a = std::min(8.0, 240.0 / r.voltage_v) * (1.0 + scatter);
        r.step_value = 0.001;
        all.push_back(r);
        sample.add(r);
    }
    const auto whole = learn_window(all, {});
    const auto sampled = learn_window(sample.rows(), {});
    REQUIRE(whole);
    REQUIRE(sampled);
    REQUIRE(whole->pieces.size() == 2);
    REQUIRE(sampled->pieces.size() == 2);
    for (std::size_t k = 0; k < 2; ++k) {
        const double level = whole->pieces[k].level.value;
        CHECK(sampled->pieces[k].kind == whole->pieces[k].kind);
        // Some 15 000 rows a piece and a scatter of 0.87 %: a standard error of 0.007 %, of which five are allowed.
        CHECK(std::abs(sampled->pieces[k].level.value / level - 1.0) < 5.0 * 0.0087 / std::sqrt(15000.0));
    }
    CHECK(sampled->power_w->value == Approx(240.0).epsilon(0.001));
}

}  // namespace plait::measured
