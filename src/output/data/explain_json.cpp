#include "report/arrange_words.hpp"
#include "report/curve_doubts.hpp"
#include "report/explain_findings.hpp"
#include "report/explain_words.hpp"
#include "json_parts.hpp"
#include "render/style.hpp"

#include <plait/output/subjects.hpp>

namespace plait::output {
namespace {

Json losses_json(const measured::LogAccount& a) {
    Json list = Json::array();
    for (std::size_t i = 0; i < measured::cause_count; ++i) {
        list.push_back({{"cause", name_of(static_cast<measured::Cause>(i))},
                        {"lost_wh", number(a.lost_wh[i])},
                        {"hours", number(a.hours_h[i])}});
    }
    return list;
}

Json bands_json(const study::SystemModel& system, const ExplainedLog& log) {
    Json list = Json::array();
    const auto& bands = system.window(log.input).bands;
    for (std::size_t b = 0; b < bands.size() && b < measured::most_bands; ++b) {
        list.push_back({{"from_v", number(bands[b].from_v)},
                        {"to_v", number(bands[b].to_v)},
                        {"limit_a", number(bands[b].limit_a)},
                        {"lost_wh", number(log.account.band_wh[b])},
                        {"hours", number(log.account.band_h[b])}});
    }
    return list;
}

Json advice_json(const study::SystemModel& system, const ExplainedLog& log) {
    Json worth = Json::array();
    for (const measured::Cause c : log.advice.worth) worth.push_back(name_of(c));
    Json wiring = nullptr;
    if (log.advice.wiring) {
        wiring = {{"wiring", plan_label(system.setup(), log.advice.wiring->plan)},
                  {"now_w", number(log.advice.wiring->now_w)},
                  {"then_w", number(log.advice.wiring->then_w)}};
    }
    return {{"causes", worth}, {"better_wiring", wiring}, {"sentence", first_change(system, log)}};
}

Json part_json(const measured::LogPart& p) {
    return {{"hours", number(p.logged_h)},
            {"possible_wh", number(p.possible_wh)},
            {"expected_wh", number(p.expected_wh)},
            {"measured_wh", number(p.measured_wh)}};
}

void add_findings(const study::SystemModel& system, const ExplainedLog& log, Json& j) {
    const measured::LogAccount& a = log.account;
    j["findings"] = findings(system, log);
    j["limits"] = Json::array();
    for (const measured::LearnedLimit& l : a.limits) {
        const bool band = l.cause == measured::Cause::current_limit;
        j["limits"].push_back({{"limit", name_of(l.cause)},
                               {"band", band ? Json(l.band) : Json(nullptr)},
                               {"printed", number(l.printed_value)},
                               {"found", number(l.found_value)},
                               {"likely", Json::array({number(l.low_value), number(l.high_value)})},
                               {"hours", number(l.hours_h)},
                               {"differs", l.differs()}});
    }
    j["biases"] = {{"light_ratio", number(a.biases.light_ratio)}, {"volts_ratio", number(a.biases.volts_ratio)}, {"amps_ratio", number(a.biases.amps_ratio)}};
    j["with_wall"] = part_json(a.with_wall);
    j["without_wall"] = part_json(a.without_wall);
    j["shade_hours"] = Json::array();
    for (const measured::ShadeHours& s : a.shade_hours) {
        j["shade_hours"].push_back({{"from_h", number(s.from_h)}, {"to_h", number(s.to_h)}, {"days", s.days}, {"lost_wh", number(s.lost_wh)}});
    }
    j["fixed_v"] = a.fixed_v ? number(*a.fixed_v) : Json(nullptr);
    Json untold = Json::object();
    for (std::size_t i = 0; i < measured::teller_count; ++i) {
        untold[std::string(name_of(static_cast<measured::Teller>(i)))] = number(a.untold_wh[i]);
    }
    j["untold_wh"] = untold;
}

}  // namespace

std::string explain_json(const study::SystemModel& system, const ExplainedLog& log) {
    const measured::LogAccount& a = log.account;
    const measured::LogAccuracy& s = log.accuracy;
    Json j = head("explain");
    j["title"] = system.setup().title;
    j["input"] = system.setup().controller.inputs[log.input].name;
    j["wiring"] = label(log.wiring, kind_ids(system.setup()));
    j["plan"] = verdict_json(system.setup(), log.verdict);
    j["rows"] = a.rows;
    j["usual_step_s"] = number(a.usual_step_s);
    j["logged_hours"] = number(a.logged_h);
    j["gaps"] = a.gaps;
    j["gap_hours"] = number(a.gap_h);
    j["open_hours"] = number(a.open_h);
    j["label_wh"] = number(a.label_wh);
    j["possible_wh"] = number(a.possible_wh);
    j["expected_wh"] = number(a.expected_wh);
    j["measured_wh"] = number(a.measured_wh);
    j["losses"] = losses_json(a);
    j["bands"] = bands_json(system, log);
    j["columns"] = {{"voltage", a.voltage_rows}, {"irradiance", a.irradiance_rows}, {"air", a.air_rows},
                    {"panel", a.panel_rows},     {"charge", a.charge_rows},         {"wall", a.wall_rows},
                    {"sun", a.sun_rows},         {"turned", a.turned_rows}};
    j["night_wh"] = number(a.night_wh);
    j["accuracy"] = {{"volt_ratio", number(s.volt_ratio)}, {"amp_ratio", number(s.amp_ratio)},
                     {"watt_ratio", number(s.watt_ratio)}, {"irradiance_ratio", number(s.irradiance_ratio)},
                     {"panel_k", number(s.panel_k)},       {"air_k", number(s.air_k)},
                     {"display_w", number(s.display_w)}};
    j["summary"] = summary(system, log);
    add_findings(system, log, j);
    j["change_first"] = advice_json(system, log);
    j["stays_open"] = what_stays_open(system, log);
    j["notes"] = log.notes;
    j["assumptions"] = assumptions_json(study::all_assumptions(system));
    j["doubts"] = all_doubts(system.setup(), study::curves_of(system));
    return printed(j);
}

}  // namespace plait::output
