#include "command.hpp"
#include "log_pieces.hpp"

#include <plait/input/clean_text.hpp>
#include <plait/input/measured_table.hpp>
#include <plait/input/read_charging.hpp>
#include <plait/measured/clear_share.hpp>
#include <plait/measured/log_series.hpp>
#include <plait/measured/log_sun.hpp>
#include <plait/output/data.hpp>
#include <plait/output/picture.hpp>
#include <plait/output/reports.hpp>
#include <plait/output/subjects.hpp>
#include <plait/study/look_up.hpp>

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <optional>
#include <utility>

namespace plait::cli {
namespace {

// Only rows with a time.
measured::LogRow log_row(const input::MeasuredRow& m) {
    measured::LogRow row;
    row.time_s = *m.time_s;
    row.voltage_v = m.voltage_v;
    row.current_a = m.current_a;
    row.power_w = m.power_w;
    // A log of the input's own display is a log, where there is nothing else.
    if (!m.power_w && !m.current_a) {
        row.power_w = m.display_power_w;
        if (!m.display_power_w) row.current_a = m.display_current_a;
    }
    row.irradiance_w_per_m2 = m.irradiance_w_per_m2;
    row.air = m.air;
    row.panel = m.panel;
    row.charge_ratio = m.state_of_charge_ratio;
    row.wall_w = m.wall_charging_w;
    return row;
}

/// Place and clock of a log, and whether its rows have dates to use them with.
struct LogPlace {
    std::optional<measured::LogSun> sun;
    measured::LogClock clock;
    bool dated = false;
    measured::ClearShare share;

    /// What the sun says of the row's light.
    void tell(const input::MeasuredRow& m, measured::LogRow& row) {
        if (!sun || (m.time_form != input::TimeForm::local && m.time_form != input::TimeForm::zoned)) return;
        dated = true;
        clock.zoned = m.time_form == input::TimeForm::zoned;
        const double universal_s = sun->universal_s(row.time_s, clock);
        const measured::SunBound bound = sun->bound(universal_s);
        row.clear_w_per_m2 = bound.clear_w_per_m2;
        row.brightest_w_per_m2 = bound.brightest_w_per_m2;
        if (row.irradiance_w_per_m2 || !m.global_irradiance_w_per_m2) return;
        row.irradiance_w_per_m2 = sun->turned_w_per_m2(*m.global_irradiance_w_per_m2, universal_s);
        row.irradiance_is_turned = row.irradiance_w_per_m2.has_value();
    }
};

void add_place_notes(const LogPlace& place, const Setup& setup, const InputWiring& wiring, const input::MeasuredTable& table,
                     std::vector<std::string>& notes) {
    const bool global = table.has(input::MeasuredColumn::global_irradiance);
    const bool bare = !table.has(input::MeasuredColumn::irradiance);
    if (!place.sun && global && bare) {
        notes.emplace_back(
            setup.location && !setup.planes.empty()
                ? "The light on flat ground is not used: the wiring's panels look different ways."
                : "The light on flat ground is not used: without place and plane nobody can turn it onto the panels. Add "
                  "latitude, longitude and from_utc to [site], and a [[plane]] with tilt and azimuth.");
    } else if (!place.sun && bare && (!setup.location || setup.planes.empty())) {
        notes.emplace_back(
            "With latitude, longitude and from_utc in [site] and a [[plane]], the sun's height would bound the light of every "
            "row.");
    }
    // What volts and amps make of the light says whether the array could have been whole: amps of a full sun need all of it.
    constexpr double whole_ratio = 0.85;
    constexpr double too_much_ratio = 1.2;
    if (const auto best = place.share.best_hour_ratio()) {
        const double per_cent = 100.0 * *best;
        // One of four strings is a quarter: haze and a plane a little off are not far from that.
        const bool few_strings = wiring.strings.size() == 2 || wiring.strings.size() == 3;
        if (*best > too_much_ratio) {
            notes.push_back(fmt::format("In its best hour the array gave as much as in {:.0f} % of a clear sky's light: place, plane "
                                        "or clock are not as stated.",
                                        per_cent));
        } else if (*best >= whole_ratio) {
            notes.push_back(fmt::format("In its best hour the array gave as much as in {:.0f} % of a clear sky's light: {} then.",
                                        per_cent, few_strings ? "no string was missing" : "not much was missing"));
        } else {
            notes.push_back(fmt::format("Even in its best hour the array gave only what {:.0f} % of a clear sky's light would: if the "
                                        "sky was clear at all, a string is missing, or there is shade, or dirt.",
                                        per_cent));
        }
    }
    if (place.sun && !place.dated) {
        notes.emplace_back("The rows have no date, so that the sun's height does not help: write times such as 2026-06-21T12:05.");
    }
}

// A log belongs to one input.
Result<std::size_t> input_of(const ExplainOptions& o, const Setup& setup, const ArrayPlan& plan) {
    if (o.input) return used_input(*o.input, setup, plan);
    const UsedInputs used = used_inputs(setup, plan);
    if (used.inputs.size() == 1) return used.inputs.front();
    return Failure{
        Diagnostics{{"--input", 0, 0, Complaint::ambiguous,
                     "a log is of one input, and several are in use; add --input with one of: " + used.names}}};
}

// The options say, as everywhere, how far a figure may be off in 95 of 100 cases: two standard deviations.
measured::LogAccuracy accuracy_of(const ExplainOptions& o, Diagnostics& complaints) {
    using Meaning = input::OptionNumber;
    constexpr double deviations = 2.0;
    measured::LogAccuracy a;
    const auto take = [&](double& to, const std::optional<std::string>& text, const char* option, Meaning meaning) {
        if (const auto value = number_of(text, option, meaning, complaints)) to = *value / deviations;
    };
    take(a.volt_ratio, o.volt_accuracy, "--volt-accuracy", Meaning::deviation);
    take(a.amp_ratio, o.amp_accuracy, "--amp-accuracy", Meaning::deviation);
    take(a.watt_ratio, o.watt_accuracy, "--watt-accuracy", Meaning::deviation);
    take(a.irradiance_ratio, o.sun_accuracy, "--sun-accuracy", Meaning::deviation);
    take(a.panel_k, o.temperature_accuracy, "--temperature-accuracy", Meaning::temperature_deviation_k);
    if (o.temperature_accuracy) a.air_k = a.panel_k;
    a.display_w = number_of(o.display, "--display", Meaning::least_shown_w, complaints).value_or(a.display_w);
    return a;
}

/// Rows in the order of their times. A log whose first rows go back in time is kept until its end, and handed on backwards.
class NewestFirst {
public:
    explicit NewestFirst(std::function<void(const measured::LogRow&)> take) : take_(std::move(take)) {}

