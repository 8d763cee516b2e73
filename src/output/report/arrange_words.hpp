// What the text of the ranking and the answer to "why not this one?" share.
#pragma once

#include <plait/search/arrangement.hpp>

#include <string>
#include <string_view>

namespace plait::output {

/// "PV1 2s1p, PV2 3 folding | 3 flexible"
[[nodiscard]] std::string plan_label(const Setup& setup, const ArrayPlan& plan);
[[nodiscard]] std::string plan_label(const Setup& setup, const search::Arrangement& a, const search::RankedPlan& plan);
/// "1 joint", "no unlike panels in a string": what makes `a` simpler than `b`; empty when it is not.
[[nodiscard]] std::string simpler_because(const search::RankedPlan& a, const search::RankedPlan& b);
/// How sure the ranking is of its first line. At least one plan must be usable.
[[nodiscard]] std::string how_thorough(const search::Arrangement& a);
/// A count of wirings: "2 493", "about 3.6 thousand million".
[[nodiscard]] std::string many(double count);
/// Why the advised wiring is not the first on the list; empty where it is.
[[nodiscard]] std::string simpler_sentence(const search::Arrangement& a);
/// What must be added before the plan may be connected; may be empty.
[[nodiscard]] std::string conditions_of(const Setup& setup, const search::Arrangement& a, const search::RankedPlan& plan);
/// The rule that decides a plan's verdict, or that it is the one advised; may be empty.
[[nodiscard]] std::string decided_by(const Setup& setup, const search::Arrangement& a,
                                     const search::RankedPlan& plan);

inline constexpr std::string_view ranking_legend =
    "takes: mean watts on a warm day, weighted over the light of a year (European weights). lost: of what the panels "
    "in use would give one by one. panels: those in use. cold room: volts left below the input's absolute maximum on the "
    "coldest morning. ?: it rests on a tolerance or an assumed value.";
inline constexpr std::string_view trade_off_legend =
    "one shaded: what it takes with one panel at 20 % light, the mean over all panels in turn; worst: the panel it hurts "
    "most. to touch: the highest open-circuit voltage of an input on the coldest morning. joints: strings beyond the "
    "first of an input, a pair of branch connectors each. fuses: strings that want or have one.";
inline constexpr std::string_view thinned_sentence =
    "There are too many combinations of equal strings to list: of each input only the best wiring per number of panels "
    "was combined, and the best of those are listed.";

}  // namespace plait::output
