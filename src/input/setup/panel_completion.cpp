#include "panel_completion.hpp"

#include "quantity/kinds.hpp"
#include "quantity/plausibility.hpp"

#include <plait/model/technology_ranges.hpp>

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace plait::input {
namespace {

// Common practice for datasheets with gaps, on the cautious side; no one source.
constexpr double voc_over_vmp = 1.25;
constexpr double isc_over_imp = 1.10;
constexpr double vmp_over_voc = 0.80;
constexpr double imp_over_isc_at_most = 0.95;
constexpr double silicon_voc_coefficient_per_k = -0.0035;
constexpr double other_voc_coefficient_per_k = -0.0040;
constexpr int cells_under_a_diode = 24;  // "one per 20 to 24 cells"

// Wafer panels come in a few layouts: rows of 6, 9, 10, 11 or 12 cells, and the older small ones.
constexpr std::array wafer_layouts{18, 32, 33, 36, 40, 44, 48, 50, 54, 60, 66, 72, 80, 88, 96, 108, 120, 132, 144};

bool is_thin_film(Technology t) { return !is_crystalline_silicon(t) && t != Technology::unknown; }

class Completion {
public:
    Completion(RawPanel raw, const std::string& fallback_name, const FileNotes& notes)
        : raw_(std::move(raw)), notes_(notes) {
        panel_.name = raw_.name ? raw_.name->value : fallback_name;
        subject_.text = fmt::format("panel '{}'", panel_.name);
    }

    std::optional<Panel> run() {
        identity();
        if (!electrical()) return std::nullopt;
        layout();
        voc_coefficient();
        // A newer datasheet prints NMOT in place of NOCT.
        fill_missing(notes_, subject_, panel_fields(), raw_,
                     [&](std::string_view key) { return key != "technology" && !(key == "noct" && raw_.nmot); });
        coefficients();
        ratings();
        tolerances();
        if (raw_.weak_light_efficiency) panel_.weak_light_efficiency_ratio = raw_.weak_light_efficiency->value;
        if (raw_.bifaciality) panel_.bifaciality_ratio = raw_.bifaciality->value;
        panel_.nmot_point = raw_.nmot_point;
        if (raw_.diode) {
            panel_.given_diode = GivenDiode{raw_.diode->light_current->value, raw_.diode->saturation_current->value,
                                            raw_.diode->ideality->value, raw_.diode->series_resistance->value,
                                            raw_.diode->shunt_resistance->value};
        }
        return panel_;
    }

private:
    void assume(Quantity quantity, std::string what, std::string value, std::string why) {
        notes_.assume(
            {quantity, std::nullopt, std::nullopt, subject_.text, std::move(what), std::move(value), std::move(why)});
    }

    void identity() {
        fill_missing(notes_, subject_, panel_fields(), raw_, [](std::string_view key) { return key == "technology"; });
        panel_.technology = raw_.technology_or_unknown();
        panel_.half_cut = raw_.half_cut && raw_.half_cut->value;
    }

    // Power, voltage and current: two of the three must be known, in one form or another.
    bool electrical() {
        if (!raw_.pmax && !(raw_.vmp && raw_.imp)) {
            return too_little("its power is not known: give 'pmax', or both 'vmp' and 'imp'");
        }
        if (!raw_.vmp && !raw_.voc && !raw_.imp && !raw_.isc) {
            return too_little("its voltage is not known: give 'voc' and 'vmp' beside 'pmax', or at least one of them");
        }
        if (raw_.vmp) panel_.vmp_v = raw_.vmp->value;
        if (raw_.imp) panel_.imp_a = raw_.imp->value;
        if (raw_.pmax) panel_.pmax_w = raw_.pmax->value;
        if (!raw_.pmax) pmax_from_product();
        if (!raw_.vmp && !raw_.imp) vmp_from_open_circuit_or_imp_from_short_circuit();
        if (!raw_.vmp && panel_.vmp_v == 0.0) {
            panel_.vmp_v = panel_.pmax_w / panel_.imp_a;
            assume(Quantity::panel_vmp, "Vmp", volts(panel_.vmp_v), "not stated; Pmax over Imp");
        }
        if (!raw_.imp && panel_.imp_a == 0.0) {
            panel_.imp_a = panel_.pmax_w / panel_.vmp_v;
            assume(Quantity::panel_imp, "Imp", amps(panel_.imp_a), "not stated; Pmax over Vmp");
        }
        panel_.voc_v = raw_.voc ? raw_.voc->value : voc_over_vmp * panel_.vmp_v;
        if (!raw_.voc) {
            assume(Quantity::panel_voc, "Voc", volts(panel_.voc_v),
                   "not stated; 1.25 times Vmp, as panels with a low fill factor have. Look for it on the label");
        }
        panel_.isc_a = raw_.isc ? raw_.isc->value : isc_over_imp * panel_.imp_a;
        if (!raw_.isc) {
            assume(Quantity::panel_isc, "Isc", amps(panel_.isc_a),
                   "not stated; 1.10 times Imp, more than most panels have. Look for it on the label");
        }
        return true;
    }

    bool too_little(std::string_view what) {
        notes_.complain(
            raw_.at, Complaint::missing,
            fmt::format("too little is said of panel {}: {}. They stand on the label.", named(panel_.name), what));
        return false;
    }

    void pmax_from_product() {
        panel_.pmax_w = panel_.vmp_v * panel_.imp_a;
        assume(Quantity::panel_pmax, "Pmax", watts(panel_.pmax_w), "not stated; Vmp times Imp");
    }

    // Neither Vmp nor Imp is stated. Where the usual share of Voc would ask for more current than the panel can give,
    // the current is taken first.
    void vmp_from_open_circuit_or_imp_from_short_circuit() {
        const bool by_voltage = raw_.voc && (!raw_.isc || panel_.pmax_w <= vmp_over_voc * raw_.voc->value *
                                                                               imp_over_isc_at_most * raw_.isc->value);
        if (by_voltage) {
            panel_.vmp_v = vmp_over_voc * raw_.voc->value;
            assume(Quantity::panel_vmp, "Vmp", volts(panel_.vmp_v), "not stated; 0.80 times Voc");
        } else {
            panel_.imp_a = raw_.voc ? imp_over_isc_at_most * raw_.isc->value : raw_.isc->value / isc_over_imp;
            assume(Quantity::panel_imp, "Imp", amps(panel_.imp_a),
                   raw_.voc ? "not stated; 0.95 times Isc, as Pmax is high for this Voc" : "not stated; Isc over 1.10");
        }
    }

    void layout() {
        if (raw_.cells_in_series) {
            panel_.cells_in_series = static_cast<int>(raw_.cells_in_series->value);
        } else {
            panel_.cells_in_series = cells_by_voltage();
            assume(Quantity::panel_cells, "cells in series", fmt::format("{}", panel_.cells_in_series),
                   fmt::format("not stated; Voc over about {} V a cell of {}",
                               plain(ranges_of(panel_.technology).voc_per_cell_v), name_of(panel_.technology).title));
        }
        if (raw_.bypass_diodes) {
            panel_.bypass_diodes = static_cast<int>(raw_.bypass_diodes->value);
        } else {
            const bool thin = is_thin_film(panel_.technology);
            panel_.bypass_diodes = thin ? 1 : (panel_.cells_in_series + cells_under_a_diode - 1) / cells_under_a_diode;
            assume(Quantity::panel_bypass_diodes, "bypass diodes", fmt::format("{}", panel_.bypass_diodes),
                   thin ? "not stated; thin-film panels usually have one" : "not stated; one for every 24 cells");
        }
    }

    [[nodiscard]] int cells_by_voltage() const {
        const double exact = panel_.voc_v / ranges_of(panel_.technology).voc_per_cell_v;
        const int whole = std::max(1, static_cast<int>(std::lround(exact)));
        if (is_thin_film(panel_.technology)) return whole;
        int best = whole;
        double best_off = 0.08 * exact;  // farther off than this, the layout is none of the usual
        for (const int layout : wafer_layouts) {
            const double off = std::abs(exact - layout);
            if (off < best_off) {
                best = layout;
                best_off = off;
            }
        }
        return best;
    }

    [[nodiscard]] double relative(const Measure& m, double base) const {
        return relative_per_k(m, base, panel_.cells_in_series);
    }

    // What stands in for it depends on the technology.
    void voc_coefficient() {
        panel_.voc_coefficient_stated = raw_.voc_coefficient.has_value();
        if (raw_.voc_coefficient) {
            panel_.voc_coefficient_per_k = relative(*raw_.voc_coefficient, panel_.voc_v);
            return;
        }
        const bool silicon = is_crystalline_silicon(panel_.technology);
        panel_.voc_coefficient_per_k = silicon ? silicon_voc_coefficient_per_k : other_voc_coefficient_per_k;
        assume(Quantity::panel_voc_coefficient, "Voc coefficient",
               with_unit(panel_.voc_coefficient_per_k, Kind::voc_coefficient),
               silicon ? "not stated; slightly pessimistic for wafer silicon"
                       : "not stated; pessimistic for most technologies");
    }

    void coefficients() {
        panel_.isc_coefficient_per_k = relative(*raw_.isc_coefficient, panel_.isc_a);
        panel_.pmax_coefficient_per_k = relative(*raw_.pmax_coefficient, panel_.pmax_w);
        panel_.nominal_temperature_kind = raw_.nmot ? NominalTemperatureKind::nmot : NominalTemperatureKind::noct;
        panel_.nominal_temperature = {(raw_.nmot ? raw_.nmot : raw_.noct)->value};
    }

    void ratings() {
        panel_.max_system_voltage_v = raw_.max_system_voltage->value;
        panel_.max_series_fuse_a = raw_.max_series_fuse->value;
        panel_.max_series_fuse_stated = raw_.max_series_fuse->at.line > 0;
    }

    void tolerances() {
        panel_.voc_tolerance_ratio = raw_.voc_tolerance->value;
        panel_.isc_tolerance_ratio = raw_.isc_tolerance->value;
        if (!raw_.pmax_tolerance) {
            const Spec& spec = spec_of(panel_fields(), "pmax_tolerance");
            raw_.pmax_tolerance = Tolerance{spec.fall_back->value, spec.fall_back->value, {}};
            assume_fall_back(notes_, subject_, spec);
        }
        panel_.pmax_tolerance_below_ratio = raw_.pmax_tolerance->below_ratio;
        panel_.pmax_tolerance_above_ratio = raw_.pmax_tolerance->above_ratio;
    }

    static std::string volts(double v) { return worked_out(v, Kind::voltage); }
    static std::string amps(double a) { return worked_out(a, Kind::current); }
    static std::string watts(double w) { return worked_out(w, Kind::power); }

    RawPanel raw_;
    const FileNotes& notes_;
    Panel panel_;
    Subject subject_;
};

}  // namespace

std::optional<Panel> completed(const RawPanel& raw, const std::string& fallback_name, const FileNotes& notes) {
    return Completion(raw, fallback_name, notes).run();
}

}  // namespace plait::input
