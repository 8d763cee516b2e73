// Where the set-up is: the keys of [site] about its place, light and climate, and the [[plane]] tables.
#pragma once

#include "document.hpp"
#include "quantity/fields.hpp"

#include <plait/model/setup.hpp>

#include <span>

namespace plait::input {

struct RawPlaceKeys {
    std::optional<Measure> height, turbidity;
    std::optional<Word> sky_model, incidence_model, warming_model;
};
[[nodiscard]] std::span<const Field<RawPlaceKeys>> location_fields();

struct RawPlane {
    std::optional<Text> name;
    std::optional<Measure> tilt, albedo;
    std::optional<Word> mounting;
};
[[nodiscard]] std::span<const Field<RawPlane>> plane_fields();

/// Location, models and climate out of the [site] table into the set-up. `site_from` has checked its keys.
void place_from(const FileNotes& notes, const Table& site, Setup& setup);

[[nodiscard]] std::vector<Plane> planes_from(const FileNotes& notes, const Entry& entry);

/// The index of the plane of a name; a complaint if there is none.
[[nodiscard]] std::optional<std::size_t> plane_named(const FileNotes& notes, const Text& name,
                                                     const std::vector<std::string>& planes);

}  // namespace plait::input
