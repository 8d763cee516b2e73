// The curve of a wiring in sentences and tables that text and page share.
#pragma once

#include <plait/study/curve_sheet.hpp>

#include <plait/output/report.hpp>

#include <string>
#include <vector>

namespace plait::output {

/// "hot: 1000 W/m², cells 65 °C"
[[nodiscard]] std::string curve_weather(const study::SystemModel& system, const study::CurveSheet& sheet);
/// That it is above the input's maximum, or nothing.
[[nodiscard]] std::string over_maximum(const Input& input, const study::InputCurve& c);
/// Open circuit, short circuit, the most power, where the input holds it.
[[nodiscard]] Table figure_table(const study::InputCurve& c);
/// The marked points of the curve, or all of them; with each string's current where the strings are few.
[[nodiscard]] Table point_table(const study::InputCurve& c, bool all_points);

/// What the panels give at one point of the curve.
struct ShareTable {
    std::string heading;  ///< "At the most power, 61.20 V"
    std::string sentence;
    Table table;
};
/// At the most power, and in operation where that is elsewhere.
[[nodiscard]] std::vector<ShareTable> share_tables(const Setup& setup, const study::InputCurve& c);
/// What the strings do to each other with nothing plugged in; empty for one string.
[[nodiscard]] std::string open_circuit_sentence(const study::InputCurve& c);

}  // namespace plait::output
