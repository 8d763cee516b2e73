#include "expect_parts.hpp"

#include <cmath>

namespace plait::output::on_card {

std::string para(std::string_view first, std::string_view text) {
    return std::string(first) + wrapped(text, columns(first), width) + "\n";
}

std::string plus_minus(double half, std::string_view unit) { return fmt::format("±{:.3g} {}", half, unit); }

std::string plan_line(const study::FieldModel& model, const study::Card& card) {
    const Setup& setup = model.bench().setup();
    std::string out;
    for (const study::InputCard& one : card.inputs) {
        out += fmt::format("{}{} = {}", out.empty() ? "" : "; ", setup.controller.inputs[one.input].name,
                           label(model.plan()[one.input], kind_ids(setup)));
    }
    return out;
}

std::string weather_text(const study::Card& card) {
    const study::FieldSky& sky = card.sky;
    std::string out;
    const std::string air = sky.air && sky.temperature_given ? fmt::format("air {}, ", degrees(*sky.air)) : "";
    const std::string cells = fmt::format("cells {} ({})", degrees(Celsius{std::round(sky.cell.degc)}),
                                          plus_minus(std::round(sky.temperature_k), "K"));
    if (sky.irradiance_given) {
        out += para("", fmt::format("For {:.0f} W/m² ({}) in the panels' plane, {}{}.", sky.irradiance_w_per_m2,
                                    plus_minus(100.0 * card.conditions.accuracies.irradiance_ratio, "%"), air, cells));
    } else {
        out += para("", fmt::format("For any daylight of {:.0f} to {:.0f} W/m², {}{}.", study::dullest_w_per_m2,
                                    study::brightest_w_per_m2, air, cells));
        out += para("",
                    "Without the irradiance only voltages can be foretold, within a wider band. For currents and "
                    "power hold a light sensor in the panels' plane and add --sun 820 (W/m²).");
    }
    if (!sky.temperature_given) {
        out += para("",
                    "Nobody gave the temperature: the band covers all of the site's year. Add --air 31 (°C, in the "
                    "shade) or better --cell 47 (°C, on a panel's back). Without a thermometer read an open voltage "
                    "and add it with --read: it tells the cells' temperature.");
    }
    if (sky.irradiance_given && sky.irradiance_w_per_m2 < study::least_isc_test_w_per_m2) {
        out +=
            para("", fmt::format("Too dull to test short-circuit currents: wait for {:.0f} W/m² (IEC 62446-1 practice "
                                 "[from memory]).",
                                 study::least_isc_test_w_per_m2));
    }
    return out;
}

std::string bands_text(const study::FieldModel& model, const study::Card& card, Colour colour) {
    const Accuracies& a = card.conditions.accuracies;
    std::string out = "\n" + bold("How the bands come about", colour) + "\n";
    std::string light = card.sky.irradiance_given ? fmt::format("light sensor ±{:.3g} %", 100.0 * a.irradiance_ratio)
                                                  : std::string("light unknown");
    out += para(
        "  ", fmt::format("Array against datasheet ±{:.3g} % (IEC 62446-1), meter ±{:.3g} %, display ±{:.3g} %, {}, "
                          "cell temperature ±{:.0f} K. Each is carried through the panels' curves to the reading; "
                          "the band is the root of the sum of their squares. All are meant to hold in 95 of 100 cases.",
                          100.0 * a.array_ratio, 100.0 * a.meter_ratio, 100.0 * a.display_ratio, light,
                          card.sky.temperature_k));
    for (const study::InputCard& one : card.inputs) {
        out += para("  ",
                    fmt::format("{}: one kelvin warmer takes {:.3f} V from string 1.",
                                model.bench().setup().controller.inputs[one.input].name, std::abs(one.string_v_per_k)));
    }
    return out;
}

std::string cautions_text(const study::Card& card, Colour colour) {
    std::string out = "\n" + bold("Be careful", colour) + "\n";
    for (const study::Caution& c : card.cautions) out += para("  ! ", c.text);
    return out;
}

}  // namespace plait::output::on_card
