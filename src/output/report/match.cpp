// The report on panels and controllers tried with each other: the best pair with its conditions, the ranking, why a pair is
// not the first, and drawings of the first three.
#include <plait/output/match.hpp>
#include <plait/study/window_map.hpp>

#include "arrange_words.hpp"
#include "check_words.hpp"
#include "curve_doubts.hpp"
#include "look_up_words.hpp"
#include "match_words.hpp"
#include "parts_of_reports.hpp"
#include "render/style.hpp"
#include "verdict_words.hpp"

#include <algorithm>

namespace plait::output {
namespace {

constexpr std::size_t most_drawn = 3;

void add_drawings(Report& report, const MatchSubject& s) {
    for (std::size_t i = 0; i < std::min(most_drawn, s.best.size()); ++i) {
        const search::JudgedPair& p = s.best[i];
        const study::Judgement& j = p.judged.judgement;
        Section& drawn = report.section(Purpose::reading, fmt::format("{}. {}, drawn", i + 1, pair_name(s.study, p.answer)));
        for (std::size_t k = 0; k < j.inputs.size(); ++k) {
            drawn.add(Picture{[&p, k] {
                const study::Judgement& judged = p.judged.judgement;
                return wiring_svg(*p.setup, judged.inputs[k], judged.verdict, PictureUse::on_page);
            }});
            drawn.add(Picture{[&p, k] {
                const study::Judgement& judged = p.judged.judgement;
                const study::InputJudgement& one = judged.inputs[k];
                return window_map_svg(*p.setup, study::window_map(*p.system, one.input, {{one.wiring, judged.verdict}}), judged.verdict,
                                      PictureUse::on_page);
            }});
        }
    }
}

}  // namespace

Report match_report(const MatchSubject& s, Provenance provenance) {
    Report report;
    report.kind = "Panels and inputs tried with each other: for whoever is about to buy, and whoever is asked for advice.";
    report.provenance = std::move(provenance);
    report.last_word = deferral;
    Section& answer = report.section(Purpose::answer);
    const search::JudgedPair* first = s.best.empty() ? nullptr : &s.best.front();
    if (first == nullptr) {
        report.headline = {Tone::falls_short, "NO PAIR", s.outcome.tally.filtered > 0 ? "of those asked for" : "can be used"};
        answer.add(Paragraph{s.outcome.tally.filtered > 0
                                 ? fmt::format("No pair is left by `--only {}`.", search::name_of(s.study.request().only))
                                 : std::string("No wiring of any of these panels is within the stated limits of any of these inputs.")});
        answer.add(Items{{"→ `--why \"PANEL on CONTROLLER\"` says what keeps a pair from it, and what one change would mend."}});
    } else {
        const study::Judgement& j = first->judged.judgement;
        report.headline = {tone_of(j.verdict), headline_of(*first->setup, j.verdict),
                           fmt::format("{}: {}", pair_name(s.study, first->answer), plan_label(*first->setup, first->plan))};
        answer.add(Paragraph{sentence_of(j.verdict)});
        if (!j.verdict.holds()) answer.add(Paragraph{"No pair holds over every tolerance and unknown: this is the best of those that may."});
        answer.add(Paragraph{could_exceed_sentence(j, first->judged.look_ups), Tone::doubtful});
        answer.add(Items{first_reasons(*first->setup, j)});
    }
    answer.add(Items{tried_sentences(s)});
    answer.add(Items{tally_sentences(s)});
    if (first != nullptr) {
        answer.add(Cautions{{first->judged.judgement.cautions.front().text, std::string(read_check_first)}, "Before you touch it."});
        Section& list = report.section(Purpose::reading, "Best first");
        list.add(match_table(s));
        list.add(Paragraph{match_legend(s)});
    } else {
        answer.add(Cautions{{std::string(read_check_first)}});
    }
    for (const search::PairWhy& why : s.why) {
        const search::PairAnswer& own = why.pair.answer;
        report.section(Purpose::answer, fmt::format("Why not {}?", pair_name(s.study, own))).add(Items{pair_reasons(s, why)});
    }
    if (first != nullptr) {
        add_drawings(report, s);
        add_doubts(report, all_doubts(*first->setup, first->judged.judgement.curves));
        add_look_ups(report, first->judged.judgement, first->judged.look_ups);
        add_cautions(report, first->judged.judgement.cautions, true);
        add_assumptions(report, first->judged.judgement.assumptions);
    }
    add_legend(report);
    return report;
}

}  // namespace plait::output
