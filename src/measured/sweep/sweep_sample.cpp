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
    if (seen_ % run_length_ == 0) {
        // A full sample has as many rows as runs have ended, an even number: a run of the new length begins here too.
        if (rows_.size() == most_kept) halve();
        // The length of a run is a power of two, so that its low bits are an even choice.
        pick_ = static_cast<std::size_t>(mixed(seen_)) % run_length_;
    }
    if (seen_++ % run_length_ == pick_) rows_.push_back(row);
}

void SweepSample::halve() {
    for (std::size_t i = 0; i < rows_.size() / 2; ++i) {
        // A number that no other pair has, of this halving or another: otherwise the same choice would be made twice.
        const std::uint64_t pair = i * 2 * run_length_ + run_length_ - 1;
        rows_[i] = rows_[2 * i + (mixed(~pair) >> 63U)];
    }
    rows_.resize(rows_.size() / 2);
    run_length_ *= 2;
}

}  // namespace plait::measured
