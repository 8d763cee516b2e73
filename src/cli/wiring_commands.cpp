// check, parts and steps: the commands about one wiring.
#include "command.hpp"

#include <plait/output/data.hpp>
#include <plait/output/picture.hpp>
#include <plait/output/reports.hpp>
#include <plait/study/harvest_sheet.hpp>
#include <plait/study/impossible_figure.hpp>
#include <plait/study/judgement.hpp>
#include <plait/study/look_up.hpp>
#include <plait/study/parts.hpp>
#include <plait/study/steps.hpp>
#include <plait/study/window_map.hpp>

#include <algorithm>

namespace plait::cli {
namespace {

/// What every command about one wiring begins with.
struct Judged {
    const Setup& setup;
    const ArrayPlan& plan;
    study::SystemModel system;
    study::LookedUp looked_up;
    const study::Judgement& judgement;

    Judged(const Setup& s, const ArrayPlan& p)
        : setup(s), plan(p), system(s), looked_up(study::judge_and_look_up(system, p)), judgement(looked_up.judgement) {}
    Judged(const Judged&) = delete;
    Judged& operator=(const Judged&) = delete;
};

/// Reads, judges, and lets `tell` answer.
template <class Tell>
CommandResult with_judged(const WiringOptions& o, Session& session, Tell tell) {
    const Result<Setup> setup = setup_of(o.file, session);
    if (!setup) return refused(setup.error());
    const Result<ArrayPlan> plan = chosen_plan(o, *setup);
    if (!plan) return refused(plan.error());
    const Judged judged(*setup, *plan);
    if (const auto figure = study::impossible_figure(judged.system, judged.judgement)) return impossible(*figure);
    return tell(judged, exit_code_of(judged.judgement.verdict), session.provenance(o.file, o.form));
}

Result<std::string> picture_of(const WiringOptions& o, const Judged& j) {
    std::size_t input = j.judgement.inputs.front().input;
    if (o.input) {
        const Result<std::size_t> named = used_input(*o.input, j.setup, j.plan);
        if (!named) return Failure{named.error()};
        input = *named;
    }
    const auto one = std::find_if(j.judgement.inputs.begin(), j.judgement.inputs.end(),
                                  [&](const study::InputJudgement& i) { return i.input == input; });
    const study::Verdict& verdict = j.judgement.verdict;
    if (o.form.picture == "wiring") {
        return output::wiring_svg(j.setup, *one, verdict, output::PictureUse::in_file);
    }
    return output::window_map_svg(j.setup, study::window_map(j.system, input, {{one->wiring, verdict}}), verdict,
                                  output::PictureUse::in_file);
}

}  // namespace

CommandResult run_command(const CheckOptions& o, Session& session) {
    return with_judged(o, session, [&](const Judged& j, int exit_code, output::Provenance provenance) {
        std::optional<study::ClearDays> clear_days;
        if (j.setup.location) clear_days = study::clear_day_harvest(j.system, j.plan);
        const study::ClearDays* const days = clear_days ? &*clear_days : nullptr;
        const output::Report report =
            output::check_report(j.system, j.judgement, j.looked_up.look_ups, std::move(provenance), days);
        std::function<std::string()> data;
        if (o.form.json) data = [&] { return output::check_json(j.setup, j.judgement, j.looked_up.look_ups, days); };
        CommandResult result = shown(exit_code, o.form, session, report, data);
        if (o.form.svg.empty()) return result;
        Result<std::string> svg = picture_of(o, j);
        if (!svg) return refused(svg.error());
        result.files.push_back(picture_file(o.form, *std::move(svg)));
        return result;
    });
}

CommandResult run_command(const PartsOptions& o, Session& session) {
    return with_judged(o, session, [&](const Judged& j, int exit_code, output::Provenance provenance) {
        const std::vector<study::PartLine> parts = study::parts_of(j.setup, j.judgement);
        std::function<std::string()> data;
        if (o.form.json) data = [&] { return output::parts_json(j.setup, j.judgement, parts); };
        if (o.form.csv) data = [&] { return output::parts_csv(j.setup, j.judgement, parts); };
        return shown(exit_code, o.form, session, output::parts_report(j.setup, j.judgement, parts, std::move(provenance)),
                     data);
    });
}

CommandResult run_command(const StepsOptions& o, Session& session) {
    return with_judged(o, session, [&](const Judged& j, int exit_code, output::Provenance provenance) {
        const study::StepList steps = study::steps_of(j.setup, j.judgement);
        std::function<std::string()> data;
        if (o.form.json) data = [&] { return output::steps_json(j.setup, j.judgement, steps); };
        return shown(exit_code, o.form, session, output::steps_report(j.setup, j.judgement, steps, std::move(provenance)),
                     data);
    });
}

}  // namespace plait::cli
