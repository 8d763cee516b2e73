// Many curves in step: blocks of 64 that all go the same way, in loops of fixed length without calls or branches, of
// which the compiler makes vector instructions. Nothing is contracted to fused multiply-adds (the list of sources says
// so for the files that include this), so every form gives the same bits.
#pragma once

#include <plait/physics/power_batch.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <span>

// The wide form is the same source compiled for AVX2, where compiler and machine have it.
#if defined(__x86_64__) && defined(__GNUC__)
#define PLAIT_WIDE_BATCH 1
#endif
#if defined(__GNUC__)
#define PLAIT_INLINE inline __attribute__((always_inline))
#else
#define PLAIT_INLINE inline
#endif

namespace plait::physics {

inline constexpr std::size_t lanes = 64;
using Lanes = std::array<double, lanes>;

inline constexpr double last_step = 1e-5;  // what a Halley step this small leaves is of its third power

PLAIT_INLINE std::uint64_t bits_of(double x) {
    std::uint64_t bits;
    std::memcpy(&bits, &x, sizeof bits);
    return bits;
}
PLAIT_INLINE double double_of(std::uint64_t bits) {
    double x;
    std::memcpy(&x, &bits, sizeof x);
    return x;
}

enum class Digits { all, some };
/// exp(x) = 2^n·exp(r), |r| ≤ ln 2/2: n by adding 1.5·2^52, whose last bits then hold it; exp(r) by its Taylor series
/// to r^13, which leaves r^14/14! < 5e-18. ln 2 is taken off in two parts, the first with zeros at its end.
template <Digits digits>
PLAIT_INLINE double exponential(double power) {
    // Beyond ±700 the exponent's bits would run over; a step that far is on its way back, or not settled.
    const double capped = power < 700.0 ? power : 700.0;
    const double x = capped > -700.0 ? capped : -700.0;
    constexpr double per_ln2 = 1.4426950408889634;
    constexpr double ln2_high = 6.93147180369123816490e-01;
    constexpr double ln2_low = 1.90821492927058770002e-10;
    constexpr double shifter = 6755399441055744.0;  // 1.5·2^52
    const double shifted = x * per_ln2 + shifter;
    const double n = shifted - shifter;
    const double r = (x - n * ln2_high) - n * ln2_low;
    const double r2 = r * r;
    const double r4 = r2 * r2;
    // Pairs of terms, then pairs of pairs: shorter chains than one term after the other.
    const double p01 = 1.0 + r;
    const double p23 = 1.0 / 2.0 + r * (1.0 / 6.0);
    const double p45 = 1.0 / 24.0 + r * (1.0 / 120.0);
    if (digits == Digits::some) {  // to r^5: 3e-6 of its value
        return double_of(bits_of(p01 + r2 * p23 + r4 * p45) + (bits_of(shifted) << 52));
    }
    const double p67 = 1.0 / 720.0 + r * (1.0 / 5040.0);
    const double p89 = 1.0 / 40320.0 + r * (1.0 / 362880.0);
    const double pab = 1.0 / 3628800.0 + r * (1.0 / 39916800.0);
    const double pcd = 1.0 / 479001600.0 + r * (1.0 / 6227020800.0);
    const double p03 = p01 + r2 * p23;
    const double p47 = p45 + r2 * p67;
    const double p8d = p89 + r2 * pab + r4 * pcd;
    const double value = p03 + r4 * (p47 + r4 * p8d);
    return double_of(bits_of(value) + (bits_of(shifted) << 52));
}

/// ln of a positive, ordinary number to about 1e-4: enough to begin with.
PLAIT_INLINE double rough_logarithm(double x) {
    constexpr double ln2 = 0.6931471805599453;
    const std::uint64_t bits = bits_of(x);
    // The exponent as a number: its eleven bits in the last places of 2^52.
    const double exponent = double_of((bits >> 52) | 0x4330000000000000u) - 4503599627370496.0 - 1023.0;
    const double m = double_of((bits & 0x000fffffffffffffu) | 0x3ff0000000000000u);  // 1 … 2
    // ln m by its series in (m − √2)/(m + √2) needs a division; a polynomial does here. (Least squares at Chebyshev's
    // points.)
    const double m2 = m * m;
    const double p = (-1.73675974 + m * 2.80698053) + m2 * (-1.45519477 + m * 0.440502739 - m2 * 0.0554593137);
    return exponent * ln2 + p;
}

/// One block: curves, what is asked of them, and the answers. Members of one object are known not to overlap, so the
/// compiler need not ask whether a result is somebody's input.
struct Block {
    Lanes light, saturation, ideality, series, shunt;
    Lanes target;          ///< the current, voltage or power asked for
    Lanes best_v, best_a;  ///< the maximum-power point, where a kernel starts from it
    Lanes voltage, current;
    Lanes well;  ///< 0: not settled, left to the careful form
};

template <class Kernel>
void solve_plain(Block& block) {
    Kernel::solve(block);
}
#if defined(PLAIT_WIDE_BATCH)
template <class Kernel>
__attribute__((target("avx2"))) void solve_wide(Block& block) {
    Kernel::solve(block);
}
#endif

/// Which curves are asked what.
struct BatchQuestion {
    std::span<const std::size_t> which;  ///< places in the batch; empty: all of them, one after the other
    const double* targets = nullptr;     ///< by the order of asking; null: the same for all
    double target = 0.0;
    const double* best_v = nullptr;  ///< by place in the batch; null where a kernel does not ask for it
    const double* best_a = nullptr;
};

/// Runs a kernel, the last block filled up with its last curve. `put(k, point)` takes the k-th answer; `careful(place,
/// target)` answers what the kernel does not settle.
template <class Kernel, class Put, class Careful>
void in_blocks(const CurveBatch& curves, const BatchQuestion& question, BatchForm form, const Put& put,
               const Careful& careful) {
#if defined(PLAIT_WIDE_BATCH)
    const bool wide = form == BatchForm::wide && best_batch_form() == BatchForm::wide;
    void (*const solve)(Block&) = wide ? &solve_wide<Kernel> : &solve_plain<Kernel>;
#else
    static_cast<void>(form);
    void (*const solve)(Block&) = &solve_plain<Kernel>;
#endif
    const bool some = !question.which.empty();
    const std::size_t all = some ? question.which.size() : curves.size();
    Block block;
    for (std::size_t first = 0; first < all; first += lanes) {
        const std::size_t count = std::min(lanes, all - first);
        const auto take = [&](const double* from, Lanes& to) {
            if (from == nullptr) return;
            if (some) {
                for (std::size_t i = 0; i < count; ++i) to[i] = from[question.which[first + i]];
            } else {
                std::copy_n(from + first, count, to.begin());
            }
            std::fill(to.begin() + static_cast<std::ptrdiff_t>(count), to.end(), to[count - 1]);
        };
        take(curves.light_a(), block.light);
        take(curves.saturation_a(), block.saturation);
        take(curves.ideality_v(), block.ideality);
        take(curves.series_ohm(), block.series);
        take(curves.shunt_s(), block.shunt);
        take(question.best_v, block.best_v);
        take(question.best_a, block.best_a);
        if (question.targets == nullptr) {
            block.target.fill(question.target);
        } else {
            std::copy_n(question.targets + first, count, block.target.begin());
            std::fill(block.target.begin() + static_cast<std::ptrdiff_t>(count), block.target.end(),
                      block.target[count - 1]);
        }
        solve(block);
        for (std::size_t i = 0; i < count; ++i) {
            put(first + i, block.well[i] != 0.0
                               ? PowerPoint{block.voltage[i], block.current[i]}
                               : careful(some ? question.which[first + i] : first + i, block.target[i]));
        }
    }
}

}  // namespace plait::physics
