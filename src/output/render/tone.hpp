// What a tone looks like: one shape, one colour, one class, in every form.
#pragma once

#include <plait/output/report.hpp>

#include <string_view>

namespace plait::output {

/// ● good, ⊕ needs, ▣ clips, ▽ falls short, ◇ doubtful or not known, ✕ exceeds; empty for a plain one.
[[nodiscard]] std::string_view shape_of(Tone tone);
/// The class in the style sheets of pages and pictures.
[[nodiscard]] std::string_view css_of(Tone tone);
/// The text in the tone's colour, or bold; unchanged when colour is off.
[[nodiscard]] std::string coloured(std::string_view text, Tone tone, Colour colour);
[[nodiscard]] std::string bold(std::string_view text, Colour colour);

}  // namespace plait::output
