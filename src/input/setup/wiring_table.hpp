// The [wiring] table of a set-up: short texts, or strings written out panel by panel with the light on each.
#pragma once

#include "document.hpp"
#include "quantity/fields.hpp"
#include "wiring_text.hpp"

#include <optional>

namespace plait::input {

struct RawPlace {
    std::optional<Text> panel, plane;
};
/// A bypass group some of whose cells get less light than the others.
struct RawShade {
    std::optional<Measure> cells, light, others;
};
struct RawString {
    std::optional<Text> plane;
    std::optional<Flag> blocking_diode;
    std::optional<Measure> fuse;
};

[[nodiscard]] std::span<const Field<RawString>> string_fields();
[[nodiscard]] std::span<const Field<RawPlace>> place_fields();
[[nodiscard]] std::span<const Field<RawShade>> shade_fields();

/// One wiring per input of the scope; nothing if there were complaints.
[[nodiscard]] std::optional<ArrayPlan> wiring_from_table(const FileNotes& notes, const Entry& entry,
                                                         const WiringScope& scope);

}  // namespace plait::input
