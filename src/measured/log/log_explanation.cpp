// Rows are taken in blocks of at most a day, those of one minute that say the same as one. What a block teaches about sensors
// and limits is learned first, from a row every five minutes; then all its rows are explained with what was learned, and what
// the later ones say of a cause counts for the earlier ones as well.
#include <plait/measured/log_explanation.hpp>

#include "cause_chain.hpp"
#include "log_sums.hpp"
#include "loss_attribution.hpp"
#include "row_group.hpp"
#include "row_model.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace plait::measured {
namespace {

constexpr std::size_t first_rows = 101;  // whose steps give the usual one
constexpr std::size_t most_groups = 2048;  // of a block
constexpr std::size_t most_kept = 16384;   // rows of a block that somebody wants to have explained
constexpr double most_block_s = 86400.0;
constexpr double dark_s = 3600.0;  // a block may end after so long without power
constexpr double lesson_step_s = 300.0;

/// How long the rows of a group last together, and what they measured.
struct GroupSpan {
    double hours_s = 0.0;
    double energy_ws = 0.0;
    std::size_t rows = 1;

    void add(double more_s, double at_w) {
        hours_s += more_s;
        energy_ws += more_s * at_w;
    }
};
struct KeptRow {
    LogRow row;
    double hours_s = 0.0;
    std::size_t group = 0;
};

}  // namespace

struct LogExplainer::State {
    State(const study::SystemModel& system, std::size_t input, const InputWiring& wiring, const LogAccuracy& accuracy)
        : model(system, input, wiring, accuracy), sums(accuracy.display_w), group(accuracy.display_w) {}

    RowModel model;
    CauseChain chain;
    LogSums sums;
    RowBlock block;                // of groups
    std::vector<GroupSpan> spans;  // of the block's groups
    RowGroup group;                // the block's last
    std::vector<KeptRow> kept;     // the block's rows, where somebody wants them
    double taken_s = 0.0;          // the time of the row taken last
    double last_w = 0.0;
    std::vector<LogRow> first;    // until the usual step is known
    std::vector<StateAccount> lesson_accounts;
    double usual_step_s = 0.0;
    double dark_since_s = 0.0;
    bool dark = false;
    bool started = false;
    std::size_t gaps = 0;
    double gap_s = 0.0;

    void start(std::vector<ExplainedRow>* ready) {
        std::vector<double> steps;
        for (std::size_t i = 1; i < first.size(); ++i) {
            const double step_s = first[i].time_s - first[i - 1].time_s;
            if (step_s > 0.0) steps.push_back(step_s);
        }
        if (!steps.empty()) {
            const auto middle = steps.begin() + static_cast<std::ptrdiff_t>(steps.size() / 2);
            std::nth_element(steps.begin(), middle, steps.end());
            usual_step_s = *middle;
        }
        started = true;
        for (const LogRow& row : first) take(row, ready);
        first.clear();
    }

    // Each row stands for half the step before and half the step after it; a gap belongs to no row.
    void take(const LogRow& row, std::vector<ExplainedRow>* ready) {
        double half_s = 0.0;
        bool joins = false;
        const bool first_of_all = block.rows.empty() && !sums.any();
        double group_step_s = 0.0;
        if (!block.rows.empty()) {
            const double step_s = row.time_s - taken_s;
            if (step_s > 0.0 && step_s <= gap_steps_factor * usual_step_s) {
                half_s = 0.5 * step_s;
                joins = group.takes(row);
            } else {
                ++gaps;
                if (step_s > 0.0) gap_s += step_s;
            }
            spans.back().add(half_s, last_w);
            if (!kept.empty()) kept.back().hours_s += half_s;
            group_step_s = std::max(row.time_s - group.begins_s(), 0.0);
            if (block_ends(row)) {
                explain_block(ready);
                joins = false;
            }
        }
        taken_s = row.time_s;
        last_w = measured_w(row);
        if (joins) {
            group.add(row);
            ++spans.back().rows;
        } else {
            close_group();
            RowEvidence& e = block.rows.emplace_back();
            e.row = row;
            e.step_s = group_step_s;
            e.first = first_of_all;
            spans.emplace_back();
            group.begin(row);
        }
        spans.back().add(half_s, last_w);
        if (ready) kept.push_back({row, half_s, block.rows.size() - 1});
        const bool power = row.power_w.value_or(1.0) > 0.0 && row.current_a.value_or(1.0) > 0.0;
        if (power || !dark) dark_since_s = row.time_s;
        dark = !power;
    }

