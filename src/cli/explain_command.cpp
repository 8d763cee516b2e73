#include "commands.hpp"

#include <plait/measured/log_series.hpp>
#include <plait/output/page.hpp>
#include <plait/output/picture.hpp>

#include <plait/input/measured_table.hpp>
#include <plait/output/explain.hpp>

#include <algorithm>
#include <cmath>

namespace plait::cli {
namespace {

std::optional<double> known(double value) { return std::isnan(value) ? std::nullopt : std::optional<double>(value); }
std::optional<Celsius> known_degrees(double degc) {
    return std::isnan(degc) ? std::nullopt : std::optional<Celsius>(Celsius{degc});
}

measured::LogRow log_row(const input::MeasuredRow& m) {
    return {m.time_s,
            known(m.voltage_v),
            known(m.current_a),
            known(m.power_w),
            known(m.irradiance_w_per_m2),
            known_degrees(m.air_degc),
            known_degrees(m.panel_degc),
            known(m.state_of_charge_ratio),
            known(m.wall_charging_w)};
}

// A log belongs to one input.
Result<std::size_t> input_of(const Options& o, const Setup& setup, const ArrayPlan& plan) {
    std::vector<std::size_t> used;
    std::string names;
    for (std::size_t i = 0; i < plan.size(); ++i) {
        if (plan[i].empty()) continue;
        used.push_back(i);
        names += (names.empty() ? "" : ", ") + setup.controller.inputs[i].name;
    }
    const auto fault = [](const std::string& message) { return Failure{Diagnostics{{"--input", 0, 0, message}}}; };
    if (!o.input) {
        if (used.size() == 1) return used.front();
        return fault("a log is of one input, and several are in use; add --input with one of: " + names);
    }
    const auto named = std::find_if(used.begin(), used.end(),
                                    [&](std::size_t i) { return setup.controller.inputs[i].name == *o.input; });
    if (named == used.end()) return fault("no input of that name has panels on it; write one of: " + names);
    return *named;
}

measured::LogAccuracy accuracy_of(const Options& o, Diagnostics& complaints) {
    using Meaning = input::OptionNumber;
    measured::LogAccuracy a;
    const auto take = [&](double& to, const std::optional<std::string>& text, const char* option, Meaning meaning) {
        to = number_of(text, option, meaning, complaints).value_or(to);
    };
    take(a.volt_ratio, o.volt_accuracy, "--volt-accuracy", Meaning::deviation);
    take(a.amp_ratio, o.amp_accuracy, "--amp-accuracy", Meaning::deviation);
    take(a.watt_ratio, o.watt_accuracy, "--watt-accuracy", Meaning::deviation);
    take(a.irradiance_ratio, o.irradiance_accuracy, "--irradiance-accuracy", Meaning::deviation);
    take(a.panel_k, o.temperature_accuracy, "--temperature-accuracy", Meaning::temperature_deviation_k);
    if (o.temperature_accuracy) a.air_k = a.panel_k;
    take(a.display_w, o.display, "--display", Meaning::least_shown_w);
    return a;
}

}  // namespace

CommandResult explain(const Options& o, const Setup& setup, const World& world, output::Colour colour) {
    Diagnostics complaints;
    const measured::LogAccuracy accuracy = accuracy_of(o, complaints);
    if (!complaints.empty()) return refused(complaints);
    const Result<ArrayPlan> plan = chosen_plan(o, setup);
    if (!plan) return refused(plan.error());
    const Result<std::size_t> input = input_of(o, setup, *plan);
    if (!input) return refused(input.error());
    const study::SystemModel system(setup);
    output::ExplainedLog log{*input, (*plan)[*input], accuracy, {}, {}, {}};
    measured::LogExplainer explainer(system, log.input, log.wiring, log.accuracy);

    std::vector<measured::ExplainedRow> ready;
    std::string table = o.csv ? output::explain_csv_head() : "";
    std::size_t empty = 0;
    std::size_t timeless = 0;
    measured::LogSeries series;
    const bool pictured = !o.page.empty() || !o.svg.empty();
    const bool rows_wanted = o.csv || pictured;
    const auto write = [&] {
        for (const measured::ExplainedRow& row : ready) {
            if (o.csv) output::explain_csv_row(row, table);
            if (pictured) series.add(row);
        }
        ready.clear();
    };
    input::MeasuredReader reader(o.log, [&](const input::MeasuredRow& m) {
        const measured::LogRow row = log_row(m);
        const bool watts = row.power_w || (row.voltage_v && row.current_a);
        if (!watts) ++empty;
        if (std::isnan(m.time_s)) ++timeless;
        if (!watts || std::isnan(m.time_s)) return;
        explainer.add(row, rows_wanted ? &ready : nullptr);
        write();
    });
    if (const auto trouble = world.read_pieces(o.log, [&](std::string_view piece) { reader.feed(piece); })) {
        return refused(o.log, *trouble);
    }
    const Result<input::MeasuredTable> read = reader.finish();
    if (!read) return refused(read.error());
    if (read->time_form == input::TimeForm::none) {
        return refused(o.log,
                       "there is no column of time, so no energy can be counted; add one, such as "
                       "time = 2026-06-21 12:05 or seconds from the start");
    }
    log.account = explainer.finish(rows_wanted ? &ready : nullptr);
    write();
    if (log.account.rows < 2) {
        return refused(o.log,
                       "fewer than two rows have a time and volts with amps or watts; there is nothing to explain");
    }
    if (!(log.account.logged_h > 0.0)) {
        return refused(
            o.log,
            "no two rows follow each other in time, so no energy can be counted; write the rows in the order of "
            "their times, each with its own");
    }
    log.notes = read->notes;
    add_unused(*read, log.notes);
    if (empty + timeless > 0) {
        log.notes.push_back(std::to_string(empty + timeless) + " rows without a time or without watts were left out.");
    }
    // The table of rows has no place for advice.
    if (!o.csv || !o.page.empty())
        log.advice =
            measured::advice_on(system, *plan, log.account, world.watch ? world.watch(10.0) : search::KeepGoing());
    CommandResult result{Exit::all_within,
            o.csv    ? table
            : o.json ? output::explain_json(system, log)
                     : output::explain_text(system, log, colour),
            ""};
    if (!o.page.empty()) {
        result.files.push_back({o.page, output::explain_page(system, log, series), output::page_mark});
    }
    if (!o.svg.empty()) {
        result.files.push_back(
            {o.svg, output::log_svg(log.account, series, output::PictureUse::in_file), output::picture_mark});
    }
    return result;
}

}  // namespace plait::cli
