// Which counts of panels and strings cure a finding without breaking another limit: found by trying them on the rules
// themselves, so that advice and verdict cannot disagree.
#pragma once

#include <plait/rules/rule.hpp>

#include <cstddef>
#include <optional>

namespace plait::rules {

/// The wiring with each string cut to so many panels, from its end.
[[nodiscard]] InputWiring cut_to(const InputWiring& wiring, std::size_t in_series);
/// The wiring with each string made at least so long, by more of its last panel.
[[nodiscard]] InputWiring grown_to(const InputWiring& wiring, std::size_t in_series);
/// The first so many strings of the wiring.
[[nodiscard]] InputWiring first_strings(const InputWiring& wiring, std::size_t strings);

/// The most panels in series, fewer than there are, for which the finding is met even at worst, and no limit that must
/// not be passed is broken that one panel in series, or the wiring as it is, keeps. Empty: not even one panel.
[[nodiscard]] std::optional<std::size_t> most_in_series(const Situation& s, const Rule& rule, const Finding& f);
/// The fewest panels in series, more than in the shortest string, for which the finding is met even at worst and no
/// limit is broken that is kept now. Empty: none up to 60.
[[nodiscard]] std::optional<std::size_t> least_in_series(const Situation& s, const Rule& rule, const Finding& f);
/// The most strings, fewer than there are, as `most_in_series`.
[[nodiscard]] std::optional<std::size_t> most_strings(const Situation& s, const Rule& rule, const Finding& f);

/// How many panels of a kind may stand in series on the input, beside as many strings as there are; of limits that must
/// not be passed only, by the method that decides and at the top of every tolerance. 0: not even one.
[[nodiscard]] std::size_t longest_string(const Situation& s, std::size_t kind, std::size_t in_parallel);

/// A cure of one of these three kinds is added to the list, where there is one.
void add_fewer_in_series(const Situation& s, const Rule& rule, const Finding& f, Cures& out);
void add_more_in_series(const Situation& s, const Rule& rule, const Finding& f, Cures& out);
void add_fewer_strings(const Situation& s, const Rule& rule, const Finding& f, Cures& out);

}  // namespace plait::rules
