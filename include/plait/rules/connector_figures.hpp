// What the plugs carry, and what they are taken to stand where the file does not say.
#pragma once

#include <plait/rules/rule.hpp>

#include <optional>

namespace plait::rules {

struct ConnectorLoad {
    double current_a = 0.0;
    std::optional<double> rating_a;  ///< stated, or that of its class; empty: neither
    bool assumed = false;            ///< the rating is that of its class
};

struct ConnectorFigures {
    ConnectorLoad leg;           ///< each string: 1.25 × Isc
    ConnectorLoad common;        ///< behind the joint: 1.25 × the sum
    ConnectorLoad plug;          ///< at the input, as far as the input draws it
    double plug_fault_a = 0.0;   ///< 1.25 × Isc of all, in a fault
    double leg_reverse_a = 0.0;  ///< into a faulty leg: 1.25 × the sum of the others
};

/// Classes by cable: 22 A at 2.5 mm² or 14 AWG, 30 A at 4 mm² or 12 AWG, 40 A at 6 mm² or 10 AWG and above; 22 A where
/// no cable is given. The common leg of a branch connector 30 A. The low ends of what is sold [from memory].
[[nodiscard]] ConnectorFigures connector_figures(const Situation& s);

}  // namespace plait::rules
