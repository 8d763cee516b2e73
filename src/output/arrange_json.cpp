#include "json_parts.hpp"

#include <algorithm>

namespace plait::output {

std::string arrange_json(const study::Bench& bench, const study::Arrangement& a, std::size_t top, bool all) {
    const Setup& setup = bench.setup();
    Json j = head("arrange");
    j["title"] = setup.title;
    j["site"] = site_json(setup.site);
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

}  // namespace plait::output
