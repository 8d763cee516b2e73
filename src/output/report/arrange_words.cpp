#include "arrange_words.hpp"

#include "render/display_width.hpp"
#include "render/style.hpp"

#include <algorithm>
#include <cmath>

namespace plait::output {
namespace {

std::string found_how(const search::Arrangement& a) {
    const search::Searched& s = a.searched;
    const double best_w = a.plans.front().harvest.european_w;
    const bool is_best = *a.advised == 0;
    if (!s.possible) {
        return "There are too many kinds and panels to search every mixed wiring: this is the best of equal strings of "
               "one kind per input.";
    }
    if (s.at_label) {
        return is_best ? "No wiring can take more: nothing is lost on the way from these panels to these inputs."
                       : "No wiring can take more than the first on the list.";
    }
    if (!s.finished) {
        const double more_w = s.unproven_w(best_w);
        return fmt::format(
            "The search was stopped before it had seen {}: another may bring up to {} ({}) "
            "more. --seconds N gives it more time.",
            s.count > 0.0 ? fmt::format("all {} wirings", many(s.count)) : std::string("every mixed wiring"),
            watts(more_w), per_cent_of(more_w, best_w));
    }
    const std::string all = s.count > 0.0 ? fmt::format("all {} wirings", many(s.count)) : std::string("all wirings");
    return is_best
               ? fmt::format("Of {}, mixed ones included, none takes more: searched to the end.", all)
               : fmt::format("Of {}, mixed ones included, none takes more than the first on the list: searched to the end.", all);
}

}  // namespace

std::string plan_label(const Setup& setup, const ArrayPlan& plan) {
    const std::vector<std::string> ids = kind_ids(setup);
    std::string out;
    for (std::size_t i = 0; i < plan.size(); ++i) {
        if (plan[i].empty()) continue;
        out += fmt::format("{}{} {}", out.empty() ? "" : ", ", setup.controller.inputs[i].name, label(plan[i], ids));
    }
    return out;
}

std::string plan_label(const Setup& setup, const search::Arrangement& a, const search::RankedPlan& plan) {
    return plan_label(setup, search::written_out(a, plan, setup.controller.inputs.size()));
}

std::string simpler_because(const search::RankedPlan& a, const search::RankedPlan& b) {
    if (a.joints != b.joints) {
        if (a.joints > b.joints) return "";
        return a.joints == 0 ? std::string("no strings to join in parallel")
                             : fmt::format("{} of strings in parallel instead of {}",
                                           counted(static_cast<std::size_t>(a.joints), "joint", "joints"), b.joints);
    }
    if (a.unlike != b.unlike) {
        if (a.unlike > b.unlike) return "";
        return a.unlike == 0 ? "no unlike panels in a string" : "fewer unlike panels in a string";
    }
    if (a.cold_margin_ratio > b.cold_margin_ratio) return "more room below the maximum on a cold morning";
    return "";
}

std::string many(double count) {
    if (count < 1e6) return fmt::format("{:.0f}", count);
    if (count < 1e9) return fmt::format("about {:.1f} million", count / 1e6);
    if (count < 1e12) return fmt::format("about {:.1f} thousand million", count / 1e9);
    return fmt::format("about 10^{:.0f}", std::log10(count));
}

std::string how_thorough(const search::Arrangement& a) {
    return found_how(a) + (a.searched.simplest_finished
                              ? ""
                              : " Whether a simpler wiring comes within 1 % of it was not searched "
                                "to the end.");
}

std::string simpler_sentence(const search::Arrangement& a) {
    if (!a.advised || *a.advised == 0) return "";
    const search::RankedPlan& best = a.plans.front();
    const search::RankedPlan& advised = a.plans[*a.advised];
    return fmt::format("The first on the list takes {}, this one {}. Within 1 % the simpler wiring is advised: {}.",
                       watts(best.harvest.european_w), watts(advised.harvest.european_w),
                       simpler_because(advised, best));
}

std::string conditions_of(const Setup& setup, const search::Arrangement& a, const search::RankedPlan& plan) {
    std::vector<rules::Condition> all;
    for (const std::size_t c : plan.candidates) {
        for (const rules::Condition& condition : a.candidates[c].conditions) study::add_condition(all, condition);
    }
    for (const rules::Condition& condition : plan.conditions) study::add_condition(all, condition);
    std::vector<std::string> words;
    for (const rules::Condition& condition : all) words.push_back(words_of(condition, setup));
    return joined(words, ", ");
}

std::string decided_by(const Setup& setup, const search::Arrangement& a, const search::RankedPlan& plan) {
    if (a.advised && &a.plans[*a.advised] == &plan && *a.advised > 0) return "advised: simpler, within 1 %";
    const search::Deciding& d = plan.deciding;
    if (d.rule == nullptr) return "";
    return fmt::format("{}{}{}", d.share == rules::HeadlineShare::doubts ? "not settled: " : "",
                       d.input ? setup.controller.inputs[*d.input].name + ": " : std::string(), d.rule->title);
}

}  // namespace plait::output
