// What a wiring does on its input over light and cell temperature, solved where a log goes and interpolated between.
//
// The plane is cut into cells over √G and T. A cell is used only if at its centre and the middles of its edges the
// bilinear value agrees with the solved one to `most_error_ratio`; else it is cut in four, down to a sixteenth. Where
// functions bend one way only, as between the kinks of an operating point, bilinear interpolation errs most near these
// places. Cells that hold a jump, such as the edge of a window, keep the nearest corner in the smallest cells: there a
// sensor cannot tell either.
#pragma once

#include <plait/measured/log_explanation.hpp>

#include <cstdint>
#include <unordered_map>
#include <vector>

namespace plait::measured {

inline constexpr std::size_t right_points = 17;
inline constexpr std::size_t left_points = 12;
inline constexpr double most_irradiance_w_per_m2 = 1600.0;
/// The curve is known down to this share of the volts of its maximum.
inline constexpr double lowest_left_ratio = 0.2;

/// A point on a curve; zero where nothing is drawn.
struct HeldAt {
    double voltage_v = 0.0;
    double current_a = 0.0;
};

struct Solved {
    double free_w = 0.0;  ///< the array's own maximum, without cables
    double cool_w = 0.0;  ///< the same at 25 °C
    double open_v = 0.0;
    HeldAt top;        ///< the array's own maximum as the input sees it, behind the cables
    HeldAt held;       ///< where the input holds it
    HeldAt cableless;  ///< … were the cables not there
    std::array<double, right_points> right_v{};  ///< at falling shares of the maximum's current, see `right_share`
    std::array<double, left_points> left_a{};    ///< from the maximum's volts down to `lowest_left_ratio` of them
    bool drawing = false;
    bool cableless_drawing = false;
    Cause limit = Cause::less_light;  ///< what binds without the cables
    Cause end = Cause::less_light;    ///< … behind them
    std::size_t band = 0;             ///< … which band
    std::size_t end_band = 0;
};

/// 1 − (1 − i/16)²: densest near the maximum, where the curve bends most.
[[nodiscard]] double right_share(std::size_t i);
/// Volts on the array's curve at a share (0 to 1) of the current at its maximum.
[[nodiscard]] double right_voltage_v(const std::array<double, right_points>& right_v, double share);
/// The other way round: the share at which the curve has these volts, 0 above its open circuit and 1 below its maximum.
[[nodiscard]] double right_share_at(const std::array<double, right_points>& right_v, double voltage_v);
/// Amps on the array's curve at a share (`lowest_left_ratio` to 1) of the volts of its maximum.
[[nodiscard]] double left_current_a(const std::array<double, left_points>& left_a, double share);

/// The wiring of one input, and the window that it is held against: that of the set-up, or one whose limits a log has
/// taught.
struct WiredInput {
    const study::SystemModel* system = nullptr;
    std::size_t input = 0;
    InputWiring wiring;
    std::optional<EqualStrings> equal;
    physics::WireResistance wires;
    physics::AcceptanceWindow window;
    std::optional<double> pinned_v;
};
[[nodiscard]] WiredInput wired_input(const study::SystemModel& system, std::size_t input, const InputWiring& wiring);

/// The exact solution.
[[nodiscard]] Solved solved_at(const WiredInput& wired, double irradiance_w_per_m2, Celsius cell);

/// Values in one place and their slopes.
struct Spot {
    double value = 0.0;
    double per_w_m2 = 0.0;
    double per_k = 0.0;
};

class ConditionTable {
public:
    explicit ConditionTable(WiredInput wired);

    /// A place in the plane, inside a cell that holds.
    class Place {
    public:
        template <class F>
        [[nodiscard]] double value(F f) const {
            return (1.0 - b_) * ((1.0 - a_) * f(*corner_[0]) + a_ * f(*corner_[1])) +
                   b_ * ((1.0 - a_) * f(*corner_[2]) + a_ * f(*corner_[3]));
        }
        template <class F>
        [[nodiscard]] Spot spot(F f) const {
            const double v[] = {f(*corner_[0]), f(*corner_[1]), f(*corner_[2]), f(*corner_[3])};
            return {(1.0 - b_) * ((1.0 - a_) * v[0] + a_ * v[1]) + b_ * ((1.0 - a_) * v[2] + a_ * v[3]),
                    ((1.0 - b_) * (v[1] - v[0]) + b_ * (v[3] - v[2])) * a_per_w_m2_,
                    ((1.0 - a_) * (v[2] - v[0]) + a_ * (v[3] - v[1])) * b_per_k_};
        }
        [[nodiscard]] const Solved& nearest() const { return *corner_[(b_ > 0.5 ? 2U : 0U) + (a_ > 0.5 ? 1U : 0U)]; }
        /// True where some corners draw and others do not: then what is held means something at `nearest` only.
        [[nodiscard]] bool jumps() const { return jumps_; }

    private:
        friend class ConditionTable;
        std::array<const Solved*, 4> corner_{};
        double a_ = 0.0;
        double b_ = 0.0;
        double a_per_w_m2_ = 0.0;
        double b_per_k_ = 0.0;
        bool jumps_ = false;
    };
    /// Irradiance and temperature outside the table count as its edge.
    [[nodiscard]] Place at(double irradiance_w_per_m2, Celsius cell);

    [[nodiscard]] const WiredInput& wired() const { return wired_; }

    static constexpr double most_error_ratio = 1e-3;  ///< of the label's volts, amps and watts

private:
    struct Cell {
        std::array<const Solved*, 4> corner{};
        std::int32_t first_child = -1;  // of four side by side; −1: none
        bool jumps = false;
        bool examined = false;  // a cell is cut when first something falls into it
    };
    const Solved& node(int gi, int ti);
    [[nodiscard]] bool holds(const Cell& cell, int gi, int ti, int size);
    std::int32_t make_cell(int gi, int ti, int size);
    void examine(std::size_t at, int gi, int ti, int size);

    WiredInput wired_;
    double label_v_ = 1.0;
    double label_a_ = 1.0;
    std::unordered_map<int, std::unique_ptr<Solved>> nodes_;
    std::vector<Cell> cells_;
    std::vector<std::int32_t> roots_;
};

}  // namespace plait::measured
