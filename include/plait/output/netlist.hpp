// A wiring as a circuit for ngspice, so that anyone can check its curve with an independent program.
#pragma once

#include <plait/model/wiring.hpp>
#include <plait/physics/array_curve.hpp>

#include <span>
#include <string>

namespace plait::output {

/// The voltages at which the circuit is to be solved.
struct VoltageSweep {
    double from_v = 0.0;
    double to_v = 0.0;
    double step_v = 1.0;
};

/// The netlist of an array, every panel and bypass group written out. `ngspice -b file` prints voltage and current.
/// With wires the voltage is that at their far end. `kind_ids` names the kinds in comments. Made for ngspice 39, whose
/// thermal voltage (2014 CODATA constants) is divided out of the ideality factors; another version's would shift the
/// curve by some 1e-5 of the current near open circuit.
[[nodiscard]] std::string netlist(const InputWiring& wiring, std::span<const physics::PanelPhysics> kinds,
                                  std::span<const std::string> kind_ids, physics::Condition condition,
                                  const VoltageSweep& sweep, const physics::WireResistance& wires = {});

}  // namespace plait::output
