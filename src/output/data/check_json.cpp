#include <plait/rules/catalogue.hpp>
#include <plait/rules/cold_methods.hpp>
#include <plait/study/harvest_sheet.hpp>
#include <plait/study/judgement.hpp>
#include <plait/study/look_up.hpp>

#include "report/curve_doubts.hpp"
#include "report/verdict_words.hpp"
#include "json_parts.hpp"
#include "render/style.hpp"
#include "wires_json.hpp"

namespace plait::output {
namespace {

Json cure_json(const Setup& setup, const rules::Cure& c) {
    Json cables = Json::array();
    for (const rules::ThickerCable& one : c.cables) {
        cables.push_back({{"cable", setup.cables[one.cable].name},
                          {"area_mm2", number(one.size.area_mm2)},
                          {"awg", maybe(one.size.awg)}});
    }
    using rules::CureKind;
    // Panels on hand, the battery's side and cables are of the whole plan.
    const bool of_the_plan = c.kind == CureKind::more_panels || c.kind == CureKind::battery_fuse || c.kind == CureKind::cable_sizes;
    return {{"kind", rules::name_of(c.kind)},
            {"text", rules::cure_words(setup, {c})},
            {"input", of_the_plan ? Json(nullptr) : Json(setup.controller.inputs[c.input].name)},
            {"count", c.count > 0 ? Json(c.count) : Json(nullptr)},
            {"panel", c.kind == rules::CureKind::more_panels ? Json(setup.kinds[c.panel_kind].id) : Json(nullptr)},
            {"rating_a", c.rating_a > 0.0 ? number(c.rating_a) : Json(nullptr)},
            {"rating_v", c.rating_v > 0.0 ? number(c.rating_v) : Json(nullptr)},
            {"string_fuses_a", c.string_fuses_a},
            {"cables", cables},
            {"gain_w", c.gain_w ? number(*c.gain_w) : Json(nullptr)}};
}

Json rule_json(const Setup& setup, const study::RuleVerdict& v) {
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
    j["cures"] = Json::array();
    for (const rules::Cure& cure : v.cures) j["cures"].push_back(cure_json(setup, cure));
    j["harm"] = v.rule->harm;
    j["source"] = v.source();
    j["rests_on_assumptions"] = v.assumptions;
    return j;
}

Json rules_json(const Setup& setup, const std::vector<study::RuleVerdict>& verdicts) {
    Json list = Json::array();
    for (const study::RuleVerdict& v : verdicts) list.push_back(rule_json(setup, v));
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
    j.update(operation_json(op));
    j["free_maximum"] = power_point(op.free_maximum);
    j["hand_rule_w"] = number(op.hand_rule_w);
    j["strings"] = Json::array();
    for (const rules::StringCurrent& s : p.strings) {
        j["strings"].push_back({{"current_a", op.held() ? number(s.operating_a) : Json(nullptr)},
                                {"open_circuit_a", number(s.open_circuit_a)}});
    }
    j["cable"] = cable_effect_json(p);
    return j;
}

Json reverse_json(const study::ReverseCurrent& r) {
    return {{"reverse_a", number(r.current_a)},
            {"condition", r.weather ? Json(rules::name_of(*r.weather)) : Json(nullptr)}};
}

Json driven_json(const std::vector<study::DrivenString>& driven) {
    Json list = Json::array();
    for (const study::DrivenString& s : driven) {
        list.push_back({{"string", list.size() + 1},
                        {"blocking_diode", s.blocked},
                        {"max_series_fuse_a", number(s.rating_a)},
                        {"open_circuit", reverse_json(s.open_circuit)},
                        {"in_operation", reverse_json(s.operating)}});
    }
    return list;
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

Json look_ups_json(const study::LookUpList& list) {
    Json first = Json::array();
    for (const study::LookUp& one : list.first) {
        Json settles = Json::array();
        for (const rules::Rule* rule : one.settles) settles.push_back(rule->id);
        first.push_back({{"assumption", one.assumption},
                         {"turn", study::name_of(one.turn)},
                         {"low", one.range.low_words},
                         {"high", one.range.high_words},
                         {"at_low", name_of(one.at_low)},
                         {"at_high", name_of(one.at_high)},
                         {"range_source", one.range.source},
                         {"printed", one.where_printed},
                         {"settles", settles}});
    }
    return {{"first", first}, {"others", list.others}};
}

}  // namespace

std::string check_json(const Setup& setup, const study::Judgement& judgement, const study::LookUpList& look_ups,
                       const study::ClearDays* clear_days) {
    const std::vector<std::string> ids = kind_ids(setup);
    Json j = head("check");
    j["title"] = setup.title;
    j.update(output::verdict_json(setup, judgement));
    j["site"] = site_json(setup.site);
    j["inputs"] = Json::array();
    for (const study::InputJudgement& one : judgement.inputs) {
        Json input;
        input["name"] = setup.controller.inputs[one.input].name;
        input["wiring"] = label(one.wiring, ids);
        input["strings"] = one.wiring.strings.size();
        input["panels"] = one.wiring.panel_count();
        input.update(input_verdict_json(setup, one.verdict));
        input["array"] = facts_json(setup, one.facts);
        input["rules"] = rules_json(setup, one.verdicts);
        Json conditions = Json::array();
        for (const rules::ConditionPoint& p : one.points) conditions.push_back(point_json(p));
        input["conditions"] = conditions;
        input["driven_strings"] = driven_json(one.driven);
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
        input["wires"] = wires_json(setup, one.wires);
        j["inputs"].push_back(input);
    }
    j["plan_rules"] = rules_json(setup, judgement.plan);
    j["account"] = account_json(judgement.account);
    j["harvest"] = harvest_json(judgement.harvest);
    j["free_harvest"] = harvest_json(judgement.free_harvest);
    j["harvest_without_cables"] = harvest_json(judgement.wireless_harvest);
    j["clear_days"] = nullptr;
    if (clear_days) j["clear_days"] = {{"june_wh", number(clear_days->june_wh)}, {"december_wh", number(clear_days->december_wh)}};
    j["battery"] = battery_json(setup, judgement.battery);
    j["assumptions"] = assumptions_json(judgement.assumptions);
    j["look_up_first"] = look_ups_json(look_ups);
    j["doubts"] = all_doubts(setup, judgement.curves);
    j["hot_spots"] = hot_spots_json(setup, judgement.hot_spots);
    j["cautions"] = cautions_json(judgement.cautions);
    return printed(j);
}

}  // namespace plait::output
