// The usual ranges are what datasheets of each technology print: common knowledge of the trade, no one source, from
// memory. The possible ones leave room for every one of 260 modules of all these technologies, 1990s to 2010s, whose
// outdoor tests a national laboratory published (2015), and for today's; a test holds them to that where the table is
// at hand.
#include <plait/model/technology_ranges.hpp>

#include <array>

namespace plait {
namespace {

// Coefficients are written in %/K, as datasheets have them.
constexpr Bounds per_cent(Bounds b) {
    return {{b.usual.low / 100, b.usual.high / 100}, {b.possible.low / 100, b.possible.high / 100}};
}

constexpr TechnologyRanges row(Technology technology, double voc_per_cell_v, Bounds voc_per_cell, Limits fill_factor,
                               Limits vmp_over_voc, Limits imp_over_isc, Bounds voc_coefficient,
                               Bounds pmax_coefficient, Bounds isc_coefficient) {
    return {technology,
            voc_per_cell_v,
            voc_per_cell,
            fill_factor,
            vmp_over_voc,
            imp_over_isc,
            per_cent(voc_coefficient),
            per_cent(pmax_coefficient),
            per_cent(isc_coefficient)};
}

constexpr Limits wafer_v{0.45, 0.80};
constexpr Limits wafer_beta{-0.60, -0.15};
constexpr Limits wafer_gamma{-0.75, -0.15};
constexpr Limits wafer_alpha{-0.02, 0.20};
constexpr Limits film_alpha{-0.02, 0.20};

// clang-format off
constexpr std::array range_table{
    row(Technology::mono_silicon, 0.62, {{0.56, 0.74}, wafer_v}, {0.68, 0.84}, {0.76, 0.88}, {0.87, 0.98},
        {{-0.40, -0.22}, wafer_beta}, {{-0.52, -0.24}, wafer_gamma}, {{0.02, 0.08}, wafer_alpha}),
    row(Technology::poly_silicon, 0.61, {{0.56, 0.66}, wafer_v}, {0.68, 0.80}, {0.76, 0.85}, {0.87, 0.98},
        {{-0.40, -0.28}, wafer_beta}, {{-0.52, -0.36}, wafer_gamma}, {{0.02, 0.09}, wafer_alpha}),
    row(Technology::perc, 0.68, {{0.63, 0.72}, wafer_v}, {0.73, 0.84}, {0.79, 0.87}, {0.90, 0.98},
        {{-0.33, -0.24}, wafer_beta}, {{-0.42, -0.31}, wafer_gamma}, {{0.02, 0.08}, wafer_alpha}),
    row(Technology::topcon, 0.705, {{0.66, 0.75}, wafer_v}, {0.76, 0.86}, {0.80, 0.88}, {0.91, 0.98},
        {{-0.30, -0.22}, wafer_beta}, {{-0.36, -0.26}, wafer_gamma}, {{0.02, 0.07}, wafer_alpha}),
    row(Technology::heterojunction, 0.73, {{0.66, 0.77}, wafer_v}, {0.70, 0.86}, {0.78, 0.88}, {0.89, 0.98},
        {{-0.30, -0.20}, wafer_beta}, {{-0.36, -0.22}, wafer_gamma}, {{0.02, 0.07}, wafer_alpha}),
    row(Technology::back_contact, 0.70, {{0.65, 0.76}, wafer_v}, {0.74, 0.86}, {0.80, 0.89}, {0.90, 0.98},
        {{-0.33, -0.20}, wafer_beta}, {{-0.42, -0.24}, wafer_gamma}, {{0.02, 0.08}, wafer_alpha}),
    row(Technology::film_silicon, 0.53, {{0.50, 0.62}, {0.42, 0.72}}, {0.60, 0.76}, {0.72, 0.83}, {0.82, 0.95},
        {{-0.55, -0.35}, {-0.75, -0.25}}, {{-0.65, -0.40}, {-0.85, -0.20}}, {{0.02, 0.10}, wafer_alpha}),
    row(Technology::amorphous, 0.87, {{0.78, 0.95}, {0.65, 1.05}}, {0.50, 0.72}, {0.65, 0.82}, {0.75, 0.92},
        {{-0.42, -0.25}, {-0.65, -0.12}}, {{-0.40, -0.15}, {-0.65, -0.05}}, {{0.04, 0.12}, film_alpha}),
    row(Technology::amorphous_tandem, 1.50, {{1.35, 1.75}, {1.10, 2.00}}, {0.50, 0.72}, {0.65, 0.82}, {0.72, 0.92},
        {{-0.48, -0.25}, {-0.65, -0.12}}, {{-0.43, -0.15}, {-0.65, -0.05}}, {{0.04, 0.12}, film_alpha}),
    row(Technology::amorphous_triple, 2.13, {{1.90, 2.30}, {1.65, 2.60}}, {0.50, 0.70}, {0.65, 0.80}, {0.75, 0.90},
        {{-0.46, -0.25}, {-0.65, -0.12}}, {{-0.35, -0.15}, {-0.65, -0.05}}, {{0.04, 0.12}, film_alpha}),
    row(Technology::cigs, 0.58, {{0.50, 0.72}, {0.42, 0.80}}, {0.58, 0.78}, {0.68, 0.85}, {0.84, 0.96},
        {{-0.45, -0.25}, {-0.65, -0.15}}, {{-0.60, -0.28}, {-0.80, -0.10}}, {{-0.03, 0.04}, {-0.10, 0.12}}),
    row(Technology::cdte, 0.80, {{0.72, 0.90}, {0.62, 1.00}}, {0.55, 0.80}, {0.68, 0.85}, {0.76, 0.95},
        {{-0.33, -0.20}, {-0.50, -0.12}}, {{-0.37, -0.18}, {-0.60, -0.03}}, {{0.02, 0.07}, {-0.02, 0.15}}),
    row(Technology::gallium_arsenide, 1.05, {{0.95, 1.15}, {0.80, 3.40}}, {0.75, 0.88}, {0.82, 0.92}, {0.88, 0.98},
        {{-0.24, -0.12}, {-0.40, -0.05}}, {{-0.28, -0.08}, {-0.50, -0.03}}, {{0.02, 0.10}, film_alpha}),
    row(Technology::unknown, 0.62, {{0.45, 2.30}, {0.40, 3.40}}, {0.55, 0.86}, {0.65, 0.90}, {0.75, 0.98},
        {{-0.46, -0.20}, {-0.75, -0.05}}, {{-0.60, -0.15}, {-0.85, -0.03}}, {{-0.03, 0.12}, {-0.10, 0.20}}),
};
// clang-format on

}  // namespace

const TechnologyRanges& ranges_of(Technology technology) {
    for (const TechnologyRanges& r : range_table) {
        if (r.technology == technology) return r;
    }
    return range_table.back();
}

}  // namespace plait
