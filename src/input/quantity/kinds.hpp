// What each kind of value is called, written in and measured in.
#pragma once

#include "fields.hpp"

#include <array>
#include <string>
#include <string_view>

namespace plait::input {

struct KindRow {
    Kind kind;
    std::string_view noun;
    std::string_view unit;     // of a plain number and of the limits
    std::string_view example;  // a number in that unit, or the whole text if a plain number will not do
    double scale;              // base units in one documented unit
    std::array<Dimension, 3> accepted;
    std::string_view documented;
};

[[nodiscard]] const KindRow& row_of(Kind kind);
[[nodiscard]] bool is_coefficient(Kind kind);
[[nodiscard]] bool accepts(const KindRow& row, Dimension dimension);

/// How the key is written, for someone who left it out: voc = "18.5 V".
[[nodiscard]] std::string assignment(const Spec& spec);

}  // namespace plait::input
