#include <plait/output/page.hpp>
#include <plait/output/picture.hpp>
#include <plait/output/text.hpp>

#include "arrange_words.hpp"
#include "compare_words.hpp"
#include "curve_doubts.hpp"
#include "page_parts.hpp"
#include "render/style.hpp"

#include <algorithm>

namespace plait::output {
namespace {

using Cell = PageBuilder::Cell;
using rules::Outcome;

bool usable(const search::RankedPlan& p) { return p.outcome < Outcome::falls_short; }

/// The wirings worth a look on one input's window: the advised one, the next best, one that must not be.
std::vector<study::MapEntry> map_entries(const search::Arrangement& a, std::size_t input) {
    constexpr std::size_t most = 4;
    std::vector<study::MapEntry> entries;
    const auto add = [&](const search::RankedPlan& p) {
        for (const std::size_t c : p.candidates) {
            const search::Candidate& one = a.candidates[c];
            const bool known = std::any_of(entries.begin(), entries.end(),
                                           [&](const study::MapEntry& e) { return e.wiring == one.wiring; });
            if (one.input == input && !known && entries.size() < most) entries.push_back({one.wiring, one.outcome});
        }
    };
    add(a.plans[*a.advised]);
    for (const search::RankedPlan& p : a.plans) {
        if (usable(p) && entries.size() + 1 < most) add(p);
    }
    for (const search::RankedPlan& p : a.plans) {
        if (p.outcome == Outcome::exceeds) add(p);
    }
    return entries;
}

void add_advised(PageBuilder& page, const study::SystemModel& system, const search::Arrangement& a) {
    const Setup& setup = system.setup();
    const std::size_t inputs = setup.controller.inputs.size();
    const study::Judgement judged = study::judge(system, search::written_out(a, a.plans[*a.advised], inputs));
    page.heading("The advised wiring");
    for (const study::InputJudgement& one : judged.inputs) {
        page.subheading(input_and_wiring(setup, one.input, one.wiring));
        page.picture(wiring_svg(setup, one, PictureUse::on_page));
    }
    page.cautions(texts_of(judged.cautions));
    page.heading("On the inputs’ windows");
    for (std::size_t i = 0; i < inputs; ++i) {
        const std::vector<study::MapEntry> entries = map_entries(a, i);
        if (entries.empty()) continue;
        page.picture(window_map_svg(setup, study::window_map(system, i, entries), PictureUse::on_page));
    }
}

Cell wiring_cell(const Setup& setup, const search::Arrangement& a, const search::RankedPlan& p) {
    return {plan_label(setup, a, p), false, {mark_of(p.outcome, p.proven)}};
}

void add_ranking(PageBuilder& page, const study::SystemModel& system, const search::Arrangement& a, std::size_t top) {
    std::vector<std::vector<Cell>> rows;
    for (const search::RankedPlan& p : a.plans) {
        if (!usable(p) || rows.size() >= top) continue;
        Cell wiring = wiring_cell(system.setup(), a, p);
        const std::string decided = decided_by(system, a, p);
        if (!decided.empty()) wiring.small.push_back(decided);
        rows.push_back({std::move(wiring), number_cell(watts(p.harvest.european_w)),
                        number_cell(fmt::format("{:.1f} %", 100.0 * p.lost_ratio)),
                        number_cell(fmt::format("{}", p.panels_used)), number_cell(volts(p.cold_margin_v))});
    }
    if (rows.empty()) return;
    page.heading("Best first");
    page.table("What can be used, the most harvest first", {"wiring", "harvest", "lost", "n", "cold room"}, rows);
    page.paragraph(ranking_legend);
    if (a.thinned) page.paragraph(thinned_sentence);
}

void add_forbidden(PageBuilder& page, const Setup& setup, const search::Arrangement& a) {
    constexpr std::size_t most = 5;
    std::vector<std::vector<Cell>> rows;
    for (const search::RankedPlan& p : a.plans) {
        if (p.outcome != Outcome::exceeds || rows.size() >= most) continue;
        rows.push_back(
            {wiring_cell(setup, a, p), number_cell(volts(p.cold_margin_v)), number_cell(volts(p.highest_cold_voc_v))});
    }
    if (rows.empty()) return;
    page.heading("Do not connect");
    page.table("Wirings outside a limit that must never be passed, some of them",
               {"wiring", "cold room", "highest cold voltage"}, rows);
}

void add_trade_offs(PageBuilder& page, const Setup& setup, const search::Arrangement& a) {
    std::vector<std::vector<Cell>> rows;
    for (const search::TradeOff& t : a.trade_offs) {
        const search::RankedPlan& p = a.plans[t.plan];
        Cell wiring = wiring_cell(setup, a, p);
        wiring.words = fmt::format("{}. {}", rows.size() + 1, wiring.words);  // as in the picture
        rows.push_back({std::move(wiring), number_cell(watts(p.harvest.european_w)),
                        number_cell(watts(t.one_shaded_mean_w)), number_cell(watts(t.one_shaded_worst_w)),
                        number_cell(volts(p.cold_margin_v)), number_cell(volts(p.highest_cold_voc_v)),
                        number_cell(fmt::format("{}", p.joints)), number_cell(fmt::format("{}", p.fuses))});
    }
    if (rows.empty()) return;
    page.heading(trade_off_heading);
    page.picture(trade_off_svg(setup, a, PictureUse::on_page));
    page.table("None of these is better than another in everything",
               {"wiring", "harvest", "one shaded", "worst", "cold room", "to touch", "joints", "fuses"}, rows);
    page.paragraph(trade_off_legend);
}

}  // namespace

std::string arrange_page(const study::SystemModel& system, const search::Arrangement& a,
                         const std::vector<search::Asked>& asked, std::size_t top) {
    const Setup& setup = system.setup();
    PageBuilder page(page_title(setup, "Wirings, best first"));
    constexpr std::string_view audience =
        "Every wiring of these panels, best first: for the owner who has to choose, and whoever is asked for advice.";
    if (!a.advised) {
        page.verdict(a.plans.empty() ? Outcome::falls_short : a.plans.front().outcome,
                     "no wiring of these panels can be connected");
        page.audience(audience);
        page.paragraph(none_within);
    } else {
        const search::RankedPlan& advised = a.plans[*a.advised];
        page.verdict(advised.outcome, plan_label(setup, a, advised));
        page.audience(audience);
        page.paragraph(fmt::format("{} {}", standing(a), sentence_of(advised.outcome, advised.proven)));
        page.paragraph(simpler_sentence(a));
        page.cautions({std::string(read_check_first)});
        add_ranking(page, system, a, top);
        add_advised(page, system, a);
    }
    add_forbidden(page, setup, a);
    add_trade_offs(page, setup, a);
    for (const search::Asked& q : asked) {
        page.heading(fmt::format("Why not {}?", plan_label(setup, q.plan)));
        page.list(why_reasons(system, a, q.judgement, q.plan));
    }
    add_assumptions(page, study::all_assumptions(system), all_doubts(setup, study::curves_of(system)));
    add_outcome_marks(page);
    return page.html();
}

}  // namespace plait::output
