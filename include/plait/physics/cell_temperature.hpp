#pragma once

#include <plait/model/panel.hpp>
#include <plait/model/site.hpp>

namespace plait::physics {

/// How much warmer than the air the cells run, at an irradiance (W/m²), by how the panel is mounted:
///  - open rack: (NOCT − 20 °C)·G/800, IEC 61215. NMOT in its place where the datasheet gives that.
///  - close to a roof: the same with NOCT 11 K higher (a gap of 13–38 mm; Sandia National Laboratories, PV Performance
///    Modeling Collaborative, page on the NOCT cell temperature model).
///  - propped up: 35 K, flat on the ground: 50 K, at 1000 W/m²: a back without moving air. Between the open-rack and the
///    insulated-back cases of SAND2004-3535; the round figures are our judgement.
[[nodiscard]] double rise_above_air_k(const Panel& panel, Mounting mounting, double irradiance_w_per_m2);

}  // namespace plait::physics
