// What a harvest over time takes from the set-up: [losses] and [storage].
#pragma once

#include "document.hpp"
#include "quantity/fields.hpp"

#include <plait/model/setup.hpp>

#include <span>

namespace plait::input {

struct RawLosses {
    std::optional<Measure> soiling, ageing, age, own_use;
};
struct RawStorage {
    std::optional<Measure> capacity, usable, charge_power, taper_from, taper_end, charge_efficiency, full_efficiency;
    std::optional<Measure> discharge_efficiency, standing_drain, coldest_charging, warmer_than_air;
};
struct RawHours {
    std::optional<Measure> power;
};
struct RawWall {
    std::optional<Measure> power, combined_power;
    std::optional<Word> first;
};

[[nodiscard]] std::span<const Field<RawLosses>> losses_fields();
[[nodiscard]] std::span<const Field<RawStorage>> storage_fields();
[[nodiscard]] std::span<const Field<RawHours>> load_fields();
[[nodiscard]] std::span<const Field<RawWall>> wall_fields();

[[nodiscard]] StatedLosses losses_from(const FileNotes& notes, const Entry& entry);
/// A capacity in ampere-hours counts at the battery's nominal voltage; `battery` is the controller's, if it has one.
[[nodiscard]] std::optional<Storage> storage_from(const FileNotes& notes, const Entry& entry,
                                                  const std::optional<Battery>& battery);

}  // namespace plait::input
