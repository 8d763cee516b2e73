#include <plait/base/civil_date.hpp>
#include <plait/output/subjects.hpp>
#include <plait/study/harvest_sheet.hpp>
#include <plait/study/judgement.hpp>

#include "json_parts.hpp"
#include "report/curve_doubts.hpp"
#include "report/harvest_words.hpp"
#include "report/verdict_words.hpp"

#include "render/style.hpp"

namespace plait::output {
namespace {

Json losses_json(const study::HarvestSum& sum, const std::array<double, study::harvest_loss_count>& limited_h) {
    Json losses = Json::array();
    for (std::size_t i = 0; i < study::harvest_loss_count; ++i) {
        const auto loss = static_cast<study::HarvestLoss>(i);
        losses.push_back({{"id", study::name_of(loss)},
                          {"lost_wh", number(sum.lost_wh[i])},
                          {"limited_h", study::is_limit(loss) ? number(limited_h[i]) : Json(nullptr)}});
    }
    return losses;
}

Json period_json(const study::HarvestSheet& s) {
    const std::vector<study::LightHour>& hours = s.light.hours;
    return {{"span", study::name_of(s.period.span)},
            {"month", s.period.month > 0 ? Json(s.period.month) : Json(nullptr)},
            {"day", s.period.day > 0 ? Json(s.period.day) : Json(nullptr)},
            {"year", maybe(s.period.year)},
            {"first_date", iso_date(hours.front().day)},
            {"last_date", iso_date(hours.back().day)},
            {"days", number(s.light.covered_days())}};
}

Json place_json(const Location& l) {
    return {{"latitude_deg", l.latitude_deg}, {"longitude_deg", l.longitude_deg}, {"height_m", l.height_m},
            {"from_utc_h", l.from_utc_h},     {"turbidity", l.turbidity_value}};
}

Json weather_json(const study::HarvestSheet& s) {
    return {{"source", s.from_file ? "file" : s.dimmed ? "monthly-light" : "clear-days"},
            {"name", s.light.name},
            {"step_h", number(s.light.step_h)},
            {"filled_h", number(s.light.filled_h())},
            {"unknown_h", number(s.light.unknown_h())},
            {"notes", s.light.notes}};
}

Json planes_json(const Setup& setup, const study::LightSeries& light) {
    Json planes = Json::array();
    const auto add = [&](const Plane& p, bool assumed) {
        planes.push_back({{"name", p.name}, {"tilt_deg", p.tilt_deg}, {"azimuth_deg", p.azimuth_deg}, {"assumed", assumed}});
    };
    for (const Plane& p : setup.planes) add(p, false);
    if (light.plane_is_assumed) add(light.assumed_plane, true);
    return planes;
}

Json parts_json(const study::HarvestSheet& s) {
    using study::HarvestSpan;
    using study::HarvestStep;
    const HarvestStep step = s.period.span == HarvestSpan::year    ? HarvestStep::month
                             : s.period.span == HarvestSpan::month ? HarvestStep::day
                                                                   : HarvestStep::hour;
    Json parts = Json::array();
    for (const study::HarvestPart& p : study::parts_of(s.light, s.harvest, step)) {
        Json limits = Json::array();
        for (std::size_t i = 0; i < study::harvest_loss_count; ++i) {
            if (!(p.limited_h[i] > 0.0)) continue;
            limits.push_back({{"id", study::name_of(static_cast<study::HarvestLoss>(i))}, {"most_h", number(p.limited_h[i])}});
        }
        parts.push_back({{"month", month_of(date_of(p.first_day))},
                         {"date", step == HarvestStep::month ? Json(nullptr) : Json(iso_date(p.first_day))},
                         {"from_h", step == HarvestStep::hour ? number(p.from_h) : Json(nullptr)},
                         {"covered_h", number(p.covered_h)},
                         {"possible_wh", number(p.possible_wh)},
                         {"limited_wh", number(p.limited_wh)},
                         {"delivered_wh", number(p.delivered_wh)},
                         {"limits", limits}});
    }
    return parts;
}

Json gained_json(const Setup& setup, const search::GainedPlan& g) {
    return {{"wiring", plan_words(setup, g.plan)},
            {"verdict", name_of(g.verdict)},
            {"headline", headline_of(setup, g.verdict)},
            {"delivered_wh", number(g.delivered_wh)}};
}

Json gains_json(const Setup& setup, const search::HarvestGains& gains) {
    Json more = Json::array();
    for (const search::OneMorePanel& one : gains.one_more) {
        more.push_back({{"panel", setup.kinds[one.kind].id}, {"wiring", one.gained ? gained_json(setup, *one.gained) : Json(nullptr)}});
    }
    Json cables = Json::array();
    for (const search::LargerCable& c : gains.cables) {
        const Cable& cable = setup.cables[c.cable];
        cables.push_back({{"cable", cable.name.empty() ? std::string(plait::name_of(cable.run)) : cable.name},
                          {"size", size_text(c.size)},
                          {"delivered_wh", number(c.delivered_wh)}});
    }
    return {{"wirings_tried", gains.tried},
            {"complete", gains.finished},
            {"best_wiring", gains.best ? gained_json(setup, *gains.best) : Json(nullptr)},
            {"best_is_this", gains.best_is_this},
            {"one_more_panel", more},
            {"larger_cable", cables}};
}

Json not_counted_json(const study::UnstatedLosses& u) {
    Json out = Json::array();
    for (const auto& [absent, id] : {std::pair(u.shade, "shade"), std::pair(u.soiling, "soiling"), std::pair(u.snow, "snow"),
                                     std::pair(u.ageing, "ageing"), std::pair(u.cables, "cables"),
                                     std::pair(u.conversion, "conversion"), std::pair(u.own_use, "own-use")}) {
        if (absent) out.push_back(id);
    }
    return out;
}

}  // namespace

std::string harvest_json(const HarvestSubject& subject) {
    const Setup& setup = subject.system.setup();
    const study::Judgement& judged = subject.judged.judgement;
    const study::HarvestSheet& s = subject.sheet;
    Json j = head("harvest");
    j["title"] = setup.title;
    j.update(verdict_json(setup, judged));
    j["period"] = period_json(s);
    j["place"] = setup.location ? place_json(*setup.location) : Json(nullptr);
    j["weather"] = weather_json(s);
    j["planes"] = planes_json(setup, s.light);
    j["models"] = {{"sky", plait::name_of(setup.light_models.sky)},
                   {"incidence", plait::name_of(setup.light_models.incidence)},
                   {"warming", plait::name_of(s.light.warming)},
                   {"curve", plait::name_of(setup.curve_method)}};
    j["ideal_wh"] = number(s.harvest.total.ideal_wh);
    j["losses"] = losses_json(s.harvest.total, s.harvest.limited_h);
    j["delivered_wh"] = number(s.harvest.total.delivered_wh);
    j["own_use_wh"] = number(s.harvest.own_use_wh);
    j["not_counted"] = not_counted_json(s.harvest.unstated);
    j["inputs"] = Json::array();
    for (const study::InputHarvest& one : s.harvest.inputs) {
        j["inputs"].push_back({{"name", setup.controller.inputs[one.input].name},
                               {"ideal_wh", number(one.sum.ideal_wh)},
                               {"taken_wh", number(one.sum.delivered_wh)},
                               {"losses", losses_json(one.sum, one.limited_h)},
                               {"running_h", number(one.running_h)},
                               {"highest_w", number(one.highest_w)}});
    }
    j["parts"] = parts_json(s);
    j["gains"] = gains_json(setup, subject.gains);
    j["assumptions"] = assumptions_json(judged.assumptions);
    j["doubts"] = all_doubts(setup, judged.curves);
    return printed(j);
}

}  // namespace plait::output
