#include "style.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace plait::output {
namespace {

bool is_unit(std::string_view word) {
    static constexpr std::array<std::string_view, 20> units{"Wh", "kWh", "mm²",  "V",   "mV",  "kV",  "A",
                                                            "mA", "W",   "kW",   "Ω",   "mΩ",  "°C",  "°F",
                                                            "K",  "%",   "W/m²", "%/K", "V/K", "mV/K"};
    while (!word.empty() && std::string_view(".,;:)?").find(word.back()) != std::string_view::npos) {
        word.remove_suffix(1);
    }
    return std::find(units.begin(), units.end(), word) != units.end();
}

// Where a line may end: at the first blank that does not part a number from its unit.
std::size_t end_of_word(std::string_view text) {
    std::size_t blank = text.find(' ');
    while (blank != std::string_view::npos && blank > 0 && text[blank - 1] >= '0' && text[blank - 1] <= '9') {
        const std::size_t next = text.find(' ', blank + 1);
        if (!is_unit(text.substr(blank + 1, next == std::string_view::npos ? next : next - blank - 1))) break;
        blank = next;
    }
    return blank;
}

}  // namespace

std::string units_kept(std::string_view text) {
    std::string out;
    for (;;) {
        const std::size_t end = end_of_word(text);
        for (const char c : text.substr(0, end)) {
            if (c == ' ') {
                out += "\u00A0";
            } else {
                out += c;
            }
        }
        if (end == std::string_view::npos) return out;
        out += ' ';
        text.remove_prefix(end + 1);
    }
}

std::string signed_number(double value, int digits) {
    std::string text = fmt::format("{:+.{}f}", value, digits);
    if (text.find_first_of("123456789") == std::string::npos) text.front() = '+';
    return rules::with_minus_sign(text);
}

std::string in_unit(double value, rules::Unit unit) {
    switch (unit) {
        case rules::Unit::volt:
            return volts(value);
        case rules::Unit::ampere:
            return amps(value);
        case rules::Unit::watt:
            return watts(value);
        case rules::Unit::panel:
            return rules::with_minus_sign(fmt::format("{:.0f} {}", value, std::abs(value) == 1.0 ? "panel" : "panels"));
        case rules::Unit::string:
            return rules::with_minus_sign(
                fmt::format("{:.0f} {}", value, std::abs(value) == 1.0 ? "string" : "strings"));
    }
    return "";
}

std::string_view css_of(rules::Outcome outcome) {
    switch (outcome) {
        case rules::Outcome::within:
            return "within";
        case rules::Outcome::undecided:
        case rules::Outcome::needs:
            return "needs";
        case rules::Outcome::clips:
            return "clips";
        case rules::Outcome::falls_short:
            return "short";
        case rules::Outcome::exceeds:
            return "over";
    }
    return "";
}

std::string_view word_of(rules::Outcome outcome) {
    switch (outcome) {
        case rules::Outcome::within:
            return "FITS";
        case rules::Outcome::undecided:
            return "OPEN";
        case rules::Outcome::needs:
            return "NEEDS";
        case rules::Outcome::clips:
            return "CLIPS";
        case rules::Outcome::falls_short:
            return "FALLS SHORT";
        case rules::Outcome::exceeds:
            return "EXCEEDS";
    }
    return "";
}

std::string sentence_of(rules::Outcome outcome, bool proven) {
    switch (outcome) {
        case rules::Outcome::within:
            return proven ? "Within the stated limits, even at the worst of the stated tolerances."
                          : "Within the stated limits on the values given, but not proven: see the lines marked ?.";
        case rules::Outcome::undecided:
            return "Not decided: the papers do not say enough. See the lines marked ?.";
        case rules::Outcome::needs:
            return proven ? "Within the stated limits once something is added: see the lines marked NEEDS."
                          : "Within the stated limits once something is added (NEEDS), but not proven: see the lines "
                            "marked ?.";
        case rules::Outcome::clips:
            return proven ? "Within the limits that protect the input; some sun is not taken."
                          : "Within the limits that protect the input on the values given, but not proven (?); some "
                            "sun is not taken.";
        case rules::Outcome::falls_short:
            return "Outside the stated limits: the array does not reach what the input needs.";
        case rules::Outcome::exceeds:
            return "Outside the stated limits: do not connect it.";
    }
    return "";
}

