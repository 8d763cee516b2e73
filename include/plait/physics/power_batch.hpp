// Maximum-power points of many curves at once: the hours of a year. The same answers as `DiodeCurve::maximum_power` to
// 1e-12, some ten times as fast. How fast: docs/sun.md.
#pragma once

#include <plait/physics/single_diode.hpp>

#include <cstddef>
#include <span>
#include <vector>

namespace plait::physics {

/// Curves side by side, one list for each of their numbers.
class CurveBatch {
public:
    void reserve(std::size_t count);
    void add(const DiodeCurve& curve);

    [[nodiscard]] std::size_t size() const { return light_a_.size(); }
    [[nodiscard]] DiodeCurve at(std::size_t i) const {
        return {light_a_[i], saturation_a_[i], ideality_v_[i], series_ohm_[i], shunt_s_[i]};
    }
    /// Every curve made one of `in_series` × `in_parallel` such panels behind `more_ohm`: see `DiodeCurve::scaled`.
    [[nodiscard]] CurveBatch scaled(int in_series, int in_parallel, double more_ohm) const;

    /// Some of the curves, by their places.
    [[nodiscard]] CurveBatch picked(std::span<const std::size_t> which) const;

    [[nodiscard]] const double* light_a() const { return light_a_.data(); }
    [[nodiscard]] const double* saturation_a() const { return saturation_a_.data(); }
    [[nodiscard]] const double* ideality_v() const { return ideality_v_.data(); }
    [[nodiscard]] const double* series_ohm() const { return series_ohm_.data(); }
    [[nodiscard]] const double* shunt_s() const { return shunt_s_.data(); }

private:
    std::vector<double> light_a_;
    std::vector<double> saturation_a_;
    std::vector<double> ideality_v_;
    std::vector<double> series_ohm_;
    std::vector<double> shunt_s_;
};

/// Which instructions do the work. All give the same bits.
enum class BatchForm {
    plain,  ///< what every machine of the kind has
    wide,   ///< four numbers at a time, where the machine can
};

/// The widest form this machine runs.
[[nodiscard]] BatchForm best_batch_form();

/// The maximum of V·I of every curve; zero for a dark one. Both lists are as long as the batch.
void maximum_power_points(const CurveBatch& curves, std::span<double> voltage_v, std::span<double> current_a,
                          BatchForm form);
void maximum_power_points(const CurveBatch& curves, std::span<double> voltage_v, std::span<double> current_a);

/// The exponential the batch is made of: to 4e-16 of its value for −700 ≤ x ≤ 700.
[[nodiscard]] double batch_exponential_factor(double x_value);

}  // namespace plait::physics
