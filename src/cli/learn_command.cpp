#include "command.hpp"

#include <plait/input/measured_table.hpp>
#include <plait/input/read_setup.hpp>
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
    const double limit_a = m.supply_limit_a.value_or(supply_limit_a.value_or(INFINITY));
    r.supply_was_the_limit = r.current_a >= at_limit_ratio * limit_a;
    return r;
}

Result<std::size_t> chosen_input(const LearnOptions& o, const Controller& controller) {
    if (!o.input && controller.inputs.size() == 1) return std::size_t{0};
    std::string names;
    for (std::size_t i = 0; i < controller.inputs.size(); ++i) {
        if (o.input && controller.inputs[i].name == *o.input) return i;
        names += (i > 0 ? ", " : "") + controller.inputs[i].name;
    }
    return Failure{Diagnostics{
        {"--input", 0, 0,
         o.input ? fmt::format("'{}' is no input of this controller; write one of {}", *o.input, names)
                 : fmt::format("the controller has several inputs; say which was on the bench: {}", names)}}};
}

}  // namespace

CommandResult run_command(const LearnOptions& o, Session& session) {
    if (o.force && o.out.empty()) return refused("--force", "there is nothing to write over; name a file with --out");
    measured::LearnSheet sheet;
    sheet.file = o.file;
    Diagnostics complaints;
    const auto number = [&](const std::optional<std::string>& text, const char* option, input::OptionNumber meaning) {
        return number_of(text, option, meaning, complaints);
    };
    sheet.meter_accuracy_ratio = number(o.accuracy, "--accuracy", input::OptionNumber::accuracy).value_or(0.0);
    const auto supply_limit_a = number(o.supply_limit, "--supply-limit", input::OptionNumber::supply_limit_a);
    if (!complaints.empty()) return refused(complaints);
    std::vector<measured::SweepRow> rows;
    input::MeasuredReader reader(o.file,
                                 [&](const input::MeasuredRow& m) { rows.push_back(sweep_row(m, supply_limit_a)); });
    if (const auto trouble = session.read_pieces(o.file, [&](std::string_view piece) { reader.feed(piece); })) {
        return refused(o.file, *trouble);
    }
    auto table = reader.finish();
    if (!table) return refused(table.error());
    if (std::all_of(rows.begin(), rows.end(), [](const measured::SweepRow& r) { return std::isnan(r.voltage_v); })) {
        return refused(o.file, "no row has volts; a sweep needs the supply's voltage beside amps or watts");
    }
    sheet.notes = std::move(table->notes);
    add_unused(*table, sheet.notes);
    auto window = measured::learn_window(rows, sheet.meter_accuracy_ratio);
    if (!window) return refused(o.file, window.error());
    sheet.window = *std::move(window);
    if (o.against) {
        const Result<Setup> setup = setup_of(*o.against, session);
        if (!setup) return refused(setup.error());
        const Result<std::size_t> which = chosen_input(o, setup->controller);
        if (!which) return refused(which.error());
        sheet.controller = setup->controller;
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
        if (!o.force && session.world().read_file(o.out)) {
            return refused(o.out,
                           "there is a file of that name already; choose a new name, or add --force to write over it");
        }
        result.files.push_back({o.out, output::learn_toml(sheet), o.force ? std::string_view() : never});
    }
    return result;
}

}  // namespace plait::cli
