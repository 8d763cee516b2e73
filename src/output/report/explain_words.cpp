#include "explain_words.hpp"

#include "arrange_words.hpp"
#include "parts_of_reports.hpp"
#include "render/style.hpp"

#include <plait/base/names.hpp>

#include <cmath>

namespace plait::output {

using measured::Cause;

std::string_view name_of(Cause cause) {
    static constexpr Names names{
        Name{Cause::less_light, "less-light"},
        Name{Cause::array, "array"},
        Name{Cause::heat, "heat"},
        Name{Cause::cable, "cable"},
        Name{Cause::power_limit, "power-limit"},
        Name{Cause::current_limit, "current-limit"},
        Name{Cause::below_window, "below-window"},
        Name{Cause::above_window, "above-window"},
        Name{Cause::no_tracker, "no-tracker"},
        Name{Cause::tripped, "tripped"},
        Name{Cause::battery, "battery"},
        Name{Cause::wall, "wall"},
        Name{Cause::display, "display"},
        Name{Cause::bypassed_group, "bypassed-group"},
        Name{Cause::missing_string, "missing-string"},
        Name{Cause::shade, "shade"},
        Name{Cause::local_maximum, "local-maximum"},
        Name{Cause::fixed_voltage, "fixed-voltage"},
        Name{Cause::slow_tracker, "slow-tracker"},
        Name{Cause::scatter, "scatter"},
        Name{Cause::unexplained, "unexplained"},
        Name{Cause::untold, "untold"},
    };
    return name_in(names, cause);
}

std::string_view words_of(Cause cause) {
    static constexpr Names names{
        Name{Cause::less_light, "less light than 1000 W/m²"},
        Name{Cause::array, "weak light, panels tied together"},
        Name{Cause::heat, "heat of the cells"},
        Name{Cause::cable, "loss in the cables"},
        Name{Cause::power_limit, "the input's power limit"},
        Name{Cause::current_limit, "the input's current limit"},
        Name{Cause::below_window, "voltage below the window"},
        Name{Cause::above_window, "voltage above the window"},
        Name{Cause::no_tracker, "the battery sets the voltage"},
        Name{Cause::tripped, "input tripped or off"},
        Name{Cause::battery, "battery full or slowing down"},
        Name{Cause::wall, "shared with wall charging"},
        Name{Cause::display, "less than the display shows"},
        Name{Cause::bypassed_group, "a bypassed group"},
        Name{Cause::missing_string, "a missing string"},
        Name{Cause::shade, "shade"},
        Name{Cause::local_maximum, "tracker on a lower maximum"},
        Name{Cause::fixed_voltage, "tracker at a fixed voltage"},
        Name{Cause::slow_tracker, "tracker behind the light"},
        Name{Cause::scatter, "scatter, all working"},
        Name{Cause::unexplained, "unexplained"},
        Name{Cause::untold, "cannot be told"},
    };
    return name_in(names, cause);
}

namespace {

std::string energy(double wh) {
    return std::abs(wh) < 9999.5 ? rules::with_minus_sign(fmt::format("{:.0f} Wh", wh))
                                 : fmt::format("{:.1f} kWh", wh / 1000.0);
}
/// "42.0 hours", "35 minutes"
std::string span(double hours_h) {
    return hours_h < 1.0 ? fmt::format("{:.0f} minutes", 60.0 * hours_h) : fmt::format("{:.1f} hours", hours_h);
}

constexpr double shown_wh = 0.05;
constexpr double shown_h = 0.05;

std::string tenths(double value) {
    return rules::with_minus_sign(fmt::format("{:.1f}", value));
}

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
            return "Switch the input off and on while the light is steady: a tracker that then takes more had stayed "
                   "on a lower one of several "
                   "maxima. Shade on part of the panels makes them; wire shaded and sunny panels to different inputs.";
        case Cause::fixed_voltage:
            return "Look in the input's menu for a fixed input voltage or another kind of source than panels, and let "
                   "it track.";
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
        "In {} {} of {} gave {}; the light allowed {}{}.", span(a.logged_h),
        label(log.wiring, kind_ids(system.setup())), watts(a.label_w()), energy(a.measured_wh),
        energy(a.possible_wh),
        counts ? fmt::format(", so {} of what could be had was taken", per_cent_of(a.measured_wh, a.possible_wh, 0))
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
        out.push_back(
            fmt::format("{}: {}, {}{}, {} of what could be had.", i == 0 ? "The largest loss from there" : "Next",
                        words_of(c), energy(wh),
                        c == Cause::cable || !a.could_take(wh, hours_h) ? "" : fmt::format(" in {}", span(hours_h)),
                        per_cent_of(wh, a.possible_wh)));
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
        "Look at {}: over a year's light it brings {} where this wiring brings {}, {} more. Let "
        "`plait check` judge it before you change a plug.",
        plan_label(system.setup(), w.plan), watts(w.then_w), watts(w.now_w), per_cent(w.gain_ratio(), 0));
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
        out.push_back(
            fmt::format("In {} of {} rows the light was measured on flat ground and turned onto the panels' plane, "
                        "which is good to a tenth or so.",
                        a.turned_rows, a.rows));
    }
    if (a.night_wh > 0.005 * a.measured_wh && a.night_wh > 1.0) {
        out.push_back(
            fmt::format("{:.0f} Wh were measured with the sun down: check the log's clock (`--wall-clock`, "
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
        table.rows.push_back(
            {{std::move(words), tenths(wh), tenths(100.0 * a.of_label_ratio(wh)), std::move(hours)}, {}, {}, sum});
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
