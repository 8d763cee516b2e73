#include "csv_field.hpp"
#include "report/explain_words.hpp"

#include <fmt/core.h>

#include <iterator>
#include <optional>

namespace plait::output {

std::string explain_csv_head(const Setup& setup, const study::Verdict& verdict) {
    std::string out =
        "time_s,voltage_v,current_a,measured_w,expected_v,expected_w,possible_w,label_w,irradiance_w_per_m2,cell_degc,"
        "seconds,cause,probability";
    for (std::size_t c = 0; c < measured::cause_count; ++c) {
        out += fmt::format(",lost_{}_w", name_of(static_cast<measured::Cause>(c)));
    }
    for (char& c : out) c = c == '-' ? '_' : c;
    return csv_remark("explain", setup, verdict) + out + "\n";
}

void explain_csv_row(const measured::ExplainedRow& row, std::string& out) {
    const auto to = std::back_inserter(out);
    const auto maybe = [&](const std::optional<double>& value) {
        if (value) fmt::format_to(to, "{}", *value);
        out += ',';
    };
    fmt::format_to(to, "{},", row.row.time_s);
    maybe(row.row.voltage_v);
    maybe(row.row.current_a);
    // {} prints the shortest text that reads back as the same double: whoever adds the columns up gets the account.
    fmt::format_to(to, "{},{},{},{},{},{},{},{},{},{}", row.measured_w, row.expected_v, row.expected_w, row.possible_w,
                   row.label_w, row.irradiance_w_per_m2, row.cell.degc, row.hours_s, name_of(row.cause),
                   row.probability_ratio[measured::index_of(row.cause)]);
    for (const double lost_w : row.lost_w) fmt::format_to(to, ",{}", lost_w);
    out += '\n';
}

}  // namespace plait::output
