#pragma once

#include <plait/base/temperature.hpp>

#include <array>
#include <optional>
#include <string>
#include <string_view>

namespace plait {

/// The cell technology, as far as a datasheet tells it. It sets the plausible ranges and the priors of the curve fit.
enum class Technology {
    mono_silicon,  ///< crystalline, not said which kind
    poly_silicon,
    perc,
    topcon,
    heterojunction,
    back_contact,
    film_silicon,  ///< thin crystalline silicon on a substrate
    amorphous,     ///< one junction
    amorphous_tandem,
    amorphous_triple,
    cigs,
    cdte,
    gallium_arsenide,
    unknown,
};

/// Wafer silicon: the cold-factor tables of the codes hold for these only.
[[nodiscard]] constexpr bool is_crystalline_silicon(Technology t) {
    return t == Technology::mono_silicon || t == Technology::poly_silicon || t == Technology::perc ||
           t == Technology::topcon || t == Technology::heterojunction || t == Technology::back_contact;
}

/// Junctions stacked in one cell: each adds its voltage.
[[nodiscard]] constexpr int junctions_per_cell(Technology t) {
    return t == Technology::amorphous_triple ? 3 : t == Technology::amorphous_tandem ? 2 : 1;
}

/// How the nominal temperature was measured: at open circuit (NOCT, IEC 61215:2005) or loaded (NMOT, IEC 61215-2:2016).
enum class NominalTemperatureKind { noct, nmot };

/// A datasheet's second column: at 800 W/m², 20 °C air, 1 m/s wind, the cells at the nominal module operating temperature
/// (IEC 61215-2:2016). As far as it is printed.
struct NmotPoint {
    std::optional<double> pmax_w;
    std::optional<double> vmp_v;
    std::optional<double> imp_a;
    std::optional<double> voc_v;
    std::optional<double> isc_a;
};

/// The five single-diode parameters, of the whole panel at STC, when the file gives them outright.
struct GivenDiode {
    double light_current_a = 0.0;
    double saturation_current_a = 0.0;
    double ideality = 0.0;  ///< n, per junction
    double series_resistance_ohm = 0.0;
    double shunt_resistance_ohm = 0.0;
};

/// What the datasheet says of one panel, at STC. Ratios are 1.0 = 100 %, coefficients are relative to the STC value.
/// A value the maker left out holds the conservative fall-back; the set-up's list of assumptions says so.
struct Panel {
    std::string name;
    Technology technology = Technology::unknown;
    int cells_in_series = 0;  ///< counted for voltage: 60 for 120 half-cut cells
    bool half_cut = false;
    int bypass_diodes = 0;
    double pmax_w = 0.0;
    double vmp_v = 0.0;
    double imp_a = 0.0;
    double voc_v = 0.0;
    double isc_a = 0.0;
    double isc_coefficient_per_k = 0.0;
    double voc_coefficient_per_k = 0.0;
    bool voc_coefficient_stated = true;  ///< false: the cold check falls back on the code table, or 1.25 flat
    double pmax_coefficient_per_k = 0.0;
    Celsius nominal_temperature{47.0};
    NominalTemperatureKind nominal_temperature_kind = NominalTemperatureKind::noct;
    std::optional<double> weak_light_efficiency_ratio;  ///< efficiency at 200 W/m², 25 °C over that at STC
    double max_system_voltage_v = 0.0;
    double max_series_fuse_a = 0.0;
    bool max_series_fuse_stated = true;  ///< false: no more than two strings in parallel are taken as proven
    double voc_tolerance_ratio = 0.0;         ///< ± around the stated Voc
    double isc_tolerance_ratio = 0.0;         ///< ± around the stated Isc
    double pmax_tolerance_below_ratio = 0.0;  ///< the most a panel may fall below Pmax
    double pmax_tolerance_above_ratio = 0.0;  ///< the most it may exceed it
    std::optional<double> bifaciality_ratio;  ///< rear over front Isc; absent: not bifacial
    std::optional<GivenDiode> given_diode;
    std::optional<NmotPoint> nmot_point;  ///< only with a nominal temperature of the kind NMOT

    /// At least one: without bypass diodes all cells are one group.
    [[nodiscard]] int bypass_groups() const { return bypass_diodes > 1 ? bypass_diodes : 1; }
    /// Of half-cut panels half cells, in two rows side by side; 0 where nothing is known of cells in reverse, which is so for
    /// all but silicon wafers. A panel whose maker does not say what it is made of has wafers, as nearly every panel has.
    [[nodiscard]] int cells_of_a_group() const {
        const bool wafers = is_crystalline_silicon(technology) || technology == Technology::unknown;
        return wafers ? cells_in_series / bypass_groups() * (half_cut ? 2 : 1) : 0;
    }
    /// Thermal-voltage count of the panel: cells × junctions in series.
    [[nodiscard]] int junctions_in_series() const { return cells_in_series * junctions_per_cell(technology); }
    [[nodiscard]] double voc_per_cell_v() const { return voc_v / cells_in_series; }
    /// Maximum power over Voc × Isc, at test conditions.
    [[nodiscard]] double fill_factor() const { return vmp_v * imp_a / (voc_v * isc_a); }
    /// Relative change of Vmp per kelvin. P = V·I, so the coefficients of a product add: γ − α to first order; the
    /// Imp coefficient is taken as that of Isc. Steeper than the Voc coefficient, as measured panels are.
    [[nodiscard]] double vmp_coefficient_per_k() const { return pmax_coefficient_per_k - isc_coefficient_per_k; }
};

struct TechnologyName {
    Technology technology;
    std::string_view key;    ///< as the set-up file spells it
    std::string_view title;  ///< as a sentence says it
};

inline constexpr std::array technology_names{
    TechnologyName{Technology::mono_silicon, "mono", "monocrystalline silicon"},
    TechnologyName{Technology::poly_silicon, "poly", "polycrystalline silicon"},
    TechnologyName{Technology::perc, "perc", "PERC silicon"},
    TechnologyName{Technology::topcon, "topcon", "TOPCon silicon"},
    TechnologyName{Technology::heterojunction, "heterojunction", "heterojunction silicon"},
    TechnologyName{Technology::back_contact, "back-contact", "back-contact silicon"},
    TechnologyName{Technology::film_silicon, "film-silicon", "thin-film crystalline silicon"},
    TechnologyName{Technology::amorphous, "amorphous", "amorphous silicon"},
    TechnologyName{Technology::amorphous_tandem, "amorphous-tandem", "tandem-junction amorphous silicon"},
    TechnologyName{Technology::amorphous_triple, "amorphous-triple", "triple-junction amorphous silicon"},
    TechnologyName{Technology::cigs, "cigs", "CIGS thin film"},
    TechnologyName{Technology::cdte, "cdte", "cadmium telluride thin film"},
    TechnologyName{Technology::gallium_arsenide, "gaas", "gallium arsenide"},
    TechnologyName{Technology::unknown, "unknown", "unknown technology"},
};

[[nodiscard]] constexpr const TechnologyName& name_of(Technology t) {
    for (const TechnologyName& row : technology_names) {
        if (row.technology == t) return row;
    }
    return technology_names.back();
}

}  // namespace plait
