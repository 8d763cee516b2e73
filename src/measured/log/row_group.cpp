#include "row_group.hpp"

#include <cmath>

namespace plait::measured {
namespace {

// How far two rows may differ and still say the same: a few standard deviations of ordinary meters. Ours, *no source*.
struct Apart {
    double ratio = 0.0;
    double step = 0.0;

    [[nodiscard]] bool alike(double a, double b) const { return std::abs(a - b) <= ratio * std::abs(a) + step; }
    [[nodiscard]] bool alike(const std::optional<double>& a, const std::optional<double>& b) const {
        return a.has_value() == b.has_value() && (!a || alike(*a, *b));
    }
    [[nodiscard]] bool alike(const std::optional<Celsius>& a, const std::optional<Celsius>& b) const {
        return a.has_value() == b.has_value() && (!a || alike(a->degc, b->degc));
    }
};
constexpr Apart volts_apart{0.015, 0.1};
constexpr Apart amps_apart{0.04, 0.1};
constexpr Apart watts_apart{0.05, 1.0};
constexpr Apart light_apart{0.10, 3.0};
constexpr Apart warmth_apart{0.0, 5.0};
constexpr Apart charge_apart{0.0, 0.005};
constexpr Apart wall_apart{0.02, 1.0};

bool in_the_dark(const LogRow& row) { return row.irradiance_w_per_m2 && *row.irradiance_w_per_m2 < 1.0 && !(measured_w(row) > 0.0); }

void add_to(std::optional<double>& sum, const std::optional<double>& x) {
    if (x) *sum += *x;
}
void add_to(std::optional<Celsius>& sum, const std::optional<Celsius>& x) {
    if (x) sum->degc += x->degc;
}

}  // namespace

void RowGroup::begin(const LogRow& row) {
    first_ = row;
    sum_ = row;
    count_ = 1;
}

bool RowGroup::takes(const LogRow& row) const {
    const double since_s = row.time_s - first_.time_s;
    const bool dark = in_the_dark(first_) && in_the_dark(row);
    if (count_ == 0 || !(since_s > 0.0 && since_s < (dark ? dark_group_s : group_s))) return false;
    const bool wall = row.wall_w.value_or(0.0) > display_w_;
    const bool first_wall = first_.wall_w.value_or(0.0) > display_w_;
    // Nothing and a little are two things, however near to each other.
    return (measured_w(row) > 0.0) == (measured_w(first_) > 0.0) && wall == first_wall &&
           row.irradiance_is_turned == first_.irradiance_is_turned && volts_apart.alike(first_.voltage_v, row.voltage_v) &&
           amps_apart.alike(first_.current_a, row.current_a) && watts_apart.alike(first_.power_w, row.power_w) &&
           light_apart.alike(first_.irradiance_w_per_m2, row.irradiance_w_per_m2) && warmth_apart.alike(first_.air, row.air) &&
           warmth_apart.alike(first_.panel, row.panel) && charge_apart.alike(first_.charge_ratio, row.charge_ratio) &&
           wall_apart.alike(first_.wall_w, row.wall_w) && light_apart.alike(first_.clear_w_per_m2, row.clear_w_per_m2) &&
           light_apart.alike(first_.brightest_w_per_m2, row.brightest_w_per_m2);
}

void RowGroup::add(const LogRow& row) {
    add_to(sum_.voltage_v, row.voltage_v);
    add_to(sum_.current_a, row.current_a);
    add_to(sum_.power_w, row.power_w);
    add_to(sum_.irradiance_w_per_m2, row.irradiance_w_per_m2);
    add_to(sum_.air, row.air);
    add_to(sum_.panel, row.panel);
    add_to(sum_.charge_ratio, row.charge_ratio);
    add_to(sum_.wall_w, row.wall_w);
    add_to(sum_.clear_w_per_m2, row.clear_w_per_m2);
    add_to(sum_.brightest_w_per_m2, row.brightest_w_per_m2);
    ++count_;
}

LogRow RowGroup::mean() const {
    if (count_ == 1) return first_;
    LogRow mean = sum_;
    const double share = 1.0 / static_cast<double>(count_);
    for (std::optional<double> LogRow::*of :
         {&LogRow::voltage_v, &LogRow::current_a, &LogRow::power_w, &LogRow::irradiance_w_per_m2, &LogRow::charge_ratio,
          &LogRow::wall_w, &LogRow::clear_w_per_m2, &LogRow::brightest_w_per_m2}) {
        if (mean.*of) *(mean.*of) *= share;
    }
    for (std::optional<Celsius> LogRow::*of : {&LogRow::air, &LogRow::panel}) {
        if (mean.*of) (mean.*of)->degc *= share;
    }
    return mean;
}

}  // namespace plait::measured
