// The account, row by row.
#pragma once

#include "row_model.hpp"

#include <array>
#include <map>

namespace plait::measured {

/// Adds up a million small numbers without losing the last digits (Neumaier, ZAMM 54, 1974).
class Sum {
public:
    void add(double x) {
        const double t = sum_ + x;
        rest_ += std::abs(sum_) >= std::abs(x) ? (sum_ - t) + x : (x - t) + sum_;
        sum_ = t;
    }
    [[nodiscard]] double total() const { return sum_ + rest_; }

private:
    double sum_ = 0.0;
    double rest_ = 0.0;
};

class LogSums {
public:
    explicit LogSums(double display_w) : display_w_(display_w) {}

    [[nodiscard]] bool any() const { return rows_ > 0; }
    /// A row in place of so many.
    void add(const ExplainedRow& row, const RowEvidence& evidence, std::size_t rows);
    /// All but the gaps and the usual step.
    [[nodiscard]] LogAccount account(RowModel& model) const;

private:
    struct Part {
        Sum hours, possible, expected, measured;
        void add(const ExplainedRow& row, double hours_h);
        [[nodiscard]] LogPart part() const;
    };
    struct Shade {
        double lost_wh = 0.0;
        double light_wh = 0.0;  // light ratio × the same
    };
    static constexpr std::size_t day_parts = 48;

    [[nodiscard]] std::vector<ShadeHours> shade_hours(double measured_wh) const;

    double display_w_ = 0.0;
    std::size_t rows_ = 0;
    std::size_t turned_rows_ = 0, sun_rows_ = 0;
    Sum night_;
    std::size_t irradiance_rows_ = 0, air_rows_ = 0, panel_rows_ = 0, voltage_rows_ = 0, charge_rows_ = 0, wall_rows_ = 0;
    Sum label_, open_;
    Part all_, with_wall_, without_wall_;
    ByCause<Sum> lost_{}, hours_{};
    std::array<Sum, most_bands> band_lost_{}, band_hours_{};
    std::array<Sum, teller_count> untold_{};
    std::map<std::size_t, Shade> shade_by_family_;
    std::array<double, day_parts> shade_wh_{};
    std::array<std::size_t, day_parts> shade_days_{};
    std::array<double, day_parts> shade_day_{};  // the last one counted
    double day_ = 0.0;
    std::size_t days_ = 0;
    double fixed_wh_ = 0.0;
    double fixed_v_wh_ = 0.0;
};

}  // namespace plait::measured
