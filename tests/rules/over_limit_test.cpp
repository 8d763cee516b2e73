// What nobody has said is not harmless: of every rule about current and power, over many set-ups.
#include "situation.hpp"

#include <random>

using namespace plait;
using namespace plait::rules;

namespace {

bool promises(const std::string& text) { return text.find("othing breaks") != std::string::npos; }

class Dice {
public:
    double between(double low, double high) { return std::uniform_real_distribution<double>(low, high)(engine_); }
    bool chance(double p) { return between(0.0, 1.0) < p; }

private:
    std::mt19937 engine_{20240603};
};

Trial thrown(Dice& dice, OverCurrent said) {
    Trial t;
    t.wire(1 + static_cast<int>(dice.between(0.0, 3.0)), 1 + static_cast<int>(dice.between(0.0, 4.0)));
    const double panels = static_cast<double>(t.plan[0].panel_count());
    t.points[0] = same_points(20.0 * static_cast<double>(t.plan[0].longest_string()),
                              5.0 * panels / static_cast<double>(t.plan[0].longest_string()));
    t.input().over_current = said;
    t.input().tracking_max_v = 100.0;
    if (dice.chance(0.8)) t.one_limit_a(dice.between(2.0, 30.0));
    if (dice.chance(0.7)) t.input().max_power_w = panels * dice.between(20.0, 150.0);
    if (dice.chance(0.3)) t.controller().max_total_power_w = panels * dice.between(20.0, 150.0);
    if (dice.chance(0.3)) t.controller().battery = Battery{20.0, 24.0, 28.8, dice.between(2.0, 30.0)};
    return t;
}

}  // namespace

TEST_CASE("that nothing breaks is promised only where the file states that the input clips") {
    Dice dice;
    int promised = 0;
    for (int n = 0; n < 600; ++n) {
        const OverCurrent said = n % 3 == 0   ? OverCurrent::unsaid
                                 : n % 3 == 1 ? OverCurrent::not_permitted
                                              : OverCurrent::only_clips;
        const Trial t = thrown(dice, said);
        for (const std::string_view id : {"current-limit", "current-rating", "power-limit", "charge-current", "shared-power",
                                          "oversized-array", "array-power-rating"}) {
            for (const Finding& f : t.check(id)) {
                CAPTURE(id, f.value, f.limit);
                const bool said_so = promises(t.instead(id, f)) || promises(t.because(id, f));
                if (said_so) ++promised;
                CHECK((said == OverCurrent::only_clips || !said_so));
            }
        }
    }
    CHECK(promised > 50);
}

TEST_CASE("what the array gives above a limit rests on what the file says of it") {
    Dice dice;
    int open = 0;
    for (int n = 0; n < 600; ++n) {
        const OverCurrent said = n % 2 == 0 ? OverCurrent::unsaid : OverCurrent::only_clips;
        const Trial t = thrown(dice, said);
        for (const std::string_view id : {"current-limit", "power-limit", "charge-current", "shared-power"}) {
            for (const Finding& f : t.check(id)) {
                if (!f.decides || f.outcome != Outcome::clips) continue;
                CAPTURE(id, f.test);
                CHECK(rests_on(*rule_named(id), f.test, Quantity::input_over_limit) == (said == OverCurrent::unsaid));
                if (said == OverCurrent::unsaid) ++open;
            }
        }
    }
    CHECK(open > 50);
}
