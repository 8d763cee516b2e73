#include "plausibility.hpp"

#include "coefficient_check.hpp"

#include <plait/model/technology_ranges.hpp>

#include <fmt/core.h>

#include <cmath>

namespace plait::input {
namespace {

// Many datasheets print a second column at 800 W/m² and the nominal temperature. There Isc and Imp are about 0.81 of
// the STC ones, Vmp about 0.92, Pmax about 0.75: 800/1000 with the usual coefficients some 20 K above 25 °C.
constexpr Limits second_column_current{0.78, 0.84};
constexpr Limits second_column_voltage{0.88, 0.95};
constexpr Limits second_column_power{0.70, 0.78};

constexpr double power_mismatch_refused = 0.05;
constexpr double power_mismatch_doubted = 0.03;

class Check {
public:
    Check(const RawPanel& raw, const std::optional<Panel>& completed, const FileNotes& notes)
        : raw_(raw),
          completed_(completed),
          notes_(notes),
          technology_(raw.technology_or_unknown()),
          ranges_(ranges_of(technology_)) {}

    void run() {
        voltages();
        currents();
        derived_point();
        power();
        fill_factor();
        cells();
        coefficients();
        ratings();
    }

private:
    [[nodiscard]] std::string_view title() const { return name_of(technology_).title; }

    // Vmp·Imp agrees with Pmax, or would with `vmp` and `imp` in their place; false when something is not stated.
    [[nodiscard]] bool power_agrees(const std::optional<Measure>& vmp, const std::optional<Measure>& imp) const {
        return raw_.pmax && vmp && imp &&
               std::abs(vmp->value * imp->value / raw_.pmax->value - 1.0) <= power_mismatch_refused;
    }

    void voltages() {
        if (!raw_.vmp || !raw_.voc || raw_.vmp->value < raw_.voc->value) return;
        voltages_sound_ = false;
        const bool swapped = power_agrees(raw_.voc, raw_.imp) || raw_.voc->value > 0.6 * raw_.vmp->value;
        notes_.complain(raw_.vmp->at, Complaint::disagreement,
                        fmt::format("'vmp' is {} and 'voc' only {}; a panel's voltage at maximum power is below its "
                                    "open-circuit voltage. {}",
                                    raw_.vmp->written, raw_.voc->written,
                                    swapped && raw_.vmp->value > raw_.voc->value
                                        ? fmt::format("If the two are swapped, write voc = {} and vmp = {}.",
                                                      raw_.vmp->written, raw_.voc->written)
                                        : "Look both up on the datasheet."));
    }

    void currents() {
        if (!raw_.imp || !raw_.isc || raw_.imp->value < raw_.isc->value) return;
        currents_sound_ = false;
        std::string advice = "Look both up on the datasheet.";
        if (power_agrees(raw_.vmp, raw_.imp) && raw_.isc->value < raw_.imp->value) {
            advice =
                "'imp' agrees with 'pmax'; 'isc' may be from the column at 800 W/m². Take it from the one at 1000 "
                "W/m².";
        } else if (raw_.isc->value < raw_.imp->value && raw_.isc->value > 0.6 * raw_.imp->value) {
            advice = fmt::format("If the two are swapped, write isc = {} and imp = {}.", raw_.imp->written,
                                 raw_.isc->written);
        }
        notes_.complain(raw_.imp->at, Complaint::disagreement,
                        fmt::format("'imp' is {} and 'isc' only {}; a panel's current at maximum power is "
                                    "below its short-circuit current. {}",
                                    raw_.imp->written, raw_.isc->written, advice));
    }

    // One of Vmp and Imp worked out from Pmax and the other: three numbers that are sound alone need not be together.
    void derived_point() {
        if (!completed_ || !raw_.pmax) return;
        const auto complain = [&](const char* missing, const char* stated, const Measure& by, double makes,
                                  std::string_view unit, const char* whole, const std::string& whole_is) {
            notes_.complain(raw_.pmax->at, Complaint::disagreement,
                            fmt::format("'{}' is not stated, and 'pmax' {} over '{}' {} makes {} {} of it, not below "
                                        "'{}' {}. Look the three up in the same column of the datasheet, and add {}.",
                                        missing, raw_.pmax->written, stated, by.written, plain(makes), unit, whole,
                                        whole_is, missing));
        };
        if (!raw_.vmp && raw_.imp && raw_.voc && completed_->vmp_v >= completed_->voc_v) {
            voltages_sound_ = false;
            complain("vmp", "imp", *raw_.imp, completed_->vmp_v, "V", "voc", raw_.voc->written);
        }
        if (!raw_.imp && raw_.vmp && raw_.isc && completed_->imp_a >= completed_->isc_a) {
            currents_sound_ = false;
            complain("imp", "vmp", *raw_.vmp, completed_->imp_a, "A", "isc", raw_.isc->written);
        }
    }

