#include "report/curve_doubts.hpp"
#include "report/curve_words.hpp"
#include "json_parts.hpp"
#include "render/style.hpp"

#include <plait/study/curve_sheet.hpp>
#include <plait/study/judgement.hpp>

namespace plait::output {
namespace {

Json extreme_json(const physics::PowerExtreme& e, const physics::AcceptanceWindow& window) {
    Json j = power_point(e.point);
    j["kind"] = e.maximum ? "maximum" : "minimum";
    j["at_end"] = e.at_end;
    j["allowed"] = study::allows(window, e.point);
    return j;
}

Json window_json(const physics::AcceptanceWindow& window, std::optional<double> pinned_v) {
    Json bands = Json::array();
    for (const CurrentBand& b : window.bands) {
        bands.push_back({{"from_v", number(b.from_v)}, {"to_v", number(b.to_v)}, {"limit_a", number(b.limit_a)}});
    }
    return {{"low_v", number(window.low_v)},
            {"high_v", number(window.high_v)},
            {"power_w", number(window.power_w)},
            {"bands", bands},
            {"pinned_v", maybe(pinned_v)}};
}

Json group_json(const physics::GroupReading& g, const GroupState& state, Celsius cell) {
    return {{"light_ratio", number(state.light_ratio)},
            {"cell_degc", number(cell.degc + state.warmer_k)},
            {"voltage_v", number(g.voltage_v)},
            {"bypass_a", number(g.bypass_a)},
            {"bypassed", g.bypassed},
            {"shaded_cells", state.part_shaded() ? state.shaded_cells : 0},
            {"shaded_light_ratio", number(state.darkest_light_ratio())},
            {"shaded_cell_v", g.shaded ? number(g.shaded->cell_v) : Json(nullptr)},
            {"shaded_cell_w", g.shaded ? number(g.shaded->cell_w) : Json(nullptr)}};
}

Json shares_json(const Setup& setup, const study::InputCurve& c, const study::Shares& shares) {
    Json strings = Json::array();
    for (std::size_t s = 0; s < shares.reading.strings.size(); ++s) {
        const physics::StringReading& reading = shares.reading.strings[s];
        Json panels = Json::array();
        for (std::size_t p = 0; p < reading.panels.size(); ++p) {
            const PanelPlace& place = c.wiring.strings[s].panels[p];
            const physics::PanelShare& share = shares.mismatch.panels[s][p];
            Json groups = Json::array();
            for (std::size_t g = 0; g < reading.panels[p].groups.size(); ++g) {
                const GroupState state = g < place.groups.size() ? place.groups[g] : GroupState{};
                groups.push_back(group_json(reading.panels[p].groups[g], state, c.by_kind[place.kind].cell));
            }
            panels.push_back({{"panel", setup.kinds[place.kind].id},
                              {"voltage_v", number(reading.panels[p].voltage_v)},
                              {"own_maximum_w", number(share.own_maximum_w)},
                              {"delivered_w", number(share.delivered_w)},
                              {"lost_w", number(share.lost_w())},
                              {"groups", groups}});
        }
        strings.push_back(
            {{"current_a", number(reading.current_a)}, {"blocking_v", number(reading.blocking_v)}, {"panels", panels}});
    }
    return {{"point", power_point(shares.reading.point)},
            {"own_w", number(shares.mismatch.own_w)},
            {"blocking_w", number(shares.mismatch.blocking_w)},
            {"lost_w", number(shares.mismatch.lost_w())},
            {"strings", strings}};
}

Json first_stop_json(const study::InputCurve& c) {
    if (!c.first_stop) return nullptr;
    const study::FirstStop& stop = *c.first_stop;
    Json j = power_point(stop.point);
    j["binding"] = name_of(stop.binding);
    j["binding_limit"] = stop.binding == physics::Binding::nothing ? Json(nullptr) : number(stop.binding_limit);
    j["lost_w"] = number(c.first_stop_lost_w());
    j["sentence"] = first_stop_sentence(c);
    return j;
}

Json points_json(const study::InputCurve& c) {
    Json points = Json::array();
    for (const study::CurvePoint& p : c.points) {
        Json point = power_point(p.point);
        point["string_a"] = Json::array();
        for (const double a : p.string_a) point["string_a"].push_back(number(a));
        point["marks"] = Json::array();
        for (const study::Mark m : p.marks) point["marks"].push_back(name_of(m));
        points.push_back(std::move(point));
    }
    return points;
}

Json input_json(const study::SystemModel& system, const study::InputCurve& c) {
    const Setup& setup = system.setup();
    const Input& input = setup.controller.inputs[c.input];
    const physics::AcceptanceWindow& window = system.window(c.input);
    Json j;
    j["name"] = input.name;
    j["wiring"] = label(c.wiring, kind_ids(setup));
    j["strings"] = c.wiring.strings.size();
    j["panels"] = c.wiring.panel_count();
    j["cells"] = Json::array();
    for (std::size_t kind = 0; kind < setup.kinds.size(); ++kind) {
        if (c.wiring.panel_count(kind) == 0) continue;
        j["cells"].push_back({{"panel", setup.kinds[kind].id}, {"cell_degc", number(c.by_kind[kind].cell.degc)}});
    }
    j["open_circuit_v"] = number(c.open_circuit_v);
    j["short_circuit_a"] = number(c.short_circuit_a);
    j["max_voltage_v"] = maybe(input.max_voltage_v);
    j["above_max_voltage"] = input.max_voltage_v ? Json(c.open_circuit_v > *input.max_voltage_v) : Json(nullptr);
    j["window"] = window_json(window, physics::pinned_voltage_v(setup.controller));
    j["best"] = power_point(c.extremes.best().point);
    j["extremes"] = Json::array();
    for (const physics::PowerExtreme& e : c.extremes.points) j["extremes"].push_back(extreme_json(e, window));
    j["window_extremes"] = Json::array();
    for (const physics::PowerExtreme& e : c.in_window) j["window_extremes"].push_back(extreme_json(e, window));
    j["operation"] = operation_json(c.operating);
    j["first_stop"] = first_stop_json(c);
    j["at_best"] = shares_json(setup, c, c.at_best);
    j["in_operation"] = c.in_operation ? shares_json(setup, c, *c.in_operation) : Json(nullptr);
    j["open_circuit_string_a"] = Json::array();
    for (const double a : c.open_circuit_string_a) j["open_circuit_string_a"].push_back(number(a));
    j["points"] = points_json(c);
    return j;
}

}  // namespace

std::string curve_json(const study::SystemModel& system, const study::CurveSheet& sheet,
                       const study::Judgement& judged) {
    const Setup& setup = system.setup();
    const study::Weather& w = sheet.weather;
    Json j = head("curve");
    j["title"] = setup.title;
    j.update(verdict_json(setup, judged));
    j["condition"] = {{"id", w.id ? Json(rules::name_of(*w.id)) : Json(nullptr)},
                      {"irradiance_w_per_m2", number(sheet.inputs.front().by_kind.front().irradiance_w_per_m2)},
                      {"air_degc", w.air ? number(w.air->degc) : Json(nullptr)}};
    j["inputs"] = Json::array();
    for (const study::InputCurve& c : sheet.inputs) j["inputs"].push_back(input_json(system, c));
    j["hot_spots"] = hot_spots_json(setup, study::hot_spots(sheet));
    j["assumptions"] = assumptions_json(study::all_assumptions(system));
    j["doubts"] = all_doubts(setup, study::curves_of(system));
    return printed(j);
}

}  // namespace plait::output
