#include <plait/output/page.hpp>
#include <plait/output/picture.hpp>
#include <plait/output/text.hpp>

#include "arrange_words.hpp"
#include "page_builder.hpp"
#include "style.hpp"

#include <algorithm>

namespace plait::output {
namespace {

using Cell = PageBuilder::Cell;
using rules::Outcome;

Cell number_cell(std::string words) { return {std::move(words), true, {}}; }

std::string mark_of(const study::RuleVerdict& v) {
    const std::string word(v.finding.outcome == Outcome::within ? "within" : word_of(v.finding.outcome));
    return fmt::format("{} {}{}", shape_of(v.finding.outcome), word, v.proven() ? "" : " ?");
}

void add_rules(PageBuilder& page, const std::vector<study::RuleVerdict>& verdicts) {
    std::vector<const study::RuleVerdict*> order;
    for (const study::RuleVerdict& v : verdicts) {
        if (v.finding.decides) order.push_back(&v);
    }
    std::stable_sort(order.begin(), order.end(), [](const study::RuleVerdict* a, const study::RuleVerdict* b) {
        return a->finding.outcome > b->finding.outcome;
    });
    std::vector<std::vector<Cell>> rows;
    for (const study::RuleVerdict* v : order) {
        const rules::Finding& f = v->finding;
        Cell why{v->words.because, false, {}};
        if (!v->words.instead.empty()) why.small.push_back("→ " + v->words.instead);
        if (f.outcome >= Outcome::needs && f.outcome != Outcome::clips) {
            why.small.push_back(fmt::format("Otherwise: {}.", v->rule->harm));
        }
        why.small.push_back(fmt::format("Source: {}", v->source()));
        rows.push_back(
            {{std::string(v->rule->title), false, {mark_of(*v)}},
             number_cell(in_unit(f.value, f.unit)),
             number_cell(fmt::format("{} {}", f.sense == rules::Sense::at_most ? "≤" : "≥", in_unit(f.limit, f.unit))),
             number_cell(in_unit(f.margin(), f.unit)),
             why});
    }
    page.table("Each rule: what was found, the limit, the room left, and whose limit it is",
               {"rule", "value", "limit", "room", "why"}, rows);
}

void add_readings(PageBuilder& page, const rules::ConditionPoints& points) {
    std::vector<std::vector<Cell>> rows;
    for (const rules::ConditionPoint& p : points) {
        const physics::OperatingPoint& op = p.operating;
        rows.push_back(
            {{std::string(rules::title_of(p.id)),
              false,
              {fmt::format("{:.0f} W/m², cells {}", p.condition.irradiance_w_per_m2, degrees(p.condition.cell))}},
             number_cell(volts(p.open_circuit_v)),
             number_cell(op.held() ? volts(op.point.voltage_v) : "–"),
             number_cell(op.held() ? amps(op.point.current_a) : "–"),
             number_cell(op.held() ? watts(op.point.power_w()) : "–"),
             number_cell(watts(op.lost_w()))});
    }
    page.table("What a meter should read", {"weather", "open circuit", "volts", "amps", "watts", "not taken"}, rows);
}

void add_assumptions(PageBuilder& page, const std::vector<Assumption>& assumptions,
                     const std::vector<std::string>& doubts) {
    if (!assumptions.empty()) {
        page.heading("Assumed, because it was not stated");
        std::vector<std::string> items;
        for (const Assumption& a : assumptions)
            items.push_back(fmt::format("{}: {} = {} ({})", a.subject, a.what, a.value, a.why));
        page.list(items);
    }
    if (!doubts.empty()) {
        page.heading("Figures that look doubtful");
        page.list(doubts);
    }
}

void add_input(PageBuilder& page, const study::Bench& bench, const study::InputJudgement& one) {
    const Setup& setup = bench.setup();
    page.heading(fmt::format("{}: {}", setup.controller.inputs[one.input].name, label(one.wiring, kind_ids(setup))));
    page.picture(
        window_map_svg(setup, study::window_map(bench, one.input, {{one.wiring, one.outcome}}), PictureUse::on_page));
    page.picture(wiring_svg(setup, one, PictureUse::on_page));
    add_rules(page, one.verdicts);
    add_readings(page, one.points);
}

std::vector<std::string> texts_of(const std::vector<study::Caution>& cautions) {
    std::vector<std::string> out;
    for (const study::Caution& c : cautions) out.push_back(c.text);
    return out;
}

std::string page_title(const Setup& setup, std::string_view fallback) {
    return setup.title.empty() ? std::string(fallback) : setup.title;
}

}  // namespace

std::string check_page(const study::Bench& bench, const study::Judgement& j) {
    const Setup& setup = bench.setup();
    PageBuilder page(page_title(setup, "A wiring, judged"));
    ArrayPlan plan(setup.controller.inputs.size());
    for (const study::InputJudgement& one : j.inputs) plan[one.input] = one.wiring;
    page.verdict(j.outcome, plan_label(setup, plan));
    page.paragraph(sentence_of(j.outcome, j.proven));
    page.cautions(texts_of(j.cautions));
    page.paragraph("Measure polarity and open-circuit voltage before you plug anything in.");
    for (const study::InputJudgement& one : j.inputs) add_input(page, bench, one);
    if (!j.plan.empty()) {
        page.heading("All inputs together");
        add_rules(page, j.plan);
    }
    page.heading("Harvest");
    page.paragraph(fmt::format(
        "On a warm day, weighted over the light of a year: {} (European weights), {} (CEC weights). The panels "
        "one by one would give {} (European).",
        watts(j.harvest.european_w), watts(j.harvest.cec_w), watts(j.free_harvest.european_w)));
    add_assumptions(page, j.assumptions, setup.doubts);
    return page.html();
}

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
        rows.push_back({{plan_label(setup, a, p), false, {}},
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
        page.table("None of these is better than another in everything",
                   {"wiring", "harvest", "one shaded", "worst", "cold room", "to touch", "joints", "fuses"}, rows);
    }
    for (const study::Asked& q : asked) {
        page.heading(fmt::format("Why not {}?", plan_label(setup, q.plan)));
        page.list(why_reasons(bench, a, q.judgement, q.plan));
    }
    add_assumptions(page, study::all_assumptions(bench), setup.doubts);
    return page.html();
}

std::string curve_page(const study::Bench& bench, const study::CurveSheet& sheet) {
    const Setup& setup = bench.setup();
    PageBuilder page(page_title(setup, "The curve of a wiring"));
    page.title_heading(page_title(setup, "The curve of a wiring"));
    for (const study::InputCurve& c : sheet.inputs) {
        page.heading(fmt::format("{}: {}", setup.controller.inputs[c.input].name, label(c.wiring, kind_ids(setup))));
        page.picture(curve_svg(bench, c, PictureUse::on_page));
        std::vector<std::vector<Cell>> rows;
        for (std::size_t s = 0; s < c.at_best.mismatch.panels.size(); ++s) {
            for (std::size_t p = 0; p < c.at_best.mismatch.panels[s].size(); ++p) {
                const physics::PanelShare& share = c.at_best.mismatch.panels[s][p];
                rows.push_back({number_cell(fmt::format("{}", s + 1)),
                                number_cell(fmt::format("{}", p + 1)),
                                {setup.kinds[c.wiring.strings[s].panels[p].kind].id, false, {}},
                                number_cell(watts(share.own_maximum_w)),
                                number_cell(watts(share.delivered_w)),
                                number_cell(watts(share.lost_w()))});
            }
        }
        page.table("At the highest maximum: what every panel could give alone and gives here",
                   {"string", "panel", "kind", "alone", "here", "lost"}, rows);
    }
    return page.html();
}

}  // namespace plait::output
