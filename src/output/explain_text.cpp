#include <plait/output/explain.hpp>

#include "explain_words.hpp"
#include "style.hpp"

#include <cmath>

namespace plait::output {
namespace {

using study::Cause;

constexpr double shown_wh = 0.05;
constexpr double shown_h = 0.05;
constexpr std::size_t words_width = 44;

std::string signed_number(double value) {
    std::string text = fmt::format("{:.1f}", value);
    if (text.find_first_of("123456789") == std::string::npos) return "0.0";
    if (text.front() == '-') text.replace(0, 1, "−");
    return text;
}

std::string line(std::string_view words, double wh, double label_wh, const std::string& hours, Colour colour,
                 bool sum) {
    const std::string text =
        fmt::format("  {}{}{}{}", padded(words, words_width), padded_left(signed_number(wh), 11),
                    padded_left(signed_number(label_wh > 0.0 ? 100.0 * wh / label_wh : 0.0), 9), padded_left(hours, 9));
    std::string cut = text.substr(0, text.find_last_not_of(' ') + 1);
    return (sum ? bold(cut, colour) : cut) + "\n";
}

std::string bands_text(const study::Bench& bench, const ExplainedLog& log) {
    const auto& bands = bench.window(log.input).bands;
    std::string out;
    for (std::size_t b = 0; bands.size() > 1 && b < bands.size() && b < study::most_bands; ++b) {
        const study::LogAccount& a = log.account;
        if (a.band_wh[b] < shown_wh && a.band_h[b] < shown_h) continue;
        const std::string words =
            fmt::format("    {:g} A from {:g} to {:g} V", bands[b].limit_a, bands[b].from_v, bands[b].to_v);
        out += line(words, -a.band_wh[b], a.label_wh, signed_number(a.band_h[b]), Colour::off, false);
    }
    return out;
}

std::string account_text(const study::Bench& bench, const ExplainedLog& log, Colour colour) {
    const study::LogAccount& a = log.account;
    std::string out = "\n" +
                      bold(fmt::format("  {}{}{}{}", padded("", words_width), padded_left("Wh", 11),
                                       padded_left("%", 9), padded_left("hours", 9)),
                           colour) +
                      "\n";
    out += line("label rating × hours", a.label_wh, a.label_wh, signed_number(a.logged_h), colour, true);
    const auto loss = [&](Cause c, bool always) {
        const std::size_t i = study::index_of(c);
        if (!always && std::abs(a.lost_wh[i]) < shown_wh && a.hours_h[i] < shown_h) return std::string();
        const std::string hours = a.hours_h[i] < shown_h ? "" : signed_number(a.hours_h[i]);
        return line(fmt::format("− {}", words_of(c)), -a.lost_wh[i], a.label_wh, hours, colour, false);
    };
    for (const Cause c : {Cause::less_light, Cause::array, Cause::heat}) out += loss(c, true);
    out += line("= the array could have given", a.possible_wh, a.label_wh, "", colour, true);
    for (std::size_t i = study::index_of(Cause::cable); i < study::cause_count; ++i) {
        const auto c = static_cast<Cause>(i);
        out += loss(c, c == Cause::scatter);
        if (c == Cause::current_limit) out += bands_text(bench, log);
    }
    out += line("= measured", a.measured_wh, a.label_wh, "", colour, true);
    return out;
}

}  // namespace

std::string explain_text(const study::Bench& bench, const ExplainedLog& log, Colour colour) {
    const study::LogAccount& a = log.account;
    std::string out = bold(fmt::format("{}: {}", bench.setup().controller.inputs[log.input].name,
                                       label(log.wiring, kind_ids(bench.setup()))),
                           colour) +
                      fmt::format(", {} rows, {:.1f} hours", a.rows, a.logged_h);
    if (a.gaps > 0) out += fmt::format("; {} gaps, {:.1f} hours, count for nothing", a.gaps, a.gap_h);
    out += "\n\n";
    for (const std::string& sentence : summary(bench, log)) out += wrapped(sentence, 0) + "\n";
    out += "\n" + wrapped("Change first: " + first_change(bench, log), 0) + "\n";
    out += account_text(bench, log, colour);
    const std::vector<std::string> open = what_stays_open(bench, log);
    if (!open.empty() || !log.notes.empty()) out += "\n" + bold("What stays open", colour) + "\n";
    for (const std::string& text : open) out += "- " + wrapped(text, 2) + "\n";
    for (const std::string& note : log.notes) out += "- " + wrapped(note, 2) + "\n";
    out += assumptions_text(study::all_assumptions(bench), colour);
    out += doubts_text(bench.setup().doubts, colour);
    out +=
        "\n" +
        wrapped(
            "Causes are charged by their probabilities (docs/explain.md). This explains a log; it judges no limit and "
            "approves nothing: the local code, the makers' manuals and a licensed electrician have the last word.",
            0) +
        "\n";
    return out;
}

}  // namespace plait::output
