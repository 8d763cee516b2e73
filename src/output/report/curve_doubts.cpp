#include "curve_doubts.hpp"

#include "render/style.hpp"

#include <plait/physics/nmot_check.hpp>

#include <array>
#include <cmath>
#include <optional>
#include <utility>

namespace plait::output {
namespace {

std::string missed_points(const physics::StcResiduals& r) {
    const std::array<std::pair<const char*, double>, 5> all{{{"Isc", r.isc_ratio},
                                                             {"Voc", r.voc_ratio},
                                                             {"Vmp", r.vmp_ratio},
                                                             {"Imp", r.imp_ratio},
                                                             {"Pmax", r.pmax_ratio}}};
    std::string missed;
    for (const auto& one : all) {
        if (std::abs(one.second) <= physics::noticeable_ratio) continue;
        missed += fmt::format("{}{} by {}", missed.empty() ? "" : ", ", one.first, signed_per_cent(one.second, 1));
    }
    return missed;
}

std::string coefficient(const char* figure, const physics::CoefficientMiss& miss) {
    return fmt::format(
        "the curve's {} changes by {}/K, the datasheet says {}/K; {:.0f} K from test conditions that is {}", figure,
        signed_per_cent(miss.of_curves_per_k(), 3), signed_per_cent(miss.stated_per_k, 3), physics::far_from_stc_k,
        signed_per_cent(miss.far_ratio(), 1));
}

// Both columns of a datasheet are one panel's: a curve through the first that misses the second says one of them is off.
std::string second_column_doubt(const Panel& panel, const physics::FittedPanel& fit) {
    const auto r = physics::nmot_residuals(panel, fit);
    if (!r || !r->contradicts()) return "";
    const std::array<std::pair<const char*, std::optional<double>>, 5> all{
        {{"Pmax", r->pmax_ratio}, {"Vmp", r->vmp_ratio}, {"Imp", r->imp_ratio}, {"Voc", r->voc_ratio}, {"Isc", r->isc_ratio}}};
    std::string missed;
    for (const auto& [name, ratio] : all) {
        if (!ratio || std::abs(*ratio) <= physics::noticeable_ratio) continue;
        missed += fmt::format("{}{} by {}", missed.empty() ? "" : ", ", name, signed_per_cent(*ratio, 1));
    }
    return fmt::format(
        "the curve of the test conditions misses the datasheet's second column, [panel.nmot] at 800 W/m² and {}: {}. The two "
        "columns contradict each other: check both for a misprint, and whether the second is really at 800 W/m².",
        degrees(panel.nominal_temperature), missed);
}

}  // namespace

std::vector<std::string> curve_doubts(const Panel& panel, const physics::FittedPanel& fit) {
    std::vector<std::string> doubts;
    const std::string who = "panel '" + panel.name + "': ";
    const bool de_soto = fit.model.law == physics::SaturationLaw::band_gap;
    const bool given = fit.form == physics::FitForm::given;
    if (const std::string missed = missed_points(fit.residuals); !missed.empty()) {
        doubts.push_back(
            who + "the curve misses the datasheet's " + missed +
            ". Readings and watts in operation may be off by as much; the voltage limits are checked with "
            "the datasheet itself. " +
            (given ? "Check the five figures of [diode]." : "Check Vmp, Imp, Voc and Isc for a misprint."));
    }
    const physics::CoefficientMiss pmax{panel.pmax_coefficient_per_k, fit.pmax_coefficient_residual_per_k};
    if (pmax.is_noticeable()) {
        doubts.push_back(who + coefficient("Pmax", pmax) +
                         " of the watts. " +
                         (de_soto ? "De Soto's curve has nothing to adjust; curve_method = \"prior-ideality\" meets it."
                                  : "The figures do not go together: check 'pmax_coefficient'."));
    }
    const physics::CoefficientMiss voc{panel.voc_coefficient_per_k, fit.voc_coefficient_residual_per_k};
    if (voc.is_noticeable()) {
        doubts.push_back(who + coefficient("Voc", voc) +
                         " of the open-circuit voltage. The voltage limits are checked with the datasheet itself. " +
                         (given ? "Check the five figures of [diode]." : "Check 'voc_coefficient'."));
    }
    if (const std::string second = second_column_doubt(panel, fit); !second.empty()) doubts.push_back(who + second);
    return doubts;
}

std::vector<std::string> all_doubts(const Setup& setup, const std::vector<physics::FittedPanel>& curves) {
    std::vector<std::string> doubts = setup.doubts;
    for (std::size_t kind = 0; kind < curves.size(); ++kind) {
        for (std::string& doubt : curve_doubts(setup.kinds[kind].panel, curves[kind])) {
            doubts.push_back(std::move(doubt));
        }
    }
    return doubts;
}

}  // namespace plait::output
