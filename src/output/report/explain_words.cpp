#include "explain_words.hpp"

#include "arrange_words.hpp"
#include "parts_of_reports.hpp"
#include "render/style.hpp"

#include <cmath>

namespace plait::output {

using measured::Cause;

std::string_view name_of(Cause cause) {
    switch (cause) {
        case Cause::less_light:
            return "less-light";
        case Cause::array:
            return "array";
        case Cause::heat:
            return "heat";
        case Cause::cable:
            return "cable";
        case Cause::power_limit:
            return "power-limit";
        case Cause::current_limit:
            return "current-limit";
        case Cause::below_window:
            return "below-window";
        case Cause::above_window:
            return "above-window";
        case Cause::no_tracker:
            return "no-tracker";
        case Cause::tripped:
            return "tripped";
        case Cause::battery:
            return "battery";
        case Cause::wall:
            return "wall";
        case Cause::display:
            return "display";
        case Cause::bypassed_group:
            return "bypassed-group";
        case Cause::missing_string:
            return "missing-string";
        case Cause::shade:
            return "shade";
        case Cause::local_maximum:
            return "local-maximum";
        case Cause::fixed_voltage:
            return "fixed-voltage";
        case Cause::slow_tracker:
            return "slow-tracker";
        case Cause::scatter:
            return "scatter";
        case Cause::unexplained:
            return "unexplained";
        case Cause::untold:
            return "untold";
    }
    return "";
}

std::string_view words_of(Cause cause) {
    switch (cause) {
        case Cause::less_light:
            return "less light than 1000 W/m²";
        case Cause::array:
            return "weak light, panels tied together";
        case Cause::heat:
            return "heat of the cells";
        case Cause::cable:
            return "loss in the cables";
        case Cause::power_limit:
            return "the input's power limit";
        case Cause::current_limit:
            return "the input's current limit";
        case Cause::below_window:
            return "voltage below the window";
        case Cause::above_window:
            return "voltage above the window";
        case Cause::no_tracker:
            return "the battery sets the voltage";
        case Cause::tripped:
            return "input tripped or off";
        case Cause::battery:
            return "battery full or slowing down";
        case Cause::wall:
            return "shared with wall charging";
        case Cause::display:
            return "less than the display shows";
        case Cause::bypassed_group:
            return "a bypassed group";
        case Cause::missing_string:
            return "a missing string";
        case Cause::shade:
            return "shade";
        case Cause::local_maximum:
            return "tracker on a lower maximum";
        case Cause::fixed_voltage:
            return "tracker at a fixed voltage";
        case Cause::slow_tracker:
            return "tracker behind the light";
        case Cause::scatter:
            return "scatter, all working";
        case Cause::unexplained:
            return "unexplained";
        case Cause::untold:
            return "cannot be told";
    }
    return "";
}

namespace {

std::string energy(double wh) {
    return std::abs(wh) < 9999.5 ? fmt::format("{}{:.0f} Wh", wh <= -0.5 ? "−" : "", std::abs(wh))
                                 : fmt::format("{:.1f} kWh", wh / 1000.0);
}
/// "42.0 hours", "35 minutes"
std::string span(double hours_h) {
    return hours_h < 1.0 ? fmt::format("{:.0f} minutes", 60.0 * hours_h) : fmt::format("{:.1f} hours", hours_h);
}

constexpr double shown_wh = 0.05;
constexpr double shown_h = 0.05;

std::string tenths(double value) {
    std::string text = fmt::format("{:.1f}", value);
    if (text.find_first_of("123456789") == std::string::npos) return "0.0";
    if (text.front() == '-') text.replace(0, 1, "−");
    return text;
}

// Hours too few for an energy are not its hours: a cause may be probable in many rows and the likeliest in hardly one.
bool fills(double wh, double hours_h, const measured::LogAccount& a) {
    return 60.0 * hours_h >= 0.5 && a.logged_h > 0.0 && wh <= hours_h * a.label_wh / a.logged_h;
}

double share(double part, double whole) { return whole > 0.0 ? 100.0 * part / whole : 0.0; }

std::string what_to_do(Cause cause) {
    switch (cause) {
        case Cause::cable:
            return "Shorten the cables, take thicker ones, or wire more panels in series: half the current loses a "
                   "quarter in the same cable. `plait check` says what each cable costs and which size would do.";
        case Cause::tripped:
            return "Find out why the input switches off: compare the log's highest voltage with its absolute maximum, "
                   "and let `plait check` judge the wiring.";
        case Cause::battery:
            return "No wiring helps against a full battery: use the energy while the sun shines, or store more.";
        case Cause::wall:
            return "Do not charge from the wall while the sun shines: both share one limit.";
        case Cause::bypassed_group:
            return "Look for a panel with a third or half of it dead or shaded: measure each panel's open-circuit "
                   "voltage by itself.";
        case Cause::missing_string:
            return "Look for a plug that is loose or a fuse that is blown: a whole string gives nothing.";
        case Cause::shade:
            return "Look at the panels at the hours the table of rows (--csv) blames: something stands in their light.";
        case Cause::local_maximum:
            return "Switch the input off and on while the light is steady: a tracker that then takes more had stayed on a lower one of several "
                   "maxima. Shade on part of the panels makes them; wire shaded and sunny panels to different inputs.";
        case Cause::fixed_voltage:
            return "Look in the input's menu for a fixed input voltage or another kind of source than panels, and let it track.";
        case Cause::slow_tracker:
            return "Nothing on the wiring: the input follows quick clouds too late. Look for a newer firmware.";
        default:
            return "Look at the rows the table (--csv) calls unexplained; the model does not know what happened there.";
    }
}

}  // namespace

std::vector<std::string> summary(const study::SystemModel& system, const ExplainedLog& log) {
    const measured::LogAccount& a = log.account;
    std::vector<std::string> out;
    const bool counts = a.measured_wh >= 0.0 && a.possible_wh >= 0.5;
    out.push_back(fmt::format(
        "In {} {} of {} gave {}; the light allowed {}{}.", span(a.logged_h), label(log.wiring, kind_ids(system.setup())),
        watts(a.label_wh / a.logged_h), energy(a.measured_wh), energy(a.possible_wh),
        counts ? fmt::format(", so {:.0f} % of what could be had was taken", share(a.measured_wh, a.possible_wh))
               : ""));
    if (a.measured_wh < 0.0) {
        out.emplace_back(
            "The log says that the panels took energy instead of giving it: look at the sign of its amps or watts.");
    }
    for (std::size_t i = 0; i < log.advice.worth.size() && i < 2; ++i) {
        const Cause c = log.advice.worth[i];
        const double wh = a.lost_wh[measured::index_of(c)];
        const double hours_h = a.hours_h[measured::index_of(c)];
        // Cables lose in every hour of sun, whatever decides it.
        out.push_back(fmt::format("{}: {}, {}{}, {:.1f} % of what could be had.",
                                  i == 0 ? "The largest loss from there" : "Next", words_of(c), energy(wh),
                                  c == Cause::cable || !fills(wh, hours_h, a) ? "" : fmt::format(" in {}", span(hours_h)),
                                  share(wh, a.possible_wh)));
    }
    if (log.advice.worth.empty()) {
        out.emplace_back("No cause that anyone could change took more than a hundredth of what was measured.");
    }
    return out;
}

std::string first_change(const study::SystemModel& system, const ExplainedLog& log) {
    const measured::LogAdvice& advice = log.advice;
    if (advice.worth.empty()) return "Nothing: leave it as it is.";
    if (!measured::is_about_wiring(advice.worth.front())) return what_to_do(advice.worth.front());
    if (!advice.wiring) {
        return "No wiring of these panels on this controller brings a hundredth more over a year's light; only another "
               "input would.";
    }
    const measured::BetterWiring& w = *advice.wiring;
    return fmt::format(
        "Look at {}: over a year's light it brings {} where this wiring brings {}, {:.0f} % more. Let "
        "`plait check` judge it before you change a plug.",
        plan_label(system.setup(), w.plan), watts(w.then_w), watts(w.now_w), 100.0 * (w.then_w / w.now_w - 1.0));
}

std::vector<std::string> what_stays_open(const study::SystemModel& system, const ExplainedLog& log) {
    const measured::LogAccount& a = log.account;
    std::vector<std::string> out;
    if (a.irradiance_rows < a.rows) {
        std::string text = fmt::format(
            "{} of {} rows have no irradiance: there shade, a missing string and less light look "
            "alike, and all is charged to the light.",
            a.rows - a.irradiance_rows, a.rows);
        if (a.sun_rows > 0) text += " No more light than the sun's height on the place lets fall was reckoned with.";
        if (a.open_h > 0.0) {
            text += fmt::format(
                " In {} the input was clipping or off and the light is known to no better than a tenth of the "
                "label.",
                span(a.open_h));
        }
        out.push_back(std::move(text));
    }
    if (a.turned_rows > 0) {
        out.push_back(fmt::format("In {} of {} rows the light was measured on flat ground and turned onto the panels' plane, "
                                  "which is good to a tenth or so.",
                                  a.turned_rows, a.rows));
    }
    if (a.night_wh > 0.005 * a.measured_wh && a.night_wh > 1.0) {
        out.push_back(fmt::format("{:.0f} Wh were measured with the sun down: check the log's clock (`--wall-clock`, "
                                  "`--clock-ahead`), from_utc, latitude and longitude.",
                                  a.night_wh));
    }
    if (a.panel_rows == 0 && a.air_rows == 0) {
        out.push_back(
            fmt::format("No temperature was logged: the cells were taken as warm as the site's warm day makes them{}.",
                        a.voltage_rows > 0 ? ", and as the volts say at a maximum" : ""));
    }
    if (a.voltage_rows < a.rows) {
        out.push_back(fmt::format(
            "{} of {} rows have no volts: there shade, a battery that slows down and the unexplained look alike.",
            a.rows - a.voltage_rows, a.rows));
    }
    if (a.charge_rows == 0) {
        out.emplace_back("No state of charge was logged: a full battery and a trip look alike.");
    }
    if (a.wall_rows == 0) {
        out.emplace_back("No charging from the wall was logged: its share would be taken for the battery's.");
    }
    if (system.setup().cables.empty()) {
        out.emplace_back(
            "The set-up names no cables, so what they lose is taken for less light or scatter. Add a [[cable]] table "
            "for each run to see it as a line of its own.");
    }
    return out;
}

std::string what_was_logged(const ExplainedLog& log) {
    const measured::LogAccount& a = log.account;
    std::string out = fmt::format("{} rows, {:.1f} hours", a.rows, a.logged_h);
    if (a.gaps > 0) out += fmt::format("; {} gaps, {:.1f} hours, count for nothing", a.gaps, a.gap_h);
    return out;
}

Table account_table(const study::SystemModel& system, const ExplainedLog& log) {
    const measured::LogAccount& a = log.account;
    Table table = table_of("From the label rating down to what was measured", {"", "#Wh", "#%", "#hours"});
    const auto add = [&](std::string words, double wh, std::string hours, bool sum) {
        table.rows.push_back({{std::move(words), tenths(wh), tenths(share(wh, a.label_wh)), std::move(hours)}, {}, {}, sum});
    };
    const auto loss = [&](Cause c, bool always) {
        const std::size_t i = measured::index_of(c);
        if (!always && std::abs(a.lost_wh[i]) < shown_wh && a.hours_h[i] < shown_h) return;
        add(fmt::format("− {}", words_of(c)), -a.lost_wh[i], a.hours_h[i] < shown_h ? "" : tenths(a.hours_h[i]), false);
    };
    const auto add_bands = [&] {
        const auto& bands = system.window(log.input).bands;
        for (std::size_t b = 0; bands.size() > 1 && b < bands.size() && b < measured::most_bands; ++b) {
            if (a.band_wh[b] < shown_wh && a.band_h[b] < shown_h) continue;
            add(fmt::format("    {:g} A from {:g} to {:g} V", bands[b].limit_a, bands[b].from_v, bands[b].to_v),
                -a.band_wh[b], tenths(a.band_h[b]), false);
        }
    };
    add("label rating × hours", a.label_wh, tenths(a.logged_h), true);
    for (const Cause c : {Cause::less_light, Cause::array, Cause::heat}) loss(c, true);
    add("= the array could have given", a.possible_wh, "", true);
    for (std::size_t i = measured::index_of(Cause::cable); i < measured::cause_count; ++i) {
        const auto c = static_cast<Cause>(i);
        loss(c, c == Cause::scatter);
        if (c == Cause::current_limit) add_bands();
    }
    add("= measured", a.measured_wh, "", true);
    return table;
}

}  // namespace plait::output
