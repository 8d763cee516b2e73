#include <plait/output/learn.hpp>

#include "learn_words.hpp"
#include "style.hpp"

#include <algorithm>

namespace plait::output {
namespace {

constexpr std::size_t most_rows = 40;  // a longer sweep is listed by --csv

using study::PieceKind;

std::string level_text(const study::LearnedPiece& p, double value) {
    return p.kind == PieceKind::constant_power ? watts(value) : amps(value);
}

std::string pieces_text(const study::LearnedWindow& w, Colour colour) {
    std::string out = bold("What it takes", colour) + "\n";
    out += fmt::format("  {}{}{}{}{}\n", padded("from", 12), padded("to", 12), padded("takes", 26), padded("95 %", 24),
                       "voltages, readings");
    for (const study::LearnedPiece& p : w.pieces) {
        std::string what = "nothing";
        std::string likely;
        if (p.kind == PieceKind::at_least) what = "at least " + amps(p.level.value);
        if (p.kind == PieceKind::constant_current || p.kind == PieceKind::constant_power) {
            what = level_text(p, p.level.value) + (p.kind == PieceKind::constant_power ? ", power" : ", current");
            likely =
                fmt::format("{} … {}", level_text(p, p.level.likely.lower()), level_text(p, p.level.likely.upper()));
        }
        out += fmt::format("  {}{}{}{}{}, {}\n", padded(volts(p.from_v), 12), padded(volts(p.to_v), 12),
                           padded(what, 26), padded(likely, 24), p.steps, p.rows);
    }
    return out;
}

std::string switch_text(const char* what, const Interval& between_v, const Interval& likely_v) {
    return fmt::format("  {}{}{} … {}\n", padded(what, 34),
                       padded(fmt::format("{} … {}", volts(between_v.lower()), volts(between_v.upper())), 26),
                       volts(likely_v.lower()), volts(likely_v.upper()));
}

std::string switch_text(const char* what, const std::optional<study::SwitchVoltage>& s) {
    return s ? switch_text(what, s->between_v, s->likely_v()) : "";
}

std::string edges_text(const study::LearnedWindow& w, Colour colour) {
    std::string out = "\n" + bold("Where it changes", colour) + "\n";
    out += fmt::format("  {}{}{}\n", padded("", 34), padded("between two readings", 26), "95 %");
    out += switch_text("begins, voltage rising", w.start);
    out += switch_text("ceases, voltage falling", w.stop);
    for (std::size_t k = 0; k < w.changes.size(); ++k) {
        const bool to_power = w.pieces[k + 1].kind == PieceKind::constant_power;
        // Where band and power limit meet without a jump, their levels tell it better than the readings beside it.
        const bool met = to_power && w.takeover_v && w.pieces[k + 1].level.value == w.power_w->value;
        out += to_power ? switch_text("power limit takes over", w.changes[k].between_v,
                                      met ? w.takeover_v->likely : w.changes[k].likely_v())
                        : switch_text("another current", w.changes[k]);
    }
    out += switch_text("trips, voltage rising", w.trip);
    out += switch_text("recovers, voltage falling", w.recovery);
    return out;
}

std::string printed_value(const study::Compared& c, double value) {
    if (c.figure == study::ComparedFigure::band) return amps(value);
    return c.figure == study::ComparedFigure::power ? watts(value) : volts(value);
}

std::string comparison_text(const study::LearnSheet& sheet, Colour colour) {
    if (!sheet.controller) return "";
    std::string out =
        "\n" +
        bold(fmt::format("Against the printed limits of {}, {}", sheet.controller->name, sheet.printed()->name),
             colour) +
        "\n";
    out += fmt::format("  {}{}{}  95 %\n", padded("", 30), padded_left("printed", 12), padded_left("measured", 12));
    for (const study::Compared& c : sheet.compared) {
        std::string what;
        if (c.figure == study::ComparedFigure::start) what = "start voltage";
        if (c.figure == study::ComparedFigure::power) what = "power";
        if (c.figure == study::ComparedFigure::maximum) what = "maximum voltage, trip";
        if (c.figure == study::ComparedFigure::band)
            what = fmt::format("{} to {}", volts(c.at_from_v), volts(c.at_to_v));
        std::string likely;
        if (c.likely) {
            likely = fmt::format("{} … {}", printed_value(c, c.likely->lower()), printed_value(c, c.likely->upper()));
        }
        std::string verdict(name_of(c.agreement));
        std::replace(verdict.begin(), verdict.end(), '-', ' ');
        out += fmt::format("  {}{}{}  {}{}\n", padded(what, 30),
                           padded_left(c.printed_value ? printed_value(c, *c.printed_value) : "silent", 12),
                           padded_left(c.value ? printed_value(c, *c.value) : "–", 12), padded(likely, 24), verdict);
    }
    for (const study::Compared& c : sheet.compared) {
        const std::string meaning = meaning_of(c, sheet.window);
        if (!meaning.empty()) out += "  " + wrapped(meaning, 2) + "\n";
    }
    return out;
}

std::string rows_text(const study::LearnedWindow& w, Colour colour) {
    std::string out = "\n" + bold("Data and fit", colour) + "\n";
    if (w.rows.size() > most_rows) {
        return out + fmt::format("  {} readings; --csv lists them with their fit.\n", w.rows.size());
    }
    out += fmt::format("  {}{}{}{}\n", padded_left("line", 6), padded_left("V", 10), padded_left("A", 9),
                       padded_left("fit A", 9));
    for (const study::FittedRow& r : w.rows) {
        std::string remark(name_of(r.use));
        std::replace(remark.begin(), remark.end(), '-', ' ');
        const auto plain = [](std::string with_unit) { return with_unit.substr(0, with_unit.rfind(' ')); };
        std::string line =
            fmt::format("  {}{}{}{}{}", padded_left(fmt::format("{}", r.row.line), 6),
                        padded_left(plain(volts(r.row.voltage_v)), 10), padded_left(plain(amps(r.row.current_a)), 9),
                        padded_left(r.fitted_a ? plain(amps(*r.fitted_a)) : "", 9),
                        r.use == study::RowUse::fits ? "" : "   " + remark);
        line.erase(line.find_last_not_of(' ') + 1);
        out += line + "\n";
    }
    return out;
}

}  // namespace

std::string learn_text(const study::LearnSheet& sheet, Colour colour) {
    const study::LearnedWindow& w = sheet.window;
    std::string summary;
    for (const std::string& sentence : summary_of(w)) summary += (summary.empty() ? "" : " ") + sentence;
    std::string out = bold(sheet.file, colour) + "\n  " + wrapped(summary, 2) + "\n\n";
    out += pieces_text(w, colour) + edges_text(w, colour) + comparison_text(sheet, colour) + rows_text(w, colour);
    out += "\n" + bold("How sure", colour) + "\n";
    std::string sure = fmt::format("One reading scatters by {:.2f} %. ", 100.0 * w.noise_ratio);
    sure += sheet.meter_accuracy_ratio > 0.0
                ? fmt::format("The intervals hold the meters' own error of {:.2g} % too. ",
                              100.0 * sheet.meter_accuracy_ratio)
                : std::string(
                      "The intervals tell of scatter only; a meter that reads 2 % high does so in every row: say "
                      "--accuracy. ");
    if (w.outlier_count == 1) sure += "One reading stands apart and counts for nothing. ";
    if (w.outlier_count > 1) sure += fmt::format("{} readings stand apart and count for nothing. ", w.outlier_count);
    if (w.censored_count > 0)
        sure += fmt::format("At {} the supply was the limit. ",
                            w.censored_count == 1 ? "one reading" : fmt::format("{} readings", w.censored_count));
    if (!w.in_order) sure += "The readings jump up and down, so nothing is said about rising and falling. ";
    if (w.in_order && !w.falling) sure += "There is no sweep downwards, so where it recovers was not looked for. ";
    out += "  " + wrapped(sure.substr(0, sure.size() - 1), 2) + "\n";
    for (const std::string& note : sheet.notes) out += "  " + wrapped(note, 2) + "\n";
    out += "\n" +
           wrapped(
               "One input on one bench. It is arithmetic on readings, not an approval: the printed maximum, the local "
               "code, the maker's manual and a licensed electrician have the last word.",
               0) +
           "\n";
    return out;
}

}  // namespace plait::output
