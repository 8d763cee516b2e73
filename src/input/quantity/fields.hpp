// One table a struct: key, kind, member, range, fall-back, meaning. The tables feed the reader, its messages, what stands
// in for missing keys, the list of assumptions and docs/input.md.
#pragma once

#include "setup/document.hpp"
#include "notes.hpp"
#include "quantity.hpp"
#include "words.hpp"

#include <plait/model/technology_ranges.hpp>

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace plait::input {

enum class Kind {
    voltage,
    current,
    power,
    resistance,
    temperature,
    warming,    ///< a temperature difference
    deviation,  ///< the same, of a thermometer: a plain number is in kelvins
    irradiance,
    percentage,  ///< "95 %", or 95
    tolerance,   ///< the same, to both sides
    share,       ///< a plain ratio, 0.2, or "20 %"
    factor,      ///< a plain number
    money,
    count,
    isc_coefficient,
    voc_coefficient,
    pmax_coefficient,
    length,
    wire_size,  ///< mm² or AWG, never a bare number; which sizes there are is the reader's business
    resistance_per_length,
    angle,
    capacity,  ///< of a battery: an energy, or a charge at its nominal voltage
    text,
    word,  ///< one of `Spec::words`
    flag,
    by_hand,  ///< a table or list with a reader of its own
};

/// What stands in for a missing key.
struct FallBack {
    double value = 0.0;                 ///< in base units; of a word its place among `Spec::words`
    std::optional<Quantity> quantity{};  ///< as what it is listed as assumed; absent: a default, no assumption
    std::string_view what{};            ///< "NOCT"
    std::string_view why{};
    bool together = false;  ///< the reader lists it, in one line with others
    Figure figure = Figure::only;
};

struct Spec {
    std::string_view key{};  ///< empty: what is typed behind an option, which the message names already
    Kind kind = Kind::by_hand;
    std::string_view meaning{};
    std::string_view if_missing{};  ///< for the documentation, behind the fall-back if there is one
    std::optional<FallBack> fall_back{};
    Limits limits{};              ///< in base units; of a text, its length
    std::span<const std::string_view> words{};
    std::string_view form{};  ///< for the documentation, of what is not read by the table alone
    bool required = false;
};

struct Text {
    std::string value;
    Place at;
};
struct Word {
    std::size_t index = 0;  ///< into `Spec::words`, which has the order of the enumeration
    Place at;
};
struct Flag {
    bool value = false;
    Place at;
};

template <class S>
struct Field {
    Spec spec;
    std::variant<std::monostate, std::optional<Measure> S::*, std::optional<Text> S::*, std::optional<Word> S::*,
                 std::optional<Flag> S::*>
        member{};
};

using Specs = std::vector<const Spec*>;

template <class S>
[[nodiscard]] Specs specs_of(std::span<const Field<S>> fields) {
    Specs specs;
    for (const Field<S>& field : fields) specs.push_back(&field.spec);
    return specs;
}

/// The row of a key, which the table must have.
template <class S>
[[nodiscard]] const Spec& spec_of(std::span<const Field<S>> fields, std::string_view key) {
    std::size_t i = 0;
    while (fields[i].spec.key != key) ++i;
    return fields[i].spec;
}

/// The value that stands in, with its unit: "47 °C", "±3 %", "flat-on-ground".
[[nodiscard]] std::string fall_back_text(const Spec& spec);

[[nodiscard]] std::optional<Measure> read_measure(const FileNotes& notes, const Spec& spec, const Node& node);
/// The same of what a command line has, where no quotes tell a number from a text. `at` is its place there.
[[nodiscard]] std::optional<Measure> read_typed(const FileNotes& notes, const Spec& spec, std::string_view typed,
                                                Place at);
[[nodiscard]] std::optional<Text> read_text(const FileNotes& notes, const Spec& spec, const Node& node);
[[nodiscard]] std::optional<Word> read_word(const FileNotes& notes, const Spec& spec, const Node& node);
[[nodiscard]] std::optional<Flag> read_flag(const FileNotes& notes, const Spec& spec, const Node& node);

/// Complains of every key of the table that `known` does not have, and of every required one that is missing.
/// `where` names the table as the file writes it: "[site]".
void check_keys(const FileNotes& notes, const Table& table, Place at, std::string_view where, const Specs& known);

/// The node as a table or list, or a complaint that says how to write one.
[[nodiscard]] const Table* read_table(const FileNotes& notes, const Entry& entry, std::string_view how);
[[nodiscard]] const List* read_list(const FileNotes& notes, const Entry& entry, std::string_view how);

/// Reads every key that has a member; what is missing or wrong stays empty.
template <class S>
void read_fields(const FileNotes& notes, const Table& table, std::span<const Field<S>> fields, S& out) {
    for (const Entry& entry : table) {
        for (const Field<S>& field : fields) {
            if (field.spec.key != entry.key) continue;
            if (const auto* m = std::get_if<1>(&field.member)) out.** m = read_measure(notes, field.spec, entry.value);
            if (const auto* m = std::get_if<2>(&field.member)) out.** m = read_text(notes, field.spec, entry.value);
            if (const auto* m = std::get_if<3>(&field.member)) out.** m = read_word(notes, field.spec, entry.value);
            if (const auto* m = std::get_if<4>(&field.member)) out.** m = read_flag(notes, field.spec, entry.value);
            break;
        }
    }
}

/// Whom an assumption is about.
struct Subject {
    std::string text;  ///< "panel 'Meadow 100'"
    std::optional<std::size_t> input;
};

/// The fall-back as if it had been written, but at no place: line 0.
[[nodiscard]] Measure stand_in(const Spec& spec);

/// Lists the fall-back of a key as assumed, if it is one that is.
void assume_fall_back(const FileNotes& notes, const Subject& subject, const Spec& spec);

/// Fills in the fall-back of every key that is missing and `wanted`, and lists it as assumed. A key that is there but was
/// complained of is not missing: `wanted` knows that.
template <class S, class Wanted>
void fill_missing(const FileNotes& notes, const Subject& subject, std::span<const Field<S>> fields, S& raw,
                  const Wanted& wanted) {
    for (const Field<S>& field : fields) {
        const Spec& spec = field.spec;
        if (!spec.fall_back || !wanted(spec.key)) continue;
        bool missing = false;
        if (const auto* m = std::get_if<1>(&field.member); m != nullptr && !(raw.** m)) {
            missing = true;
            raw.** m = stand_in(spec);
        }
        if (const auto* m = std::get_if<3>(&field.member); m != nullptr && !(raw.** m)) {
            missing = true;
            raw.** m = Word{static_cast<std::size_t>(spec.fall_back->value), {}};
        }
        if (missing) assume_fall_back(notes, subject, spec);
    }
}

}  // namespace plait::input
