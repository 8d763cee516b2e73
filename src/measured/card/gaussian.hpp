// A Gaussian of several correlated readings. Private to the study layer.
#pragma once

#include <cmath>
#include <cstddef>
#include <vector>

namespace plait::measured {

class Gaussian {
public:
    /// The covariance is the sum of the errors' outer products, which must be positive definite.
    explicit Gaussian(std::size_t size) : size_(size), lower_(size * size, 0.0) {}

    /// An error of one standard deviation moves the readings by this much, all at once.
    void add(const std::vector<double>& shift) {
        for (std::size_t i = 0; i < size_; ++i) {
            for (std::size_t j = 0; j <= i; ++j) at(i, j) += shift[i] * shift[j];
        }
    }
    /// An error of reading `i` alone.
    void add(std::size_t i, double sigma) { at(i, i) += sigma * sigma; }

    /// To be called once, after all errors: Cholesky's factor in place.
    void close() {
        log_scale_ = 0.0;
        for (std::size_t j = 0; j < size_; ++j) {
            for (std::size_t k = 0; k < j; ++k) at(j, j) -= at(j, k) * at(j, k);
            at(j, j) = std::sqrt(at(j, j));
            log_scale_ += std::log(at(j, j)) + half_log_two_pi;
            for (std::size_t i = j + 1; i < size_; ++i) {
                for (std::size_t k = 0; k < j; ++k) at(i, j) -= at(i, k) * at(j, k);
                at(i, j) /= at(j, j);
            }
        }
    }

    /// The squared distance of two sets of readings in standard deviations.
    [[nodiscard]] double distance_squared(const std::vector<double>& a, const std::vector<double>& b) const {
        std::vector<double> solved(size_);
        double sum = 0.0;
        for (std::size_t i = 0; i < size_; ++i) {
            double rest = a[i] - b[i];
            for (std::size_t k = 0; k < i; ++k) rest -= lower_[i * size_ + k] * solved[k];
            solved[i] = rest / lower_[i * size_ + i];
            sum += solved[i] * solved[i];
        }
        return sum;
    }
    [[nodiscard]] double log_density(const std::vector<double>& a, const std::vector<double>& b) const {
        return -0.5 * distance_squared(a, b) - log_scale_;
    }

private:
    double& at(std::size_t i, std::size_t j) { return lower_[i * size_ + j]; }

    static constexpr double half_log_two_pi = 0.918938533204672742;  // ln √(2π)
    std::size_t size_;
    std::vector<double> lower_;
    double log_scale_ = 0.0;
};

}  // namespace plait::measured
