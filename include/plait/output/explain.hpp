// The reports of an explained log: text, JSON, and a row of a table for each row of the log.
#pragma once

#include <plait/measured/log_advice.hpp>
#include <plait/measured/log_explanation.hpp>
#include <plait/output/text.hpp>

#include <cstddef>
#include <string>
#include <vector>

namespace plait::output {

struct ExplainedLog {
    std::size_t input = 0;
    InputWiring wiring;
    measured::LogAccuracy accuracy;
    measured::LogAccount account;
    measured::LogAdvice advice;
    std::vector<std::string> notes;  ///< the reader's, about the file
};

[[nodiscard]] std::string explain_text(const study::SystemModel& system, const ExplainedLog& log, Colour colour);
[[nodiscard]] std::string explain_json(const study::SystemModel& system, const ExplainedLog& log);

/// The header of the table and one line of it, with line ends. Columns: time_s, voltage_v, current_a, measured_w,
/// expected_v, expected_w, possible_w, label_w, irradiance_w_per_m2, cell_degc, seconds (for how long the row stands),
/// cause, probability, then lost_…_w for every cause.
[[nodiscard]] std::string explain_csv_head();
void explain_csv_row(const measured::ExplainedRow& row, std::string& out);

}  // namespace plait::output
