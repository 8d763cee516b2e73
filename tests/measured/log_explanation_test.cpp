// The explainer against logs whose causes are known, and its account against itself.
#include "made_log.hpp"

#include "../support/source_files.hpp"

#include <algorithm>
#include <cstdio>
#include <sstream>

using namespace plait;
using namespace plait::study;
using namespace plait::measured;

namespace {

constexpr std::array made_causes{Cause::cable,        Cause::power_limit,    Cause::current_limit,  Cause::below_window,
                                 Cause::above_window, Cause::tripped,        Cause::battery,        Cause::wall,
                                 Cause::display,      Cause::bypassed_group, Cause::missing_string, Cause::shade,
                                 Cause::unexplained};

/// Columns a log may lack.
enum class Lacks { nothing, irradiance, panel, temperatures, charge, wall, volts, all_but_volts_and_amps };

LogRow without(LogRow row, Lacks lacks) {
    const bool bare = lacks == Lacks::all_but_volts_and_amps;
    if (bare || lacks == Lacks::irradiance) row.irradiance_w_per_m2.reset();
    if (bare || lacks == Lacks::panel || lacks == Lacks::temperatures) row.panel.reset();
    if (bare || lacks == Lacks::temperatures) row.air.reset();
    if (bare || lacks == Lacks::charge) row.charge_ratio.reset();
    if (bare || lacks == Lacks::wall) row.wall_w.reset();
    if (lacks == Lacks::volts) {
        row.power_w = *row.voltage_v * *row.current_a;
        row.voltage_v.reset();
        row.current_a.reset();
    }
    return row;
}

struct Explained {
    std::vector<ExplainedRow> rows;
    LogAccount account;
};

Explained explained(const MadeLog& log, Lacks lacks) {
    const SystemModel system(log.setup);
    LogExplainer explainer(system, 0, log.wiring, log.accuracy);
    Explained e;
    for (const MadeRow& made : log.rows) explainer.add(without(made.row, lacks), &e.rows);
    e.account = explainer.finish(&e.rows);
    return e;
}

/// Watt-hours lost beyond the array's own maximum, by true cause and by what the explainer blames.
struct Confusion {
    std::array<ByCause<double>, cause_count> blamed{};
    ByCause<double> possible{};  ///< in the rows of a cause
    ByCause<double> lost{};
};

void confuse(const MadeLog& log, const Explained& e, Confusion& wh) {
    REQUIRE(e.rows.size() == log.rows.size());
    for (std::size_t i = 0; i < e.rows.size(); ++i) {
        const MadeRow& made = log.rows[i];
        if (made.cause == Cause::less_light) continue;
        ByCause<double>& to = wh.blamed[index_of(made.cause)];
        const double h = e.rows[i].hours_s / 3600.0;
        wh.possible[index_of(made.cause)] += h * made.possible_w;
        wh.lost[index_of(made.cause)] += h * (made.possible_w - made.drawn_w);
        for (std::size_t c = 0; c < cause_count; ++c) to[c] += h * e.rows[i].lost_w[c];
        // Light, array and heat only as far as they are charged more or less than is true.
        to[index_of(Cause::less_light)] -= h * (log.label_w - made.sun_w);
        to[index_of(Cause::array)] -= h * (made.sun_w - made.cool_w);
        to[index_of(Cause::heat)] -= h * (made.cool_w - made.possible_w);
    }
}

double right_ratio(const Confusion& wh, Cause cause) {
    double all = 0.0;
    const ByCause<double>& blamed = wh.blamed[index_of(cause)];
    for (const double w : blamed) all += std::abs(w);
    return all > 0.0 ? std::max(0.0, blamed[index_of(cause)]) / all : 1.0;
}

double right_ratio(const Confusion& wh) {
    double all = 0.0;
    double right = 0.0;
    for (std::size_t c = 0; c < cause_count; ++c) {
        for (const double w : wh.blamed[c]) all += std::abs(w);
        right += std::max(0.0, wh.blamed[c][c]);
    }
    return right / all;
}

Confusion confusion(Lacks lacks) {
    Confusion wh{};
    for (const Cause cause : made_causes) {
        for (std::uint64_t seed = 1; seed <= (lacks == Lacks::nothing ? 3U : 1U); ++seed) {
            const MadeLog log = LogMaker(cause, 100 * seed + index_of(cause)).made();
            confuse(log, explained(log, lacks), wh);
        }
    }
    return wh;
}

const char* const cause_words[cause_count] = {
    "light",        "array",          "heat",           "cable",   "power limit", "current limit",
    "below window", "above window",   "no tracker",     "tripped", "battery",     "wall",
    "display",      "bypassed group", "missing string", "shade",   "scatter",     "unexplained"};

std::string percent(double ratio) {
    char text[16];
    std::snprintf(text, sizeof text, "%.0f %%", 100.0 * ratio);
    return text;
}

/// Two causes that got the most of what another one lost, if it is a fiftieth or more.
std::string blamed(const ByCause<double>& row, Cause cause) {
    double all = 0.0;
    for (const double w : row) all += std::abs(w);
    std::vector<std::size_t> order;
    for (std::size_t c = 0; c < cause_count; ++c) {
        if (c != index_of(cause) && std::abs(row[c]) >= 0.02 * all) order.push_back(c);
    }
    std::sort(order.begin(), order.end(), [&](auto a, auto b) { return std::abs(row[a]) > std::abs(row[b]); });
    std::string out;
    for (std::size_t i = 0; i < order.size() && i < 2; ++i) {
        out += std::string(i == 0 ? " " : ", ") + cause_words[order[i]] + " " + percent(row[order[i]] / all);
    }
    return out;
}

struct Tables {
    std::string text;
    double all_columns_ratio = 0.0;
    ByCause<double> by_cause_ratio{};
};

Tables tables() {
    constexpr std::array lacking{Lacks::nothing, Lacks::panel, Lacks::temperatures, Lacks::charge,
                                 Lacks::wall,    Lacks::volts, Lacks::irradiance,   Lacks::all_but_volts_and_amps};
    std::vector<Confusion> all;
    for (const Lacks lacks : lacking) all.push_back(confusion(lacks));
    Tables t;
    t.all_columns_ratio = right_ratio(all[0]);
    for (const Cause cause : made_causes) t.by_cause_ratio[index_of(cause)] = right_ratio(all[0], cause);
    t.text =
        "| true cause | takes | charged | all columns | blamed instead | no panel temperature | no temperature | no "
        "charge | no wall | "
        "watts only | no irradiance | volts and amps only |\n|---|---|---|---|---|---|---|---|---|---|---|---|\n";
    for (const Cause cause : made_causes) {
        const std::size_t c = index_of(cause);
        t.text += std::string("| ") + cause_words[c] + " | " + percent(all[0].lost[c] / all[0].possible[c]) + " | " +
                  percent(all[0].blamed[c][c] / all[0].lost[c]) + " |";
        for (std::size_t i = 0; i < all.size(); ++i) {
            t.text += " " + percent(right_ratio(all[i], cause)) + " |";
            if (i == 0) t.text += blamed(all[0].blamed[c], cause) + " |";
        }
        t.text += "\n";
    }
    t.text += "| **all energy** | | |";
    for (std::size_t i = 0; i < all.size(); ++i) {
        t.text += " " + percent(right_ratio(all[i])) + " |";
        if (i == 0) t.text += " |";
    }
    t.text += "\n";
    return t;
}

}  // namespace

