// What the reports on a curve call things.
#pragma once

#include <plait/study/curve_sheet.hpp>

#include <string>
#include <string_view>

namespace plait::output {

/// "bypass-knee", for programs.
[[nodiscard]] std::string_view name_of(study::Mark mark);
/// "a bypass diode begins to conduct", for people.
[[nodiscard]] std::string_view words_of(study::Mark mark);

/// True where a tracker that stays at its first stop loses enough to be told: a thousandth, and 0.05 W.
[[nodiscard]] bool first_stop_matters(const study::InputCurve& c);
/// What a tracker that does not look around loses; empty when it loses nothing.
[[nodiscard]] std::string first_stop_sentence(const study::InputCurve& c);

/// What a curve does not tell.
inline constexpr std::string_view curve_alone =
    "This is the curve alone: `plait check` compares the wiring with every limit.";

/// The sentence for what keeps an operating point where it is.
[[nodiscard]] std::string binding_words(physics::Binding binding, double limit);

/// Why there is no operating point.
[[nodiscard]] std::string none_words(physics::NoPoint none);

/// True if some group of the wiring has light or warmth of its own.
[[nodiscard]] bool shaded(const InputWiring& wiring);

}  // namespace plait::output
