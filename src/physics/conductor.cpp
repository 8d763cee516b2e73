// The tables, with where each was read: IEC 60228:2004/2023 table 3 and NEC chapter 9 table 8 in public reprints (50
// mm² from memory); NEC 310.16 in public reprints; EN 50618:2014 tables A.3 and A.4 and the tables of IEC 60364-5-52
// from memory. Reprints of table 8
// are found that print the values of solid wire as stranded (12 AWG 1.93 for 1.98): these are the stranded ones.
#include <plait/physics/conductor.hpp>

#include <algorithm>
#include <array>
#include <cassert>

namespace plait::physics {
namespace {

constexpr double metres_in_kft = 304.8;

struct MetricRow {
    CableSize size;
    double plain_ohm_per_km, tinned_ohm_per_km;
    double free_air_a, surface_a, bundled_a;
};
constexpr std::array metric_table{
    MetricRow{{1.5, {}}, 13.3, 13.7, 30, 29, 24},       MetricRow{{2.5, {}}, 7.98, 8.21, 41, 39, 33},
    MetricRow{{4.0, {}}, 4.95, 5.09, 55, 52, 44},       MetricRow{{6.0, {}}, 3.30, 3.39, 70, 67, 57},
    MetricRow{{10.0, {}}, 1.91, 1.95, 98, 93, 79},      MetricRow{{16.0, {}}, 1.21, 1.24, 132, 125, 107},
    MetricRow{{25.0, {}}, 0.780, 0.795, 176, 167, 142}, MetricRow{{35.0, {}}, 0.554, 0.565, 218, 207, 176},
    MetricRow{{50.0, {}}, 0.386, 0.393, 276, 262, 221},
};

struct AmericanRow {
    CableSize size;
    double plain_ohm_per_kft, coated_ohm_per_kft;
    double at_60_a, at_75_a, at_90_a;  // 0: no value
};
constexpr std::array american_table{
    AmericanRow{{0.823, 18}, 7.95, 8.45, 0, 0, 14},     AmericanRow{{1.31, 16}, 4.99, 5.29, 0, 0, 18},
    AmericanRow{{2.08, 14}, 3.14, 3.26, 15, 20, 25},    AmericanRow{{3.31, 12}, 1.98, 2.05, 20, 25, 30},
    AmericanRow{{5.26, 10}, 1.24, 1.29, 30, 35, 40},    AmericanRow{{8.37, 8}, 0.778, 0.809, 40, 50, 55},
    AmericanRow{{13.3, 6}, 0.491, 0.510, 55, 65, 75},   AmericanRow{{21.2, 4}, 0.308, 0.321, 70, 85, 95},
    AmericanRow{{26.7, 3}, 0.245, 0.254, 85, 100, 110}, AmericanRow{{33.6, 2}, 0.194, 0.201, 95, 115, 130},
};

template <class Row, std::size_t N>
constexpr std::array<CableSize, N> sizes_of(const std::array<Row, N>& table) {
    std::array<CableSize, N> sizes{};
    for (std::size_t i = 0; i < N; ++i) sizes[i] = table[i].size;
    return sizes;
}

template <class Row, std::size_t N>
const Row& row_of(const std::array<Row, N>& table, const CableSize& size) {
    const auto row = std::find_if(table.begin(), table.end(), [&](const Row& r) { return r.size == size; });
    assert(row != table.end() && "a size of the table");
    return *row;
}

const AmericanRow* american_row(int awg) {
    for (const AmericanRow& row : american_table) {
        if (row.size.awg == awg) return &row;
    }
    return nullptr;
}

std::optional<CableSize> not_thicker(std::span<const CableSize> sizes, const CableSize& size) {
    std::optional<CableSize> found;
    for (const CableSize& s : sizes) {
        if (s.area_mm2 <= size.area_mm2) found = s;
    }
    return found;
}

struct AmbientRow {
    double up_to_degc;
    double at_60, at_75, at_90;  // 0: the column has ended
};
constexpr std::array ambient_table{
    AmbientRow{10, 1.29, 1.20, 1.15}, AmbientRow{15, 1.22, 1.15, 1.12}, AmbientRow{20, 1.15, 1.11, 1.08},
    AmbientRow{25, 1.08, 1.05, 1.04}, AmbientRow{30, 1.00, 1.00, 1.00}, AmbientRow{35, 0.91, 0.94, 0.96},
    AmbientRow{40, 0.82, 0.88, 0.91}, AmbientRow{45, 0.71, 0.82, 0.87}, AmbientRow{50, 0.58, 0.75, 0.82},
    AmbientRow{55, 0.41, 0.67, 0.76}, AmbientRow{60, 0.0, 0.58, 0.71},  AmbientRow{65, 0.0, 0.47, 0.65},
    AmbientRow{70, 0.0, 0.33, 0.58},  AmbientRow{75, 0.0, 0.0, 0.50},   AmbientRow{80, 0.0, 0.0, 0.41},
};

std::optional<double> of_column(Celsius column, double at_60, double at_75, double at_90) {
    const double value = column.degc < 75.0 ? at_60 : column.degc < 90.0 ? at_75 : at_90;
    return value > 0.0 ? std::optional(value) : std::nullopt;
}

// IEC 60364-5-52, two loaded copper conductors, 30 °C ambient [from memory]. PVC (70 °C): tables B.52.2 (clipped to a
// surface, method C) and B.52.10 (in free air, method E); XLPE or rubber (90 °C): B.52.3 and B.52.12.
struct BuildingRow {
    double area_mm2;
    double pvc_surface_a, pvc_air_a, xlpe_surface_a, xlpe_air_a;
};
constexpr std::array building_table{
    BuildingRow{1.5, 19.5, 22, 24, 26},   BuildingRow{2.5, 27, 30, 33, 36},   BuildingRow{4, 36, 40, 45, 49},
    BuildingRow{6, 46, 51, 58, 63},       BuildingRow{10, 63, 70, 80, 86},    BuildingRow{16, 85, 94, 107, 115},
    BuildingRow{25, 112, 119, 138, 149},  BuildingRow{35, 138, 148, 171, 185}, BuildingRow{50, 168, 180, 209, 225},
};

// The same, table B.52.14 [from memory].
struct BuildingAmbientRow {
    double up_to_degc;
    double pvc, xlpe;  // 0: the column has ended
};
constexpr std::array building_ambient_table{
    BuildingAmbientRow{10, 1.22, 1.15}, BuildingAmbientRow{15, 1.17, 1.12}, BuildingAmbientRow{20, 1.12, 1.08},
    BuildingAmbientRow{25, 1.06, 1.04}, BuildingAmbientRow{30, 1.00, 1.00}, BuildingAmbientRow{35, 0.94, 0.96},
    BuildingAmbientRow{40, 0.87, 0.91}, BuildingAmbientRow{45, 0.79, 0.87}, BuildingAmbientRow{50, 0.71, 0.82},
    BuildingAmbientRow{55, 0.61, 0.76}, BuildingAmbientRow{60, 0.50, 0.71}, BuildingAmbientRow{65, 0.0, 0.65},
    BuildingAmbientRow{70, 0.0, 0.58},  BuildingAmbientRow{75, 0.0, 0.50},  BuildingAmbientRow{80, 0.0, 0.41},
};

// Which of the two insulations a cable's temperature rating allows; below 70 °C neither table holds.
std::optional<double> of_insulation(Celsius insulation, double pvc, double xlpe) {
    if (insulation.degc < 70.0) return std::nullopt;
    const double value = insulation.degc < 90.0 ? pvc : xlpe;
    return value > 0.0 ? std::optional(value) : std::nullopt;
}

std::optional<double> product(std::optional<double> a, std::optional<double> b, double c) {
    return a && b ? std::optional(*a * *b * c) : std::nullopt;
}

}  // namespace

std::span<const CableSize> metric_sizes() {
    static constexpr auto sizes = sizes_of(metric_table);
    return sizes;
}

std::span<const CableSize> american_sizes() {
    static constexpr auto sizes = sizes_of(american_table);
    return sizes;
}

std::span<const CableSize> sizes_like(const CableSize& size) { return size.awg ? american_sizes() : metric_sizes(); }

std::optional<CableSize> as_metric(const CableSize& size) {
    return size.awg ? not_thicker(metric_sizes(), size) : std::optional(size);
}

std::optional<CableSize> as_american(const CableSize& size) {
    return size.awg ? std::optional(size) : not_thicker(american_sizes(), size);
}

double table_resistance_ohm_per_m(const CableSize& size, ConductorKind kind) {
    const bool plain = kind == ConductorKind::plain;
    if (size.awg) {
        const AmericanRow& row = row_of(american_table, size);
        return (plain ? row.plain_ohm_per_kft : row.coated_ohm_per_kft) / metres_in_kft;
    }
    const MetricRow& row = row_of(metric_table, size);
    return (plain ? row.plain_ohm_per_km : row.tinned_ohm_per_km) / 1000.0;
}

Celsius table_temperature(const CableSize& size) { return {size.awg ? 75.0 : 20.0}; }

double resistance_ohm_per_m(const CableSize& size, ConductorKind kind, Celsius conductor) {
    const double per_k = size.awg ? 0.00323 : 0.00393;
    return table_resistance_ohm_per_m(size, kind) * (1.0 + per_k * (conductor - table_temperature(size)));
}

double loop_resistance_ohm(const Cable& cable) {
    if (cable.resistance_ohm_per_m) return 2.0 * cable.length_m * *cable.resistance_ohm_per_m;
    return loop_resistance_ohm(cable, cable.size);
}

double loop_resistance_ohm(const Cable& cable, const CableSize& size) {
    return 2.0 * cable.length_m * resistance_ohm_per_m(size, cable.kind, cable.conductor);
}

std::optional<double> nec_ampacity_a(int awg, Celsius column) {
    const AmericanRow* row = american_row(awg);
    return row == nullptr ? std::nullopt : of_column(column, row->at_60_a, row->at_75_a, row->at_90_a);
}

std::optional<double> nec_ambient_factor(Celsius column, Celsius ambient) {
    for (const AmbientRow& row : ambient_table) {
        if (ambient.degc <= row.up_to_degc) return of_column(column, row.at_60, row.at_75, row.at_90);
    }
    return std::nullopt;
}

double nec_bundle_factor(int conductors) {
    return conductors <= 3 ? 1.0 : conductors <= 6 ? 0.80 : conductors <= 9 ? 0.70 : 0.50;
}

std::optional<double> nec_small_conductor_cap_a(int awg) {
    switch (awg) {
        case 14:
            return 15.0;
        case 12:
            return 20.0;
        case 10:
            return 30.0;
        default:
            return std::nullopt;
    }
}

std::optional<double> en_ampacity_a(const CableSize& size, Laying laying) {
    if (size.awg) return std::nullopt;
    const MetricRow& row = row_of(metric_table, size);
    return laying == Laying::free_air ? row.free_air_a : laying == Laying::surface ? row.surface_a : row.bundled_a;
}

std::optional<double> en_ambient_factor(Celsius ambient) {
    if (ambient.degc <= 60.0) return 1.0;
    if (ambient.degc <= 70.0) return 0.92;
    if (ambient.degc <= 80.0) return 0.84;
    if (ambient.degc <= 90.0) return 0.75;
    return std::nullopt;
}

std::optional<double> building_ampacity_a(const CableSize& size, Celsius insulation, Laying laying) {
    for (const BuildingRow& row : building_table) {
        if (size.awg || row.area_mm2 != size.area_mm2) continue;
        return laying == Laying::free_air ? of_insulation(insulation, row.pvc_air_a, row.xlpe_air_a)
                                          : of_insulation(insulation, row.pvc_surface_a, row.xlpe_surface_a);
    }
    return std::nullopt;
}

std::optional<double> building_ambient_factor(Celsius insulation, Celsius ambient) {
    for (const BuildingAmbientRow& row : building_ambient_table) {
        if (ambient.degc <= row.up_to_degc) return of_insulation(insulation, row.pvc, row.xlpe);
    }
    return std::nullopt;
}

double iec_bundle_factor(int circuits) {
    static constexpr std::array factors{1.00, 0.80, 0.70, 0.65, 0.60, 0.57, 0.54, 0.52, 0.50, 0.48};
    return factors[static_cast<std::size_t>(std::clamp(circuits, 1, static_cast<int>(factors.size())) - 1)];
}

std::optional<NecAmpacity> nec_ampacity(const Cable& cable, const CableSize& size) {
    const std::optional<CableSize> taken = as_american(size);
    if (!taken) return std::nullopt;
    NecAmpacity a;
    a.taken_as = *taken;
    a.terminal_a = nec_ampacity_a(*taken->awg, {std::min(cable.terminals.degc, cable.insulation.degc)});
    a.column_a = nec_ampacity_a(*taken->awg, cable.insulation);
    a.ambient_factor = nec_ambient_factor(cable.insulation, cable.ambient);
    a.bundle_factor = nec_bundle_factor(2 * cable.circuits);
    a.corrected_a = product(a.column_a, a.ambient_factor, a.bundle_factor);
    return a;
}

std::optional<IecAmpacity> iec_ampacity(const Cable& cable, const CableSize& size) {
    const std::optional<CableSize> taken = as_metric(size);
    if (!taken) return std::nullopt;
    IecAmpacity a;
    a.taken_as = *taken;
    const bool building = cable.run == CableRun::battery;
    a.table_a = building ? building_ampacity_a(*taken, cable.insulation, cable.laying)
                         : en_ampacity_a(*taken, cable.laying);
    a.ambient_factor =
        building ? building_ambient_factor(cable.insulation, cable.ambient) : en_ambient_factor(cable.ambient);
    a.bundle_factor = iec_bundle_factor(cable.circuits);
    a.corrected_a = product(a.table_a, a.ambient_factor, a.bundle_factor);
    return a;
}

std::optional<NecAmpacity> nec_ampacity(const Cable& cable) { return nec_ampacity(cable, cable.size); }
std::optional<IecAmpacity> iec_ampacity(const Cable& cable) { return iec_ampacity(cable, cable.size); }

}  // namespace plait::physics
