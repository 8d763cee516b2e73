#include "piece_levels.hpp"

#include <algorithm>
#include <cmath>

namespace plait::measured {
namespace {

constexpr double joint_reach = 4.0;  // deviations within which a band and the power limit are said to meet

double measured(const SweepPoint& p, PieceKind kind) {
    return kind == PieceKind::constant_power ? p.current_a * p.voltage_v : p.current_a;
}

}  // namespace

void fit_piece(PiecePoints& piece, double log_level, double noise_ratio) {
    piece.level = 0.0;
    piece.weight = 0.0;
    piece.steps = 0;
    piece.squares = 0.0;
    piece.apart.clear();
    const double reach = outlier_reach(noise_ratio);
    struct Mean {
        double value;
        double rows;
    };
    std::vector<Mean> means;
    std::vector<char> fits(piece.points.size(), 0);
    for (const SweepStep& s : steps_of(piece.points)) {
        for (const std::size_t i : s.points) fits[i] = piece.points[i].censored ? 1 : 0;  // says nothing against it
        if (!s.taking || s.censored) continue;
        const double x = piece.kind == PieceKind::constant_power ? s.log_power : s.log_current;
        if (std::abs(x - log_level) * std::sqrt(s.weight) > reach * noise_ratio) continue;
        double sum = 0.0;
        for (const std::size_t i : s.used) {
            sum += measured(piece.points[i], piece.kind);
            fits[i] = 1;
        }
        const auto rows = static_cast<double>(s.used.size());
        means.push_back({sum / rows, rows});
        piece.level += sum;
        piece.weight += rows;
    }
    for (std::size_t i = 0; i < fits.size(); ++i) {
        if (fits[i] == 0) piece.apart.push_back(i);
    }
    piece.steps = static_cast<int>(means.size());
    if (piece.weight < 1.0) return;
    piece.level /= piece.weight;
    for (const Mean& m : means) {
        const double residual = m.value / piece.level - 1.0;
        piece.squares += m.rows * residual * residual;
    }
}

Scatter scatter_of(const std::vector<PiecePoints>& pieces, double least_noise_ratio) {
    double squares = 0.0;
    int steps = 0;
    int laws = 0;
    for (const PiecePoints& p : pieces) {
        if (p.steps == 0) continue;
        squares += p.squares;
        steps += p.steps;
        ++laws;
    }
    // A level each, and the place of each change, which was chosen so that the scatter is least.
    const int spare = std::max(1, steps - laws);
    const int freedom = std::max(1, steps - laws - std::max(0, laws - 1));
    return {std::max(least_noise_ratio, std::sqrt(squares / freedom)), freedom,
            std::sqrt(static_cast<double>(spare) / freedom)};
}

bool meet(PiecePoints& band, PiecePoints& power, double noise_ratio) {
    if (band.points.empty() || power.points.empty() || band.weight < 1.0 || power.weight < 1.0) return false;
    const double below_v = band.points.back().voltage_v;
    const double above_v = power.points.front().voltage_v;
    const double gap = 0.5 * std::abs(std::log(above_v / below_v));
    const double off = std::abs(std::log(power.level / (band.level * std::sqrt(below_v * above_v))));
    if (off > gap + joint_reach * noise_ratio) return false;
    PiecePoints b = band;
    PiecePoints p = power;
    std::vector<SweepPoint> all = b.points;
    all.insert(all.end(), p.points.begin(), p.points.end());
    for (int round = 0; round < 10; ++round) {
        const double takeover_v = p.level / b.level;
        const auto split =
            std::find_if(all.begin(), all.end(), [&](const SweepPoint& q) { return q.voltage_v > takeover_v; });
        const auto in_band = static_cast<std::size_t>(split - all.begin());
        if (in_band == b.points.size() && round > 0) break;
        b.points.assign(all.begin(), split);
        p.points.assign(split, all.end());
        fit_piece(b, std::log(b.level), noise_ratio);
        fit_piece(p, std::log(p.level), noise_ratio);
        if (b.steps < 2 || p.steps < 2) return false;
    }
    band = std::move(b);
    power = std::move(p);
    return true;
}

}  // namespace plait::measured
