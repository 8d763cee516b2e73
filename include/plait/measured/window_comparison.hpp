// What a bench sweep showed against what the maker prints, and the controller that follows from both.
#pragma once

#include <plait/measured/window_learning.hpp>
#include <plait/model/controller.hpp>

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace plait::measured {

enum class ComparedFigure { start, band, power, maximum };

enum class Agreement {
    agrees,       ///< the printed value lies in the measured interval
    less,         ///< measured below the printed value
    more,         ///< measured above it
    not_seen,     ///< the sweep did not get there
    not_printed,  ///< the maker does not say
};

struct Compared {
    ComparedFigure figure = ComparedFigure::start;
    double at_from_v = 0.0;  ///< of a band: where
    double at_to_v = 0.0;
    std::optional<double> printed_value;  ///< V, A or W
    std::optional<double> value;          ///< measured, in the same unit
    std::optional<Interval> likely;       ///< … with its interval; of a voltage between readings the whole gap
    Agreement agreement = Agreement::not_seen;
};

/// Start voltage, the current of each band, power and the upper end, in this order. A printed value agrees where the
/// measured interval holds it.
[[nodiscard]] std::vector<Compared> compare_window(const LearnedWindow& window, const Controller& controller,
                                                   const Input& printed);

/// One bench sweep, as the reports tell it.
struct LearnSheet {
    std::string file;
    LearnedWindow window;
    double meter_accuracy_ratio = 0.0;
    std::optional<Controller> controller;  ///< the printed one
    std::size_t input = 0;                 ///< which of its inputs was on the bench
    std::vector<Compared> compared;
    std::vector<std::string> notes;  ///< about the file
    bool display_named = false;      ///< a column says that it is the display's; else watts were noted beside amps
    std::optional<bool> recovered;   ///< noted in words: it came back by itself, or not

    [[nodiscard]] const Input* printed() const { return controller ? &controller->inputs[input] : nullptr; }
};

/// A controller with the measured window for the input on the bench. What must never be passed stays as printed: the
/// maximum voltage, a current limit that says "do not exceed", the short circuit and array limits. Without a print it
/// has no maximum: a bench shows what an input bore once, not what its maker allows. Nothing is lost of the other
/// inputs.
[[nodiscard]] Controller learned_controller(const LearnSheet& sheet);

}  // namespace plait::measured
