#pragma once

#include <plait/base/interval.hpp>
#include <plait/base/names.hpp>

#include <cstddef>
#include <string_view>
#include <vector>

namespace plait::rules {

/// What a rule finds. Three are about what may be connected (exceeds, needs, undecided), two about what the input then
/// takes (falls short, clips); they answer two questions, so there is no order among them: ask by name.
enum class Outcome {
    within,       ///< within the stated limit
    undecided,    ///< the papers do not say enough
    needs,        ///< within the limits once something is added (fuses, more panels)
    clips,        ///< the input takes less than the array could give
    falls_short,  ///< the array does not reach what the input needs
    exceeds,      ///< outside a limit that must never be passed
};

enum class Sense { at_most, at_least };
enum class Unit { volt, ampere, watt, panel, string };

/// A value held against a limit: numbers only, the sentence is made when somebody reads it.
struct Finding {
    int test = 0;         ///< which of the rule's tests
    bool decides = true;  ///< false: shown beside the deciding one, for comparison
    Outcome outcome = Outcome::undecided;
    Outcome broken = Outcome::undecided;  ///< what it is beyond the limit
    double value = 0.0;
    Interval spread;     ///< the value over the stated tolerances
    double limit = 0.0;  ///< not a number: the papers do not state one, and the finding is undecided
    Sense sense = Sense::at_most;
    Unit unit = Unit::volt;
    std::size_t kind = 0;        ///< the kind of panel it is about, where a rule looks at each kind by itself
    bool even_at_worst = false;  ///< the whole spread gives the same answer

    /// Within a limit that must never be passed on the nominal figure, and past it at an end of the stated tolerances.
    [[nodiscard]] bool exceeds_by_tolerance() const {
        return outcome == Outcome::within && broken == Outcome::exceeds && !even_at_worst;
    }
    /// Whether this is beyond the limit, or may be by the tolerances, and that is the gravest there is.
    [[nodiscard]] bool exceeds_at_worst() const {
        return decides && broken == Outcome::exceeds && (outcome == Outcome::exceeds || !even_at_worst);
    }
    /// Room left before the limit, in the finding's unit; negative beyond it.
    [[nodiscard]] double margin() const { return sense == Sense::at_most ? limit - value : value - limit; }
};

using Findings = std::vector<Finding>;

/// What a finding means for the headline, in the order in which it is said: the first there is gives the first word,
/// and reports list findings in the same order.
enum class HeadlineShare {
    forbids,        ///< outside a limit that must never be passed
    may_exceed,     ///< within it, and outside by a stated tolerance
    unknown_limit,  ///< nobody knows such a limit
    needs,          ///< something must be added
    falls_short,
    clips,
    doubts,   ///< not settled over the tolerances, or not known, without harm
    nothing,  ///< within, over every tolerance
};
[[nodiscard]] HeadlineShare headline_share(const Finding& finding);

/// The one place where a value is compared with a limit. Being at the limit is within; a value that is not a number is
/// undecided. `broken` is the outcome beyond the limit.
[[nodiscard]] Finding at_most(double value, Interval spread, double limit, Unit unit, Outcome broken);
[[nodiscard]] Finding at_least(double value, Interval spread, double limit, Unit unit, Outcome broken);

inline constexpr Names outcome_names{
    Name{Outcome::within, "within"}, Name{Outcome::undecided, "undecided"},     Name{Outcome::needs, "needs"},
    Name{Outcome::clips, "clips"},   Name{Outcome::falls_short, "falls-short"}, Name{Outcome::exceeds, "exceeds"},
};
[[nodiscard]] constexpr std::string_view name_of(Outcome outcome) { return name_in(outcome_names, outcome); }
[[nodiscard]] std::string_view symbol_of(Unit unit);

}  // namespace plait::rules
