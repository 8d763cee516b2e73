// A step i of a piece at level c costs min(w·(x − c)²/s², K²): a quadratic, cut off where it is cheaper to call the
// step an outlier. x is ln A in a band and ln W at constant power, so that one noise ratio s serves both. K follows
// from describing an outlier: one step in fifty, spread evenly over two decades of current. A step at which the supply
// was the limit costs nothing below the level and the same quadratic above.
//
// A piece more costs 3 ln n: its change point counts twice, its level once, after Zhang & Siegmund, Biometrics 63
// (2007) [from memory], whose criterion corrects the BIC for change points being searched for.

#include "window_pieces.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace plait::measured {
namespace {

constexpr double pi = 3.14159265358979323846;
constexpr double outlier_share = 0.02;
constexpr double outlier_span = 4.605170185988092;  // ln 100
// A reading that fits no law but takes something belongs with those that take, not with the nothing beside them.
constexpr double stray_in_nothing = 1.5;
constexpr double infinite = std::numeric_limits<double>::infinity();

/// The cost of a growing piece as a function of its level: pieces of parabolas between events.
class LevelCost {
public:
    LevelCost(double noise_ratio, double reach) : noise_ratio_(noise_ratio), reach_(reach) {}

    void clear() {
        events_.clear();
        outside_ = 0.0;
    }

    void add(double x, double weight, bool censored) {
        if (events_.empty()) origin_ = x;
        x -= origin_;  // keeps the squares small
        const double a = weight / (noise_ratio_ * noise_ratio_);
        const double k2 = reach_ * reach_;
        const double half = reach_ * noise_ratio_ / std::sqrt(weight);
        outside_ += k2;
        insert({x - half, a, a * x, a * x * x, -k2});
        // Above x a censored step costs nothing.
        insert({censored ? x : x + half, -a, -a * x, -a * x * x, censored ? 0.0 : k2});
    }

    void add_outlier() { outside_ += reach_ * reach_; }

    /// The least cost and the level it is reached at.
    [[nodiscard]] std::pair<double, double> least() const {
        double a = 0.0;
        double b = 0.0;
        double c = 0.0;
        double flat = outside_;
        std::pair<double, double> best{infinite, 0.0};
        for (std::size_t i = 0; i < events_.size(); ++i) {
            const Event& e = events_[i];
            a += e.a;
            b += e.b;
            c += e.c;
            flat += e.flat;
            const double from = e.at;
            const double to = i + 1 < events_.size() ? events_[i + 1].at : e.at;
            // What is left of sums that cancel is not a parabola.
            const bool curved = a > 1e-9 / (noise_ratio_ * noise_ratio_);
            const double at = curved ? std::clamp(b / a, from, to) : from;
            const double cost = curved ? flat + std::max(0.0, c + at * (a * at - 2.0 * b)) : flat;
            if (cost < best.first) best = {cost, at + origin_};
        }
        return best;
    }

private:
    struct Event {
        double at, a, b, c, flat;
    };
    void insert(const Event& e) {
        const auto place = std::upper_bound(events_.begin(), events_.end(), e,
                                            [](const Event& x, const Event& y) { return x.at < y.at; });
        events_.insert(place, e);
    }

