#include <fmt/core.h>

#include "report/arrange_words.hpp"
#include "report/compare_words.hpp"
#include "report/verdict_words.hpp"
#include "csv_field.hpp"

#include <algorithm>
#include <cmath>

namespace plait::output {
namespace {

// Empty where nobody knows the figure.
std::string known(double value) { return std::isfinite(value) ? fmt::format("{}", value) : std::string(); }

}  // namespace

std::string compare_csv(const std::vector<NamedSetup>& named, const search::Comparison& c) {
    const bool money = any_prices(c);
    const bool energy = std::any_of(c.setups.begin(), c.setups.end(),
                                    [](const search::ComparedSetup& s) { return s.plan && s.plan->delivered_wh; });
    std::string out = csv_remark("compare") +
        "file,title,panels_on_hand,wiring,verdict,headline,proven,harvest_european_w,harvest_cec_w,on_hand_w,unused_w,"
        "mismatch_w,cables_w,inputs_w,shared_w,cold_margin_v,cold_margin_ratio,highest_cold_voc_v,panels_used,joints,"
        "fuses";
    if (money) out += ",currency,panels_cost,controller_cost,cost,harvest_per_100_w";
    if (energy) out += ",delivered_wh";
    out += "\n";
    for (std::size_t i = 0; i < named.size(); ++i) {
        const search::ComparedSetup& s = c.setups[i];
        out += fmt::format("{},{},{}", csv_field(named[i].file), csv_field(named[i].setup->title), s.panels_on_hand);
        if (!s.plan) {
            out += std::string((money ? 23U : 18U) + (energy ? 1U : 0U), ',') + "\n";
            continue;
        }
        const search::ComparedPlan& p = *s.plan;
        const study::HarvestAccount& a = p.account;
        const study::Judgement& j = p.judgement;
        // {} prints the shortest text that reads back as the same double.
        out += fmt::format(",{},{},{},{},{},{},{},{},{},{},{},{},{},{},{},{},{},{}",
                           csv_field(plan_label(*named[i].setup, p.plan)), name_of(j.verdict),
                           csv_field(headline_of(*named[i].setup, j.verdict)), j.verdict.proven(),
                           j.harvest.european_w, j.harvest.cec_w, a.on_hand_w, a.unused_w, a.mismatch_w, a.cables_w,
                           a.inputs_w, a.shared_w, known(p.cold_margin_v), known(p.cold_margin_ratio), p.highest_cold_voc_v,
                           p.panels_used, p.joints, p.fuses);
        if (money && p.cost) {
            out += fmt::format(",{},{},{},{},{}", csv_field(p.cost->currency), p.cost->panels_price,
                               p.cost->controller_price, p.cost->total_price(), p.harvest_per_100_w());
        } else if (money) {
            out += ",,,,,";
        }
        if (energy) out += p.delivered_wh ? fmt::format(",{}", *p.delivered_wh) : std::string(",");
        out += "\n";
    }
    return out;
}

}  // namespace plait::output
