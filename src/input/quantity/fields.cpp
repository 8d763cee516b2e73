#include "fields.hpp"

#include "kinds.hpp"
#include "setup/reference.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace plait::input {
namespace {

constexpr auto none = Dimension::none;

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
    return fmt::format(
        "{} is {} without a unit: it could be {} or {}. Write the unit the datasheet has, for instance {} = \"{} {}\".",
        named(spec.key), number, first, second, spec.key, number, first);
}

// 4 mm² is twelve gauge, and 4 AWG five times as thick: a bare number is not guessed either.
std::string size_without_unit(const Spec& spec, const std::string& number) {
    return fmt::format(
        "{} is {} without a unit: it could be mm² or AWG. Write {} = \"{} mm²\" or {} = \"{} AWG\", whichever is "
        "printed on "
        "the cable.",
        named(spec.key), number, spec.key, number, spec.key, number);
}

// 14 may be a frosty morning in °F or a mild one in °C: a bare temperature is not guessed.
std::string temperature_without_unit(const Spec& spec, const std::string& number, double value) {
    const bool is_temperature = spec.kind == Kind::temperature;
    return fmt::format("{} is {} without a unit: {} or {}? Write \"{} {}\" or \"{} °F\".", named(spec.key), number,
                       is_temperature ? fmt::format("{} °C", number) : fmt::format("{} K", number),
                       is_temperature ? fahrenheit_reading(value) : fmt::format("{} °F, which is {} K", number, plain(value / 1.8)),
                       number, is_temperature ? "°C" : "K", number);
}

// What nobody can read without its unit, asked instead of guessed; empty where a bare number will do.
std::string unit_wanted(const Spec& spec, const std::string& number, double value) {
    if (is_coefficient(spec.kind)) return coefficient_without_unit(spec, number, value);
    if (spec.kind == Kind::wire_size) return size_without_unit(spec, number);
    // No warmer is no warmer in any unit.
    if (spec.kind == Kind::temperature || (spec.kind == Kind::warming && value != 0.0)) {
        return temperature_without_unit(spec, number, value);
    }
    return {};
}

void wrong_type(const FileNotes& notes, const Spec& spec, const Node& node) {
    notes.complain(node.at, fmt::format("{} is {}. Write {}.", named(spec.key), type_name(node), wanted(spec)));
}

// What may have been meant by a value that cannot be.
std::string out_of_range_advice(const Spec& spec, const Measure& measure) {
    if (spec.kind == Kind::percentage && spec.limits.low > 0.0 && measure.value > 0.0 && measure.value <= 0.01) {
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
    notes.complain(measure.at, fmt::format("{} is {}, outside {}. {}", named(spec.key), measure.written,
                                           range_text(spec), out_of_range_advice(spec, measure)));
    return std::nullopt;
}

std::optional<Measure> read_plain_number(const FileNotes& notes, const Spec& spec, const Node& node, double number) {
    const KindRow& row = row_of(spec.kind);
    const std::string digits = fmt::format("{}", number);
    if (!std::isfinite(number)) {
        notes.complain(node.at,
                       fmt::format("{} is {}, not a finite number. Write {}.", named(spec.key), digits, wanted(spec)));
        return std::nullopt;
    }
    if (std::string question = unit_wanted(spec, digits, number); !question.empty()) {
        notes.complain(node.at, std::move(question));
        return std::nullopt;
    }
    if (spec.kind == Kind::count && number != std::floor(number)) {
        notes.complain(node.at, fmt::format("{} is {}. Write {}.", named(spec.key), digits, wanted(spec)));
        return std::nullopt;
    }
    if (spec.kind == Kind::percentage && number != 0.0 && std::abs(number) < 1.0) {
        notes.complain(
            node.at,
            fmt::format("{} is {}: is that {} % or {} %? Write the one that is meant, with its sign: {} "
                        "= \"{} %\".",
                        named(spec.key), digits, digits, plain(number * 100.0), spec.key, plain(number * 100.0)));
        return std::nullopt;
    }
    return in_limits(notes, spec,
                     {number * row.scale, row.accepted[0], node.at,
                      row.unit.empty() ? digits : fmt::format("{} {}", digits, row.unit), number, ""});
}

std::optional<Measure> read_written_number(const FileNotes& notes, const Spec& spec, const Node& node,
                                           const std::string& text) {
    const KindRow& row = row_of(spec.kind);
    const auto complain = [&](const std::string& rest) {
        notes.complain(node.at, fmt::format("{} is {}, {}", named(spec.key), quoted(text), rest));
        return std::nullopt;
    };
    const auto split = split_quantity(text);
    if (!split) {
        const bool advised = split.error().find("Write") != std::string::npos;
        return complain(advised ? fmt::format("which {}.", split.error())
                                : fmt::format("which {}. Write {}.", split.error(), wanted(spec)));
    }
    const double number = split->number;
    if (row.accepted[0] == none) {
        if (split->unit.empty()) {
            return complain(fmt::format("in quotes. Write the number alone: {} = {}.", spec.key, plain(number)));
        }
        return complain(fmt::format("not {}. Write {}.", row.noun, wanted(spec)));
    }
    if (split->unit.empty()) {
        if (std::string question = unit_wanted(spec, plain(number), number); !question.empty()) {
            notes.complain(node.at, std::move(question));
            return std::nullopt;
        }
        if (spec.kind == Kind::share)
            return complain(fmt::format("in quotes. Write {} = {}.", spec.key, plain(number)));
        return complain(fmt::format("without a unit. Write {} = \"{} {}\".", spec.key, plain(number), row.unit));
    }
    const Unit* other = nullptr;
    Words allowed;
    for (const Unit& unit : units()) {
        if (accepts(row, unit.dimension)) allowed.push_back(unit.text);
        if (unit.text != split->unit) continue;
        if (accepts(row, unit.dimension)) {
            return in_limits(notes, spec,
                             {in_base_unit(number, unit), unit.dimension, node.at, quoted(text), number, split->unit});
        }
        other = &unit;
    }
    if (other != nullptr) {
        return complain(
            fmt::format("{}, but {} is wanted. Write {}.", dimension_name(other->dimension), row.noun, wanted(spec)));
    }
    const auto near = nearest(split->unit, allowed);
    return complain(fmt::format("whose unit {} is not known. {}", quoted(split->unit),
                                near ? fmt::format("Did you mean \"{} {}\"?", plain(number), *near)
                                     : fmt::format("Write {}; units: {}.", wanted(spec), any_of(allowed))));
}

}  // namespace