    void add(const measured::LogRow& row) {
        if (decided_ && !reversed_) return take_(row);
        kept_.push_back(row);
        if (decided_ || kept_.size() < rows_that_tell) return;
        decide();
        if (!reversed_) hand_on();
    }
    void finish() {
        decided_ = true;  // too few rows to tell
        if (reversed_) std::reverse(kept_.begin(), kept_.end());
        hand_on();
    }
    [[nodiscard]] bool reversed() const { return reversed_; }

private:
    static constexpr std::size_t rows_that_tell = 4;

    void decide() {
        decided_ = true;
        reversed_ = kept_.size() > 1;
        for (std::size_t i = 0; i + 1 < kept_.size(); ++i) reversed_ = reversed_ && kept_[i + 1].time_s < kept_[i].time_s;
    }
    void hand_on() {
        for (const measured::LogRow& row : kept_) take_(row);
        kept_.clear();
    }

    std::function<void(const measured::LogRow&)> take_;
    std::vector<measured::LogRow> kept_;
    bool decided_ = false;
    bool reversed_ = false;
};

/// The table of rows. A long one is put out as it grows, so that it needs no memory; a short one is kept until it is whole.
class TableOut {
public:
    TableOut(const World& world, bool wanted) : world_(&world), wanted_(wanted) {}

    void head(std::string text) { text_ = std::move(text); }
    // Pieces of rows become pieces of text, each by itself.
    void rows(const std::vector<measured::ExplainedRow>& rows) {
        if (!wanted_ || rows.empty()) return;
        std::vector<std::string> pieces((rows.size() + piece_rows - 1) / piece_rows);
        run_jobs(world_->in_parallel, pieces.size(), [&](std::size_t p) {
            const std::size_t end = std::min(rows.size(), (p + 1) * piece_rows);
            for (std::size_t i = p * piece_rows; i < end; ++i) output::explain_csv_row(rows[i], pieces[p]);
        });
        for (const std::string& piece : pieces) text_ += piece;
        if (!world_->put || (text_.size() < kept_bytes && !putting_)) return;
        putting_ = true;
        // What is not kept for `run` passes the gate here.
        failed_ = failed_ || !world_->put(input::clean_text(std::move(text_)));
        text_.clear();
    }
    [[nodiscard]] std::string rest() { return std::move(text_); }
    [[nodiscard]] bool failed() const { return failed_; }

private:
    static constexpr std::size_t piece_rows = 1024;
    static constexpr std::size_t kept_bytes = 1U << 20U;

