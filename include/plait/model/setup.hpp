#pragma once

#include <plait/base/names.hpp>
#include <plait/model/assumption.hpp>
#include <plait/model/cable.hpp>
#include <plait/model/controller.hpp>
#include <plait/model/harvest.hpp>
#include <plait/model/panel.hpp>
#include <plait/model/place.hpp>
#include <plait/model/site.hpp>
#include <plait/model/wiring.hpp>

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace plait {

/// How a datasheet becomes a curve.
enum class CurveMethod {
    prior_ideality,  ///< the default: docs/physics.md
    de_soto,         ///< De Soto, Klein & Beckman, Solar Energy 80 (2006), for comparison
};

inline constexpr Names curve_method_names{
    Name{CurveMethod::prior_ideality, "prior-ideality"},
    Name{CurveMethod::de_soto, "de-soto"},
};
[[nodiscard]] constexpr std::string_view name_of(CurveMethod m) { return name_in(curve_method_names, m); }

struct PanelKind {
    std::string id;  ///< short, unique, one word: what wirings call it
    Panel panel;
    int count = 0;                       ///< on hand
    std::optional<double> price;         ///< of one panel, in the set-up's currency
    std::optional<std::size_t> plane{};  ///< of the set-up's; absent: the first
};

/// One set-up file, read and found plausible. At least one kind and one input.
struct Setup {
    std::string title;
    std::string currency;  ///< of every price, as the file writes it; may be empty
    std::vector<PanelKind> kinds;
    Controller controller;
    Site site;
    std::optional<Location> location;  ///< absent: no sun, no harvest over time
    std::vector<Plane> planes;         ///< which way panels look; empty: not said
    LightModels light_models;
    SiteClimate climate;
    StatedLosses losses;
    std::optional<Storage> storage;  ///< what the battery takes and gives over time
    std::vector<Cable> cables;
    double drop_target_ratio = 0.02;  ///< of the working voltage, over all of a way's cables together
    Fittings fittings;
    CurveMethod curve_method = CurveMethod::prior_ideality;
    std::optional<ArrayPlan> wiring;  ///< one entry per input, when the file gives a wiring
    std::vector<Assumption> assumptions;
    std::vector<std::string> doubts;  ///< implausible but not impossible: said, not refused
};

}  // namespace plait