std::optional<Measure> read_measure(const FileNotes& notes, const Spec& spec, const Node& node) {
    if (const auto* integer = node.as<std::int64_t>()) {
        return read_plain_number(notes, spec, node, static_cast<double>(*integer));
    }
    if (const auto* number = node.as<double>()) return read_plain_number(notes, spec, node, *number);
    if (const auto* text = node.as<std::string>()) return read_written_number(notes, spec, node, *text);
    wrong_type(notes, spec, node);
    return std::nullopt;
}

std::optional<Text> read_text(const FileNotes& notes, const Spec& spec, const Node& node) {
    const auto* text = node.as<std::string>();
    if (text == nullptr) {
        wrong_type(notes, spec, node);
        return std::nullopt;
    }
    const std::size_t length = character_count(*text);
    if (has_control_character(*text)) {
        notes.complain(node.at,
                       fmt::format("{} is {}, which holds a line break or an unprintable character. Write it on "
                                   "one line, in plain characters.",
                                   named(spec.key), quoted(*text)));
        return std::nullopt;
    }
    if (shows_nothing(*text)) {
        notes.complain(node.at, fmt::format("{} {}. Write {}{}.", named(spec.key),
                                            trimmed(*text).empty() ? "is empty" : "holds blanks alone", wanted(spec),
                                            spec.required ? "" : ", or delete the line"));
        return std::nullopt;
    }
    if (static_cast<double>(length) > spec.limits.high) {
        notes.complain(node.at, fmt::format("{} is {}, {} characters long; {} are taken. Shorten it.", named(spec.key),
                                            quoted(*text), length, plain(spec.limits.high)));
        return std::nullopt;
    }
    return Text{std::string(trimmed(*text)), node.at};
}

std::optional<Word> read_word(const FileNotes& notes, const Spec& spec, const Node& node) {
    const auto* text = node.as<std::string>();
    if (text == nullptr) {
        notes.complain(node.at, fmt::format("{} is {}. Write one of these in quotes: {}.", named(spec.key),
                                            type_name(node), wanted(spec)));
        return std::nullopt;
    }
    for (std::size_t i = 0; i < spec.words.size(); ++i) {
        if (spec.words[i] == *text) return Word{i, node.at};
    }
    const Words words(spec.words.begin(), spec.words.end());
    notes.complain(node.at, fmt::format("{} is {}, which is not known. {}", named(spec.key), quoted(*text),
                                        suggestion(*text, words, "Write one of these")));
    return std::nullopt;
}

std::optional<Flag> read_flag(const FileNotes& notes, const Spec& spec, const Node& node) {
    if (const auto* flag = node.as<bool>()) return Flag{*flag, node.at};
    notes.complain(node.at,
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
        notes.complain(entry.at, fmt::format("{} is not a key of {}. {}", named(entry.key), where, advice));
    }
    for (const Spec* spec : known) {
        if (!spec->required || find(table, spec->key) != nullptr) continue;
        const std::string meaning = spec->kind == Kind::word ? "" : fmt::format(" ({})", spec->meaning);
        notes.complain(
            at, fmt::format("{} is missing in {}{}. Add {}.", named(spec->key), where, meaning, assignment(*spec)));
    }
}

const Table* read_table(const FileNotes& notes, const Entry& entry, std::string_view how) {
    const auto* table = entry.value.as<Table>();
    if (table == nullptr) {
        const bool doubled = entry.value.as<List>() != nullptr;
        notes.complain(entry.at, fmt::format("{} is {}. {}.", named(entry.key),
                                             doubled ? "a list, as [[…]] makes one" : type_name(entry.value), how));
    }
    return table;
}

const List* read_list(const FileNotes& notes, const Entry& entry, std::string_view how) {
    const auto* list = entry.value.as<List>();
    if (list == nullptr) {
        notes.complain(entry.at, fmt::format("{} is {}. {}.", named(entry.key), type_name(entry.value), how));
    }
    return list;
}

}  // namespace plait::input
