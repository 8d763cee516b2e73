#include "energy_words.hpp"

#include "arrange_words.hpp"
#include "compare_words.hpp"
#include "harvest_words.hpp"
#include "render/style.hpp"

#include <plait/search/energy_order.hpp>

#include <algorithm>
#include <array>
#include <string_view>

namespace plait::output {
namespace {

std::string place_words(std::size_t place) {
    static constexpr std::array<std::string_view, 3> endings{"st", "nd", "rd"};
    const std::size_t n = place + 1;
    const bool teen = n / 10 % 10 == 1;
    return fmt::format("{}{}", n, n % 10 >= 1 && n % 10 <= 3 && !teen ? endings[n % 10 - 1] : "th");
}

}  // namespace

std::string delivered_words(const search::Arrangement& a, const search::RankedPlan& p) {
    const std::optional<double>& wh = a.by_energy->delivered_wh[static_cast<std::size_t>(&p - a.plans.data())];
    return wh ? watt_hours(*wh) : std::string("–");
}

std::string energy_sentence(const search::Arrangement& a, const EnergyTime& time) {
    const search::EnergyOrder& e = *a.by_energy;
    const auto counted = static_cast<std::size_t>(
        std::count_if(e.delivered_wh.begin(), e.delivered_wh.end(), [](const std::optional<double>& wh) { return wh.has_value(); }));
    std::string text = fmt::format("It delivers {} {} ({}). ", delivered_words(a, a.plans[*a.advised]), over_words(time.period),
                                   weather_words(time));
    text += fmt::format("{} on the list were counted; of mixed ones the list has those of most watts.",
                        e.finished ? fmt::format("All {} usable wirings", counted) : fmt::format("{} usable wirings", counted));
    if (*a.advised > 0) {
        const std::string because = simpler_because(a.plans[*a.advised], a.plans.front());
        text += fmt::format(" The first on the list delivers {}; within 1 % the simpler is advised{}.", delivered_words(a, a.plans.front()),
                            because.empty() ? "" : ": " + because);
    }
    if (!e.finished) text += " Time ran out before the rest was counted: `--seconds N` gives it more.";
    return text;
}

std::string order_change(const Setup& setup, const search::Arrangement& a) {
    const search::EnergyOrder& e = *a.by_energy;
    // A place means something only where more than rounding is between the two.
    constexpr std::size_t worth_a_word = 10;
    constexpr std::size_t most_named = 3;
    std::string text;
    std::size_t named = 0;
    const std::size_t end = std::min(worth_a_word, a.plans.size());
    for (std::size_t i = 0; i < end && named < most_named; ++i) {
        if (!e.delivered_wh[i] || e.place_by_watts[i] <= i) continue;  // those that went down follow from those that rose
        if (!e.ahead_of_next(i)) continue;
        text += fmt::format("{}{} is {}, was {}", named == 0 ? "" : "; ", plan_label(setup, a, a.plans[i]), place_words(i),
                            place_words(e.place_by_watts[i]));
        ++named;
    }
    text = text.empty() ? "The order is that of watts, but for what differs by less than 0.1 %."
                        : "Against the order by watts: " + text + ".";
    if (e.advised_by_watts != a.advised) text += fmt::format(" By watts {} was advised.", plan_label(setup, a, a.plans[*e.advised_by_watts]));
    return text;
}

std::vector<std::string> energy_leaders(const std::vector<NamedSetup>& named, const search::Comparison& c, const EnergyTime& time) {
    const auto wh = [&](std::size_t i) { return *c.setups[i].plan->delivered_wh; };
    const auto watts_of = [&](std::size_t i) { return c.setups[i].plan->judgement.harvest.european_w; };
    std::vector<std::size_t> order;
    for (const std::size_t i : c.usable) {
        if (c.setups[i].plan->delivered_wh) order.push_back(i);
    }
    if (order.empty()) return {};
    std::vector<std::size_t> by_watts = order;
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return search::compared_wh(wh(a)) > search::compared_wh(wh(b)); });
    std::stable_sort(by_watts.begin(), by_watts.end(), [&](std::size_t a, std::size_t b) { return watts_of(a) > watts_of(b); });
    std::string text;
    for (const std::size_t i : order) text += fmt::format("{}{} {}", text.empty() ? "" : ", ", letter(i), watt_hours(wh(i)));
    std::vector<std::string> out{fmt::format("Delivered {} ({}): {}{}.", over_words(time.period), weather_words(time), text,
                                             c.most_energy.size() > 1 ? fmt::format("; the first {} within 1 %", c.most_energy.size()) : "")};
    if (order.size() > 1) {
        std::string before;
        for (const std::size_t i : by_watts) before += (before.empty() ? "" : ", ") + letter(i);
        out.push_back(order == by_watts ? std::string("The order is the same as by watts.") : fmt::format("By watts the order is {}.", before));
    }
    for (const std::size_t i : c.usable) {
        if (!c.setups[i].by_watts) continue;
        out.push_back(fmt::format("{}: by watts {} would be advised.", letter(i), plan_label(*named[i].setup, *c.setups[i].by_watts)));
    }
    return out;
}

}  // namespace plait::output
