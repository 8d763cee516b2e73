#include "tone.hpp"

#include <fmt/core.h>

#include <array>

namespace plait::output {
namespace {

struct Look {
    Tone tone;
    std::string_view shape;
    std::string_view css;
    std::string_view terminal;  ///< SGR parameters, ECMA-48
};

constexpr std::array looks{
    Look{Tone::plain, "", "", "1"},
    Look{Tone::good, "●", "within", "32"},
    Look{Tone::needs, "⊕", "needs", "33"},
    Look{Tone::clips, "▣", "clips", "33"},
    Look{Tone::falls_short, "▽", "short", "31"},
    Look{Tone::doubtful, "◇", "doubtful", "35"},
    Look{Tone::exceeds, "✕", "over", "1;31"},
};

const Look& look_of(Tone tone) {
    for (const Look& look : looks) {
        if (look.tone == tone) return look;
    }
    return looks.front();
}

}  // namespace

std::string_view shape_of(Tone tone) { return look_of(tone).shape; }
std::string_view css_of(Tone tone) { return look_of(tone).css; }

std::string coloured(std::string_view text, Tone tone, Colour colour) {
    return colour == Colour::on ? fmt::format("\x1b[{}m{}\x1b[0m", look_of(tone).terminal, text) : std::string(text);
}

std::string bold(std::string_view text, Colour colour) { return coloured(text, Tone::plain, colour); }

}  // namespace plait::output
