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

/// What a string gives: by its label, and under the brightest sky (`string_bright_isc_a`).
struct OwnCurrent {
    double isc_a = 0.0;
    double bright_a = 0.0;
};

/// NEC 690.9(B) [from memory]: at least 1.25 × the current under the brightest sky (1.25 × 1.25 × Isc), rounded up to a
/// standard size, at most the panels' maximum series fuse.
[[nodiscard]] FuseWindow nec_fuse_window(OwnCurrent string, double panel_rating_a);
/// IEC 62548-1:2023: more than 1.5 × Isc, which is 1.2 × the current under the brightest sky, less than 2.4 × Isc, at
/// most the panels' maximum series fuse.
[[nodiscard]] FuseWindow iec_fuse_window(OwnCurrent string, double panel_rating_a);

/// What faces one string, and the fuse that would guard it.
struct StringFuse {
    std::vector<std::size_t> strings;  ///< those that are like it, counted from 0
    double isc_a = 0.0;
    double bright_a = 0.0;         ///< under the brightest sky
    double others_a = 0.0;         ///< sum of the other strings' Isc, in the site's light if that is above 1000 W/m², and
                                   ///< what the battery feeds back
    double others_bright_a = 0.0;  ///< … under the brightest sky
    double panel_rating_a = 0.0;   ///< the lowest maximum series fuse in the string
    std::optional<double> fitted_a;  ///< its fuse: its own, or the one of all strings
    bool needed_by_nec = false;    ///< others under the brightest sky above the rating
    bool needed_by_iec = false;    ///< others above the rating
    bool needed_by_cable = false;  ///< others above what a cable of the string may carry, which bears the string's own
    FuseWindow nec;
    FuseWindow iec;
    std::vector<double> both;  ///< sizes in both windows

    [[nodiscard]] bool needed(Code code) const {
        return (code != Code::iec && needed_by_nec) || (code != Code::nec && needed_by_iec) || needed_by_cable;
    }
};

/// What the battery may feed back into a faulty string through a controller without tracking, which is a switch: as much
/// as the fuse at the battery lets through, the fitted one or else the one that is asked for. 0 behind every other
/// controller. NEC 690.9(A) counts every source; IEC 62548-1:2023 has its own clauses for arrays that are connected to a
/// battery directly [both from memory].
[[nodiscard]] double battery_backfeed_a(const Situation& s);

/// What a fuse must keep to, by the codes in force: one string's, or one size for every string.
struct FuseRange {
    double least_a = 0.0;  ///< by IEC more than that, by NEC that or more
    double most_a = 0.0;
    bool by_panels = false;          ///< the most is what the panels bear, not IEC's 2.4 × Isc
    std::optional<double> cable_a;   ///< the most that guards the string's cable, where there is one
    std::optional<double> chosen_a;  ///< the smallest standard size in all of it; empty: none
};
/// One size for every string.
[[nodiscard]] FuseRange fuse_range(const Situation& s);
/// That of one kind of string, from `string_fuse_figures`.
[[nodiscard]] FuseRange fuse_range(const Situation& s, const StringFuse& string);
/// A fuse for each string where no one size suits them all: the smallest standard size of its own range, in the order of
/// the strings. Nothing if one of them has none.
[[nodiscard]] std::optional<std::vector<double>> own_fuses_a(const Situation& s);

/// One for each kind of string of the input (equal currents, rating and fuse), in their order.
[[nodiscard]] std::vector<StringFuse> string_fuse_figures(const Situation& s);
/// The same without a look at the cables.
[[nodiscard]] std::vector<StringFuse> string_fuses_by_panels(const Situation& s);

}  // namespace plait::rules
