#include "command.hpp"
#include "time_options.hpp"

#include <plait/input/read_wiring.hpp>
#include <plait/output/data.hpp>
#include <plait/output/picture.hpp>
#include <plait/output/reports.hpp>
#include <plait/output/subjects.hpp>
#include <plait/search/advised.hpp>
#include <plait/search/arrangement.hpp>
#include <plait/search/energy_order.hpp>
#include <plait/study/impossible_figure.hpp>
#include <plait/study/judgement.hpp>
#include <plait/study/window_map.hpp>

#include <algorithm>

namespace plait::cli {
namespace {

/// The wirings of --why, or every complaint about them.
Result<std::vector<ArrayPlan>> asked_plans(const ArrangeOptions& o, const Setup& setup) {
    std::vector<ArrayPlan> plans;
    for (const std::string& text : o.why) {
        Result<ArrayPlan> plan = input::read_wiring(text, "--why", setup);
        if (!plan) return Failure{plan.error()};
        if (std::all_of(plan->begin(), plan->end(), [](const InputWiring& w) { return w.empty(); })) {
            return Failure{Diagnostics{{"--why", 0, 0, Complaint::wiring,
                                        "'" + text + "' uses no input; name a wiring, such as \"" + wiring_example(setup).text + "\""}}};
        }
        plans.push_back(*std::move(plan));
    }
    return plans;
}

/// The picture of the advised wiring.
Result<std::string> picture_of(const ArrangeOptions& o, const study::SystemModel& system, const search::Arrangement& found,
                               const search::Advised* advised) {
    const Setup& setup = system.setup();
    if (advised == nullptr) {
        return Failure{
            Diagnostics{{"--svg", 0, 0, Complaint::no_answer, "there is no wiring to draw: none can be connected"}}};
    }
    const study::Judgement& judged = advised->judgement;
    if (o.form.picture == "trade-offs") {
        return output::trade_off_svg(setup, found, judged.verdict, output::PictureUse::in_file);
    }
    std::size_t input = judged.inputs.front().input;
    if (o.input) {
        const Result<std::size_t> named = used_input(*o.input, setup, advised->plan);
        if (!named) return Failure{named.error()};
        input = *named;
    }
    const auto one = std::find_if(judged.inputs.begin(), judged.inputs.end(),
                                  [&](const study::InputJudgement& j) { return j.input == input; });
    if (o.form.picture == "wiring") return output::wiring_svg(setup, *one, judged.verdict, output::PictureUse::in_file);
    return output::window_map_svg(setup, study::window_map(system, input, {{one->wiring, judged.verdict}}), judged.verdict,
                                  output::PictureUse::in_file);
}

}  // namespace

CommandResult run_command(const ArrangeOptions& o, Session& session) {
    Result<Setup> read = setup_of(o.file, session);
    if (!read) return refused(read.error());
    Setup with_models = *std::move(read);
    std::optional<TimeLight> time;
    if (o.by != "watts") {
        Result<TimeLight> light = light_by(o.by, o.time, o.file, with_models, session);
        if (!light) return refused(light.error());
        time = *std::move(light);
    }
    const Setup* const setup = &with_models;
    const Result<std::vector<ArrayPlan>> plans = asked_plans(o, *setup);
    if (!plans) return refused(plans.error());
    const study::SystemModel system(*setup);
    search::ArrangeRequest request;
    request.top = o.top;
    request.trade_offs = o.trade_offs || (!o.form.svg.empty() && o.form.picture == "trade-offs");
    request.keep_going = session.watch(o.most_seconds);
    search::Arrangement found = search::arrange(system, request);
    output::EnergyTime energy_time;
    const output::EnergyTime* by_energy = nullptr;
    if (time) {
        search::order_by_energy(system, time->light, request.keep_going, found);
        energy_time = {time->period, time->from_file, time->dimmed};
        by_energy = &energy_time;
    }
    const std::optional<search::Advised> judged = search::advised_of(system, found);
    const search::Advised* advised = judged ? &*judged : nullptr;
    if (advised != nullptr) {
        if (const auto figure = study::impossible_figure(system, advised->judgement)) return impossible(*figure);
    }
    std::vector<search::Asked> asked;
    for (const ArrayPlan& plan : *plans) asked.push_back({plan, study::judge_and_look_up(system, plan).judgement});
    std::function<std::string()> data;
    if (o.form.json) data = [&] { return output::arrange_json(system, found, advised, asked, o.top, o.all, by_energy); };
    // By the wiring it advises: dangerous ones on the list are no failure.
    const int exit_code =
        advised == nullptr ? Exit::limit_broken : exit_code_of(advised->judgement.verdict);
    CommandResult result = shown(
        exit_code, o.form, session,
        output::arrange_report(system, found, advised, asked, {o.top, o.all, by_energy}, session.provenance(o.file, o.form)), data);
    if (o.form.svg.empty()) return result;
    Result<std::string> svg = picture_of(o, system, found, advised);
    if (!svg) return refused(svg.error());
    result.files.push_back(picture_file(o.form, *std::move(svg)));
    return result;
}

}  // namespace plait::cli
