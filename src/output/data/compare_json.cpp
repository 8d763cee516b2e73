#include "report/arrange_words.hpp"
#include "report/compare_parts.hpp"
#include "report/curve_doubts.hpp"
#include "json_parts.hpp"

namespace plait::output {
namespace {

Json decided_by_json(const Setup& setup, const study::Judgement& j) {
    const Decider d = decider(setup, j);
    if (d.verdict == nullptr) return nullptr;
    return {{"input", d.input.empty() ? Json(nullptr) : Json(d.input)},
            {"rule", d.verdict->rule->id},
            {"because", d.verdict->words.because}};
}

Json cost_json(const search::ComparedPlan& p) {
    if (!p.cost) return nullptr;
    return {{"currency", p.cost->currency},
            {"panels", number(p.cost->panels_price)},
            {"controller", number(p.cost->controller_price)},
            {"total", number(p.cost->total_price())},
            {"harvest_per_100_w", number(p.harvest_per_100_w())}};
}

Json account_json(const study::HarvestAccount& a) {
    return {{"on_hand_w", number(a.on_hand_w)}, {"unused_w", number(a.unused_w)}, {"mismatch_w", number(a.mismatch_w)},
            {"cables_w", number(a.cables_w)},   {"inputs_w", number(a.inputs_w)}, {"shared_w", number(a.shared_w)},
            {"harvest_w", number(a.harvest_w)}};
}

Json plan_json(const Setup& setup, const search::ComparedPlan& p) {
    const study::Judgement& j = p.judgement;
    return {{"wiring", plan_label(setup, p.plan)},
            {"verdict", rules::name_of(j.outcome)},
            {"proven", j.proven},
            {"decided_by", decided_by_json(setup, j)},
            {"harvest", harvest_json(j.harvest)},
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
            {"assumptions", assumptions_json(j.assumptions)}};
}

}  // namespace

std::string compare_json(const std::vector<NamedSetup>& named, const search::Comparison& c) {
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
    j["most_harvest"] = c.most_harvest;
    j["most_room"] = c.most_room;
    j["least_money"] = Json::array();
    for (const search::MoneyGroup& g : c.money) {
        j["least_money"].push_back({{"currency", g.currency}, {"setups", g.setups}, {"best", g.best}});
    }
    return printed(j);
}

}  // namespace plait::output
