// What a file says of a panel, before anything is assumed.
#pragma once

#include "quantity/fields.hpp"

#include <plait/model/panel.hpp>

#include <optional>
#include <span>

namespace plait::input {

/// The most a value may lie below and above the stated one.
struct Tolerance {
    double below_ratio = 0.0;
    double above_ratio = 0.0;
    Place at;
};

struct RawDiode {
    std::optional<Measure> light_current, saturation_current, ideality, series_resistance, shunt_resistance;
};

struct RawPanel {
    Place at;  // of its table
    std::optional<Text> name;
    std::optional<Word> technology;
    std::optional<Measure> cells_in_series, bypass_diodes;
    std::optional<Flag> half_cut;
    std::optional<Measure> pmax, vmp, imp, voc, isc;
    std::optional<Measure> isc_coefficient, voc_coefficient, pmax_coefficient;
    std::optional<Measure> noct, nmot, weak_light_efficiency;
    std::optional<Measure> max_system_voltage, max_series_fuse;
    std::optional<Measure> voc_tolerance, isc_tolerance, bifaciality;
    std::optional<Tolerance> pmax_tolerance;
    std::optional<RawDiode> diode;
    std::optional<NmotPoint> nmot_point;

    [[nodiscard]] Technology technology_or_unknown() const;
};

/// What stands in [[panel]] beside the datasheet.
struct RawEntry {
    std::optional<Text> id, file, plane;
    std::optional<Measure> count, price;
};

[[nodiscard]] std::span<const Field<RawPanel>> panel_fields();
[[nodiscard]] std::span<const Field<RawDiode>> diode_fields();
[[nodiscard]] std::span<const Field<RawEntry>> entry_fields();

/// Reads the panel's keys out of its table. The caller has checked which keys it may have.
[[nodiscard]] RawPanel read_raw_panel(const FileNotes& notes, const Table& table, Place at);

}  // namespace plait::input
