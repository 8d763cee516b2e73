#include "look_up_words.hpp"

#include "render/style.hpp"
#include "verdict_words.hpp"

#include <algorithm>

namespace plait::output {
namespace {

using study::LookUp;
using study::Turn;

constexpr std::size_t most_first = 3;

std::string figure_of(const Assumption& a) { return fmt::format("{} of {}, assumed {}", a.what, a.subject, a.value); }

/// The end of the range at which the answers are the gravest.
const std::string& graver_end(const LookUp& one) {
    return one.at_low == one.gravest ? one.range.low_words : one.range.high_words;
}

std::string turn_words(const LookUp& one) {
    switch (one.turn) {
        case Turn::graver:
            return fmt::format("{} at {}", word_of(one.gravest), graver_end(one));
        case Turn::milder: {
            const bool low = study::milder(one.at_low, one.at_high);
            return fmt::format("{} at {}", word_of(low ? one.at_low : one.at_high),
                               low ? one.range.low_words : one.range.high_words);
        }
        case Turn::doubt:
            return fmt::format("whether tolerances matter ({} to {})", one.range.low_words,
                               one.range.high_words);
        case Turn::none:
            break;
    }
    return {};
}

std::string line_of(const study::Judgement& j, const LookUp& one) {
    return fmt::format("{} [{}]: {}. It is {}.", figure_of(j.assumptions[one.assumption]), one.assumption + 1,
                       turn_words(one), one.where_printed);
}

std::string none_turns_it(const study::LookUpList& list) {
    if (list.others == 0) return {};
    return fmt::format("{}; {} turn this verdict.", counted(list.others, "value was assumed", "values were assumed"),
                       list.others == 1 ? "it cannot" : "none can");
}

std::string heading_of(const study::LookUpList& list) {
    const std::string first = "What to look up first";
    if (list.others == 0) return first;
    return fmt::format("{}; {} cannot turn this verdict", first,
                       counted(list.others, "other assumed value", "other assumed values"));
}

}  // namespace

std::string could_exceed_sentence(const study::Judgement& j, const study::LookUpList& list) {
    if (!j.verdict.could_exceed) return {};
    const LookUp& one = list.first.front();
    const Assumption& a = j.assumptions[one.assumption];
    return fmt::format("An assumed value could carry it past a limit: {} of {} [{}], {} at {}.", a.what, a.subject,
                       one.assumption + 1, word_of(one.gravest), graver_end(one));
}

void add_look_ups(Report& report, const study::Judgement& j, const study::LookUpList& list) {
    Items first{{}, Items::Kind::numbered};
    Items more;
    for (std::size_t i = 0; i < list.first.size(); ++i) {
        (i < most_first ? first : more).items.push_back(line_of(j, list.first[i]));
    }
    if (first.items.empty()) {
        report.section(Purpose::look_up).add(Paragraph{none_turns_it(list)});
        return;
    }
    Section& section = report.section(Purpose::look_up, heading_of(list));
    section.add(std::move(first));
    if (!more.items.empty()) {
        section.add(Paragraph{
            fmt::format("{} could turn it too (`--full`).", counted(more.items.size(), "more value", "more values"))});
    }
    report.section(Purpose::detail, "Also worth looking up").add(std::move(more));
}

}  // namespace plait::output
