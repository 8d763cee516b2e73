#include "report/arrange_words.hpp"
#include "report/verdict_words.hpp"
#include "report/why_words.hpp"
#include "report/curve_doubts.hpp"
#include "json_parts.hpp"
#include "render/style.hpp"

#include <plait/output/subjects.hpp>
#include <plait/search/advised.hpp>
#include <plait/search/arrangement.hpp>


#include <algorithm>

namespace plait::output {

namespace {

Json candidate_json(const Setup& setup, const search::Candidate& c) {
    const std::optional<EqualStrings> equal = as_equal_strings(c.wiring);
    Json strings = Json::array();
    for (const SeriesString& s : c.wiring.strings) {
        Json panels = Json::array();
        for (const PanelPlace& p : s.panels) panels.push_back(setup.kinds[p.kind].id);
        strings.push_back(panels);
    }
    return {{"name", setup.controller.inputs[c.input].name},
            {"wiring", label(c.wiring, kind_ids(setup))},
            {"strings", strings},
            {"panel", equal ? Json(setup.kinds[equal->kind].id) : Json(nullptr)},
            {"in_series", equal ? Json(equal->in_series) : Json(nullptr)},
            {"in_parallel", equal ? Json(equal->in_parallel) : Json(nullptr)},
            {"verdict", name_of(c.verdict)},
            {"decided_by", c.deciding.rule ? Json(c.deciding.rule->id) : Json(nullptr)},
            {"cold_voc_v", number(c.cold_voc_v)},
            {"cold_margin_v", number(c.cold_margin_v)}};
}

}  // namespace

std::string arrange_json(const study::SystemModel& system, const search::Arrangement& a, const search::Advised* advised,
                         const std::vector<search::Asked>& asked, std::size_t top, bool all,
                         const EnergyTime* time) {
    const Setup& setup = system.setup();
    Json j = head("arrange");
    j["title"] = setup.title;
    j["site"] = site_json(setup.site);
    j["by"] = time ? study::name_of(time->period.span) : "watts";
    j["count"] = a.plans.size();
    j["thinned"] = a.thinned;
    j["search"] = searched_json(a.searched);
    j["advised"] = nullptr;
    if (advised != nullptr) j["advised"] = verdict_json(setup, advised->judgement);
    j["advised_rank"] = a.advised ? Json(*a.advised + 1) : Json(nullptr);
    j["plans"] = Json::array();
    const std::size_t shown = all ? a.plans.size() : std::min(top, a.plans.size());
    for (std::size_t i = 0; i < shown; ++i) {
        const search::RankedPlan& p = a.plans[i];
        Json plan;
        plan["rank"] = i + 1;
        plan.update(answers_json(p.verdict));
        plan["conditions"] = conditions_of(setup, a, p);
        plan["decided_by"] = nullptr;
        if (p.deciding.rule != nullptr) {
            plan["decided_by"] = {
                {"input", p.deciding.input ? Json(setup.controller.inputs[*p.deciding.input].name) : Json(nullptr)},
                {"rule", p.deciding.rule->id}};
        }
        plan["inputs"] = Json::array();
        for (const std::size_t c : p.candidates) plan["inputs"].push_back(candidate_json(setup, a.candidates[c]));
        plan["panels_used"] = p.panels_used;
        plan["strings"] = p.strings;
        plan["joints"] = p.joints;
        plan["unlike_panels"] = p.unlike;
        plan["fuses"] = p.fuses;
        plan["harvest"] = harvest_json(p.harvest);
        plan["delivered_wh"] = a.by_energy ? maybe(a.by_energy->delivered_wh[i]) : Json(nullptr);
        plan["rank_by_watts"] = a.by_energy ? a.by_energy->place_by_watts[i] + 1 : i + 1;
        plan["lost_ratio"] = number(p.lost_ratio);
        plan["cold_margin_v"] = number(p.cold_margin_v);
        j["plans"].push_back(plan);
    }
    j["trade_offs"] = Json::array();
    for (const search::TradeOff& t : a.trade_offs) {
        const search::RankedPlan& p = a.plans[t.plan];
        j["trade_offs"].push_back({{"rank", t.plan + 1},
                                   {"wiring", plan_label(setup, a, p)},
                                   {"harvest", harvest_json(p.harvest)},
                                   {"one_shaded_mean_w", number(t.one_shaded_mean_w)},
                                   {"one_shaded_worst_w", number(t.one_shaded_worst_w)},
                                   {"cold_margin_v", number(p.cold_margin_v)},
                                   {"highest_cold_voc_v", number(p.highest_cold_voc_v)},
                                   {"joints", p.joints},
                                   {"fuses", p.fuses}});
    }
    j["why"] = Json::array();
    for (const search::Asked& q : asked) {
        Json one = verdict_json(setup, q.judgement);
        one.update({{"harvest", harvest_json(q.judgement.harvest)},
                    {"reasons", why_reasons(system, a, q.judgement, q.plan)}});
        j["why"].push_back(one);
    }
    j["assumptions"] = assumptions_json(study::all_assumptions(system));
    j["doubts"] = all_doubts(setup, study::curves_of(system));
    return printed(j);
}

}  // namespace plait::output
