#include "fields.hpp"

#include "kinds.hpp"
#include "setup/reference.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace plait::input {
namespace {

constexpr auto none = Dimension::none;

// "'voc' is "18 A", a current, but …", or, behind an option that the message names already, ""18 A" is a current, but …".
std::string fault(const Spec& spec, std::string_view written, std::string_view rest) {
    if (!spec.key.empty()) return fmt::format("{} is {}, {}", named(spec.key), written, rest);
    if (rest.substr(0, 6) == "which ") return fmt::format("{} {}", written, rest.substr(6));
    return fmt::format("{} is {}", written, rest);
}

std::string_view absolute_unit(Kind kind) {
    return kind == Kind::voc_coefficient ? "V" : kind == Kind::isc_coefficient ? "A" : "W";
}

// A bare number beside a coefficient is read differently by different people, so none is guessed. Which readings
// are offered depends on its size: "-130" is no percentage, "-0.0027" no voltage.
std::string coefficient_without_unit(const Spec& spec, const std::string& number, double value) {
    const std::string unit(absolute_unit(spec.kind));
    const double size = std::abs(value);
    std::string first = "%/K";
    std::string second = unit + "/K";
    if (size >= 1.0) {
        first = "m" + unit + "/K";
        second = spec.kind == Kind::voc_coefficient && size < 10.0 ? "mV/K per cell" : unit + "/K";
    } else if (size < 0.005) {
        first = "1/K";
    }
    return fmt::format("it could be {} or {}. Write the unit the datasheet has, for instance {}.", first, second,
                       assignment(spec, fmt::format("\"{} {}\"", number, first)));
}

// 4 mm² is twelve gauge, and 4 AWG five times as thick; 14 may be a frosty morning in °F or a mild one in °C.
std::string two_readings(const Spec& spec, const std::string& number, double value) {
    const auto written = [&](const char* unit) { return assignment(spec, fmt::format("\"{} {}\"", number, unit)); };
    if (spec.kind == Kind::wire_size) {
        return fmt::format("it could be mm² or AWG. Write {} or {}, whichever is printed on the cable.", written("mm²"),
                           written("AWG"));
    }
    if (spec.kind == Kind::temperature) {
        return fmt::format("{} °C or {}? Write {} or {}.", number, fahrenheit_reading(value), written("°C"),
                           written("°F"));
    }
    return fmt::format("{} K or {} °F, which is {:.3g} K? Write {} or {}.", number, number, value / 1.8, written("K"),
                       written("°F"));
}

// What nobody can read without its unit, asked instead of guessed; empty where a bare number will do.
std::string unit_question(const Spec& spec, const std::string& number, double value) {
    if (row_of(spec.kind).bare) return {};
    // No warmer is no warmer in any unit.
    if (spec.kind == Kind::warming && value == 0.0) return {};
    const std::string question = is_coefficient(spec.kind) ? coefficient_without_unit(spec, number, value)
                                                           : two_readings(spec, number, value);
    const std::string who = spec.key.empty() ? quoted(number) : named(spec.key) + " is " + number;
    return fmt::format("{} {}: {}", who, spec.key.empty() ? "has no unit" : "without a unit", question);
}

void wrong_type(const FileNotes& notes, const Spec& spec, const Node& node) {
    notes.complain(node.at, Complaint::wrong_type,
                   fmt::format("{} is {}. Write {}.", named(spec.key), type_name(node), wanted(spec)));
}

// What may have been meant by a value that cannot be.
std::string out_of_range_advice(const Spec& spec, const Measure& measure) {
    const bool percentage = spec.kind == Kind::percentage || spec.kind == Kind::tolerance;
    if (percentage && spec.limits.low > 0.0 && measure.value > 0.0 && measure.value <= 0.01) {
        return "Write a share as a percentage: 0.95 is \"95 %\".";
    }
    if (spec.kind == Kind::share && measure.written.find('%') == std::string::npos &&
        measure.value / 100.0 >= spec.limits.low && measure.value / 100.0 <= spec.limits.high) {
        return fmt::format("If it is a percentage, write \"{} %\".", plain(measure.value));
    }
    const double as_if_degf = (measure.value - 32.0) * 5.0 / 9.0;
    const bool in_celsius =
        measure.written.find('F') == std::string::npos && measure.written.find('K') == std::string::npos;
    if (spec.kind == Kind::temperature && in_celsius && as_if_degf >= spec.limits.low &&
        as_if_degf <= spec.limits.high) {
        return fmt::format("If it is in Fahrenheit, write \"{} °F\".", plain(measure.value));
    }
    return "Check the number, its decimal point and its unit.";
}

std::optional<Measure> in_limits(const FileNotes& notes, const Spec& spec, Measure measure) {
    if (is_coefficient(spec.kind)) return measure;  // what is plausible depends on the panel
    if (spec.kind == Kind::wire_size) return measure;
    if (measure.value >= spec.limits.low && measure.value <= spec.limits.high) return measure;
    notes.complain(measure.at, Complaint::outside_range,
                   fault(spec, measure.written,
                         fmt::format("outside {}. {}", range_text(spec), out_of_range_advice(spec, measure))));
    return std::nullopt;
}

// A number without a unit; `written` as a message shows it.
std::optional<Measure> read_plain_number(const FileNotes& notes, const Spec& spec, Place at, double number,
                                         const std::string& written) {
    const KindRow& row = row_of(spec.kind);
    if (!std::isfinite(number)) {
        notes.complain(at, Complaint::no_number,
                       fault(spec, written, fmt::format("not a finite number. Write {}.", wanted(spec))));
        return std::nullopt;
    }
    if (std::string question = unit_question(spec, written, number); !question.empty()) {
        notes.complain(at, Complaint::ambiguous, std::move(question));
        return std::nullopt;
    }
    if (spec.kind == Kind::count && number != std::floor(number)) {
        notes.complain(at, Complaint::no_number,
                       fault(spec, written, fmt::format("no whole number. Write {}.", wanted(spec))));
        return std::nullopt;
    }
    if (row.accepted[0] == Dimension::ratio && !row.unit.empty() && number != 0.0 && std::abs(number) < 1.0) {
        // Some write a share as 0.05, and some mean one in two thousand by it; a hundredfold is not guessed.
        notes.complain(at, Complaint::ambiguous,
                       fault(spec, spec.key.empty() ? quoted(written) : written,
                             fmt::format("which could be {0} % or {1} %. Write the one that is meant, with its sign: "
                                         "\"{0} %\" or \"{1} %\".",
                                         written, plain(number * 100.0))));
        return std::nullopt;
    }
    const std::string shown = spec.key.empty() ? quoted(written)
                              : row.unit.empty() ? written
                                                 : fmt::format("{} {}", written, row.unit);
    return in_limits(notes, spec, {number * row.scale, row.accepted[0], at, shown, number, ""});
}

// A number with a unit, or what should be one.
std::optional<Measure> read_written_number(const FileNotes& notes, const Spec& spec, Place at, std::string_view text,
                                           const NumberAndUnit& split) {
    const KindRow& row = row_of(spec.kind);
    const auto complain = [&](const std::string& rest) {
        notes.complain(at, Complaint::unit, fault(spec, quoted(text), rest));
        return std::nullopt;
    };
    const double number = split.number;
    if (row.accepted[0] == none) return complain(fmt::format("not {}. Write {}.", row.noun, wanted(spec)));
    for (const Dimension dimension : row.accepted) {
        if (dimension == none) continue;
        if (const Unit* unit = unit_called(split.unit, dimension)) {
            return in_limits(notes, spec,
                             {in_base_unit(number, *unit), dimension, at, quoted(text), number, std::string(unit->text)});
        }
    }
    for (const Unit& unit : units()) {
        if (unit_called(split.unit, unit.dimension) == nullptr) continue;
        return complain(
            fmt::format("{}, but {} is wanted. Write {}.", dimension_name(unit.dimension), row.noun, wanted(spec)));
    }
    const Words allowed = unit_words(spec.kind);
    const auto near = nearest(split.unit, allowed);
    return complain(fmt::format("{}whose unit {} is not known. {}", spec.key.empty() ? "a number " : "",
                                quoted(split.unit),
                                near ? fmt::format("Did you mean \"{} {}\"?", plain(number), *near)
                                     : fmt::format("Write {}; units: {}.", wanted(spec), any_of(allowed))));
}

std::optional<NumberAndUnit> parted(const FileNotes& notes, const Spec& spec, Place at, std::string_view text) {
    const auto split = split_quantity(text);
    if (split) return *split;
    const bool advised = split.error().find("Write") != std::string::npos;
    notes.complain(at, Complaint::no_number,
                   fault(spec, quoted(text),
                         advised ? fmt::format("which {}.", split.error())
                                 : fmt::format("which {}. Write {}.", split.error(), wanted(spec))));
    return std::nullopt;
}

// A number in quotes without a unit: the quotes say that one was meant.
std::optional<Measure> read_quoted_number(const FileNotes& notes, const Spec& spec, Place at, const std::string& text,
                                          double number) {
    const KindRow& row = row_of(spec.kind);
    const std::string digits = plain(number);
    if (std::string question = unit_question(spec, digits, number); !question.empty()) {
        notes.complain(at, Complaint::ambiguous, std::move(question));
        return std::nullopt;
    }
    const bool alone = row.unit.empty();
    notes.complain(at, Complaint::unit,
                   fault(spec, quoted(text),
                         alone ? fmt::format("in quotes. Write the number alone: {}.", assignment(spec, digits))
                               : fmt::format("without a unit. Write {}.",
                                             assignment(spec, fmt::format("\"{} {}\"", digits, row.unit)))));
    return std::nullopt;
}

}  // namespace

