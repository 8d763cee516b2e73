// What a set of findings comes to. One place, so that the ranking and the full judgement cannot disagree.
#pragma once

#include <plait/rules/finding.hpp>

#include <array>
#include <cstddef>

namespace plait::study {

/// Counts deciding findings: the gravest is the outcome.
class Tally {
public:
    void count(rules::Outcome outcome, bool proven) { (proven ? proven_ : unproven_)[index(outcome)] = true; }
    void merge(const Tally& other) {
        for (std::size_t i = 0; i < outcomes; ++i) {
            proven_[i] = proven_[i] || other.proven_[i];
            unproven_[i] = unproven_[i] || other.unproven_[i];
        }
    }

    [[nodiscard]] rules::Outcome outcome() const {
        for (std::size_t i = outcomes; i-- > 0;) {
            if (proven_[i] || unproven_[i]) return static_cast<rules::Outcome>(i);
        }
        return rules::Outcome::within;
    }
    /// To be outside the limits one proven breach is enough, whatever else is doubtful; to be within them, every
    /// finding must be proven.
    [[nodiscard]] bool proven() const {
        const rules::Outcome gravest = outcome();
        if (gravest >= rules::Outcome::falls_short) return proven_[index(gravest)];
        for (const bool doubtful : unproven_) {
            if (doubtful) return false;
        }
        return true;
    }

private:
    static constexpr std::size_t outcomes = 6;
    [[nodiscard]] static std::size_t index(rules::Outcome outcome) { return static_cast<std::size_t>(outcome); }

    std::array<bool, outcomes> proven_{};
    std::array<bool, outcomes> unproven_{};
};

}  // namespace plait::study
