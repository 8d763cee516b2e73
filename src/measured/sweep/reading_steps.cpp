#include "reading_steps.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace plait::measured {
namespace {

constexpr std::size_t noise_count = 12;
constexpr double least_noise = 0.0005;
constexpr double most_noise = 0.04;
constexpr std::size_t level_count = 241;
constexpr double stray_density = 1e-3;  // of readings that neither noise nor rounding explains

double normal_below(double deviations) { return 0.5 * std::erfc(-0.7071067811865476 * deviations); }

double noise_at(std::size_t i) {
    return least_noise * std::pow(most_noise / least_noise, static_cast<double>(i) / static_cast<double>(noise_count - 1));
}

bool multiples_of(const std::vector<double>& readings, double step) {
    return std::all_of(readings.begin(), readings.end(), [&](double x) {
        return std::abs(x / step - std::round(x / step)) < 1e-6 * x / step + 1e-9;
    });
}

double step_of(std::vector<double> readings, double written, double hand_step) {
    std::sort(readings.begin(), readings.end());
    readings.erase(std::unique(readings.begin(), readings.end()), readings.end());
    if (readings.empty()) return 0.0;
    double step = written;
    if (!(step > 0.0)) {
        // Without the digits: the coarsest power of ten of which all are multiples.
        constexpr int most_digits = 4;
        double digit = 1.0;
        for (int digits = 0; digits <= most_digits && !(step > 0.0); ++digits, digit /= 10.0) {
            if (multiples_of(readings, digit)) step = digit;
        }
    }
    // Written to tenths of amps or single watts, all of them multiples of a hand's step.
    if (written > 0.1 * hand_step - 1e-9 && written < hand_step && multiples_of(readings, hand_step)) return hand_step;
    constexpr std::size_t enough = 3;
    if (readings.size() < enough || !(step > 0.0)) return step;
    for (const double times : {10.0, 5.0}) {
        if (multiples_of(readings, times * step)) return times * step;
    }
    return step;
}

struct Reading {
    double low = 0.0;  // of the law's quantity: amps in a band, watts at constant power
    double high = 0.0;
    double times = 1.0;  // so many alike
};

std::vector<Reading> readings_of(const PiecePoints& piece, const ReadingSteps& steps, DisplayHabit habit) {
    std::vector<char> apart(piece.points.size(), 0);
    for (const std::size_t i : piece.apart) apart[i] = 1;
    std::vector<Reading> all;
    for (std::size_t i = 0; i < piece.points.size(); ++i) {
        const SweepPoint& p = piece.points[i];
        if (apart[i] != 0 || !p.taking || p.censored) continue;
        const double half = 0.5 * steps.of(p);
        const bool cut_off = habit == DisplayHabit::cuts_off && !(p.vague_step_value > 0.0);
        const double read = (p.from_power ? p.current_a * p.voltage_v : p.current_a) + (cut_off ? half : 0.0);
        // What is read follows from the law's level by this factor.
        const bool power = piece.kind == PieceKind::constant_power;
        const double factor = power == p.from_power ? 1.0 : power ? 1.0 / p.voltage_v : p.voltage_v;
        const Reading r{std::max(read - half, 0.0) / factor, (read + half) / factor, 1.0};
        const auto same = std::find_if(all.begin(), all.end(), [&](const Reading& other) {
            return std::abs(other.low - r.low) < 1e-9 && std::abs(other.high - r.high) < 1e-9;
        });
        if (same == all.end()) {
            all.push_back(r);
        } else {
            same->times += 1.0;
        }
    }
    return all;
}

/// Log likelihood over noise and level of one piece.
class PieceLevels {
public:
    PieceLevels(const PiecePoints& piece, const ReadingSteps& steps, DisplayHabit habit) {
        const std::vector<Reading> readings = readings_of(piece, steps, habit);
        readings_mean_ = piece.level;
        double widest = 0.0;
        double rows = 0.0;
        double low = readings.empty() ? 0.0 : readings.front().low;
        double high = readings.empty() ? 0.0 : readings.front().high;
        for (const Reading& r : readings) {
            widest = std::max(widest, r.high - r.low);
            rows += r.times;
            low = std::min(low, r.low);
            high = std::max(high, r.high);
        }
        if (habit == DisplayHabit::cuts_off) readings_mean_ += 0.5 * widest;
        const double margin = std::max(0.5 * widest, 2.0 * most_noise * piece.level / std::sqrt(std::max(rows, 1.0)));
        from_ = std::max(low, readings_mean_ - 2.0 * widest) - margin;
        from_ = std::max(from_, 0.05 * piece.level);
        by_ = (std::min(high, readings_mean_ + 2.0 * widest) + margin - from_) / static_cast<double>(level_count - 1);
        for (std::size_t n = 0; n < noise_count; ++n) {
            for (std::size_t k = 0; k < level_count; ++k) {
                double sum = 0.0;
                const double level = at(k);
                const double per_sd = 1.0 / (noise_at(n) * level);
                for (const Reading& r : readings) {
                    const double inside =
                        normal_below((r.high - level) * per_sd) - normal_below((r.low - level) * per_sd);
                    sum += r.times * std::log((1.0 - stray_density) * inside + stray_density * 0.1);
                }
                log_[n][k] = sum;
                most_ = n == 0 && k == 0 ? sum : std::max(most_, sum);
            }
        }
    }
    /// The evidence for a noise, all levels counting alike by their share.
    [[nodiscard]] double log_evidence(std::size_t noise) const {
        double sum = 0.0;
        for (const double l : log_[noise]) sum += std::exp(l - most_);
        return most_ + std::log(std::max(sum * by_ / readings_mean_, 1e-300));
    }
    [[nodiscard]] Estimate estimate(const std::array<double, noise_count>& noise) const {
        std::array<double, level_count> weight{};
        double all = 0.0;
        double mean = 0.0;
        for (std::size_t n = 0; n < noise_count; ++n) {
            double of_noise = 0.0;
            for (const double l : log_[n]) of_noise += std::exp(l - most_);
            if (!(of_noise > 0.0)) continue;
            for (std::size_t k = 0; k < level_count; ++k) weight[k] += noise[n] * std::exp(log_[n][k] - most_) / of_noise;
        }
        for (std::size_t k = 0; k < level_count; ++k) {
            all += weight[k];
            mean += weight[k] * at(k);
        }
        const auto quantile = [&](double share) {
            double sum = 0.0;
            for (std::size_t k = 0; k < level_count; ++k) {
                if (sum + weight[k] >= share * all) {
                    return at(k) + by_ * ((share * all - sum) / std::max(weight[k], 1e-300) - 0.5);
                }
                sum += weight[k];
            }
            return at(level_count - 1);
        };
        // The mean of the readings, where it is as good.
        const Interval likely{quantile(0.025), quantile(0.975)};
        const bool near = std::abs(mean / all - readings_mean_) < 0.1 * (likely.upper() - likely.lower());
        return {near ? readings_mean_ : mean / all, likely};
    }

private:
    [[nodiscard]] double at(std::size_t k) const { return from_ + by_ * static_cast<double>(k); }

