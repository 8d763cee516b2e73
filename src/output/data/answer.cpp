#include <plait/output/answer.hpp>

#include "json_parts.hpp"

namespace plait::output {
namespace {

Json deciding(const std::vector<study::RuleVerdict>& verdicts) {
    Json list = Json::array();
    for (const study::RuleVerdict& v : verdicts) {
        if (!v.finding.decides || v.finding.outcome == rules::Outcome::within) continue;
        list.push_back({{"decides", true},
                        {"outcome", rules::name_of(v.finding.outcome)},
                        {"because", v.words.because},
                        {"instead", v.words.instead}});
    }
    return list;
}

}  // namespace

Json answer(const Setup& setup, const study::Judgement& judgement, const study::LookUpList& look_ups) {
    Json j = head("check");
    j.update(verdict_json(setup, judgement));
    j["inputs"] = Json::array();
    for (const study::InputJudgement& one : judgement.inputs) {
        j["inputs"].push_back({{"name", setup.controller.inputs[one.input].name}, {"rules", deciding(one.verdicts)}});
    }
    j["plan_rules"] = deciding(judgement.plan);
    j["assumptions"] = assumptions_json(judgement.assumptions);
    Json first = Json::array();
    for (const study::LookUp& one : look_ups.first) {
        first.push_back({{"assumption", one.assumption}, {"printed", one.where_printed}});
    }
    j["look_up_first"] = {{"first", first}};
    j["hot_spots"] = hot_spots_json(setup, judgement.hot_spots);
    return j;
}

}  // namespace plait::output
