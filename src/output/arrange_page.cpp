#include <plait/output/page.hpp>
#include <plait/output/picture.hpp>
#include <plait/output/text.hpp>

#include "arrange_words.hpp"
#include "page_parts.hpp"
#include "style.hpp"

#include <algorithm>

namespace plait::output {
namespace {

using Cell = PageBuilder::Cell;
using rules::Outcome;

}  // namespace

std::string arrange_page(const study::Bench& bench, const study::Arrangement& a, const std::vector<study::Asked>& asked,
                         std::size_t top) {
    const Setup& setup = bench.setup();
    const std::size_t inputs = setup.controller.inputs.size();
    PageBuilder page(page_title(setup, "Wirings, best first"));
    std::vector<const study::RankedPlan*> usable;
    for (const study::RankedPlan& p : a.plans) {
        if (p.outcome < Outcome::falls_short) usable.push_back(&p);
    }
    if (!a.advised) {
        page.verdict(a.plans.empty() ? Outcome::falls_short : a.plans.front().outcome,
                     "no wiring of these panels can be connected");
        page.paragraph("No wiring of these panels is within the stated limits of these inputs.");
    } else {
        const study::RankedPlan& advised = a.plans[*a.advised];
        page.verdict(advised.outcome, plan_label(setup, a, advised));
        page.paragraph(fmt::format("{} {}", standing(a), sentence_of(advised.outcome, advised.proven)));
        const study::Judgement judged = study::judge(bench, study::written_out(a, advised, inputs));
        page.cautions(texts_of(judged.cautions));
        for (const study::InputJudgement& one : judged.inputs) {
            page.heading(
                fmt::format("{}: {}", setup.controller.inputs[one.input].name, label(one.wiring, kind_ids(setup))));
            page.picture(wiring_svg(setup, one, PictureUse::on_page));
        }
        page.heading("On the inputs’ windows");
        for (std::size_t i = 0; i < inputs; ++i) {
            std::vector<study::MapEntry> entries;
            const auto add = [&](const study::RankedPlan& p) {
                for (const std::size_t c : p.candidates) {
                    const study::Candidate& one = a.candidates[c];
                    const bool known = std::any_of(entries.begin(), entries.end(),
                                                   [&](const study::MapEntry& e) { return e.wiring == one.wiring; });
                    if (one.input == i && !known && entries.size() < 4) entries.push_back({one.wiring, one.outcome});
                }
            };
            add(advised);
            for (const study::RankedPlan* p : usable) {
                if (entries.size() < 3) add(*p);
            }
            for (const study::RankedPlan& p : a.plans) {
                if (p.outcome == Outcome::exceeds && entries.size() < 4) add(p);
            }
            if (!entries.empty())
                page.picture(window_map_svg(setup, study::window_map(bench, i, entries), PictureUse::on_page));
        }
    }
    page.heading("Best first");
    std::vector<std::vector<Cell>> rows;
    for (std::size_t i = 0; i < usable.size() && i < top; ++i) {
        const study::RankedPlan& p = *usable[i];
        rows.push_back({number_cell(fmt::format("{}", i + 1)),
                        {plan_label(setup, a, p),
                         false,
                         {fmt::format("{} {}{}", shape_of(p.outcome), word_of(p.outcome), p.proven ? "" : " ?")}},
                        number_cell(watts(p.harvest.european_w)),
                        number_cell(fmt::format("{:.1f} %", 100.0 * p.lost_ratio)),
                        number_cell(fmt::format("{}", p.panels_used)),
                        number_cell(volts(p.cold_margin_v))});
    }
    if (!rows.empty()) {
        page.table(
            "Harvest: mean watts on a warm day, weighted over the light of a year. Cold room: volts left on the "
            "coldest morning.",
            {"rank", "wiring", "harvest", "lost", "panels", "cold room"}, rows);
    }
    rows.clear();
    for (const study::RankedPlan& p : a.plans) {
        if (p.outcome != Outcome::exceeds || rows.size() >= 5) continue;
        rows.push_back(
            {{plan_label(setup, a, p), false, {fmt::format("{} {}", shape_of(p.outcome), word_of(p.outcome))}},
             number_cell(volts(p.cold_margin_v)),
             number_cell(volts(p.highest_cold_voc_v))});
    }
    if (!rows.empty()) {
        page.heading("Do not connect");
        page.table("Wirings outside a limit that must never be passed, some of them",
                   {"wiring", "cold room", "highest cold voltage"}, rows);
    }
    rows.clear();
    for (const study::TradeOff& t : a.trade_offs) {
        const study::RankedPlan& p = a.plans[t.plan];
        rows.push_back({number_cell(fmt::format("{}", rows.size() + 1)),
                        {plan_label(setup, a, p), false, {}},
                        number_cell(watts(p.harvest.european_w)),
                        number_cell(watts(t.one_shaded_mean_w)),
                        number_cell(watts(t.one_shaded_worst_w)),
                        number_cell(volts(p.cold_margin_v)),
                        number_cell(volts(p.highest_cold_voc_v)),
                        number_cell(fmt::format("{}", p.joints)),
                        number_cell(fmt::format("{}", p.fuses))});
    }
    if (!rows.empty()) {
        page.heading("Yours to decide");
        page.picture(trade_off_svg(setup, a, PictureUse::on_page));
        page.table("None of these is better than another in everything",
                   {"number", "wiring", "harvest", "one shaded", "worst", "cold room", "to touch", "joints", "fuses"},
                   rows);
    }
    for (const study::Asked& q : asked) {
        page.heading(fmt::format("Why not {}?", plan_label(setup, q.plan)));
        page.list(why_reasons(bench, a, q.judgement, q.plan));
    }
    add_assumptions(page, study::all_assumptions(bench), setup.doubts);
    return page.html();
}

}  // namespace plait::output
