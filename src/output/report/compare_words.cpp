#include "compare_words.hpp"

#include "arrange_words.hpp"
#include "check_words.hpp"
#include "curve_doubts.hpp"
#include "parts_of_reports.hpp"
#include "render/display_width.hpp"
#include "render/style.hpp"
#include "verdict_words.hpp"

#include <algorithm>
#include <cmath>

namespace plait::output {
namespace {

using search::ComparedPlan;
using search::ComparedSetup;
using search::Comparison;

template <class Say>
std::string listed(const std::vector<std::size_t>& setups, Say say) {
    std::vector<std::string> parts;
    for (const std::size_t i : setups) parts.push_back(say(i));
    return output::listed(parts);
}

std::string amount(double money) {
    const bool whole = std::abs(money - std::round(money)) < 0.005;
    return fmt::format("{:.{}f}", money, whole ? 0 : 2);
}

std::string amount(double money, const std::string& currency) {
    return amount(money) + (currency.empty() ? "" : " " + currency);
}

/// "A, the next, 512.0 W": the best of those that do not lead, empty when all do.
template <class Value>
std::string next_one(const std::vector<std::size_t>& among, const std::vector<std::size_t>& lead, Value value) {
    const std::size_t* next = nullptr;
    for (const std::size_t& i : among) {
        if (std::find(lead.begin(), lead.end(), i) != lead.end()) continue;
        if (next == nullptr || value(i) > value(*next)) next = &i;
    }
    if (next == nullptr) return "";
    return fmt::format("; {}, the next, {}", letter(*next), watts(value(*next)));
}

std::string harvest_sentence(const Comparison& c) {
    const auto harvest_w = [&](std::size_t i) { return c.setups[i].plan->judgement.harvest.european_w; };
    const bool one = c.most_harvest.size() == 1;
    return fmt::format("{} take{} most{}: {}{}.", listed(c.most_harvest, letter), one ? "s" : "",
                       one ? "" : ", within 1 % of each other",
                       listed(c.most_harvest, [&](std::size_t i) { return watts(harvest_w(i)); }),
                       next_one(c.usable, c.most_harvest, harvest_w));
}

std::string room_sentence(const std::vector<NamedSetup>& named, const Comparison& c) {
    const ComparedPlan& p = *c.setups[c.most_room.front()].plan;
    if (!std::isfinite(p.cold_margin_v)) return "Nobody knows the room in the cold: each set-up has an input without a maximum.";
    if (c.most_room.size() > 1) {
        return fmt::format("{} have the most room in the cold: {} of the input's maximum is left.",
                           listed(c.most_room, letter), per_cent(p.cold_margin_ratio));
    }
    return fmt::format("{} has the most room in the cold: {} of the maximum of {} is left, {}.",
                       letter(c.most_room.front()), per_cent(p.cold_margin_ratio),
                       named[c.most_room.front()].setup->controller.inputs[p.cold_input].name, room_in_volts(p.cold_margin_v));
}

std::string money_sentence(const Comparison& c, const search::MoneyGroup& g) {
    const auto per_100_w = [&](std::size_t i) { return c.setups[i].plan->harvest_per_100_w(); };
    const std::string hundred = amount(100.0, g.currency);
    if (g.setups.size() == 1) {
        return fmt::format("{} takes {} for {}; no other that can be used has a cost in the same money.",
                           letter(g.setups.front()), watts(per_100_w(g.setups.front())), hundred);
    }
    const bool one = g.best.size() == 1;
    return fmt::format("{} cost{} least for each watt{}: {} for {}{}.", listed(g.best, letter),
                       one ? "s" : "", one ? "" : ", within 1 % of each other",
                       listed(g.best, [&](std::size_t i) { return watts(per_100_w(i)); }), hundred,
                       next_one(g.setups, g.best, per_100_w));
}

bool same_weather(const Site& a, const Site& b) {
    return a.coldest_air.degc == b.coldest_air.degc && a.warm_air.degc == b.warm_air.degc && a.mounting == b.mounting &&
           a.cold_method == b.cold_method && a.flat_factor_ratio == b.flat_factor_ratio;
}

std::string how_thorough(const search::Searched& s, double harvest_w) {
    if (!s.possible) {
        return "The best of equal strings of one kind per input: there are too many kinds and panels to search more.";
    }
    if (s.at_label || s.finished) return "No wiring of these panels on these inputs takes over 1 % more: searched to the end.";
    return fmt::format(
        "The search was stopped: another wiring may bring up to {} more. --seconds N gives it more time.",
        watts(s.unproven_w(harvest_w)));
}

}  // namespace

std::string letter(std::size_t i) { return {static_cast<char>('A' + static_cast<char>(i))}; }

std::vector<std::string> leader_sentences(const std::vector<NamedSetup>& named, const Comparison& c) {
    if (c.usable.empty()) {
        return {"None of these set-ups has a wiring here that stays within its stated limits."};
    }
    std::vector<std::string> out;
    if (c.usable.size() == 1) {
        out.emplace_back(fmt::format("Only {} has a wiring here that stays within its stated limits: it takes {}.",
                                     letter(c.usable.front()),
                                     watts(c.setups[c.usable.front()].plan->judgement.harvest.european_w)));
    } else {
        out.push_back(harvest_sentence(c));
        out.push_back(room_sentence(named, c));
    }
    const Site& first = named.front().setup->site;
    if (!std::all_of(named.begin(), named.end(),
                     [&](const NamedSetup& n) { return same_weather(first, n.setup->site); })) {
        out.emplace_back(
            "The sites differ: each is counted on its own warm day and is judged on its own coldest morning.");
    }
    for (const search::MoneyGroup& g : c.money) out.emplace_back(money_sentence(c, g));
    if (c.money.size() > 1) out.emplace_back("Amounts in different currencies are not compared with each other.");
    if (!any_prices(c)) return out;
    std::vector<std::string> missing;
    for (std::size_t i = 0; i < c.setups.size(); ++i) {
        const ComparedSetup& s = c.setups[i];
        if (!s.priced) {
            missing.push_back(letter(i) + " (no prices in the file)");
        } else if (s.plan && !s.plan->cost) {
            missing.push_back(fmt::format("{} (no price of {})", letter(i), listed(s.plan->unpriced)));
        }
    }
    if (!missing.empty()) out.emplace_back(fmt::format("No cost is known for {}; add `price`.", listed(missing)));
    return out;
}

std::string setup_name(const NamedSetup& named) {
    return named.setup->title.empty() ? named.file : named.setup->title + " (" + named.file + ")";
}

std::string what_there_is(const NamedSetup& named, const ComparedSetup& s) {
    return fmt::format("{}; {} on hand; coldest morning {}", named.setup->controller.name,
                       counted(static_cast<std::size_t>(s.panels_on_hand), "panel", "panels"),
                       degrees(named.setup->site.coldest_air));
}

std::vector<std::string> setup_sentences(const NamedSetup& named, const ComparedSetup& s) {
    if (!s.plan) return {"`plait arrange` on the file says what stands in the way."};
    const Setup& setup = *named.setup;
    const study::Judgement& j = s.plan->judgement;
    std::vector<std::string> out;
    if (j.verdict.could_exceed) out.emplace_back(could_exceed_words);
    for (std::string& reason : first_reasons(setup, j)) out.push_back(std::move(reason));
    if (s.searched) out.push_back(how_thorough(*s.searched, j.harvest.european_w));
    std::vector<std::string> notes;
    if (!j.assumptions.empty())
        notes.push_back(counted(j.assumptions.size(), "value was assumed", "values were assumed"));
    const std::size_t doubts = all_doubts(setup, j.curves).size();
    if (doubts > 0) notes.push_back(counted(doubts, "figure is doubtful", "figures are doubtful"));
    if (!notes.empty()) out.push_back(listed(notes) + "; `plait check` names them.");
    return out;
}

Table harvest_table(const Comparison& c) {
    Table table = table_of("Where the watts go",
                           {"", "#on hand", "#unused", "#mismatch", "#cables", "#inputs", "#shared", "#takes", "#CEC"});
    for (std::size_t i = 0; i < c.setups.size(); ++i) {
        if (!c.setups[i].plan) {
            table.rows.push_back({std::vector<std::string>(table.columns.size(), "–")});
            table.rows.back().cells.front() = letter(i);
            continue;
        }
        const ComparedPlan& p = *c.setups[i].plan;
        const study::HarvestAccount& a = p.account;
        table.rows.push_back({{letter(i), watts(a.on_hand_w), watts(a.unused_w), watts(a.mismatch_w), watts(a.cables_w),
                               watts(a.inputs_w), watts(a.shared_w), watts(p.judgement.harvest.european_w),
                               watts(p.judgement.harvest.cec_w)}});
    }
    return table;
}

Table wiring_table(const Comparison& c) {
    const bool money = any_prices(c);
    std::vector<std::vector<std::string>> rows{{"", "cold room", "share", "to touch", "panels", "joints", "fuses"}};
    if (money) rows.front().insert(rows.front().end(), {"cost", "for 100"});
    for (std::size_t i = 0; i < c.setups.size(); ++i) {
        std::vector<std::string>& row = rows.emplace_back(rows.front().size(), "–");
        row[0] = letter(i);
        if (!c.setups[i].plan) continue;
        const ComparedPlan& p = *c.setups[i].plan;
        row[1] = room_in_volts(p.cold_margin_v);
        row[2] = per_cent(p.cold_margin_ratio);
        row[3] = volts(p.highest_cold_voc_v);
        row[4] = fmt::format("{} of {}", p.panels_used, c.setups[i].panels_on_hand);
        row[5] = fmt::format("{}", p.joints);
        row[6] = fmt::format("{}", p.fuses);
        if (money && p.cost) {
            row[7] = amount(p.cost->total_price(), p.cost->currency);
            row[8] = watts(p.harvest_per_100_w());
        }
    }
    Table table{"What the wirings are like", {{"", false}}, {}};
    for (std::size_t k = 1; k < rows.front().size(); ++k) table.columns.push_back({rows.front()[k], true});
    for (std::size_t i = 1; i < rows.size(); ++i) table.rows.push_back({std::move(rows[i])});
    return table;
}

std::string comparison_legend(const Comparison& c) {
    std::string text =
        "on hand: mean watts all panels would give one by one on a warm day, weighted over the light of a year "
        "(European weights); takes is what is left of it, the inputs' mean watts. unused: of panels left out or in the shade. mismatch: lost "
        "because panels are tied together. cables: left in them. inputs: lost to the inputs' voltages and limits. "
        "shared: lost to the limit on all inputs together. CEC: the same by the CEC weights. cold room: volts left "
        "below an input's absolute maximum on the coldest morning, and their share of it. to touch: the highest "
        "voltage then. joints: strings beyond the first of an input, a pair of branch connectors each. fuses: strings "
        "that want or have one. ?: it rests on a tolerance or an assumed value.";
    if (any_prices(c)) {
        text +=
            " cost: the panels in use and the controller, without cables, fuses and labour. for 100: watts for 100 "
            "of the currency.";
    }
    return text;
}

}  // namespace plait::output
