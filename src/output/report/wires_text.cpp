#include "wires_text.hpp"

#include "wires_words.hpp"

namespace plait::output {
namespace {

/// The table, each row with its smallest sizes under it.
std::string cables_text(const Setup& setup, const std::vector<rules::CableFigures>& cables) {
    const TableWords table = cable_table(setup, cables);
    std::string out = table_text({"", table.columns, {}}, Colour::off);
    for (std::size_t i = 0; i < cables.size(); ++i) {
        const std::string with_heading = table_text({"", table.columns, {table.rows[i]}}, Colour::off);
        out += with_heading.substr(with_heading.find('\n') + 1);
        out += "      " + wrapped(smallest_sentence(cables[i]), 6) + "\n";
    }
    return out;
}

}  // namespace

std::string wires_text(const Setup& setup, const study::InputJudgement& one, Colour colour) {
    const study::WireSheet& sheet = one.wires;
    if (sheet.cables.empty()) return "";
    return "\n  " + bold(wires_heading, colour) + "\n" + cables_text(setup, sheet.cables) + "  " +
           wrapped(wires_sentence(sheet), 2) + "\n";
}

std::string battery_text(const Setup& setup, const study::BatterySheet& sheet, Colour colour) {
    if (!sheet.current || sheet.cables.empty()) return "";
    return "\n" + bold(battery_heading, colour) + "\n" + cables_text(setup, sheet.cables) + "  " +
           wrapped(battery_sentence(sheet), 2) + "\n";
}

}  // namespace plait::output
