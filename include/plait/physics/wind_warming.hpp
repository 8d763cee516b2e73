// How much warmer than the air the cells run when the wind is known.
#pragma once

#include <plait/model/panel.hpp>
#include <plait/model/place.hpp>

namespace plait::physics {

/// Kelvins above the air at an irradiance on the plane (W/m²) and a wind (m/s, at 10 m, as weather files have it):
///  - nominal: `rise_above_air_k`, which knows no wind.
///  - faiman: G/(U0 + U1·v), U0 = 25 W/m²K, U1 = 6.84 W·s/m³K (Faiman, Progress in Photovoltaics 16, 2008; IEC 61853-2
///    [figures from memory]) for an open rack. The wind is brought from 10 m to the panels' 2 m by (2/10)^(1/7),
///    *common practice, no source*. For other mountings the rise is scaled as `exponential` scales it from open rack at
///    1 m/s: our judgement, the model has no figures of its own there.
///  - exponential: G·exp(a + b·v) + ΔT·G/1000 (King, Boyson & Kratochvil, SAND2004-3535, table 1): glass/cell/polymer
///  on
///    an open rack for open rack, glass/cell/glass close to a roof for close to a roof, glass/cell/glass on an open
///    rack for propped up (our judgement), insulated back for flat on the ground.
/// Never below 0; 0 W/m² gives 0 K. Negative or missing wind counts as none.
[[nodiscard]] double rise_above_air_in_wind_k(const Panel& panel, Mounting mounting, WarmingModel model,
                                              double irradiance_w_per_m2, double wind_m_per_s);

}  // namespace plait::physics
