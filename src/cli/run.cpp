#include <plait/cli/run.hpp>

#include <plait/input/read_panel.hpp>
#include <plait/input/read_wiring.hpp>
#include <plait/output/json.hpp>
#include <plait/output/page.hpp>
#include <plait/output/picture.hpp>
#include <plait/output/text.hpp>
#include <plait/output/work.hpp>

#include "commands.hpp"
#include "options.hpp"

#include <algorithm>
#include <exception>
#include <utility>

namespace plait::cli {
namespace {

bool breaks_a_limit(rules::Outcome outcome) { return outcome >= rules::Outcome::falls_short; }

std::string map_of(const study::SystemModel& system, std::size_t input, const std::vector<study::MapEntry>& entries) {
    return output::window_map_svg(system.setup(), study::window_map(system, input, entries), output::PictureUse::in_file);
}

/// The advised wiring of one input.
std::string advised_drawing(const study::SystemModel& system, const search::Arrangement& found, std::size_t input) {
    const std::size_t inputs = system.setup().controller.inputs.size();
    const study::Judgement judgement =
        study::judge(system, search::written_out(found, found.plans[*found.advised], inputs));
    const auto one = std::find_if(judgement.inputs.begin(), judgement.inputs.end(),
                                  [&](const study::InputJudgement& j) { return j.input == input; });
    return output::wiring_svg(system.setup(), *one, output::PictureUse::in_file);
}

CommandResult parts(const Options& o, const Setup& setup, const study::Judgement& judgement, output::Colour colour) {
    const std::vector<study::PartLine> list = study::parts_of(setup, judgement);
    CommandResult result{breaks_a_limit(judgement.outcome) ? Exit::limit_broken : Exit::all_within,
            o.csv    ? output::parts_csv(list)
            : o.json ? output::parts_json(setup, judgement, list)
                     : output::parts_text(setup, judgement, list, colour),
            ""};
    if (!o.page.empty()) result.files.push_back({o.page, output::parts_page(setup, judgement, list), output::page_mark});
    return result;
}

CommandResult steps(const Options& o, const Setup& setup, const study::Judgement& judgement, output::Colour colour) {
    const study::StepList list = study::steps_of(setup, judgement);
    CommandResult result{breaks_a_limit(judgement.outcome) ? Exit::limit_broken : Exit::all_within,
            o.json ? output::steps_json(setup, judgement, list) : output::steps_text(setup, judgement, list, colour),
            ""};
    if (!o.page.empty()) result.files.push_back({o.page, output::steps_page(setup, judgement, list), output::page_mark});
    return result;
}

/// The commands about one wiring.
CommandResult judged(const Options& o, const Setup& setup, output::Colour colour) {
    const Result<ArrayPlan> plan = chosen_plan(o, setup);
    if (!plan) return refused(plan.error());
    const study::SystemModel system(setup);
    const study::Judgement judgement = study::judge(system, *plan);
    if (o.command == Command::parts) return parts(o, setup, judgement, colour);
    if (o.command == Command::steps) return steps(o, setup, judgement, colour);
    CommandResult result{breaks_a_limit(judgement.outcome) ? Exit::limit_broken : Exit::all_within,
            o.json ? output::check_json(setup, judgement) : output::check_text(setup, judgement, colour), ""};
    if (!o.page.empty()) result.files.push_back({o.page, output::check_page(system, judgement), output::page_mark});
    if (!o.svg.empty()) {
        const auto pictured = std::find_if(judgement.inputs.begin(), judgement.inputs.end(), [&](const auto& one) {
            return !o.input || setup.controller.inputs[one.input].name == *o.input;
        });
        if (pictured == judgement.inputs.end()) return refused("--input", "'" + *o.input + "' is no input in use");
        result.files.push_back({o.svg,
                             o.picture == "wiring"
                                 ? output::wiring_svg(setup, *pictured, output::PictureUse::in_file)
                                 : map_of(system, pictured->input, {{pictured->wiring, pictured->outcome}}),
                             output::picture_mark});
    }
    return result;
}

CommandResult arrange(const Options& o, const Setup& setup, const World& world, output::Colour colour) {
    std::vector<ArrayPlan> asked_plans;
    for (const std::string& text : o.why) {
        Result<ArrayPlan> plan = input::read_wiring(text, "--why", setup);
        if (!plan) return refused(plan.error());
        if (std::all_of(plan->begin(), plan->end(), [](const InputWiring& w) { return w.empty(); })) {
            return refused("--why", "'" + text + "' uses no input; name a wiring, such as 2s1p");
        }
        asked_plans.push_back(*std::move(plan));
    }
    const study::SystemModel system(setup);
    search::ArrangeRequest request;
    request.top = o.top;
    request.trade_offs = o.trade_offs || (!o.svg.empty() && o.picture == "trade-offs");
    if (world.watch) request.keep_going = world.watch(o.most_seconds);
    const search::Arrangement found = search::arrange(system, request);
    std::vector<search::Asked> asked;
    for (ArrayPlan& plan : asked_plans) {
        study::Judgement judgement = study::judge(system, plan);
        asked.push_back({std::move(plan), std::move(judgement)});
    }
    // The ranking answers "is there a wiring within the limits?"; dangerous ones on the list are no failure.
    const bool none = found.plans.empty() || breaks_a_limit(found.plans.front().outcome);
    CommandResult result{none ? Exit::limit_broken : Exit::all_within,
            o.json ? output::arrange_json(system, found, asked, o.top, o.all)
                   : output::arrange_text(system, found, o.top, o.all, colour) +
                         output::why_text(system, found, asked, colour),
            ""};
    if (!o.page.empty())
        result.files.push_back({o.page, output::arrange_page(system, found, asked, o.top), output::page_mark});
    if (!o.svg.empty()) {
        if (!found.advised) return refused("--svg", "there is no wiring to draw: none can be connected");
        const search::RankedPlan& plan = found.plans[*found.advised];
        std::size_t candidate = plan.candidates.front();
        for (const std::size_t c : plan.candidates) {
            if (o.input && setup.controller.inputs[found.candidates[c].input].name == *o.input) candidate = c;
        }
        const search::Candidate& one = found.candidates[candidate];
        if (o.input && setup.controller.inputs[one.input].name != *o.input) {
            return refused("--input", "'" + *o.input + "' is no input in use by the advised wiring");
        }
        result.files.push_back({o.svg,
                             o.picture == "trade-offs"
                                 ? output::trade_off_svg(setup, found, output::PictureUse::in_file)
                             : o.picture == "wiring" ? advised_drawing(system, found, one.input)
                                                     : map_of(system, one.input, {{one.wiring, one.outcome}}),
                             output::picture_mark});
    }
    return result;
}

CommandResult panel(const Options& o, const std::string& text, output::Colour colour) {
    const Result<input::PanelFile> read = input::read_panel(text, o.file);
    if (!read) return refused(read.error());
    const study::PanelSheet sheet = study::panel_sheet(read->panel, CurveMethod::prior_ideality);
    CommandResult result{Exit::all_within,
            o.json ? output::panel_json(sheet, read->assumptions, read->doubts)
                   : output::panel_text(sheet, read->assumptions, read->doubts, colour),
            ""};
    if (!o.page.empty()) {
        result.files.push_back({o.page, output::panel_page(sheet, read->assumptions, read->doubts), output::page_mark});
    }
    return result;
}

CommandResult run_command(const Options& o, const World& world) {
    const bool coloured = o.colour == "always" || (o.colour == "auto" && world.colour);
    const output::Colour colour = coloured ? output::Colour::on : output::Colour::off;
    if (o.command == Command::compare) return compare(o, world, colour);
    if (o.command == Command::learn) return learn(o, world, colour);
    const Result<std::string, std::string> text = world.read_file(o.file);
    if (!text) return refused(o.file, text.error());
    if (o.command == Command::panel) return panel(o, *text, colour);
    const Result<Setup> setup = input::read_setup(*text, o.file, world.read_file);
    if (!setup) return refused(setup.error());
    switch (o.command) {
        case Command::check:
        case Command::parts:
        case Command::steps:
            return judged(o, *setup, colour);
        case Command::curve:
            return curve(o, *setup, colour);
        case Command::expect:
            return expect(o, *setup, colour);
        case Command::explain:
            return explain(o, *setup, world, colour);
        case Command::arrange:
        case Command::learn:
        case Command::panel:
        case Command::compare:
            break;
    }
    return arrange(o, *setup, world, colour);
}

}  // namespace

CommandResult run(const std::vector<std::string>& arguments, const World& world) {
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
