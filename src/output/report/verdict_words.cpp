#include "verdict_words.hpp"

#include <plait/base/names.hpp>

#include "render/display_width.hpp"
#include "render/style.hpp"

#include <array>

namespace plait::output {
namespace {

using rules::Outcome;
using study::Connection;
using study::Intake;

constexpr double smallest_shown_ratio = 0.0005;

std::string_view intake_word(Intake intake) {
    static constexpr Names names{
        Name{Intake::all, "FITS"},
        Name{Intake::clipped, "CLIPS"},
        Name{Intake::falls_short, "FALLS SHORT"},
    };
    return name_in(names, intake);
}

/// What stands before the word of what the input takes; empty where the plan may be connected.
std::string_view connection_word(Connection connection) {
    static constexpr Names names{
        Name{Connection::forbidden, "EXCEEDS"},
        Name{Connection::may_exceed, "MAY EXCEED"},
        Name{Connection::undecided, "NOT KNOWN"},
        Name{Connection::once_added, "NEEDS"},
        Name{Connection::allowed, ""},
    };
    return name_in(names, connection);
}

std::string_view doubt(bool proven) { return proven ? "" : " ?"; }

}  // namespace

Tone tone_of(const study::Answers& v) {
    switch (v.connection) {
        case Connection::forbidden:
            return Tone::exceeds;
        case Connection::may_exceed:
        case Connection::undecided:
            return Tone::doubtful;
        case Connection::once_added:
            return Tone::needs;
        case Connection::allowed:
            break;
    }
    return v.intake == Intake::falls_short ? Tone::falls_short : v.intake == Intake::clipped ? Tone::clips : Tone::good;
}

std::string word_of(const study::Answers& v) {
    const std::string_view first = connection_word(v.connection);
    if (first.empty()) return fmt::format("{}{}", intake_word(v.intake), doubt(v.proven()));
    if (v.connection == Connection::forbidden || v.intake == Intake::all) {
        return fmt::format("{}{}", first, doubt(v.proven() || v.connection == Connection::may_exceed));
    }
    return fmt::format("{}, {}{}", first, intake_word(v.intake), doubt(v.proven()));
}

std::string clipped_words(double ratio) {
    return ratio < smallest_shown_ratio ? std::string("under 0.1 %") : per_cent(ratio);
}

std::string headline_of(const Setup& setup, const study::Verdict& v) {
    std::string intake(intake_word(v.intake));
    if (v.intake == Intake::clipped) intake += " " + clipped_words(v.clipped_ratio);
    if (v.connection == Connection::forbidden) return fmt::format("EXCEEDS{}", doubt(v.connection_proven));
    if (v.connection == Connection::allowed) return intake + std::string(doubt(v.proven()));
    std::string out;
    if (v.connection != Connection::once_added) out = connection_word(v.connection);
    if (!v.conditions.empty()) {
        std::vector<std::string> wanted;
        for (const rules::Condition& c : v.conditions) wanted.push_back(words_of(c, setup));
        out += fmt::format("{}NEEDS {}{}", out.empty() ? "" : "; ", joined(wanted, ", "), doubt(v.connection_proven));
    }
    // What fits is no word for what may not be connected yet, unless nothing but the conditions is in the way.
    if (v.intake == Intake::all && v.connection != Connection::once_added) return out;
    return out + fmt::format("; then {}{}", intake, doubt(v.intake_proven));
}

std::string_view name_of(const study::Answers& v) {
    switch (v.connection) {
        case Connection::forbidden:
            return "exceeds";
        case Connection::may_exceed:
            return "may-exceed";
        case Connection::undecided:
            return "unknown";
        case Connection::once_added:
            return "needs";
        case Connection::allowed:
            break;
    }
    return v.intake == Intake::falls_short ? "falls-short" : v.intake == Intake::clipped ? "clips" : "fits";
}

std::string sentence_of(const study::Verdict& v) {
    std::string out;
    switch (v.connection) {
        case Connection::forbidden:
            return v.connection_proven ? "Outside a stated limit that must never be passed: do not connect it."
                                       : "Outside a limit that must never be passed, on the values at hand, some of "
                                         "them assumed (?): do "
                                         "not connect it.";
        case Connection::may_exceed:
            out =
                "Within the limits on the nominal figures only: what the papers allow for can carry it past one that "
                "must "
                "never be passed. Do not connect it before that is settled.";
            break;
        case Connection::undecided:
            out = "A limit that protects the input is not known. Do not connect it before you know it.";
            break;
        case Connection::once_added:
            out = "Within the stated limits once what is named is there. Do not connect it before.";
            break;
        case Connection::allowed:
            if (v.intake == Intake::falls_short) break;
            out = v.intake == Intake::all ? "Within the stated limits." : "Within the limits that protect the input.";
            break;
    }
    const auto add = [&](std::string_view words) { out += fmt::format("{}{}", out.empty() ? "" : " ", words); };
    if (v.intake == Intake::falls_short) {
        add("The array does not reach what the input needs: it would give little or nothing.");
    } else if (v.intake == Intake::clipped) {
        add(fmt::format("In a year's light {} of what reaches it is lost.", clipped_words(v.clipped_ratio)));
    }
    if (v.connection != Connection::may_exceed && v.connection != Connection::undecided) {
        add(v.proven() ? "Proven: it rests on no tolerance and no assumed value."
                       : "Not proven (?): it rests on a tolerance or an assumed value.");
    }
    return out;
}

Table::Mark mark_of(const study::RuleVerdict& v) {
    const rules::Finding& f = v.finding;
    if (f.exceeds_by_tolerance()) return {Tone::doubtful, "MAY EXCEED"};
    const std::string mark(v.proven() ? "" : " ?");
    switch (f.outcome) {
        case Outcome::within:
            return {Tone::good, "within" + mark};
        case Outcome::undecided:
            return {Tone::doubtful, "NOT KNOWN"};
        case Outcome::needs:
            return {Tone::needs, "NEEDS" + mark};
        case Outcome::clips:
            return {Tone::clips, "CLIPS" + mark};
        case Outcome::falls_short:
            return {Tone::falls_short, "FALLS SHORT" + mark};
        case Outcome::exceeds:
            return {Tone::exceeds, "EXCEEDS" + mark};
    }
    return {};
}

Marks verdict_marks() {
    return {{{Tone::exceeds, "EXCEEDS", "outside a limit that must never be passed: do not connect it"},
             {Tone::doubtful, "MAY EXCEED", "within on the nominal figures, but a tolerance reaches past such a limit"},
             {Tone::doubtful, "NOT KNOWN", "a limit that protects something is not stated"},
             {Tone::needs, "NEEDS", "to be connected only once what is named is there, such as string fuses"},
             {Tone::falls_short, "FALLS SHORT", "the array does not reach the voltage the input needs"},
             {Tone::clips, "CLIPS", "within what protects the input; it does not take all that reaches it, the share named over the light of a year"},
             {Tone::good, "FITS", "within the stated limits, and all is taken; of one rule: within"},
             {Tone::plain, "?", "not proven: it rests on a tolerance or an assumed value"}}};
}

std::string plan_words(const Setup& setup, const ArrayPlan& plan) {
    std::string text;
    for (std::size_t i = 0; i < plan.size(); ++i) {
        if (plan[i].empty()) continue;
        text += fmt::format("{}{} = {}", text.empty() ? "" : "; ", setup.controller.inputs[i].name,
                            label(plan[i], kind_ids(setup)));
    }
    return text;
}

std::string plan_words(const Setup& setup, const study::Judgement& judgement) {
    ArrayPlan plan(setup.controller.inputs.size());
    for (const study::InputJudgement& one : judgement.inputs) plan[one.input] = one.wiring;
    return plan_words(setup, plan);
}

std::string before_energy(const study::Verdict& v) {
    switch (v.connection) {
        case Connection::forbidden:
            return "Do not connect it. What it would deliver is no reason to: the sums are left to `--full`, as "
                   "arithmetic.";
        case Connection::may_exceed:
        case Connection::undecided:
            return "Do not plug it in before that is settled: `plait check` says how.";
        case Connection::once_added:
            return "What follows is for when it has what it needs: `plait parts` lists it.";
        case Connection::allowed:
            break;
    }
    return "";
}

}  // namespace plait::output
