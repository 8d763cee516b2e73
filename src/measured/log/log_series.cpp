#include <plait/measured/log_series.hpp>

#include <algorithm>

namespace plait::measured {
namespace {

void merge(LogSpan& into, const LogSpan& more) {
    into.covered_s += more.covered_s;
    into.measured_ws += more.measured_ws;
    into.expected_ws += more.expected_ws;
    into.possible_ws += more.possible_ws;
    for (std::size_t c = 0; c < cause_count; ++c) into.cause_s[c] += more.cause_s[c];
}

}  // namespace

Cause LogSpan::cause() const {
    return static_cast<Cause>(std::max_element(cause_s.begin(), cause_s.end()) - cause_s.begin());
}

void LogSeries::add(const ExplainedRow& row) {
    if (spans_.empty()) first_s_ = row.row.time_s;
    const double since_s = std::max(0.0, row.row.time_s - first_s_);
    while (since_s >= span_s_ * static_cast<double>(most_spans)) {
        for (std::size_t i = 0; 2 * i < spans_.size(); ++i) {
            if (i > 0) spans_[i] = spans_[2 * i];
            if (2 * i + 1 < spans_.size()) merge(spans_[i], spans_[2 * i + 1]);
        }
        spans_.resize((spans_.size() + 1) / 2);
        span_s_ *= 2.0;
    }
    const auto at = static_cast<std::size_t>(since_s / span_s_);
    if (spans_.size() <= at) spans_.resize(at + 1);
    LogSpan one;
    one.covered_s = row.hours_s;
    one.measured_ws = row.measured_w * row.hours_s;
    one.expected_ws = row.expected_w * row.hours_s;
    one.possible_ws = row.possible_w * row.hours_s;
    one.cause_s[index_of(row.cause)] = row.hours_s;
    merge(spans_[at], one);
}

}  // namespace plait::measured