    [[nodiscard]] static std::string power_advice(double product_over_pmax) {
        const double r = product_over_pmax;
        if (within(r, second_column_power)) {
            return "'vmp' and 'imp' look like the datasheet's column at 800 W/m²; take those at 1000 W/m².";
        }
        if (within(r, second_column_current)) {
            return "'imp' looks like the datasheet's column at 800 W/m²; take the one at 1000 W/m².";
        }
        if (within(r, second_column_voltage)) {
            return "'vmp' may be from the datasheet's column at 800 W/m²; take the one at 1000 W/m².";
        }
        if (within(1.0 / r, second_column_power)) {
            return "'pmax' looks like the datasheet's column at 800 W/m²; take the one at 1000 W/m².";
        }
        for (const double slip : {10.0, 100.0, 1000.0}) {
            if (std::abs(r / slip - 1.0) < power_mismatch_refused ||
                std::abs(r * slip - 1.0) < power_mismatch_refused) {
                return "A decimal point has slipped in one of the three.";
            }
        }
        return "Look all three up in the same column of the datasheet, the one at 1000 W/m².";
    }

    void power() {
        if (!raw_.pmax || !raw_.vmp || !raw_.imp || !voltages_sound_ || !currents_sound_) return;
        const double product_w = raw_.vmp->value * raw_.imp->value;
        const double ratio = product_w / raw_.pmax->value;
        const double off = std::abs(ratio - 1.0);
        if (!(off > power_mismatch_doubted)) return;
        const std::string what =
            fmt::format("'pmax' is {}, but 'vmp' times 'imp' makes {} W, {:.0f} % {}.", raw_.pmax->written,
                        plain(std::round(product_w * 10.0) / 10.0), 100.0 * off, ratio < 1.0 ? "less" : "more");
        if (off > power_mismatch_refused) {
            power_sound_ = false;
            notes_.complain(raw_.pmax->at, Complaint::disagreement, fmt::format("{} {}", what, power_advice(ratio)));
        } else {
            notes_.doubt(raw_.pmax->at, fmt::format("{} Datasheets usually agree within 3 %; check the three.", what));
        }
    }

    // Where one of the two is assumed from the point of maximum power, the other must still suit it.
    void fill_factor_of_completed() {
        const Panel& p = *completed_;
        const double ff = p.vmp_v * p.imp_a / (p.voc_v * p.isc_a);
        if (within(ff, possible_fill_factor)) return;
        fill_factor_sound_ = false;
        notes_.complain(raw_.voc ? raw_.voc->at : raw_.isc->at, Complaint::disagreement,
                        fmt::format("the power is {} of Voc {} V times Isc {} A (the fill factor; '{}' is not stated "
                                    "and was taken from '{}'); panels have 0.5 to 0.9. Add {} from the datasheet, and "
                                    "check the others.",
                                    plain(std::round(ff * 1000.0) / 1000.0), plain(p.voc_v), plain(p.isc_a),
                                    raw_.voc ? "isc" : "voc", raw_.voc ? "imp" : "vmp", raw_.voc ? "isc" : "voc"));
    }

