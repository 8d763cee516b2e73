// The set-up file to begin with: whole, so that every command takes it as it is.
#include <plait/output/data.hpp>

namespace plait::output {

std::string first_setup_toml() {
    return R"(# A set-up for plait: which panels, which input, which place. The figures are an invented example.
# Put in yours, save, and run   plait arrange THIS-FILE   and then   plait check THIS-FILE
# What your papers do not say, delete: a cautious value takes its place, and the report says so.
title = "My panels"

[[panel]]                        # from the label at the back of the panel; one table for each kind
id = "mine"                      # what wirings call it
count = 2                        # on hand
technology = "perc"              # the panel's datasheet: mono, poly, perc, topcon, heterojunction, cigs, cdte …
cells_in_series = 36             # count them; of half-cut cells the rows of one half
bypass_diodes = 2
pmax = "150 W"                   # Pmax, Pmpp or Pm
vmp = "19.2 V"                   # Vmp, Vmpp or Vpm
imp = "7.81 A"                   # Imp, Impp or Ipm
voc = "23.4 V"                   # Voc
isc = "8.3 A"                    # Isc
voc_coefficient = "-0.28 %/K"    # with its unit, as printed: %/K, %/°C, mV/K
isc_coefficient = "0.05 %/K"
pmax_coefficient = "-0.36 %/K"
noct = "45 °C"                   # NOCT or NMOT
weak_light_efficiency = "96 %"
max_system_voltage = "600 V"
max_series_fuse = "15 A"
voc_tolerance = "3 %"
isc_tolerance = "4 %"
pmax_tolerance = "3 %"

[controller]
name = "my power station"
type = "wide-range"              # most power stations; chargers: step-down (MPPT), direct-connect (PWM), step-up

[[controller.input]]             # from the manual, "solar input" or "PV input"
name = "PV"
max_voltage = "57 V"             # never to be passed: the highest open-circuit voltage
tracking_min = "11.5 V"          # it works between these two
tracking_max = "57 V"
start_voltage = "13 V"
max_current = "12 A"
max_power = "360 W"
max_short_circuit_current = "20 A"
over_current = "clips"           # only if the manual says that more amps than it takes do no harm

[site]
coldest_air = "-15 °C"           # the coldest morning in years, with its unit; `plait climate` helps
coldest_basis = "record"
hottest_air = "36 °C"
hottest_basis = "record"
warm_air = "25 °C"               # the day by which wirings are ranked
peak_irradiance = "1000 W/m²"
mounting = "open-rack"           # open-rack, close-to-roof, propped-up, flat-on-ground
code = "both"                    # the rules of your country: NEC, IEC or both

[wiring]
PV = "2s1p"                      # two in series, one such string
)";
}

}  // namespace plait::output