    const World* world_;
    std::string text_;
    bool wanted_ = false;
    bool putting_ = false;
    bool failed_ = false;
};

}  // namespace

CommandResult run_command(const ExplainOptions& o, Session& session) {
    const Result<Setup> setup_read = setup_of(o.file, session);
    if (!setup_read) return refused(setup_read.error());
    const Setup& setup = *setup_read;
    Diagnostics complaints;
    const measured::LogAccuracy accuracy = accuracy_of(o, complaints);
    std::vector<input::ColumnByHand> by_hand = columns_by_hand(o.columns, complaints);
    LogPlace place;
    place.clock.wall_clock = o.wall_clock;
    if (o.clock_ahead) {
        const Result<double> ahead = input::read_clock_offset_s(*o.clock_ahead, "--clock-ahead");
        if (ahead) place.clock.ahead_s = *ahead;
        if (!ahead) complaints.insert(complaints.end(), ahead.error().begin(), ahead.error().end());
    }
    if (!complaints.empty()) return refused(complaints);
    const Result<ArrayPlan> plan = chosen_plan(o, setup);
    if (!plan) return refused(plan.error());
    const Result<std::size_t> input = input_of(o, setup, *plan);
    if (!input) return refused(input.error());
    const study::SystemModel system(setup);
    output::ExplainedLog log{*input, (*plan)[*input], accuracy, {}, {}, study::judge_and_look_up(system, *plan).judgement.verdict, {}};
    place.sun = measured::LogSun::of(setup, log.wiring);
    std::optional<measured::LogExplainer> explainer;  // made at the first row, which shows how good its light is

    std::vector<measured::ExplainedRow> ready;
    TableOut table(session.world(), o.form.csv);
    if (o.form.csv) table.head(output::explain_csv_head(setup, log.verdict));
    std::size_t empty = 0;
    std::size_t timeless = 0;
    measured::LogSeries series;
    const bool pictured = !o.form.page.empty() || !o.form.svg.empty();
    const bool rows_wanted = o.form.csv || pictured || place.sun;
    const auto write = [&] {
        for (const measured::ExplainedRow& row : ready) {
            if (pictured) series.add(row);
            if (place.sun) place.share.add(row);
        }
        table.rows(ready);
        ready.clear();
    };
    LogPieces::Hooks hooks;
    hooks.explain = [&](const measured::LogRow& row) { explainer->add(row, rows_wanted ? &ready : nullptr); };
    hooks.explained = write;
    std::function<bool(std::string_view)> read_text;
    hooks.read = [&](std::string_view text) { return read_text(text) && !table.failed(); };
    LogPieces pieces(session.world().in_parallel, std::move(hooks));
    bool turned = false;  // light on flat ground takes the place of a sensor in the panels' plane
    NewestFirst order([&](const measured::LogRow& row) {
        if (!explainer) {
            if (turned) {
                log.accuracy.irradiance_ratio = std::hypot(log.accuracy.irradiance_ratio, measured::turned_light_ratio);
            }
            explainer.emplace(system, log.input, log.wiring, log.accuracy);
        }
        pieces.add(row);
    });
    input::MeasuredReader reader(o.log, [&](const input::MeasuredRow& m) {
        const bool watts = m.power_w || m.display_power_w || (m.voltage_v && (m.current_a || m.display_current_a));
        if (!watts) ++empty;
        if (!m.time_s) ++timeless;
        if (!watts || !m.time_s) return;
        measured::LogRow row = log_row(m);
        place.tell(m, row);
        turned = turned || (!m.irradiance_w_per_m2 && m.global_irradiance_w_per_m2 && place.dated);
        order.add(row);
    }, std::move(by_hand));
    read_text = [&](std::string_view text) { return reader.feed(text); };
    if (const auto trouble = session.read_pieces(o.log, [&](std::string_view piece) { return pieces.feed(piece); })) {
        return refused(o.log, Complaint::unreadable, *trouble);
    }
    pieces.end_of_text();
    const Result<input::MeasuredTable> read = reader.finish();
    if (!read) return refused(read.error());
    if (read->time_form == input::TimeForm::none) {
        return refused(o.log, Complaint::missing,
                       "there is no column of time, so no energy can be counted; add one, such as "
                       "time = 2026-06-21 12:05 or seconds from the start");
    }
    order.finish();
    pieces.finish();
    if (explainer) log.account = explainer->finish(rows_wanted ? &ready : nullptr);
    write();
    if (table.failed()) return {Exit::cannot_write, "", "plait: the output could not be written; is the disk full?\n"};
    if (log.account.rows < 2) {
        return refused(o.log, Complaint::no_answer,
                       "fewer than two rows have a time and volts with amps or watts; there is nothing to explain");
    }
    if (!(log.account.logged_h > 0.0)) {
        return refused(
            o.log, Complaint::time,
            "no two rows follow each other in time, so no energy can be counted; write the rows in the order of "
            "their times, each with its own");
    }
    log.notes = read->notes;
    if (order.reversed()) log.notes.emplace_back("The newest row comes first in the file; the rows were taken the other way round.");
    add_unused(*read, log.notes);
    add_place_notes(place, setup, log.wiring, *read, log.notes);
    if (empty + timeless > 0) {
        log.notes.push_back(std::to_string(empty + timeless) + " rows without a time or without watts were left out.");
    }
    // The table of rows has no place for advice.
    if (!o.form.csv || !o.form.page.empty())
        log.advice =
            measured::advice_on(system, *plan, log.account, session.watch(10.0));
    std::function<std::string()> data;
    if (o.form.json) data = [&] { return output::explain_json(system, log); };
    if (o.form.csv) data = [&] { return table.rest(); };
    CommandResult result = shown(Exit::all_within, o.form, session,
                                 output::explain_report(system, log, series, session.provenance(o.file, o.form)), data);
    if (!o.form.svg.empty()) {
        result.files.push_back(picture_file(
            o.form, output::log_svg(setup, log.account, series, log.verdict, output::PictureUse::in_file)));
    }
    return result;
}

}  // namespace plait::cli
