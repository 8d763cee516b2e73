// The cautions a wiring calls for, in our words. Scaled to the voltage and the number of strings, so that the grave
// ones are not buried; each once.
#include <plait/rules/cold_methods.hpp>
#include <plait/study/judgement.hpp>

#include <algorithm>
#include <cmath>

namespace plait::study {
namespace {

constexpr std::string_view practice = "common practice, no source";

std::string whole_volts(double v) { return std::to_string(static_cast<long>(std::ceil(v))) + " V"; }

}  // namespace

Caution voltage_caution(double cold_v) {
    const std::string v = whole_volts(cold_v);
    if (cold_v > 120.0) {
        return {"hazardous-live",
                "Up to " + v +
                    " DC: hazardous to life. Have a qualified person wire and check it, with insulated tools and not "
                    "alone.",
                "120 V DC is the upper limit of extra-low voltage (IEC 61140, IEC 60364-4-41 cl. 414 [from memory])"};
    }
    if (cold_v > 80.0) {
        return {"shock-and-arc",
                "Up to " + v +
                    " DC: shock, and an arc that does not go out by itself. Insulated connectors only; in US "
                    "buildings arc-fault protection is asked for from 80 V.",
                "60 V DC dry touch limit (IEC 60364-4-41); NEC 690.11 [from memory]"};
    }
    if (cold_v > 60.0) {
        return {"shock", "Up to " + v + " DC: more than may be touched. Insulated connectors only, no bare ends.",
                "60 V DC dry touch limit (IEC 60364-4-41 [from memory])"};
    }
    if (cold_v > 35.0) {
        return {"touch-dry", "Up to " + v + " DC: may be touched only with dry hands on dry ground. Cover bare ends.",
                "30 to 35 V DC wet limit (IEC 60364 wet areas, IEC 62109-1 class A [from memory])"};
    }
    return {"low-voltage", "Up to " + v + " DC: low to the touch, but a short circuit still burns.", practice};
}

std::vector<Caution> cautions_for(const Setup& setup, const ArrayPlan& plan) {
    double highest_v = 0.0;
    std::size_t most_strings = 0;
    std::size_t most_in_series = 0;
    for (const InputWiring& wiring : plan) {
        highest_v = std::max(highest_v, rules::array_cold_voc_v(setup, wiring, setup.site.cold_method));
        most_strings = std::max(most_strings, wiring.strings.size());
        most_in_series = std::max(most_in_series, wiring.longest_string());
    }
    std::vector<Caution> list;
    list.push_back(voltage_caution(highest_v));
    list.push_back({"live-when-lit",
                    "Panels are live whenever light falls on them; there is no off switch. Cover them before you wire.",
                    practice});
    list.push_back({"measure-first",
                    "Measure polarity and open-circuit voltage with a meter before you plug in. Reversed or too high: "
                    "do not connect.",
                    "IEC 62446-1 cl. 6.2 and 6.4: polarity before any other test"});
    list.push_back({"never-under-load",
                    "Never pull a plug while current flows: stop the charging or open a DC isolator first.",
                    "IEC 62852: PV connectors have no breaking capacity"});
    if (most_strings >= 3) {
        list.push_back(
            {"fuse-each-string",
             "Three or more strings in parallel: a DC fuse in every string unless the string-fuse test clears it; the "
             "joint carries the sum of all strings.",
             "NEC 690.9(A), IEC 62548 [from memory]"});
    }
    if (most_strings >= 2) {
        list.push_back({"equal-strings",
                        "Join only strings of the same panels and the same length; check that their voltages agree "
                        "within 5 % first.",
                        "IEC 62446-1 [5 % seen in public text]"});
    }
    if (most_in_series >= 2) {
        list.push_back({"same-connectors", "Use connectors of one make and series, closed until they click; no tape.",
                        "NEC 690.33, IEC 62852 [from memory]"});
    }
    if (setup.site.coldest_basis == TemperatureBasis::mean_extreme) {
        list.push_back(
            {"mean-not-record",
             "The coldest air given is the mean of the yearly extremes: about every second winter is colder.",
             "ASHRAE extreme annual mean minimum (informational note to NEC 690.7(A))"});
    }
    if (setup.site.coldest_basis == TemperatureBasis::forecast) {
        list.push_back({"forecast-only",
                        "The coldest air given is a forecast: this verdict ends with it. Check again before winter.",
                        practice});
    }
    if (setup.controller.battery) {
        list.push_back({"battery-first",
                        "Connect the battery first and the panels second; the other way round when you take it apart. "
                        "Fuse the battery cable close to the battery.",
                        practice});
    }
    list.push_back({"defer", std::string(deferral), practice});
    return list;
}

}  // namespace plait::study
