// What the picture of an input's window shows: volts across, amps up. Where the input takes something, the line never
// to cross, and each wiring's way through it.
#pragma once

#include <plait/study/system_model.hpp>
#include <plait/study/verdict.hpp>

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace plait::study {

/// One wiring on the map.
struct MapTrack {
    InputWiring wiring;
    Answers verdict;  ///< of the plan that it is part of
    std::string name = {};  ///< what it is called where there are several; may be empty
    std::vector<physics::PowerPoint>
        path;  ///< where the input holds it: weak light to full sun on a warm day, then bright heat
    std::vector<physics::PowerPoint> curve;  ///< its I-V curve in full sun on a warm day
    physics::PowerPoint cold_point;          ///< on the coldest bright morning; zero when not held
    double cold_voc_v = 0.0;                 ///< by the site's cold method
};

/// Part of the region where the input takes something: its upper edge, by rising voltage.
using MapRegion = std::vector<physics::PowerPoint>;

struct WindowMap {
    std::size_t input = 0;
    std::optional<double> max_voltage_v;  ///< absent: nobody knows it
    double low_v = 0.0;  ///< of the window
    double high_v = 0.0;
    std::vector<MapRegion> regions;  ///< one for each current band
    bool current_is_limited = true;  ///< false: the maker states no limit, the regions are cut at the picture's top
    double top_v = 0.0;              ///< of the picture
    double top_a = 0.0;
    std::vector<MapTrack> tracks;
};

/// A wiring to put on the map, with its verdict.
struct MapEntry {
    InputWiring wiring;
    Answers verdict;  ///< of the plan that it is part of
    std::string name = {};  ///< what it is called where there are several; may be empty
};

/// The map of one input with these wirings, none of them empty.
[[nodiscard]] WindowMap window_map(const SystemModel& system, std::size_t input, const std::vector<MapEntry>& entries);

}  // namespace plait::study
