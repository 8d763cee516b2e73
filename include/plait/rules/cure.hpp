// What would cure a finding, as data: a change of the set-up or of its wiring. Words are made from it (`cure_words`),
// and `study::apply` makes the change.
#pragma once

#include <plait/base/names.hpp>
#include <plait/model/cable.hpp>

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace plait::rules {

enum class CureKind {
    fewer_in_series,    ///< at most `count` panels in each string of the input
    more_in_series,     ///< at least `count` panels in each string of the input
    fewer_strings,      ///< at most `count` strings on the input
    string_fuse,        ///< a fuse of `rating_a`, for `rating_v` or more, in every string
    own_string_fuses,   ///< in each string of the input a fuse of its own of `string_fuses_a`, for `rating_v` or more
    blocking_diodes,    ///< one in every string of the input
    cable_sizes,        ///< each of `cables` as thick as it says there, or thicker
    disconnect_volts,   ///< a disconnect for `rating_v` or more
    disconnect_amps,    ///< a disconnect for `rating_a` or more
    connectors,         ///< plugs at the panels and in the strings for `rating_a` or more
    branch_connectors,  ///< a branch connector or combiner whose common leg is for `rating_a` or more
    battery_fuse,       ///< a fuse of `rating_a` at the battery
    more_panels,        ///< `count` more of the kind `panel_kind`
};

/// A cable of the set-up made thicker.
struct ThickerCable {
    std::size_t cable = 0;
    CableSize size;
};

struct Cure {
    CureKind kind = CureKind::fewer_in_series;
    std::size_t input = 0;  ///< of the controller
    std::size_t count = 0;
    std::size_t panel_kind = 0;  ///< of the set-up
    double rating_a = 0.0;
    double rating_v = 0.0;
    std::vector<ThickerCable> cables;
    std::vector<double> string_fuses_a;  ///< by string
    /// Mean watts more over the light of a year (European weights), below 0: less. Known where the input takes less
    /// than it could, which is what the cure is for (`study::judge`).
    std::optional<double> gain_w;
};

inline constexpr Names cure_kind_names{
    Name{CureKind::fewer_in_series, "fewer-in-series"},
    Name{CureKind::more_in_series, "more-in-series"},
    Name{CureKind::fewer_strings, "fewer-strings"},
    Name{CureKind::string_fuse, "string-fuse"},
    Name{CureKind::own_string_fuses, "own-string-fuses"},
    Name{CureKind::blocking_diodes, "blocking-diodes"},
    Name{CureKind::cable_sizes, "cable-sizes"},
    Name{CureKind::disconnect_volts, "disconnect-volts"},
    Name{CureKind::disconnect_amps, "disconnect-amps"},
    Name{CureKind::connectors, "connectors"},
    Name{CureKind::branch_connectors, "branch-connectors"},
    Name{CureKind::battery_fuse, "battery-fuse"},
    Name{CureKind::more_panels, "more-panels"},
};
/// A name for programs.
[[nodiscard]] constexpr std::string_view name_of(CureKind kind) { return name_in(cure_kind_names, kind); }

/// Each of them alone cures the finding; the plainest first. Empty: nothing that can be put into numbers does.
using Cures = std::vector<Cure>;

}  // namespace plait::rules
