// A cause lasts: the hidden Markov chain over the rows of a log, and what all rows of a block say of each (forward and
// backward; L. E. Baum et al., Ann. Math. Stat. 41, 1970).
#pragma once

#include "row_states.hpp"

namespace plait::measured {

class CauseChain {
public:
    /// One row forward: `row.ahead` becomes the probability of each state given the rows so far.
    void forward(RowEvidence& row);
    /// `ahead` of all rows of a block becomes the probability of each state given the whole block.
    void smooth(std::vector<RowEvidence>& rows) const;
    /// As after no row at all.
    void restart() { started_ = false; }

    /// Shares of time beforehand in each state.
    [[nodiscard]] static ByState<double> priors(const RowPriors& of_row);

private:
    struct Leaving {
        ByState<double> entry{};  ///< where what leaves a state goes
        ByState<double> stay{};
    };
    [[nodiscard]] const Leaving& leaving(const RowEvidence& row) const;

    ByState<double> now_{};
    bool started_ = false;
    mutable Leaving kept_;
    mutable RowPriors kept_priors_;
    mutable double kept_step_s_ = -1.0;
};

}  // namespace plait::measured
