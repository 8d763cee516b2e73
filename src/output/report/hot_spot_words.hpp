// Shaded cells that take power, in words.
#pragma once

#include <plait/study/hot_spots.hpp>

#include <string>
#include <vector>

namespace plait::output {

/// "PV, string 1, panel 2, group 3: 3 shaded cells are driven backward and take 14.2 W each …"
[[nodiscard]] std::string hot_spot_sentence(const Setup& setup, const study::HotSpot& spot);
/// In one line, for the top of a report.
[[nodiscard]] std::string hot_spot_line(const Setup& setup, const study::HotSpot& spot);
[[nodiscard]] std::vector<std::string> hot_spot_sentences(const Setup& setup, const std::vector<study::HotSpot>& spots);

/// What it means and what to do.
inline constexpr std::string_view hot_spot_advice =
    "A hot spot can burn the panel and what is under it. Move the panel, or cut or move what shades it; do not leave it as "
    "it is.";

}  // namespace plait::output
