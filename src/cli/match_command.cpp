#include "command.hpp"
#include "match_files.hpp"

#include <plait/input/clean_text.hpp>
#include <plait/output/match.hpp>
#include <plait/search/match_why.hpp>
#include <plait/study/impossible_figure.hpp>
#include <plait/study/window_map.hpp>

#include <fmt/core.h>

#include <algorithm>
#include <utility>

namespace plait::cli {
namespace {

constexpr int usual_most = 12;  // of a class of panel, for a controller alone

std::string named_files(const MatchOptions& o) {
    constexpr std::size_t most_named = 4;
    if (o.files.size() <= most_named) return joined(o.files, ", ");
    return joined({o.files.begin(), o.files.begin() + 2}, ", ") + fmt::format(" and {} more", o.files.size() - 2);
}

/// What was typed of the options that have no use for a controller alone.
std::optional<std::string> no_use_for_one(const MatchOptions& o) {
    if (o.on_hand) return "--on-hand";
    if (o.lines) return "--lines";
    if (o.form.csv) return "--csv";
    if (o.every) return "--every";
    if (!o.why.empty()) return "--why";
    if (o.by != "harvest") return "--by";
    if (o.only != "usable") return "--only";
    return std::nullopt;
}

CommandResult wants(const MatchOptions& o, const MatchFiles& files, Session& session) {
    if (!o.form.picture.empty())
        return refused("--picture", Complaint::option, "a controller alone has one picture; leave --picture away");
    if (const auto option = no_use_for_one(o))
        return refused(*option, Complaint::option, "it is about pairs of panels and controllers; name panel files too");
    const CatalogueController& controller = files.controllers.front();
    const bool typed = std::any_of(o.form.changes.begin(), o.form.changes.end(), [](const std::string& c) { return c.rfind("--up-to", 0) == 0; });
    const int most = typed ? o.up_to : usual_most;
    Setup bare;
    bare.controller = controller.controller;
    bare.site = files.site.site;
    output::WantsSubject subject{controller, files.site, {}, search::class_answers(controller, files.site, most), most, std::move(bare)};
    for (std::size_t i = 0; i < controller.controller.inputs.size(); ++i) {
        subject.inputs.push_back(study::input_wants(controller, i, files.site));
    }
    std::function<std::string()> data;
    if (o.form.json) data = [&] { return output::wants_json(subject); };
    CommandResult result = shown(Exit::all_within, o.form, session, output::wants_report(subject, session.provenance(named_files(o), o.form)), data);
    if (!o.form.svg.empty()) {
        result.files.push_back(picture_file(o.form, output::wants_svg(subject.bare, subject.inputs.front(), output::PictureUse::in_file)));
    }
    return result;
}

/// The pair behind "PANEL on CONTROLLER".
Result<std::size_t> asked_pair(const std::string& typed, const search::MatchStudy& study) {
    constexpr std::string_view between = " on ";
    const auto fault = [&](Complaint kind, const std::string& message) {
        return Failure{Diagnostics{{"--why", 0, 0, kind, "'" + typed + "' " + message}}};
    };
    // The names themselves may hold the word.
    bool panel_known = false;
    bool known_twice = false;
    std::optional<std::size_t> found;
    for (std::size_t at = typed.find(between); at != std::string::npos; at = typed.find(between, at + 1)) {
        const std::string_view panel = std::string_view(typed).substr(0, at);
        const std::string_view controller = std::string_view(typed).substr(at + between.size());
        for (std::size_t p = 0; p < study.panels().size(); ++p) {
            if (!means_file(panel, study.panels()[p].file)) continue;
            panel_known = true;
            for (std::size_t c = 0; c < study.controllers().size(); ++c) {
                if (!means_file(controller, study.controllers()[c].file)) continue;
                known_twice = found.has_value();
                found = p * study.controllers().size() + c;
            }
        }
    }
    if (known_twice) return fault(Complaint::ambiguous, "may be several pairs; write the whole paths");
    if (found) return *found;
    if (typed.find(between) == std::string::npos)
        return fault(Complaint::grammar, "is no pair; write the names of both files: --why \"roof-430 on box\"");
    return fault(Complaint::unknown_word, panel_known
                                              ? "names no controller file that was read; write its name after \" on \""
                                              : "names no panel file that was read; write its name before \" on \"");
}

search::MatchRequest request_of(const MatchOptions& o) {
    search::MatchRequest r;
    for (const auto& name : search::match_by_names) {
        if (name.text == o.by) r.by = name.value;
    }
    for (const auto& name : search::match_only_names) {
        if (name.text == o.only) r.only = name.value;
    }
    r.panels = o.on_hand.value_or(o.up_to);
    r.on_hand = o.on_hand.has_value();
    r.top = o.top;
    r.every = o.every;
    return r;
}

Result<std::string> picture_of(const MatchOptions& o, const std::vector<search::JudgedPair>& best) {
    if (best.empty())
        return Failure{
            Diagnostics{{"--svg", 0, 0, Complaint::no_answer, "there is no pair to draw: none can be used"}}};
    const search::JudgedPair& p = best.front();
    const study::Judgement& j = p.judged.judgement;
    const study::InputJudgement& one = j.inputs.front();
    if (o.form.picture == "wiring") return output::wiring_svg(*p.setup, one, j.verdict, output::PictureUse::in_file);
    return output::window_map_svg(*p.setup, study::window_map(*p.system, one.input, {{one.wiring, j.verdict}}), j.verdict, output::PictureUse::in_file);
}

}  // namespace

CommandResult run_command(const MatchOptions& o, Session& session) {
    Result<MatchFiles> read = match_files(o, session);
    if (!read) return refused(read.error());
    MatchFiles files = *std::move(read);
    if (files.panels.empty()) return wants(o, files, session);
    const search::MatchStudy study(std::move(files.panels), std::move(files.controllers), std::move(files.site), files.currency, std::move(files.kept),
                                   request_of(o));
    std::vector<std::size_t> asked;
    Diagnostics complaints;
    for (const std::string& typed : o.why) {
        const Result<std::size_t> pair = asked_pair(typed, study);
        if (pair) {
            asked.push_back(*pair);
        } else {
            complaints.insert(complaints.end(), pair.error().begin(), pair.error().end());
        }
    }
    if (!complaints.empty()) return refused(complaints);

    const World& world = session.world();
    const RunWatch watch = world.watch_run ? world.watch_run(study.pairs()) : RunWatch{};
    std::string kept_text;
    bool written = true;
    // What is not kept for `run` passes the gate here.
    const auto put = [&](std::string text) {
        if (world.put) {
            written = written && world.put(input::clean_text(std::move(text)));
        } else {
            kept_text += text;
        }
    };
    search::MatchHooks hooks;
    hooks.in_parallel = world.in_parallel;
    hooks.progress = watch.progress;
    hooks.go_on = [&] { return written && (!watch.go_on || watch.go_on()); };
    if (o.lines) {
        put(output::match_head_line(study));
        hooks.take = [&](const search::PairAnswer& a) { put(output::match_pair_line(study, a)); };
    } else if (o.form.csv) {
        put(output::match_csv_head());
        hooks.take = [&](const search::PairAnswer& a) { put(output::match_csv_line(study, a)); };
    }
    const search::MatchOutcome outcome = search::match(study, hooks);
    if (watch.end) watch.end();
    if (!written) return {Exit::cannot_write, "", "plait: the output could not be written; is the disk full?\n"};

    std::vector<search::JudgedPair> best;
    for (const search::PairAnswer& a : outcome.best) {
        best.push_back(search::judged_pair(study, a));
        if (const auto figure = study::impossible_figure(*best.back().system, best.back().judged.judgement)) return impossible(*figure);
    }
    std::vector<search::PairWhy> why;
    for (const std::size_t pair : asked) why.push_back(search::why_pair(study, outcome, pair));
    const output::MatchSubject subject{study, outcome, best, why, std::move(files.notes)};
    const bool ready = !best.empty() && best.front().judged.judgement.verdict.ready();
    std::function<std::string()> data;
    if (o.form.json) data = [&] { return output::match_json(subject); };
    if (o.lines || o.form.csv) data = [&] { return kept_text; };
    CommandResult result = shown(ready ? Exit::all_within : Exit::limit_broken, o.form, session,
                                 output::match_report(subject, session.provenance(named_files(o), o.form)), data);
    if (o.form.svg.empty()) return result;
    Result<std::string> svg = picture_of(o, best);
    if (!svg) return refused(svg.error());
    result.files.push_back(picture_file(o.form, *std::move(svg)));
    return result;
}

}  // namespace plait::cli
