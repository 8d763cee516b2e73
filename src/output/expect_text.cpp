// The commissioning card as it is printed: 80 columns, warnings first.
#include "expect_parts.hpp"

#include <algorithm>
#include <cmath>

namespace plait::output {
namespace {

using namespace on_card;

/// The next range of a usual hand-held meter, *common practice, no source*.
std::string meter_range(double highest_v) {
    for (const int range_v : {20, 200, 600, 1000}) {
        if (highest_v < range_v) return fmt::format("{} V range", range_v);
    }
    return "a meter rated for more than 1000 V";
}

std::string stop_signs(const study::FieldModel& model, const study::Card& card, Colour colour) {
    const Setup& setup = model.bench().setup();
    std::string out = "\n" + bold("Do not connect anything", colour) + "\n";
    if (card.plan_outcome == rules::Outcome::exceeds) {
        out += para("  ! ", "as this wiring stands: it is outside the stated limits (plait check says why).");
    }
    out += para("  ! ", "if the meter shows a minus with the red tip on +: + and − are swapped.");
    for (const study::InputCard& one : card.inputs) {
        const Input& input = setup.controller.inputs[one.input];
        out += para("  ! ", fmt::format("if {} would get more than {}, on any day, at any time.", input.name,
                                        volts(input.max_voltage_v)));
    }
    const bool joins = std::any_of(card.inputs.begin(), card.inputs.end(), [&](const study::InputCard& one) {
        return model.plan()[one.input].strings.size() > 1;
    });
    if (joins) {
        out +=
            para("  ! ", fmt::format("if two strings to be joined differ by more than {:.0f} % from each other (from "
                                     "what they should differ by, where they are unlike).",
                                     100.0 * card.conditions.accuracies.array_ratio));
    }
    out += para("  ! ", "if a reading lies outside its band and you do not know why. Type it in with --read and see.");
    return out;
}

std::string steps_text(const study::FieldModel& model, const study::Card& card, Colour colour) {
    double highest_v = 0.0;
    double highest_a = 0.0;
    for (const study::InputCard& one : card.inputs) {
        highest_v = std::max(highest_v, one.cold_voc_v);
        highest_a = std::max(highest_a, one.highest_isc_a);
    }
    std::string out = "\n" + bold("How to measure, in this order", colour) + "\n";
    out += para("  1. ",
                "Leave everything unplugged from the input. Panels lie open, the sun is steady, your hands and "
                "the ground are dry. If any of it is not so, wait.");
    out +=
        para("  2. ", fmt::format("Set the meter to DC volts (V with a straight line), {}; black lead in COM, red lead "
                                  "in V. Never measure volts with the red lead in the A socket.",
                                  meter_range(highest_v)));
    out += para("  3. ",
                "Each string by itself: red tip on its +, black tip on its −. No minus sign may show. Read the "
                "open voltage and compare.");
    out += para("  4. ", "Strings of one input that agree: join them, and read the open voltage of the joint.");
    out +=
        para("  5. ", fmt::format("Short-circuit current is optional, and only with a DC switch rated for it and a DC "
                                  "clamp meter for more than {:.0f} A: never with bare plugs, they have no breaking "
                                  "capacity. Cover the panels before you take the short away.",
                                  highest_a));
    out += para("  6. ", model.bench().setup().controller.battery
                             ? "All within their bands: battery first, then plug the array in. After two minutes of "
                               "steady sun read the display. A full battery takes less than the card says."
                             : "All within their bands: plug the array in. After two minutes of steady sun read the "
                               "display. A full battery takes less than the card says.");
    for (const study::InputCard& one : card.inputs) {
        out += para("     ",
                    fmt::format("Insulation test of {}, for a qualified person only: {} V, at least {:.1f} MΩ (IEC "
                                "62446-1).",
                                model.bench().setup().controller.inputs[one.input].name, one.insulation_test_v,
                                one.insulation_least_ohm / 1e6));
    }
    return out;
}

std::string operating_note(const study::InputCard& one) {
    const physics::OperatingPoint& op = one.operating;
    if (!op.held()) return "In this weather the input takes nothing, so its display shows no power.";
    if (op.binding == physics::Binding::nothing) return "";
    return fmt::format("In this weather the input, not the array, sets the display ({}): it tells little about faults.",
                       name_of(op.binding));
}

std::string shared_note(const study::SharedLimit& shared, std::size_t inputs) {
    const std::string wanted = fmt::format("The controller takes {} over all its inputs and would be offered {}.",
                                           watts(shared.limit_w), watts(shared.wanted_w));
    if (inputs < 2) return wanted + " The display stays at the former.";
    return wanted +
           " The displays are foretold in proportion to what each input would take alone; how this controller shares "
           "it out only its maker knows (our choice, no source), so hold the sum of the displays against it.";
}

std::string band_line(const study::FieldModel& model, const study::Expectation& e) {
    const auto in = [&](double value) { return padded_left(in_unit(value, e.place.point), 12); };
    return fmt::format("  {}{}{}{}\n", padded(words_of(model, e.place), 38), in(e.value), in(e.low_value()),
                       in(e.high_value()));
}

std::string expected_text(const study::FieldModel& model, const study::Card& card, Colour colour) {
    const bool light = card.sky.irradiance_given;
    std::string out;
    for (const study::InputCard& one : card.inputs) {
        const Setup& setup = model.bench().setup();
        out += "\n" + bold(fmt::format("{}: what to read", setup.controller.inputs[one.input].name), colour) + "\n";
        out += fmt::format("  {}{}{}{}\n", padded("", 38), padded_left("expected", 12), padded_left("from", 12),
                           padded_left("to", 12));
        for (const study::Expectation& e : one.expected) {
            const bool needs_light = !is_voltage(e.place.point) || is_of_display(e.place.point);
            if (light || !needs_light) out += band_line(model, e);
        }
        const std::string note = operating_note(one);
        if (light && !note.empty()) out += para("  ", note);
    }
    if (light && card.shared) out += "\n" + para("", shared_note(*card.shared, card.inputs.size()));
    if (!model.bench().setup().cables.empty()) {
        out += "\n" +
               para("",
                    "The cables of the set-up are counted: array and display are foretold at the input's plug, behind "
                    "them. They take nothing from an open voltage.");
    }
    return out;
}

std::string cell(double value, MeterPoint point, bool outside) {
    std::string number = is_power(point) ? fmt::format("{:.0f}", value) : fmt::format("{:.2f}", value);
    if (number.find_first_of("123456789") == std::string::npos && number.front() == '-') number.erase(0, 1);
    if (!number.empty() && number.front() == '-') number.replace(0, 1, "−");
    return padded_left(number, 8) + (outside ? "*" : " ");
}

std::string faults_text(const study::FieldModel& model, const study::Card& card, Colour colour) {
    if (!card.sky.irradiance_given) return "";
    std::string out;
    for (const study::InputCard& one : card.inputs) {
        const auto& input = model.bench().setup().controller.inputs[one.input].name;
        out += "\n" + bold(fmt::format("{}: what another reading may mean (* outside its band)", input), colour) + "\n";
        out += fmt::format("  {}{}{}{}\n", padded("", 32), padded_left("string 1", 13), padded_left("array", 18),
                           padded_left("display", 12));
        out += fmt::format("  {}{}{}{}{}{}\n", padded("", 32), padded_left("open V", 8), padded_left("short A", 9),
                           padded_left("open V", 9), padded_left("short A", 9), padded_left("W", 9));
        const auto row = [&](const std::string& title, const std::vector<double>& values) {
            std::string line = "  " + padded(title, 32);
            for (std::size_t i = 0; i < values.size(); ++i) {
                const MeterPoint point = one.row_places[i].point;
                if (point == MeterPoint::display_v || point == MeterPoint::display_a) continue;
                const auto e = std::find_if(one.expected.begin(), one.expected.end(),
                                            [&](const study::Expectation& x) { return x.place == one.row_places[i]; });
                line += cell(values[i], point, !e->holds(values[i]));
            }
            while (!line.empty() && line.back() == ' ') line.pop_back();
            out += line + "\n";
        };
        std::vector<double> planned;
        for (const ReadingPlace& place : one.row_places) {
            for (const study::Expectation& e : one.expected) {
                if (e.place == place) planned.push_back(e.value);
            }
        }
        row("as planned", planned);
        for (const study::FaultRow& r : one.rows) {
            const std::string amount = amount_of(model, *r.fault, r.place, r.amount_factor);
            row(std::string(r.fault->title) + (amount.empty() ? "" : ": " + amount), r.values);
        }
    }
    return out;
}

}  // namespace

std::string expect_text(const study::FieldModel& model, const study::Card& card, Colour colour) {
    std::string out = bold("Commissioning card", colour) + "  " + wrapped(plan_line(model, card), 20, width) + "\n";
    out += weather_text(card);
    out += stop_signs(model, card, colour);
    out += steps_text(model, card, colour);
    out += expected_text(model, card, colour);
    out += faults_text(model, card, colour);
    out += bands_text(model, card, colour);
    out += cautions_text(card, colour);
    return out;
}

}  // namespace plait::output
