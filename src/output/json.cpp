#include <plait/output/json.hpp>

#include <plait/rules/cold_methods.hpp>

#include "fit_words.hpp"
#include "style.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>

namespace plait::output {
namespace {

using Json = nlohmann::ordered_json;

// JSON has no infinity and no NaN; what is not a number is null, on purpose and not by a library's leave.
Json number(double value) { return std::isfinite(value) ? Json(value) : Json(nullptr); }
template <class T>
Json maybe(const std::optional<T>& value) {
    return value ? Json(*value) : Json(nullptr);
}

Json head(const char* command) {
    Json j;
    j["schema"] = "plait-report";
    j["schema_version"] = schema_version;
    j["command"] = command;
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

Json cautions_json(const std::vector<study::Caution>& cautions) {
    Json list = Json::array();
    for (const study::Caution& c : cautions) list.push_back({{"id", c.id}, {"text", c.text}, {"source", c.source}});
    return list;
}

Json verdict_json(const study::RuleVerdict& v) {
    const rules::Finding& f = v.finding;
    Json j;
    j["rule"] = v.rule->id;
    j["title"] = v.rule->title;
    j["test"] = v.test();
    j["decides"] = f.decides;
    j["outcome"] = rules::name_of(f.outcome);
    j["proven"] = v.proven();
    j["value"] = number(f.value);
    j["value_low"] = number(f.spread.lower());
    j["value_high"] = number(f.spread.upper());
    j["sense"] = f.sense == rules::Sense::at_most ? "at-most" : "at-least";
    j["limit"] = number(f.limit);
    j["margin"] = number(f.margin());
    j["unit"] = rules::symbol_of(f.unit);
    j["because"] = v.words.because;
    j["instead"] = v.words.instead;
    j["harm"] = v.rule->harm;
    j["source"] = v.source();
    j["rests_on_assumptions"] = v.assumptions;
    return j;
}

Json verdicts_json(const std::vector<study::RuleVerdict>& verdicts) {
    Json list = Json::array();
    for (const study::RuleVerdict& v : verdicts) list.push_back(verdict_json(v));
    return list;
}

Json point_json(const rules::ConditionPoint& p) {
    const physics::OperatingPoint& op = p.operating;
    Json j;
    j["id"] = rules::name_of(p.id);
    j["title"] = rules::title_of(p.id);
    j["irradiance_w_per_m2"] = number(p.condition.irradiance_w_per_m2);
    j["air_degc"] = p.id == rules::ConditionId::stc ? Json(nullptr) : number(p.air.degc);
    j["cell_degc"] = number(p.condition.cell.degc);
    j["open_circuit_v"] = number(p.open_circuit_v);
    j["short_circuit_a"] = number(p.short_circuit_a);
    j["held"] = op.held();
    j["why_not"] = op.held() ? Json(nullptr) : Json(name_of(op.none));
    j["voltage_v"] = op.held() ? number(op.point.voltage_v) : Json(nullptr);
    j["current_a"] = op.held() ? number(op.point.current_a) : Json(nullptr);
    j["power_w"] = number(op.point.power_w());
    j["binding"] = name_of(op.binding);
    j["binding_limit"] = op.binding == physics::Binding::nothing ? Json(nullptr) : number(op.binding_limit);
    j["low_side_of_power_limit"] = op.low_side_of_power_limit;
    j["free_maximum"] = power_point(op.free_maximum);
    j["lost_w"] = number(op.lost_w());
    j["hand_rule_w"] = number(op.hand_rule_w);
    return j;
}

Json facts_json(const Setup& setup, const study::ArrayFacts& f) {
    Json methods = Json::array();
    for (std::size_t m = 0; m < rules::cold_methods.size(); ++m) {
        methods.push_back({{"method", plait::name_of(rules::cold_methods[m])},
                           {"applies", f.cold_method_applies[m]},
                           {"chosen", rules::cold_methods[m] == setup.site.cold_method},
                           {"voc_v", number(f.cold_voc_v[m])}});
    }
    Json j;
    j["pmax_w"] = number(f.pmax_w);
    j["stc_voc_v"] = number(f.stc_voc_v);
    j["cold_voc"] = methods;
    j["cold_vmp_v"] = number(f.cold_vmp_v);
    j["hot_voc_v"] = number(f.hot_voc_v);
    j["hot_vmp_v"] = number(f.hot_vmp_v);
    j["isc_a"] = number(f.isc_a);
    j["isc_bright_sky_a"] = number(f.bright_isc_a);
    j["isc_continuous_a"] = number(f.continuous_isc_a);
    return j;
}

Json harvest_json(const study::Harvest& h) {
    return {{"european_w", number(h.european_w)}, {"cec_w", number(h.cec_w)}};
}

std::string printed(const Json& j) {
    // Names come from files: bytes that are no UTF-8 were refused by the reader, `replace` is a second line of defence.
    return j.dump(2, ' ', false, nlohmann::json::error_handler_t::replace) + "\n";
}

Json condition_site(const Setup& setup) {
    const Site& s = setup.site;
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

}  // namespace

std::string check_json(const Setup& setup, const study::Judgement& judgement) {
    const std::vector<std::string> ids = kind_ids(setup);
    Json j = head("check");
    j["title"] = setup.title;
    j["verdict"] = rules::name_of(judgement.outcome);
    j["proven"] = judgement.proven;
    j["site"] = condition_site(setup);
    j["inputs"] = Json::array();
    for (const study::InputJudgement& one : judgement.inputs) {
        Json input;
        input["name"] = setup.controller.inputs[one.input].name;
        input["wiring"] = label(one.wiring, ids);
        input["strings"] = one.wiring.strings.size();
        input["panels"] = one.wiring.panel_count();
        input["verdict"] = rules::name_of(one.outcome);
        input["proven"] = one.proven;
        input["array"] = facts_json(setup, one.facts);
        input["rules"] = verdicts_json(one.verdicts);
        Json conditions = Json::array();
        for (const rules::ConditionPoint& p : one.points) conditions.push_back(point_json(p));
        input["conditions"] = conditions;
        input["help"] = {{"coldest_survived_degc",
                          one.help.coldest_survived ? Json(one.help.coldest_survived->degc) : Json(nullptr)},
                         {"longest_string", maybe(one.help.longest_string)},
                         {"shortest_string", maybe(one.help.shortest_string)}};
        Json levels = Json::array();
        for (std::size_t l = 0; l < study::harvest_levels.size(); ++l) {
            levels.push_back(
                {{"irradiance_ratio", study::harvest_levels[l]}, {"power_w", number(one.level_power_w[l])}});
        }
        input["levels"] = levels;
        j["inputs"].push_back(input);
    }
    j["plan_rules"] = verdicts_json(judgement.plan);
    j["harvest"] = harvest_json(judgement.harvest);
    j["free_harvest"] = harvest_json(judgement.free_harvest);
    j["assumptions"] = assumptions_json(judgement.assumptions);
    j["doubts"] = setup.doubts;
    j["cautions"] = cautions_json(judgement.cautions);
    return printed(j);
}

std::string arrange_json(const study::Bench& bench, const study::Arrangement& a, std::size_t top, bool all) {
    const Setup& setup = bench.setup();
    Json j = head("arrange");
    j["title"] = setup.title;
    j["site"] = condition_site(setup);
    j["count"] = a.plans.size();
    j["thinned"] = a.thinned;
    j["plans"] = Json::array();
    const std::size_t shown = all ? a.plans.size() : std::min(top, a.plans.size());
    for (std::size_t i = 0; i < shown; ++i) {
        const study::RankedPlan& p = a.plans[i];
        Json plan;
        plan["rank"] = i + 1;
        plan["verdict"] = rules::name_of(p.outcome);
        plan["proven"] = p.proven;
        plan["inputs"] = Json::array();
        for (const std::size_t c : p.candidates) {
            const study::Candidate& one = a.candidates[c];
            plan["inputs"].push_back({{"name", setup.controller.inputs[one.input].name},
                                      {"panel", setup.kinds[one.equal.kind].id},
                                      {"in_series", one.equal.in_series},
                                      {"in_parallel", one.equal.in_parallel},
                                      {"verdict", rules::name_of(one.outcome)},
                                      {"decided_by", one.worst_rule ? Json(one.worst_rule->id) : Json(nullptr)},
                                      {"cold_voc_v", number(one.cold_voc_v)},
                                      {"cold_margin_v", number(one.cold_margin_v)}});
        }
        plan["panels_used"] = p.panels_used;
        plan["strings"] = p.strings;
        plan["harvest"] = harvest_json(p.harvest);
        plan["lost_ratio"] = number(p.lost_ratio);
        plan["cold_margin_v"] = number(p.cold_margin_v);
        j["plans"].push_back(plan);
    }
    j["assumptions"] = assumptions_json(study::all_assumptions(bench));
    j["doubts"] = setup.doubts;
    return printed(j);
}

std::string panel_json(const study::PanelSheet& sheet, const std::vector<Assumption>& assumptions,
                       const std::vector<std::string>& doubts) {
    const Panel& p = sheet.panel;
    const physics::FittedPanel& fit = sheet.fitted;
    const physics::DiodeModel& m = fit.model;
    Json j = head("panel");
    j["panel"] = {{"name", p.name},
                  {"technology", plait::name_of(p.technology).key},
                  {"cells_in_series", p.cells_in_series},
                  {"half_cut", p.half_cut},
                  {"bypass_diodes", p.bypass_diodes},
                  {"pmax_w", p.pmax_w},
                  {"vmp_v", p.vmp_v},
                  {"imp_a", p.imp_a},
                  {"voc_v", p.voc_v},
                  {"isc_a", p.isc_a},
                  {"isc_coefficient_per_k", p.isc_coefficient_per_k},
                  {"voc_coefficient_per_k", p.voc_coefficient_per_k},
                  {"pmax_coefficient_per_k", p.pmax_coefficient_per_k},
                  {"vmp_coefficient_per_k", p.vmp_coefficient_per_k()},
                  {"nominal_temperature_degc", p.nominal_temperature.degc},
                  {"max_system_voltage_v", p.max_system_voltage_v},
                  {"max_series_fuse_a", p.max_series_fuse_a},
                  {"voc_tolerance_ratio", p.voc_tolerance_ratio},
                  {"isc_tolerance_ratio", p.isc_tolerance_ratio},
                  {"bifaciality_ratio", maybe(p.bifaciality_ratio)},
                  {"fill_factor", number(p.vmp_v * p.imp_a / (p.voc_v * p.isc_a))}};
    j["curve"] = {{"form", name_of(fit.form)},
                  {"ideality", number(fit.ideality)},
                  {"light_current_a", number(m.stc.light_current_a)},
                  {"saturation_current_a", number(m.stc.saturation_current_a)},
                  {"ideality_voltage_v", number(m.stc.ideality_v)},
                  {"series_resistance_ohm", number(m.stc.series_resistance_ohm)},
                  {"shunt_resistance_ohm", number(1.0 / m.stc.shunt_conductance_s)},
                  {"series_resistance_per_k", number(m.series_resistance_per_k)},
                  {"ideality_per_k", number(m.ideality_per_k)},
                  {"shunt_light_power", number(m.shunt_light_power)},
                  {"saturation_light_power", number(m.saturation_light_power)}};
    j["residuals"] = {{"isc_ratio", number(fit.residuals.isc_ratio)},
                      {"voc_ratio", number(fit.residuals.voc_ratio)},
                      {"vmp_ratio", number(fit.residuals.vmp_ratio)},
                      {"imp_ratio", number(fit.residuals.imp_ratio)},
                      {"pmax_ratio", number(fit.residuals.pmax_ratio)},
                      {"voc_coefficient_per_k", number(fit.voc_coefficient_residual_per_k)},
                      {"pmax_coefficient_per_k", number(fit.pmax_coefficient_residual_per_k)},
                      {"pmax_coefficient", word_of(fit.pmax_coefficient)},
                      {"weak_light", word_of(fit.weak_light)},
                      {"weak_light_ratio", number(fit.weak_light_ratio)},
                      {"weak_light_stated", fit.weak_light_stated}};
    j["temperatures"] = Json::array();
    for (const study::TemperatureRow& r : sheet.temperatures) {
        j["temperatures"].push_back({{"cell_degc", r.cell.degc},
                                     {"line_voc_v", number(r.line_voc_v)},
                                     {"line_vmp_v", number(r.line_vmp_v)},
                                     {"curve_voc_v", number(r.curve_voc_v)},
                                     {"curve_maximum", power_point(r.curve_maximum)}});
    }
    j["light"] = Json::array();
    for (const study::LightRow& r : sheet.light) {
        j["light"].push_back({{"irradiance_w_per_m2", r.irradiance_w_per_m2},
                              {"maximum", power_point(r.maximum)},
                              {"efficiency_ratio", number(r.efficiency_ratio)}});
    }
    j["assumptions"] = assumptions_json(assumptions);
    j["doubts"] = doubts;
    return printed(j);
}

}  // namespace plait::output
