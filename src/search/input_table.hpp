// What the search knows of one input before it solves anything: which strings may be built at all, and what each gives
// at most, by light level and by voltage.
//
// The voltages the input can work at are cut into cells. In one cell, at one level, every string has a ceiling
// (physics/power_ceilings.hpp), and strings in parallel share the voltage, so a wiring gives no more there than the sum
// of its strings' ceilings, than the power limit, and than the current limit times the cell's upper voltage. The best
// cell at each level, weighted over the levels, is more than any such wiring can harvest: this is the bound that rules
// wirings out unseen.
#pragma once

#include <plait/search/plan_search.hpp>
#include <plait/study/system_model.hpp>

#include "panel_counts.hpp"
#include "patience.hpp"

#include <cstddef>
#include <limits>
#include <span>
#include <vector>

namespace plait::search {

/// Panels in series, the order of no account.
struct StringType {
    SeriesString string;
    std::size_t number = 0;  ///< of its panels, see PanelCounts
    int panels = 0;
    int kinds = 0;
};

/// The highest open-circuit voltage of a string where a panel of each kind has `panel_v`: in series they add up.
[[nodiscard]] double highest_string_v(std::span<const StringType> types, std::span<const double> panel_v);

/// A light level that counts in the harvest.
struct WeightedLevel {
    std::size_t level = 0;
    double weight = 0.0;
};
/// Those of the European weighting, heaviest first.
[[nodiscard]] std::vector<WeightedLevel> european_levels();

class InputTable {
public:
    /// Not to be used when the patience came to its end over it.
    InputTable(const study::SystemModel& system, std::size_t input, const PanelCounts& counts,
               const std::vector<WeightedLevel>& levels, Accept accept, Patience& patience);

    [[nodiscard]] const study::SystemModel& system() const { return *system_; }
    [[nodiscard]] std::size_t input() const { return input_; }
    /// Which wirings are looked for.
    [[nodiscard]] Accept accept() const { return accept_; }
    [[nodiscard]] const std::vector<WeightedLevel>& levels() const { return *levels_; }
    /// Longest first.
    [[nodiscard]] const std::vector<StringType>& types() const { return types_; }

    /// Numbers a row has: a ceiling for each weighted level and cell.
    [[nodiscard]] std::size_t row_size() const { return cells_.size() * levels_->size(); }
    [[nodiscard]] std::span<const double> ceilings(std::size_t type) const {
        return std::span(ceilings_w_).subspan(type * row_size(), row_size());
    }
    /// Ceilings of the best way to use exactly these panels, cell by cell.
    [[nodiscard]] std::span<const double> best_ceilings(std::size_t panels) const {
        return std::span(best_w_).subspan(panels * row_size(), row_size());
    }
    /// Whether strings that may be built use exactly these panels.
    [[nodiscard]] bool can_use(std::size_t panels) const { return can_use_[panels]; }
    /// Weighted watts that no wiring of exactly these panels passes.
    [[nodiscard]] double bound_w(std::size_t panels) const { return bound_w_[panels]; }
    /// The same with at most so many strings, once `know_strings` was asked for as many and did not run out of
    /// patience.
    [[nodiscard]] double bound_w(std::size_t panels, int most_strings) const;
    bool know_strings(int most_strings, Patience& patience);

    /// Weighted watts of a sum of ceilings, cut by the input's limits.
    [[nodiscard]] double weigh(std::span<const double> sum_w) const;
    /// At one weighted level.
    [[nodiscard]] double weigh(std::span<const double> sum_w, std::size_t weighted_level) const;
    /// The same for a finished wiring: cells where it gives more current than the input takes are no use.
    [[nodiscard]] double weigh_finished(std::span<const double> sum_w, std::span<const std::size_t> types) const;

    /// Whether these strings break a limit that no further string could mend.
    [[nodiscard]] bool broken_for_good(const InputWiring& wiring) const;
    /// Whether limits on the sum of the strings exist at all.
    [[nodiscard]] bool sums_are_limited() const { return sums_are_limited_; }

private:
    struct Cell {
        double low_v = 0.0;
        double high_v = 0.0;
        double limit_a = 0.0;
        double cap_w = 0.0;
    };

    struct Lasting {
        bool broken = false;    ///< some limit, for good
        bool too_long = false;  ///< by volts, which every panel more adds to
    };
    [[nodiscard]] Lasting lasting_of(const InputWiring& wiring) const;
    void list_types(Patience& patience);
    [[nodiscard]] double highest_open_v() const;
    void cut_cells();
    void find_ceilings(Patience& patience);
    void find_best(Patience& patience);

    const study::SystemModel* system_;
    std::size_t input_;
    Accept accept_;
    const PanelCounts* counts_;
    const std::vector<WeightedLevel>* levels_;
    bool sums_are_limited_ = false;
    bool has_trunk_ = false;
    std::vector<StringType> types_;
    std::vector<Cell> cells_;
    std::vector<double> caps_w_;      // of the cells, side by side
    std::vector<double> ceilings_w_;  // type × level × cell
    std::vector<double> end_a_;       // the same: current at the cell's upper voltage
    std::vector<double> best_w_;      // panels × level × cell
    std::vector<bool> can_use_;
    std::vector<double> bound_w_;
    std::vector<double> alone_w_;                     // each type's own bound
    std::vector<std::vector<double>> bound_by_most_;  // by most strings, from one up
};

}  // namespace plait::search
