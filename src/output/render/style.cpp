#include "style.hpp"

#include <cmath>

namespace plait::output {

std::string signed_number(double value, int digits) {
    std::string text = fmt::format("{:+.{}f}", value, digits);
    if (text.find_first_of("123456789") == std::string::npos) text.front() = '+';
    return rules::with_minus_sign(text);
}

std::string room_in_volts(double margin_v) { return std::isfinite(margin_v) ? volts(margin_v) : "not known"; }

std::string per_cent(double ratio, int digits) {
    if (!std::isfinite(ratio)) return "not known";
    return rules::with_minus_sign(fmt::format("{:.{}f} %", 100.0 * ratio, digits));
}

std::string in_unit(double value, rules::Unit unit) {
    if (!std::isfinite(value)) return "not known";
    const auto pieces = [&](const char* one, const char* many) {
        return rules::with_minus_sign(fmt::format("{:.0f} {}", value, std::abs(value) == 1.0 ? one : many));
    };
    switch (unit) {
        case rules::Unit::volt:
            return volts(value);
        case rules::Unit::ampere:
            return amps(value);
        case rules::Unit::watt:
            return watts(value);
        case rules::Unit::panel:
            return pieces("panel", "panels");
        case rules::Unit::string:
            return pieces("string", "strings");
    }
    return "";
}

std::string_view name_of(physics::Binding binding) {
    switch (binding) {
        case physics::Binding::nothing:
            return "nothing";
        case physics::Binding::current_limit:
            return "current-limit";
        case physics::Binding::power_limit:
            return "power-limit";
        case physics::Binding::window_bottom:
            return "window-bottom";
        case physics::Binding::window_top:
            return "window-top";
        case physics::Binding::band_edge:
            return "band-edge";
        case physics::Binding::pinned:
            return "battery-voltage";
    }
    return "";
}

std::string_view name_of(physics::NoPoint none) {
    switch (none) {
        case physics::NoPoint::held:
            return "held";
        case physics::NoPoint::dark:
            return "dark";
        case physics::NoPoint::too_low:
            return "voltage-too-low";
        case physics::NoPoint::pushed_out:
            return "pushed-out-at-the-top";
    }
    return "";
}

std::vector<std::string> kind_ids(const Setup& setup) {
    std::vector<std::string> ids;
    for (const PanelKind& kind : setup.kinds) ids.push_back(kind.id);
    return ids;
}

}  // namespace plait::output
