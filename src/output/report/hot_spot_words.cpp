#include "hot_spot_words.hpp"

#include "render/style.hpp"

namespace plait::output {

std::string hot_spot_sentence(const Setup& setup, const study::HotSpot& spot) {
    const physics::ShadedCells& c = spot.cells;
    const bool one = c.cells_count == 1;
    std::string out = fmt::format("{}, string {}, panel {}, group {}: ", setup.controller.inputs[spot.input].name,
                                  spot.string + 1, spot.panel + 1, spot.group + 1);
    out += one ? fmt::format("the shaded cell is driven backward, {} across it, and takes {} from the others",
                             volts(c.cell_v), watts(c.cell_w))
               : fmt::format("{} shaded cells are driven backward, {} across each, and take {} each from the others",
                             c.cells_count, volts(c.cell_v), watts(c.cell_w));
    if (spot.weather) out += fmt::format(" (worst of the weathers: {})", rules::title_of(*spot.weather));
    if (c.most_cell_w) {
        out += fmt::format(". Cells leak unlike: one of {} could take up to {}",
                           one ? "this kind" : "them", watts(*c.most_cell_w));
    }
    return out + ".";
}

std::string hot_spot_line(const Setup& setup, const study::HotSpot& spot) {
    const int cells = spot.cells.cells_count;
    return fmt::format("Hot spot, {} string {}, panel {}, group {}: up to {} in {}.", setup.controller.inputs[spot.input].name,
                       spot.string + 1, spot.panel + 1, spot.group + 1, watts(spot.cells.most_cell_w.value_or(spot.cells.cell_w)),
                       cells == 1 ? std::string("a shaded cell") : fmt::format("one of {} cells", cells));
}

std::vector<std::string> hot_spot_sentences(const Setup& setup, const std::vector<study::HotSpot>& spots) {
    std::vector<std::string> out;
    for (const study::HotSpot& spot : spots) out.push_back(hot_spot_sentence(setup, spot));
    return out;
}

}  // namespace plait::output
