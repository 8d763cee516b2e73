// The commissioning card as it is printed: 80 columns, warnings first.
#include <plait/output/expect.hpp>

#include "expect_words.hpp"
#include "style.hpp"

#include <algorithm>
#include <cmath>

namespace plait::output {
namespace {

constexpr std::size_t card_width = 80;

std::string para(std::string_view first, std::string_view text) {
    return std::string(first) + wrapped(text, columns(first), card_width) + "\n";
}

/// The next range of a usual hand-held meter, *common practice, no source*.
std::string meter_range(double highest_v) {
    for (const int range_v : {20, 200, 600, 1000}) {
        if (highest_v < range_v) return fmt::format("{} V range", range_v);
    }
    return "a meter rated for more than 1000 V";
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

std::string foot(const study::Card& card, Colour colour) {
    std::string out = "\n" + bold("Be careful", colour) + "\n";
    for (const study::Caution& c : card.cautions) out += para("  ! ", c.text);
    return out;
}

std::string reading_line(const study::FieldModel& model, const study::CheckedReading& r) {
    const MeterPoint point = r.reading.place.point;
    const std::string word = r.within ? "ok" : r.reading.value < r.expected.low_value() ? "too low" : "too high";
    return fmt::format("  {}{}{}   {} to {}\n", padded(word, 10), padded(words_of(model, r.reading.place), 31),
                       padded_left(in_unit(r.reading.value, point), 11), in_unit(r.expected.low_value(), point),
                       in_unit(r.expected.high_value(), point));
}

std::string would_read(const study::FieldModel& model, const study::Diagnosis& d, const std::vector<double>& values) {
    std::string out;
    for (std::size_t i = 0; i < values.size(); ++i) {
        const ReadingPlace& place = d.readings[i].reading.place;
        out += fmt::format("{}{} {}", out.empty() ? "" : "; ", words_of(model, place), in_unit(values[i], place.point));
    }
    return out;
}

std::string suspect_text(const study::FieldModel& model, const study::Diagnosis& d, std::size_t i, Colour colour) {
    const study::SuspectedFault& s = d.suspects[i];
    std::string head = fmt::format("{}: {}", where_of(model, s.place), s.fault->title);
    if (s.amount_factor) head += ", " + amount_of(model, *s.fault, s.place, *s.amount_factor);
    std::string out = fmt::format("  {}. {} ({:.0f} %)\n", i + 1, bold(wrapped(head, 5, card_width - 8), colour),
                                  100.0 * s.probability_ratio);
    out += para("     ", fmt::format("How it shows: {}.", s.fault->meaning));
    out += para("     ", fmt::format("Would read: {}.", would_read(model, d, s.would_read)));
    out += para("     → ", s.fault->remedy);
    return out;
}

// What is said of likely faults: a few where something is outside, what cannot be ruled out where nothing is.
std::string suspects_text(const study::FieldModel& model, const study::Diagnosis& d, Colour colour) {
    constexpr std::size_t most_shown = 4;
    constexpr double least_shown_ratio = 0.01;
    std::string out;
    if (d.pass()) {
        std::string others;
        for (const study::SuspectedFault& s : d.suspects) {
            if (s.probability_ratio < 0.02) break;
            others += fmt::format("{}{} ({})", others.empty() ? "" : "; ", s.fault->title, where_of(model, s.place));
        }
        if (!others.empty()) {
            out += "\n" +
                   para("", fmt::format("These readings do not rule out, though nothing points to it: {}.", others));
        }
        return out;
    }
    out += "\n" + bold("The likeliest explanations", colour) + "\n";
    if (d.unknown_ratio > d.suspects.front().probability_ratio && d.unknown_ratio > d.sound_ratio) {
        out += para("  ",
                    "None of the faults below explains these readings together. Check the meter and its leads, the "
                    "figures typed, and that all readings are from the same steady weather; then have somebody "
                    "who knows look at it.");
    } else if (d.sound_ratio > d.suspects.front().probability_ratio) {
        out +=
            para("  ", fmt::format("That nothing is wrong but chance and the instruments ({:.0f} %). Measure again in "
                                   "steady sun.",
                                   100.0 * d.sound_ratio));
    }
    for (std::size_t i = 0; i < std::min(most_shown, d.suspects.size()); ++i) {
        if (i > 0 && d.suspects[i].probability_ratio < least_shown_ratio) break;
        out += suspect_text(model, d, i, colour);
    }
    if (d.doubt) {
        const study::Doubt& doubt = *d.doubt;
        std::string words =
            fmt::format("{} and {} cannot be told apart by these readings.", doubt.first + 1, doubt.second + 1);
        if (doubt.further) {
            const MeterPoint point = doubt.further->point;
            words += fmt::format(" Measure {}: {} would show {}, {} {}.", words_of(model, *doubt.further),
                                 doubt.first + 1, in_unit(doubt.first_reading_value, point), doubt.second + 1,
                                 in_unit(doubt.second_reading_value, point));
        } else {
            words +=
                " No other reading parts them in this weather: look at the panels, or measure on a day with other "
                "light or warmth.";
        }
        out += para("  ", words);
    }
    return out;
}

std::string cells_text(const study::FieldModel& model, const study::Diagnosis& d, const study::Card& card) {
    std::string out;
    for (const study::CellFromVoc& c : d.cell_temperatures) {
        const double given_k = card.sky.temperature_given ? std::abs(c.cell - card.sky.cell) : 0.0;
        out +=
            para("  ", fmt::format("{}: cells at {} ({}: array and meter {:.0f} K, light {:.0f} K, coefficient {:.0f} "
                                   "K){}.",
                                   words_of(model, c.place), degrees(Celsius{std::round(c.cell.degc)}),
                                   plus_minus(std::round(c.half_k), "K"), c.voltage_half_k, c.light_half_k,
                                   c.coefficient_half_k,
                                   given_k > c.half_k ? "; that does not agree with the temperature given" : ""));
        if (out.size() > 400) break;
    }
    return out.empty() ? out : "\nThe cells' temperature, if the wiring is right (IEC 60904-5)\n" + out;
}

}  // namespace

std::string expect_text(const study::FieldModel& model, const study::Card& card, Colour colour) {
    std::string out =
        bold("Commissioning card", colour) + "  " + wrapped(plan_line(model, card), 20, card_width) + "\n";
    out += weather_text(card);
    out += stop_signs(model, card, colour);
    out += steps_text(model, card, colour);
    out += expected_text(model, card, colour);
    out += faults_text(model, card, colour);
    out += bands_text(model, card, colour);
    out += foot(card, colour);
    return out;
}

std::string readings_text(const study::FieldModel& model, const study::Card& card, const study::Diagnosis& d,
                          Colour colour) {
    const bool over = card.plan_outcome == rules::Outcome::exceeds;
    const std::size_t outside = static_cast<std::size_t>(
        std::count_if(d.readings.begin(), d.readings.end(), [](const study::CheckedReading& r) { return !r.within; }));
    std::string out;
    if (!d.stops.empty() || over) {
        out += coloured("DO NOT CONNECT", rules::Outcome::exceeds, colour) + "  " + plan_line(model, card) + "\n";
        if (over) out += para("! ", "This wiring is outside the stated limits as planned: plait check says why.");
        for (const study::Stop& s : d.stops) out += para("! ", sentence_of(model, d, s));
        const bool plugged_in = std::any_of(d.readings.begin(), d.readings.end(), [](const study::CheckedReading& r) {
            return is_of_display(r.reading.place.point);
        });
        if (plugged_in) {
            out += para("! ",
                        "It seems to be plugged in already: stop the charging or open the DC isolator, then unplug.");
        }
    } else if (d.all_within) {
        out += coloured("PASS", rules::Outcome::within, colour) + "  " + plan_line(model, card) + "\n";
        out += para("", "Every reading is within its band.");
    } else {
        out += coloured("OUTSIDE", rules::Outcome::falls_short, colour) + "  " + plan_line(model, card) + "\n";
        out += para("", fmt::format("{} of {} readings {} outside the band. Find out why before you go on.", outside,
                                    d.readings.size(), outside == 1 ? "is" : "are"));
    }
    out += weather_text(card);
    out += "\n" + bold("Readings and their bands", colour) + "\n";
    for (const study::CheckedReading& r : d.readings) out += reading_line(model, r);
    out += suspects_text(model, d, colour);
    out += cells_text(model, d, card);
    out += bands_text(model, card, colour);
    out += foot(card, colour);
    return out;
}

}  // namespace plait::output
