#include <plait/output/netlist.hpp>

#include <fmt/core.h>

#include <algorithm>
#include <iterator>
#include <utility>
#include <vector>

namespace plait::output {
namespace {

// A diode's n multiplies the simulator's own k·T/q. With temp = tnom its temperature laws stand still, and all
// temperature dependence is ours. Constants of ngspice 39: k = 1.38064852e-23, q = 1.6021766208e-19, 0 °C = 273.15 K.
constexpr double simulator_celsius = 25.0;
constexpr double simulator_thermal_v = 1.38064852e-23 / 1.6021766208e-19 * (273.15 + simulator_celsius);

class NetlistWriter {
public:
    void line(const std::string& text) { text_ += text + '\n'; }

    /// The model of a diode I = Is·expm1(V/slope); equal ones share a model.
    std::string diode_model(double saturation_current_a, double slope_v) {
        const std::pair wanted{saturation_current_a, slope_v};
        const auto held = std::find(models_.begin(), models_.end(), wanted);
        const auto index = held - models_.begin();
        if (held == models_.end()) models_.push_back(wanted);
        return fmt::format("diode{}", index + 1);
    }

    /// One bypass group between two nodes, elements named after `id`.
    void group(const physics::GroupCurve& curve, const std::string& id, const std::string& plus,
               const std::string& minus) {
        if (curve.part_shade() == nullptr) {
            cells(curve.cells(), id, plus, minus);
        } else {
            std::string row = id;
            for (const physics::CellRow& r : curve.part_shade()->rows()) {
                row += 'r';
                cell_row(r, row, plus, minus);
            }
        }
        if (curve.bypass().present()) {
            line(fmt::format("Db{} {} {} {}", id, minus, plus,
                             diode_model(curve.bypass().saturation_current_a, curve.bypass().slope_v)));
        }
    }

    /// Cells in series, of which some may get less light than the others.
    void cell_row(const physics::CellRow& row, const std::string& id, const std::string& plus, const std::string& minus) {
        if (!row.shaded()) {
            cells(row.lit_cells(), id, plus, minus);
            return;
        }
        const std::string middle = "m" + id;
        cells(row.lit_cells(), id + "l", plus, middle);
        const std::string junction = cells(row.shaded_cells(), id + "s", middle, minus);
        line(fmt::format("Bb{0} {1} {2} I = V({1},{2})*{3:.17g}*(1-V({1},{2})/({4:.17g}))^({5:.17g})", id, junction, minus,
                         row.breakdown_s() * physics::breakdown_share_ratio, row.breakdown_v(),
                         -physics::breakdown_exponent_value));
    }

    /// Equal cells in equal light; gives the node of their junctions.
    std::string cells(const physics::DiodeCurve& c, const std::string& id, const std::string& plus,
                      const std::string& minus) {
        const std::string junction = c.series_resistance_ohm > 0.0 ? "j" + id : plus;
        line(fmt::format("I{} {} {} DC {:.17g}", id, minus, junction, c.light_current_a));
        line(fmt::format("D{} {} {} {}", id, junction, minus, diode_model(c.saturation_current_a, c.ideality_v)));
        if (c.shunt_conductance_s > 0.0) {
            line(fmt::format("Rp{} {} {} {:.17g}", id, junction, minus, 1.0 / c.shunt_conductance_s));
        }
        if (junction != plus) line(fmt::format("Rs{} {} {} {:.17g}", id, junction, plus, c.series_resistance_ohm));
        return junction;
    }

    void blocking(const physics::GroupCurve& curve, const std::string& id, const std::string& anode,
                  const std::string& cathode) {
        line(fmt::format("Dk{} {} {} {}", id, anode, cathode,
                         diode_model(curve.bypass().saturation_current_a, curve.bypass().slope_v)));
        line(fmt::format("Rk{} {} {} {:.17g}", id, anode, cathode, 1.0 / curve.cells().shunt_conductance_s));
    }

    void models() {
        for (std::size_t i = 0; i < models_.size(); ++i) {
            line(fmt::format(".model diode{} D(is={:.17g} n={:.17g})", i + 1, models_[i].first,
                             models_[i].second / simulator_thermal_v));
        }
    }

