// How many panels of each kind, as one number: counts (c0, c1, …) with 0 ≤ ci ≤ on hand are numbered in mixed radix, so
// that taking panels away is a subtraction of numbers. Walks touch only the pairs of which one holds the other.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace plait::search {

class PanelCounts {
public:
    explicit PanelCounts(std::vector<int> on_hand) : kinds_(on_hand.size()) {
        for (const int n : on_hand) {
            stride_.push_back(size_);
            size_ *= static_cast<std::size_t>(n) + 1;
        }
        digits_.reserve(size_ * kinds_);
        std::vector<int> at(kinds_, 0);
        for (std::size_t i = 0; i < size_; ++i) {
            digits_.insert(digits_.end(), at.begin(), at.end());
            for (std::size_t k = 0; k < kinds_ && ++at[k] > on_hand[k]; ++k) at[k] = 0;
        }
    }

    /// How many different counts there are; the last is everything on hand, 0 is nothing.
    [[nodiscard]] std::size_t size() const { return size_; }
    [[nodiscard]] std::size_t kinds() const { return kinds_; }
    [[nodiscard]] std::span<const int> of(std::size_t number) const {
        return std::span(digits_).subspan(number * kinds_, kinds_);
    }
    [[nodiscard]] std::size_t number(std::span<const int> counts) const {
        std::size_t n = 0;
        for (std::size_t k = 0; k < kinds_; ++k) n += static_cast<std::size_t>(counts[k]) * stride_[k];
        return n;
    }
    /// Whether `part` can be taken from `whole`; what is left is then `whole - part`.
    [[nodiscard]] bool holds(std::size_t whole, std::size_t part) const {
        if (part > whole) return false;
        const std::span<const int> w = of(whole);
        const std::span<const int> p = of(part);
        for (std::size_t k = 0; k < kinds_; ++k) {
            if (p[k] > w[k]) return false;
        }
        return true;
    }

    /// Calls `f(part)` for every count that can be taken from `whole`, rising, nothing and `whole` itself among them.
    template <class F>
    void for_each_part(std::size_t whole, F f) const {
        walk(0, whole, f);
    }
    /// Calls `f(whole)` for every count that holds `part`, rising, `part` itself first.
    template <class F>
    void for_each_whole(std::size_t part, F f) const {
        walk(part, size_ - 1, f);
    }
    /// Turns `sums`, by count, into the results over all parts: `into(sums[whole], sums[part])`, kind by kind.
    template <class T, class Into>
    void over_parts(std::vector<T>& sums, Into into) const {
        for (std::size_t k = 0; k < kinds_; ++k) {
            for (std::size_t c = 0; c < size_; ++c) {
                if (of(c)[k] > 0) into(sums[c], sums[c - stride_[k]]);
            }
        }
    }
    /// One panel of a kind.
    [[nodiscard]] std::size_t one_of(std::size_t kind) const { return stride_[kind]; }

private:
    template <class F>
    void walk(std::size_t low, std::size_t high, F& f) const {
        const std::span<const int> from = of(low);
        const std::span<const int> to = of(high);
        const auto run = static_cast<std::size_t>(to[0] - from[0]);
        std::vector<int> at(from.begin(), from.end());
        for (std::size_t base = low;;) {
            for (std::size_t c = base; c <= base + run; ++c) f(c);
            std::size_t k = 1;
            for (; k < kinds_ && at[k] == to[k]; ++k) {
                base -= static_cast<std::size_t>(at[k] - from[k]) * stride_[k];
                at[k] = from[k];
            }
            if (k >= kinds_) return;
            ++at[k];
            base += stride_[k];
        }
    }

    std::size_t kinds_;
    std::size_t size_ = 1;
    std::vector<std::size_t> stride_;
    std::vector<int> digits_;
};

}  // namespace plait::search
