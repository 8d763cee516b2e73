#include <plait/measured/next_readings.hpp>
#include <plait/measured/window_comparison.hpp>

#include "csv_field.hpp"
#include "json_parts.hpp"
#include "report/bench_words.hpp"
#include "report/learn_words.hpp"

#include <plait/output/data.hpp>

#include <fmt/core.h>

namespace plait::output {
namespace {

Json interval_json(const std::optional<Interval>& i) {
    if (!i) return nullptr;
    return Json::array({number(i->lower()), number(i->upper())});
}

Json switch_json(const std::optional<measured::SwitchVoltage>& s) {
    if (!s) return nullptr;
    return {{"between_v", interval_json(s->between_v)}, {"likely_v", interval_json(s->likely_v())}};
}

Json piece_json(const measured::LearnedPiece& p) {
    const bool current = p.kind == measured::PieceKind::constant_current;
    const bool power = p.kind == measured::PieceKind::constant_power;
    const bool bound = p.kind == measured::PieceKind::at_least;
    return {{"kind", name_of(p.kind)},
            {"from_v", number(p.from_v)},
            {"to_v", number(p.to_v)},
            {"current_a", current || bound ? number(p.level.value) : Json(nullptr)},
            {"likely_a", current ? interval_json(p.level.likely) : Json(nullptr)},
            {"power_w", power ? number(p.level.value) : Json(nullptr)},
            {"likely_w", power ? interval_json(p.level.likely) : Json(nullptr)},
            {"voltages", p.steps},
            {"readings", p.rows}};
}

Json compared_json(const measured::Compared& c, const measured::LearnedWindow& w) {
    const bool band = c.figure == measured::ComparedFigure::band;
    return {{"figure", name_of(c.figure)},
            {"from_v", band ? number(c.at_from_v) : Json(nullptr)},
            {"to_v", band ? number(c.at_to_v) : Json(nullptr)},
            {"printed", c.printed_value ? number(*c.printed_value) : Json(nullptr)},
            {"measured", c.value ? number(*c.value) : Json(nullptr)},
            {"likely", interval_json(c.likely)},
            {"agreement", name_of(c.agreement)},
            {"meaning", meaning_of(c, w)}};
}

Json ratio_json(const measured::RatioRange& r) {
    return {{"from_v", number(r.from_v)},
            {"to_v", number(r.to_v)},
            {"readings", r.rows},
            {"ratio", number(r.ratio.value)},
            {"likely_ratio", interval_json(r.ratio.likely)}};
}

Json check_json(const measured::RatioCheck& c) {
    if (!c.whole) return nullptr;
    Json ranges = Json::array();
    for (const measured::RatioRange& r : c.ranges) ranges.push_back(ratio_json(r));
    return {{"whole", ratio_json(*c.whole)}, {"ranges", ranges}, {"differs", c.differs}, {"worked_out", c.worked_out}};
}

void add_bench(const measured::LearnSheet& sheet, Json& j) {
    j["beside"] = instruments_said(sheet);
    j["display"] = check_json(measured::display_against_meter(sheet.window));
    j["efficiency"] = check_json(measured::battery_efficiency(sheet.window));
    j["protections"] = Json::array();
    for (const measured::ProtectionCheck& c : protections_of(sheet)) {
        j["protections"].push_back({{"what", name_of(c.what)},
                                    {"result", name_of(c.result)},
                                    {"printed", c.printed_value ? number(*c.printed_value) : Json(nullptr)},
                                    {"measured", c.value ? number(*c.value) : Json(nullptr)},
                                    {"between_v", interval_json(c.between_v)},
                                    {"said", c.said}});
    }
    j["next"] = Json::array();
    for (const measured::NextReading& n : next_readings_of(sheet)) {
        j["next"].push_back({{"voltage_v", number(n.voltage_v)},
                             {"falling", n.falling},
                             {"reason", name_of(n.reason)},
                             {"between_v", interval_json(n.between_v)}});
    }
    j["next_text"] = next_sentences(sheet);
}

}  // namespace

std::string bench_plan_json(const Controller& controller, const Input& input, const measured::BenchPlan& plan) {
    Json j = head("learn-plan");
    j["controller"] = controller.name;
    j["input"] = input.name;
    j["top_v"] = number(plan.top_v);
    j["maximum_printed"] = plan.maximum_printed;
    j["supply_a"] = plan.supply_a ? number(*plan.supply_a) : Json(nullptr);
    j["supply_w"] = plan.supply_w ? number(*plan.supply_w) : Json(nullptr);
    j["readings"] = Json::array();
    for (const measured::PlannedReading& r : plan.readings) {
        j["readings"].push_back({{"voltage_v", number(r.voltage_v)},
                                 {"falling", r.falling},
                                 {"what_for", name_of(r.reason)},
                                 {"printed_a", r.printed_a ? number(*r.printed_a) : Json(nullptr)},
                                 {"printed_w", r.printed_w ? number(*r.printed_w) : Json(nullptr)}});
    }
    return printed(j);
}

std::string learn_json(const measured::LearnSheet& sheet) {
    const measured::LearnedWindow& w = sheet.window;
    Json j = head("learn");
    j["file"] = sheet.file;
    j["against"] = sheet.controller ? Json(sheet.controller->name) : Json(nullptr);
    j["input"] = sheet.controller ? Json(sheet.printed()->name) : Json(nullptr);
    j["summary"] = summary_of(sheet);
    j["pieces"] = Json::array();
    for (const measured::LearnedPiece& p : w.pieces) j["pieces"].push_back(piece_json(p));
    j["changes"] = Json::array();
    for (const measured::SwitchVoltage& s : w.changes) j["changes"].push_back(switch_json(s));
    j["start"] = switch_json(w.start);
    j["stop"] = switch_json(w.stop);
    j["trip"] = switch_json(w.trip);
    j["recovery"] = switch_json(w.recovery);
    j["takeover"] = w.takeover_v ? Json{{"voltage_v", number(w.takeover_v->value)},
                                        {"likely_v", interval_json(w.takeover_v->likely)}}
                                 : Json(nullptr);
    j["lowest_working_v"] = number(w.lowest_working_v);
    j["highest_working_v"] = number(w.highest_working_v);
    j["noise_ratio"] = number(w.noise_ratio);
    j["meter_accuracy_ratio"] = number(sheet.meter_accuracy_ratio);
    j["amps_step_a"] = w.amps_step_a > 0.0 ? number(w.amps_step_a) : Json(nullptr);
    j["watts_step_w"] = w.watts_step_w > 0.0 ? number(w.watts_step_w) : Json(nullptr);
    j["display_cuts_off"] = w.habit == measured::DisplayHabit::cuts_off;
    j["rising"] = w.rising;
    j["falling"] = w.falling;
    j["compared"] = Json::array();
    for (const measured::Compared& c : sheet.compared) j["compared"].push_back(compared_json(c, w));
    j["rows"] = Json::array();
    for (const measured::FittedRow& r : w.rows) {
        j["rows"].push_back({{"line", r.row.line},
                             {"voltage_v", number(r.row.voltage_v)},
                             {"current_a", number(r.row.current_a)},
                             {"rising", r.rising},
                             {"use", name_of(r.use)},
                             {"fitted_a", r.fitted_a ? number(*r.fitted_a) : Json(nullptr)}});
    }
    add_bench(sheet, j);
    j["notes"] = sheet.notes;
    return printed(j);
}

std::string learn_csv(const measured::LearnSheet& sheet) {
    std::string out = csv_remark("learn") + "line,voltage_v,current_a,power_w,direction,use,fitted_a,fitted_w\n";
    for (const measured::FittedRow& r : sheet.window.rows) {
        const auto cell = [](double value) { return value == value ? fmt::format("{}", value) : std::string(); };
        out += fmt::format("{},{},{},{},{},{},", r.row.line, cell(r.row.voltage_v), cell(r.row.current_a),
                           cell(r.row.power_w()), r.rising ? "rising" : "falling", name_of(r.use));
        if (r.fitted_a) {
            out += fmt::format("{},{}\n", *r.fitted_a, *r.fitted_w());
        } else {
            out += ",\n";
        }
    }
    return out;
}

}  // namespace plait::output
