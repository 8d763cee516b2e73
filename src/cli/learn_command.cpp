#include "command.hpp"

#include <plait/input/measured_table.hpp>
#include <plait/input/read_controller.hpp>
#include <plait/input/read_setup.hpp>
#include <plait/measured/next_readings.hpp>
#include <plait/measured/sweep_sample.hpp>
#include <plait/measured/window_comparison.hpp>
#include <plait/output/data.hpp>
#include <plait/output/picture.hpp>
#include <plait/output/reports.hpp>

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace plait::cli {
namespace {

// A reading within so much of what the supply was set to give: the supply was the limit. Common practice, no source:
// bench supplies hold their current limit to about a per cent.
constexpr double at_limit_ratio = 0.97;
measured::SweepRow sweep_row(const input::MeasuredRow& m, const std::optional<double>& supply_limit_a) {
    measured::SweepRow r;
    r.line = m.line;
    // What a row does not say is not a number in a sweep.
    constexpr double nothing = std::numeric_limits<double>::quiet_NaN();
    r.voltage_v = m.voltage_v.value_or(nothing);
    r.current_a = m.current_a.value_or(m.power_w.value_or(nothing) / r.voltage_v);
    switch (m.state) {
        case input::MeasuredState::unsaid:
            break;
        case input::MeasuredState::charging:
            r.state = measured::SweepState::taking;
            break;
        case input::MeasuredState::idle:
            r.state = measured::SweepState::idle;
            break;
        case input::MeasuredState::error:
            r.state = measured::SweepState::tripped;
            break;
    }
    // Somebody wrote "off" or "trip" where a number would stand.
    const bool said_nothing = r.state == measured::SweepState::idle || r.state == measured::SweepState::tripped;
    if (std::isnan(r.current_a) && said_nothing) r.current_a = 0.0;
    r.from_power = !m.current_a && m.power_w;
    r.step_value = r.from_power ? m.power_step_w : m.current_step_a;
    r.vague = r.from_power ? m.power_vague : m.current_vague;
    // The meters' volts and amps make the window; a display is what is held against them.
    if (m.current_a && m.voltage_v) {
        r.display_w = m.display_power_w ? m.display_power_w : m.power_w;
        r.display_step_w = m.display_power_w ? m.display_step_value : m.power_step_w;
        if (!r.display_w && m.display_current_a) {
            r.display_w = *m.display_current_a * *m.voltage_v;
            r.display_step_w = m.display_step_value * *m.voltage_v;
        }
    } else if (!m.power_w && (m.display_power_w || m.display_current_a)) {
        // Nothing but the display: then it is what there is.
        r.from_power = m.display_power_w.has_value();
        r.current_a = m.display_power_w ? *m.display_power_w / r.voltage_v : *m.display_current_a;
        r.step_value = m.display_step_value;
        r.vague = false;
    }
    r.battery_w = m.battery_power_w;
    r.battery_step_w = m.battery_power_step_w;
    r.wall_w = m.wall_charging_w;
    const double limit_a = m.supply_limit_a.value_or(supply_limit_a.value_or(INFINITY));
    r.supply_was_the_limit = r.current_a >= at_limit_ratio * limit_a;
    return r;
}

// "0.5 A", "10 W": which column a step is of, its unit says.
void take_steps(const std::vector<std::string>& texts, measured::BenchMeters& meters, Diagnostics& complaints) {
    for (const std::string& text : texts) {
        const std::size_t last = text.find_last_not_of(' ');
        const char unit = last == std::string::npos ? '\0' : text[last];
        const bool amps = unit == 'A' || unit == 'a';
        if (!amps && unit != 'W' && unit != 'w') {
            complaints.push_back({"--resolution", 1, 1, Complaint::unit,
                                  fmt::format("\"{}\" has no unit; write \"0.5 A\" or \"10 W\"", text)});
            continue;
        }
        const auto step = number_of(text, "--resolution", amps ? input::OptionNumber::amps_step_a : input::OptionNumber::watts_step_w, complaints);
        std::optional<double>& to = amps ? meters.amps_step_a : meters.watts_step_w;
        if (step && to)
            complaints.push_back({"--resolution", 1, 1, Complaint::twice,
                                  fmt::format("two steps of {} are named; keep one", amps ? "amps" : "watts")});
        if (step) to = step;
    }
}

Result<std::size_t> chosen_input(const LearnOptions& o, const Controller& controller) {
    if (!o.input && controller.inputs.size() == 1) return std::size_t{0};
    std::string names;
    for (std::size_t i = 0; i < controller.inputs.size(); ++i) {
        if (o.input && controller.inputs[i].name == *o.input) return i;
        names += (i > 0 ? ", " : "") + controller.inputs[i].name;
    }
    return Failure{Diagnostics{
        {"--input", 0, 0, o.input ? Complaint::unknown_word : Complaint::ambiguous,
         o.input ? fmt::format("'{}' is no input of this controller; write one of {}", *o.input, names)
                 : fmt::format("the controller has several inputs; say which was on the bench: {}", names)}}};
}

/// The controller of a file of its own, or of a set-up.
Result<Controller> printed_controller(const std::string& file, Session& session) {
    const Result<std::string, std::string> text = session.read_file(file);
    if (!text) return Failure{Diagnostics{{file, 0, 0, Complaint::unreadable, text.error()}}};
    if (text->find("[controller]") != std::string::npos) {
        const Result<Setup> setup = input::read_setup(*text, file, session.reader());
        if (!setup) return Failure{setup.error()};
        return setup->controller;
    }
    const Result<input::ControllerFile> read = input::read_controller(*text, file);
    if (!read) return Failure{read.error()};
    return read->controller;
}

CommandResult plan_session(const LearnOptions& o, Session& session) {
    const Result<Controller> controller = printed_controller(o.plan, session);
    if (!controller) return refused(controller.error());
    const Result<std::size_t> which = chosen_input(o, *controller);
    if (!which) return refused(which.error());
    const Input& input = controller->inputs[*which];
    const auto plan = measured::plan_bench(*controller, input);
    if (!plan) {
        return refused(o.plan, Complaint::no_answer,
                       "neither a maximum voltage nor the top of tracking is printed, so nobody can say how high a "
                       "supply may go; ask the "
                       "maker and write max_voltage");
    }
    std::function<std::string()> data;
    if (o.form.json) data = [&] { return output::bench_plan_json(*controller, input, *plan); };
    if (o.form.csv) data = [&] { return output::bench_plan_csv(*plan); };
    return shown(Exit::all_within, o.form, session,
                 output::bench_plan_report(*controller, input, *plan, session.provenance(o.plan, o.form)), data);
}

}  // namespace

CommandResult run_command(const LearnOptions& o, Session& session) {
    if (!o.plan.empty()) {
        if (o.against || !o.out.empty() || !o.form.svg.empty()) {
            return refused("--plan", Complaint::option,
                           "a plan is made from the print alone; leave out --against, --out and --svg");
        }
        return plan_session(o, session);
    }
    if (o.file.empty())
        return refused("FILE", Complaint::option,
                       "name the file of readings; or, before a session, --plan with a controller file");
    if (o.input && !o.against)
        return refused("--input", Complaint::option,
                       "it names an input of a set-up; add --against with the set-up file");
    if (o.force && o.out.empty())
        return refused("--force", Complaint::option, "there is nothing to write over; name a file with --out");
    measured::LearnSheet sheet;
    sheet.file = o.file;
    Diagnostics complaints;
    const auto number = [&](const std::optional<std::string>& text, const char* option, input::OptionNumber meaning) {
        return number_of(text, option, meaning, complaints);
    };
    measured::BenchMeters meters;
    take_steps(o.resolution, meters, complaints);
    if (o.cut_off) meters.habit = measured::DisplayHabit::cuts_off;
    sheet.meter_accuracy_ratio = number(o.accuracy, "--accuracy", input::OptionNumber::accuracy).value_or(0.0);
    meters.accuracy_ratio = sheet.meter_accuracy_ratio;
    const auto supply_limit_a = number(o.supply_limit, "--supply-limit", input::OptionNumber::supply_limit_a);
    std::vector<input::ColumnByHand> by_hand = columns_by_hand(o.columns, complaints);
    if (!complaints.empty()) return refused(complaints);
    measured::SweepSample sample;
    bool any_volts = false;
    const auto take = [&](const input::MeasuredRow& m) {
        any_volts = any_volts || m.voltage_v;
        sample.add(sweep_row(m, supply_limit_a));
    };
    input::MeasuredReader reader(o.file, take, std::move(by_hand));
    if (const auto trouble = session.read_pieces(o.file, [&](std::string_view piece) { return reader.feed(piece); })) {
        return refused(o.file, Complaint::unreadable, *trouble);
    }
    auto table = reader.finish();
    if (!table) return refused(table.error());
    if (!any_volts) {
        return refused(o.file, Complaint::no_rows,
                       "no row has volts; a sweep needs the supply's voltage beside amps or watts");
    }
    sheet.notes = std::move(table->notes);
    sheet.recovered = table->recovered;
    sheet.display_named = table->has(input::MeasuredColumn::display_power) || table->has(input::MeasuredColumn::display_current);
    add_unused(*table, sheet.notes);
    if (sample.run_length() > 1) {
        sheet.notes.push_back(fmt::format(
            "Of {} rows one in {} was used, chosen by chance in each run of {}: more of them would not narrow the "
            "window.",
            sample.seen(), sample.run_length(), sample.run_length()));
    }
    auto window = measured::learn_window(sample.rows(), meters);
    if (!window) return refused(o.file, Complaint::no_answer, window.error());
    sheet.window = *std::move(window);
    if (o.against) {
        const Result<Controller> controller = printed_controller(*o.against, session);
        if (!controller) return refused(controller.error());
        const Result<std::size_t> which = chosen_input(o, *controller);
        if (!which) return refused(which.error());
        sheet.controller = *controller;
        sheet.input = *which;
        sheet.compared = measured::compare_window(sheet.window, *sheet.controller, *sheet.printed());
    }
    std::function<std::string()> data;
    if (o.form.json) data = [&] { return output::learn_json(sheet); };
    if (o.form.csv) data = [&] { return output::learn_csv(sheet); };
    CommandResult result = shown(Exit::all_within, o.form, session,
                                 output::learn_report(sheet, session.provenance(o.file, o.form)), data);
    if (!o.form.svg.empty()) {
        result.files.push_back(picture_file(o.form, output::sweep_svg(sheet, output::PictureUse::in_file)));
    }
    if (!o.out.empty()) {
        if (!o.force && session.is_there(o.out)) {
            return refused(o.out, Complaint::in_the_way,
                           "there is a file of that name already; choose a new name, or add --force to write over it");
        }
        result.files.push_back({o.out, output::learn_toml(sheet), o.force ? std::string_view() : never});
    }
    return result;
}

}  // namespace plait::cli
