// The faults, one file a family. Private to the study layer.
#pragma once

#include <plait/measured/fault.hpp>

namespace plait::measured {

// fault_panels.cpp: one panel of a string
extern const Fault panel_missing;
extern const Fault panel_reversed;
extern const Fault group_bypassed;
extern const Fault panel_shaded;
extern const Fault group_shaded;
extern const Fault panel_in_other_string;
extern const Fault panel_of_other_kind;

// fault_strings.cpp: a whole string
extern const Fault string_reversed;
extern const Fault string_open;
extern const Fault strings_swapped;
extern const Fault string_at_other_input;
extern const Fault strings_short;
extern const Fault strings_long;

// fault_figures.cpp: the array is as planned, a figure is not
extern const Fault light_differs;
extern const Fault coefficient_differs;
extern const Fault meter_range;

/// The planned array with one change, made when it is asked for.
template <class Change>
[[nodiscard]] Suspicion certain(const FaultScene& scene, FaultPlace place, Change change) {
    Suspicion s;
    s.place = place;
    s.state = [planned = &scene.planned, change](double) {
        FieldState state = *planned;
        change(state);
        return state;
    };
    return s;
}

}  // namespace plait::measured
