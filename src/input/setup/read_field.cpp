#include <plait/input/read_field.hpp>

#include "quantity/notes.hpp"
#include "quantity/quantity.hpp"
#include "quantity/text_guard.hpp"
#include "quantity/words.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace plait::input {
namespace {

constexpr std::size_t longest_reading = 200;

struct Wanted {
    Dimension dimension = Dimension::none;
    std::string_view unit;  ///< of a plain number; empty: a unit must stand behind it
    double low = 0.0;       ///< in the unit the value is kept in
    double high = 0.0;
    std::string_view range;    ///< the same in words
    std::string_view example;  ///< what to write
};

/// The value, or the rest of a sentence that begins with the quoted text.
Result<double, std::string> value_of(std::string_view text, const Wanted& wanted) {
    Result<NumberAndUnit, std::string> split = split_quantity(text);
    if (!split) return Failure{fmt::format("{}. Write it such as {}.", split.error(), wanted.example)};
    const std::string unit = split->unit.empty() ? std::string(wanted.unit) : split->unit;
    // Some write a share as 0.05, and some mean one in two thousand by it; a hundredfold is not guessed.
    if (wanted.dimension == Dimension::ratio && split->unit.empty() && split->number != 0.0 &&
        std::abs(split->number) < 1.0) {
        const std::string number = plain(split->number);
        return Failure{
            fmt::format("could be {} % or {} %. Write the one that is meant with its sign, \"{} %\" or "
                        "\"{} %\".",
                        number, plain(100.0 * split->number), number, plain(100.0 * split->number))};
    }
    if (unit.empty() && wanted.dimension == Dimension::temperature) {
        const std::string number = plain(split->number);
        return Failure{fmt::format("has no unit: {} °C or {}? Write \"{} °C\" or \"{} °F\".", number,
                                   fahrenheit_reading(split->number), number, number)};
    }
    if (unit.empty()) return Failure{fmt::format("has no unit. Write it such as {}.", wanted.example)};
    for (const Unit& known : units()) {
        if (known.text != unit || known.dimension != wanted.dimension) continue;
        const double value = in_base_unit(split->number, known);
        if (!(value >= wanted.low && value <= wanted.high)) {
            return Failure{fmt::format("is outside {}. Check the number and its unit; write it such as {}.",
                                       wanted.range, wanted.example)};
        }
        return value;
    }
    return Failure{fmt::format("is not {}. Write it such as {}.", dimension_name(wanted.dimension), wanted.example)};
}

constexpr Wanted accuracy{Dimension::ratio, "%", 0.0, 0.2, "0 to 20 %", "5 or \"5 %\""};

const Wanted& wanted_of(OptionNumber meaning) {
    static constexpr Wanted deviation{Dimension::ratio, "%", 1e-4, 0.5, "0.01 to 50 %", "1 or \"0.5 %\""};
    static constexpr Wanted deviation_k{Dimension::difference, "K", 0.01, 30.0, "0.01 to 30 K", "2 or \"2 K\""};
    static constexpr Wanted least_shown{Dimension::power, "W", 0.01, 1000.0, "0.01 to 1000 W", "2 or \"2 W\""};
    static constexpr Wanted supply_limit{Dimension::current, "A", 0.001, 1000.0, "1 mA to 1000 A", "10 or \"10 A\""};
    switch (meaning) {
        case OptionNumber::accuracy:
            break;
        case OptionNumber::deviation:
            return deviation;
        case OptionNumber::temperature_deviation_k:
            return deviation_k;
        case OptionNumber::least_shown_w:
            return least_shown;
        case OptionNumber::supply_limit_a:
            return supply_limit;
    }
    return accuracy;
}

Result<double> number_behind(const std::string& option, std::string_view text, const Wanted& wanted) {
    if (const auto complaint = encoding_complaint(text, option)) return Failure{Diagnostics{*complaint}};
    const Result<double, std::string> value = value_of(text, wanted);
    if (value) return *value;
    return Failure{Diagnostics{{option, 1, 1, fmt::format("{} {}", quoted(text), value.error())}}};
}

class Options {
public:
    template <class Store>
    void read(const char* option, const std::optional<std::string>& text, const Wanted& wanted, Store store) {
        if (!text) return;
        const Result<double> value = number_behind(option, *text, wanted);
        if (value) return store(*value);
        complaints_.insert(complaints_.end(), value.error().begin(), value.error().end());
    }
    Diagnostics complaints_;
};

/// One reading, taken apart from the left.
class ReadingParser {
public:
    ReadingParser(const std::string& text, const Setup& setup, const ArrayPlan& plan)
        : text_(text), setup_(setup), plan_(plan) {}

