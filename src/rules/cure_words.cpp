// The one place where cures become words.
#include <plait/rules/catalogue.hpp>

#include "cable_words.hpp"
#include "words.hpp"

#include <plait/base/constants.hpp>

#include <cmath>

namespace plait::rules {
namespace {

// A rating to buy by: no finer than a label prints, and never rounded down.
std::string at_least_amps(double a) { return fmt::format("{} or more", amps(std::ceil(a * 100.0 * (1.0 - rounding_ratio)) / 100.0)); }
std::string at_least_volts(double v) { return fmt::format("{} or more", volts(std::ceil(v * 100.0 * (1.0 - rounding_ratio)) / 100.0)); }

// Begins with a small letter: the sentence's first is made large.
std::string words_of(const Setup& setup, const Cure& c) {
    const bool several_inputs = setup.controller.inputs.size() > 1;
    const std::string on_input =
        several_inputs ? fmt::format(" on input {}", setup.controller.inputs[c.input].name) : std::string();
    switch (c.kind) {
        case CureKind::fewer_in_series:
            return fmt::format("put at most {} in series{}", counted(c.count, "panel", "panels"), on_input);
        case CureKind::more_in_series:
            return fmt::format("put {} or more panels in series{}", c.count, on_input);
        case CureKind::fewer_strings:
            return fmt::format("put at most {} in parallel on this input", counted(c.count, "string", "strings"));
        case CureKind::string_fuse:
            return fmt::format("put a DC fuse made for PV of {:g} A, rated for {}, into every string", c.rating_a,
                               at_least_volts(c.rating_v));
        case CureKind::blocking_diodes:
            return "put a blocking diode into every string";
        case CureKind::own_string_fuses: {
            std::string sizes;
            for (const double a : c.string_fuses_a) sizes += fmt::format("{}{:g} A", sizes.empty() ? "" : ", ", a);
            return fmt::format("put a DC fuse made for PV of its own rating, for {}, into every string, in their order: {}",
                               at_least_volts(c.rating_v), sizes);
        }
        case CureKind::cable_sizes: {
            std::string cables;
            for (const ThickerCable& one : c.cables) {
                const Cable& cable = setup.cables[one.cable];
                cables += fmt::format("{}the {} {} or thicker", cables.empty() ? "" : " and ", cable.name,
                                      size_beside(one.size, cable.size));
            }
            return "make " + cables;
        }
        case CureKind::disconnect_volts:
            return fmt::format("use a DC disconnect rated for {}; an AC switch does not put out a DC arc",
                               at_least_volts(c.rating_v));
        case CureKind::disconnect_amps:
            return fmt::format("use a DC disconnect rated for {}", at_least_amps(c.rating_a));
        case CureKind::connectors:
            return fmt::format("use connectors rated for {}", at_least_amps(c.rating_a));
        case CureKind::branch_connectors:
            return fmt::format("use a branch connector or a combiner rated for {}", at_least_amps(c.rating_a));
        case CureKind::battery_fuse:
            return fmt::format("fit a fuse of {:g} A at the battery", c.rating_a);
        case CureKind::more_panels:
            return fmt::format("get {} more '{}'", c.count, setup.kinds[c.panel_kind].id);
    }
    return "";
}

// The change alone may bring it, or cost it.
std::string gain_words(const Cure& cure) {
    if (!cure.gain_w) return "";
    const std::string amount = watts(std::abs(*cure.gain_w));
    if (*cure.gain_w >= 0.05) return fmt::format(" ({} more in a year's light)", amount);
    return *cure.gain_w <= -0.05 ? fmt::format(" ({} less in a year's light)", amount) : "";
}

}  // namespace

std::string cure_words(const Setup& setup, const Cures& cures) {
    std::string text;
    for (std::size_t i = 0; i < cures.size(); ++i) {
        if (i > 0) text += ", or ";
        text += words_of(setup, cures[i]) + gain_words(cures[i]);
    }
    if (text.empty()) return text;
    text.front() = static_cast<char>(text.front() - 'a' + 'A');  // ASCII, all of them
    return text + ".";
}

Cures cures_of(const Rule& rule, const Situation& s, const Finding& f) {
    Cures cures;
    if (rule.cure == nullptr || (f.outcome == Outcome::within && f.even_at_worst)) return cures;
    rule.cure(s, f, cures);
    return cures;
}

Words words_of(const Rule& rule, const Situation& s, const Finding& f, const Cures& cures) {
    Words w = rule.say(s, f);
    const std::string cure = cure_words(s.setup, cures);
    const auto put_before = [&](const std::string& text) {
        w.instead = w.instead.empty() ? text : text + " " + w.instead;
    };
    if (!cure.empty()) put_before(cure);
    if (f.decides && f.outcome == Outcome::exceeds) put_before("Do not connect it.");
    return w;
}

}  // namespace plait::rules
