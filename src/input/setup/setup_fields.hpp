// The keys at the top of a set-up file.
#pragma once

#include "quantity/fields.hpp"

#include <optional>
#include <span>

namespace plait::input {

struct RawSetup {
    std::optional<Text> title, currency;
    std::optional<Word> curve_method;
    std::optional<Measure> drop_target;
};

[[nodiscard]] std::span<const Field<RawSetup>> setup_fields();

}  // namespace plait::input
