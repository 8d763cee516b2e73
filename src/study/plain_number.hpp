// Numbers without needless zeros.
#pragma once

#include <plait/base/constants.hpp>
#include <plait/rules/number_words.hpp>

#include <cmath>
#include <string>

namespace plait::study {

/// Two decimals at most, no trailing zeros, a true minus.
inline std::string plain(double value) { return rules::plain_number(std::round(value * 100.0) / 100.0); }

/// The next whole number, of which no more than rounding is taken off: a rating, or the volts to beware of.
inline double rounded_up(double value) { return std::ceil(value * (1.0 - rounding_ratio)); }
/// "142 V", rounded up.
inline std::string whole_volts(double value_v) { return plain(rounded_up(value_v)) + " V"; }

}  // namespace plait::study
