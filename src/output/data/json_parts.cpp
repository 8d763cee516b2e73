#include "json_parts.hpp"

#include "render/style.hpp"
#include "report/hot_spot_words.hpp"
#include "report/parts_of_reports.hpp"
#include "report/verdict_words.hpp"

#include <plait/search/arrangement.hpp>
#include <plait/study/judgement.hpp>

#include <cmath>

namespace plait::output {

Json head(const char* command) {
    Json j;
    j["schema"] = "plait-report";
    j["schema_version"] = schema_version;
    j["command"] = command;
    j["deferral"] = deferral;
    return j;
}

Json answers_json(const study::Answers& v) {
    return {{"verdict", name_of(v)},
            {"proven", v.proven()},
            {"connection", study::name_of(v.connection)},
            {"connection_proven", v.connection_proven},
            {"intake", study::name_of(v.intake)},
            {"intake_proven", v.intake_proven}};
}

Json conditions_json(const Setup& setup, const std::vector<rules::Condition>& conditions) {
    Json list = Json::array();
    for (const rules::Condition& c : conditions) {
        list.push_back({{"kind", rules::name_of(c.kind)},
                        {"text", words_of(c, setup)},
                        {"input", c.input ? Json(setup.controller.inputs[*c.input].name) : Json(nullptr)},
                        {"count", c.count > 0 ? Json(c.count) : Json(nullptr)},
                        {"rating_a", maybe(c.rating_a)},
                        {"ratings_a", c.ratings_a},
                        {"panel", c.panel_kind ? Json(setup.kinds[*c.panel_kind].id) : Json(nullptr)}});
    }
    return list;
}

Json input_verdict_json(const Setup& setup, const study::Verdict& v) {
    Json j = answers_json(v);
    j["headline"] = headline_of(setup, v);
    j["conditions"] = conditions_json(setup, v.conditions);
    j["clipped_ratio"] = number(v.clipped_ratio);
    return j;
}

Json verdict_json(const Setup& setup, const study::Verdict& v) {
    Json j = input_verdict_json(setup, v);
    j["could_exceed"] = v.could_exceed;
    return j;
}

Json verdict_json(const Setup& setup, const study::Judgement& judgement) {
    Json j;
    j["wiring"] = plan_words(setup, judgement);
    j.update(verdict_json(setup, judgement.verdict));
    return j;
}

Json power_point(const physics::PowerPoint& p) {
    return {{"voltage_v", number(p.voltage_v)}, {"current_a", number(p.current_a)}, {"power_w", number(p.power_w())}};
}

Json assumptions_json(const std::vector<Assumption>& assumptions) {
    Json list = Json::array();
    for (const Assumption& a : assumptions) {
        list.push_back({{"subject", a.subject}, {"what", a.what}, {"value", a.value}, {"why", a.why}});
    }
    return list;
}

Json account_json(const study::HarvestAccount& a) {
    return {{"on_hand_w", number(a.on_hand_w)}, {"unused_w", number(a.unused_w)}, {"mismatch_w", number(a.mismatch_w)},
            {"cables_w", number(a.cables_w)},   {"inputs_w", number(a.inputs_w)}, {"shared_w", number(a.shared_w)},
            {"harvest_w", number(a.harvest_w)}};
}

Json harvest_json(const study::Harvest& h) {
    return {{"european_w", number(h.european_w)}, {"cec_w", number(h.cec_w)}};
}

Json operation_json(const physics::OperatingPoint& op) {
    return {{"held", op.held()},
            {"why_not", op.held() ? Json(nullptr) : Json(name_of(op.none))},
            {"voltage_v", op.held() ? number(op.point.voltage_v) : Json(nullptr)},
            {"current_a", op.held() ? number(op.point.current_a) : Json(nullptr)},
            {"power_w", number(op.point.power_w())},
            {"binding", name_of(op.binding)},
            {"binding_limit", op.binding == physics::Binding::nothing ? Json(nullptr) : number(op.binding_limit)},
            {"low_side_of_power_limit", op.low_side_of_power_limit},
            {"lost_w", number(op.lost_w())}};
}

Json cautions_json(const std::vector<study::Caution>& cautions) {
    Json list = Json::array();
    for (const study::Caution& c : cautions) list.push_back({{"id", c.id}, {"text", c.text}, {"source", c.source}});
    return list;
}

Json hot_spots_json(const Setup& setup, const std::vector<study::HotSpot>& spots) {
    Json list = Json::array();
    for (const study::HotSpot& s : spots) {
        list.push_back({{"input", setup.controller.inputs[s.input].name},
                        {"string", s.string + 1},
                        {"panel", s.panel + 1},
                        {"group", s.group + 1},
                        {"cells", s.cells.cells_count},
                        {"cell_v", number(s.cells.cell_v)},
                        {"cell_w", number(s.cells.cell_w)},
                        {"most_cell_w", maybe(s.cells.most_cell_w)},
                        {"array_v", number(s.array_v)},
                        {"condition", s.weather ? Json(rules::name_of(*s.weather)) : Json(nullptr)},
                        {"sentence", hot_spot_sentence(setup, s)}});
    }
    return list;
}

Json site_json(const Site& s) {
    return {{"coldest_air_degc", s.coldest_air.degc},
            {"coldest_basis", plait::name_of(s.coldest_basis)},
            {"hottest_air_degc", s.hottest_air.degc},
            {"hottest_basis", plait::name_of(s.hottest_basis)},
            {"warm_air_degc", s.warm_air.degc},
            {"mounting", plait::name_of(s.mounting)},
            {"peak_irradiance_w_per_m2", s.peak_irradiance_w_per_m2},
            {"cold_method", plait::name_of(s.cold_method)},
            {"flat_factor", s.flat_factor_ratio},
            {"code", plait::name_of(s.code)}};
}

Json searched_json(const search::Searched& s) {
    return {{"complete", s.possible && s.finished},
            {"simplest_complete", s.possible && s.simplest_finished},
            {"proof", !s.possible  ? "none"
                      : s.at_label ? "nothing-lost"
                      : s.finished ? "search"
                                   : "bound"},
            {"wirings", s.possible && s.count > 0.0 ? number(s.count) : Json(nullptr)},
            {"solved", s.solved},
            {"bound_w", number(s.bound_w)}};
}

std::string printed(const Json& j) {
    return j.text(2) + "\n";
}

}  // namespace plait::output
