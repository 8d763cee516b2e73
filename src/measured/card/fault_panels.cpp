// Something is the matter with one panel of a string. IEC 62446-1 practice names the first three [from memory]: a
// missing panel takes 1/Ns of the voltage, a reversed one 2/Ns, a bypass diode that conducts for good about a third of
// one panel. Here their readings come from the curves.
#include "faults.hpp"

#include <algorithm>

namespace plait::measured {
namespace {

std::size_t group_count(const FaultScene& scene, const FieldPanel& panel) {
    return static_cast<std::size_t>(std::max(1, scene.setup.kinds[panel.place.kind].panel.bypass_diodes));
}

/// Calls visit(input, string, panel) for one panel of each sort in every string: which of equal ones is at fault no
/// meter can tell.
template <class Visit>
void for_each_sort(const FaultScene& scene, Visit visit) {
    for (const StringPlace& at : scene.strings) {
        const std::vector<FieldPanel>& panels = scene.planned.inputs[at.input][at.string].panels;
        for (std::size_t p = 0; p < panels.size(); ++p) {
            if (std::find(panels.begin(), panels.begin() + static_cast<std::ptrdiff_t>(p), panels[p]) ==
                panels.begin() + static_cast<std::ptrdiff_t>(p)) {
                visit(at.input, at.string, p);
            }
        }
    }
}

FaultPlace place_of(const FaultScene& scene, std::size_t input, std::size_t string, std::size_t panel) {
    FaultPlace place;
    place.input = input;
    place.string = string;
    place.kind = scene.planned.inputs[input][string].panels[panel].place.kind;
    return place;
}

void suspect_missing(const FaultScene& scene, Suspicions& out) {
    for_each_sort(scene, [&](std::size_t i, std::size_t s, std::size_t p) {
        if (scene.planned.inputs[i][s].panels.size() < 2) return;  // without its only panel the string is open
        out.push_back(certain(scene, place_of(scene, i, s, p), [=](FieldState& state) {
            std::vector<FieldPanel>& panels = state.inputs[i][s].panels;
            panels.erase(panels.begin() + static_cast<std::ptrdiff_t>(p));
        }));
    });
}

void suspect_reversed(const FaultScene& scene, Suspicions& out) {
    for_each_sort(scene, [&](std::size_t i, std::size_t s, std::size_t p) {
        if (scene.planned.inputs[i][s].panels.size() < 2) return;  // the whole string is reversed
        out.push_back(certain(scene, place_of(scene, i, s, p),
                              [=](FieldState& state) { state.inputs[i][s].panels[p].backward = true; }));
    });
}

void suspect_bypassed(const FaultScene& scene, Suspicions& out) {
    for_each_sort(scene, [&](std::size_t i, std::size_t s, std::size_t p) {
        const std::vector<FieldPanel>& panels = scene.planned.inputs[i][s].panels;
        const int diodes = scene.setup.kinds[panels[p].place.kind].panel.bypass_diodes;
        // Across the only panel's only diode nothing is left to measure: that reads as a string without contact.
        if (diodes < 1 || (diodes == 1 && panels.size() < 2)) return;
        out.push_back(certain(scene, place_of(scene, i, s, p),
                              [=](FieldState& state) { state.inputs[i][s].panels[p].shorted_groups = 1; }));
    });
}

void suspect_elsewhere(const FaultScene& scene, Suspicions& out) {
    for_each_sort(scene, [&](std::size_t i, std::size_t s, std::size_t p) {
        if (scene.planned.inputs[i][s].panels.size() < 2) return;
        for (const StringPlace& to : scene.strings) {
            const std::size_t to_input = to.input;
            const std::size_t to_string = to.string;
            if (to_input == i && to_string == s) continue;
            FaultPlace place = place_of(scene, i, s, p);
            place.other_input = to_input;
            place.other_string = to_string;
            out.push_back(certain(scene, place, [=](FieldState& state) {
                std::vector<FieldPanel>& panels = state.inputs[i][s].panels;
                state.inputs[to_input][to_string].panels.push_back(panels[p]);
                panels.erase(panels.begin() + static_cast<std::ptrdiff_t>(p));
            }));
        }
    });
}

// One panel of another kind, or all of a kind in a string.
void suspect_other_kind(const FaultScene& scene, Suspicions& out) {
    for_each_sort(scene, [&](std::size_t i, std::size_t s, std::size_t p) {
        const std::vector<FieldPanel>& panels = scene.planned.inputs[i][s].panels;
        const std::size_t planned = panels[p].place.kind;
        for (std::size_t kind = 0; kind < scene.setup.kinds.size(); ++kind) {
            if (kind == planned) continue;
            FaultPlace place = place_of(scene, i, s, p);
            place.other_kind = kind;
            out.push_back(certain(scene, place, [=](FieldState& state) {
                state.inputs[i][s].panels[p].place.kind = kind;
                state.inputs[i][s].panels[p].place.groups.clear();
            }));
            if (panels.size() < 2) continue;
            out.push_back(certain(scene, place, [=](FieldState& state) {
                for (FieldPanel& panel : state.inputs[i][s].panels) {
                    if (panel.place.kind != planned) continue;
                    panel.place.kind = kind;
                    panel.place.groups.clear();
                }
            }));
        }
    });
}

// The share of its light that reaches the shaded cells.
const std::vector<double> light_left{0.02, 0.06, 0.12, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.88, 0.95};

void suspect_shade(const FaultScene& scene, Suspicions& out, bool one_group) {
    for_each_sort(scene, [&](std::size_t i, std::size_t s, std::size_t p) {
        const std::size_t groups = group_count(scene, scene.planned.inputs[i][s].panels[p]);
        if (one_group && groups < 2) return;
        Suspicion shade;
        shade.place = place_of(scene, i, s, p);
        shade.amounts = light_left;
        shade.example_factor = 0.5;
        const std::size_t shaded = one_group ? 1 : groups;
        shade.state = [planned = &scene.planned, i, s, p, groups, shaded](double amount) {
            FieldState state = *planned;
            std::vector<GroupState>& states = state.inputs[i][s].panels[p].place.groups;
            states.resize(groups);
            for (std::size_t g = 0; g < shaded; ++g) states[g].light_ratio *= amount;
            return state;
        };
        out.push_back(std::move(shade));
    });
}

void suspect_panel_shade(const FaultScene& scene, Suspicions& out) { suspect_shade(scene, out, false); }
void suspect_group_shade(const FaultScene& scene, Suspicions& out) { suspect_shade(scene, out, true); }

}  // namespace

const Fault panel_missing{
    .id = "panel-missing",
    .title = "one panel missing",
    .meaning =
        "the string has a panel less than planned: its voltage is short by one panel, its current is as it should "
        "be",
    .remedy = "Count the panels from plug to plug and put the one left out into the row.",
    .never_connect = true,
    .weight = 2.0,
    .suspect = &suspect_missing,
};

const Fault panel_reversed{
    .id = "panel-reversed",
    .title = "one panel reversed",
    .meaning = "one panel works against the others: the voltage is short by two panels",
    .remedy = "Follow the row plug by plug: each + goes to the next panel's −. Turn the wrong one round.",
    .never_connect = true,
    .weight = 2.0,
    .suspect = &suspect_reversed,
};

const Fault group_bypassed{
    .id = "group-bypassed",
    .title = "one bypass diode shorted",
    .meaning = "the cells across a shorted bypass diode give nothing: the voltage is short by a part of one panel",
    .remedy = "Measure the string's panels one by one; replace the panel, or the diode if its box can be opened.",
    .weight = 2.0,
    .suspect = &suspect_bypassed,
};

const Fault panel_shaded{
    .id = "panel-shaded",
    .title = "one panel shaded",
    .meaning =
        "the open voltage hardly falls; working voltage or current do. The short-circuit current falls only where "
        "no bypass diode leads round the panel, or where it is alone",
    .remedy = "Look along the row for shade, leaves, dirt or another tilt, and measure again.",
    .amount = AmountKind::light_left,
    .weight = 3.0,
    .suspect = &suspect_panel_shade,
};

const Fault group_shaded{
    .id = "group-shaded",
    .title = "panel partly shaded",
    .meaning = "open voltage and short-circuit current hardly change; working voltage and power do",
    .remedy = "Look for a mast, a branch or dirt across a few cells, and measure again.",
    .amount = AmountKind::light_left,
    .weight = 2.0,
    .suspect = &suspect_group_shade,
};

const Fault panel_in_other_string{
    .id = "panel-in-other-string",
    .title = "a panel in the wrong string",
    .meaning = "one string is a panel short, another has one too many",
    .remedy = "Count the panels of both strings from plug to plug, and move the one.",
    .never_connect = true,
    .weight = 1.0,
    .suspect = &suspect_elsewhere,
};

const Fault panel_of_other_kind{
    .id = "panel-of-other-kind",
    .title = "another kind of panel",
    .meaning = "one panel of the string, or all of them, are of another kind of the set-up than planned",
    .remedy = "Read the labels on the backs of the panels, and put each kind where the plan has it.",
    .never_connect = true,
    .weight = 1.0,
    .suspect = &suspect_other_kind,
};

}  // namespace plait::measured
