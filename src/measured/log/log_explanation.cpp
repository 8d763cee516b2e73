#include <plait/measured/log_explanation.hpp>

#include "log_hypotheses.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace plait::measured {
namespace {

constexpr std::size_t first_rows = 101;  // whose steps give the usual one
constexpr double hour_s = 3600.0;

/// Adds up a million small numbers without losing the last digits (Neumaier, ZAMM 54, 1974).
class Sum {
public:
    void add(double x) {
        const double t = sum_ + x;
        rest_ += std::abs(sum_) >= std::abs(x) ? (sum_ - t) + x : (x - t) + sum_;
        sum_ = t;
    }
    [[nodiscard]] double total() const { return sum_ + rest_; }

private:
    double sum_ = 0.0;
    double rest_ = 0.0;
};

template <std::size_t N>
void totals(const std::array<Sum, N>& sums, std::array<double, N>& out) {
    for (std::size_t i = 0; i < N; ++i) out[i] = sums[i].total();
}

}  // namespace

struct LogExplainer::State {
    State(const study::SystemModel& system, std::size_t input, const InputWiring& wiring, const LogAccuracy& accuracy)
        : model(system, input, wiring, accuracy) {}

    RowModel model;
    std::vector<LogRow> first;  // until the usual step is known
    double usual_step_s = 0.0;
    bool started = false;
    bool pending = false;  // `now` waits for the row after it
    ExplainedRow now;
    LogAccount account;
    Sum logged, gap, label, possible, expected, measured, open;
    std::array<Sum, cause_count> lost, hours;
    std::array<Sum, most_bands> band_lost, band_hours;

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
    }

    // Each row stands for half the step before and half the step after it; a gap belongs to no row.
    void take(const LogRow& row, std::vector<ExplainedRow>* ready) {
        double half_s = 0.0;
        double since_s = std::numeric_limits<double>::infinity();
        if (pending) {
            const double step_s = row.time_s - now.row.time_s;
            since_s = std::max(step_s, 0.0);
            if (step_s > 0.0 && step_s <= gap_steps_factor * usual_step_s) {
                half_s = 0.5 * step_s;
            } else {
                ++account.gaps;
                if (step_s > 0.0) gap.add(step_s / hour_s);
            }
            now.hours_s += half_s;
            count(ready);
        }
        model.explain(row, since_s, now);
        now.hours_s = half_s;
        pending = true;
    }

    void count(std::vector<ExplainedRow>* ready) {
        const double h = now.hours_s / hour_s;
        ++account.rows;
        account.irradiance_rows += now.row.irradiance_w_per_m2 ? 1U : 0U;
        account.air_rows += now.row.air ? 1U : 0U;
        account.panel_rows += now.row.panel ? 1U : 0U;
        account.voltage_rows += now.row.voltage_v ? 1U : 0U;
        account.charge_rows += now.row.charge_ratio ? 1U : 0U;
        account.wall_rows += now.row.wall_w ? 1U : 0U;
        logged.add(h);
        label.add(h * now.label_w);
        possible.add(h * now.possible_w);
        expected.add(h * now.expected_w);
        measured.add(h * now.measured_w);
        if (now.possible_sd_w > 0.1 * now.label_w) open.add(h);
        for (std::size_t c = 0; c < cause_count; ++c) {
            if (now.lost_w[c] != 0.0) lost[c].add(h * now.lost_w[c]);
            if (now.probability_ratio[c] != 0.0) hours[c].add(h * now.probability_ratio[c]);
        }
        for (std::size_t b = 0; b < most_bands; ++b) {
            if (now.band_ratio[b] != 0.0) band_hours[b].add(h * now.band_ratio[b]);
            if (now.band_lost_w[b] != 0.0) band_lost[b].add(h * now.band_lost_w[b]);
        }
        if (ready) ready->push_back(now);
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
    if (s.pending) s.count(ready);
    LogAccount& a = s.account;
    a.usual_step_s = s.usual_step_s;
    a.logged_h = s.logged.total();
    a.gap_h = s.gap.total();
    a.label_wh = s.label.total();
    a.possible_wh = s.possible.total();
    a.expected_wh = s.expected.total();
    a.measured_wh = s.measured.total();
    a.open_h = s.open.total();
    totals(s.lost, a.lost_wh);
    totals(s.hours, a.hours_h);
    totals(s.band_lost, a.band_wh);
    totals(s.band_hours, a.band_h);
    return a;
}

}  // namespace plait::measured
