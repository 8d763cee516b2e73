// Numbers without needless zeros.
#pragma once

#include <plait/rules/number_words.hpp>

#include <cmath>
#include <string>

namespace plait::study {

/// Two decimals at most, no trailing zeros, a true minus.
inline std::string plain(double value) {
    const long hundredths = std::lround(std::abs(value) * 100.0);
    std::string text = std::to_string(hundredths / 100);
    const long rest = hundredths % 100;
    if (rest != 0) text += "." + std::to_string(rest / 10);
    if (rest % 10 != 0) text += std::to_string(rest % 10);
    return rules::with_minus_sign((value < 0.0 ? "-" : "") + text);
}

}  // namespace plait::study
