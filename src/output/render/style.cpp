#include "style.hpp"

#include <plait/base/names.hpp>

#include <array>
#include <cmath>

namespace plait::output {

std::string watt_hours(double energy_wh) {
    const double kwh = energy_wh / 1000.0;
    if (std::abs(energy_wh) < 999.5) {
        return rules::with_minus_sign(fmt::format("{:.0f} Wh", std::abs(energy_wh) < 0.5 ? 0.0 : energy_wh));
    }
    return rules::with_minus_sign(fmt::format("{:.{}f} kWh", kwh,
                                              std::abs(kwh) < 9.995   ? 2
                                              : std::abs(kwh) < 99.95 ? 1
                                                                      : 0));
}

std::string time_of_day(double hours_h) {
    const auto minutes = static_cast<long>(std::lround(60.0 * hours_h));
    return fmt::format("{:02d}:{:02d}", minutes / 60, minutes % 60);
}

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

std::string per_cent_of(double part, double whole, int digits) { return per_cent(whole > 0.0 ? part / whole : 0.0, digits); }

std::string signed_per_cent(double ratio, int digits) { return signed_number(100.0 * ratio, digits) + " %"; }

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
    static constexpr Names names{
        Name{physics::Binding::nothing, "nothing"},         Name{physics::Binding::current_limit, "current-limit"},
        Name{physics::Binding::power_limit, "power-limit"}, Name{physics::Binding::window_bottom, "window-bottom"},
        Name{physics::Binding::window_top, "window-top"},   Name{physics::Binding::band_edge, "band-edge"},
        Name{physics::Binding::pinned, "battery-voltage"},
    };
    return name_in(names, binding);
}

std::string_view name_of(physics::NoPoint none) {
    static constexpr Names names{
        Name{physics::NoPoint::held, "held"},
        Name{physics::NoPoint::dark, "dark"},
        Name{physics::NoPoint::too_low, "voltage-too-low"},
        Name{physics::NoPoint::pushed_out, "pushed-out-at-the-top"},
    };
    return name_in(names, none);
}

std::vector<std::string> kind_ids(const Setup& setup) {
    std::vector<std::string> ids;
    for (const PanelKind& kind : setup.kinds) ids.push_back(kind.id);
    return ids;
}

}  // namespace plait::output
