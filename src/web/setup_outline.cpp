#include "setup_outline.hpp"

#include <plait/model/panel.hpp>
#include <plait/output/answer.hpp>
#include <plait/output/json_value.hpp>
#include <plait/study/impossible_figure.hpp>
#include <plait/study/judgement.hpp>
#include <plait/study/look_up.hpp>
#include <plait/study/window_map.hpp>

#include <algorithm>

namespace plait::web {
namespace {

using output::Json;
using output::number;

Json points(const std::vector<physics::PowerPoint>& path) {
    Json out = Json::array();
    for (const physics::PowerPoint& p : path) out.push_back({number(p.voltage_v), number(p.current_a)});
    return out;
}

Json complaints(const Diagnostics& all) {
    Json out = Json::array();
    for (const Diagnostic& d : all) {
        out.push_back({{"file", d.file}, {"line", d.line}, {"column", d.column}, {"message", d.message}});
    }
    return {{"complaints", std::move(out)}};
}

Json kind_of(const PanelKind& kind) {
    const Panel& p = kind.panel;
    return {{"id", kind.id},
            {"name", p.name},
            {"count", kind.count},
            {"technology", name_of(p.technology).key},
            {"cells_in_series", p.cells_in_series},
            {"bypass_groups", p.bypass_groups()},
            {"group_cells", p.cells_of_a_group()},
            {"pmax_w", number(p.pmax_w)},
            {"voc_v", number(p.voc_v)},
            {"isc_a", number(p.isc_a)}};
}

Json input_of(const Input& input) {
    return {{"name", input.name},
            {"max_voltage_v", number(input.max_voltage_v)},
            {"tracking_min_v", number(input.tracking_min_v)},
            {"tracking_max_v", number(input.tracking_max_v)},
            {"start_voltage_v", number(input.start_voltage_v)},
            {"bands", input.bands.size()},
            {"max_current_a", input.bands.empty() ? Json(nullptr) : number(input.bands.front().limit_a)},
            {"max_power_w", number(input.max_power_w)}};
}

// One number, or the cells of the group that get less light than its others, as a set-up writes both.
Json light_of(const GroupState& group) {
    if (!group.part_shaded()) return number(group.light_ratio);
    return {{"cells", group.shaded_cells},
            {"light", number(group.darkest_light_ratio())},
            {"others", number(group.light_ratio)}};
}

// Light of each bypass group of each panel, so that shade can be painted and kept.
Json strings_of(const InputWiring& wiring, const Setup& setup) {
    Json strings = Json::array();
    for (const SeriesString& s : wiring.strings) {
        Json panels = Json::array();
        for (const PanelPlace& place : s.panels) {
            Json light = Json::array();
            Json warmer = Json::array();
            for (const GroupState& group : place.groups) {
                light.push_back(light_of(group));
                warmer.push_back(number(group.warmer_k));
            }
            Json panel{{"kind", setup.kinds[place.kind].id}, {"light", std::move(light)}, {"warmer", std::move(warmer)}};
            panel["plane"] = place.plane ? Json(setup.planes[*place.plane].name) : Json(nullptr);
            panels.push_back(std::move(panel));
        }
        strings.push_back({{"panels", std::move(panels)}, {"blocking_diode", s.blocking_diode}, {"fuse_a", number(s.fuse_a)}});
    }
    return strings;
}

Json map_of(const study::WindowMap& map) {
    Json out{{"max_voltage_v", number(map.max_voltage_v)},
             {"low_v", number(map.low_v)},
             {"high_v", number(map.high_v)},
             {"top_v", number(map.top_v)},
             {"top_a", number(map.top_a)},
             {"current_is_limited", map.current_is_limited}};
    out["regions"] = Json::array();
    for (const study::MapRegion& region : map.regions) out["regions"].push_back(points(region));
    out["track"] = nullptr;
    if (!map.tracks.empty()) {
        const study::MapTrack& t = map.tracks.front();
        out["track"] = {{"path", points(t.path)},
                        {"curve", points(t.curve)},
                        {"cold_point", {number(t.cold_point.voltage_v), number(t.cold_point.current_a)}},
                        {"cold_voc_v", number(t.cold_voc_v)}};
    }
    return out;
}

// Null without a wiring, and where a figure came out that cannot be: `check` has the words for both.
Json answer_of(const study::SystemModel& system, const Setup& setup) {
    if (!setup.wiring) return nullptr;
    const ArrayPlan& plan = *setup.wiring;
    if (std::all_of(plan.begin(), plan.end(), [](const InputWiring& w) { return w.empty(); })) return nullptr;
    const study::LookedUp looked_up = study::judge_and_look_up(system, plan);
    if (study::impossible_figure(system, looked_up.judgement)) return nullptr;
    return output::answer(setup, looked_up.judgement, looked_up.look_ups);
}

Json outline_of(const Setup& setup) {
    const study::SystemModel system(setup);
    Json s;
    Json maps = Json::array();
    s["title"] = setup.title;
    s["controller"] = {{"name", setup.controller.name}, {"type", name_of(setup.controller.type)}};
    s["kinds"] = Json::array();
    for (const PanelKind& kind : setup.kinds) s["kinds"].push_back(kind_of(kind));
    s["inputs"] = Json::array();
    for (const Input& input : setup.controller.inputs) s["inputs"].push_back(input_of(input));
    s["site"] = {{"coldest_air_degc", number(setup.site.coldest_air.degc)},
                 {"hottest_air_degc", number(setup.site.hottest_air.degc)},
                 {"warm_air_degc", number(setup.site.warm_air.degc)},
                 {"peak_irradiance_w_per_m2", number(setup.site.peak_irradiance_w_per_m2)},
                 {"mounting", name_of(setup.site.mounting)}};
    s["has_location"] = setup.location.has_value();
    s["has_storage"] = setup.storage.has_value();
    s["has_wiring"] = setup.wiring.has_value();
    s["wiring"] = Json::array();
    for (std::size_t i = 0; i < setup.controller.inputs.size(); ++i) {
        const InputWiring wiring = setup.wiring ? (*setup.wiring)[i] : InputWiring{};
        s["wiring"].push_back(strings_of(wiring, setup));
        std::vector<study::MapEntry> entries;
        if (!wiring.empty()) entries.push_back({wiring, {}});
        maps.push_back(map_of(study::window_map(system, i, entries)));
    }
    return {{"setup", std::move(s)}, {"maps", std::move(maps)}, {"answer", answer_of(system, setup)}};
}

}  // namespace

std::string setup_outline(const std::string& file, const input::ReadFile& read_file) {
    const auto written = [](const Json& json) { return json.text(-1); };
    const Result<std::string, std::string> text = read_file(file);
    if (!text) return written(complaints({{file, 0, 0, Complaint::unreadable, text.error()}}));
    const Result<Setup> setup = input::read_setup(*text, file, read_file);
    return written(setup ? outline_of(*setup) : complaints(setup.error()));
}

}  // namespace plait::web
