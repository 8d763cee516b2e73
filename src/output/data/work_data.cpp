// Parts and steps as data.
#include <plait/output/data.hpp>
#include <plait/study/judgement.hpp>
#include <plait/study/parts.hpp>
#include <plait/study/steps.hpp>

#include "csv_field.hpp"
#include "json_parts.hpp"

#include <fmt/core.h>

namespace plait::output {
namespace {

Json plan_head(const char* command, const Setup& setup, const study::Judgement& judgement) {
    Json j = head(command);
    j["title"] = setup.title;
    j.update(verdict_json(setup, judgement));
    return j;
}

Json steps_list(const std::vector<study::Step>& steps) {
    Json list = Json::array();
    for (const study::Step& s : steps) {
        list.push_back({{"id", s.id},
                        {"text", s.text},
                        {"voltage_v", maybe(s.voltage_v)},
                        {"cautions", cautions_json(s.cautions)}});
    }
    return list;
}

const char* unit_of(const study::PartLine& p) { return p.measured == study::Measured::metres ? "m" : "pieces"; }

}  // namespace

std::string parts_csv(const Setup& setup, const study::Judgement& judgement, const std::vector<study::PartLine>& parts) {
    std::string out = csv_remark("parts", setup, judgement.verdict) + "item,what,where,count,unit,note,price\n";
    for (const study::PartLine& p : parts) {
        out += fmt::format("{},{},{},{:.12g},{},{},{}\n", p.id, csv_field(p.what), csv_field(p.where), p.count, unit_of(p),
                           csv_field(p.note), p.price ? fmt::format("{:.2f}", *p.price) : std::string());
    }
    return out;
}

std::string parts_json(const Setup& setup, const study::Judgement& judgement, const std::vector<study::PartLine>& parts) {
    Json j = plan_head("parts", setup, judgement);
    j["currency"] = setup.currency;
    j["parts"] = Json::array();
    for (const study::PartLine& p : parts) {
        j["parts"].push_back({{"item", p.id},
                              {"what", p.what},
                              {"where", p.where},
                              {"count", number(p.count)},
                              {"unit", unit_of(p)},
                              {"note", p.note},
                              {"price", maybe(p.price)}});
    }
    return printed(j);
}

std::string steps_json(const Setup& setup, const study::Judgement& judgement, const study::StepList& steps) {
    Json j = plan_head("steps", setup, judgement);
    j["connect"] = steps_list(steps.connect);
    j["take_apart"] = steps_list(steps.take_apart);
    return printed(j);
}

}  // namespace plait::output
