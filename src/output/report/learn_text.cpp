#include <plait/output/learn.hpp>

#include "learn_words.hpp"
#include "render/style.hpp"

namespace plait::output {
namespace {

std::string comparison_text(const measured::LearnSheet& sheet, Colour colour) {
    const TableWords table = compared_table(sheet);
    if (table.empty()) return "";
    std::string out = "\n" + bold(table.caption, colour) + "\n" + table_text(table, colour);
    for (const std::string& meaning : meanings(sheet)) out += "  " + wrapped(meaning, 2) + "\n";
    return out;
}

std::string rows_text(const measured::LearnedWindow& w, Colour colour) {
    const std::string out = "\n" + bold("Data and fit", colour) + "\n";
    if (w.rows.size() > most_rows_listed) return out + "  " + rows_elsewhere(w) + "\n";
    return out + table_text(fitted_table(w), colour);
}

std::string joined(const std::vector<std::string>& sentences) {
    std::string out;
    for (const std::string& s : sentences) out += (out.empty() ? "" : " ") + s;
    return out;
}

}  // namespace

std::string learn_text(const measured::LearnSheet& sheet, Colour colour) {
    const measured::LearnedWindow& w = sheet.window;
    std::string out = bold(sheet.file, colour) + "\n  " + wrapped(joined(summary_of(w)), 2) + "\n\n";
    out += bold("What it takes", colour) + "\n" + table_text(piece_table(w), colour);
    out += "\n" + bold("Where it changes", colour) + "\n" + table_text(switch_table(w), colour);
    out += comparison_text(sheet, colour) + rows_text(w, colour);
    out += "\n" + bold("How sure", colour) + "\n  " + wrapped(joined(how_sure(sheet)), 2) + "\n";
    for (const std::string& note : sheet.notes) out += "  " + wrapped(note, 2) + "\n";
    out += "\n" + wrapped(fmt::format("{} {}", one_bench, deferral), 0) + "\n";
    return out;
}

}  // namespace plait::output
