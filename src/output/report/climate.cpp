// The report on a station's record, or on what a weather file says of extremes: how cold and how hot it gets, and the
// lines for a set-up.
#include <plait/base/civil_date.hpp>
#include <plait/output/reports.hpp>
#include <plait/output/subjects.hpp>

#include "parts_of_reports.hpp"
#include "render/style.hpp"

#include <algorithm>

namespace plait::output {
namespace {

std::string degrees_words(double degc) { return rules::with_minus_sign(fmt::format("{:.1f} °C", degc)); }

std::string station_name(const study::ClimateSheet& s) {
    return s.name.empty() ? s.id : s.id.empty() ? s.name : fmt::format("{} ({})", s.name, s.id);
}

/// What one side of the record comes to, in the order of how often it is passed.
void add_side(Table& table, const std::optional<study::ExtremeSide>& side, bool cold) {
    if (!side) return;
    const char* const what = cold ? "coldest" : "hottest";
    if (side->mean_yearly_degc) {
        table.rows.push_back({{fmt::format("mean of the yearly {}", what), degrees_words(*side->mean_yearly_degc), "",
                               fmt::format("passed about every second year; {} years", side->mean_years)}});
    }
    for (const study::ReturnLevel& l : side->levels) {
        table.rows.push_back({{fmt::format("{} in {:.0f} years", what, l.period_years), degrees_words(l.level.degc),
                               fmt::format("{} … {}", degrees_words(l.low.degc), degrees_words(l.high.degc)),
                               fmt::format("{} {}", side->seasons.size(), cold ? "winters" : "summers")}});
    }
    table.rows.push_back({{fmt::format("{} ever measured", what), degrees_words(side->record.value_degc), "",
                           iso_date(side->record.day)}});
}

std::string gap_sentence(const study::ExtremeSide& side, const char* seasons) {
    if (side.gaps.empty()) return "";
    constexpr std::size_t most_named = 6;
    std::string years;
    for (std::size_t i = 0; i < std::min(most_named, side.gaps.size()); ++i) {
        const study::YearGap& g = side.gaps[i];
        years += fmt::format("{}{} ({} of {} days)", i == 0 ? "" : ", ", g.year, g.missing, g.quarter);
    }
    if (side.gaps.size() > most_named) years += fmt::format(" and {} more", side.gaps.size() - most_named);
    return fmt::format("Left out, because more than a tenth of the decisive three months is missing: {} {}: {}.",
                       side.gaps.size(), seasons, years);
}

std::string fit_sentence(const study::ExtremeSide& side, const char* seasons) {
    if (!side.fit) {
        return fmt::format("Fewer than {} complete {}: no return level can be said; the record is what there is.",
                           study::least_seasons, seasons);
    }
    return side.fit->shape_held
               ? fmt::format("With {} {} the shape of their spread cannot be told: it is held at that of Gumbel, and the "
                             "intervals are wide.",
                             side.seasons.size(), seasons)
               : fmt::format("The levels come from a generalised extreme-value distribution of {} {}; the range holds 95 % "
                             "of the likelihood.",
                             side.seasons.size(), seasons);
}

std::string trend_sentence(const study::ExtremeSide& side, const char* what) {
    if (!side.trend) return "";
    return fmt::format("The {} change by {} ± {:.2f} K in ten years; the levels take all years as alike.", what,
                       signed_number(side.trend->per_decade_k, 2), side.trend->uncertain_k);
}

void add_station(Report& report, const ClimateSource& source) {
    const study::ClimateSheet& s = *source.sheet;
    Section& answer = report.section(Purpose::answer, station_name(s));
    Table table = table_of(fmt::format("{} to {}", iso_date(s.first_day), iso_date(s.last_day)),
                           {"air", "#value", "95 %", "from"});
    add_side(table, s.cold, true);
    add_side(table, s.hot, false);
    answer.add(std::move(table));
    report.section(Purpose::next, "For [site] in your set-up file").add(Lines{study::site_lines(s)});
    Items remarks;
    if (s.cold) {
        remarks.items.push_back(fit_sentence(*s.cold, "winters"));
        remarks.items.push_back(gap_sentence(*s.cold, "winters"));
        remarks.items.push_back(trend_sentence(*s.cold, "winters' lows"));
    }
    if (s.flagged > 0) {
        remarks.items.push_back(fmt::format("{} failed a quality check of the data set and {} left out.",
                                            counted(s.flagged, "value", "values"), s.flagged == 1 ? "is" : "are"));
    }
    remarks.items.insert(remarks.items.end(), s.notes.begin(), s.notes.end());
    remarks.items.erase(std::remove(remarks.items.begin(), remarks.items.end(), std::string()), remarks.items.end());
    report.section(Purpose::look_up, "What it rests on").add(std::move(remarks));
}

void add_weather_file(Report& report, const ClimateSource& source) {
    const WeatherSeries& w = *source.weather;
    Section& answer = report.section(Purpose::answer, w.name.empty() ? source.file : w.name);
    if (w.extremes) {
        Table table = table_of(fmt::format("From the file's header{}", w.extremes->source.empty() ? "" : ", " + w.extremes->source),
                               {"air", "#lowest", "#highest"});
        table.rows.push_back({{"mean of the yearly extremes, passed about every second year",
                               degrees_words(w.extremes->mean_yearly_lowest.degc),
                               degrees_words(w.extremes->mean_yearly_highest.degc)}});
        for (const PeriodExtremes& p : w.extremes->periods) {
            table.rows.push_back({{fmt::format("once in {:.0f} years", p.period_years), degrees_words(p.lowest.degc),
                                   degrees_words(p.highest.degc)}});
        }
        answer.add(std::move(table));
    } else {
        answer.add(Paragraph{"The file's header states no extremes."});
    }
    const WeatherHour* coldest = nullptr;
    for (const WeatherHour& h : w.hours) {
        if (h.air && (coldest == nullptr || *h.air < *coldest->air)) coldest = &h;
    }
    if (coldest != nullptr) {
        answer.add(Cautions{{fmt::format("The coldest hour of its rows, {}, is no design value: {}. Take a station's daily "
                                         "record for that.",
                                         degrees(*coldest->air),
                                         w.pieced_together ? "the year is pieced together from usual months"
                                                           : "a year or two say little of what comes once in fifty")},
                            "Careful."});
    }
    report.section(Purpose::look_up, "What it rests on").add(Items{w.notes});
}

}  // namespace

Report climate_report(const std::vector<ClimateSource>& sources, Provenance provenance) {
    Report report;
    report.kind = "How cold and how hot it gets, for whoever sets the coldest morning of a set-up.";
    report.headline = {Tone::plain, "How cold it gets", sources.size() == 1 && sources.front().sheet
                                                            ? station_name(*sources.front().sheet)
                                                            : counted(sources.size(), "file", "files")};
    report.provenance = std::move(provenance);
    report.last_word =
        "A record says what has been, not what will be; a hollow or a hill nearby may be colder. The local code and a "
        "licensed electrician have the last word.";
    for (const ClimateSource& source : sources) {
        if (source.sheet) {
            add_station(report, source);
        } else {
            add_weather_file(report, source);
        }
    }
    return report;
}

}  // namespace plait::output
