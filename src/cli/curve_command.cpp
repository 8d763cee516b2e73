#include "command.hpp"

#include <plait/input/read_weather.hpp>
#include <plait/output/data.hpp>
#include <plait/output/netlist.hpp>
#include <plait/output/picture.hpp>
#include <plait/output/reports.hpp>
#include <plait/study/curve_sheet.hpp>
#include <plait/study/impossible_figure.hpp>
#include <plait/study/judgement.hpp>
#include <plait/study/look_up.hpp>

#include <fmt/core.h>

#include <algorithm>

namespace plait::cli {
namespace {

constexpr std::size_t usual_points = 101;
// An array driven this far above open circuit draws what no panel is made for.
constexpr double most_above_open_circuit = 1.1;

Result<study::Weather> weather_of(const CurveOptions& o) {
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
Result<std::vector<std::size_t>> inputs_of(const CurveOptions& o, const Setup& setup, const ArrayPlan& plan) {
    if (o.input) {
        const Result<std::size_t> named = used_input(*o.input, setup, plan);
        if (!named) return Failure{named.error()};
        return std::vector<std::size_t>{*named};
    }
    UsedInputs used = used_inputs(setup, plan);
    if (o.netlist && used.inputs.size() > 1) {
        return Failure{Diagnostics{
            {"--input", 0, 0, Complaint::ambiguous,
             "a netlist is one circuit, and several inputs are in use; add --input with one of: " + used.names}}};
    }
    return std::move(used.inputs);
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

output::Plot plot_of(const std::string& name) {
    return name == "none" ? output::Plot::none : name == "ascii" ? output::Plot::ascii : output::Plot::bars;
}

/// The curves of the inputs asked for, or what is wrong with the question.
Result<study::CurveSheet> sheet_of(const CurveOptions& o, const study::SystemModel& system, const ArrayPlan& plan,
                                   const study::PointChoice& choice) {
    const Result<std::vector<std::size_t>> inputs = inputs_of(o, system.setup(), plan);
    if (!inputs) return Failure{inputs.error()};
    const Result<study::Weather> weather = weather_of(o);
    if (!weather) return Failure{weather.error()};
    study::CurveSheet sheet{*weather, {}};
    for (const std::size_t input : *inputs) {
        const InputWiring& wiring = plan[input];
        if (const auto message = too_warm(system, input, wiring, *weather)) {
            return Failure{Diagnostics{{o.file, 0, 0, Complaint::no_answer, *message}}};
        }
        if (const auto message = too_high(system, input, wiring, *weather, choice.exact_v)) {
            return Failure{Diagnostics{{"--at", 0, 0, Complaint::no_answer, *message}}};
        }
        sheet.inputs.push_back(study::input_curve(system, input, wiring, *weather, choice));
    }
    return sheet;
}

}  // namespace

CommandResult run_command(const CurveOptions& o, Session& session) {
    const Result<Setup> setup = setup_of(o.file, session);
    if (!setup) return refused(setup.error());
    const Result<ArrayPlan> plan = chosen_plan(o, *setup);
    if (!plan) return refused(plan.error());
    study::PointChoice choice;
    choice.even = o.points.value_or(usual_points);
    if (!o.form.csv && !o.form.json && o.plot != "none") choice.columns = output::plot_columns;
    if (o.at) {
        Result<std::vector<double>> asked = input::read_voltages(*o.at, "--at");
        if (!asked) return refused(asked.error());
        choice.exact_v = *std::move(asked);
    }
    const study::SystemModel system(*setup);
    const Result<study::CurveSheet> sheet = sheet_of(o, system, *plan, choice);
    if (!sheet) return refused(sheet.error());
    const study::InputCurve& first = sheet->inputs.front();
    if (o.netlist && !(first.open_circuit_v > 0.0)) {
        return refused("--netlist", Complaint::no_answer, "without light there is no voltage to sweep over");
    }
    if (const auto figure = study::impossible_figure(*sheet)) return impossible(*figure);
    const study::Judgement judged = study::judge_and_look_up(system, *plan).judgement;
    std::function<std::string()> data;
    if (o.form.json) data = [&] { return output::curve_json(system, *sheet, judged); };
    if (o.form.csv) data = [&] { return output::curve_csv(*setup, *sheet, judged); };
    if (o.netlist) data = [&] { return netlist_of(system, first, choice.even); };
    CommandResult result = shown(Exit::all_within, o.form, session,
                                 output::curve_report(system, *sheet, judged, {o.points || o.at, plot_of(o.plot)},
                                                      session.provenance(o.file, o.form)),
                                 data);
    if (!o.form.svg.empty()) {
        result.files.push_back(picture_file(
            o.form, output::curve_svg(system, first, judged.verdict, output::PictureUse::in_file)));
    }
    return result;
}

}  // namespace plait::cli
