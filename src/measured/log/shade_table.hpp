// What an array gives when some of its groups get less light, or none, or a string is away: as shares of the volts and
// amps at the maximum it would have otherwise, over the degree of the shade.
//
// Shares move little with light and temperature, so they are solved on a coarse net and interpolated.
#pragma once

#include "condition_table.hpp"

#include <array>
#include <memory>
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

/// By degree; of a family without degrees only the first.
using FamilyHills = std::array<ShadeHills, shade_degrees.size()>;

class ShadeTable {
public:
    explicit ShadeTable(const WiredInput& wired);

    [[nodiscard]] const std::vector<ShadeFamily>& families() const { return families_; }
    /// In the order of `families`, good for light and temperatures near these.
    [[nodiscard]] const std::vector<FamilyHills>& at(double irradiance_w_per_m2, Celsius cell);

private:
    using Node = std::vector<FamilyHills>;
    const Node& node(int gi, int ti);
    [[nodiscard]] FamilyHills solved(const ShadeFamily& family, double irradiance_w_per_m2, Celsius cell,
                                     const HeldAt& top) const;
    [[nodiscard]] InputWiring shaded(const ShadeFamily& family, double light_ratio) const;

    WiredInput wired_;
    std::vector<ShadeFamily> families_;
    std::unordered_map<int, std::unique_ptr<Node>> nodes_;
    std::unordered_map<int, std::unique_ptr<Node>> near_;  // interpolated
};

}  // namespace plait::measured
