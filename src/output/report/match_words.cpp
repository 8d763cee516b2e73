#include "match_words.hpp"

#include "arrange_words.hpp"
#include "check_words.hpp"
#include "render/display_width.hpp"
#include "render/style.hpp"
#include "verdict_words.hpp"

#include <algorithm>
#include <cmath>

namespace plait::output {
namespace {

using search::MatchBy;
using search::MatchOnly;
using search::MatchStudy;
using search::PairAnswer;

std::string money(double price, const std::string& currency) {
    const bool whole = std::abs(price - std::round(price)) < 0.005;
    return fmt::format("{:.{}f}{}{}", price, whole ? 0 : 2, currency.empty() ? "" : " ", currency);
}

bool priced(const MatchSubject& s) {
    return std::any_of(s.outcome.best.begin(), s.outcome.best.end(), [](const PairAnswer& a) { return a.price.has_value(); });
}

/// A value of the ranking with its unit.
std::string value_words(const MatchStudy& study, const PairAnswer& a) {
    const std::optional<double> value = a.value(study.request().by);
    if (!value) return "not known";
    switch (study.request().by) {
        case MatchBy::harvest:
            return watts(*value);
        case MatchBy::cost:
            return watts(*value) + " for " + money(100.0, study.currency());
        case MatchBy::fill:
            return per_cent(*value) + " of the larger side";
    }
    return "";
}

std::string count_words(const MatchStudy& study) {
    const search::MatchRequest& r = study.request();
    return r.on_hand ? fmt::format("{} of each panel on hand", r.panels) : fmt::format("up to {} of each panel", r.panels);
}

/// What one change makes of a pair.
std::string changed(const MatchSubject& s, const PairAnswer& now, const PairAnswer& then, std::string_view what) {
    const Setup setup = s.study.setup(then.pair, then.panels);
    const std::string wiring = fmt::format("{} ({})", plan_label(setup, then.plan), word_of(then.verdict));
    if (!now.usable) return fmt::format("With {} there is a wiring: {}, {}.", what, wiring, watts(then.harvest_w));
    return fmt::format("With {} it comes to {} instead of {}: {}.", what, value_words(s.study, then), value_words(s.study, now), wiring);
}

}  // namespace

std::string pair_name(const MatchStudy& study, const PairAnswer& a) {
    const std::string& panel = study.panels()[study.panel_of(a.pair)].name;
    const std::string& controller = study.controllers()[study.controller_of(a.pair)].name;
    if (!a.usable) return panel + " on " + controller;
    return fmt::format("{} {} on {}", a.candidates_used, panel, controller);
}

std::string pair_conditions(const Setup& setup, const PairAnswer& a) {
    std::vector<std::string> words;
    for (const rules::Condition& c : a.conditions) words.push_back(words_of(c, setup));
    return joined(words, ", ");
}

std::string pair_decided_by(const Setup& setup, const PairAnswer& a) {
    const search::Deciding& d = a.deciding;
    if (d.rule == nullptr) return "";
    return fmt::format("{}{}{}", d.share == rules::HeadlineShare::doubts ? "not settled: " : "",
                       d.input && setup.controller.inputs.size() > 1 ? setup.controller.inputs[*d.input].name + ": " : std::string(),
                       d.rule->title);
}

std::vector<std::string> tried_sentences(const MatchSubject& s) {
    const MatchStudy& m = s.study;
    std::vector<std::string> out;
    out.push_back(fmt::format("{} on {}, {}: {}.", counted(m.panels().size(), "kind of panel", "kinds of panel"),
                              counted(m.controllers().size(), "controller", "controllers"), count_words(m),
                              counted(m.pairs(), "pair", "pairs")));
    if (!m.kept().empty()) {
        std::vector<std::string> kept;
        for (const auto& [panel, count] : m.kept()) kept.push_back(fmt::format("{} {}", count, panel.name));
        out.push_back(fmt::format("On hand already, and part of every pair: {}. gain is what a pair takes beyond them alone.", listed(kept)));
    }
    if (m.request().by == MatchBy::cost) {
        std::vector<std::string> owned;
        if (m.panels().size() == 1 && !m.panels().front().price) owned.push_back(m.panels().front().name);
        if (m.controllers().size() == 1 && !m.controllers().front().controller.price) owned.push_back(m.controllers().front().name);
        if (!owned.empty()) out.push_back(fmt::format("{} {} no price and counts as nothing: it is in every pair.", listed(owned), owned.size() == 1 ? "has" : "have"));
    }
    const std::size_t assumed = m.site().assumptions.size();
    if (assumed > 0) {
        out.push_back(fmt::format("The coldest morning is taken to be {}, the hottest day {}{}.", degrees(m.site().site.coldest_air),
                                  degrees(m.site().site.hottest_air),
                                  ", part of the site is assumed (?): state your own with `--site FILE`"));
    } else {
        out.push_back(fmt::format("Judged for a coldest morning of {} and a hottest day of {}.", degrees(m.site().site.coldest_air),
                                  degrees(m.site().site.hottest_air)));
    }
    for (const std::string& note : s.notes) out.push_back(note);
    return out;
}

std::vector<std::string> tally_sentences(const MatchSubject& s) {
    const search::MatchTally& t = s.outcome.tally;
    std::vector<std::string> out;
    if (!s.outcome.finished) {
        out.push_back(fmt::format("Stopped after {} of {} pairs: what follows is of those.", s.outcome.done, s.study.pairs()));
    }
    std::vector<std::string> solved;
    if (t.holds > 0) solved.push_back(fmt::format("{} {} within the limits that protect the input", t.holds, t.holds == 1 ? "stays" : "stay"));
    if (t.may_exceed > 0) {
        solved.push_back(fmt::format("{} may pass one (by a tolerance, or a limit that nobody states) and {} behind all others", t.may_exceed,
                                     t.may_exceed == 1 ? "is" : "are"));
    }
    if (t.none > 0) solved.push_back(fmt::format("{} {} no wiring that can be used", t.none, t.none == 1 ? "has" : "have"));
    if (t.solved > 0) {
        out.push_back(fmt::format("{} solved: {}.", counted(t.solved, "pair was", "pairs were"), listed(solved)));
    }
    if (t.no_string > 0) {
        out.push_back(fmt::format("{} no string within any input's limits, however many panels: seen from the papers alone.",
                                  counted(t.no_string, "pair has", "pairs have")));
    }
    if (t.outranked > 0) {
        out.push_back(fmt::format("{} not solved: the most that one could come to is less than the last of the list. `--every` solves them too.",
                                  counted(t.outranked, "pair was", "pairs were")));
    }
    if (t.filtered > 0) {
        out.push_back(fmt::format("{} left out by `--only {}`.", counted(t.filtered, "usable pair was", "usable pairs were"),
                                  search::name_of(s.study.request().only)));
    }
    return out;
}

Table match_table(const MatchSubject& s) {
    const MatchStudy& m = s.study;
    const bool money_known = priced(s);
    const bool kept = !m.kept().empty();
    const std::string_view by = m.request().by == MatchBy::harvest ? "most watts first"
                                : m.request().by == MatchBy::cost  ? "most watts for the money first"
                                                                   : "best filled first";
    Table table;
    table.caption = fmt::format("The pairs, {}", by);
    table.columns = {{"", false}, {"verdict", false}, {"wiring", false}, {"takes", true}};
    if (kept) table.columns.push_back({"gain", true});
    for (const char* heading : {"filled", "wasted", "cold room"}) table.columns.push_back({heading, true});
    if (money_known) {
        table.columns.push_back({"price", true});
        table.columns.push_back({"for " + money(100.0, m.currency()), true});
    }
    for (std::size_t i = 0; i < s.best.size(); ++i) {
        const search::JudgedPair& p = s.best[i];
        const PairAnswer& a = p.answer;
        Table::Row row{{fmt::format("{}. {}", i + 1, pair_name(m, a)), word_of(p.judged.judgement.verdict), plan_label(*p.setup, a.plan),
                        watts(a.harvest_w)}};
        if (kept) row.cells.push_back(signed_number(*a.gained_w, 1) + " W");
        row.cells.push_back(a.fill_ratio ? per_cent(*a.fill_ratio) : "–");
        row.cells.push_back(watts(a.wasted_w));
        row.cells.push_back(room_in_volts(a.cold_margin_v));
        if (money_known) {
            row.cells.push_back(a.price ? money(*a.price, m.currency()) : "–");
            row.cells.push_back(a.harvest_per_100_w() ? watts(*a.harvest_per_100_w()) : "–");
        }
        const std::string conditions = pair_conditions(*p.setup, a);
        if (!conditions.empty()) row.notes.push_back("needs " + conditions);
        const std::string decided = pair_decided_by(*p.setup, a);
        if (!decided.empty()) row.notes.push_back(decided);
        if (p.judged.judgement.verdict.could_exceed) row.notes.emplace_back("an assumed value could carry it past a limit that must never be passed");
        if (!a.complete) row.notes.emplace_back("not searched to the end");
        table.rows.push_back(std::move(row));
    }
    return table;
}

std::string match_legend(const MatchSubject& s) {
    std::string text =
        "takes: mean watts on a warm day, weighted over the light of a year (European weights). filled: of the most that the "
        "inputs take, what they take in full sun. wasted: mean watts that the panels in use could give and that are not taken. "
        "cold room: volts left below the input's absolute maximum on the coldest morning. ?: a tolerance or an assumed value is "
        "behind it.";
    if (priced(s)) text += fmt::format(" price: the panels to buy and the controller, without cables, fuses and labour. for {}: watts for that much of it.", money(100.0, s.study.currency()));
    if (s.study.request().by == MatchBy::fill) {
        text += " Best filled: what is taken in full sun over what the larger of both sides could, so that neither panels nor input are too large.";
    }
    if (!s.study.request().on_hand && s.study.request().by == MatchBy::harvest) {
        text += " Of each pair the fewest panels are listed that take within 1 % of what more would.";
    }
    return text;
}

std::vector<std::string> pair_reasons(const MatchSubject& s, const search::PairWhy& why) {
    const MatchStudy& m = s.study;
    const PairAnswer& own = why.pair.answer;
    const Setup& setup = *why.pair.setup;
    std::vector<std::string> out;
    if (!own.usable) {
        out.emplace_back("No wiring of it is within the stated limits.");
        if (!why.pair.plan.empty()) {
            out.push_back(fmt::format("The least bad, {}:", plan_label(setup, why.pair.plan)));
            for (std::string& reason : first_reasons(setup, why.pair.judged.judgement)) out.push_back(std::move(reason));
        }
    } else {
        out.push_back(fmt::format("{}: {}, {}.", plan_label(setup, own.plan), headline_of(setup, why.pair.judged.judgement.verdict),
                                  value_words(m, own)));
        if (why.place == std::size_t{0}) {
            out.emplace_back("It is the first on the list.");
        } else if (!s.outcome.best.empty()) {
            const PairAnswer& first = s.outcome.best.front();
            if (first.verdict.holds() && !own.verdict.holds()) {
                out.emplace_back("A tolerance or an unknown limit may carry it past what protects the input; pairs that hold come first, whatever they take.");
            } else {
                out.push_back(fmt::format("The first, {}, comes to {}.", pair_name(m, first), value_words(m, first)));
            }
            if (why.place) out.push_back(fmt::format("It is number {} on the list.", *why.place + 1));
        }
        if (!why.passes) out.push_back(fmt::format("`--only {}` leaves it out.", search::name_of(m.request().only)));
        for (std::string& reason : first_reasons(setup, why.pair.judged.judgement)) out.push_back(std::move(reason));
    }
    const std::string& panel = m.panels()[m.panel_of(own.pair)].name;
    if (why.one_more) out.push_back(changed(s, own, *why.one_more, fmt::format("{} {}", why.one_more->panels, panel)));
    if (why.one_less) out.push_back(changed(s, own, *why.one_less, fmt::format("{} {}", why.one_less->panels, panel)));
    if (why.with_class) {
        out.push_back(fmt::format("Of the usual classes of panel, {} suits this controller: {} of them fill {} of it in full sun.",
                                  usual_panels()[*why.better_class].title, why.with_class->candidates_used,
                                  why.with_class->fill_ratio ? per_cent(*why.with_class->fill_ratio) : "an unknown part"));
    } else if (!own.usable) {
        out.emplace_back("None of the usual classes of panel suits this controller either, with so many panels.");
    }
    return out;
}

}  // namespace plait::output
