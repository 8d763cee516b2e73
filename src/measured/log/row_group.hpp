// Rows of one minute that say the same, as one row: their mean. Such rows err alike (`RowModel::temper`), so that weighing each
// by itself would tell no more, and a log of ten-second rows takes a sixth of the time.
//
// Rows that differ by more than meters do are never put together: the first row of a trip, or of a cloud, begins a group.
#pragma once

#include <plait/measured/log_explanation.hpp>

namespace plait::measured {

/// From a group's first row to the first of the next, at most; longer in the dark, where nothing is at stake. Ours, *no source*.
inline constexpr double group_s = 60.0;
inline constexpr double dark_group_s = 300.0;

class RowGroup {
public:
    explicit RowGroup(double display_w) : display_w_(display_w) {}

    void begin(const LogRow& row);
    /// Whether a row says the same as the first of the group, and less than a minute later.
    [[nodiscard]] bool takes(const LogRow& row) const;
    void add(const LogRow& row);
    [[nodiscard]] double begins_s() const { return first_.time_s; }
    [[nodiscard]] std::size_t count() const { return count_; }
    /// What the rows say on average, at the time of the first.
    [[nodiscard]] LogRow mean() const;

private:
    double display_w_ = 0.0;
    LogRow first_;
    LogRow sum_;
    std::size_t count_ = 0;
};

/// What the meters show of the power.
[[nodiscard]] inline double measured_w(const LogRow& row) {
    return row.power_w ? *row.power_w : row.voltage_v.value_or(0.0) * row.current_a.value_or(0.0);
}

}  // namespace plait::measured
