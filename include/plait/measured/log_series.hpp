// A log thinned to what a picture can show: equal spans of time, in bounded memory however long the log.
#pragma once

#include <plait/measured/log_explanation.hpp>

#include <cstddef>
#include <vector>

namespace plait::measured {

/// Sums over one span of time; seconds without a row count for nothing.
struct LogSpan {
    double covered_s = 0.0;
    double measured_ws = 0.0;
    double expected_ws = 0.0;
    double possible_ws = 0.0;
    ByCause<double> cause_s{};  ///< for how long each was the most probable

    [[nodiscard]] double mean_w(double sum_ws) const { return covered_s > 0.0 ? sum_ws / covered_s : 0.0; }
    [[nodiscard]] Cause cause() const;
};

class LogSeries {
public:
    /// Rows by rising time. When there are too many spans, every two become one.
    void add(const ExplainedRow& row);

    [[nodiscard]] const std::vector<LogSpan>& spans() const { return spans_; }
    [[nodiscard]] double span_s() const { return span_s_; }

    static constexpr std::size_t most_spans = 240;

private:
    double first_s_ = 0.0;
    double span_s_ = 60.0;
    std::vector<LogSpan> spans_;
};

}  // namespace plait::measured