    void close_group() {
        if (!block.rows.empty()) block.rows.back().row = group.mean();
    }

    [[nodiscard]] bool block_ends(const LogRow& next) const {
        const double since_s = next.time_s - block.rows.front().row.time_s;
        const bool night = dark && next.time_s - dark_since_s > dark_s && block.rows.size() > 32;
        return block.rows.size() >= most_groups || kept.size() >= most_kept || since_s > most_block_s || since_s < 0.0 || night;
    }

    // Learns from a row every five minutes, each as the rows so far say.
    void learn() {
        CauseChain scout = chain;
        model.forget_rows();
        double last_s = -std::numeric_limits<double>::infinity();
        for (const RowEvidence& of_block : block.rows) {
            const double since_s = of_block.row.time_s - last_s;
            if (since_s >= 0.0 && since_s < std::min(lesson_step_s, 0.99 * lesson_step_s)) continue;
            RowEvidence e = of_block;
            if (std::isfinite(since_s)) e.step_s = std::max(0.0, since_s);
            last_s = e.row.time_s;
            lesson_accounts.clear();
            model.forget(e.step_s);
            model.explain(e, lesson_accounts);
            scout.forward(e);
            // A slow tracker in steady light, and a wall that leaves enough, teach as well.
            float works = e.ahead[index_of(RowState::works)];
            if (!e.lags) works += e.ahead[index_of(RowState::slow_tracker)];
            if (!e.wall_holds) works += e.ahead[index_of(RowState::wall)];
            model.learn(e, static_cast<double>(works));
        }
    }

    void explain_block(std::vector<ExplainedRow>* ready) {
        close_group();
        const RowModel::Learned before = model.learned();
        learn();
        // Where the limits are others than were reckoned with, the rows look other as well.
        for (int again = 0; again < 2 && model.take_in_limits(); ++again) {
            RowModel::Learned anew = before;
            anew.keep_limits_of(model.learned());
            model.put_back(anew);
            learn();
        }
        model.forget_rows();
        for (std::size_t i = 0; i < block.rows.size(); ++i) {
            RowEvidence& e = block.rows[i];
            model.explain(e, block.accounts);
            if (spans[i].rows > 1 && spans[i].hours_s > 0.0) e.measured_w = spans[i].energy_ws / spans[i].hours_s;
            chain.forward(e);
        }
        chain.smooth(block.rows);
        for (std::size_t i = 0; i < block.rows.size(); ++i) {
            const RowEvidence& e = block.rows[i];
            ExplainedRow row = attributed(e, block.accounts, model);
            row.hours_s = spans[i].hours_s;
            sums.add(row, e, spans[i].rows);
        }
        if (ready) hand_out(*ready);
        // The next row's step is from the last of these.
        block.clear();
        spans.clear();
        kept.clear();
    }

    // Each row of a group by itself: with its own readings, in the weather and with the causes of the group.
    void hand_out(std::vector<ExplainedRow>& ready) {
        for (const KeptRow& k : kept) {
            RowEvidence& e = block.rows[k.group];
            if (spans[k.group].rows > 1) {
                e.row = k.row;
                e.measured_w = measured_w(k.row);
            }
            ready.push_back(attributed(e, block.accounts, model));
            ready.back().hours_s = k.hours_s;
        }
    }
};

LogExplainer::LogExplainer(const study::SystemModel& system, std::size_t input, const InputWiring& wiring,
                           const LogAccuracy& accuracy)
    : state_(std::make_unique<State>(system, input, wiring, accuracy)) {}
LogExplainer::~LogExplainer() = default;
LogExplainer::LogExplainer(LogExplainer&&) noexcept = default;
LogExplainer& LogExplainer::operator=(LogExplainer&&) noexcept = default;

void LogExplainer::add(const LogRow& row, std::vector<ExplainedRow>* ready) {
    State& s = *state_;
    if (s.started) {
        s.take(row, ready);
        return;
    }
    s.first.push_back(row);
    if (s.first.size() == first_rows) s.start(ready);
}

LogAccount LogExplainer::finish(std::vector<ExplainedRow>* ready) {
    State& s = *state_;
    if (!s.started) s.start(ready);
    if (!s.block.rows.empty()) s.explain_block(ready);
    LogAccount a = s.sums.account(s.model);
    a.usual_step_s = s.usual_step_s;
    a.gaps = s.gaps;
    a.gap_h = s.gap_s / 3600.0;
    return a;
}

}  // namespace plait::measured
