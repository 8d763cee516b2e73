// How many panels or strings a limit asks for or leaves, where all strings are equal.
#pragma once

#include <plait/rules/rule.hpp>

#include "words.hpp"

#include <cmath>

namespace plait::rules {

/// "Put 3 or more panels in series": so many that a voltage that grows with them reaches the limit.
inline std::string more_in_series(const Situation& s, const Finding& f) {
    const std::optional<EqualStrings> equal = as_equal_strings(s.wiring());
    if (!equal || !(f.value > 0.0)) return "Put more panels in series";
    return fmt::format("Put {:.0f} or more panels in series", std::ceil(equal->in_series * f.limit / f.value - 1e-9));
}

/// "Put at most 3 panels in series"; empty where not even one stays within.
inline std::string fewer_in_series(const Situation& s, const Finding& f) {
    const std::optional<EqualStrings> equal = as_equal_strings(s.wiring());
    if (!equal) return "Shorten the longest string";
    const double most = std::floor(equal->in_series * f.limit / f.value + 1e-9);
    return most < 1.0
               ? std::string()
               : fmt::format("Put at most {} in series", counted(static_cast<std::size_t>(most), "panel", "panels"));
}

/// "Put at most 2 strings in parallel"; empty where not even one stays within.
inline std::string fewer_strings(const Situation& s, const Finding& f) {
    const std::optional<EqualStrings> equal = as_equal_strings(s.wiring());
    if (!equal) return "Use fewer strings in parallel on this input";
    const double most = std::floor(equal->in_parallel * f.limit / f.value + 1e-9);
    return most < 1.0 ? std::string()
                      : fmt::format("Put at most {} in parallel on this input",
                                    counted(static_cast<std::size_t>(most), "string", "strings"));
}

}  // namespace plait::rules