std::optional<Measure> read_measure(const FileNotes& notes, const Spec& spec, const Node& node) {
    if (const auto* integer = node.as<std::int64_t>()) {
        return read_plain_number(notes, spec, node.at, static_cast<double>(*integer), fmt::format("{}", *integer));
    }
    if (const auto* number = node.as<double>()) {
        return read_plain_number(notes, spec, node.at, *number, fmt::format("{}", *number));
    }
    if (const auto* text = node.as<std::string>()) {
        const auto split = parted(notes, spec, node.at, *text);
        if (!split) return std::nullopt;
        if (split->unit.empty()) return read_quoted_number(notes, spec, node.at, *text, split->number);
        return read_written_number(notes, spec, node.at, *text, *split);
    }
    wrong_type(notes, spec, node);
    return std::nullopt;
}

std::optional<Measure> read_typed(const FileNotes& notes, const Spec& spec, std::string_view typed, Place at) {
    const auto split = parted(notes, spec, at, typed);
    if (!split) return std::nullopt;
    if (split->unit.empty()) return read_plain_number(notes, spec, at, split->number, fmt::format("{}", split->number));
    return read_written_number(notes, spec, at, typed, *split);
}

Measure stand_in(const Spec& spec) {
    return {spec.fall_back->value, row_of(spec.kind).accepted[0], {}, fall_back_text(spec), 0.0, {}};
}

