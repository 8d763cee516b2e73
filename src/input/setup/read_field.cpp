#include <plait/input/read_field.hpp>

#include "quantity/fields.hpp"
#include "quantity/kinds.hpp"
#include "quantity/notes.hpp"
#include "quantity/text_guard.hpp"
#include "quantity/words.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace plait::input {
namespace {

constexpr std::size_t longest_reading = 200;

constexpr Spec accuracy{.kind = Kind::percentage, .limits = {0.0, 0.2}};

const Spec& spec_of(OptionNumber meaning) {
    static constexpr Spec deviation{.kind = Kind::percentage, .limits = {1e-4, 0.5}};
    static constexpr Spec deviation_k{.kind = Kind::deviation, .limits = {0.01, 30.0}};
    static constexpr Spec least_shown{.kind = Kind::power, .limits = {0.01, 1000.0}};
    static constexpr Spec supply_limit{.kind = Kind::current, .limits = {0.001, 1000.0}};
    static constexpr Spec amps_step{.kind = Kind::current, .limits = {0.0001, 10.0}};
    static constexpr Spec watts_step{.kind = Kind::power, .limits = {0.001, 1000.0}};
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
        case OptionNumber::amps_step_a:
            return amps_step;
        case OptionNumber::watts_step_w:
            return watts_step;
    }
    return accuracy;
}

Result<double> number_behind(const std::string& option, std::string_view text, const Spec& spec) {
    if (const auto complaint = encoding_complaint(text, option)) return Failure{Diagnostics{*complaint}};
    Notes notes;
    const std::optional<Measure> read = read_typed(FileNotes(option, notes), spec, text, {1, 1});
    if (!read) return Failure{std::move(notes.complaints)};
    return read->value;
}

class Options {
public:
    template <class Store>
    void read(const char* option, const std::optional<std::string>& text, const Spec& spec, Store store) {
        if (!text) return;
        const Result<double> value = number_behind(option, *text, spec);
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
        if (text_.size() > longest_reading)
            return complain(0, Complaint::how_many, "this is far too long for a reading. " + form());
        MeterReading reading;
        std::size_t begin = 0;
        const std::string noun = first_noun(begin);
        if (noun.empty()) {
            const std::string_view all = trimmed(text_);
            const std::string_view first = all.substr(0, all.find(' '));
            return complain(0, Complaint::grammar,
                            fmt::format("{} is not a reading. {}", quoted(text_),
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
            return complain(here, Complaint::grammar,
                            fmt::format("{} is neither voc nor isc. Write which of the two was measured, such as "
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
    [[nodiscard]] Complaint kind() const { return kind_; }
    [[nodiscard]] const std::string& message() const { return message_; }

private:
    static constexpr Spec volts{.kind = Kind::voltage, .limits = {-2000.0, 2000.0}};
    static constexpr Spec amps{.kind = Kind::current, .limits = {-1000.0, 1000.0}};
    static constexpr Spec watts{.kind = Kind::power, .limits = {-100000.0, 100000.0}};

    std::nullopt_t complain(std::size_t offset, Complaint kind, std::string message) {
        kind_ = kind;
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
            complain(0, Complaint::ambiguous,
                     fmt::format("the reading does not say at which input. Write its name in front, such as \"{} {}\"; "
                                 "in use: {}.",
                                 used.empty() ? "PV1" : used.front(), printable(trimmed(text_)), any_of(used)));
            return false;
        }
        for (std::size_t i = 0; i < plan_.size(); ++i) {
            const std::string& known = setup_.controller.inputs[i].name;
            if (name.empty() ? plan_[i].empty() : known != name) continue;
            if (plan_[i].empty()) {
                complain(0, Complaint::unknown_word,
                         fmt::format("nothing is wired to {}. Inputs in use: {}.", named(name), any_of(used)));
                return false;
            }
            place.input = i;
            return true;
        }
        complain(0, Complaint::unknown_word,
                 fmt::format("no input is called {}. {}", named(name), suggestion(name, used, "Inputs in use")));
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
            complain(here, Complaint::unknown_word,
                     fmt::format("{} is not a string of {}. It has {}: write {}, counted as the wiring has them.",
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
        using Meant = std::pair<MeterPoint, const Spec*>;
        for (const auto& [point, spec] : {Meant{MeterPoint::display_v, &volts}, Meant{MeterPoint::display_a, &amps},
                                          Meant{MeterPoint::display_w, &watts}}) {
            if (unit.empty() || unit_called(unit, row_of(spec->kind).accepted[0]) == nullptr) continue;
            reading.place.point = point;
            return finish(reading, *spec);
        }
        return complain(here, Complaint::unit,
                        fmt::format("{} is no figure of a display. Write the value with its unit V, A or W, such "
                                    "as \"display 410 W\".",
                                    quoted(rest)));
    }

    std::optional<MeterReading> finish(MeterReading reading, const Spec& spec) {
        const std::size_t here = skip_blanks();
        const std::string_view rest = trimmed(std::string_view(text_).substr(here));
        if (rest.empty()) {
            return complain(here, Complaint::missing,
                            fmt::format("the value is missing. Write what the meter shows, {}.", wanted(spec)));
        }
        Notes notes;
        const std::optional<Measure> read = read_typed(FileNotes("", notes), spec, rest, {});
        if (!read) return complain(here, notes.complaints.front().kind, std::move(notes.complaints.front().message));
        reading.value = read->value;
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
    Complaint kind_ = Complaint::grammar;
    std::string message_;
};

}  // namespace

Result<double> read_option_number(std::string_view text, const std::string& option, OptionNumber meaning) {
    return number_behind(option, text, spec_of(meaning));
}

Result<FieldConditions> read_field_conditions(const FieldTexts& texts) {
    FieldConditions c;
    Options options;
    const Spec air{.kind = Kind::temperature, .limits = {-60.0, 60.0}};
    const Spec cell{.kind = Kind::temperature, .limits = {-60.0, 100.0}};
    const Spec sun{.kind = Kind::irradiance, .limits = {20.0, 1500.0}};
    const Spec kelvins{.kind = Kind::deviation, .limits = {0.0, 20.0}};
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
            {"--air", 1, 1, Complaint::twice,
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
            complaints.push_back(
                {where, line, column_at(texts[i], parser.fault_offset()), parser.kind(), parser.message()});
            continue;
        }
        const bool twice = std::any_of(readings.begin(), readings.end(),
                                       [&](const MeterReading& r) { return r.place == reading->place; });
        if (twice) {
            complaints.push_back(
                {where, line, 1, Complaint::twice,
                 fmt::format("{} gives a second value for the same reading. Keep one of the two.", quoted(texts[i]))});
            continue;
        }
        readings.push_back(*reading);
    }
    if (!complaints.empty()) return Failure{in_order(std::move(complaints))};
    return readings;
}

}  // namespace plait::input
