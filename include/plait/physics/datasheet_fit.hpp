// From a datasheet to a panel's curves. The equations, their sources and what the curves are worth: docs/physics.md.
#pragma once

#include <plait/model/panel.hpp>
#include <plait/model/setup.hpp>
#include <plait/physics/diode_model.hpp>

#include <optional>

namespace plait::physics {

/// Which equations the curve at STC comes from. Later ones are fall-backs of earlier ones; `given` stands alone.
enum class FitForm {
    given,             ///< the five parameters were in the file
    prior_ideality,    ///< n as usual for the technology; Isc, Voc, Vmp and Imp exact
    ideality_lowered,  ///< the same with the greatest n for which neither Rs nor the shunt is negative; still exact
    five_parameters,   ///< De Soto: n from the Voc coefficient; Isc, Voc, Vmp and Imp exact
    four_parameters,   ///< De Soto without shunt, its five equations having no physical solution; Vmp, Imp on the curve
    no_sharp_knee,     ///< n = 0.6, no shunt, Rs from Pmp: Isc, Voc and Pmp exact, Vmp and Imp near
    sharpest_knee,     ///< a fill factor above what n = 0.6 can give: n from Pmp, no Rs, no shunt
    pmax_out_of_reach,  ///< a fill factor no diode curve has: Isc and Voc exact, Pmp as near as it gets
};

/// Whether a law could be bent to a stated figure.
enum class Closure {
    met,
    clipped,     ///< as near as the law's bounds allow
    left_alone,  ///< not asked for: no figure stated, or De Soto's laws, which have nothing to bend
};

/// What the curve at STC gives, over what the datasheet says, minus one.
struct StcResiduals {
    double isc_ratio = 0.0;
    double voc_ratio = 0.0;
    double vmp_ratio = 0.0;
    double imp_ratio = 0.0;
    double pmax_ratio = 0.0;
};

struct FittedPanel {
    DiodeModel model;
    FitForm form = FitForm::prior_ideality;
    double ideality = 0.0;  ///< n per junction
    StcResiduals residuals;
    /// The curves' mean change of Voc and Pmp per kelvin over 25 … 50 °C at 1000 W/m², minus the datasheet's figure.
    double voc_coefficient_residual_per_k = 0.0;
    double pmax_coefficient_residual_per_k = 0.0;
    Closure pmax_coefficient = Closure::left_alone;
    Closure weak_light = Closure::left_alone;
    double weak_light_ratio = 0.0;   ///< what the curves give: efficiency at 200 W/m², 25 °C over that at STC
    bool weak_light_stated = false;  ///< whether the datasheet says it; otherwise it is the technology's usual figure
};

/// Makers round a datasheet's figures to about this, and a meter is no better.
inline constexpr double noticeable_ratio = 0.01;
/// From test conditions to cells on a hot roof.
inline constexpr double far_from_stc_k = 50.0;
/// A temperature coefficient of the curves beside the datasheet's.
struct CoefficientMiss {
    double stated_per_k = 0.0;
    double residual_per_k = 0.0;
    [[nodiscard]] double of_curves_per_k() const { return stated_per_k + residual_per_k; }
    /// What it comes to on a hot roof, over the figure at test conditions.
    [[nodiscard]] double far_ratio() const { return residual_per_k * far_from_stc_k; }
    [[nodiscard]] bool is_noticeable() const { return far_ratio() > noticeable_ratio || far_ratio() < -noticeable_ratio; }
};

/// The usual efficiency at 200 W/m², 25 °C over that at STC: medians of one open table of outdoor tests, rounded
/// (docs/physics.md). Modern silicon may be 1 to 2.5 % better.
[[nodiscard]] double weak_light_prior_ratio(Technology technology);

/// Whether that figure is worth using: for crystalline silicon, within 3 % for most panels. Thin films differ too much
/// from make to make; ask for the datasheet's own.
[[nodiscard]] bool weak_light_prior_holds(Technology technology);

/// The curves of a panel. Gives nothing unless 0 < Imp < Isc, 0 < Vmp < Voc, Voc coefficient < 0, at least one cell,
/// and given parameters (if any) are positive; within these it always gives finite curves, and `form` and the residuals
/// tell how true to the datasheet they are.
[[nodiscard]] std::optional<FittedPanel> fit_datasheet(const Panel& panel, CurveMethod method);

}  // namespace plait::physics