    double noise_ratio_;
    double reach_;
    double origin_ = 0.0;
    double outside_ = 0.0;
    std::vector<Event> events_;
};

struct Best {
    double cost = infinite;
    StepPiece piece;
};

Segmentation cheapest(const std::vector<SweepStep>& steps, double noise_ratio, bool with_nothing) {
    const std::size_t n = steps.size();
    const double reach = outlier_reach(noise_ratio);
    const double unit = std::log(static_cast<double>(std::max<std::size_t>(n, 2)));
    std::vector<Best> best(n + 1);
    best[0].cost = 0.0;
    LevelCost current(noise_ratio, reach);
    LevelCost power(noise_ratio, reach);
    for (std::size_t begin = 0; begin < n; ++begin) {
        current.clear();
        power.clear();
        std::size_t measured = 0;
        std::size_t taking = 0;
        bool all_censored = true;
        double most = -infinite;
        const double changes = begin == 0 ? 0.0 : 3.0 * unit;
        const auto offer = [&](std::size_t end, PieceKind kind, double cost, double log_level) {
            const double total = best[begin].cost + changes + cost;
            if (total < best[end].cost) best[end] = {total, {kind, begin, end, log_level}};
        };
        for (std::size_t end = begin + 1; end <= n; ++end) {
            const SweepStep& s = steps[end - 1];
            if (s.taking) {
                ++taking;
                measured += s.censored ? 0U : 1U;
                current.add(s.log_current, s.weight, s.censored);
                power.add(s.log_power, s.weight, s.censored);
                most = std::max(most, s.log_current);
            } else {
                current.add_outlier();
                power.add_outlier();
            }
            all_censored = all_censored && s.taking && s.censored;
            // Inside the window one step without current is a dropout, not a gap between bands.
            const bool at_an_end = begin == 0 || end == n;
            if (with_nothing && (at_an_end || end - begin >= 2)) {
                offer(end, PieceKind::nothing, stray_in_nothing * static_cast<double>(taking) * reach * reach, 0.0);
            }
            if (all_censored) offer(end, PieceKind::at_least, 0.0, most);
            if (measured < 2) continue;  // one reading alone tells no law
            const auto in_band = current.least();
            offer(end, PieceKind::constant_current, in_band.first + unit, in_band.second);
            const auto at_power = power.least();
            offer(end, PieceKind::constant_power, at_power.first + unit, at_power.second);
        }
    }
    Segmentation found;
    found.noise_ratio = noise_ratio;
    const auto taking =
        std::count_if(steps.begin(), steps.end(), [](const SweepStep& s) { return s.taking && !s.censored; });
    found.cost = best[n].cost + 2.0 * std::log(noise_ratio) * static_cast<double>(taking);
    if (!std::isfinite(best[n].cost)) return found;
    for (std::size_t end = n; end > 0; end = best[end].piece.begin) found.pieces.push_back(best[end].piece);
    std::reverse(found.pieces.begin(), found.pieces.end());
    return found;
}

// The noise that a segmentation leaves: the median of the residuals, corrected for the levels that were fitted.
double left_noise(const std::vector<SweepStep>& steps, const Segmentation& found) {
    std::vector<double> residuals;
    std::size_t levels = 0;
    for (const StepPiece& p : found.pieces) {
        if (p.kind != PieceKind::constant_current && p.kind != PieceKind::constant_power) continue;
        ++levels;
        for (std::size_t i = p.begin; i < p.end; ++i) {
            if (!steps[i].taking || steps[i].censored) continue;
            const double x = p.kind == PieceKind::constant_current ? steps[i].log_current : steps[i].log_power;
            residuals.push_back(std::abs(x - p.log_level) * std::sqrt(steps[i].weight));
        }
    }
    if (residuals.size() <= levels) return 0.0;
    const auto middle = residuals.begin() + static_cast<std::ptrdiff_t>(residuals.size() / 2);
    std::nth_element(residuals.begin(), middle, residuals.end());
    const auto n = static_cast<double>(residuals.size());
    return mad_to_sigma * *middle * std::sqrt(n / (n - static_cast<double>(levels)));
}

}  // namespace

double outlier_reach(double noise_ratio) {
    const double odds = (1.0 - outlier_share) / outlier_share;
    return std::sqrt(2.0 * std::log(odds * outlier_span / (noise_ratio * std::sqrt(2.0 * pi))));
}

Segmentation segment(const std::vector<SweepStep>& steps, double least_noise_ratio, bool with_nothing) {
    Segmentation best;
    best.cost = infinite;
    // The cost has several valleys in the noise; each start walks down into one.
    std::vector<double> walked;
    for (const double start : {0.003, 0.01, 0.03}) {
        double noise = std::max(start, least_noise_ratio);
        for (int round = 0; round < 4; ++round) {
            const bool known =
                std::any_of(walked.begin(), walked.end(), [&](double w) { return std::abs(noise - w) < 0.03 * w; });
            if (known) break;
            walked.push_back(noise);
            const Segmentation found = cheapest(steps, noise, with_nothing);
            if (!found.pieces.empty() && found.cost < best.cost) best = found;
            noise = std::clamp(left_noise(steps, found), least_noise_ratio, 0.1);
        }
    }
    return best;
}

}  // namespace plait::measured
