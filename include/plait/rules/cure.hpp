// What would cure a finding, as data: a change of the set-up or of its wiring. Words are made from it (`cure_words`), and
// `study::apply` makes the change.
#pragma once

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
    blocking_diodes,    ///< one in every string of the input
    cable_size,         ///< `size` or thicker for the cable `cable`
    shorter_cable,      ///< at most `length_m` of the cable `cable`, one way
    disconnect_volts,   ///< a disconnect for `rating_v` or more
    disconnect_amps,    ///< a disconnect for `rating_a` or more
    connectors,         ///< plugs at the panels and in the strings for `rating_a` or more
    branch_connectors,  ///< a branch connector or combiner whose common leg is for `rating_a` or more
    battery_fuse,       ///< a fuse of `rating_a` at the battery
    more_panels,        ///< `count` more of the kind `panel_kind`
};

struct Cure {
    CureKind kind = CureKind::fewer_in_series;
    std::size_t input = 0;  ///< of the controller
    std::size_t count = 0;
    std::size_t panel_kind = 0;  ///< of the set-up
    std::size_t cable = 0;       ///< of the set-up
    double rating_a = 0.0;
    double rating_v = 0.0;
    double length_m = 0.0;
    CableSize size;
};

/// Each of them alone cures the finding; the plainest first. Empty: nothing that can be put into numbers does.
using Cures = std::vector<Cure>;

}  // namespace plait::rules
