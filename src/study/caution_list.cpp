// The list of cautions. Its order is by what can happen: life, fire, damage, mistake; a test holds it to that. A text
// is two short sentences at most: what it is, what to do.
#include <plait/study/cautions.hpp>

#include "plain_number.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace plait::study {
namespace {

using Scene = CautionScene;

constexpr std::string_view practice = "common practice, no source";

// IEC 62109-1 class A: 35 V DC is the limit of touch in the wet; NEC 690.11: 80 V DC asks for arc-fault protection in
// buildings [from memory].
constexpr double wet_touch_limit_v = 35.0;
constexpr double arc_limit_v = 80.0;

// NEC 690.7 [from memory].
constexpr double dwelling_ceiling_v = 600.0;
constexpr double building_ceiling_v = 1000.0;

// Amorphous silicon begins above its label, which is the value after the first weeks of light: by 10 to 25 % [from
// memory].
constexpr double early_ratio = 1.25;

// IEC 62548 and IEC 60364-7-712: surge protection where the route is longer than 115 m over Ng, the ground flashes per
// km² and year, for a dwelling [from memory]. A route under 5 m would need 23 flashes: hardly a place has as many.
constexpr double critical_length_m = 115.0;
constexpr double short_route_m = 5.0;

// Lithium cells of common makers: charging from 0 to 60 °C [seen in cell datasheets].
constexpr Celsius lithium_charges_from{0.0};

std::string up_to(const Scene& s) { return "Up to " + whole_volts(s.highest_v) + " DC: "; }

std::size_t most_strings(const Scene& s) {
    std::size_t most = 0;
    for (const InputWiring& wiring : s.plan) most = std::max(most, wiring.strings.size());
    return most;
}

/// Whether the set-up states a fuse for every string: then the rules have judged it.
bool all_fused(const Scene& s) {
    return std::all_of(s.plan.begin(), s.plan.end(), [&](const InputWiring& wiring) {
        return std::all_of(wiring.strings.begin(), wiring.strings.end(), [&](const SeriesString& string) {
            return string.fuse_a || s.setup.fittings.string_fuse_a;
        });
    });
}

std::size_t most_in_series(const Scene& s) {
    std::size_t most = 0;
    for (const InputWiring& wiring : s.plan) most = std::max(most, wiring.longest_string());
    return most;
}

bool nec(const Scene& s) { return s.setup.site.code != Code::iec; }

// On a rack or a roof for good, or nobody said: what lies on the grass for a day has no earthing and no surge
// protection of its own.
bool may_be_fixed(const Scene& s) {
    const Mounting m = s.setup.site.mounting;
    if (m == Mounting::open_rack || m == Mounting::close_to_roof) return true;
    return std::any_of(s.setup.assumptions.begin(), s.setup.assumptions.end(),
                       [](const Assumption& a) { return a.quantity == Quantity::site_mounting; });
}

// One way from the panels to the input, the longest of the plan; nothing where no cable is stated.
double route_m(const Scene& s) {
    double longest_m = 0.0;
    for (std::size_t input = 0; input < s.plan.size(); ++input) {
        if (s.plan[input].empty()) continue;
        double way_m = 0.0;
        for (const Cable& c : s.setup.cables) {
            const bool here = !c.input || *c.input == input;
            if (here && (c.run == CableRun::string || c.run == CableRun::trunk)) way_m += c.length_m;
        }
        longest_m = std::max(longest_m, way_m);
    }
    return longest_m;
}

bool is_amorphous(Technology t) {
    return t == Technology::amorphous || t == Technology::amorphous_tandem || t == Technology::amorphous_triple;
}

// The highest string voltage of an input while its amorphous panels are new; 0 where it has none.
double early_v(const Scene& s, const InputWiring& wiring) {
    double highest_v = 0.0;
    for (const SeriesString& string : wiring.strings) {
        double string_v = 0.0;
        bool early = false;
        for (const PanelPlace& place : string.panels) {
            const bool amorphous = is_amorphous(s.setup.kinds[place.kind].panel.technology);
            early = early || amorphous;
            string_v += highest_voltage_v(s.stated(), SeriesString{{place}, false}) * (amorphous ? early_ratio : 1.0);
        }
        if (early) highest_v = std::max(highest_v, string_v);
    }
    return highest_v;
}

bool has_battery(const Scene& s) { return s.setup.controller.battery.has_value(); }
bool has_plugs(const Scene& s) { return most_in_series(s) >= 2 || most_strings(s) >= 2; }

constexpr auto always = [](const Scene&) { return true; };

std::string shock_and_arc(const Scene& s) {
    return up_to(s) + "shock, and an arc that does not go out by itself. No bare ends." +
           (nec(s) ? " US buildings: arc-fault protection from 80 V." : "");
}

std::string above_ceiling(const Scene& s) {
    std::string text = "Where the NEC holds, " + whole_volts(s.highest_v) +
                       " is above the 600 V allowed in or on one- and two-family dwellings";
    if (s.highest_v > building_ceiling_v) text += " and above the 1000 V for other buildings";
    return text + ".";
}

std::string measure_first(const Scene& s) {
    std::string text = "First measure polarity and Voc";
    if (s.highest_v > dry_touch_limit_v) text += " (meter for " + whole_volts(s.highest_v) + ")";
    return text + "; wrong or too high: stop.";
}

std::string new_amorphous(const Scene& s) {
    double highest_v = 0.0;
    std::string above;
    for (std::size_t input = 0; input < s.plan.size(); ++input) {
        const double here_v = early_v(s, s.plan[input]);
        highest_v = std::max(highest_v, here_v);
        const Input& in = s.setup.controller.inputs[input];
        if (above.empty() && in.max_voltage_v && here_v > *in.max_voltage_v) {
            above = ", above the " + whole_volts(*in.max_voltage_v) + " of " + in.name;
        }
    }
    return "New amorphous panels give 10 to 25 % more than their label for some weeks: up to " +
           whole_volts(highest_v) + above + ". Ask the maker for the initial values.";
}

std::string surge(const Scene& s) {
    const double way_m = route_m(s);
    if (way_m == 0.0) {
        return "Lightning: + and − side by side. Surge protection: state the cables and see.";
    }
    return "Lightning: + and − side by side; surge protection from " +
           std::to_string(std::lround(std::ceil(critical_length_m / way_m))) + " flashes/km² a year.";
}

// What one cell could take at most; without a bypass diode what they take, were all alike.
double hottest_w(const HotSpot& spot) { return spot.cells.most_cell_w.value_or(spot.cells.cell_w); }

std::string hot_spot(const Scene& s) {
    const auto worst = std::max_element(s.hot_spots.begin(), s.hot_spots.end(), [](const HotSpot& a, const HotSpot& b) {
        return hottest_w(a) < hottest_w(b);
    });
    return "A shaded cell can take up to " + plain(rounded_up(hottest_w(*worst))) +
           " W from the others. A hot spot can burn the panel and what is under it: move the panel, or cut or move what "
           "shades it.";
}

constexpr std::array caution_list{
    CautionRecord{
        "hazardous-live", Harm::life, Moment::before_you_touch,
        [](const Scene& s) { return s.highest_v > extra_low_limit_v; },
        [](const Scene& s) {
            return up_to(s) + "can kill. A qualified person wires and checks it, not alone.";
        },
        "120 V DC is the upper limit of extra-low voltage (IEC 61140, IEC 60364-4-41 cl. 414 [from memory])"},
    CautionRecord{"shock-and-arc", Harm::life, Moment::before_you_touch,
                  [](const Scene& s) { return s.highest_v > arc_limit_v && s.highest_v <= extra_low_limit_v; },
                  &shock_and_arc, "60 V DC dry touch limit (IEC 60364-4-41); NEC 690.11 [from memory]"},
    CautionRecord{
        "shock", Harm::life, Moment::before_you_touch,
        [](const Scene& s) { return s.highest_v > dry_touch_limit_v && s.highest_v <= arc_limit_v; },
        [](const Scene& s) { return up_to(s) + "do not touch bare ends: insulated connectors only."; },
        "60 V DC dry touch limit (IEC 60364-4-41 [from memory])"},
    CautionRecord{"no-wet-hands", Harm::life, Moment::before_you_touch,
                  [](const Scene& s) { return s.highest_v > wet_touch_limit_v && s.highest_v <= dry_touch_limit_v; },
                  [](const Scene& s) {
                      return up_to(s) + "do not touch bare ends, least of all with wet hands.";
                  },
                  "30 to 35 V DC wet limit (IEC 60364 wet areas, IEC 62109-1 class A [from memory])"},
    CautionRecord{"low-voltage", Harm::life, Moment::before_you_touch,
                  [](const Scene& s) { return s.highest_v <= wet_touch_limit_v; },
                  [](const Scene& s) {
                      return up_to(s) + "hardly a shock, but a short circuit burns. Bare ends apart.";
                  },
                  practice},
    CautionRecord{"live-when-lit", Harm::life, Moment::before_you_touch, always,
                  [](const Scene&) -> std::string {
                      return "Panels are live in any light, with no off switch: cover them first.";
                  },
                  practice},
    CautionRecord{"falls", Harm::life, Moment::on_the_roof, &may_be_fixed,
                  [](const Scene&) -> std::string {
                      return "On a roof: edge protection or a harness, never alone, no wind, wet or frost.";
                  },
                  "local rules of work at height; on US building sites OSHA 29 CFR 1926.501, from 6 ft [from memory]"},
    CautionRecord{"earthing", Harm::life, Moment::before_you_touch, &may_be_fixed,
                  [](const Scene&) -> std::string {
                      return "Bond and earth frames and racks as the local rule asks, and test it first.";
                  },
                  "NEC 690.43, IEC 60364-7-712; IEC 62446-1 cl. 6.1: continuity first [from memory]"},
    CautionRecord{"rapid-shutdown", Harm::life, Moment::by_the_code,
                  [](const Scene& s) { return nec(s) && may_be_fixed(s); },
                  [](const Scene&) -> std::string {
                      return "Where the NEC holds, panels on buildings need rapid shutdown, off grid too.";
                  },
                  "NEC 690.12 [30 V within 30 s seen in public text, rest from memory]"},
    CautionRecord{"building-ceiling", Harm::life, Moment::by_the_code,
                  [](const Scene& s) { return nec(s) && s.highest_v > dwelling_ceiling_v; }, &above_ceiling,
                  "NEC 690.7 [from memory]"},
    CautionRecord{"battery-short", Harm::fire, Moment::at_the_battery, &has_battery,
                  [](const Scene&) -> std::string {
                      return "Battery: insulated tools, no rings, and a fuse close by that goes in last.";
                  },
                  practice},
    CautionRecord{"never-under-load", Harm::fire, Moment::while_joining, always,
                  [](const Scene&) -> std::string {
                      return "Never pull a plug or fuse while current flows: open the disconnect first.";
                  },
                  "IEC 62852: PV connectors have no breaking capacity"},
    CautionRecord{"fuse-each-string", Harm::fire, Moment::while_joining,
                  [](const Scene& s) { return most_strings(s) >= 3 && !all_fused(s); },
                  [](const Scene&) -> std::string {
                      return "Three or more strings: a DC fuse in each, unless the fuse test clears it.";
                  },
                  "NEC 690.9(A), IEC 62548 [from memory]"},
    CautionRecord{"same-connectors", Harm::fire, Moment::while_joining, &has_plugs,
                  [](const Scene&) -> std::string {
                      return "Connectors of one make and series, closed until they click; no tape.";
                  },
                  "NEC 690.33, IEC 62852 [from memory]"},
    CautionRecord{"lithium-cold", Harm::fire, Moment::in_the_cold,
                  [](const Scene& s) { return s.setup.site.coldest_air < lithium_charges_from; },
                  [](const Scene&) -> std::string {
                      return "Lithium cells below 0 °C must not be charged, unless their maker allows it.";
                  },
                  "charging temperatures in cell datasheets [seen]; the maker of the battery goes before"},
    CautionRecord{"hot-spot", Harm::fire, Moment::in_use, [](const Scene& s) { return !s.hot_spots.empty(); }, &hot_spot,
                  "IEC 61215-2 MQT 09, hot-spot endurance [from memory]; heat by Bishop, Solar Cells 25 (1988)"},
    CautionRecord{"warm-plugs", Harm::fire, Moment::in_use, always,
                  [](const Scene&) -> std::string {
                      return "A plug discoloured, smelling or crackling: hands off, open the disconnect.";
                  },
                  practice},
    CautionRecord{"measure-first", Harm::damage, Moment::while_joining, always, &measure_first,
                  "IEC 62446-1 cl. 6.2 and 6.4: polarity before any other test"},
    CautionRecord{"equal-strings", Harm::damage, Moment::while_joining,
                  [](const Scene& s) { return most_strings(s) >= 2; },
                  [](const Scene&) -> std::string {
                      return "Strings side by side need equal voltages; like ones agree within 5 %.";
                  },
                  "IEC 62446-1: 5 %, string against string [seen in public text]"},
    CautionRecord{"amorphous-new", Harm::damage, Moment::in_use,
                  [](const Scene& s) {
                      return std::any_of(s.plan.begin(), s.plan.end(),
                                         [&](const InputWiring& wiring) { return early_v(s, wiring) > 0.0; });
                  },
                  &new_amorphous, "10 to 25 % above the stabilised label [from memory]"},
    CautionRecord{"mean-not-record", Harm::damage, Moment::in_the_cold,
                  [](const Scene& s) { return s.setup.site.coldest_basis == TemperatureBasis::mean_extreme; },
                  [](const Scene&) -> std::string {
                      return "The coldest air given is the mean of the yearly extremes: about every second winter is "
                             "colder.";
                  },
                  "ASHRAE extreme annual mean minimum (informational note to NEC 690.7(A))"},
    CautionRecord{"forecast-only", Harm::damage, Moment::in_the_cold,
                  [](const Scene& s) { return s.setup.site.coldest_basis == TemperatureBasis::forecast; },
                  [](const Scene&) -> std::string {
                      return "The coldest air given is a forecast: check again before winter.";
                  },
                  practice},
    CautionRecord{"battery-first", Harm::damage, Moment::at_the_battery, &has_battery,
                  [](const Scene&) -> std::string {
                      return "Battery first, panels second, unless your manual says otherwise.";
                  },
                  practice},
    CautionRecord{"surge", Harm::damage, Moment::by_the_code,
                  [](const Scene& s) {
                      const double way_m = route_m(s);
                      return may_be_fixed(s) && (way_m == 0.0 || way_m >= short_route_m);
                  },
                  &surge, "IEC 62548, IEC 60364-7-712: critical length; devices by IEC 61643-31 [from memory]"},
    CautionRecord{"insulation-test", Harm::mistake, Moment::by_the_code,
                  [](const Scene& s) { return s.highest_v > extra_low_limit_v; },
                  [](const Scene&) -> std::string {
                      return "Have the array's insulation resistance tested before it goes into use.";
                  },
                  "IEC 62446-1 cl. 6.7"},
    CautionRecord{"defer", Harm::mistake, Moment::last, always, [](const Scene&) { return std::string(deferral); },
                  practice},
};

}  // namespace

std::span<const CautionRecord> all_cautions() { return caution_list; }

}  // namespace plait::study