    void fill_factor() {
        if (!voltages_sound_ || !currents_sound_ || !power_sound_) return;
        if (completed_ && raw_.voc.has_value() != raw_.isc.has_value()) return fill_factor_of_completed();
        if (!raw_.voc || !raw_.isc) return;
        std::optional<double> power_w;
        if (raw_.vmp && raw_.imp) power_w = raw_.vmp->value * raw_.imp->value;
        if (!power_w && raw_.pmax) power_w = raw_.pmax->value;
        if (!power_w) return;
        const double ff = *power_w / (raw_.voc->value * raw_.isc->value);
        if (!within(ff, possible_fill_factor)) {
            fill_factor_sound_ = false;
            notes_.complain(
                raw_.voc->at, Complaint::disagreement,
                fmt::format("the power is {} of 'voc' times 'isc' (the fill factor); panels have 0.5 to 0.9. {}",
                            plain(std::round(ff * 1000.0) / 1000.0),
                            ff > 2.0 || ff < 0.2
                                ? "A decimal point has slipped, or one value is of a cell or of several panels."
                                : "Take 'voc', 'isc' and the power from the same column, the one at 1000 W/m²."));
            return;
        }
        const bool ratios_usual = ratio(raw_.vmp, raw_.voc, "'vmp' over 'voc'", ranges_.usual_vmp_over_voc) &&
                                  ratio(raw_.imp, raw_.isc, "'imp' over 'isc'", ranges_.usual_imp_over_isc);
        if (ratios_usual && !within(ff, ranges_.usual_fill_factor)) {
            notes_.doubt(raw_.voc->at,
                         fmt::format("the fill factor is {:.2f}; {} usually has {:.2f} to {:.2f}. Check the "
                                     "voltages and currents.",
                                     ff, title(), ranges_.usual_fill_factor.low, ranges_.usual_fill_factor.high));
        }
    }

    bool ratio(const std::optional<Measure>& part, const std::optional<Measure>& whole, std::string_view what,
               Limits usual) {
        if (!part || !whole) return true;
        const double value = part->value / whole->value;
        if (within(value, usual)) return true;
        notes_.doubt(part->at, fmt::format("{} is {:.2f}; {} usually has {:.2f} to {:.2f}. Check the two.", what, value,
                                           title(), usual.low, usual.high));
        return false;
    }

    void cells() {
        if (!raw_.cells_in_series || !raw_.voc || !voltages_sound_ || !fill_factor_sound_) return;
        const double count = raw_.cells_in_series->value;
        const double voc_v = raw_.voc->value;
        const double per_cell_v = voc_v / count;
        const Bounds& bounds = ranges_.voc_per_cell;
        const std::string what = fmt::format("'voc' {} over {} cells makes {:.2f} V a cell; {}", raw_.voc->written,
                                             plain(count), per_cell_v, title());
        if (within(per_cell_v, bounds.possible)) {
            if (!within(per_cell_v, bounds.usual)) {
                notes_.doubt(raw_.cells_in_series->at,
                             fmt::format("{} usually has {:.2f} to {:.2f} V. Check the number of "
                                         "cells and the technology.",
                                         what, bounds.usual.low, bounds.usual.high));
            }
            return;
        }
        cells_sound_ = false;
        std::string advice = "Check 'voc', the number of cells and the technology.";
        const bool even = std::fmod(count, 2.0) == 0.0;
        if (even && within(2.0 * per_cell_v, bounds.usual)) {
            advice = fmt::format(
                "Half-cut cells are wired as two halves side by side, so only half of them count: write "
                "cells_in_series = {} and half_cut = true.",
                plain(count / 2.0));
        } else if (within(per_cell_v / 2.0, bounds.usual)) {
            advice = fmt::format("Is it {} cells? Count all cells in series.", plain(2.0 * count));
        } else if (const auto other = technology_like(per_cell_v)) {
            advice = fmt::format("That is like {}: check 'technology', 'voc' and the number of cells.",
                                 name_of(*other).title);
        }
        notes_.complain(
            raw_.cells_in_series->at, Complaint::disagreement,
            fmt::format("{} has {:.2f} to {:.2f} V. {}", what, bounds.possible.low, bounds.possible.high, advice));
    }

    [[nodiscard]] static std::optional<Technology> technology_like(double per_cell_v) {
        for (const TechnologyName& row : technology_names) {
            if (row.technology == Technology::unknown) continue;
            if (within(per_cell_v, ranges_of(row.technology).voc_per_cell.usual)) return row.technology;
        }
        return std::nullopt;
    }