TEST_CASE("explain: print the confusion table", "[.][print]") { std::printf("%s", tables().text.c_str()); }

TEST_CASE("explain: the causes of made logs are found, as often as the documentation says") {
    const Tables t = tables();
    CHECK(t.all_columns_ratio >= 0.95);
    // The floors that the document names.
    for (const Cause cause : made_causes) {
        CAPTURE(cause_words[index_of(cause)]);
        const double floor = cause == Cause::cable                                     ? 0.82
                             : cause == Cause::below_window || cause == Cause::display ? 0.90
                                                                                       : 0.95;
        CHECK(t.by_cause_ratio[index_of(cause)] >= floor);
    }
    const std::string document = support::text_of(std::filesystem::path(PLAIT_SOURCE_DIR) / "docs/explain.md");
    const std::size_t begin = document.find("| true cause |");
    REQUIRE(begin != std::string::npos);
    std::istringstream filed(document.substr(begin, document.find("\n\n", begin) - begin));
    std::istringstream found(t.text);
    std::string filed_word;
    for (std::string word; found >> word;) {
        REQUIRE(filed >> filed_word);
        CAPTURE(word, filed_word);
        char* end = nullptr;
        const double value = std::strtod(word.c_str(), &end);
        // The last digits are the compiler's, and a whole percent may round either way.
        if (*end == '\0') {
            CHECK(value == Approx(std::strtod(filed_word.c_str(), nullptr)).margin(1.01));
        } else {
            CHECK(word == filed_word);
        }
    }
    CHECK_FALSE(filed >> filed_word);
}

