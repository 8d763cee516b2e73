// Something is the matter with a string as a whole.
#include "faults.hpp"

#include <algorithm>
#include <utility>

namespace plait::measured {
namespace {

FaultPlace place_of(const StringPlace& at) {
    FaultPlace place;
    place.input = at.input;
    place.string = at.string;
    return place;
}

void suspect_reversed(const FaultScene& scene, Suspicions& out) {
    for (const StringPlace& at : scene.strings) {
        out.push_back(certain(scene, place_of(at),
                              [at](FieldState& state) { state.inputs[at.input][at.string].backward = true; }));
    }
}

void suspect_open(const FaultScene& scene, Suspicions& out) {
    for (const StringPlace& at : scene.strings) {
        out.push_back(
            certain(scene, place_of(at), [at](FieldState& state) { state.inputs[at.input][at.string].open = true; }));
    }
}

// Two unlike strings of two inputs, each where the other belongs. What is measured as "string 1" is what hangs there.
void suspect_swapped(const FaultScene& scene, Suspicions& out) {
    for (const StringPlace& at : scene.strings) {
        for (const StringPlace& other : scene.strings) {
            if (other.input <= at.input) continue;
            const auto& inputs = scene.planned.inputs;
            if (inputs[at.input][at.string] == inputs[other.input][other.string]) continue;
            FaultPlace place = place_of(at);
            place.other_input = other.input;
            place.other_string = other.string;
            out.push_back(certain(scene, place, [at, other](FieldState& state) {
                std::swap(state.inputs[at.input][at.string], state.inputs[other.input][other.string]);
            }));
        }
    }
}

// A string that is right in itself and ends at another input's joint.
void suspect_other_input(const FaultScene& scene, Suspicions& out) {
    for (const StringPlace& at : scene.strings) {
        for (std::size_t other = 0; other < scene.planned.inputs.size(); ++other) {
            if (other == at.input) continue;
            FaultPlace place = place_of(at);
            place.other_input = other;
            out.push_back(certain(
                scene, place, [at, other](FieldState& state) { state.inputs[at.input][at.string].joined_at = other; }));
        }
    }
}

// The same slip in every string of an input: a plan that was read wrong. Its strings agree, so that they say nothing
// against each other. Which kind is left out or put in more does not show where a string is of one kind.
void suspect_all_strings(const FaultScene& scene, Suspicions& out, bool more) {
    for (std::size_t i = 0; i < scene.planned.inputs.size(); ++i) {
        const std::vector<FieldString>& strings = scene.planned.inputs[i];
        const bool too_short =
            std::any_of(strings.begin(), strings.end(), [](const FieldString& s) { return s.panels.size() < 2; });
        if (strings.empty() || (!more && too_short)) continue;
        if (std::any_of(strings.begin(), strings.end(), [](const FieldString& s) { return s.panels.empty(); })) continue;
        FaultPlace place;
        place.input = i;
        out.push_back(certain(scene, place, [i, more](FieldState& state) {
            for (FieldString& s : state.inputs[i]) {
                if (more) {
                    s.panels.push_back(s.panels.back());
                } else {
                    s.panels.pop_back();
                }
            }
        }));
    }
}

void suspect_short(const FaultScene& scene, Suspicions& out) { suspect_all_strings(scene, out, false); }
void suspect_long(const FaultScene& scene, Suspicions& out) { suspect_all_strings(scene, out, true); }

}  // namespace

const Fault string_reversed{
    .id = "string-reversed",
    .title = "the string's + and − swapped",
    .meaning = "the meter shows a minus with the red lead on the string's +",
    .remedy = "Check that the red lead is in the meter's V socket; if so, swap the string's two ends or their labels.",
    .never_connect = true,
    .weight = 2.0,
    .suspect = &suspect_reversed,
};

const Fault string_open{
    .id = "string-open",
    .title = "the string makes no contact",
    .meaning = "no voltage and no current from this string",
    .remedy = "Push every plug of the row until it clicks; measure from the + end panel by panel to find the break.",
    .weight = 2.0,
    .suspect = &suspect_open,
};

const Fault strings_swapped{
    .id = "strings-swapped",
    .title = "two strings exchanged",
    .meaning = "each of two inputs has the string meant for the other",
    .remedy = "Follow both cables from the panels to the labels, and swap them.",
    .never_connect = true,
    .weight = 1.0,
    .suspect = &suspect_swapped,
};

const Fault string_at_other_input{
    .id = "string-at-other-input",
    .title = "string on the wrong input",
    .meaning = "one input has a string too few, the other one too many",
    .remedy = "Follow the string's cable to its joint, and move it to its own input.",
    .never_connect = true,
    .weight = 1.0,
    .suspect = &suspect_other_input,
};

const Fault strings_short{
    .id = "strings-short",
    .title = "a panel less in every string",
    .meaning = "all strings agree, and all are short by one panel's voltage",
    .remedy = "Count the panels of one string from plug to plug, and put the one left out into each of them.",
    .never_connect = true,
    .weight = 1.0,
    .suspect = &suspect_short,
};

const Fault strings_long{
    .id = "strings-long",
    .title = "a panel more in every string",
    .meaning = "all strings agree, and all have one panel's voltage too much",
    .remedy = "Count the panels of one string from plug to plug, and take the one too many out of each of them.",
    .never_connect = true,
    .weight = 1.0,
    .suspect = &suspect_long,
};

}  // namespace plait::measured
