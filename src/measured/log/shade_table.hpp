// What an array gives when some of its groups get less light, or none, or a string is away: as shares of the volts and
// amps at the maximum it would have otherwise, over the degree of the shade.
//
// Shares move little with light and temperature, so they are solved on a coarse net and interpolated.
#pragma once

#include "condition_table.hpp"

#include <Eigen/Core>

#include <array>
#include <memory>
#include <optional>
#include <unordered_map>
#include <vector>

namespace plait::measured {

/// The light left on what is shaded.
inline constexpr std::array shade_degrees{0.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.96, 1.0};

/// One maximum of the power. An array in shade may have two that matter: a low one, at which the shaded groups are
/// bypassed, and a high one, at which they set the current.
struct ShadeHill {
    double volts_ratio = 0.0;
    double amps_ratio = 0.0;
    bool at_edge = false;  ///< held by an end of the window, on a flank

    [[nodiscard]] bool there() const { return volts_ratio > 0.0; }
    [[nodiscard]] double watts_ratio() const { return volts_ratio * amps_ratio; }
};
enum Hill : std::size_t { low_hill, high_hill, hill_count };
using ShadeHills = std::array<ShadeHill, hill_count>;

struct ShadeFamily {
    enum class Kind { part, all, bypassed, missing, as_wired };
    Kind kind = Kind::part;
    std::size_t string = 0;   ///< the first that is meant
    std::size_t strings = 0;  ///< how many like it
    std::size_t groups = 0;   ///< shaded in each
    std::size_t panels = 0;   ///< the same in panels; 0: part of one
    double share = 1.0;       ///< of the probability of its kind

    /// Comes in degrees.
    [[nodiscard]] bool by_degrees() const { return kind == Kind::part || kind == Kind::all; }
};

inline constexpr std::size_t shade_kinds = 5;
[[nodiscard]] constexpr std::size_t index_of(ShadeFamily::Kind k) { return static_cast<std::size_t>(k); }

/// By degree; of a family without degrees only the first.
using FamilyHills = std::array<ShadeHills, shade_degrees.size()>;

/// A maximum lower than this share of the best is worth telling apart from it.
inline constexpr double worse_ratio = 0.97;

/// A straight piece of the line that a family's maximum draws over the degrees, from one degree to the next.
struct ShadeStretch {
    ShadeHill begin;
    double more_volts_ratio = 0.0;  ///< to its end; zero where there is but one point
    double more_amps_ratio = 0.0;
    double share = 0.0;           ///< of the degree's probability: of two maxima that are alike either has half
    double possible_ratio = 0.0;  ///< watts of the best maximum, in the middle
    double from_degree = 0.0;     ///< between two of `shade_degrees`, or a part of that where another maximum becomes the best
    double to_degree = 0.0;

    [[nodiscard]] ShadeHill end() const { return {begin.volts_ratio + more_volts_ratio, begin.amps_ratio + more_amps_ratio}; }
    [[nodiscard]] ShadeHill middle() const {
        return {begin.volts_ratio + 0.5 * more_volts_ratio, begin.amps_ratio + 0.5 * more_amps_ratio};
    }
};

/// What families of shade do near one light and temperature.
class ShadeLines {
public:
    /// Stretches `first` to before `last`, by their numbers.
    struct Range {
        std::size_t first = 0;
        std::size_t last = 0;
    };
    /// The maxima of a family without degrees.
    [[nodiscard]] const ShadeHills& point(std::size_t family) const { return points_[family]; }
    /// Over the maxima that are as good as the best.
    [[nodiscard]] Range best(std::size_t family) const { return {begin_[2 * family], begin_[2 * family + 1]}; }
    /// Over those that are worse by more than the readings can tell.
    [[nodiscard]] Range worse(std::size_t family) const { return {begin_[2 * family + 1], begin_[2 * family + 2]}; }
    [[nodiscard]] const ShadeStretch& stretch(std::size_t i) const { return stretches_[i]; }
    [[nodiscard]] std::size_t count() const { return stretches_.size(); }