TEST_CASE("explain: the account adds up to the last watt-hour, whatever the log lacks") {
    for (const Cause cause : {Cause::current_limit, Cause::battery, Cause::shade}) {
        const MadeLog log = LogMaker(cause, 7).made();
        for (const auto lacks :
             {Lacks::nothing, Lacks::irradiance, Lacks::temperatures, Lacks::volts, Lacks::all_but_volts_and_amps}) {
            const LogAccount a = explained(log, lacks).account;
            double left_wh = a.label_wh;
            for (const double lost : a.lost_wh) left_wh -= lost;
            CHECK(left_wh == Approx(a.measured_wh).epsilon(0).margin(1e-9 * a.label_wh));
            double hours = 0.0;
            for (const double h : a.hours_h) hours += h;
            CHECK(hours == Approx(a.logged_h).epsilon(1e-9));
            CHECK(a.logged_h == Approx(32.0));
            CHECK(a.gaps == 1);
            CHECK(a.gap_h == Approx(8.0));
            CHECK(a.label_wh == Approx(32.0 * 400.0));
            double bands = 0.0;
            for (const double w : a.band_wh) bands += w;
            CHECK(bands == Approx(a.lost_wh[index_of(Cause::current_limit)]).margin(1e-9));
        }
    }
}

TEST_CASE("explain: a row stands for half the steps beside it, and a gap for nothing") {
    MadeLog log = LogMaker(Cause::power_limit, 3).made();
    std::vector<MadeRow> rows;
    // By hand: steps of 60 s, one of 180 s (three steps: no gap yet), one of 200 s (a gap), a clock set back.
    for (const double t : {0.0, 60.0, 120.0, 300.0, 500.0, 560.0, 100.0, 160.0}) {
        rows.push_back(log.rows[60]);
        rows.back().row.time_s = t;
    }
    log.rows = rows;
    const Explained e = explained(log, Lacks::nothing);
    const std::vector<double> hours_s{30.0, 60.0, 120.0, 90.0, 30.0, 30.0, 30.0, 30.0};
    REQUIRE(e.rows.size() == hours_s.size());
    for (std::size_t i = 0; i < hours_s.size(); ++i) CHECK(e.rows[i].hours_s == Approx(hours_s[i]));
    CHECK(e.account.gaps == 2);
    CHECK(e.account.gap_h == Approx(200.0 / 3600.0));
    CHECK(e.account.usual_step_s == 60.0);
    CHECK(e.account.rows == 8);
}

TEST_CASE("explain: one row alone, and none at all, are no trouble") {
    MadeLog log = LogMaker(Cause::power_limit, 3).made();
    log.rows.resize(1);
    CHECK(explained(log, Lacks::nothing).account.rows == 1);
    log.rows.clear();
    CHECK(explained(log, Lacks::nothing).account.label_wh == 0.0);
}

TEST_CASE("explain: probabilities of a row add up, and the evidence decides them") {
    const MadeLog log = LogMaker(Cause::tripped, 5).made();
    const Explained e = explained(log, Lacks::nothing);
    std::size_t tripped = 0;
    for (std::size_t i = 0; i < e.rows.size(); ++i) {
        double sum = 0.0;
        for (const double p : e.rows[i].probability_ratio) sum += p;
        CHECK(sum == Approx(1.0));
        double lost_w = 0.0;
        for (const double w : e.rows[i].lost_w) lost_w += w;
        CHECK(lost_w == Approx(e.rows[i].label_w - e.rows[i].measured_w).margin(1e-9));
        if (log.rows[i].cause == Cause::tripped && e.rows[i].cause == Cause::tripped) ++tripped;
    }
    CHECK(tripped > 150);
}
