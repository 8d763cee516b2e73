#include <plait/cli/run.hpp>

#include <plait/input/read_panel.hpp>
#include <plait/input/read_wiring.hpp>
#include <plait/output/json.hpp>
#include <plait/output/text.hpp>

#include "commands.hpp"
#include "options.hpp"

#include <algorithm>
#include <exception>
#include <utility>

namespace plait::cli {
namespace {

bool breaks_a_limit(rules::Outcome outcome) { return outcome >= rules::Outcome::falls_short; }

Ran check(const Options& o, const Setup& setup, output::Colour colour) {
    const Result<ArrayPlan> plan = chosen_plan(o, setup);
    if (!plan) return refused(plan.error());
    const study::Bench bench(setup);
    const study::Judgement judgement = study::judge(bench, *plan);
    return {breaks_a_limit(judgement.outcome) ? Exit::limit_broken : Exit::all_within,
            o.json ? output::check_json(setup, judgement) : output::check_text(setup, judgement, colour), ""};
}

Ran arrange(const Options& o, const Setup& setup, const World& world, output::Colour colour) {
    std::vector<ArrayPlan> asked_plans;
    for (const std::string& text : o.why) {
        Result<ArrayPlan> plan = input::read_wiring(text, "--why", setup);
        if (!plan) return refused(plan.error());
        if (std::all_of(plan->begin(), plan->end(), [](const InputWiring& w) { return w.empty(); })) {
            return refused("--why", "'" + text + "' uses no input; name a wiring, such as 2s1p");
        }
        asked_plans.push_back(*std::move(plan));
    }
    const study::Bench bench(setup);
    study::ArrangeRequest request;
    request.top = o.top;
    request.trade_offs = o.trade_offs;
    if (world.watch) request.keep_going = world.watch(o.most_seconds);
    const study::Arrangement found = study::arrange(bench, request);
    std::vector<study::Asked> asked;
    for (ArrayPlan& plan : asked_plans) {
        study::Judgement judgement = study::judge(bench, plan);
        asked.push_back({std::move(plan), std::move(judgement)});
    }
    // The ranking answers "is there a wiring within the limits?"; dangerous ones on the list are no failure.
    const bool none = found.plans.empty() || breaks_a_limit(found.plans.front().outcome);
    return {none ? Exit::limit_broken : Exit::all_within,
            o.json ? output::arrange_json(bench, found, asked, o.top, o.all)
                   : output::arrange_text(bench, found, o.top, o.all, colour) +
                         output::why_text(bench, found, asked, colour),
            ""};
}

Ran panel(const Options& o, const std::string& text, output::Colour colour) {
    const Result<input::PanelFile> read = input::read_panel(text, o.file);
    if (!read) return refused(read.error());
    const study::PanelSheet sheet = study::panel_sheet(read->panel, CurveMethod::prior_ideality);
    return {Exit::all_within,
            o.json ? output::panel_json(sheet, read->assumptions, read->doubts)
                   : output::panel_text(sheet, read->assumptions, read->doubts, colour),
            ""};
}

Ran run_command(const Options& o, const World& world) {
    const bool coloured = o.colour == "always" || (o.colour == "auto" && world.colour);
    const output::Colour colour = coloured ? output::Colour::on : output::Colour::off;
    if (o.command == Command::compare) return compare(o, world, colour);
    const Result<std::string, std::string> text = world.read_file(o.file);
    if (!text) return refused(o.file, text.error());
    if (o.command == Command::panel) return panel(o, *text, colour);
    const Result<Setup> setup = input::read_setup(*text, o.file, world.read_file);
    if (!setup) return refused(setup.error());
    switch (o.command) {
        case Command::check:
            return check(o, *setup, colour);
        case Command::curve:
            return curve(o, *setup, colour);
        case Command::arrange:
        case Command::panel:
        case Command::compare:
            break;
    }
    return arrange(o, *setup, world, colour);
}

}  // namespace

Ran run(const std::vector<std::string>& arguments, const World& world) {
    try {
        const Typed typed = read_options(arguments);
        if (!typed.options) {
            const bool good = typed.exit_code == 0;
            return {typed.exit_code, good ? typed.text : "", good ? "" : typed.text};
        }
        return run_command(*typed.options, world);
    } catch (const std::exception& e) {
        return {Exit::bug, "",
                std::string("plait: internal error, please report it with the files you used: ") + e.what() + "\n"};
    }
}

}  // namespace plait::cli
