// A wiring as data: which panel stands where, and what light falls on it. One form for all of them, from a single
// panel to strings of unlike, shaded panels; "3s2p" is only a short way to write one.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace plait {

/// The state of one bypass group: its share of the condition's irradiance, and how much warmer than the array's
/// cell temperature it is. Some of its cells may get less light than the rest: a leaf, a pole, a shadow's edge.
struct GroupState {
    double light_ratio = 1.0;  ///< of its brightest cells
    double warmer_k = 0.0;
    int shaded_cells = 0;             ///< so many of its cells …
    double shaded_light_ratio = 1.0;  ///< … get this share of the light of the others, 0 to 1

    [[nodiscard]] bool part_shaded() const { return shaded_cells > 0 && shaded_light_ratio != 1.0; }
    /// The light of its darkest cells, in the share of the array's.
    [[nodiscard]] double darkest_light_ratio() const { return part_shaded() ? light_ratio * shaded_light_ratio : light_ratio; }

    friend bool operator==(const GroupState& a, const GroupState& b) {
        return a.light_ratio == b.light_ratio && a.warmer_k == b.warmer_k && a.shaded_cells == b.shaded_cells &&
               a.shaded_light_ratio == b.shaded_light_ratio;
    }
};

/// One panel in a string. `groups` holds one state per bypass group, in cell order; empty means that all of it is in
/// full light at the array's temperature. Index `kind` counts the kinds of the set-up from 0.
/// `plane` counts the planes of the set-up: which way the panel looks; absent: as its kind says.
struct PanelPlace {
    std::size_t kind = 0;
    std::vector<GroupState> groups;
    std::optional<std::size_t> plane{};

    friend bool operator==(const PanelPlace& a, const PanelPlace& b) {
        return a.kind == b.kind && a.groups == b.groups && a.plane == b.plane;
    }
};

/// Panels in series, from the + end to the − end.
struct SeriesString {
    std::vector<PanelPlace> panels;
    bool blocking_diode = false;
    std::optional<double> fuse_a{};  ///< the rating of its own fuse; absent: that of all strings, `Fittings::string_fuse_a`

    friend bool operator==(const SeriesString& a, const SeriesString& b) {
        return a.panels == b.panels && a.blocking_diode == b.blocking_diode && a.fuse_a == b.fuse_a;
    }
};

/// What one input gets: strings in parallel. No string: nothing is plugged in.
struct InputWiring {
    std::vector<SeriesString> strings;

    [[nodiscard]] bool empty() const { return strings.empty(); }
    [[nodiscard]] std::size_t panel_count() const;
    [[nodiscard]] std::size_t panel_count(std::size_t kind) const;
    [[nodiscard]] std::size_t longest_string() const;
    /// Whether some cells of a bypass group get less light than its others.
    [[nodiscard]] bool part_shaded() const;

    friend bool operator==(const InputWiring& a, const InputWiring& b) { return a.strings == b.strings; }
};

/// Equal strings of one kind, in full light.
struct EqualStrings {
    std::size_t kind = 0;
    int in_series = 0;
    int in_parallel = 0;
};

/// The wiring with every place written out.
[[nodiscard]] InputWiring written_out(const EqualStrings& equal);

/// The short form, if the wiring is one kind in equal strings, unshaded, without blocking diodes and without
/// fuses of their own.
[[nodiscard]] std::optional<EqualStrings> as_equal_strings(const InputWiring& wiring);

/// The wiring in words, as the set-up file and the command line take it: "3s2p", "3s2p meadow" where there are several
/// kinds, "2 meadow + dune | 3 dune" for unlike strings (series +, parallel |), "unused". `kind_ids` names the kinds.
/// Shade, blocking diodes and fuses are not part of it.
[[nodiscard]] std::string label(const InputWiring& wiring, const std::vector<std::string>& kind_ids);

/// One wiring per input of the controller, in its order.
using ArrayPlan = std::vector<InputWiring>;

}  // namespace plait