    double readings_mean_ = 0.0;
    double from_ = 0.0;
    double by_ = 0.0;
    double most_ = 0.0;
    std::array<std::array<double, level_count>, noise_count> log_{};
};

bool has_level(const PiecePoints& p) {
    return (p.kind == PieceKind::constant_current || p.kind == PieceKind::constant_power) && p.weight >= 1.0;
}

}  // namespace

ReadingSteps reading_steps(const std::vector<SweepRow>& rows) {
    ReadingSteps steps;
    for (const bool watts : {false, true}) {
        std::vector<double> readings;
        double written = 0.0;
        for (const SweepRow& r : rows) {
            if (r.from_power != watts || !(r.current_a > 0.0) || !(r.voltage_v > 0.0) || r.vague) continue;
            readings.push_back(watts ? r.current_a * r.voltage_v : r.current_a);
            if (r.step_value > 0.0 && (written == 0.0 || r.step_value < written)) written = r.step_value;
        }
        (watts ? steps.watts_w : steps.amps_a) = step_of(std::move(readings), written, watts ? 10.0 : 0.5);
    }
    return steps;
}

double rounding_ratio(const std::vector<SweepPoint>& points, const ReadingSteps& steps) {
    std::vector<double> shares;
    for (const SweepPoint& p : points) {
        if (p.taking) shares.push_back(steps.of(p) / (p.from_power ? p.current_a * p.voltage_v : p.current_a));
    }
    if (shares.empty()) return 0.0;
    const auto middle = shares.begin() + static_cast<std::ptrdiff_t>(shares.size() / 2);
    std::nth_element(shares.begin(), middle, shares.end());
    return *middle / std::sqrt(12.0);
}

SteppedLevels levels_between_steps(const std::vector<PiecePoints>& pieces, const ReadingSteps& steps,
                                   DisplayHabit habit) {
    SteppedLevels found;
    std::vector<Estimate>& levels = found.levels;
    std::vector<std::pair<std::size_t, PieceLevels>> laws;
    for (const PiecePoints& p : pieces) {
        levels.push_back({p.level, {p.level, p.level}});
        if (has_level(p)) laws.emplace_back(levels.size() - 1, PieceLevels(p, steps, habit));
    }
    std::array<double, noise_count> noise{};
    double most = 0.0;
    for (std::size_t n = 0; n < noise_count; ++n) {
        for (const auto& law : laws) noise[n] += law.second.log_evidence(n);
        most = n == 0 ? noise[n] : std::max(most, noise[n]);
    }
    double all = 0.0;
    for (double& n : noise) all += n = std::exp(n - most);
    found.log_evidence = most + std::log(all);
    for (const auto& law : laws) levels[law.first] = law.second.estimate(noise);
    return found;
}

}  // namespace plait::measured