    /// The beginnings of all stretches and the ways to their ends, number by number; with zeros up to a whole block.
    static constexpr int block = 8;
    [[nodiscard]] const std::vector<double>& volts() const { return volts_; }
    [[nodiscard]] const std::vector<double>& amps() const { return amps_; }
    [[nodiscard]] const std::vector<double>& more_volts() const { return more_volts_; }
    [[nodiscard]] const std::vector<double>& more_amps() const { return more_amps_; }
    /// Of all stretches: the probability of their degrees beforehand, the degree in the middle, the watts that are possible there.
    [[nodiscard]] const std::vector<double>& weight() const { return weight_; }
    [[nodiscard]] const std::vector<double>& middle_degree() const { return middle_degree_; }
    [[nodiscard]] const std::vector<double>& possible() const { return possible_; }
    /// The bell of a degree that drifts from one row to the next, as `bell` has it: its greatest density, and by what the
    /// square of a difference counts.
    [[nodiscard]] const std::vector<double>& drift_norm() const { return drift_norm_; }
    [[nodiscard]] const std::vector<double>& drift_sharpness() const { return drift_sharpness_; }

private:
    friend class ShadeTable;
    std::vector<ShadeHills> points_;
    std::vector<ShadeStretch> stretches_;
    std::vector<std::size_t> begin_{0};
    std::vector<double> volts_, amps_, more_volts_, more_amps_;
    std::vector<double> weight_, middle_degree_, possible_, drift_norm_, drift_sharpness_;
};

/// What is worked out of all stretches at one go for one row; kept from row to row, so that no row asks for memory.
struct ShadeRoom {
    Eigen::ArrayXd density;
    Eigen::ArrayXd length2;  // of each stretch, in standard deviations
    Eigen::ArrayXd ahead;    // of its beginning, times its length
    Eigen::ArrayXd across;   // … beside it
    Eigen::ArrayXd part;     // of one family
    // Of the stretches that are long and near, one after the other.
    std::vector<Eigen::Index> near;
    Eigen::ArrayXd per_length, begin_sd, after_end, before_begin, beside;
};

class ShadeTable {
public:
    explicit ShadeTable(const WiredInput& wired);

    [[nodiscard]] const std::vector<ShadeFamily>& families() const { return families_; }
    /// In the order of `families`, good for light and temperatures near these. Valid until the next call.
    [[nodiscard]] const ShadeLines& at(double irradiance_w_per_m2, Celsius cell);

private:
    struct Node {
        HeldAt top;
        std::vector<std::optional<FamilyHills>> families;  ///< solved when asked for
    };
    /// By quarters of the net's steps.
    [[nodiscard]] const FamilyHills& node(int root_quarter, int degc_quarter, std::size_t family);
    /// Between the nodes around: of the net, or of its quarters.
    [[nodiscard]] FamilyHills hills_at(std::size_t family, double root, double degc, bool by_quarters);
    [[nodiscard]] FamilyHills solved(const ShadeFamily& family, double irradiance_w_per_m2, Celsius cell,
                                     const HeldAt& top) const;
    /// How a maximum on a flank lies where it is a little cooler, and warmer.
    struct Flanks {
        FamilyHills cooler{};
        FamilyHills warmer{};
    };
    static void add_stretches(const FamilyHills& hills, const Flanks* flanks, bool worse, std::vector<ShadeStretch>& to);
    [[nodiscard]] ShadeLines lines_near(int rn, int tn);
    [[nodiscard]] InputWiring shaded(const ShadeFamily& family, double light_ratio) const;

    WiredInput wired_;
    std::vector<ShadeFamily> families_;
    std::unordered_map<int, Node> nodes_;
    std::unordered_map<int, std::unique_ptr<ShadeLines>> near_;  // interpolated
    std::size_t kept_stretches_ = 0;
    const ShadeLines* last_ = nullptr;
    int last_key_ = 0;
};

}  // namespace plait::measured
