// On the coldest morning, with nothing drawn, the array must stay within the input's absolute maximum. Light reaches
// the cells before warmth does, so the cells are taken at air temperature and in full light; no wind, no self-heating,
// no cable drop (without current there is none) is credited. Parallel strings do not enter.
#include "rules.hpp"
#include "words.hpp"

#include <plait/rules/array_figures.hpp>
#include <plait/rules/cold_methods.hpp>

#include <cmath>
#include <limits>

namespace plait::rules {
namespace {

constexpr std::array<std::string_view, 3> tests{"coefficient", "code-table", "flat-factor"};
constexpr std::array<std::string_view, 3> sources{
    "NEC 690.7(A)(1) and IEC 62548:2016 cl. 7.2 [from memory]: each panel's own Voc coefficient, at the lowest "
    "expected "
    "air temperature",
    "NEC table 690.7(A), 2008 to 2023 [whole table from memory], crystalline silicon only",
    "IEC 60364-7-712:2017 [from memory]: 1.2 × Voc where no data are at hand; UK practice 1.15"};
constexpr auto rests = [] {
    std::array<Quantity, cold_voc_rests_on.size() + 1> all{};
    for (std::size_t i = 0; i < cold_voc_rests_on.size(); ++i) all[i] = cold_voc_rests_on[i];
    all.back() = Quantity::input_max_voltage;
    return all;
}();

template <class Holds>
bool on_every_panel(const Situation& s, Holds holds) {
    for (const SeriesString& string : s.wiring().strings) {
        for (const PanelPlace& place : string.panels) {
            if (!holds(s.panel(place))) return false;
        }
    }
    return true;
}

bool applies_to_all(const Situation& s, ColdMethod method) {
    return on_every_panel(s, [&](const Panel& p) { return method_applies(p, method, s.site().coldest_air); });
}

void check(const Situation& s, Findings& out) {
    // Where nobody knows the maximum, there is nothing to compare the other methods by.
    const double limit_v = s.input().max_voltage_v.value_or(std::numeric_limits<double>::quiet_NaN());
    for (const ColdMethod method : cold_methods) {
        const bool decides = method == s.site().cold_method;
        if (!decides && (!s.input().max_voltage_v || !applies_to_all(s, method))) continue;
        const Figure voc = cold_voc_v(s, method);
        Finding f = at_most(voc.value, voc.spread, limit_v, Unit::volt, Outcome::exceeds);
        f.test = static_cast<int>(method);
        f.decides = decides;
        out.push_back(f);
    }
}

std::string how_low(const Situation& s) {
    const std::optional<Celsius> coldest = coldest_survived(s.setup, s.wiring(), *s.input().max_voltage_v);
    if (!coldest) return "it is over the limit even at 25 °C";
    if (*coldest < s.site().coldest_air) return "by the coefficient alone it would stay within";
    return "by the coefficient it stays within only down to " +
           degrees(Celsius{std::ceil(coldest->degc * 10.0) / 10.0});
}

// What the number really rests on: where the table or the coefficient has nothing to say, another one stands in.
std::string method_in_words(const Situation& s, const Finding& f) {
    if (f.test == static_cast<int>(ColdMethod::flat_factor)) {
        return fmt::format("by the flat factor {:.2f}", s.site().flat_factor_ratio);
    }
    const bool stated = on_every_panel(s, [](const Panel& p) { return p.voc_coefficient_stated; });
    const std::string line = stated ? "by the panels' own coefficient"
                                    : "by an assumed coefficient or the usual factor, whichever is larger";
    if (f.test == static_cast<int>(ColdMethod::coefficient)) return line;
    return applies_to_all(s, ColdMethod::code_table) ? "by the code's table"
                                                     : "(" + line + ", as the code's table does not cover all of it)";
}

Words say(const Situation& s, const Finding& f) {
    const std::string by = method_in_words(s, f);
    Words w;
    if (!s.input().max_voltage_v) {
        w.because = fmt::format("At {} the array's open-circuit voltage is {} {}; nobody knows the input's absolute maximum.",
                                degrees(s.site().coldest_air), volts(f.value), by);
        w.instead = "Do not connect it yet. Ask the maker for the highest open-circuit voltage that the input may ever see, "
                    "and write it as max_voltage.";
        return w;
    }
    w.because = fmt::format("At {} the array's open-circuit voltage is {} {}; the input's absolute maximum is {}.",
                            degrees(s.site().coldest_air), volts(f.value), by, volts(f.limit));
    if (!f.decides) {
        // Advice follows the method the site asks for; two contrary orders would help nobody.
        if (f.outcome == Outcome::exceeds) {
            w.instead =
                "The methods differ; if this one binds you, the array is outside the limit: shorten the strings.";
        }
    } else if (f.outcome == Outcome::exceeds) {
        const std::optional<EqualStrings> equal = as_equal_strings(s.wiring());
        if (equal) {
            const int most = longest_within(s.setup, equal->kind, f.limit);
            w.instead =
                most > 0 ? fmt::format("Do not connect it. Put at most {} in series; {}.", most, how_low(s))
                         : fmt::format("Do not connect it. Not even one of these panels stays within; {}.", how_low(s));
        } else {
            w.instead = fmt::format("Do not connect it. Shorten the longest string; {}.", how_low(s));
        }
    } else if (!f.even_at_worst) {
        w.instead = at_top(f) +
                    ", over the limit: measure Voc in the cold before relying on it, or take one panel out of the "
                    "string.";
    }
    return w;
}

}  // namespace

constinit const Rule cold_voltage{
    .id = "cold-voltage",
    .title = "Open-circuit voltage on the coldest morning",
    .harm = "the input is destroyed; no fuse or breaker can prevent it",
    .tests = tests,
    .sources = sources,
    .rests_on = rests,
    .stays_broken = true,
    .check = &check,
    .say = &say,
};

}  // namespace plait::rules
