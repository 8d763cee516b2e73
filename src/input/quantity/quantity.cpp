#include "quantity.hpp"

#include "decimal.hpp"
#include "words.hpp"

#include <fmt/core.h>

#include <cmath>
#include <optional>

namespace plait::input {
namespace {

constexpr std::size_t longest_quantity = 60;

bool begins(std::string_view text, std::string_view what) {
    if (text.size() < what.size()) return false;
    for (std::size_t i = 0; i < what.size(); ++i) {
        if (lower(text[i]) != what[i]) return false;
    }
    return true;
}

}  // namespace

std::string fahrenheit_reading(double number) {
    return fmt::format("{} °F, which is {:.3g} °C", plain(number), (number - 32.0) * 5.0 / 9.0);
}

Result<NumberAndUnit, std::string> split_quantity(std::string_view written) {
    using Text = std::string;
    if (trimmed(written).empty()) return Failure{Text("is empty")};
    if (character_count(written) > longest_quantity) return Failure{Text("is far too long for a number with a unit")};
    std::string text(trimmed(written));
    // The typographic minus, as datasheets print it.
    for (std::size_t at = text.find("\u2212"); at != std::string::npos; at = text.find("\u2212")) text.replace(at, 3, "-");
    if (text.size() > 1 && (text[0] == '-' || text[0] == '+') && text[1] == ' ') text.erase(1, 1);

    const std::string_view unsigned_text = std::string_view(text).substr(text[0] == '-' || text[0] == '+' ? 1 : 0);
    if (begins(unsigned_text, "nan") || begins(unsigned_text, "inf")) return Failure{Text("is not a finite number")};
    const std::optional<DecimalPrefix> prefix = decimal_prefix(text);
    if (!prefix) return Failure{Text("does not begin with a number")};
    const std::size_t end = prefix->length;
    if (end + 1 < text.size() && text[end] == ',' && is_digit(text[end + 1])) {
        std::string with_point = text;
        with_point[end] = '.';
        return Failure{
            fmt::format("uses a comma. Write the decimal point, \"{}\", and no sign between thousands", with_point)};
    }
    if (!std::isfinite(prefix->value)) return Failure{Text("is too large a number")};
    return NumberAndUnit{prefix->value, normal_unit(std::string_view(text).substr(end))};
}

}  // namespace plait::input