    std::string take() { return std::move(text_); }

private:
    std::string text_;
    std::vector<std::pair<double, double>> models_;
};

}  // namespace

std::string netlist(const InputWiring& wiring, std::span<const physics::PanelPhysics> kinds,
                    std::span<const std::string> kind_ids, physics::Condition condition, const VoltageSweep& sweep,
                    const physics::WireResistance& wires) {
    NetlistWriter w;
    const std::vector<std::string> ids(kind_ids.begin(), kind_ids.end());
    w.line(fmt::format("* {}", label(wiring, ids)));
    w.line(fmt::format("* at {} W/m2, cells at {} degrees C", condition.irradiance_w_per_m2, condition.cell.degc));
    w.line("* Run: ngspice -b <this file>. It prints the array's voltage and current.");
    w.line(
        "* I: light current. D, Rp, Rs: diode, shunt and series resistance of a group of cells. Db: its bypass diode.");
    if (wiring.part_shaded()) {
        w.line("* Bb: breakdown of the shaded cells of a group that is shaded in part, Bishop, Solar Cells 25 (1988).");
    }
    if (wires.trunk_ohm > 0.0 || !wires.string_ohm.empty()) {
        w.line("* Rwire, Rtrunk: the cables of a string, and those from the joint of the strings on, there and back.");
    }
    w.line("* Dk, Rk: a string's blocking diode and its leakage. Every value already holds for its own temperature.");
    // gmin lies across every diode: 4e-11 A at 40 V. vntol is loose because a node between two groups without a shunt
    // may stand anywhere by more than rounding while every current is settled; held to 1e-9 V, ngspice settles nowhere.
    w.line(fmt::format(".options temp={0} tnom={0} gmin=1e-12 reltol=1e-9 abstol=1e-11 vntol=1e-4 itl1=1000 itl2=1000",
                       simulator_celsius));
    w.line("Vload out 0 DC 0");
    std::string joint = "out";
    if (wires.trunk_ohm > 0.0) {
        joint = "joint";
        w.line(fmt::format("Rtrunk {} out {:.17g}", joint, wires.trunk_ohm));
    }
    for (std::size_t s = 0; s < wiring.strings.size(); ++s) {
        const SeriesString& string = wiring.strings[s];
        if (string.panels.empty()) continue;
        w.line(fmt::format("* string {}", s + 1));
        std::string plus = joint;
        if (string.blocking_diode) {
            plus = fmt::format("top{}", s + 1);
            w.blocking(physics::blocking_curve(string, kinds, condition), fmt::format("{}", s + 1), plus, joint);
        }
        std::string foot = "0";
        if (!wires.string_ohm.empty() && wires.string_ohm[s] > 0.0) {
            foot = fmt::format("foot{}", s + 1);
            w.line(fmt::format("Rwire{} {} 0 {:.17g}", s + 1, foot, wires.string_ohm[s]));
        }
        for (std::size_t p = 0; p < string.panels.size(); ++p) {
            const PanelPlace& place = string.panels[p];
            const physics::PanelPhysics& panel = kinds[place.kind];
            w.line(fmt::format("* panel {}: {}", p + 1, kind_ids[place.kind]));
            for (std::size_t g = 0; g < panel.group_count(); ++g) {
                const GroupState state = g < place.groups.size() ? place.groups[g] : GroupState{};
                const std::string id = fmt::format("{}_{}_{}", s + 1, p + 1, g + 1);
                const bool last = p + 1 == string.panels.size() && g + 1 == panel.group_count();
                const std::string minus = last ? foot : "n" + id;
                w.group(physics::group_curve(panel, condition, state), id, plus, minus);
                plus = minus;
            }
        }
    }
    w.models();
    w.line(".control");
    w.line("set numdgt=15");
    w.line("set nobreak");
    w.line(fmt::format("dc Vload {:.17g} {:.17g} {:.17g}", sweep.from_v, sweep.to_v, sweep.step_v));
    w.line("print i(Vload)");
    w.line(".endc");
    w.line(".end");
    return w.take();
}

}  // namespace plait::output
