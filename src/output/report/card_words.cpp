#include "card_words.hpp"

#include "expect_words.hpp"
#include "parts_of_reports.hpp"
#include "render/style.hpp"
#include "verdict_words.hpp"

#include <algorithm>
#include <cmath>

namespace plait::output {
namespace {

/// The next range of a usual hand-held meter, *common practice, no source*.
std::string meter_range(double highest_v) {
    for (const int range_v : {20, 200, 600, 1000}) {
        if (highest_v < range_v) return fmt::format("{} V range", range_v);
    }
    return "a meter rated for more than 1000 V";
}

std::string plus_minus(double half, std::string_view unit) { return fmt::format("±{:.3g} {}", half, unit); }

std::string cell(double value, MeterPoint point, bool outside) {
    std::string number = is_power(point) ? fmt::format("{:.0f}", value) : fmt::format("{:.2f}", value);
    return rules::with_minus_sign(std::move(number)) + (outside ? "*" : "");
}

/// A heading narrow enough for a table of seven columns.
std::string short_name(MeterPoint point) {
    const char* const where = is_of_string(point) ? "string" : is_of_display(point) ? "display" : "array";
    return fmt::format("{} {}", where, is_power(point) ? "W" : is_voltage(point) ? "V" : "A");
}

std::string would_read(const measured::FieldModel& model, const measured::Diagnosis& d,
                       const std::vector<double>& values) {
    std::string out;
    for (std::size_t i = 0; i < values.size(); ++i) {
        const ReadingPlace& place = d.readings[i].reading.place;
        out += fmt::format("{}{} {}", out.empty() ? "" : "; ", words_of(model, place), in_unit(values[i], place.point));
    }
    return out;
}

constexpr double least_shown_ratio = 0.01;

}  // namespace

std::vector<std::string> weather_sentences(const measured::CommissioningCard& card) {
    const measured::FieldSky& sky = card.sky;
    std::vector<std::string> out;
    const std::string air = sky.air && sky.temperature_given ? fmt::format("air {}, ", degrees(*sky.air)) : "";
    const std::string cells = fmt::format("cells {} ({})", degrees(Celsius{std::round(sky.cell.degc)}),
                                          plus_minus(std::round(sky.temperature_k), "K"));
    if (sky.irradiance_given) {
        out.emplace_back(fmt::format("For {:.0f} W/m² ({}) in the panels' plane, {}{}.", sky.irradiance_w_per_m2,
                                     plus_minus(100.0 * card.conditions.accuracies.irradiance_ratio, "%"), air, cells));
    } else {
        out.emplace_back(fmt::format("For any daylight of {:.0f} to {:.0f} W/m², {}{}.", measured::dullest_w_per_m2,
                                     measured::brightest_w_per_m2, air, cells));
        out.emplace_back(
            "Without the irradiance only voltages can be foretold, within a wider band. For currents and "
            "power hold a light sensor in the panels' plane and add --sun 820 (W/m²).");
    }
    if (!sky.temperature_given) {
        out.emplace_back(
            "Nobody gave the temperature: the band covers all of the site's year. Add --air \"31 °C\" (in the "
            "shade) or better --cell \"47 °C\" (on a panel's back). Without a thermometer read an open voltage "
            "and add it with --read: it tells the cells' temperature.");
    }
    if (sky.irradiance_given && sky.irradiance_w_per_m2 < measured::least_isc_test_w_per_m2) {
        out.emplace_back(
            fmt::format("Too dull to test short-circuit currents: wait for {:.0f} W/m² (IEC 62446-1 practice "
                        "[from memory]).",
                        measured::least_isc_test_w_per_m2));
    }
    return out;
}

std::vector<std::string> stop_signs(const measured::FieldModel& model, const measured::CommissioningCard& card) {
    const Setup& setup = model.system().setup();
    std::vector<std::string> out;
    if (card.plan_verdict.connection != study::Connection::allowed) {
        out.emplace_back(fmt::format("before this is settled: {} (`plait check` says why).", headline_of(setup, card.plan_verdict)));
    }
    out.emplace_back("if the meter shows a minus with the red tip on +: + and − are swapped.");
    for (const measured::InputCard& one : card.inputs) {
        const Input& input = setup.controller.inputs[one.input];
        out.emplace_back(
            input.max_voltage_v
                ? fmt::format("if {} would get more than {}, on any day, at any time.", input.name,
                              volts(*input.max_voltage_v))
                : fmt::format("as long as nobody knows how much voltage {} bears: ask its maker for the absolute maximum.",
                              input.name));
    }
    const bool joins = std::any_of(card.inputs.begin(), card.inputs.end(), [&](const measured::InputCard& one) {
        return model.plan()[one.input].strings.size() > 1;
    });
    if (joins) {
        out.emplace_back(
            fmt::format("if two strings to be joined differ by more than {} from each other (from "
                        "what they should differ by, where they are unlike).",
                        per_cent(card.conditions.accuracies.array_ratio, 0)));
    }
    out.emplace_back("if a reading lies outside its band and you do not know why. Type it in with --read and see.");
    return out;
}

std::vector<std::string> measuring_steps(const measured::FieldModel& model, const measured::CommissioningCard& card) {
    double highest_v = 0.0;
    double highest_a = 0.0;
    for (const measured::InputCard& one : card.inputs) {
        highest_v = std::max(highest_v, one.cold_voc_v);
        highest_a = std::max(highest_a, one.highest_isc_a);
    }
    std::vector<std::string> out;
    out.emplace_back(
        "Leave everything unplugged from the input. Panels lie open, the sun is steady, your hands and "
        "the ground are dry. If any of it is not so, wait.");
    out.emplace_back(
        fmt::format("Set the meter to DC volts (V with a straight line), {}; black lead in COM, red lead "
                    "in V. Never measure volts with the red lead in the A socket.",
                    meter_range(highest_v)));
    out.emplace_back(
        "Each string by itself: red tip on its +, black tip on its −. No minus sign may show. Read the "
        "open voltage and compare.");
    out.emplace_back("Strings of one input that agree: join them, and read the open voltage of the joint.");
    out.emplace_back(
        fmt::format("Short-circuit current is optional, and only with a DC switch rated for it and a DC "
                    "clamp meter for more than {:.0f} A: never with bare plugs, they have no breaking "
                    "capacity. Cover the panels before you take the short away.",
                    highest_a));
    out.emplace_back(model.system().setup().controller.battery
                         ? "All within their bands: battery first, then plug the array in. After two minutes of "
                           "steady sun read the display. A full battery takes less than the card says."
                         : "All within their bands: plug the array in. After two minutes of steady sun read the "
                           "display. A full battery takes less than the card says.");
    return out;
}

std::vector<std::string> insulation_lines(const measured::FieldModel& model, const measured::CommissioningCard& card) {
    std::vector<std::string> out;
    for (const measured::InputCard& one : card.inputs) {
        out.emplace_back(
            fmt::format("Insulation test of {}, for a qualified person only: {} V, at least {:.1f} MΩ (IEC "
                        "62446-1).",
                        model.system().setup().controller.inputs[one.input].name, one.insulation_test_v,
                        one.insulation_least_ohm / 1e6));
    }
    return out;
}

std::string operating_note(const measured::CommissioningCard& card, const measured::InputCard& one) {
    if (!card.sky.irradiance_given) return "";
    const physics::OperatingPoint& op = one.operating;
    if (!op.held()) return "In this weather the input takes nothing, so its display shows no power.";
    if (op.binding == physics::Binding::nothing) return "";
    return fmt::format("In this weather the input, not the array, sets the display ({}): it tells little about faults.",
                       name_of(op.binding));
}

std::vector<std::string> display_notes(const measured::FieldModel& model, const measured::CommissioningCard& card) {
    std::vector<std::string> out;
    if (card.sky.irradiance_given && card.shared) {
        const std::string wanted = fmt::format("The controller takes {} over all its inputs and would be offered {}.",
                                               watts(card.shared->limit_w), watts(card.shared->wanted_w));
        out.push_back(wanted + (card.inputs.size() < 2
                                    ? " The display stays at the former."
                                    : " The displays are foretold in proportion to what each input would take alone; "
                                      "how this controller shares it out only its maker knows (our choice, no source), "
                                      "so hold the sum of the displays against it."));
    }
    if (!model.system().setup().cables.empty()) {
        out.emplace_back(
            "The cables of the set-up are counted: array and display are foretold at the input's plug, behind them. "
            "They take nothing from an open voltage.");
    }
    return out;
}

Table expected_table(const measured::FieldModel& model, const measured::CommissioningCard& card,
                          const measured::InputCard& one) {
    Table table = table_of("Readings within these bands pass", {"", "#expected", "#from", "#to"});
    for (const measured::Expectation& e : one.expected) {
        const MeterPoint point = e.place.point;
        const bool needs_light = !is_voltage(point) || is_of_display(point);
        if (needs_light && !card.sky.irradiance_given) continue;
        table.rows.push_back({{words_of(model, e.place), in_unit(e.value, point), in_unit(e.low_value(), point),
                               in_unit(e.high_value(), point)}});
    }
    return table;
}

Table fault_table(const measured::FieldModel& model, const measured::CommissioningCard& card, const measured::InputCard& one) {
    Table table = table_of("What another reading may mean (* outside its band)", {"if"});
    if (!card.sky.irradiance_given) return table;
    const auto shown = [&](std::size_t i) {
        const MeterPoint point = one.row_places[i].point;
        return point != MeterPoint::display_v && point != MeterPoint::display_a;
    };
    for (std::size_t i = 0; i < one.row_places.size(); ++i) {
        if (!shown(i)) continue;
        table.columns.push_back({short_name(one.row_places[i].point), true});
    }
    const auto add = [&](std::string title, const std::vector<double>& values) {
        std::vector<std::string> cells{std::move(title)};
        for (std::size_t i = 0; i < values.size(); ++i) {
            if (!shown(i)) continue;
            const auto e = std::find_if(one.expected.begin(), one.expected.end(),
                                        [&](const measured::Expectation& x) { return x.place == one.row_places[i]; });
            cells.push_back(cell(values[i], one.row_places[i].point, !e->holds(values[i])));
        }
        table.rows.push_back({std::move(cells)});
    };
    std::vector<double> planned;
    for (const ReadingPlace& place : one.row_places) {
        for (const measured::Expectation& e : one.expected) {
            if (e.place == place) planned.push_back(e.value);
        }
    }
    add("as planned", planned);
    for (const measured::FaultRow& r : one.rows) {
        const std::string amount = amount_of(model, *r.fault, r.place, r.amount_factor);
        add(std::string(r.fault->title) + (amount.empty() ? "" : ": " + amount), r.values);
    }
    return table;
}

std::vector<std::string> band_sentences(const measured::FieldModel& model, const measured::CommissioningCard& card) {
    const Accuracies& a = card.conditions.accuracies;
    std::vector<std::string> out;
    std::string light = card.sky.irradiance_given ? fmt::format("light sensor ±{:.3g} %", 100.0 * a.irradiance_ratio)
                                                  : std::string("light unknown");
    out.emplace_back(fmt::format(
        "Array against datasheet ±{:.3g} %, meter ±{:.3g} %, display ±{:.3g} %, {}, "
        "cell temperature ±{:.0f} K. Each is carried through the panels' curves to the reading; "
        "the band is the root of the sum of their squares. All are meant to hold in 95 of 100 cases.",
        100.0 * a.array_ratio, 100.0 * a.meter_ratio, 100.0 * a.display_ratio, light, card.sky.temperature_k));
    for (const measured::InputCard& one : card.inputs) {
        out.emplace_back(fmt::format("{}: one kelvin warmer takes {:.3f} V from string 1.",
                                     model.system().setup().controller.inputs[one.input].name,
                                     std::abs(one.string_v_per_k)));
    }
    return out;
}

ReadingVerdict verdict_of(const measured::FieldModel& model, const measured::CommissioningCard& card, const measured::Diagnosis& d) {
    const bool over = card.plan_verdict.connection == study::Connection::forbidden;
    const std::size_t outside = static_cast<std::size_t>(std::count_if(
        d.readings.begin(), d.readings.end(), [](const measured::CheckedReading& r) { return !r.within; }));
    ReadingVerdict v{"PASS", Tone::good, {}, false};
    std::vector<std::string>& out = v.sentences;
    if (!d.stops.empty() || over) {
        v.word = "DO NOT CONNECT";
        v.tone = Tone::exceeds;
        v.stop = true;
        if (over) out.emplace_back("This wiring is outside the stated limits as planned: `plait check` says why.");
        for (const measured::Stop& s : d.stops) out.emplace_back(sentence_of(model, d, s));
        const bool plugged_in =
            std::any_of(d.readings.begin(), d.readings.end(),
                        [](const measured::CheckedReading& r) { return is_of_display(r.reading.place.point); });
        if (plugged_in) {
            out.emplace_back(
                "It seems to be plugged in already: stop the charging or open the DC isolator, then unplug.");
        }
    } else if (d.all_within) {
        out.emplace_back("Every reading is within its band.");
    } else {
        v.word = "OUTSIDE";
        v.tone = Tone::falls_short;
        out.emplace_back(fmt::format("{} of {} readings {} outside the band. Find out why before you go on.", outside,
                                     d.readings.size(), outside == 1 ? "is" : "are"));
    }
    return v;
}

Table checked_table(const measured::FieldModel& model, const measured::Diagnosis& d) {
    Table table = table_of("Readings and their bands", {"it is", "reading", "#value", "band"});
    for (const measured::CheckedReading& r : d.readings) {
        const MeterPoint point = r.reading.place.point;
        const std::string word = r.within ? "ok" : r.reading.value < r.expected.low_value() ? "too low" : "too high";
        table.rows.push_back(
            {{word, words_of(model, r.reading.place), in_unit(r.reading.value, point),
              fmt::format("{} to {}", in_unit(r.expected.low_value(), point), in_unit(r.expected.high_value(), point))}});
    }
    return table;
}

std::string before_suspects(const measured::FieldModel& model, const measured::Diagnosis& d) {
    if (d.pass()) {
        std::string others;
        for (const measured::SuspectedFault& s : d.suspects) {
            if (s.probability_ratio < 0.02) break;
            others += fmt::format("{}{} ({})", others.empty() ? "" : "; ", s.fault->title, where_of(model, s.place));
        }
        return others.empty() ? ""
                              : fmt::format("These readings do not rule out, though nothing points to it: {}.", others);
    }
    if (d.unknown_ratio > d.suspects.front().probability_ratio && d.unknown_ratio > d.sound_ratio) {
        return "None of the faults below explains these readings together. Check the meter and its leads, the figures "
               "typed, and that all readings are from the same steady weather; then have somebody who knows look at "
               "it.";
    }
    if (d.sound_ratio > d.suspects.front().probability_ratio) {
        return fmt::format(
            "That nothing is wrong but chance and the instruments ({}). Measure again in steady sun.",
            per_cent(d.sound_ratio, 0));
    }
    return "";
}

std::vector<SuspectWords> suspect_words(const measured::FieldModel& model, const measured::Diagnosis& d) {
    constexpr std::size_t most_shown = 4;
    std::vector<SuspectWords> out;
    if (d.pass()) return out;
    for (std::size_t i = 0; i < std::min(most_shown, d.suspects.size()); ++i) {
        const measured::SuspectedFault& s = d.suspects[i];
        if (i > 0 && s.probability_ratio < least_shown_ratio) break;
        std::string head = fmt::format("{}: {}", where_of(model, s.place), s.fault->title);
        if (s.amount_factor) head += ", " + amount_of(model, *s.fault, s.place, *s.amount_factor);
        out.push_back({std::move(head),
                       per_cent(s.probability_ratio, 0),
                       {fmt::format("How it shows: {}.", s.fault->meaning),
                        fmt::format("Would read: {}.", would_read(model, d, s.would_read))},
                       std::string(s.fault->remedy)});
    }
    return out;
}

std::string doubt_sentence(const measured::FieldModel& model, const measured::Diagnosis& d) {
    if (!d.ambiguity) return "";
    const measured::Ambiguity& doubt = *d.ambiguity;
    std::string words =
        fmt::format("{} and {} cannot be told apart by these readings.", doubt.first + 1, doubt.second + 1);
    if (doubt.further) {
        const MeterPoint point = doubt.further->point;
        words += fmt::format(" Measure {}: {} would show {}, {} {}.", words_of(model, *doubt.further), doubt.first + 1,
                             in_unit(doubt.first_reading_value, point), doubt.second + 1,
                             in_unit(doubt.second_reading_value, point));
    } else {
        words +=
            " No other reading parts them in this weather: look at the panels, or measure on a day with other "
            "light or warmth.";
    }
    return words;
}

std::vector<std::string> cell_sentences(const measured::FieldModel& model, const measured::CommissioningCard& card,
                                        const measured::Diagnosis& d) {
    std::vector<std::string> out;
    for (const measured::CellFromVoc& c : d.cell_temperatures) {
        const double given_k = card.sky.temperature_given ? std::abs(c.cell - card.sky.cell) : 0.0;
        out.emplace_back(
            fmt::format("{}: cells at {} ({}: array and meter {:.0f} K, light {:.0f} K, coefficient {:.0f} "
                        "K){}.",
                        words_of(model, c.place), degrees(Celsius{std::round(c.cell.degc)}),
                        plus_minus(std::round(c.half_k), "K"), c.voltage_half_k, c.light_half_k, c.coefficient_half_k,
                        given_k > c.half_k ? "; that does not agree with the temperature given" : ""));
        if (out.size() == 3) break;  // the rest says the same
    }
    return out;
}

}  // namespace plait::output
