#include <plait/model/usual_panels.hpp>

#include <utility>

namespace plait {
namespace {

struct Figures {
    const char* id;
    const char* title;
    Technology technology;
    int cells;
    bool half_cut;
    double voc_v;
    double vmp_v;
    double isc_a;
    double imp_a;
    double max_system_voltage_v;
    double max_series_fuse_a;
};

UsualPanel made_of(const Figures& f) {
    const bool newer = f.technology == Technology::topcon;
    Panel p;
    p.name = std::string("typical ") + f.title;
    p.technology = f.technology;
    p.cells_in_series = f.cells;
    p.half_cut = f.half_cut;
    p.bypass_diodes = f.cells > 40 ? 3 : 2;
    p.pmax_w = f.vmp_v * f.imp_a;
    p.vmp_v = f.vmp_v;
    p.imp_a = f.imp_a;
    p.voc_v = f.voc_v;
    p.isc_a = f.isc_a;
    p.isc_coefficient_per_k = newer ? 0.00045 : 0.0005;
    p.voc_coefficient_per_k = newer ? -0.0025 : -0.0028;
    p.pmax_coefficient_per_k = newer ? -0.0030 : -0.0036;
    p.nominal_temperature = Celsius{45.0};
    p.max_system_voltage_v = f.max_system_voltage_v;
    p.max_series_fuse_a = f.max_series_fuse_a;
    p.voc_tolerance_ratio = 0.03;
    p.isc_tolerance_ratio = 0.03;
    p.pmax_tolerance_above_ratio = 0.03;
    CataloguePanel panel{std::string("usual ") + f.id, f.title, f.id, std::move(p), {}, {}, std::nullopt};
    const std::string subject = std::string("a ") + f.title + " panel";
    for (const auto& [quantity, what] : {std::pair{Quantity::panel_voc, "Voc"}, std::pair{Quantity::panel_vmp, "Vmp"},
                                         std::pair{Quantity::panel_isc, "Isc"}, std::pair{Quantity::panel_pmax, "Pmax"}}) {
        panel.assumptions.push_back({quantity, std::nullopt, std::nullopt, subject, what, "typical",
                                     "no panel was named; typical of the class, common practice, no source"});
    }
    return {f.title, std::move(panel)};
}

// common practice, no source
const Figures figures[] = {
    {"small-36", "36-cell, 100 W", Technology::mono_silicon, 36, false, 22.4, 18.4, 5.85, 5.43, 600.0, 15.0},
    {"large-36", "36-cell, 200 W", Technology::perc, 36, false, 24.4, 20.4, 10.4, 9.80, 1000.0, 20.0},
    {"half-cut-108", "54-cell (108 half-cut), 430 W", Technology::topcon, 54, true, 38.9, 32.6, 14.0, 13.19, 1500.0, 25.0},
    {"half-cut-120", "60-cell (120 half-cut), 375 W", Technology::perc, 60, true, 41.1, 34.4, 11.6, 10.90, 1500.0, 20.0},
    {"half-cut-144", "72-cell (144 half-cut), 550 W", Technology::perc, 72, true, 49.8, 41.9, 13.98, 13.13, 1500.0, 25.0},
    {"folding-100", "foldable, 100 W", Technology::mono_silicon, 36, false, 24.0, 19.8, 5.5, 5.05, 600.0, 10.0},
    {"folding-200", "foldable, 200 W", Technology::mono_silicon, 36, false, 24.6, 20.5, 10.4, 9.76, 600.0, 15.0},
};

}  // namespace

const std::vector<UsualPanel>& usual_panels() {
    static const std::vector<UsualPanel> all = [] {
        std::vector<UsualPanel> made;
        for (const Figures& f : figures) made.push_back(made_of(f));
        return made;
    }();
    return all;
}

}  // namespace plait
