// A bypass group some of whose cells get less light than the others: a leaf, a pole, a chimney's edge.
//
// The cells of a row carry one current. Where it is more than the shaded cells' light gives, the others drive these
// backward, and they turn its power into heat. With u the junction voltage of the lit cells and w that of the shaded
// ones, each counted over all of its cells,
//
//     I = IL − I0·expm1(u/a) − G·u                                                  the lit cells
//     I = IL − I0·expm1(w/a) − G·w − Ga·w·s·(1 − w/Vb)^−m                           the shaded cells
//     V = u + w − Rs·I
//
// The last term of the second line is the breakdown of Bishop, Solar Cells 25 (1988) 73–89: the share s of the leakage
// grows without end towards the breakdown voltage Vb < 0. I falls with V, and u and w rise with it.
#pragma once

#include <plait/physics/single_diode.hpp>

#include <utility>
#include <vector>

namespace plait::physics {

/// One crystalline silicon cell breaks down here, in reverse. Bishop's fits and later ones lie between 10 and 30 V
/// [from memory]; a low one lets more current through in shade.
inline constexpr double breakdown_cell_v = 15.0;
/// s, the share of the leakage that takes part [from memory of fits to Bishop's equation; 0.001 to 0.1 are in use].
inline constexpr double breakdown_share_ratio = 0.002;
/// m, the exponent [from memory, as above: 3 to 4].
inline constexpr double breakdown_exponent_value = 3.0;
/// Ga is the cells' own leakage G, or this for each ampere of their light current, whichever is more: some datasheets
/// fit best without a leakage, and then nothing would ever break down. 1 % of Isc at −10 V. *Our choice, no source.*
inline constexpr double least_leakage_s_per_a = 1e-3;

/// A row of cells at one voltage.
struct RowPoint {
    double current_a = 0.0;
    double lit_v = 0.0;     ///< u
    double shaded_v = 0.0;  ///< w; in reverse below 0
    double lit_s = 0.0;     ///< −dI/du of the lit cells
    double lit_s_per_v = 0.0;
    double diode_s = 0.0;          ///< −dI/dw of the shaded cells: what of it rises with w …
    double leakage_s = 0.0;        ///< … and what falls
    double shaded_s_per_v = 0.0;   ///< the derivative of both by w; it rises with w
};

/// −dI/dV of a row or a group and its derivative by V.
struct Bending {
    double s = 0.0;
    double s_per_v = 0.0;
};
/// What both cannot leave between two voltages.
struct BendingBounds {
    Bending low;
    Bending high;
};

/// Cells in series. With no shaded cells `lit` is all of them.
class CellRow {
public:
    /// All cells alike.
    explicit CellRow(const DiodeCurve& cells) : lit_(cells), lit_open_v_(cells.open_circuit_v()) {}
    /// `lit` and `shaded` are the curves of the two kinds, each over all cells of its kind.
    CellRow(const DiodeCurve& lit, const DiodeCurve& shaded, double shaded_cells_count);

    [[nodiscard]] bool shaded() const { return shaded_cells_count_ > 0.0; }
    [[nodiscard]] double shaded_cells_count() const { return shaded_cells_count_; }
    [[nodiscard]] const DiodeCurve& lit_cells() const { return lit_; }
    [[nodiscard]] const DiodeCurve& shaded_cells() const { return dark_; }
    /// Vb of all shaded cells, < 0.
    [[nodiscard]] double breakdown_v() const { return breakdown_v_; }
    /// Ga.
    [[nodiscard]] double breakdown_s() const { return breakdown_s_; }

    /// Any finite voltage.
    [[nodiscard]] RowPoint at_voltage(double voltage_v) const;
    [[nodiscard]] Bending bending(const RowPoint& p) const;
    [[nodiscard]] BendingBounds bounds(const RowPoint& low, const RowPoint& high) const;
    /// No voltage above this is one at which current flows out.
    [[nodiscard]] double open_circuit_v() const { return lit_open_v_ + shaded_open_v_; }
    /// The shortest length of V over which the curve bends.
    [[nodiscard]] double bend_v() const;
    /// The power that all shaded cells take from the others, < 0 where they give.
    [[nodiscard]] double taken_w(const RowPoint& p) const {
        return (dark_.series_resistance_ohm * p.current_a - p.shaded_v) * p.current_a;
    }

    friend bool operator==(const CellRow& a, const CellRow& b) { return a.numbers() == b.numbers(); }
    friend bool operator<(const CellRow& a, const CellRow& b) { return a.numbers() < b.numbers(); }

private:
    [[nodiscard]] std::vector<double> numbers() const;
    /// The row with the shaded junctions at w, V being that of the whole; the current is that of the shaded cells.
    [[nodiscard]] RowPoint at_shaded_junction(double shaded_v, double voltage_v, double& surplus_a) const;

    DiodeCurve lit_;
    DiodeCurve dark_;
    double shaded_cells_count_ = 0.0;
    double breakdown_v_ = -1.0;
    double breakdown_s_ = 0.0;
    double lit_open_v_ = 0.0;
    double shaded_open_v_ = 0.0;
};

/// The rows of a group, side by side under one bypass diode: one row, or two where the cells are halves.
class PartShade {
public:
    explicit PartShade(std::vector<CellRow> rows) : rows_(std::move(rows)) {}

    [[nodiscard]] const std::vector<CellRow>& rows() const { return rows_; }
    struct Point {
        double current_a = 0.0;
        Bending bending;
    };
    [[nodiscard]] Point at_voltage(double voltage_v) const;
    [[nodiscard]] BendingBounds bounds(double low_v, double high_v) const;
    [[nodiscard]] double open_circuit_v() const;
    [[nodiscard]] double bend_v() const;

    friend bool operator==(const PartShade& a, const PartShade& b) { return a.rows_ == b.rows_; }
    friend bool operator<(const PartShade& a, const PartShade& b) { return a.rows_ < b.rows_; }

private:
    std::vector<CellRow> rows_;
};

}  // namespace plait::physics
