// A sweep of any length in bounded memory.
#pragma once

#include <plait/measured/window_learning.hpp>

#include <cstddef>
#include <cstdint>
#include <vector>

namespace plait::measured {

/// Keeps every row of a sweep of up to `most_kept`. Of a longer one it keeps one row out of each run of 2, 4, 8 … rows,
/// so that between half of `most_kept` and all of it are kept. Which row of a run is left to a fixed hash of its
/// number: a pattern that comes back every so many rows is thus not mistaken for the whole, and the same file always
/// gives the same rows. A mean over n rows is uncertain by its scatter over the root of n, which here is below a
/// hundredth of that scatter.
class SweepSample {
public:
    static constexpr std::size_t most_kept = std::size_t{1} << 16U;

    void add(const SweepRow& row);

    [[nodiscard]] const std::vector<SweepRow>& rows() const { return rows_; }
    [[nodiscard]] std::size_t seen() const { return seen_; }
    /// One row in so many is kept.
    [[nodiscard]] std::size_t run_length() const { return run_length_; }

private:
    void halve();

    std::vector<SweepRow> rows_;
    std::size_t seen_ = 0;
    std::size_t run_length_ = 1;
    std::size_t pick_ = 0;  // which row of this run is kept
};

}  // namespace plait::measured
