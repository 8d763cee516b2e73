#include <plait/study/hot_spots.hpp>

#include <plait/study/curve_sheet.hpp>

#include <algorithm>

namespace plait::study {
namespace {

// In reverse at the most power; less prints as 0.0 W.
constexpr double least_named_w = 0.05;

class Collector {
public:
    explicit Collector(std::size_t input) : input_(input) {}

    /// `least_w`: what cells in reverse must take at this point to be worth a word.
    void look(const physics::ArrayReading& reading, double least_w, std::optional<rules::ConditionId> weather) {
        for (std::size_t s = 0; s < reading.strings.size(); ++s) {
            const std::vector<physics::PanelReading>& panels = reading.strings[s].panels;
            for (std::size_t p = 0; p < panels.size(); ++p) {
                for (std::size_t g = 0; g < panels[p].groups.size(); ++g) {
                    const std::optional<physics::ShadedCells>& cells = panels[p].groups[g].shaded;
                    if (!cells || !cells->in_reverse() || !(cells->cell_w > least_w)) continue;
                    keep({input_, s, p, g, *cells, reading.point.voltage_v, weather});
                }
            }
        }
    }

    std::vector<HotSpot> take() { return std::move(found_); }

private:
    void keep(const HotSpot& spot) {
        const auto known = std::find_if(found_.begin(), found_.end(), [&](const HotSpot& f) {
            return f.string == spot.string && f.panel == spot.panel && f.group == spot.group;
        });
        if (known == found_.end()) {
            found_.push_back(spot);
            return;
        }
        // What one cell could take at most may be more in another weather than what all of them take alike.
        const std::optional<double> most_w = std::max(known->cells.most_cell_w, spot.cells.most_cell_w);
        if (spot.cells.cell_w > known->cells.cell_w) *known = spot;
        known->cells.most_cell_w = most_w;
    }

    std::size_t input_;
    std::vector<HotSpot> found_;
};

}  // namespace

std::vector<HotSpot> hot_spots(const InputCurve& curve) {
    Collector all(curve.input);
    all.look(curve.at_best.reading, least_named_w, std::nullopt);
    if (curve.in_operation) all.look(curve.in_operation->reading, hot_spot_cell_w, std::nullopt);
    return all.take();
}

std::vector<HotSpot> hot_spots(const CurveSheet& sheet) {
    std::vector<HotSpot> all;
    for (const InputCurve& curve : sheet.inputs) {
        for (HotSpot& spot : hot_spots(curve)) all.push_back(std::move(spot));
    }
    return all;
}

std::vector<HotSpot> hot_spots(const SystemModel& system, std::size_t input, const InputWiring& wiring) {
    if (!wiring.part_shaded()) return {};
    Collector all(input);
    for (std::size_t i = 0; i < rules::condition_count; ++i) {
        const auto id = static_cast<rules::ConditionId>(i);
        const physics::ArrayCurve array = system.curve(wiring, system.conditions(id), system.wires(input, wiring));
        const physics::OperatingPoint op = system.operating_point(input, array);
        if (!(op.free_maximum.power_w() > 0.0)) continue;  // in the dark
        all.look(physics::array_reading(array, op.free_maximum.voltage_v), least_named_w, id);
        if (op.held()) all.look(physics::array_reading(array, op.point.voltage_v), hot_spot_cell_w, id);
    }
    return all.take();
}

}  // namespace plait::study