    std::optional<MeterReading> run() {
        if (text_.size() > longest_reading) return complain(0, "this is far too long for a reading. " + form());
        MeterReading reading;
        std::size_t begin = 0;
        const std::string noun = first_noun(begin);
        if (noun.empty()) {
            const std::string_view all = trimmed(text_);
            const std::string_view first = all.substr(0, all.find(' '));
            return complain(0, fmt::format("{} is not a reading. {}", quoted(text_),
                                           first.empty() ? form() : nearest_noun(first) + form()));
        }
        const std::string_view before = trimmed(std::string_view(text_).substr(0, begin));
        if (!find_input(before, reading.place)) return std::nullopt;
        at_ = begin + noun.size();
        if (noun == "display") return finish_display(reading);
        if (noun == "string" && !take_string_number(reading.place)) return std::nullopt;
        const std::size_t here = skip_blanks();
        const std::string word = take_word();
        if (word != "voc" && word != "isc") {
            return complain(here, fmt::format("{} is neither voc nor isc. Write which of the two was measured, such as "
                                              "{}.",
                                              quoted(word), example(noun)));
        }
        const bool voltage = word == "voc";
        if (noun == "string") {
            reading.place.point = voltage ? MeterPoint::string_voc : MeterPoint::string_isc;
        } else {
            reading.place.point = voltage ? MeterPoint::array_voc : MeterPoint::array_isc;
        }
        return finish(reading, voltage ? volts : amps);
    }

    [[nodiscard]] std::size_t fault_offset() const { return fault_offset_; }
    [[nodiscard]] const std::string& message() const { return message_; }

private:
    static constexpr Wanted volts{Dimension::voltage, "V", -2000.0, 2000.0, "−2000 to 2000 V", "61.2 V"};
    static constexpr Wanted amps{Dimension::current, "A", -1000.0, 1000.0, "−1000 to 1000 A", "8.3 A"};
    static constexpr Wanted watts{Dimension::power, "W", -100000.0, 100000.0, "−100 to 100 kW", "410 W"};

    std::nullopt_t complain(std::size_t offset, std::string message) {
        fault_offset_ = offset;
        message_ = std::move(message);
        return std::nullopt;
    }

    static std::string form() {
        return "Write one such as \"string 1 voc 61.2 V\", \"array isc 8.3 A\" or \"display 410 W\", with the input's "
               "name in front where several are used.";
    }
    static std::string nearest_noun(std::string_view word) {
        const auto meant = nearest(word, {"string", "array", "display"});
        return meant ? fmt::format("Did you mean {}? ", named(*meant)) : std::string();
    }
    static std::string example(const std::string& noun) {
        return noun == "string" ? "\"string 1 voc 61.2 V\"" : "\"array voc 61.2 V\"";
    }

    /// The first of the three nouns that stands alone; where it begins. An input may be called like one of them.
    std::string first_noun(std::size_t& begin) const {
        const std::string small = lower(text_);
        std::size_t from = 0;
        for (const Input& input : setup_.controller.inputs) {
            const std::size_t start = text_.find_first_not_of(' ');
            const std::size_t after = start == std::string::npos ? start : start + input.name.size();
            if (start == std::string::npos || text_.compare(start, input.name.size(), input.name) != 0) continue;
            if (after < text_.size() && text_[after] == ' ') from = std::max(from, after);
        }
        std::string found;
        begin = std::string::npos;
        for (const char* noun : {"string", "array", "display"}) {
            const std::string word(noun);
            for (std::size_t at = small.find(word, from); at != std::string::npos; at = small.find(word, at + 1)) {
                const std::size_t end = at + word.size();
                const bool alone = (at == 0 || small[at - 1] == ' ') && (end == small.size() || small[end] == ' ');
                if (!alone || at >= begin) continue;
                begin = at;
                found = word;
            }
        }
        return found;
    }

