// The commissioning card as it is printed: 80 columns, warnings first.
#include <plait/output/expect.hpp>

#include "arrange_words.hpp"
#include "card_words.hpp"
#include "render/style.hpp"

#include <algorithm>

namespace plait::output {
namespace {

constexpr std::size_t card_width = 80;

std::string para(std::string_view first, std::string_view text) {
    return std::string(first) + wrapped(text, columns(first), card_width) + "\n";
}

std::string paras(std::string_view first, const std::vector<std::string>& texts) {
    std::string out;
    for (const std::string& text : texts) out += para(first, text);
    return out;
}

std::string plan_line(const measured::FieldModel& model, const measured::CommissioningCard& card) {
    const Setup& setup = model.system().setup();
    std::string out;
    for (const measured::InputCard& one : card.inputs) {
        out += fmt::format("{}{} = {}", out.empty() ? "" : "; ", setup.controller.inputs[one.input].name,
                           label(model.plan()[one.input], kind_ids(setup)));
    }
    return out;
}

std::string stop_text(const measured::FieldModel& model, const measured::CommissioningCard& card, Colour colour) {
    return "\n" + bold(do_not_connect, colour) + "\n" + paras("  ! ", stop_signs(model, card));
}

std::string steps_text(const measured::FieldModel& model, const measured::CommissioningCard& card, Colour colour) {
    std::string out = "\n" + bold(measuring_heading, colour) + "\n";
    std::size_t i = 0;
    for (const std::string& step : measuring_steps(model, card)) out += para(fmt::format("  {}. ", ++i), step);
    return out + paras("     ", insulation_lines(model, card));
}

std::string expected_text(const measured::FieldModel& model, const measured::CommissioningCard& card, Colour colour) {
    std::string out;
    for (const measured::InputCard& one : card.inputs) {
        const Setup& setup = model.system().setup();
        out += "\n" + bold(fmt::format("{}: what to read", setup.controller.inputs[one.input].name), colour) + "\n";
        out += table_text(expected_table(model, card, one), colour);
        const std::string note = operating_note(card, one);
        if (!note.empty()) out += para("  ", note);
    }
    for (const std::string& note : display_notes(model, card)) out += "\n" + para("", note);
    return out;
}

std::string bands_text(const measured::FieldModel& model, const measured::CommissioningCard& card, Colour colour) {
    return "\n" + bold(bands_heading, colour) + "\n" + paras("  ", band_sentences(model, card));
}

/// A number under its heading, with its star outside of the column.
std::string starred(const std::string& cell) {
    const bool star = !cell.empty() && cell.back() == '*';
    return star ? padded_left(cell, 9) : padded_left(cell, 8) + " ";
}

// Two lines of headings: so many columns want more than 80 otherwise.
std::string faults_text(const measured::FieldModel& model, const measured::CommissioningCard& card, Colour colour) {
    std::string out;
    for (const measured::InputCard& one : card.inputs) {
        const TableWords table = fault_table(model, card, one);
        if (table.empty()) continue;
        const auto& input = model.system().setup().controller.inputs[one.input].name;
        out += "\n" + bold(fmt::format("{}: what another reading may mean (* outside its band)", input), colour) + "\n";
        out += fmt::format("  {}{}{}{}\n", padded("", 32), padded_left("string 1", 13), padded_left("array", 18),
                           padded_left("display", 12));
        out += fmt::format("  {}{}{}{}{}{}\n", padded("", 32), padded_left("open V", 8), padded_left("short A", 9),
                           padded_left("open V", 9), padded_left("short A", 9), padded_left("W", 9));
        for (const TableWords::Row& row : table.rows) {
            std::string line = "  " + padded(row.cells.front(), 32);
            for (std::size_t i = 1; i < row.cells.size(); ++i) line += starred(row.cells[i]);
            while (line.back() == ' ') line.pop_back();
            out += line + "\n";
        }
    }
    return out;
}

std::string foot(const measured::CommissioningCard& card, Colour colour) {
    std::string out = "\n" + bold("Be careful", colour) + "\n";
    for (const study::Caution& c : card.cautions) out += para("  ! ", c.text);
    return out;
}

std::string suspects_text(const measured::FieldModel& model, const measured::Diagnosis& d, Colour colour) {
    const std::string before = before_suspects(model, d);
    if (d.pass()) return before.empty() ? "" : "\n" + para("", before);
    std::string out = "\n" + bold(suspects_heading, colour) + "\n";
    if (!before.empty()) out += para("  ", before);
    std::size_t i = 0;
    for (const SuspectWords& s : suspect_words(model, d)) {
        out += fmt::format("  {}. {} ({})\n", ++i, bold(wrapped(s.head, 5, card_width - 8), colour), s.share);
        out += paras("     ", s.lines) + para("     → ", s.remedy);
    }
    const std::string doubt = doubt_sentence(model, d);
    return doubt.empty() ? out : out + para("  ", doubt);
}

std::string cells_text(const measured::FieldModel& model, const measured::CommissioningCard& card, const measured::Diagnosis& d) {
    const std::vector<std::string> sentences = cell_sentences(model, card, d);
    return sentences.empty() ? "" : fmt::format("\n{}\n", cells_heading) + paras("  ", sentences);
}

}  // namespace

std::string expect_text(const measured::FieldModel& model, const measured::CommissioningCard& card, Colour colour) {
    std::string out =
        bold("Commissioning card", colour) + "  " + wrapped(plan_line(model, card), 20, card_width) + "\n";
    out += paras("", weather_sentences(card));
    out += stop_text(model, card, colour);
    out += steps_text(model, card, colour);
    out += expected_text(model, card, colour);
    out += faults_text(model, card, colour);
    out += bands_text(model, card, colour);
    out += foot(card, colour);
    return out;
}

std::string readings_text(const measured::FieldModel& model, const measured::CommissioningCard& card, const measured::Diagnosis& d,
                          Colour colour) {
    const ReadingVerdict verdict = verdict_of(model, card, d);
    std::string out = fmt::format("{}  {}\n", coloured(verdict.word, verdict.outcome, colour), plan_line(model, card));
    out += paras(verdict.stop ? "! " : "", verdict.sentences);
    out += paras("", weather_sentences(card));
    const TableWords checked = checked_table(model, d);
    out += "\n" + bold(checked.caption, colour) + "\n" + table_text(checked, colour);
    out += suspects_text(model, d, colour);
    out += cells_text(model, card, d);
    out += bands_text(model, card, colour);
    out += foot(card, colour);
    return out;
}

}  // namespace plait::output
