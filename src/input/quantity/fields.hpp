// One table a struct: key, kind, member, range, meaning. The tables feed the reader, its messages and docs/input.md.
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
    warming,  ///< a temperature difference
    irradiance,
    percentage,  ///< "95 %", or 95
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
    text,
    word,  ///< one of `Spec::words`
    flag,
    by_hand,  ///< a table or list with a reader of its own
};

struct Spec {
    std::string_view key;
    Kind kind = Kind::by_hand;
    std::string_view meaning;
    std::string_view if_missing;  ///< for the documentation
    Limits limits{};              ///< in base units; of a text, its length
    std::span<const std::string_view> words{};
    std::string_view form{};  ///< for the documentation, of what is read by hand
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

/// "a voltage such as 18.5 or "18.5 V"".
[[nodiscard]] std::string wanted(const Spec& spec);
/// "0.3 V to 500 V".
[[nodiscard]] std::string range_text(const Spec& spec);
/// "V", "%", "%/K, 1/K, V/K …" for the documentation.
[[nodiscard]] std::string_view unit_text(Kind kind);
/// "0.05" for a ratio of a percentage, and so on: a value in the documented unit, with it.
[[nodiscard]] std::string with_unit(double value, Kind kind);

[[nodiscard]] std::optional<Measure> read_measure(const FileNotes& notes, const Spec& spec, const Node& node);
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

}  // namespace plait::input