void assume_fall_back(const FileNotes& notes, const Subject& subject, const Spec& spec) {
    const FallBack& fall_back = *spec.fall_back;
    if (!fall_back.quantity || fall_back.together) return;
    notes.assume({*fall_back.quantity, std::nullopt, subject.input, subject.text, std::string(fall_back.what),
                  fall_back_text(spec), std::string(fall_back.why), fall_back.figure});
}

std::optional<Text> read_text(const FileNotes& notes, const Spec& spec, const Node& node) {
    const auto* text = node.as<std::string>();
    if (text == nullptr) {
        wrong_type(notes, spec, node);
        return std::nullopt;
    }
    const std::size_t length = character_count(*text);
    if (has_control_character(*text)) {
        notes.complain(node.at, Complaint::no_text,
                       fmt::format("{} is {}, which holds a line break or an unprintable character. Write it on "
                                   "one line, in plain characters.",
                                   named(spec.key), quoted(*text)));
        return std::nullopt;
    }
    if (shows_nothing(*text)) {
        notes.complain(node.at, Complaint::missing,
                       fmt::format("{} {}. Write {}{}.", named(spec.key),
                                   trimmed(*text).empty() ? "is empty" : "holds blanks alone", wanted(spec),
                                   spec.required ? "" : ", or delete the line"));
        return std::nullopt;
    }
    if (static_cast<double>(length) > spec.limits.high) {
        notes.complain(node.at, Complaint::how_many,
                       fmt::format("{} is {}, {} characters long; {} are taken. Shorten it.", named(spec.key),
                                   quoted(*text), length, plain(spec.limits.high)));
        return std::nullopt;
    }
    return Text{std::string(trimmed(*text)), node.at};
}

