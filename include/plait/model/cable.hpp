// The wire between panels, joint, input and battery, and what stands in it: fuses, disconnect, connectors.
#pragma once

#include <plait/base/names.hpp>
#include <plait/base/temperature.hpp>

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace plait {

/// Which part of the way a cable is. Several of one run on one way are in series: a string cable and its extension.
enum class CableRun {
    panel_leads,  ///< jumpers at each panel beyond its own leads: two a panel
    string,       ///< from each string to the joint of the strings, or to the input if there is one string
    trunk,        ///< from the joint to the input
    battery,      ///< from the controller to the battery
};

enum class ConductorKind { plain, tinned };

/// How a run lies, for the current it may carry.
enum class Laying {
    free_air,  ///< each cable by itself, air around it
    surface,   ///< each cable by itself, on a wall or roof
    bundled,   ///< + and − touching, alone or with others
};

/// A conductor: metric (IEC 60228) or American (AWG), whichever table it is in.
struct CableSize {
    double area_mm2 = 0.0;   ///< nominal; of an AWG size that of NEC chapter 9 table 8
    std::optional<int> awg;  ///< 18 … 2; absent: metric

    friend bool operator==(const CableSize& a, const CableSize& b) {
        return a.area_mm2 == b.area_mm2 && a.awg == b.awg;
    }
};

/// Which of a cable's figures its file leaves out.
struct UnstatedCable {
    bool kind = false;
    bool conductor = false;
    bool ambient = false;
    bool laying = false;
    bool insulation = false;
    bool terminals = false;
};

struct Cable {
    std::string name;
    CableRun run = CableRun::string;
    std::optional<std::size_t> input;  ///< absent: at every input in use
    double length_m = 0.0;             ///< one way; there and back is twice that
    CableSize size;
    ConductorKind kind = ConductorKind::tinned;
    std::optional<double> resistance_ohm_per_m;  ///< the maker's, in place of the tables and of any temperature
    Celsius conductor{75.0};                     ///< working temperature of the copper
    Celsius ambient{60.0};                       ///< of the air around the cable
    Laying laying = Laying::bundled;
    int circuits = 1;          ///< loaded pairs in the bundle, this one counted
    Celsius insulation{90.0};  ///< NEC column of the wire
    Celsius terminals{60.0};   ///< NEC column of what it is screwed into
    UnstatedCable unstated;
};

/// Ratings of what stands in the wire, as far as the file gives them.
struct Fittings {
    std::optional<double> string_fuse_a;
    std::optional<double> string_fuse_v;
    std::optional<double> disconnect_a;
    std::optional<double> disconnect_v;
    std::optional<double> battery_fuse_a;
    std::optional<double> connector_a;  ///< of the plugs at the panels and in a string
    std::optional<double> branch_a;     ///< of the common leg of a branch connector
};

inline constexpr Names cable_run_names{
    Name{CableRun::panel_leads, "panel-leads"},
    Name{CableRun::string, "string"},
    Name{CableRun::trunk, "trunk"},
    Name{CableRun::battery, "battery"},
};
[[nodiscard]] constexpr std::string_view name_of(CableRun r) { return name_in(cable_run_names, r); }

inline constexpr Names conductor_kind_names{
    Name{ConductorKind::plain, "plain"},
    Name{ConductorKind::tinned, "tinned"},
};
[[nodiscard]] constexpr std::string_view name_of(ConductorKind k) { return name_in(conductor_kind_names, k); }

inline constexpr Names laying_names{
    Name{Laying::free_air, "free-air"},
    Name{Laying::surface, "surface"},
    Name{Laying::bundled, "bundled"},
};
[[nodiscard]] constexpr std::string_view name_of(Laying l) { return name_in(laying_names, l); }

}  // namespace plait
