// What each kind of value is called, written in, measured in and printed as.
#pragma once

#include "fields.hpp"

#include <array>
#include <string>
#include <string_view>

namespace plait::input {

struct KindRow {
    Kind kind;
    std::string_view noun;
    std::string_view unit;     // of a plain number, of the limits and of what is printed; empty: none
    std::string_view example;  // a number in that unit, or the whole text if a plain number will not do
    double scale;              // base units in one such unit
    bool bare;                 // whether a number without its unit is taken
    std::array<Dimension, 3> accepted;
    std::string_view documented;  // "written as", where the accepted units do not say it all
};

[[nodiscard]] const KindRow& row_of(Kind kind);
[[nodiscard]] bool is_coefficient(Kind kind);

/// "a voltage such as 18.5 or "18.5 V"".
[[nodiscard]] std::string wanted(const Spec& spec);
/// How the key is written, for someone who left it out: voc = "… V".
[[nodiscard]] std::string assignment(const Spec& spec);
/// The same with a value of this person's: voc = "21.6 V", or only "21.6 V" where there is no key.
[[nodiscard]] std::string assignment(const Spec& spec, const std::string& value);

/// The units the kind is written in.
[[nodiscard]] Words unit_words(Kind kind);
/// The same in one line: "V, mV, kV", "%/K, 1/K, V/K …".
[[nodiscard]] std::string unit_text(Kind kind);
/// A value in the kind's unit, with it: "0.3 V", "-0.45 %/K", "±3 %".
[[nodiscard]] std::string with_unit(double value, Kind kind);
/// The same of a value that was worked out, to four digits.
[[nodiscard]] std::string worked_out(double value, Kind kind);
/// "0.3 to 500 V".
[[nodiscard]] std::string range_text(const Spec& spec);

}  // namespace plait::input
