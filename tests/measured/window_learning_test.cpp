#include <plait/measured/window_learning.hpp>

#include <catch2/catch.hpp>

#include <cmath>
#include <map>
#include <string>

#include "bench_sweeps.hpp"

namespace plait::measured::test {
namespace {

LearnedWindow learned(const std::vector<SweepRow>& rows, double accuracy_ratio = 0.0) {
    auto found = learn_window(rows, {accuracy_ratio});
    INFO((found ? "" : found.error()));
    REQUIRE(found);
    return *std::move(found);
}

std::vector<SweepRow> sweep(const std::vector<std::pair<double, double>>& volts_and_amps) {
    std::vector<SweepRow> rows;
    for (const auto& [v, a] : volts_and_amps) {
        SweepRow r;
        r.line = static_cast<int>(rows.size()) + 2;
        r.voltage_v = v;
        r.current_a = a;
        rows.push_back(r);
    }
    return rows;
}

struct Expected {
    PieceKind kind;
    double from_v, to_v, level;
};

// What of a true window the sweep can show.
std::vector<Expected> expected_of(const TrueWindow& w) {
    std::vector<Expected> all;
    for (const TrueBand& b : w.bands) {
        const double from_v = std::max(b.from_v, w.start_v);
        const double to_v = std::min(b.to_v, w.trip_v);
        const double takeover_v = w.power_w / b.limit_a;
        if (from_v < std::min(to_v, takeover_v)) {
            all.push_back({PieceKind::constant_current, from_v, std::min(to_v, takeover_v), b.limit_a});
        }
        if (takeover_v < to_v)
            all.push_back({PieceKind::constant_power, std::max(from_v, takeover_v), to_v, w.power_w});
    }
    return all;
}

/// How often the stated intervals held the truth; a figure that is missing counts as one that did not.
class Tally {
public:
    void put(const std::string& what, double truth, const std::optional<Interval>& stated) {
        auto& [held, all] = counts_[what];
        held += stated && stated->lower() <= truth && truth <= stated->upper() ? 1 : 0;
        ++all;
    }
    [[nodiscard]] double share() const {
        double held = 0;
        double all = 0;
        for (const auto& [what, c] : counts_) {
            held += c.first;
            all += c.second;
        }
        return held / all;
    }
    [[nodiscard]] std::string text() const {
        std::string out;
        for (const auto& [what, c] : counts_) {
            out += what + " " + std::to_string(c.first) + " of " + std::to_string(c.second) + "\n";
        }
        return out;
    }

private:
    std::map<std::string, std::pair<int, int>> counts_;
};

std::optional<Interval> likely(const std::optional<SwitchVoltage>& s) {
    return s ? std::optional<Interval>(s->likely_v()) : std::nullopt;
}

struct Coverage {
    Tally tally;
    int wrong_count = 0;  ///< windows cut into another number of pieces
    int clear = 0;        ///< windows no supply clipped, where that number is known
};

Coverage coverage_over(std::uint32_t seed, int windows) {
    Dice dice(seed);
    Coverage c;
    Tally& tally = c.tally;
    for (int n = 0; n < windows; ++n) {
        const Sweep s = random_sweep(dice);
        const TrueWindow& w = s.truth;
        const LearnedWindow found = learned(s.rows);
        tally.put("start", w.start_v, likely(found.start));
        if (s.trips) tally.put("trip", w.trip_v, likely(found.trip));
        if (s.falling) tally.put("stop", w.stop_v, likely(found.stop));
        if (s.falling && s.trips) tally.put("recovery", w.recovery_v, likely(found.recovery));
        const std::vector<Expected> wanted = expected_of(w);
        for (std::size_t k = 0; k < wanted.size(); ++k) {
            const Expected& e = wanted[k];
            const bool band = e.kind == PieceKind::constant_current;
            const auto most_a = [&](const Expected& x) {
                return x.kind == PieceKind::constant_current ? x.level : x.level / x.from_v;
            };
            if (most_a(e) > s.supply_a) continue;  // the supply ended first
            std::optional<Interval> stated;
            double most_v = 0.0;
            for (const LearnedPiece& p : found.pieces) {
                const double shared_v = std::min(p.to_v, e.to_v) - std::max(p.from_v, e.from_v);
                if (p.kind != e.kind || shared_v <= most_v) continue;
                most_v = shared_v;
                stated = p.level.likely;
            }
            tally.put(band ? "band" : "power", e.level, stated);
            if (k == 0 || most_a(wanted[k - 1]) > s.supply_a) continue;
            if (!band) {
                tally.put("takeover", e.from_v,
                          found.takeover_v ? std::optional<Interval>(found.takeover_v->likely) : std::nullopt);
                continue;
            }
            std::optional<Interval> edge;
            double nearest_v = 1e9;
            for (const SwitchVoltage& change : found.changes) {
                if (std::abs(change.middle_v() - e.from_v) >= nearest_v) continue;
                nearest_v = std::abs(change.middle_v() - e.from_v);
                edge = change.likely_v();
            }
            tally.put("edge", e.from_v, edge);
        }
        if (s.supply_a > 1e8) {
            ++c.clear;
            c.wrong_count += found.pieces.size() == wanted.size() ? 0 : 1;
        }
        CHECK(found.noise_ratio > 0.5 * s.noise_ratio);
        CHECK(found.noise_ratio < 2.0 * s.noise_ratio);
    }
    return c;
}

void check(const Coverage& c) {
    INFO(c.tally.text());
    INFO(c.wrong_count << " of " << c.clear << " windows cut into another number of pieces");
    CHECK(c.tally.share() >= 0.93);
    CHECK(c.tally.share() <= 0.97);
    CHECK(c.wrong_count * 20 <= c.clear);
}

TEST_CASE("the stated intervals hold the truth 19 times in 20, over 300 windows") {
    check(coverage_over(20240601, 300));
}

// Longer than a test should take; its table stands in docs/learn.md.
TEST_CASE("… over 1000 other windows", "[.coverage]") {
    const Coverage c = coverage_over(7, 1000);
    WARN(c.tally.text() << c.wrong_count << " of " << c.clear << " windows cut into another number of pieces");
    check(c);
}

TEST_CASE("eight readings by hand are enough") {
    // Common practice, no source: a car-socket band of about 8 A at 12–24 V; a few per cent over its maximum the input
    // trips, and recovers by itself.
    const LearnedWindow w =
        learned(sweep({{10, 0}, {12, 8.0}, {18, 8.1}, {24, 7.9}, {30, 13.0}, {40, 13.1}, {61, 0.0}, {59, 13.0}}));
    REQUIRE(w.pieces.size() == 2);
    CHECK(w.pieces[0].kind == PieceKind::constant_current);
    CHECK(w.pieces[0].level.value == Approx(8.0));
    CHECK(w.pieces[0].from_v == 12.0);
    CHECK(w.pieces[0].to_v == 24.0);
    CHECK(w.pieces[1].level.value == Approx(13.03).margin(0.02));
    REQUIRE(w.start);
    CHECK(w.start->between_v.lower() == 10.0);
    CHECK(w.start->between_v.upper() == 12.0);
    REQUIRE(w.trip);
    CHECK(w.trip->between_v.upper() == 61.0);
    // Back at 59 V it worked: it tripped no lower, and recovered above.
    CHECK(w.trip->between_v.lower() == 59.0);
    REQUIRE(w.recovery);
    CHECK(w.recovery->between_v.lower() == 59.0);
    CHECK(w.recovery->between_v.upper() == 61.0);
    CHECK(w.pieces[0].level.likely.lower() < 8.0);
    CHECK(w.pieces[0].level.likely.upper() > 8.0);
}

TEST_CASE("an input limited to 1200 W draws 10 A at 120 V") {
    // Common practice, no source.
    const LearnedWindow w = learned(
        sweep({{20, 15}, {40, 15}, {60, 15}, {79, 15}, {90, 13.33}, {100, 12}, {110, 10.91}, {120, 10}, {130, 9.23}}));
    REQUIRE(w.pieces.size() == 2);
    REQUIRE(w.power_w);
    CHECK(w.power_w->value == Approx(1200).epsilon(0.001));
    REQUIRE(w.takeover_v);
    CHECK(w.takeover_v->value == Approx(80).epsilon(0.001));
    REQUIRE(w.rows[7].fitted_a);
    CHECK(*w.rows[7].fitted_a == Approx(10).epsilon(0.001));
    CHECK_FALSE(w.trip);
}

TEST_CASE("hysteresis is told by the direction of the sweep") {
    const LearnedWindow w = learned(
        sweep({{10, 0}, {11, 0}, {12, 8}, {20, 8}, {30, 8}, {40, 8}, {50, 8}, {60, 8}, {61, 8}, {62, 0}, {63, 0},
               {62, 0}, {61, 0}, {60, 0}, {59, 8}, {50, 8}, {40, 8}, {20, 8}, {12, 8}, {11, 8}, {10, 0}}));
    REQUIRE(w.trip);
    REQUIRE(w.recovery);
    REQUIRE(w.start);
    REQUIRE(w.stop);
    CHECK(w.trip->between_v.lower() == 61.0);
    CHECK(w.trip->between_v.upper() == 62.0);
    CHECK(w.recovery->between_v.lower() == 59.0);
    CHECK(w.recovery->between_v.upper() == 60.0);
    CHECK(w.start->between_v.upper() == 12.0);
    CHECK(w.stop->between_v.upper() == 11.0);
    CHECK(w.outlier_count == 0);
}

TEST_CASE("where the supply was the limit there is no band") {
    std::vector<SweepRow> rows = sweep({{12, 8}, {16, 8}, {20, 8}, {24, 8}, {30, 10}, {40, 10}, {50, 10}, {60, 10}});
    for (std::size_t i = 4; i < rows.size(); ++i) rows[i].supply_was_the_limit = true;
    const LearnedWindow w = learned(rows);
    REQUIRE(w.pieces.size() == 2);
    CHECK(w.pieces[1].kind == PieceKind::at_least);
    CHECK(w.pieces[1].level.value == Approx(10));
    CHECK(w.censored_count == 4);
}

TEST_CASE("readings without scatter are known to half their last digit, no better and no worse") {
    // One decimal, so a rounding error of 0.1/√12 A; three readings and two levels leave t = 2.78 for four residuals.
    const LearnedWindow w =
        learned(sweep({{50, 8.0}, {40, 10.0}, {30, 13.3}, {20, 15.0}, {15, 15.0}, {12, 15.0}, {11, 0}}));
    REQUIRE(w.pieces.size() == 2);
    CHECK(w.pieces[0].level.value == 15.0);
    const double half_a = 2.776 * 0.1 / std::sqrt(12.0) / std::sqrt(3.0);
    CHECK(w.pieces[0].level.likely.upper() == Approx(15.0 + half_a).margin(0.3 * half_a));
    REQUIRE(w.stop);
    CHECK(w.stop->between_v.lower() == 11.0);
}

TEST_CASE("an outlier is named and moves nothing; a meter's own error widens the intervals") {
    std::vector<SweepRow> rows = sweep(
        {{12, 8.02}, {14, 7.98}, {16, 8.05}, {18, 4.0}, {20, 7.95}, {22, 8.0}, {24, 8.03}, {26, 7.97}, {28, 8.0}});
    const LearnedWindow w = learned(rows);
    REQUIRE(w.pieces.size() == 1);
    CHECK(w.pieces[0].level.value == Approx(8.0).margin(0.01));
    CHECK(w.rows[3].use == RowUse::stands_apart);
    CHECK(w.outlier_count == 1);
    const LearnedWindow coarse = learned(rows, 0.02);
    CHECK(coarse.pieces[0].level.likely.upper() > 8.15);
    CHECK(w.pieces[0].level.likely.upper() < 8.15);
}

TEST_CASE("a log of ten readings a second is learned like a sweep by hand, in no more time than its reading takes") {
    Dice dice(5);
    std::vector<SweepRow> rows;
    for (int i = 0; i < 50000; ++i) {
        SweepRow r;
        r.line = i + 2;
        r.voltage_v = 8.0 + 60.0 * i / 50000.0;
        const double wanted_a = r.voltage_v < 11.0 || r.voltage_v > 63.0
                                    ? 0.0
                                    : std::min(r.voltage_v < 24.0 ? 8.0 : 13.0, 500.0 / r.voltage_v);
        r.current_a = wanted_a * (1.0 + 0.015 * dice.normal());
        rows.push_back(r);
    }
    const LearnedWindow w = learned(rows);
    REQUIRE(w.pieces.size() == 3);
    CHECK(w.pieces[0].level.value == Approx(8).epsilon(0.002));
    CHECK(w.pieces[1].level.value == Approx(13).epsilon(0.002));
    CHECK(w.power_w->value == Approx(500).epsilon(0.002));
    CHECK(w.changes[0].middle_v() == Approx(24).margin(0.01));
    CHECK(w.start->middle_v() == Approx(11).margin(0.01));
    CHECK(w.trip->middle_v() == Approx(63).margin(0.01));
}

TEST_CASE("sweeps that say nothing are refused with what to do") {
    CHECK(learn_window({}, {}).error().find("fewer than four readings") == 0);
    CHECK(learn_window(sweep({{12, 0}, {20, 0}, {30, 0}, {40, 0}}), {}).error().find("nothing was ever taken") == 0);
    CHECK(learn_window(sweep({{12, 1}, {20, 0}, {30, 9}, {40, 0}}), {}).error().find("no two readings") == 0);
    CHECK_FALSE(learn_window(sweep({{0, 1}, {-3, 2}, {std::nan(""), 9}, {40, 0}}), {}));
}

TEST_CASE("a trip and its recovery in a hand-written sweep, with two readings on the way down") {
    // 8 A up to 60 V, as printed; trips between 61 V and 62.5 V, is still off at 60 V and takes again at 57 V.
    std::vector<SweepRow> rows;
    int line = 2;
    const auto add = [&](double volts, double amps, SweepState state) {
        rows.push_back({line++, volts, amps, state, false});
    };
    add(11.0, 0.0, SweepState::unsaid);
    for (const double v : {13.0, 20.0, 30.0, 40.0, 50.0, 61.0}) add(v, 8.0, SweepState::unsaid);
    for (const SweepState said : {SweepState::tripped, SweepState::unsaid}) {
        std::vector<SweepRow> all = rows;
        all.push_back({line, 62.5, 0.0, said, false});
        all.push_back({line + 1, 60.0, 0.0, said, false});
        all.push_back({line + 2, 57.0, 8.0, SweepState::unsaid, false});
        const auto found = learn_window(all, {});
        REQUIRE(found);
        REQUIRE(found->trip);
        CHECK(found->trip->between_v.lower() == 61.0);
        CHECK(found->trip->between_v.upper() == 62.5);
        REQUIRE(found->recovery);
        CHECK(found->recovery->between_v.lower() == 57.0);
        CHECK(found->recovery->between_v.upper() == 60.0);
        CHECK(found->outlier_count == 0);
        // It never recovers within the sweep: nothing is made up.
        all.pop_back();
        const auto still_off = learn_window(all, {});
        REQUIRE(still_off);
        CHECK_FALSE(still_off->recovery);
    }
}

TEST_CASE("readings of whole amps that are all alike leave half an amp open, however many they are") {
    for (const int count : {4, 40}) {
        std::vector<SweepRow> rows;
        for (int i = 0; i < count; ++i) {
            SweepRow r;
            r.voltage_v = 20.0 + 20.0 * i / count;
            r.current_a = 8.0;
            r.step_value = 1.0;
            rows.push_back(r);
        }
        const auto w = learn_window(rows, {});
        REQUIRE(w);
        REQUIRE(w->pieces.size() == 1);
        CHECK(w->amps_step_a == 1.0);
        // By hand: any level from 7.5 to 8.5 would be read so; 95 % of them lie from 7.525 to 8.475.
        CHECK(w->pieces[0].level.value == Approx(8.0));
        CHECK(w->pieces[0].level.likely.lower() == Approx(7.525).margin(0.06));
        CHECK(w->pieces[0].level.likely.upper() == Approx(8.475).margin(0.06));
    }
}

TEST_CASE("no power is claimed at a voltage without a reading that fits") {
    std::vector<SweepRow> rows;
    for (const double v : {20.0, 24.0, 28.0, 32.0, 36.0}) {
        SweepRow r;
        r.voltage_v = v;
        r.current_a = 8.0;
        rows.push_back(r);
    }
    SweepRow sagged;  // one reading far off, at nearly twice the voltage
    sagged.voltage_v = 60.0;
    sagged.current_a = 2.0;
    rows.push_back(sagged);
    const auto w = learn_window(rows, {});
    REQUIRE(w);
    CHECK(w->most_power_w == Approx(36.0 * 8.0).epsilon(0.01));
}


}  // namespace

}  // namespace plait::measured::test
