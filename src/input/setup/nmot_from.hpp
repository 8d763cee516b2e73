// The second column of a datasheet: a panel's point at its nominal module operating temperature.
#pragma once

#include "document.hpp"
#include "quantity/fields.hpp"

#include <plait/model/panel.hpp>

#include <optional>
#include <span>

namespace plait::input {

struct RawNmot {
    std::optional<Measure> temperature, pmax, vmp, imp, voc, isc;
};
[[nodiscard]] std::span<const Field<RawNmot>> nmot_fields();

/// What an `nmot` table says: the temperature, which stands for a plain `nmot`, and the point, as far as it was read.
struct NmotTable {
    std::optional<Measure> temperature;
    std::optional<NmotPoint> point;
};
[[nodiscard]] NmotTable nmot_from(const FileNotes& notes, const Entry& entry);

}  // namespace plait::input
