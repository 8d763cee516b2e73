// What cures missing or wrong string fuses: one size for every string, or each string its own.
#pragma once

#include <plait/rules/array_figures.hpp>
#include <plait/rules/fuse_figures.hpp>

#include <algorithm>
#include <limits>
#include <utility>

namespace plait::rules {

/// Whether there are fuses to be had: one size for all strings, or each string its own.
[[nodiscard]] inline bool some_fuses_suit(const Situation& s) { return fuse_range(s).chosen_a || own_fuses_a(s); }

/// Nothing where no standard size suits a string.
inline void add_string_fuses(const Situation& s, Cures& out) {
    Cure cure;
    cure.kind = CureKind::string_fuse;
    cure.input = s.here.input;
    cure.rating_v = cold_voc_v(s).spread.upper();
    if (const std::optional<double> one_a = fuse_range(s).chosen_a) {
        cure.rating_a = *one_a;
        out.push_back(cure);
    } else if (std::optional<std::vector<double>> each_a = own_fuses_a(s)) {
        cure.kind = CureKind::own_string_fuses;
        cure.string_fuses_a = std::move(*each_a);
        out.push_back(std::move(cure));
    }
}

/// The fuses that must be there, one a string: none larger than the least of the panels' ratings, nor than guards the cable.
inline Condition string_fuses_wanted(const Situation& s) {
    const std::size_t strings = s.wiring().strings.size();
    const FuseRange range = fuse_range(s);
    if (!range.chosen_a) {
        return {ConditionKind::string_fuses, strings, {}, {}, s.here.input, own_fuses_a(s).value_or(std::vector<double>())};
    }
    double most_a = range.cable_a.value_or(std::numeric_limits<double>::infinity());
    for (const StringFuse& string : string_fuse_figures(s)) most_a = std::min(most_a, string.panel_rating_a);
    return {ConditionKind::string_fuses, strings, most_a, {}, s.here.input};
}

}  // namespace plait::rules
