// Every sentence and figure of `learn` is held against the rows it was made from: no figure that no reading shows. The
// claims are taken from the answer as data, and each is judged anew from the readings alone, by other code.
#include "memory_world.hpp"

#include <catch2/catch.hpp>
#include <fmt/core.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <random>
#include <regex>

namespace plait::cli {
namespace {

using Json = nlohmann::json;

struct Noted {
    double voltage_v = 0.0;
    double low_a = 0.0;  // what the reading may mean
    double high_a = 0.0;
};

struct Bench {
    std::string text;
    std::vector<Noted> rows;
    bool amps = true;
    double step = 0.0;
};

class Dice {
public:
    explicit Dice(std::uint32_t seed) : generator_(seed) {}
    double between(double low, double high) { return low + (high - low) * (static_cast<double>(generator_()) + 0.5) / 4294967296.0; }
    bool chance(double share) { return between(0.0, 1.0) < share; }
    double noise() {  // nearly normal: twelve uniform ones less six (Irwin–Hall)
        double sum = -6.0;
        for (int i = 0; i < 12; ++i) sum += between(0.0, 1.0);
        return sum;
    }

private:
    std::mt19937 generator_;
};

/// A session at an invented input, noted as a hand notes it: steps of amps or watts, one way or both, some readings twice,
/// one out of order.
Bench session(Dice& dice) {
    Bench b;
    const double start_v = dice.between(9.0, 14.0);
    const double trip_v = dice.between(45.0, 70.0);
    const double low_a = dice.between(5.0, 12.0);
    const double edge_v = dice.chance(0.4) ? dice.between(22.0, 28.0) : 1e9;
    const double high_a = low_a * dice.between(1.3, 1.7);
    const double watts = dice.chance(0.7) ? low_a * dice.between(30.0, 45.0) : 1e9;
    const double noise = dice.between(0.001, 0.01);
    b.amps = dice.chance(0.6);
    static constexpr std::array<double, 4> amps_steps{0.01, 0.1, 0.5, 1.0};
    static constexpr std::array<double, 3> watts_steps{0.1, 1.0, 10.0};
    b.step = b.amps ? amps_steps[static_cast<std::size_t>(dice.between(0.0, 4.0))] : watts_steps[static_cast<std::size_t>(dice.between(0.0, 3.0))];
    const double step_v = dice.between(1.5, 4.0);
    // Some sessions begin above the start, or end below the trip.
    std::vector<double> volts;
    for (double v = dice.chance(0.8) ? 8.0 : 16.0; v < (dice.chance(0.5) ? trip_v + 6.0 : trip_v - 4.0); v += step_v) volts.push_back(std::round(v * 2.0) / 2.0);
    if (dice.chance(0.4)) {
        const std::vector<double> up = volts;
        volts.insert(volts.end(), up.rbegin(), up.rend());
    }
    if (dice.chance(0.3)) volts.insert(volts.begin() + 4, volts[4]);
    if (dice.chance(0.3)) std::swap(volts[6], volts[7]);
    b.text = b.amps ? "V,A\n" : "V,W\n";
    for (const double v : volts) {
        double a = v < start_v || v > trip_v ? 0.0 : std::min(v < edge_v ? low_a : high_a, watts / v);
        a *= 1.0 + noise * dice.noise();
        const double read = b.step * std::round((b.amps ? a : a * v) / b.step);
        b.text += fmt::format("{:.1f},{:.2f}\n", v, read);
        const double per = b.amps ? 1.0 : v;
        b.rows.push_back({v, (read - 0.5 * b.step) / per, (read + 0.5 * b.step) / per});
    }
    return b;
}

/// Amps or watts that the readings from one voltage to another allow, less a per cent for what a mean of noisy ones may be.
bool shown_between(const Bench& b, double from_v, double to_v, double value, bool power) {
    double least = 1e9;
    double most = -1e9;
    for (const Noted& r : b.rows) {
        if (r.voltage_v < from_v - 0.006 || r.voltage_v > to_v + 0.006) continue;
        least = std::min(least, r.low_a * (power ? r.voltage_v : 1.0));
        most = std::max(most, r.high_a * (power ? r.voltage_v : 1.0));
    }
    return value >= 0.99 * least && value <= 1.01 * most + 0.05;
}

bool is_read(const Bench& b, double v) {
    return std::any_of(b.rows.begin(), b.rows.end(), [&](const Noted& r) { return std::abs(r.voltage_v - v) < 0.006; });
}

/// A sentence's figures: each voltage is one at which somebody read, or the takeover; each level one that its readings show.
void judge_sentence(const Bench& b, const std::string& text, const Json& j) {
    static const std::regex figure("([0-9]+(?:\\.[0-9]+)?) (kW|W|V|A)(?![a-z])");
    INFO(text);
    std::vector<double> volts;
    for (auto it = std::sregex_iterator(text.begin(), text.end(), figure); it != std::sregex_iterator(); ++it) {
        if ((*it)[2] == "V") volts.push_back(std::stod((*it)[1]));
    }
    const bool takeover = text.find("takes over") != std::string::npos;
    if (takeover) {
        const Json& t = j["takeover"];
        REQUIRE_FALSE(t.is_null());
        const double low = t["likely_v"][0].get<double>();
        const double high = t["likely_v"][1].get<double>();
        for (const double v : volts) CHECK((v > low - 0.01 && v < high + 0.01));
        // Both levels are shown on either side, so it lies inside what was measured.
        CHECK(high > j["lowest_working_v"].get<double>());
        return;
    }
    for (const double v : volts) CHECK(is_read(b, v));
    const double from_v = volts.size() >= 2 ? volts[0] : 0.0;
    const double to_v = volts.size() >= 2 ? volts[1] : 1e9;
    for (auto it = std::sregex_iterator(text.begin(), text.end(), figure); it != std::sregex_iterator(); ++it) {
        if ((*it)[2] == "V") continue;
        const double value = std::stod((*it)[1]) * ((*it)[2] == "kW" ? 1000.0 : 1.0);
        CAPTURE(value, from_v, to_v);
        CHECK(shown_between(b, from_v, to_v, value, (*it)[2] != "A"));
    }
}

/// Between two neighbouring voltages, the lower and the upper one do what the claim says.
void judge_gap(const Bench& b, const char* what, const Json& gap, bool takes_above) {
    if (gap.is_null()) return;
    const double low_v = gap["between_v"][0].get<double>();
    const double high_v = gap["between_v"][1].get<double>();
    INFO(what << " " << low_v << " " << high_v);
    CHECK((is_read(b, low_v) && is_read(b, high_v)));
    const auto took = [&](double v, bool wanted) {
        return std::any_of(b.rows.begin(), b.rows.end(), [&](const Noted& r) { return std::abs(r.voltage_v - v) < 0.006 && (r.high_a * v > 20.0) == wanted; });
    };
    CHECK(took(low_v, !takes_above));
    CHECK(took(high_v, takes_above));
}

void judge(const Bench& b, const Json& j) {
    for (const Json& p : j["pieces"]) {
        const double from_v = p["from_v"].get<double>();
        const double to_v = p["to_v"].get<double>();
        CHECK((is_read(b, from_v) && is_read(b, to_v)));
        const bool power = p["kind"] == "constant-power";
        if (p["kind"] == "nothing") continue;
        CHECK(shown_between(b, from_v, to_v, p[power ? "power_w" : "current_a"].get<double>(), power));
    }
    judge_gap(b, "start", j["start"], true);
    judge_gap(b, "stop", j["stop"], true);
    judge_gap(b, "trip", j["trip"], false);
    judge_gap(b, "recovery", j["recovery"], false);
    for (const Json& s : j["summary"]) judge_sentence(b, s.get<std::string>(), j);
    const double top_v = std::max_element(b.rows.begin(), b.rows.end(), [](const Noted& x, const Noted& y) { return x.voltage_v < y.voltage_v; })->voltage_v;
    for (const Json& n : j["next"]) {
        CHECK(n["voltage_v"].get<double>() <= top_v);
        CHECK((n["voltage_v"].get<double>() >= n["between_v"][0].get<double>() && n["voltage_v"].get<double>() <= n["between_v"][1].get<double>()));
    }
}

Json learned(const std::string& text) {
    Files files = usual_files();
    files["sweep.csv"] = text;
    const CommandResult r = run({"learn", "sweep.csv", "--json"}, world_of(files));
    INFO(text << r.err);
    REQUIRE(r.exit_code == 0);
    return Json::parse(r.out);
}

TEST_CASE("claims: every figure of random sessions, in every style of noting, is one that readings show") {
    Dice dice(0xC1A1);
    for (int i = 0; i < 60; ++i) {
        const Bench b = session(dice);
        INFO(b.text);
        judge(b, learned(b.text));
    }
}

TEST_CASE("claims: the judge refuses figures that no reading shows") {
    const Bench b{"", {{10, 0, 0.05}, {12, 7.95, 8.05}, {20, 7.95, 8.05}, {30, 7.95, 8.05}}, true, 0.1};
    CHECK(shown_between(b, 12, 30, 8.0, false));
    CHECK_FALSE(shown_between(b, 12, 30, 8.4, false));
    CHECK_FALSE(shown_between(b, 0, 1e9, 300.0, true));
    CHECK_FALSE(is_read(b, 25.0));
}

TEST_CASE("claims: from amps alone, and from watts alone, nothing is said of voltages nobody set") {
    // 8 A up to 40 V and the sweep ends there: no power above 320 W was shown, though 60 V are printed.
    Files files = usual_files();
    files["sweep.csv"] = "V,A\n10,0\n12,8\n16,8\n20,8\n26,8\n32,8\n40,8\n";
    const Json j = Json::parse(run({"learn", "sweep.csv", "--against", "two.toml", "--json"}, world_of(files)).out);
    for (const Json& c : j["compared"]) {
        if (c["figure"] == "power-limit" && !c["measured"].is_null()) CHECK(c["measured"].get<double>() <= 321.0);
    }
    // Four readings of watts above the last working one: nobody may say that nobody measured there.
    files["sweep.csv"] = "V,W\n10,0\n12,96\n16,128\n20,160\n24,192\n28,200\n32,200\n36,200\n40,200\n44,0\n48,0\n52,0\n56,0\n";
    const CommandResult r = run({"learn", "sweep.csv", "--against", "two.toml", "--out", "new.toml"}, world_of(files));
    REQUIRE(r.files.size() == 1);
    CHECK(r.files[0].text.find("Above 40.00 V nobody measured") == std::string::npos);
    files["sweep.csv"] = "V,W\n56,0\n52,0\n48,0\n44,0\n40,200\n36,200\n32,200\n28,200\n24,192\n20,160\n16,128\n12,96\n10,0\n";
    const CommandResult down = run({"learn", "sweep.csv", "--against", "two.toml", "--out", "new.toml"}, world_of(files));
    REQUIRE(down.files.size() == 1);
    INFO(down.files[0].text);
    CHECK(down.files[0].text.find("Above 40.00 V nobody measured") == std::string::npos);
}

TEST_CASE("claims: a voltage twice, a row out of order, and amps once more as watts change nothing") {
    const std::vector<std::pair<double, double>> readings{{10, 0},   {12, 8.0}, {14, 8.1}, {17, 8.0}, {20, 8.0}, {23, 8.1},
                                                          {26, 8.0}, {33, 7.3}, {37, 6.5}, {42, 5.7}, {48, 5.0}, {54, 4.4}, {60, 0}};
    const auto text = [&](const std::vector<std::size_t>& order, const std::vector<std::size_t>& as_watts) {
        std::string out = "V,A,W\n";
        for (const std::size_t i : order) {
            const auto& [v, a] = readings[i];
            const bool watts = std::find(as_watts.begin(), as_watts.end(), i) != as_watts.end();
            out += watts ? fmt::format("{:.1f},,{:.0f}\n", v, v * a) : fmt::format("{:.1f},{:.1f},\n", v, a);
        }
        return out;
    };
    const Json plain = learned(text({0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12}, {}));
    const auto same = [&](const std::string& sweep) {
        const Json j = learned(sweep);
        INFO(sweep << j["summary"].dump(1) << plain["summary"].dump(1));
        REQUIRE(j["pieces"].size() == plain["pieces"].size());
        for (std::size_t k = 0; k < plain["pieces"].size(); ++k) {
            const Json& a = j["pieces"][k];
            const Json& b = plain["pieces"][k];
            CHECK(a["kind"] == b["kind"]);
            CHECK(a["from_v"] == b["from_v"]);
            CHECK(a["to_v"] == b["to_v"]);
            const char* const level = b["power_w"].is_null() ? "current_a" : "power_w";
            CHECK(a[level].get<double>() == Approx(b[level].get<double>()).epsilon(0.005));
        }
        for (const char* edge : {"start", "stop", "trip", "recovery"}) CHECK(j[edge] == plain[edge]);
        CHECK(j["falling"] == plain["falling"]);
    };
    same(text({0, 1, 2, 3, 3, 4, 5, 6, 7, 8, 8, 9, 10, 11, 12}, {}));
    same(text({0, 1, 2, 4, 3, 5, 6, 7, 8, 9, 10, 11, 12}, {}));
    same(text({0, 1, 2, 3, 4, 5, 6, 7, 9, 8, 10, 11, 12}, {}));
    same(text({1, 0, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12}, {}));
    same(text({0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12}, {2, 5, 8, 11}));
}

}  // namespace
}  // namespace plait::cli
