#include "cause_chain.hpp"

#include "log_figures.hpp"

namespace plait::measured {
namespace {

constexpr double minute_s = 60.0;
constexpr double hour_s = 3600.0;
constexpr double day_s = 86400.0;

// How long each lasts on average; in the order of RowState.
constexpr ByState<double> lasting_s{
    2.0 * hour_s,   // works
    2.0 * hour_s,   // waiting
    4.0 * hour_s,   // tripped
    2.0 * hour_s,   // slowing
    3.0 * hour_s,   // stopped
    2.0 * hour_s,   // wall
    10.0 * minute_s,  // display
    40.0 * minute_s,  // shade_all
    1.0 * hour_s,   // shade_part
    10.0 * day_s,   // bypassed
    10.0 * day_s,   // missing
    1.5 * hour_s,   // local_maximum
    8.0 * hour_s,   // fixed_voltage
    10.0 * day_s,   // slow_tracker
    20.0 * minute_s,  // unexplained
};

// A battery that slows down stops in the end; one that has stopped begins again slowly, unless it was used meanwhile.
constexpr double slowing_stops = 0.5;
constexpr double stopped_slows = 0.6;

template <class A, class B>
double sum_of_products(const A& a, const B& b) {
    double sum = 0.0;
    for (std::size_t h = 0; h < state_count; ++h) sum += static_cast<double>(a[h]) * static_cast<double>(b[h]);
    return sum;
}

}  // namespace

ByState<double> CauseChain::priors(const RowPriors& of_row) {
    ByState<double> p{};
    const auto at = [&](RowState s) -> double& { return p[index_of(s)]; };
    at(RowState::works) = 0.80;
    at(RowState::waiting) = 0.10;
    at(RowState::tripped) = 0.015;
    at(RowState::slowing) = static_cast<double>(of_row.slowing);
    at(RowState::stopped) = static_cast<double>(of_row.stopped);
    at(RowState::wall) = of_row.wall ? 0.40 : 0.0;
    // Whatever the row's weight, a display shows nothing where there is less than it shows.
    at(RowState::display) = 0.10 + 0.90 * static_cast<double>(of_row.little);
    at(RowState::bypassed) = 0.02;
    at(RowState::unexplained) = 0.01;
    if (!of_row.light_known) return p;
    at(RowState::shade_all) = 0.05;
    at(RowState::shade_part) = 0.04;
    at(RowState::missing) = 0.02;
    at(RowState::local_maximum) = 0.001;
    at(RowState::fixed_voltage) = 0.01;
    at(RowState::slow_tracker) = 0.01;
    return p;
}

const CauseChain::Leaving& CauseChain::leaving(const RowEvidence& row) const {
    const RowPriors& p = row.priors;
    const bool same = p.slowing == kept_priors_.slowing && p.stopped == kept_priors_.stopped &&
                      p.wall == kept_priors_.wall && p.little == kept_priors_.little &&
                      p.light_known == kept_priors_.light_known;
    if (same && row.step_s == kept_step_s_) return kept_;  // most rows of a log are alike
    const ByState<double> prior = priors(p);
    double all = 0.0;
    for (std::size_t h = 0; h < state_count; ++h) {
        kept_.entry[h] = prior[h] / lasting_s[h];
        all += kept_.entry[h];
        if (row.step_s != kept_step_s_) kept_.stay[h] = std::exp(-row.step_s / lasting_s[h]);
    }
    for (double& e : kept_.entry) e /= all;
    kept_priors_ = p;
    kept_step_s_ = row.step_s;
    return kept_;
}

void CauseChain::forward(RowEvidence& row) {
    ByState<double> next{};
    if (!started_ || row.first) {
        next = priors(row.priors);
        started_ = true;
    } else {
        const Leaving& l = leaving(row);
        double left = 0.0;
        for (std::size_t h = 0; h < state_count; ++h) {
            next[h] = now_[h] * l.stay[h];
            left += now_[h] - next[h];
        }
        const std::size_t slowing = index_of(RowState::slowing);
        const std::size_t stopped = index_of(RowState::stopped);
        const double to_stopped = slowing_stops * (now_[slowing] - next[slowing]);
        const double to_slowing = stopped_slows * (now_[stopped] - next[stopped]);
        left -= to_stopped + to_slowing;
        for (std::size_t h = 0; h < state_count; ++h) next[h] += left * l.entry[h];
        next[stopped] += to_stopped;
        next[slowing] += to_slowing;
    }
    double all = 0.0;
    for (std::size_t h = 0; h < state_count; ++h) {
        next[h] *= static_cast<double>(row.like[h]);
        all += next[h];
    }
    for (std::size_t h = 0; h < state_count; ++h) {
        now_[h] = next[h] / all;
        row.ahead[h] = static_cast<float>(now_[h]);
    }
}

void CauseChain::smooth(std::vector<RowEvidence>& rows) const {
    ByState<double> later{};
    later.fill(1.0);
    for (std::size_t i = rows.size(); i-- > 0;) {
        RowEvidence& row = rows[i];
        // What the rows from here on say, whatever came before: first for the row before this one.
        ByState<double> from_here{};
        double all = 0.0;
        for (std::size_t h = 0; h < state_count; ++h) {
            from_here[h] = static_cast<double>(row.like[h]) * later[h];
            const double p = static_cast<double>(row.ahead[h]) * later[h];
            row.ahead[h] = static_cast<float>(p);
            all += p;
        }
        for (float& p : row.ahead) p = static_cast<float>(static_cast<double>(p) / all);
        if (row.first || i == 0) {
            later.fill(1.0);
            continue;
        }
        const Leaving& l = leaving(row);
        const double entered = sum_of_products(l.entry, from_here);
        double most = 0.0;
        for (std::size_t h = 0; h < state_count; ++h) {
            double left = entered;
            if (h == index_of(RowState::slowing)) {
                left = (1.0 - slowing_stops) * entered + slowing_stops * from_here[index_of(RowState::stopped)];
            } else if (h == index_of(RowState::stopped)) {
                left = (1.0 - stopped_slows) * entered + stopped_slows * from_here[index_of(RowState::slowing)];
            }
            later[h] = l.stay[h] * from_here[h] + (1.0 - l.stay[h]) * left;
            most = std::max(most, later[h]);
        }
        for (double& x : later) x /= most;
    }
}

}  // namespace plait::measured