std::optional<Word> read_word(const FileNotes& notes, const Spec& spec, const Node& node) {
    const auto* text = node.as<std::string>();
    if (text == nullptr) {
        notes.complain(
            node.at, Complaint::wrong_type,
            fmt::format("{} is {}. Write one of these in quotes: {}.", named(spec.key), type_name(node), wanted(spec)));
        return std::nullopt;
    }
    for (std::size_t i = 0; i < spec.words.size(); ++i) {
        if (spec.words[i] == *text) return Word{i, node.at};
    }
    const Words words(spec.words.begin(), spec.words.end());
    notes.complain(node.at, Complaint::unknown_word,
                   fmt::format("{} is {}, which is not known. {}", named(spec.key), quoted(*text),
                               suggestion(*text, words, "Write one of these")));
    return std::nullopt;
}

std::optional<Flag> read_flag(const FileNotes& notes, const Spec& spec, const Node& node) {
    if (const auto* flag = node.as<bool>()) return Flag{*flag, node.at};
    notes.complain(node.at, Complaint::wrong_type,
                   fmt::format("{} is {}. Write true or false, without quotes.", named(spec.key), type_name(node)));
    return std::nullopt;
}

void check_keys(const FileNotes& notes, const Table& table, Place at, std::string_view where, const Specs& known) {
    for (const Entry& entry : table) {
        const bool is_known =
            std::any_of(known.begin(), known.end(), [&](const Spec* spec) { return spec->key == entry.key; });
        if (is_known) continue;
        Words keys;
        for (const Spec* spec : known) keys.push_back(spec->key);
        const std::string homes = homes_of(entry.key);
        const auto near = nearest(entry.key, keys);
        const std::string advice = near             ? fmt::format("Did you mean {}?", named(*near))
                                   : !homes.empty() ? fmt::format("It belongs in {}.", homes)
                                                    : fmt::format("Keys here: {}.", any_of(keys));
        notes.complain(entry.at, Complaint::unknown_key,
                       fmt::format("{} is not a key of {}. {}", named(entry.key), where, advice));
    }
    for (const Spec* spec : known) {
        if (!spec->required || find(table, spec->key) != nullptr) continue;
        const std::string meaning = spec->kind == Kind::word ? "" : fmt::format(" ({})", spec->meaning);
        notes.complain(
            at, Complaint::missing,
            fmt::format("{} is missing in {}{}. Add {}.", named(spec->key), where, meaning, assignment(*spec)));
    }
}

const Table* read_table(const FileNotes& notes, const Entry& entry, std::string_view how) {
    const auto* table = entry.value.as<Table>();
    if (table == nullptr) {
        const bool doubled = entry.value.as<List>() != nullptr;
        notes.complain(entry.at, Complaint::wrong_type,
                       fmt::format("{} is {}. {}.", named(entry.key),
                                   doubled ? "a list, as [[…]] makes one" : type_name(entry.value), how));
    }
    return table;
}

const List* read_list(const FileNotes& notes, const Entry& entry, std::string_view how) {
    const auto* list = entry.value.as<List>();
    if (list == nullptr) {
        notes.complain(entry.at, Complaint::wrong_type,
                       fmt::format("{} is {}. {}.", named(entry.key), type_name(entry.value), how));
    }
    return list;
}

}  // namespace plait::input