std::string_view name_of(physics::Binding binding) {
    switch (binding) {
        case physics::Binding::nothing:
            return "nothing";
        case physics::Binding::current_limit:
            return "current-limit";
        case physics::Binding::power_limit:
            return "power-limit";
        case physics::Binding::window_bottom:
            return "window-bottom";
        case physics::Binding::window_top:
            return "window-top";
        case physics::Binding::band_edge:
            return "band-edge";
        case physics::Binding::pinned:
            return "battery-voltage";
    }
    return "";
}

std::string_view name_of(physics::NoPoint none) {
    switch (none) {
        case physics::NoPoint::held:
            return "held";
        case physics::NoPoint::dark:
            return "dark";
        case physics::NoPoint::too_low:
            return "voltage-too-low";
        case physics::NoPoint::pushed_out:
            return "pushed-out-at-the-top";
    }
    return "";
}

std::string coloured(std::string_view text, rules::Outcome outcome, Colour colour) {
    if (colour == Colour::off) return std::string(text);
    const std::string_view code = outcome == rules::Outcome::within        ? "32"
                                  : outcome == rules::Outcome::exceeds     ? "1;31"
                                  : outcome == rules::Outcome::falls_short ? "31"
                                                                           : "33";
    return fmt::format("\x1b[{}m{}\x1b[0m", code, text);
}

std::string bold(std::string_view text, Colour colour) {
    return colour == Colour::on ? fmt::format("\x1b[1m{}\x1b[0m", text) : std::string(text);
}

std::size_t columns(std::string_view text) {
    std::size_t n = 0;
    for (const char c : text) {
        if ((static_cast<unsigned char>(c) & 0xC0U) != 0x80U) ++n;
    }
    return n;
}

std::string padded(std::string_view text, std::size_t width) {
    const std::size_t n = columns(text);
    return std::string(text) + std::string(n < width ? width - n : 0, ' ');
}

std::string padded_left(std::string_view text, std::size_t width) {
    const std::size_t n = columns(text);
    return std::string(n < width ? width - n : 0, ' ') + std::string(text);
}

std::string wrapped(std::string_view text, std::size_t indent, std::size_t line_width) {
    std::string out;
    std::size_t column = indent;
    while (!text.empty()) {
        const std::size_t blank = end_of_word(text);
        const std::string_view word = text.substr(0, blank);
        const std::size_t width = columns(word);
        if (column > indent && column + 1 + width > line_width) {
            out += '\n';
            out.append(indent, ' ');
            column = indent;
        } else if (column > indent) {
            out += ' ';
            ++column;
        }
        out += word;
        column += width;
        text = blank == std::string_view::npos ? std::string_view() : text.substr(blank + 1);
    }
    return out;
}

std::vector<std::string> kind_ids(const Setup& setup) {
    std::vector<std::string> ids;
    for (const PanelKind& kind : setup.kinds) ids.push_back(kind.id);
    return ids;
}

std::vector<std::string> assumption_lines(const std::vector<Assumption>& assumptions) {
    std::vector<std::string> lines;
    for (const Assumption& a : assumptions) {
        lines.push_back(fmt::format("{}: {} = {} ({})", a.subject, a.what, a.value, a.why));
    }
    return lines;
}

std::string assumptions_text(const std::vector<Assumption>& assumptions, Colour colour) {
    if (assumptions.empty()) return "";
    std::string out = "\n" + bold(assumed_heading, colour) + "\n";
    std::size_t i = 0;
    for (const std::string& line : assumption_lines(assumptions)) {
        out += fmt::format("  [{}] {}\n", ++i, wrapped(line, 6));
    }
    return out;
}

std::string doubts_text(const std::vector<std::string>& doubts, Colour colour) {
    if (doubts.empty()) return "";
    std::string out = "\n" + bold(doubtful_heading, colour) + "\n";
    for (const std::string& doubt : doubts) out += "  " + wrapped(doubt, 2) + "\n";
    return out;
}

}  // namespace plait::output
