// The [site] table.
#pragma once

#include "document.hpp"
#include "quantity/fields.hpp"

#include <plait/model/site.hpp>

#include <optional>
#include <span>

namespace plait::input {

/// A temperature, or the two ends of one of which no more is known.
struct RawRange {
    Measure low;
    Measure high;
};

struct RawSite {
    std::optional<RawRange> coldest_air, hottest_air, warm_air;
    std::optional<Measure> peak_irradiance, flat_factor;
    std::optional<Word> coldest_basis, hottest_basis, mounting, cold_method, code;
};

[[nodiscard]] std::span<const Field<RawSite>> site_fields();

/// The site; `entry` is null if the file has none, and everything is assumed. Complaints go to the notes.
[[nodiscard]] Site site_from(const FileNotes& notes, const Entry* entry);

}  // namespace plait::input
