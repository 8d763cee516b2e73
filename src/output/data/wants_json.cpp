#include <plait/output/match.hpp>

#include "json_parts.hpp"
#include "report/verdict_words.hpp"

namespace plait::output {
namespace {

Json input_json(const WantsSubject& s, const study::InputWants& w) {
    Json j;
    j["name"] = s.controller.controller.inputs[w.input].name;
    j["label_tolerance_ratio"] = number(w.label_tolerance_ratio);
    j["cold"] = Json::array();
    for (const study::ColdRoom& r : w.cold) {
        j["cold"].push_back({{"technology", plait::name_of(r.technology).key},
                             {"steep_per_k", number(r.steep_per_k)},
                             {"shallow_per_k", number(r.shallow_per_k)},
                             {"voc_steep_v", number(r.voc_steep_v)},
                             {"voc_shallow_v", number(r.voc_shallow_v)},
                             {"voc_unstated_v", number(r.voc_unstated_v)}});
    }
    j["start_voc_v"] = number(w.start_voc_v);
    j["bands"] = Json::array();
    for (const study::BandVolts& b : w.bands) {
        j["bands"].push_back({{"band_from_v", number(b.band.from_v)},
                              {"band_to_v", number(b.band.to_v)},
                              {"limit_a", number(b.band.limit_a)},
                              {"vmp_from_v", number(b.from_v)},
                              {"vmp_to_v", number(b.to_v)}});
    }
    j["best_band"] = w.best_band ? Json(*w.best_band) : Json(nullptr);
    j["ceilings"] = Json::array();
    for (const study::LightCeiling& c : w.ceilings) {
        j["ceilings"].push_back({{"irradiance_w_per_m2", c.irradiance_w_per_m2}, {"array_w", maybe(c.array_w)}, {"array_a", maybe(c.array_a)}});
    }
    j["year"] = Json::array();
    for (const study::YearStep& y : w.year) {
        j["year"].push_back({{"array_w", number(y.array_w)},
                             {"taken_ratio", number(y.taken_ratio)},
                             {"next_ratio", number(y.next_ratio)},
                             {"delivered_wh", maybe(y.delivered_wh)}});
    }
    j["half_w"] = maybe(w.half_w);
    j["tenth_w"] = maybe(w.tenth_w);
    j["year_is_local"] = w.year_is_local;
    return j;
}

}  // namespace

std::string wants_json(const WantsSubject& s) {
    Json j = head("match-input");
    j["controller"] = s.controller.controller.name;
    j["file"] = s.controller.file;
    j["site"] = site_json(s.site.site);
    j["inputs"] = Json::array();
    for (const study::InputWants& w : s.inputs) j["inputs"].push_back(input_json(s, w));
    j["most_panels"] = s.most_panels;
    j["classes"] = Json::array();
    for (const search::ClassAnswer& c : s.classes) {
        const search::PairAnswer& a = c.pair.answer;
        j["classes"].push_back({{"title", usual_panels()[c.usual].title},
                                {"shortest_string", c.shortest_string ? Json(*c.shortest_string) : Json(nullptr)},
                                {"longest_string", c.longest_string ? Json(*c.longest_string) : Json(nullptr)},
                                {"wiring", a.usable ? Json(plan_words(*c.pair.setup, a.plan)) : Json(nullptr)},
                                {"answers", a.usable ? answers_json(a.verdict) : Json(nullptr)},
                                {"panels_used", a.panels_used},
                                {"fill_ratio", a.fill_ratio ? number(*a.fill_ratio) : Json(nullptr)},
                                {"harvest_w", number(a.harvest_w)}});
    }
    std::vector<Assumption> assumptions = s.controller.assumptions;
    assumptions.insert(assumptions.end(), s.site.assumptions.begin(), s.site.assumptions.end());
    j["assumptions"] = assumptions_json(assumptions);
    return printed(j);
}

}  // namespace plait::output
