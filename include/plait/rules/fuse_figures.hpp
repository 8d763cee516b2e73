// String fuses: which ratings are allowed, and which of the standard ones are among them.
#pragma once

#include <plait/rules/rule.hpp>

#include <optional>
#include <span>
#include <vector>

namespace plait::rules {

/// NEC 240.6(A) up to 200 A, with its extra fuse sizes 1, 3, 6 and 10 A [from memory].
[[nodiscard]] std::span<const double> nec_fuse_sizes();
/// gPV fuses (IEC 60269-6) as commonly stocked, 10 × 38 mm, 1 to 32 A [from memory].
[[nodiscard]] std::span<const double> gpv_fuse_sizes();
/// The smallest NEC size not below a current.
[[nodiscard]] std::optional<double> next_nec_size_a(double current_a);

struct FuseWindow {
    double least_a = 0.0;
    double most_a = 0.0;
    std::vector<double> sizes;  ///< standard ones inside, rising
};

/// NEC 690.9(B) [from memory]: at least 1.25 × 1.25 × Isc, rounded up to a standard size, at most the panels' maximum
/// series fuse.
[[nodiscard]] FuseWindow nec_fuse_window(double isc_a, double panel_rating_a);
/// IEC 62548:2016: more than 1.5 × Isc, less than 2.4 × Isc, at most the panels' maximum series fuse.
[[nodiscard]] FuseWindow iec_fuse_window(double isc_a, double panel_rating_a);

/// What faces one string, and the fuse that would guard it.
struct StringFuse {
    std::size_t string = 0;  ///< the first of the equal ones
    std::size_t count = 0;   ///< how many strings are like it
    double isc_a = 0.0;
    double others_a = 0.0;        ///< sum of the other strings' Isc
    double panel_rating_a = 0.0;  ///< the lowest maximum series fuse in the string
    bool needed_by_nec = false;   ///< 1.25 × others above the rating
    bool needed_by_iec = false;   ///< others above the rating
    FuseWindow nec;
    FuseWindow iec;
    std::vector<double> both;  ///< sizes in both windows

    [[nodiscard]] bool needed(Code code) const {
        return (code != Code::iec && needed_by_nec) || (code != Code::nec && needed_by_iec);
    }
};

/// One for each kind of string of the input (equal Isc and rating), in their order.
[[nodiscard]] std::vector<StringFuse> string_fuse_figures(const Situation& s);

}  // namespace plait::rules