    bool find_input(std::string_view name, ReadingPlace& place) {
        Words used;
        for (std::size_t i = 0; i < plan_.size(); ++i) {
            if (!plan_[i].empty()) used.push_back(setup_.controller.inputs[i].name);
        }
        if (name.empty() && used.size() != 1) {
            complain(0,
                     fmt::format("the reading does not say at which input. Write its name in front, such as \"{} {}\"; "
                                 "in use: {}.",
                                 used.empty() ? "PV1" : used.front(), printable(trimmed(text_)), any_of(used)));
            return false;
        }
        for (std::size_t i = 0; i < plan_.size(); ++i) {
            const std::string& known = setup_.controller.inputs[i].name;
            if (name.empty() ? plan_[i].empty() : known != name) continue;
            if (plan_[i].empty()) {
                complain(0, fmt::format("nothing is wired to {}. Inputs in use: {}.", named(name), any_of(used)));
                return false;
            }
            place.input = i;
            return true;
        }
        complain(0, fmt::format("no input is called {}. {}", named(name), suggestion(name, used, "Inputs in use")));
        return false;
    }

    bool take_string_number(ReadingPlace& place) {
        const std::size_t here = skip_blanks();
        const std::string word = take_word();
        const std::size_t count = plan_[place.input].strings.size();
        const std::string& input = setup_.controller.inputs[place.input].name;
        const bool digits =
            !word.empty() && word.size() < 6 && word.find_first_not_of("0123456789") == std::string::npos;
        const std::size_t number = digits ? static_cast<std::size_t>(std::stoul(word)) : 0;
        if (number == 0 || number > count) {
            complain(here, fmt::format("{} is not a string of {}. It has {}: write {}, counted as the wiring has them.",
                                       quoted(word), named(input), count == 1 ? "one" : std::to_string(count),
                                       count == 1 ? "string 1" : fmt::format("string 1 … string {}", count)));
            return false;
        }
        place.string = number - 1;
        return true;
    }

    std::optional<MeterReading> finish_display(MeterReading reading) {
        const std::size_t here = skip_blanks();
        const std::string_view rest = trimmed(std::string_view(text_).substr(here));
        const Result<NumberAndUnit, std::string> split = split_quantity(rest);
        const std::string unit = split ? split->unit : std::string();
        for (const Unit& known : units()) {
            if (unit.empty() || known.text != unit) continue;
            if (known.dimension == Dimension::voltage) {
                reading.place.point = MeterPoint::display_v;
                return finish(reading, volts);
            }
            if (known.dimension == Dimension::current) {
                reading.place.point = MeterPoint::display_a;
                return finish(reading, amps);
            }
            if (known.dimension == Dimension::power) {
                reading.place.point = MeterPoint::display_w;
                return finish(reading, watts);
            }
        }
        return complain(here, fmt::format("{} is no figure of a display. Write the value with its unit V, A or W, such "
                                          "as \"display 410 W\".",
                                          quoted(rest)));
    }

    std::optional<MeterReading> finish(MeterReading reading, const Wanted& wanted) {
        const std::size_t here = skip_blanks();
        const std::string_view rest = trimmed(std::string_view(text_).substr(here));
        if (rest.empty()) {
            return complain(
                here, fmt::format("the value is missing. Write what the meter shows, such as {}.", wanted.example));
        }
        const Result<double, std::string> value = value_of(rest, wanted);
        if (!value) return complain(here, fmt::format("{} {}", quoted(rest), value.error()));
        reading.value = *value;
        return reading;
    }

