#include "command.hpp"
#include "time_options.hpp"

#include <plait/output/data.hpp>
#include <plait/output/picture.hpp>
#include <plait/output/reports.hpp>
#include <plait/output/subjects.hpp>
#include <plait/search/harvest_gains.hpp>
#include <plait/study/harvest_sheet.hpp>
#include <plait/study/impossible_figure.hpp>
#include <plait/study/look_up.hpp>

namespace plait::cli {
namespace {

Result<std::string> picture_of(const Form& form, const output::HarvestSubject& s) {
    using study::HarvestSpan;
    const Setup& setup = s.system.setup();
    const HarvestSpan span = s.sheet.period.span;
    const study::Verdict& verdict = s.judged.judgement.verdict;
    const std::string which = !form.picture.empty()          ? form.picture
                              : span == HarvestSpan::year    ? "year"
                              : span == HarvestSpan::month   ? "carpet"
                                                             : "day";
    const auto fault = [](const char* message) {
        return Failure{Diagnostics{{"--picture", 0, 0, Complaint::no_answer, message}}};
    };
    if (which == "horizon") {
        if (setup.planes.empty()) return fault("no [[plane]] is stated, so there is no horizon to draw; add one with its horizon");
        return output::horizon_svg(setup, 0, verdict, output::PictureUse::in_file);
    }
    if (which == "day") {
        if (span != HarvestSpan::day) return fault("a picture of a day needs to know which; add --day june");
        return output::harvest_day_svg(setup, s.sheet, verdict, output::PictureUse::in_file);
    }
    if (which == "year") {
        if (span != HarvestSpan::year) return fault("a picture of a year needs one; leave --day and --month away");
        return output::harvest_year_svg(setup, s.sheet, verdict, output::PictureUse::in_file);
    }
    return output::harvest_carpet_svg(setup, s.sheet, verdict, output::PictureUse::in_file);
}

}  // namespace

CommandResult run_command(const HarvestOptions& o, Session& session) {
    Result<Setup> read = setup_of(o.file, session);
    if (!read) return refused(read.error());
    Setup setup = *std::move(read);
    const Result<ArrayPlan> plan = chosen_plan(o, setup);
    if (!plan) return refused(plan.error());
    Result<TimeLight> time = light_over(o.time, o.file, setup, session);
    if (!time) return refused(time.error());
    const study::SystemModel system(setup);
    const study::LookedUp judged = study::judge_and_look_up(system, *plan);
    if (const auto figure = study::impossible_figure(system, judged.judgement)) return impossible(*figure);
    study::HarvestSheet sheet{time->period, time->from_file, time->dimmed, std::move(time->light), {}};
    sheet.harvest = study::HarvestStudy(system, sheet.light).run(*plan);
    search::HarvestGains gains;
    // The table of hours has no place for advice.
    if (!o.form.csv || !o.form.page.empty()) {
        gains = search::harvest_gains(system, sheet.light, *plan, judged.judgement.verdict, sheet.harvest.total.delivered_wh, session.watch(o.most_seconds));
    }
    const output::HarvestSubject subject{system, *plan, judged, sheet, gains};
    std::function<std::string()> data;
    if (o.form.json) data = [&] { return output::harvest_json(subject); };
    if (o.form.csv) data = [&] { return output::harvest_csv(subject); };
    CommandResult result = shown(exit_code_of(judged.judgement.verdict), o.form, session,
                 output::harvest_report(subject, session.provenance(o.time.weather.file.empty() ? o.file : o.file + ", " + o.time.weather.file, o.form)),
                 data);
    if (o.form.svg.empty()) return result;
    Result<std::string> svg = picture_of(o.form, subject);
    if (!svg) return refused(svg.error());
    result.files.push_back(picture_file(o.form, *std::move(svg)));
    return result;
}

}  // namespace plait::cli
