// The report on every wiring of the panels on hand: the one advised with its conditions, the ranking, what must not be
// connected, what may be preferred for other reasons, and why not this or that one.
#include <plait/output/picture.hpp>
#include <plait/output/reports.hpp>
#include <plait/search/advised.hpp>
#include <plait/search/arrangement.hpp>
#include <plait/study/judgement.hpp>
#include <plait/study/window_map.hpp>

#include "arrange_words.hpp"
#include "check_words.hpp"
#include "curve_doubts.hpp"
#include "energy_words.hpp"
#include "look_up_words.hpp"
#include "parts_of_reports.hpp"
#include "render/style.hpp"
#include "verdict_words.hpp"
#include "why_words.hpp"

#include <algorithm>

namespace plait::output {
namespace {

using study::Connection;

/// What a wiring is called in this report, in every list and picture: its place in the whole ranking.
std::string rank_of(const search::Arrangement& a, const search::RankedPlan& p) {
    return fmt::format("{}", &p - a.plans.data() + 1);
}

std::string ranked_name(const Setup& setup, const search::Arrangement& a, const search::RankedPlan& p) {
    return rank_of(a, p) + ". " + plan_label(setup, a, p);
}

bool forbidden(const search::RankedPlan& p) { return p.verdict.connection == Connection::forbidden; }

/// The wirings worth a look on one input's window: the advised one, the next best, one that must not be.
std::vector<study::MapEntry> map_entries(const search::Arrangement& a, std::size_t input) {
    constexpr std::size_t most = 4;
    std::vector<study::MapEntry> entries;
    const auto add = [&](const search::RankedPlan& p) {
        for (const std::size_t c : p.candidates) {
            const search::Candidate& one = a.candidates[c];
            const bool known = std::any_of(entries.begin(), entries.end(),
                                           [&](const study::MapEntry& e) { return e.wiring == one.wiring; });
            if (one.input == input && !known && entries.size() < most) {
                entries.push_back({one.wiring, one.verdict, rank_of(a, p)});
            }
        }
    };
    add(a.plans[*a.advised]);
    for (const search::RankedPlan& p : a.plans) {
        if (p.verdict.usable() && entries.size() + 1 < most) add(p);
    }
    for (const search::RankedPlan& p : a.plans) {
        if (forbidden(p)) add(p);
    }
    return entries;
}

Table::Row row_of(const study::SystemModel& system, const search::Arrangement& a, const search::RankedPlan& p) {
    const Setup& setup = system.setup();
    Table::Row row{{ranked_name(setup, a, p), word_of(p.verdict), watts(p.harvest.european_w), per_cent(p.lost_ratio),
                    fmt::format("{}", p.panels_used), room_in_volts(p.cold_margin_v)}};
    if (a.by_energy) {
        row.cells[3] = row.cells[2];
        row.cells[2] = delivered_words(a, p);
    }
    const std::string conditions = conditions_of(setup, a, p);
    if (!conditions.empty()) row.notes.push_back("needs " + conditions);
    const std::string decided = decided_by(system.setup(), a, p);
    if (!decided.empty()) row.notes.push_back(decided);
    return row;
}

Table ranking(const study::SystemModel& system, const search::Arrangement& a, std::size_t top, bool all) {
    Table table = a.by_energy ? table_of("What can be used, the most energy first",
                                         {"", "verdict", "#delivers", "#takes", "#panels", "#cold room"})
                              : table_of("What can be used, the most watts first",
                                         {"", "verdict", "#takes", "#lost", "#panels", "#cold room"});
    for (const search::RankedPlan& p : a.plans) {
        if (!all && (!p.verdict.usable() || table.rows.size() >= top)) continue;
        table.rows.push_back(row_of(system, a, p));
    }
    return table;
}

Table warnings(const study::SystemModel& system, const search::Arrangement& a) {
    constexpr std::size_t most = 3;
    Table table = table_of("Wirings outside a limit that must never be passed, some of them",
                           {"", "verdict", "#cold room", "decided by"});
    for (const search::RankedPlan& p : a.plans) {
        if (!forbidden(p) || table.rows.size() >= most) continue;
        table.rows.push_back({{ranked_name(system.setup(), a, p), word_of(p.verdict), room_in_volts(p.cold_margin_v),
                               decided_by(system.setup(), a, p)}});
    }
    return table;
}

Table trade_offs(const Setup& setup, const search::Arrangement& a) {
    Table table = table_of("None of these is better than another in everything",
                           {"", "#takes", "#one shaded", "#worst", "#cold room", "#to touch", "#joints", "#fuses"});
    for (const search::TradeOff& t : a.trade_offs) {
        const search::RankedPlan& p = a.plans[t.plan];
        table.rows.push_back({{ranked_name(setup, a, p),
                               watts(p.harvest.european_w), watts(t.one_shaded_mean_w), watts(t.one_shaded_worst_w),
                               room_in_volts(p.cold_margin_v), volts(p.highest_cold_voc_v), fmt::format("{}", p.joints),
                               fmt::format("{}", p.fuses)},
                              {word_of(p.verdict)}});
    }
    return table;
}

void add_lists(Report& report, const study::SystemModel& system, const search::Arrangement& a, const ArrangeView& view) {
    const auto count = [&](auto wanted) {
        return static_cast<std::size_t>(std::count_if(a.plans.begin(), a.plans.end(), wanted));
    };
    const std::size_t usable = count([](const search::RankedPlan& p) { return p.verdict.usable(); });
    const std::size_t over = count(forbidden);
    const std::size_t short_of = a.plans.size() - usable - over;
    Section& best = report.section(Purpose::reading, usable > 0 ? "Best first" : "All of them");
    best.add(ranking(system, a, view.top, view.all || usable == 0));
    if (!view.all && usable > view.top) {
        best.add(Paragraph{fmt::format("… {} more can be used; `--top N` or `--all` shows them.", usable - view.top)});
    }
    if (!view.all && short_of > 0 && usable > 0) {
        best.add(Paragraph{fmt::format("… {} {} short.", short_of, short_of == 1 ? "falls" : "fall")});
    }
    best.add(Paragraph{std::string(ranking_legend)});
    if (a.thinned) best.add(Paragraph{std::string(thinned_sentence)});
    if (over > 0 && !view.all) {
        Section& never = report.section(
            Purpose::answer, fmt::format("Do not connect: {} {} a limit, among them", counted(over, "wiring", "wirings"),
                                         over == 1 ? "exceeds" : "exceed"));
        never.add(warnings(system, a));
    }
    if (a.trade_offs.empty()) return;
    Section& choice = report.section(Purpose::reading, "Yours to decide: none of these is better than another in everything");
    choice.add(Picture{[&system, &a] { return trade_off_svg(system.setup(), a, {}, PictureUse::on_page); }});
    choice.add(trade_offs(system.setup(), a));
    choice.add(Paragraph{std::string(trade_off_legend)});
}

void add_advised_pictures(Report& report, const study::SystemModel& system, const search::Arrangement& a,
                          const study::Judgement& judged) {
    const Setup& setup = system.setup();
    for (std::size_t i = 0; i < judged.inputs.size(); ++i) {
        const study::InputJudgement& one = judged.inputs[i];
        Section& drawn = report.section(Purpose::reading, input_and_wiring(setup, one.input, one.wiring) + ", drawn");
        drawn.add(Picture{[&setup, &judged, i] { return wiring_svg(setup, judged.inputs[i], judged.verdict, PictureUse::on_page); }});
    }
    Section& maps = report.section(Purpose::reading, "On the inputs’ windows");
    for (std::size_t i = 0; i < setup.controller.inputs.size(); ++i) {
        if (map_entries(a, i).empty()) continue;
        maps.add(Picture{[&system, &a, &judged, i] {
            return window_map_svg(system.setup(), study::window_map(system, i, map_entries(a, i)), judged.verdict,
                                  PictureUse::on_page);
        }});
    }
}

}  // namespace

Report arrange_report(const study::SystemModel& system, const search::Arrangement& a, const search::Advised* advised,
                      const std::vector<search::Asked>& asked, const ArrangeView& view, Provenance provenance) {
    const Setup& setup = system.setup();
    Report report = report_on(
        setup, "Every wiring of these panels, best first: for the owner who has to choose, and whoever is asked for advice.",
        std::move(provenance));
    Section& answer = report.section(Purpose::answer);
    if (advised == nullptr) {
        const bool all_exceed = !a.plans.empty() && std::all_of(a.plans.begin(), a.plans.end(), forbidden);
        report.headline = {all_exceed ? Tone::exceeds : Tone::falls_short, "NO WIRING", "of these panels on these inputs"};
        answer.add(Paragraph{std::string(none_within)});
    } else {
        const ArrayPlan& plan = advised->plan;
        const study::Judgement* judged = &advised->judgement;
        report.headline = {tone_of(judged->verdict), headline_of(setup, judged->verdict), plan_label(setup, plan)};
        answer.add(Paragraph{sentence_of(judged->verdict)});
        if (!judged->verdict.holds()) {
            answer.add(Paragraph{"No wiring of these panels holds over every tolerance and unknown: this is the best of those "
                                 "that may."});
        }
        answer.add(Paragraph{could_exceed_sentence(*judged, advised->look_ups), Tone::doubtful});
        answer.add(Items{first_reasons(setup, *judged)});
        if (view.time) {
            answer.add(Paragraph{energy_sentence(a, *view.time)});
            answer.add(Paragraph{order_change(setup, a)});
        } else {
            answer.add(Paragraph{how_thorough(a)});
            answer.add(Paragraph{simpler_sentence(a)});
        }
        const std::string unused = unused_sentence(setup, plan);
        if (!unused.empty() && view.time) {
            answer.add(Paragraph{unused});
        } else if (!unused.empty()) {
            answer.add(Paragraph{unused + (a.searched.possible && a.searched.finished
                                               ? " No wiring within the limits takes more with them."
                                               : " None of the wirings looked at takes more with them.")});
        }
        answer.add(Cautions{{judged->cautions.front().text, std::string(read_check_first)}, "Before you touch it."});
    }
    if (advised == nullptr) answer.add(Cautions{{std::string(read_check_first)}});
    add_lists(report, system, a, view);
    for (const search::Asked& q : asked) {
        Section& why = report.section(Purpose::answer, fmt::format("Why not {}?", plan_label(setup, q.plan)));
        why.add(Paragraph{headline_of(setup, q.judgement.verdict), tone_of(q.judgement.verdict)});
        why.add(Items{why_reasons(system, a, q.judgement, q.plan)});
    }
    add_doubts(report, all_doubts(setup, study::curves_of(system)));
    if (advised != nullptr) {
        add_look_ups(report, advised->judgement, advised->look_ups);
        add_cautions(report, advised->judgement.cautions, true);
        add_advised_pictures(report, system, a, advised->judgement);
    } else {
        add_cautions(report, study::cautions_for(system.stated(), {}));
    }
    add_assumptions(report, study::all_assumptions(system));
    add_legend(report);
    return report;
}

}  // namespace plait::output