    std::size_t skip_blanks() {
        while (at_ < text_.size() && text_[at_] == ' ') ++at_;
        return at_;
    }
    std::string take_word() {
        const std::size_t end = std::min(text_.find(' ', at_), text_.size());
        const std::string word = lower(std::string_view(text_).substr(at_, end - at_));
        at_ = end;
        return word;
    }

    const std::string& text_;
    const Setup& setup_;
    const ArrayPlan& plan_;
    std::size_t at_ = 0;
    std::size_t fault_offset_ = 0;
    std::string message_;
};

}  // namespace

Result<double> read_option_number(std::string_view text, const std::string& option, OptionNumber meaning) {
    return number_behind(option, text, wanted_of(meaning));
}

Result<FieldConditions> read_field_conditions(const FieldTexts& texts) {
    FieldConditions c;
    Options options;
    const Wanted air{Dimension::temperature, "", -60.0, 60.0, "−60 to 60 °C", "\"31 °C\" or \"88 °F\""};
    const Wanted cell{Dimension::temperature, "", -60.0, 100.0, "−60 to 100 °C", "\"47 °C\" or \"117 °F\""};
    const Wanted sun{Dimension::irradiance, "W/m²", 20.0, 1500.0, "20 to 1500 W/m²", "820 or \"0.82 kW/m²\""};
    const Wanted kelvins{Dimension::difference, "K", 0.0, 20.0, "0 to 20 K", "2 or \"2 K\""};
    options.read("--air", texts.air, air, [&](double v) { c.weather.air = Celsius{v}; });
    options.read("--cell", texts.cell, cell, [&](double v) { c.weather.cell = Celsius{v}; });
    options.read("--sun", texts.sun, sun, [&](double v) { c.weather.irradiance_w_per_m2 = v; });
    options.read("--meter-accuracy", texts.meter_accuracy, accuracy, [&](double v) { c.accuracies.meter_ratio = v; });
    options.read("--display-accuracy", texts.display_accuracy, accuracy,
                 [&](double v) { c.accuracies.display_ratio = v; });
    options.read("--sun-accuracy", texts.sun_accuracy, accuracy, [&](double v) { c.accuracies.irradiance_ratio = v; });
    options.read("--temperature-accuracy", texts.temperature_accuracy, kelvins,
                 [&](double v) { c.accuracies.temperature_k = v; });
    if (texts.air && texts.cell) {
        options.complaints_.push_back(
            {"--air", 1, 1,
             "both --air and --cell are given. Keep --cell where a panel's back was measured, "
             "else --air."});
    }
    if (!options.complaints_.empty()) return Failure{std::move(options.complaints_)};
    return c;
}

Result<std::vector<MeterReading>> read_readings(const std::vector<std::string>& texts, const std::string& where,
                                                const Setup& setup, const ArrayPlan& plan) {
    std::vector<MeterReading> readings;
    Diagnostics complaints;
    for (std::size_t i = 0; i < texts.size(); ++i) {
        const int line = static_cast<int>(i) + 1;
        if (auto complaint = encoding_complaint(texts[i], where)) {
            complaint->line = line;
            complaints.push_back(*std::move(complaint));
            continue;
        }
        ReadingParser parser(texts[i], setup, plan);
        const std::optional<MeterReading> reading = parser.run();
        if (!reading) {
            complaints.push_back({where, line, column_at(texts[i], parser.fault_offset()), parser.message()});
            continue;
        }
        const bool twice = std::any_of(readings.begin(), readings.end(),
                                       [&](const MeterReading& r) { return r.place == reading->place; });
        if (twice) {
            complaints.push_back(
                {where, line, 1,
                 fmt::format("{} gives a second value for the same reading. Keep one of the two.", quoted(texts[i]))});
            continue;
        }
        readings.push_back(*reading);
    }
    if (!complaints.empty()) return Failure{in_order(std::move(complaints))};
    return readings;
}

}  // namespace plait::input