    void coefficients() {
        const auto base = [&](const std::optional<Measure>& stated, double Panel::*member) -> std::optional<double> {
            if (stated) return stated->value;
            if (completed_) return (*completed_).*member;
            return std::nullopt;
        };
        const int cell_count = raw_.cells_in_series ? static_cast<int>(raw_.cells_in_series->value)
                               : completed_         ? completed_->cells_in_series
                                                    : 0;
        const auto check = [&](const std::optional<Measure>& given, std::string_view key, bool negative,
                               std::optional<double> of, const Bounds& bounds, std::string_view unit) {
            if (!given) return true;
            // A coefficient in V/K is only as good as the Voc it is divided by; one complaint is enough.
            const bool base_sound =
                voltages_sound_ && currents_sound_ && power_sound_ && fill_factor_sound_ && cells_sound_;
            if (given->dimension != Dimension::ratio_per_k && (!of || !base_sound)) return false;
            return check_coefficient({key, *given, negative, of.value_or(0.0), cell_count, bounds, unit, title()},
                                     notes_);
        };
        const bool beta = check(raw_.voc_coefficient, "voc_coefficient", true, base(raw_.voc, &Panel::voc_v),
                                ranges_.voc_coefficient, "V");
        const bool gamma = check(raw_.pmax_coefficient, "pmax_coefficient", true, base(raw_.pmax, &Panel::pmax_w),
                                 ranges_.pmax_coefficient, "W");
        check(raw_.isc_coefficient, "isc_coefficient", false, base(raw_.isc, &Panel::isc_a), ranges_.isc_coefficient,
              "A");
        if (beta && gamma) compare_coefficients(cell_count);
    }

    // Power falls with the voltage and with the shape of the curve, so of wafer silicon Pmax falls faster than Voc.
    void compare_coefficients(int cell_count) {
        if (!raw_.voc_coefficient || !raw_.pmax_coefficient || !is_crystalline_silicon(technology_) || !completed_)
            return;
        const double beta = relative_per_k(*raw_.voc_coefficient, completed_->voc_v, cell_count);
        const double gamma = relative_per_k(*raw_.pmax_coefficient, completed_->pmax_w, cell_count);
        if (gamma <= beta) return;
        notes_.doubt(
            raw_.pmax_coefficient->at,
            fmt::format("'pmax_coefficient' ({} %/K) is milder than 'voc_coefficient' ({} %/K); of silicon it is "
                        "usually steeper. Check that the two are not swapped.",
                        plain(100.0 * gamma), plain(100.0 * beta)));
    }

    void ratings() {
        if (completed_ && completed_->max_system_voltage_v < completed_->voc_v) {
            if (raw_.max_system_voltage) {
                notes_.complain(
                    raw_.max_system_voltage->at, Complaint::disagreement,
                    fmt::format("'max_system_voltage' is {}, below the panel's own open-circuit voltage {} V. "
                                "Take it from the label; usual are 600, 1000 and 1500 V.",
                                raw_.max_system_voltage->written, plain(completed_->voc_v)));
            } else {
                notes_.doubt(raw_.at,
                             fmt::format("no 'max_system_voltage' is stated, and the {} V assumed are below the "
                                         "panel's own Voc, so no wiring can fit. Add the one on its label.",
                                         plain(completed_->max_system_voltage_v)));
            }
        }
        if (raw_.max_series_fuse && raw_.isc && raw_.max_series_fuse->value < raw_.isc->value) {
            notes_.doubt(
                raw_.max_series_fuse->at,
                fmt::format("'max_series_fuse' is {}, below the panel's own 'isc' {}. Usual is 1.5 times it or "
                            "more; check the label.",
                            raw_.max_series_fuse->written, raw_.isc->written));
        }
        if (raw_.diode && raw_.diode->light_current && raw_.isc) {
            const double ratio = raw_.diode->light_current->value / raw_.isc->value;
            if (!within(ratio, {0.97, 1.15})) {
                notes_.doubt(
                    raw_.diode->light_current->at,
                    fmt::format("the diode's 'light_current' is {} and 'isc' {}; the two are nearly equal in a "
                                "panel. Are the five parameters of a single cell, or of another panel?",
                                raw_.diode->light_current->written, raw_.isc->written));
            }
        }
    }

    const RawPanel& raw_;
    const std::optional<Panel>& completed_;
    const FileNotes& notes_;
    Technology technology_;
    const TechnologyRanges& ranges_;
    bool voltages_sound_ = true;
    bool currents_sound_ = true;
    bool power_sound_ = true;
    bool fill_factor_sound_ = true;
    bool cells_sound_ = true;
};

}  // namespace

void check_plausible(const RawPanel& raw, const std::optional<Panel>& completed, const FileNotes& notes) {
    Check(raw, completed, notes).run();
}

double relative_per_k(const Measure& coefficient, double base, int cells) {
    if (coefficient.dimension == Dimension::ratio_per_k) return coefficient.value;
    if (coefficient.dimension == Dimension::cell_voltage_per_k) return coefficient.value * cells / base;
    return coefficient.value / base;
}

}  // namespace plait::input
