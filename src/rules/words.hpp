// Numbers as the rules' sentences write them: enough digits that "exceeds" never reads "60.0 V against 60.0 V".
#pragma once

#include <plait/base/temperature.hpp>
#include <plait/rules/finding.hpp>

#include <fmt/format.h>

#include <string>

namespace plait::rules {

inline std::string with_minus_sign(std::string text) {
    if (!text.empty() && text.front() == '-') text.replace(0, 1, "−");
    return text;
}
inline std::string volts(double v) { return with_minus_sign(fmt::format("{:.2f} V", v)); }
inline std::string amps(double a) { return with_minus_sign(fmt::format("{:.2f} A", a)); }
inline std::string watts(double w) { return with_minus_sign(fmt::format("{:.1f} W", w)); }
inline std::string degrees(Celsius t) {
    // + 0.0 turns the −0 that rounding up leaves behind into 0
    return with_minus_sign(fmt::format("{:.{}f} °C", t.degc + 0.0, t.degc == static_cast<int>(t.degc) ? 0 : 1));
}
inline std::string counted(std::size_t n, const char* one, const char* many) {
    return fmt::format("{} {}", n, n == 1 ? one : many);
}

// How the two ends of a tolerance begin their advice: what the voltage would be there.
inline std::string at_top(const Finding& f) {
    return fmt::format("At the top of the Voc tolerance it would be {}", volts(f.spread.upper()));
}
inline std::string at_bottom(const Finding& f) {
    return fmt::format("At the bottom of the tolerance it would be {}", volts(f.spread.lower()));
}

}  // namespace plait::rules
