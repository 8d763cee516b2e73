#include "coefficient_check.hpp"

#include "plausibility.hpp"

#include <fmt/core.h>

#include <array>
#include <cmath>

namespace plait::input {
namespace {

struct Interpretation {
    std::string text;
    double per_k;
};

// The same digits with every unit they could have been meant in, then with the decimal point moved.
std::vector<Interpretation> other_interpretations(const StatedCoefficient& c) {
    const double typed = c.given.typed_number;
    const double signed_number = c.negative ? -std::abs(typed) : typed;
    const std::string& typed_in = c.given.typed_unit;
    std::vector<Interpretation> interpretations;
    const auto add = [&](double number, const std::string& unit) {
        for (const Unit& u : units()) {
            if (u.text != unit) continue;
            const Measure m{in_base_unit(number, u), u.dimension, {}, {}, number, unit};
            if (u.dimension != Dimension::ratio_per_k && c.base <= 0.0) return;
            if (u.dimension == Dimension::cell_voltage_per_k && c.cells <= 0) return;
            interpretations.push_back({fmt::format("{} {}", plain(number), unit), relative_per_k(m, c.base, c.cells)});
            return;
        }
    };
    const std::string unit(c.unit);
    std::vector<std::string> meant{"%/K", "m" + unit + "/K", unit + "/K", "1/K"};
    if (unit == "V") meant.insert(meant.begin() + 3, "mV/K per cell");
    for (const std::string& u : meant) {
        if (u != typed_in) add(signed_number, u);
    }
    for (const double shift : {0.01, 0.1, 10.0, 100.0}) add(signed_number * shift, typed_in);
    return interpretations;
}

std::string did_you_mean(const StatedCoefficient& c) {
    const std::vector<Interpretation> interpretations = other_interpretations(c);
    for (const Limits limits : {c.bounds.usual, c.bounds.possible}) {
        std::string text;
        int found = 0;
        for (const Interpretation& r : interpretations) {
            if (!within(r.per_k, limits) || found == 2) continue;
            text += fmt::format("{}\"{}\"", found == 0 ? "" : " or ", r.text);
            ++found;
        }
        if (found > 0) return fmt::format("Did you mean {}?", text);
    }
    return "Look up the number and its unit on the datasheet.";
}

std::string per_cent(Limits limits) {
    return fmt::format("{} to {} %/K", plain(100.0 * limits.low), plain(100.0 * limits.high));
}

}  // namespace

bool check_coefficient(const StatedCoefficient& c, const FileNotes& notes) {
    const double per_k = relative_per_k(c.given, c.base, c.cells);
    // Three digits are enough to see it by; a per cent is shown as one only where the file has another unit.
    const std::string shown =
        c.given.dimension == Dimension::ratio_per_k && c.given.written.find('%') != std::string::npos
            ? c.given.written
            : fmt::format("{}, {:.3g} %/K", c.given.written, 100.0 * per_k);
    if (c.negative && per_k >= 0.0) {
        // Datasheets often print the size alone; guessing the sign would hide a number from the wrong row.
        const bool size_possible = within(-per_k, c.bounds.possible);
        const std::string advice = size_possible ? fmt::format("Write the minus: {} = \"{} {}\".", c.key,
                                                               plain(-c.given.typed_number), c.given.typed_unit)
                                                 : did_you_mean(c);
        notes.complain(c.given.at, Complaint::outside_range,
                       fmt::format("{} is {}; it must be negative, as panels lose voltage and power when warm. {}",
                                   named(c.key), shown, advice));
        return false;
    }
    if (!within(per_k, c.bounds.possible)) {
        const bool sign = within(-per_k, c.bounds.usual);
        notes.complain(c.given.at, Complaint::outside_range,
                       fmt::format("{} is {}, outside {} for {}. {}", named(c.key), shown, per_cent(c.bounds.possible),
                                   c.title, sign ? "Leave out the minus if the datasheet has none." : did_you_mean(c)));
        return false;
    }
    if (!within(per_k, c.bounds.usual)) {
        std::string advice = "Check the number and its unit.";
        for (const Interpretation& r : other_interpretations(c)) {
            if (!within(r.per_k, c.bounds.usual)) continue;
            advice = fmt::format("Check that it is not \"{}\".", r.text);
            break;
        }
        notes.doubt(c.given.at, fmt::format("{} is {}; usual for {} is {}. {}", named(c.key), shown, c.title,
                                            per_cent(c.bounds.usual), advice));
    }
    return true;
}

}  // namespace plait::input
