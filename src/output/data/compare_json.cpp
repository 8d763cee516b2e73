#include "report/arrange_words.hpp"
#include "report/curve_doubts.hpp"
#include "json_parts.hpp"

#include <plait/output/subjects.hpp>
#include <plait/search/comparison.hpp>
#include <plait/study/judgement.hpp>

namespace plait::output {
namespace {

Json decided_by_json(const Setup& setup, const study::Judgement& j) {
    const std::vector<study::PlacedFinding> found = study::headline_findings(j);
    if (found.empty()) return nullptr;
    const study::PlacedFinding& first = found.front();
    return {{"input", first.input ? Json(setup.controller.inputs[*first.input].name) : Json(nullptr)},
            {"rule", first.verdict->rule->id},
            {"because", first.verdict->words.because}};
}

Json cost_json(const search::ComparedPlan& p) {
    if (!p.cost) return nullptr;
    return {{"currency", p.cost->currency},
            {"panels", number(p.cost->panels_price)},
            {"controller", number(p.cost->controller_price)},
            {"total", number(p.cost->total_price())},
            {"harvest_per_100_w", number(p.harvest_per_100_w())}};
}

Json plan_json(const Setup& setup, const search::ComparedPlan& p) {
    const study::Judgement& j = p.judgement;
    Json one = verdict_json(setup, j);
    one.update({{"decided_by", decided_by_json(setup, j)},
            {"harvest", harvest_json(j.harvest)},
            {"delivered_wh", p.delivered_wh ? number(*p.delivered_wh) : Json(nullptr)},
            {"account", account_json(p.account)},
            {"cold_margin_v", number(p.cold_margin_v)},
            {"cold_margin_ratio", number(p.cold_margin_ratio)},
            {"cold_input", setup.controller.inputs[p.cold_input].name},
            {"highest_cold_voc_v", number(p.highest_cold_voc_v)},
            {"panels_used", p.panels_used},
            {"joints", p.joints},
            {"fuses", p.fuses},
            {"cost", cost_json(p)},
            {"unpriced", p.unpriced},
            {"assumptions", assumptions_json(j.assumptions)}});
    return one;
}

}  // namespace

std::string compare_json(const std::vector<NamedSetup>& named, const search::Comparison& c,
                         const EnergyTime* time) {
    Json j = head("compare");
    j["setups"] = Json::array();
    for (std::size_t i = 0; i < named.size(); ++i) {
        const Setup& setup = *named[i].setup;
        const search::ComparedSetup& s = c.setups[i];
        Json one;
        one["file"] = named[i].file;
        one["title"] = setup.title;
        one["controller"] = setup.controller.name;
        one["site"] = site_json(setup.site);
        one["panels_on_hand"] = s.panels_on_hand;
        one["search"] = s.searched ? searched_json(*s.searched) : Json(nullptr);
        one["plan"] = s.plan ? plan_json(setup, *s.plan) : Json(nullptr);
        one["doubts"] = s.plan ? all_doubts(setup, s.plan->judgement.curves) : setup.doubts;
        j["setups"].push_back(one);
    }
    j["usable"] = c.usable;
    j["by"] = time ? study::name_of(time->period.span) : "watts";
    j["most_harvest"] = c.most_harvest;
    j["most_energy"] = c.most_energy;
    j["most_room"] = c.most_room;
    j["least_money"] = Json::array();
    for (const search::MoneyGroup& g : c.money) {
        j["least_money"].push_back({{"currency", g.currency}, {"setups", g.setups}, {"best", g.best}});
    }
    return printed(j);
}

}  // namespace plait::output
