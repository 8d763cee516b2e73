#include <plait/measured/sweep_sample.hpp>

namespace plait::measured {
namespace {

// SplitMix64 (Steele, Lea, Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014) [constants from
// memory]: any function that mixes the bits well would do.
std::uint64_t mixed(std::uint64_t n) {
    n += 0x9E3779B97F4A7C15ULL;
    n = (n ^ (n >> 30U)) * 0xBF58476D1CE4E5B9ULL;
    n = (n ^ (n >> 27U)) * 0x94D049BB133111EBULL;
    return n ^ (n >> 31U);
}

}  // namespace

void SweepSample::add(const SweepRow& row) {
    const std::size_t at = seen_ % run_length_;
    // The length of a run is a power of two, so that its low bits are an even choice.
    if (at == 0) pick_ = static_cast<std::size_t>(mixed(seen_)) % run_length_;
    ++seen_;
    if (at != pick_) return;
    if (rows_.size() == most_kept) {
        halve();
        // This row may have begun a run of the new length, or be inside one that has its row already.
        if ((seen_ - 1) % run_length_ != 0) return;
        pick_ = static_cast<std::size_t>(mixed(seen_ - 1)) % run_length_;
        if (pick_ != 0) return;
    }
    rows_.push_back(row);
}

void SweepSample::halve() {
    for (std::size_t i = 0; i < rows_.size() / 2; ++i) {
        rows_[i] = rows_[2 * i + (mixed(~(i * run_length_)) >> 63U)];
    }
    rows_.resize(rows_.size() / 2);
    run_length_ *= 2;
    pick_ = run_length_;
}

}  // namespace plait::measured
