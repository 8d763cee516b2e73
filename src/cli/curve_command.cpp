#include "commands.hpp"

#include <plait/output/page.hpp>
#include <plait/output/picture.hpp>

#include <plait/input/read_weather.hpp>
#include <plait/output/csv.hpp>
#include <plait/output/json.hpp>
#include <plait/output/netlist.hpp>

#include <fmt/format.h>

#include <algorithm>

namespace plait::cli {
namespace {

constexpr std::size_t usual_points = 101;
// An array driven this far above open circuit draws what no panel is made for.
constexpr double most_above_open_circuit = 1.1;

Result<study::Weather> weather_of(const Options& o) {
    study::Weather weather;
    if (!o.sun) {
        for (std::size_t i = 0; i < rules::condition_count; ++i) {
            const auto id = static_cast<rules::ConditionId>(i);
            if (rules::name_of(id) == o.when) weather.id = id;
        }
        return weather;
    }
    weather.id.reset();
    Diagnostics complaints;
    const auto keep = [&](const auto& read, auto& place) {
        if (read) {
            place = *read;
        } else {
            complaints.insert(complaints.end(), read.error().begin(), read.error().end());
        }
    };
    keep(input::read_irradiance(*o.sun, "--sun"), weather.irradiance_w_per_m2);
    if (o.air) keep(input::read_temperature(*o.air, "--air"), weather.air);
    if (o.cell) keep(input::read_temperature(*o.cell, "--cell"), weather.cell);
    if (!complaints.empty()) return Failure{std::move(complaints)};
    return weather;
}

// The inputs to draw: that of --input, or every one in use.
Result<std::vector<std::size_t>> inputs_of(const Options& o, const Setup& setup, const ArrayPlan& plan) {
    std::vector<std::size_t> used;
    std::string names;
    for (std::size_t i = 0; i < plan.size(); ++i) {
        if (plan[i].empty()) continue;
        used.push_back(i);
        names += (names.empty() ? "" : ", ") + setup.controller.inputs[i].name;
    }
    const auto fault = [&](const std::string& message) { return Failure{Diagnostics{{"--input", 0, 0, message}}}; };
    if (o.input) {
        const auto named = std::find_if(used.begin(), used.end(),
                                        [&](std::size_t i) { return setup.controller.inputs[i].name == *o.input; });
        if (named == used.end()) {
            return fault("no input of that name has panels on it; write one of: " + names);
        }
        return std::vector<std::size_t>{*named};
    }
    if (o.netlist && used.size() > 1) {
        return fault("a netlist is one circuit, and several inputs are in use; add --input with one of: " + names);
    }
    return used;
}

// Curves hold for cells between −60 and 150 °C.
std::optional<std::string> too_warm(const study::SystemModel& system, std::size_t input, const InputWiring& wiring,
                                    const study::Weather& weather) {
    const study::CellRange range = study::cell_range(wiring, study::conditions_of(system, weather));
    if (!(range.coldest < study::coldest_cell) && !(range.hottest > study::hottest_cell)) return std::nullopt;
    return fmt::format(
        "on {} some cells would be at {:.1f} °C and others at {:.1f} °C; curves hold from {:.0f} to {:.0f} °C. Ask for "
        "another weather, or mend 'warmer' in the wiring",
        system.setup().controller.inputs[input].name, range.coldest.degc, range.hottest.degc, study::coldest_cell.degc,
        study::hottest_cell.degc);
}

std::optional<std::string> too_high(const study::SystemModel& system, std::size_t input, const InputWiring& wiring,
                                    const study::Weather& weather, const std::vector<double>& asked_v) {
    if (asked_v.empty()) return std::nullopt;
    const double open_v =
        system.curve(wiring, study::conditions_of(system, weather), system.wires(input, wiring)).open_circuit_v();
    const double highest_v = *std::max_element(asked_v.begin(), asked_v.end());
    if (highest_v <= most_above_open_circuit * open_v) return std::nullopt;
    return fmt::format(
        "{:g} V is more than a tenth above the open-circuit voltage of {}, {:.2f} V; ask for 0 to {:.2f} V", highest_v,
        system.setup().controller.inputs[input].name, open_v, most_above_open_circuit * open_v);
}

std::string netlist_of(const study::SystemModel& system, const study::InputCurve& c, std::size_t points) {
    std::vector<std::string> ids;
    for (const PanelKind& kind : system.setup().kinds) ids.push_back(kind.id);
    const study::SystemModel::WarmedWiring placed = system.warmed(c.wiring, c.by_kind);
    const double step_v = c.open_circuit_v / static_cast<double>(points - 1);
    // Half a step beyond the end, so that rounding does not lose the last point.
    return output::netlist(placed.wiring, system.panels(), ids, placed.condition,
                           {0.0, c.open_circuit_v + 0.5 * step_v, step_v}, system.wires(c.input, c.wiring));
}

}  // namespace

namespace {

CommandResult report_of(const Options& o, const study::SystemModel& system, const study::CurveSheet& sheet,
              const study::PointChoice& choice, output::Colour colour) {
    const Setup& setup = system.setup();
    if (o.csv) return {Exit::all_within, output::curve_csv(setup, sheet), ""};
    if (o.json) return {Exit::all_within, output::curve_json(system, sheet), ""};
    if (o.netlist) {
        const study::InputCurve& c = sheet.inputs.front();
        if (!(c.open_circuit_v > 0.0)) return refused("--netlist", "without light there is no voltage to sweep over");
        return {Exit::all_within, netlist_of(system, c, choice.even), ""};
    }
    const output::Plot plot = o.plot == "none"    ? output::Plot::none
                              : o.plot == "ascii" ? output::Plot::ascii
                                                  : output::Plot::bars;
    return {Exit::all_within, output::curve_text(system, sheet, o.points || o.at, plot, colour), ""};
}

}  // namespace

CommandResult curve(const Options& o, const Setup& setup, output::Colour colour) {
    const Result<ArrayPlan> plan = chosen_plan(o, setup);
    if (!plan) return refused(plan.error());
    const Result<std::vector<std::size_t>> inputs = inputs_of(o, setup, *plan);
    if (!inputs) return refused(inputs.error());
    const Result<study::Weather> weather = weather_of(o);
    if (!weather) return refused(weather.error());
    study::PointChoice choice;
    choice.even = o.points.value_or(usual_points);
    if (!o.csv && !o.json && o.plot != "none") choice.columns = output::plot_columns;
    if (o.at) {
        Result<std::vector<double>> asked = input::read_voltages(*o.at, "--at");
        if (!asked) return refused(asked.error());
        choice.exact_v = *std::move(asked);
    }
    const study::SystemModel system(setup);
    study::CurveSheet sheet{*weather, {}};
    for (const std::size_t input : *inputs) {
        const InputWiring& wiring = (*plan)[input];
        if (const auto message = too_warm(system, input, wiring, *weather)) return refused(o.file, *message);
        if (const auto message = too_high(system, input, wiring, *weather, choice.exact_v)) {
            return refused("--at", *message);
        }
        sheet.inputs.push_back(study::input_curve(system, input, wiring, *weather, choice));
    }
    CommandResult result = report_of(o, system, sheet, choice, colour);
    if (result.exit_code != Exit::all_within) return result;
    if (!o.page.empty()) result.files.push_back({o.page, output::curve_page(system, sheet), output::page_mark});
    if (!o.svg.empty()) {
        result.files.push_back(
            {o.svg, output::curve_svg(system, sheet.inputs.front(), output::PictureUse::in_file), output::picture_mark});
    }
    return result;
}

}  // namespace plait::cli
