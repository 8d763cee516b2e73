// The answer to readings: within or not, when not to connect, and what explains them.
#include "expect_parts.hpp"

#include <algorithm>
#include <cmath>

namespace plait::output {
namespace {

using namespace on_card;

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
    std::string out = fmt::format("  {}. {} ({:.0f} %)\n", i + 1, bold(wrapped(head, 5, width - 8), colour),
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
    out += cautions_text(card, colour);
    return out;
}

}  // namespace plait::output
