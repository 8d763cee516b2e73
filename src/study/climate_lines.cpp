// The lines of a [site] table that a climate sheet gives.
#include <plait/base/civil_date.hpp>
#include <plait/study/climate.hpp>

#include <cmath>

namespace plait::study {
namespace {

enum class Side { lows, highs };

/// "-12.3 °C": lows rounded down, highs up, but for the last bits of a tenth kept in binary.
std::string degrees_text(double degc, Side side) {
    const double tenths = 10.0 * degc;
    const double rounded = side == Side::lows ? std::floor(tenths + 1e-6) : std::ceil(tenths - 1e-6);
    const long whole = std::lround(rounded);
    std::string text = whole < 0 ? "-" : "";
    const long size = whole < 0 ? -whole : whole;
    text += std::to_string(size / 10) + "." + std::to_string(size % 10);
    return text + " °C";
}

std::string years_text(const ExtremeSide& side, const char* season) {
    std::string text = std::to_string(side.seasons.size()) + " " + season;
    if (!side.seasons.empty()) {
        text += ", " + std::to_string(side.seasons.front().year) + " to " + std::to_string(side.seasons.back().year);
    }
    if (side.fit && side.fit->shape_held) text += "; few, so the shape of their spread is held (Gumbel)";
    return text;
}

void add_side(std::vector<std::string>& lines, const std::optional<ExtremeSide>& side, Side which, Celsius chosen,
              TemperatureBasis basis) {
    const std::string key = which == Side::lows ? "coldest" : "hottest";
    const char* const season = which == Side::lows ? "winters" : "summers";
    const auto value_line = [&](double degc, const std::string& why) {
        return key + "_air = \"" + degrees_text(degc, which) + "\"  # " + why;
    };
    const std::string record_words = "the record, " + iso_date(side->record.day);
    const auto level_words = [&](const ReturnLevel& l) {
        return "once in " + std::to_string(std::lround(l.period_years)) + " years; 95 % between " +
               degrees_text(l.low.degc, Side::lows) + " and " + degrees_text(l.high.degc, Side::highs) + " (" +
               years_text(*side, season) + ")";
    };
    const ReturnLevel* fifty = nullptr;
    for (const ReturnLevel& l : side->levels) fifty = l.period_years == 50.0 ? &l : fifty;
    const bool by_level = basis == TemperatureBasis::fifty_year && fifty != nullptr;
    lines.push_back(value_line(chosen.degc, by_level ? level_words(*fifty) : record_words));
    lines.push_back(key + "_basis = \"" + std::string(name_of(basis)) + "\"");
    if (by_level) lines.push_back("# " + value_line(side->record.value_degc, record_words));
    for (const ReturnLevel& l : side->levels) {
        if (by_level && &l == fifty) continue;
        lines.push_back("# " + value_line(l.level.degc, level_words(l)));
    }
    if (side->mean_yearly_degc) {
        lines.push_back("# " + value_line(*side->mean_yearly_degc, std::string("the mean of the yearly ") +
                                                                       (which == Side::lows ? "lows" : "highs") +
                                                                       " of " + std::to_string(side->mean_years) +
                                                                       " years; passed about every second year"));
    }
}

}  // namespace

std::vector<std::string> site_lines(const ClimateSheet& sheet) {
    std::vector<std::string> lines;
    if (sheet.coldest_air) add_side(lines, sheet.cold, Side::lows, *sheet.coldest_air, sheet.coldest_basis);
    if (sheet.hottest_air) add_side(lines, sheet.hot, Side::highs, *sheet.hottest_air, sheet.hottest_basis);
    return lines;
}

}  // namespace plait::study
