#include <plait/output/text.hpp>

#include "arrange_words.hpp"
#include "compare_words.hpp"
#include "curve_doubts.hpp"
#include "render/style.hpp"

#include <algorithm>

namespace plait::output {
namespace {

using rules::Outcome;

std::string wirings(std::size_t n) { return fmt::format("{} {}", n, n == 1 ? "wiring" : "wirings"); }

std::string line(const study::SystemModel& system, const search::Arrangement& a, const search::RankedPlan& plan,
                 std::size_t rank, std::size_t width, Colour colour) {
    std::string word(word_of(plan.outcome));
    if (!plan.proven) word += " ?";
    return fmt::format("{} {} {} {} {} {} {}  {}\n", padded_left(rank > 0 ? fmt::format("{}", rank) : "–", 4),
                       padded(plan_label(system.setup(), a, plan), width),
                       coloured(padded(word, 13), plan.outcome, colour),
                       padded_left(watts(plan.harvest.european_w), 10),
                       padded_left(fmt::format("{:.1f} %", plan.lost_ratio * 100.0), 7),
                       padded_left(fmt::format("{}", plan.panels_used), 3), padded_left(volts(plan.cold_margin_v), 10),
                       decided_by(system, a, plan));
}

std::string trade_offs_text(const study::SystemModel& system, const search::Arrangement& a, Colour colour) {
    if (a.trade_offs.empty()) return "";
    const Setup& setup = system.setup();
    std::size_t width = 24;
    for (const search::TradeOff& t : a.trade_offs) {
        width = std::max(width, columns(plan_label(setup, a, a.plans[t.plan])));
    }
    std::string out =
        "\n" + bold(fmt::format("{}: none of these is better than another in everything.", trade_off_heading), colour) +
        "\n";
    out += bold(fmt::format("   {} {} {} {} {} {} {} {}", padded("wiring", width), padded_left("harvest", 9),
                            padded_left("one shaded", 11), padded_left("worst", 9), padded_left("cold room", 10),
                            padded_left("to touch", 9), padded_left("joints", 7), padded_left("fuses", 6)),
                colour) +
           "\n";
    std::size_t number = 0;
    for (const search::TradeOff& t : a.trade_offs) {
        const search::RankedPlan& p = a.plans[t.plan];
        out += fmt::format("{}  {} {} {} {} {} {} {} {}\n", ++number, padded(plan_label(setup, a, p), width),
                           padded_left(watts(p.harvest.european_w), 9), padded_left(watts(t.one_shaded_mean_w), 11),
                           padded_left(watts(t.one_shaded_worst_w), 9), padded_left(volts(p.cold_margin_v), 10),
                           padded_left(volts(p.highest_cold_voc_v), 9), padded_left(fmt::format("{}", p.joints), 7),
                           padded_left(fmt::format("{}", p.fuses), 6));
    }
    out += "\n" + wrapped(trade_off_legend, 0) + "\n";
    return out;
}

}  // namespace

std::string arrange_text(const study::SystemModel& system, const search::Arrangement& a, std::size_t top, bool all,
                         Colour colour) {
    const Setup& setup = system.setup();
    std::size_t usable = 0;
    std::size_t short_of = 0;
    std::size_t over = 0;
    for (const search::RankedPlan& p : a.plans) {
        ++(p.outcome == Outcome::exceeds ? over : p.outcome == Outcome::falls_short ? short_of : usable);
    }
    std::string out;
    if (usable == 0) {
        out += bold(none_within, colour) + "\n";
    } else {
        const search::RankedPlan& advised = a.plans[*a.advised];
        out += fmt::format("{}  {}\n", coloured(word_of(advised.outcome), advised.outcome, colour),
                           plan_label(setup, a, advised));
        out += wrapped(fmt::format("{} {}", standing(a), sentence_of(advised.outcome, advised.proven)), 0) + "\n";
        const std::string simpler = simpler_sentence(a);
        if (!simpler.empty()) out += wrapped(simpler, 0) + "\n";
    }
    const std::vector<study::Caution> cautions = study::cautions_for(
        setup, usable > 0 ? search::written_out(a, a.plans[*a.advised], setup.controller.inputs.size()) : ArrayPlan{});
    if (usable > 0) out += wrapped("! " + cautions.front().text, 0) + "\n";
    out += wrapped(fmt::format("! {}", read_check_first), 0) + "\n\n";

    const std::size_t shown = all ? a.plans.size() : std::min(top, usable > 0 ? usable : short_of);
    // The dangerous ones are named even in the short list: a person looks for the one they had in mind.
    std::vector<std::size_t> warned;
    if (!all) {
        for (std::size_t i = usable + short_of; i < a.plans.size() && warned.size() < 3; ++i) warned.push_back(i);
    }
    std::size_t width = 24;
    for (std::size_t i = 0; i < shown; ++i) width = std::max(width, columns(plan_label(system.setup(), a, a.plans[i])));
    for (const std::size_t i : warned) width = std::max(width, columns(plan_label(system.setup(), a, a.plans[i])));
    out += bold(fmt::format("{} {} {} {} {} {} {}  {}", padded_left("", 4), padded("wiring", width),
                            padded("verdict", 13), padded_left("harvest", 10), padded_left("lost", 7),
                            padded_left("n", 3), padded_left("cold room", 10), "decided by"),
                colour) +
           "\n";
    for (std::size_t i = 0; i < shown; ++i) {
        const bool connectable = a.plans[i].outcome < Outcome::falls_short;
        out += line(system, a, a.plans[i], connectable ? i + 1 : 0, width, colour);
    }
    if (!all) {
        if (usable > shown)
            out += fmt::format("     … {} more that can be used; --top N or --all shows them\n", usable - shown);
        if (short_of > 0 && usable > 0) out += fmt::format("     … {} fall short\n", short_of);
        if (over > 0)
            out += "\n" +
                   coloured(fmt::format("Do not connect: {} {} a limit, among them", wirings(over),
                                        over == 1 ? "exceeds" : "exceed"),
                            Outcome::exceeds, colour) +
                   "\n";
        for (const std::size_t i : warned) out += line(system, a, a.plans[i], 0, width, colour);
    }
    out += trade_offs_text(system, a, colour);
    out += "\n" + wrapped(ranking_legend, 0) + "\n";
    if (a.thinned) {
        out += wrapped(thinned_sentence, 0) + "\n";
    }
    out += assumptions_text(study::all_assumptions(system), colour);
    out += doubts_text(all_doubts(setup, study::curves_of(system)), colour);
    out += "\n" + wrapped(deferral, 0) + "\n";
    return out;
}

}  // namespace plait::output
