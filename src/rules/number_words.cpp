#include <plait/rules/number_words.hpp>

#include <fmt/core.h>

#include <cmath>

namespace plait::rules {

std::string with_minus_sign(std::string text) {
    if (text.empty() || text.front() != '-') return text;
    const bool nothing_left = text.find_first_of("123456789") == std::string::npos;
    return text.replace(0, 1, nothing_left ? "" : "−");
}

std::string volts(double value_v) { return with_minus_sign(fmt::format("{:.2f} V", value_v)); }
std::string amps(double value_a) { return with_minus_sign(fmt::format("{:.2f} A", value_a)); }
std::string watts(double value_w) { return with_minus_sign(fmt::format("{:.1f} W", value_w)); }
std::string degrees(Celsius t) {
    const bool whole = t.degc == std::round(t.degc);
    return with_minus_sign(fmt::format("{:.{}f} °C", t.degc, whole ? 0 : 1));
}

std::string plain_number(double value) { return with_minus_sign(fmt::format("{:.6g}", value)); }

std::string counted(std::size_t n, const char* one, const char* many) {
    return fmt::format("{} {}", n, n == 1 ? one : many);
}

std::string size_text(const CableSize& size) {
    return size.awg ? fmt::format("{} AWG", *size.awg) : fmt::format("{:g} mm²", size.area_mm2);
}

}  // namespace plait::rules
