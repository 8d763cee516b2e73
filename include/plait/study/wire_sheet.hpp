// Everything an installer needs of the wires of a plan, in numbers.
#pragma once

#include <plait/rules/cable_figures.hpp>
#include <plait/rules/connector_figures.hpp>
#include <plait/rules/fuse_figures.hpp>

#include <optional>
#include <vector>

namespace plait::study {

/// One input's side of the wires.
struct WireSheet {
    double working_v = 0.0;     ///< the lowest string Vmp, which drops are held against
    double cold_voc_v = 0.0;    ///< by the site's method
    double stand_v = 0.0;       ///< that at the top of the Voc tolerance: what fuse, disconnect, cable must stand
    double bright_isc_a = 0.0;  ///< 1.25 × Isc: what the disconnect must break
    double drop_v = 0.0;        ///< of all cables on a current's way, at the working current
    std::vector<rules::CableFigures> cables;
    std::vector<rules::StringFuse> fuses;  ///< one for each kind of string
    rules::ConnectorFigures connectors;
    [[nodiscard]] double drop_ratio() const { return drop_v / working_v; }
};

/// The battery's side; without a battery nothing.
struct BatterySheet {
    std::optional<rules::BatteryCurrent> current;
    std::vector<rules::CableFigures> cables;
};

[[nodiscard]] WireSheet wire_sheet(const rules::Situation& s);
[[nodiscard]] BatterySheet battery_sheet(const rules::Situation& s);

/// Whether the input's strings want fuses by the code in force, or have them.
[[nodiscard]] bool fuses_wanted(const Setup& setup, const WireSheet& sheet);
/// The fuse for one string: the file's, or the smallest standard one the codes in force allow; empty if there is none.
[[nodiscard]] std::optional<double> chosen_fuse_a(const Setup& setup, const rules::StringFuse& fuse);

}  // namespace plait::study
