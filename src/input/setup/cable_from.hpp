// The [[cable]] tables and [fittings].
#pragma once

#include "document.hpp"
#include "quantity/fields.hpp"

#include <plait/model/setup.hpp>

#include <optional>
#include <span>
#include <string_view>
#include <vector>

namespace plait::input {

struct RawCable {
    std::optional<Word> run, kind, laid;
    std::optional<Text> input, name;
    std::optional<Measure> length, size, resistance, conductor_temperature, ambient, circuits, insulation, terminals;
};

struct RawFittings {
    std::optional<Measure> string_fuse, string_fuse_voltage, disconnect_current, disconnect_voltage, battery_fuse;
    std::optional<Measure> connector, branch;
};

/// The sizes there are tables of, for the documentation and, without its first word, for messages.
inline constexpr std::string_view size_meaning =
    "conductor: 1.5, 2.5, 4, 6, 10, 16, 25, 35 or 50 mm², or 18, 16, 14, 12, 10, 8, 6, 4, 3 or 2 AWG";
inline constexpr std::string_view known_sizes = size_meaning.substr(11);

[[nodiscard]] std::span<const Field<RawCable>> cable_fields();
[[nodiscard]] std::span<const Field<RawFittings>> fittings_fields();

/// The cables; complaints and assumptions go to the notes. `setup` has its controller (if that was read without
/// complaint) and its site.
[[nodiscard]] std::vector<Cable> cables_from(const FileNotes& notes, const Entry& entry, const Setup& setup);

[[nodiscard]] Fittings fittings_from(const FileNotes& notes, const Entry& entry);

}  // namespace plait::input
