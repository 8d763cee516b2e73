// Every pair on a line of its own, as soon as it is settled.
#include "csv_field.hpp"
#include "json_parts.hpp"
#include "match_parts.hpp"
#include "report/arrange_words.hpp"
#include "report/match_words.hpp"
#include "report/verdict_words.hpp"

#include <fmt/core.h>

#include <cmath>

namespace plait::output {
namespace {

std::string line_of(const Json& j) { return j.text(-1) + "\n"; }

std::string known(double value) { return std::isfinite(value) ? fmt::format("{}", value) : std::string(); }
std::string known(const std::optional<double>& value) { return value ? known(*value) : std::string(); }

}  // namespace

Json pair_json(const search::MatchStudy& study, const search::PairAnswer& a) {
    const CataloguePanel& panel = study.panels()[study.panel_of(a.pair)];
    const CatalogueController& controller = study.controllers()[study.controller_of(a.pair)];
    Json j;
    j["panel"] = panel.name;
    j["panel_file"] = panel.file;
    j["controller"] = controller.name;
    j["controller_file"] = controller.file;
    j["settled"] = search::name_of(a.settled);
    j["bound_w"] = number(a.bound.harvest_w);
    j["bound_value"] = number(a.bound.value);
    j["complete"] = a.complete;
    j["panels"] = a.panels;
    j["listed"] = a.listed(study.request().only);
    j["usable"] = a.usable;
    j["wiring"] = nullptr;
    j["answers"] = nullptr;
    j["conditions"] = Json::array();
    j["decided_by"] = nullptr;
    j["figures"] = nullptr;
    if (!a.usable) return j;
    const Setup setup = study.setup(a.pair, a.panels);
    j["wiring"] = plan_words(setup, a.plan);
    j["answers"] = answers_json(a.verdict);
    j["conditions"] = conditions_json(setup, a.conditions);
    if (a.deciding.rule != nullptr) j["decided_by"] = a.deciding.rule->id;
    j["figures"] = {{"harvest_w", number(a.harvest_w)},
                    {"most_w", number(a.most_w)},
                    {"gained_w", a.gained_w ? number(*a.gained_w) : Json(nullptr)},
                    {"full_sun_w", number(a.full_sun_w)},
                    {"fill_ratio", a.fill_ratio ? number(*a.fill_ratio) : Json(nullptr)},
                    {"size_fit_ratio", a.size_fit_ratio ? number(*a.size_fit_ratio) : Json(nullptr)},
                    {"wasted_w", number(a.wasted_w)},
                    {"cold_margin_v", number(a.cold_margin_v)},
                    {"cold_margin_ratio", number(a.cold_margin_ratio)},
                    {"candidates_used", a.candidates_used},
                    {"panels_used", a.panels_used},
                    {"price", a.price ? number(*a.price) : Json(nullptr)},
                    {"harvest_per_100_w", a.harvest_per_100_w() ? number(*a.harvest_per_100_w()) : Json(nullptr)}};
    return j;
}

Json asked_json(const search::MatchStudy& study) {
    const search::MatchRequest& r = study.request();
    Json kept = Json::array();
    for (const auto& [panel, count] : study.kept()) kept.push_back({{"panel", panel.name}, {"file", panel.file}, {"count", count}});
    return {{"by", search::name_of(r.by)},
            {"only", search::name_of(r.only)},
            {"panels", r.panels},
            {"on_hand", r.on_hand},
            {"every", r.every},
            {"kept", kept},
            {"currency", study.currency()},
            {"site", site_json(study.site().site)},
            {"panel_files", study.panels().size()},
            {"controller_files", study.controllers().size()},
            {"pairs", study.pairs()}};
}

std::string match_head_line(const search::MatchStudy& study) {
    Json j = head("match-lines");
    j["asked"] = asked_json(study);
    return line_of(j);
}

std::string match_pair_line(const search::MatchStudy& study, const search::PairAnswer& answer) {
    Json j = {{"schema", "plait-report"}, {"schema_version", schema_version}, {"command", "match-pair"}};
    j.update(pair_json(study, answer));
    return line_of(j);
}

std::string match_csv_head() {
    return csv_remark("match") +
           "panel,controller,settled,bound_w,bound_value,panels,listed,wiring,verdict,proven,conditions,decided_by,harvest_w,gained_w,full_sun_w,"
           "fill_ratio,size_fit_ratio,wasted_w,cold_margin_v,panels_used,price,harvest_per_100_w\n";
}

std::string match_csv_line(const search::MatchStudy& study, const search::PairAnswer& a) {
    std::string out = fmt::format("{},{},{},{},{},{},{}", csv_field(study.panels()[study.panel_of(a.pair)].file),
                                  csv_field(study.controllers()[study.controller_of(a.pair)].file), search::name_of(a.settled), known(a.bound.harvest_w),
                                  known(a.bound.value), a.panels, a.listed(study.request().only));
    if (!a.usable) return out + std::string(15, ',') + "\n";
    const Setup setup = study.setup(a.pair, a.panels);
    return out + fmt::format(",{},{},{},{},{},{},{},{},{},{},{},{},{},{},{}\n", csv_field(plan_label(setup, a.plan)), name_of(a.verdict), a.verdict.proven(),
                             csv_field(pair_conditions(setup, a)), a.deciding.rule != nullptr ? a.deciding.rule->id : std::string_view(), known(a.harvest_w),
                             known(a.gained_w), known(a.full_sun_w), known(a.fill_ratio), known(a.size_fit_ratio), known(a.wasted_w), known(a.cold_margin_v),
                             a.panels_used, known(a.price), known(a.harvest_per_100_w()));
}

}  // namespace plait::output
