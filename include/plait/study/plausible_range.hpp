// How far a figure that the papers leave out can plausibly be from what stands in for it, and where it is printed.
#pragma once

#include <plait/model/setup.hpp>

#include <optional>
#include <string>
#include <string_view>

namespace plait::study {

/// Both ends of what an assumed figure may turn out to be. `low` and `high` are in the figure's own unit of the model
/// (V, A, 1/K, °C, ratios, counts); where the figure is a choice or several figures at once, they are 0 for the
/// milder and 1 for the harder one.
struct PlausibleRange {
    double low = 0.0;
    double high = 0.0;
    std::string low_words;  ///< "-0.40 %/K"
    std::string high_words;
    std::string_view source;  ///< with a mark of trust
};

/// The range of an assumption of a set-up (`study::all_assumptions`). It is cut short where its end would be nonsense,
/// such as a Vmp above Voc.
[[nodiscard]] PlausibleRange plausible_range(const Setup& setup, const Assumption& assumption);

/// The set-up as if the figure had been looked up and were `value`; figures that were worked out from it follow. The
/// assumption itself is not in it any more.
[[nodiscard]] Setup looked_up(const Setup& setup, const Assumption& assumption, double value);

/// "on the label at the panel's back"
[[nodiscard]] std::string_view where_printed(Quantity quantity);

}  // namespace plait::study
