#include "curve_plot.hpp"

#include "render/display_width.hpp"

#include "render/style.hpp"

#include <plait/study/curve_sheet.hpp>

#include <algorithm>
#include <array>
#include <cmath>

namespace plait::output {
namespace {

constexpr std::size_t rows = 10;
constexpr std::size_t margin = 8;  // of the watts at the left

// The column a voltage stands in.
std::size_t column_of(double voltage_v, const study::InputCurve& c) {
    const double share = voltage_v / c.open_circuit_v * static_cast<double>(c.column_w.size());
    return static_cast<std::size_t>(std::clamp(share, 0.0, static_cast<double>(c.column_w.size()) - 1.0));
}

std::string bar_row(const study::InputCurve& c, double top_w, std::size_t row, bool ascii) {
    static constexpr std::array<std::string_view, 9> eighths{" ", "▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"};
    std::string out;
    for (const double w : c.column_w) {
        const double filled = std::max(0.0, w) / top_w * static_cast<double>(rows) - static_cast<double>(row);
        const double part = std::clamp(filled, 0.0, 1.0);
        if (ascii) {
            out += part >= 0.5 ? '#' : ' ';
        } else {
            out += eighths[static_cast<std::size_t>(std::lround(part * 8.0))];
        }
    }
    out.erase(out.find_last_not_of(' ') + 1);
    return out;
}

// One mark in a line of blanks.
std::string under(std::size_t column, std::string_view mark) {
    return std::string(margin + 1 + column, ' ') + std::string(mark);
}

}  // namespace

std::string curve_plot(const study::InputCurve& c, const physics::AcceptanceWindow& window, bool tracks, Plot plot) {
    const double top_w = c.extremes.best().point.power_w();
    if (plot == Plot::none || c.column_w.empty() || !(top_w > 0.0)) return "";
    const bool ascii = plot == Plot::ascii;
    std::string out;
    for (std::size_t row = rows; row-- > 0;) {
        const bool labelled = row == rows - 1 || row == rows / 2 - 1;
        const double w = top_w * static_cast<double>(row + 1) / static_cast<double>(rows);
        const std::string bars = bar_row(c, top_w, row, ascii);
        std::string line = padded_left(labelled ? fmt::format("{:.0f} W", w) : "", margin) + (ascii ? "|" : "│") + bars;
        line.erase(line.find_last_not_of(' ') + 1);
        out += line + "\n";
    }
    std::string axis;
    for (std::size_t i = 0; i < c.column_w.size(); ++i) axis += ascii ? "-" : "─";
    out += padded_left("0 W", margin) + (ascii ? "+" : "└") + axis + "\n";
    const std::string end = fmt::format("{:.1f} V", c.open_circuit_v);
    out += under(0, "0 V") + padded_left(end, c.column_w.size() - 3) + "\n";
    if (tracks && window.low_v < c.open_circuit_v) {
        const std::size_t from = column_of(window.low_v, c);
        const std::size_t to = column_of(std::min(window.high_v, c.open_circuit_v), c);
        std::string bar;
        for (std::size_t i = from; i <= to; ++i) bar += ascii ? "=" : "━";
        out += under(from, bar) + (to + 20 < c.column_w.size() ? "  the input's window" : "") + "\n";
        if (to + 20 >= c.column_w.size()) out += under(from, "the input's window") + "\n";
    }
    if (c.operating.held()) {
        const std::size_t at = column_of(c.operating.point.voltage_v, c);
        constexpr std::string_view words = " in operation";
        const bool right = at + words.size() < c.column_w.size();
        const std::string_view arrow = ascii ? "^" : "▲";
        out += right ? under(at, std::string(arrow) + std::string(words))
                     : under(at - words.size(), "in operation " + std::string(arrow));
        out += "\n";
    }
    return out;
}

}  // namespace plait::output
